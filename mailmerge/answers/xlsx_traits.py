"""What an .xlsx holds beside its values (ECMA-376 part 1; what its readers add in ``extLst``)."""

from __future__ import annotations

import posixpath
import re
import zipfile
from collections.abc import Iterator, Mapping
from xml.etree import ElementTree
from xml.etree.ElementTree import Element

from mailmerge.answers import traits
from mailmerge.answers.courtesies import is_plain_name
from mailmerge.answers.traits import (
    Look,
    Merged,
    Thing,
    Traits,
    typed_on_pages,
    usual_colour,
    words_of_parts,
)
from mailmerge.guests.parts import children_of, name_of, part_of, runs_of, shared_texts
from mailmerge.guests.tables import MAX_COLUMNS

_SAYS_NOTHING_WORDS = """
dimension sheetViews sheetFormatPr cols sheetData sheetCalcPr sheetProtection autoFilter
sortState customSheetViews phoneticPr printOptions pageMargins pageSetup rowBreaks colBreaks
customProperties ignoredErrors smartTags drawing legacyDrawing controls tableParts mergeCells
hyperlinks"""
"""Parts of a sheet that are about how it is shown and printed, or are read elsewhere."""

_KNOWN_PART = re.compile(
    r"\[Content_Types\]\.xml|(?:.*/)?_rels/.*|docProps/.*|docMetadata/.*|customXml/.*|"
    r"xl/(?:workbook|styles|sharedStrings|calcChain|metadata|comments\d*)\.xml|"
    r"xl/(?:theme|worksheets|printerSettings|threadedComments|persons|drawings|media|ctrlProps|"
    r"charts|tables|comments|externalLinks|richData|featurePropertyBag)/.*"
)
"""Parts of a workbook that are read here or elsewhere, or say nothing."""

_OF_PROGRAMS = re.compile(r"MSIP_.*|ContentTypeId|_.*|KSO.*|ICV|AppVersion|Grammarly.*|.*Version")
"""Custom properties that programs write by themselves. From memory."""

_SAYING_WORDS = "prompt promptTitle error errorTitle name comment title descr text display tooltip"
"""Attributes that hold words of people."""

_OPEN = ("0", "false")
_HEADER_CODES = re.compile(
    r"&(?:\"[^\"]*\"|K[0-9A-Fa-f]{6}|K\d\d[+-]\d{3}|\d+|[A-Z&])"  # ECMA-376 part 1, 18.3.1.39
)
_TYPED = re.compile(r'"([^"]*)"|\\(.)')
_SAYS_NOTHING, _SAYING = (
    frozenset(words.split()) for words in (_SAYS_NOTHING_WORDS, _SAYING_WORDS)
)


def traits_of(archive: zipfile.ZipFile, sheet: str) -> Traits:
    """Read what a workbook holds beside the values of one of its sheets, named."""
    book = part_of(archive, "xl/workbook.xml")
    parts = _sheets(archive, book)
    things = [*_things_of_book(archive, book)]
    shown = Traits()
    for name, part in parts.items():
        found = _of_sheet(archive, part, is_read=name == sheet)
        things += found.things
        shown = found if name == sheet else shown
    tables = [name for name in archive.namelist() if name.startswith("xl/tables/")]
    in_tables = any(b"filterColumn" in archive.read(name) for name in tables)
    return Traits(shown.looks, shown.merged, tuple(things), shown.is_filtered or in_tables)


def _targets(archive: zipfile.ZipFile, part: str) -> dict[str, str]:
    """Return what a part is related to, by the relation's id."""
    folder, name = posixpath.split(part)
    relations = part_of(archive, f"{folder}/_rels/{name}.rels")
    found = relations if relations is not None else ()
    return {each.get("Id", ""): each.get("Target", "") for each in found}


def _id(element: Element) -> str:
    return next((v for key, v in element.items() if key.endswith("}id")), "")


def _sheets(archive: zipfile.ZipFile, book: Element | None) -> dict[str, str]:
    """Return the parts of a workbook's sheets, by name."""
    targets = _targets(archive, "xl/workbook.xml")
    found = {}
    for each in children_of(book, "sheets"):
        target = posixpath.normpath(posixpath.join("/xl", targets.get(_id(each), "")))
        found[each.get("name", "")] = target.lstrip("/")
    return {name: part for name, part in found.items() if part.startswith("xl/worksheets/")}


# Things beside the cells


def _things_of_book(archive: zipfile.ZipFile, book: Element | None) -> Iterator[Thing]:
    for each in children_of(book, "definedNames"):
        if not re.match(r"_xlnm|_FilterDatabase|Z_\w+\.wvu", each.get("name", "")):
            told = each.get("name", ""), each.get("comment", ""), each.text or ""
            yield Thing(traits.NAME, " · ".join(filter(None, told)))
    core = part_of(archive, "docProps/core.xml")
    for each in core if core is not None else ():
        is_words = name_of(each) in (
            "title", "subject", "description", "keywords", "category", "contentStatus",
        )  # fmt: skip
        if is_words and (text := (each.text or "").strip()):
            yield Thing(traits.PROPERTY, text)
    custom = part_of(archive, "docProps/custom.xml")
    for each in custom if custom is not None else ():
        name, text = each.get("name", ""), "".join(each.itertext()).strip()
        if text and not _OF_PROGRAMS.fullmatch(name):
            yield Thing(traits.PROPERTY, f"{name}: {text}")
    yield from _said_to_programs(archive)
    own = _sheets(archive, book).values()
    for part in archive.namelist():
        is_sheet = re.fullmatch(r"xl/worksheets/[^/]+\.xml", part)
        is_known = part in own if is_sheet else _KNOWN_PART.fullmatch(part)
        if not part.endswith("/") and not is_known:
            yield Thing(traits.PART, part)


def _said_to_programs(archive: zipfile.ZipFile) -> Iterator[Thing]:
    """Yield what people have entered where programs tell of themselves (part 1, 22.2).

    Which firm a program belongs to, and who wrote, programs enter by themselves.
    """
    extended = part_of(archive, "docProps/app.xml")
    core = part_of(archive, "docProps/core.xml")
    for each in (*(extended if extended is not None else ()), *(core if core is not None else ())):
        name, text = name_of(each), (each.text or "").strip()
        is_typed = name in ("Manager", "HyperlinkBase")
        is_entered = name in ("Company", "creator", "lastModifiedBy")
        if text and (is_typed or (is_entered and not _may_be_entered(text))):
            yield Thing(traits.PROPERTY, text)


def _may_be_entered(text: str) -> bool:
    """Whether a text is a name, or one word, as programs know their users by."""
    return len(text.split()) == 1 or is_plain_name(text)


def _things_in(element: Element) -> Iterator[Thing]:
    """Yield what a part of a sheet says, whatever it is."""
    match name_of(element):
        case name if name in _SAYS_NOTHING:
            return
        case "sheetPr":
            if (colour := next((c for c in element if name_of(c) == "tabColor"), None)) is not None:
                yield Thing(traits.TAB, _colour(colour))
        case "headerFooter":
            texts = [typed_on_pages(_HEADER_CODES.sub(" ", each.text or "")) for each in element]
            yield from (Thing(traits.HEADER, " ".join(text.split())) for text in texts if text)
        case "dataValidations":
            yield from (Thing(traits.MESSAGE, _words_of_validation(each)) for each in element)
        case "conditionalFormatting" | "conditionalFormattings":
            yield Thing(traits.RULE, _words(element))
        case "extLst" | "ext" | "AlternateContent" | "Choice":
            for child in element:
                yield from _things_in(child)
        case "Fallback":
            return
        case name:
            yield Thing(name, _words(element))


def _words(element: Element) -> str:
    told = [value for each in element.iter() for key, value in each.items() if key in _SAYING]
    texts = [text for text in map(str.strip, element.itertext()) if text]
    return " · ".join(dict.fromkeys(filter(None, (*told, *texts))))


def _words_of_validation(rule: Element) -> str:
    said = [value for key, value in rule.items() if key in _SAYING]
    formulas = ["".join(each.itertext()) for each in rule if name_of(each) == "formula1"]
    return " · ".join(filter(None, (*said, *map(values_of, formulas))))


def values_of(formula: str) -> str:
    """Return the values that a rule allows, or else the rule."""
    return ", ".join(re.findall(r'"([^"]*)"', formula)) or formula


# Cells


def _of_sheet(archive: zipfile.ZipFile, part: str, is_read: bool) -> Traits:
    looks: dict[tuple[int, int], Look] = {}
    things: list[Thing] = []
    merged: list[Merged] = []
    links: list[Element] = []
    far: list[Element] = []
    is_filtered = False
    styles = _styles(archive) if is_read else []
    texts = shared_texts(archive, _says_more) if is_read else {}
    depth, row, column = 0, 0, -1
    with archive.open(part) as file:
        for event, element in ElementTree.iterparse(file, events=("start", "end")):
            name = name_of(element)
            if event == "start":
                depth += 1
                if name == "row":
                    row, column = int(element.get("r", row + 1)), -1
                continue
            depth -= 1
            if name == "c" and is_read:
                row, column = _place(element.get("r", ""), row, column + 1)
                looks[row, column] = _look_of_cell(element, styles, texts)
                if column >= MAX_COLUMNS and len(element):
                    far.append(element)
            elif name == "row":
                element.clear()
            elif name == "mergeCell":
                merged.append(_range(element.get("ref", "")))
            elif name == "hyperlink":
                links.append(element)
            elif name == "filterColumn":
                is_filtered = True
            elif depth == 1:
                things += _things_in(element)
    things += [Thing(traits.FAR, text) for text in _texts_of(archive, far) if text]
    targets = _targets(archive, part)
    for each in links if is_read else ():
        told = targets.get(_id(each), ""), each.get("location", ""), each.get("tooltip", "")
        area = _range(each.get("ref", ""))
        place = area.top, area.left
        looks[place] = {**looks.get(place, {}), traits.LINK: " ".join(filter(None, told))}
    return Traits(looks, tuple(merged), tuple(things), is_filtered)


def _texts_of(archive: zipfile.ZipFile, cells: list[Element]) -> Iterator[str]:
    """Yield what is written in cells, of which there are hardly ever any."""
    shared = shared_texts(archive, lambda _: True) if cells else {}
    for cell in cells:
        text = "".join(cell.itertext())
        if cell.get("t") == "s" and text.isdecimal() and int(text) in shared:
            text = "".join(shared[int(text)].itertext())
        yield text.strip()


def _place(name: str, row: int, column: int) -> tuple[int, int]:
    """Return row and column of a cell named as B4; those given where it has no name."""
    match = re.fullmatch(r"\$?([A-Z]{1,3})\$?(\d{1,7})", name)
    if match is None:
        return row, column
    at = 0
    for letter in match[1]:
        at = 26 * at + ord(letter) - 64
    return int(match[2]), at - 1


def _range(area: str) -> Merged:
    first, _, last = area.partition(":")
    top, left = _place(first, 0, 0)
    return Merged(top, left, *_place(last or first, 0, 0))


def _look_of_cell(cell: Element, styles: list[Look], texts: Mapping[int, Element]) -> Look:
    number = int(cell.get("s", 0))
    look = styles[number] if number < len(styles) else {}
    for part in cell:
        if name_of(part) == "f":
            look = {**look, traits.FORMULA: f"={part.text or ''}"}
    rich = next((part for part in cell if name_of(part) == "is"), None)
    if cell.get("t") == "s":
        value = next((part.text for part in cell if name_of(part) == "v"), None) or ""
        rich = texts.get(int(value)) if value.isdecimal() else None
    if rich is not None and (told := words_of_parts(_parts_of(rich), look)):
        look = {**look, traits.PARTS: told}
    if rich is not None and (read := _texts_in(rich, "rPh")):
        look = {**look, traits.PHONETIC: read}
    return look


def _texts_in(text: Element, kind: str) -> str:
    runs = [run for run in text if name_of(run) == kind]
    return " ".join(t.text for run in runs for t in run if name_of(t) == "t" and t.text)


def _parts_of(text: Element) -> Iterator[tuple[str, Look]]:
    for said, font in runs_of(text):
        look = {} if font is None else _font(font)
        yield said, {t: v for t, v in look.items() if t != traits.STRUCK}


def _says_more(text: Element) -> bool:
    """Whether a shared text has parts with looks of their own, or is read otherwise."""
    return any(name_of(part) in ("r", "rPh") for part in text)


def _styles(archive: zipfile.ZipFile) -> list[Look]:
    """Return how cells look, by the number of their style."""
    root = part_of(archive, "xl/styles.xml")
    fonts = [_font(each) for each in children_of(root, "fonts")]
    frames = [_frame(each) for each in children_of(root, "borders")]
    patterns = [_pattern(each) for each in children_of(root, "fills")]
    formats = {
        int(each.get("numFmtId", 0)): _typed_in(each.get("formatCode", ""))
        for each in children_of(root, "numFmts")
    }
    found: list[Look] = []
    for style in children_of(root, "cellXfs"):
        font, frame = int(style.get("fontId", 0)), int(style.get("borderId", 0))
        look = dict(fonts[font]) if font < len(fonts) else {}
        look[traits.FRAME] = frames[frame] if frame < len(frames) else ""
        fill = int(style.get("fillId", 0))
        look[traits.PATTERN] = patterns[fill] if fill < len(patterns) else ""
        look[traits.SHOWN_WITH] = formats.get(int(style.get("numFmtId", 0)), "")
        for part in style:
            if name_of(part) == "alignment":
                look[traits.TURNED] = part.get("textRotation", "0").strip("0")
            if name_of(part) == "protection":
                look[traits.UNLOCKED] = "open" if part.get("locked", "1") in _OPEN else ""
        found.append({trait: value for trait, value in look.items() if value})
    return found


def _font(font: Element) -> dict[str, str]:
    """Return what a font says of itself."""
    look: dict[str, str] = {}
    for each in font:
        value = each.get("val", "1")
        is_on = "" if value in _OPEN else "yes"
        match name_of(each):
            case "color":
                look[traits.LETTERS] = _colour(each)
            case "u":
                value = each.get("val", "single")
                look[traits.UNDERLINE] = "" if value == "none" else value
            case "b":
                look[traits.BOLD] = is_on
            case "i":
                look[traits.ITALIC] = is_on
            case "strike":
                look[traits.STRUCK] = is_on
            case "sz":
                look[traits.SIZE] = f"{float(value):g}"
            case "name" | "rFont":
                look[traits.FONT] = value
            case "vertAlign":
                look[traits.RAISED] = "" if value == "baseline" else value
    return look


def _colour(element: Element) -> str:
    """Return a colour in a form to compare and to show; ``""`` for what a text has by itself."""
    if digits := element.get("rgb"):
        return usual_colour(digits[-6:])
    theme, number, tint = element.get("theme"), element.get("indexed"), element.get("tint", "")
    if theme is not None and (theme != "1" or float(tint or 0)):
        return f"colour {theme} of the theme" + (f", {float(tint):+.2f}" if tint else "")
    if number is not None and number not in ("0", "8", "64"):
        return f"colour {number}"
    return ""


def _frame(border: Element) -> str:
    """Return the lines of a border: the side of each, its colour, and whether it is heavy."""
    told = []
    is_across = "true" in (border.get("diagonalUp"), border.get("diagonalDown")) or "1" in (
        border.get("diagonalUp"), border.get("diagonalDown"),
    )  # fmt: skip
    for side in border:
        style, name = side.get("style", "none"), name_of(side)
        if style == "none" or (name == "diagonal" and not is_across):
            continue
        colour = next((_colour(c) for c in side if name_of(c) == "color"), "")
        name = {"diagonal": "across", "start": "left", "end": "right"}.get(name, name)
        told.append(" ".join(filter(None, (name, colour, "" if style == "thin" else style))))
    return ", ".join(sorted(told))


def _pattern(fill: Element) -> str:
    """Return the pattern or the gradient of a fill, with its colours; a plain colour is none."""
    for each in fill:
        is_gradient = name_of(each) == "gradientFill"
        kind = "gradient" if is_gradient else each.get("patternType", "none")
        if kind not in ("none", "solid"):
            names = ("color",) if is_gradient else ("fgColor", "bgColor")
            colours = [_colour(colour) for colour in each.iter() if name_of(colour) in names]
            return " ".join(filter(None, (kind, *colours)))
    return ""


def _typed_in(code: str) -> str:
    """Return the words of a number format."""
    words = "".join(quoted or one for quoted, one in _TYPED.findall(code))
    return words.strip() if any(map(str.isalpha, words)) else ""
