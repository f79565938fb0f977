"""What an .ods holds beside its values (OpenDocument 1.3, and what programs add to it)."""

from __future__ import annotations

import re
import zipfile
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from xml.etree import ElementTree
from xml.etree.ElementTree import Element

from mailmerge.answers import traits
from mailmerge.answers.traits import (
    Look,
    Merged,
    Thing,
    Traits,
    typed_on_pages,
    usual_colour,
    words_of_parts,
)
from mailmerge.guests.parts import name_of
from mailmerge.guests.tables import MAX_COLUMNS

_SAYS_NOTHING_WORDS = """
table-column table-columns table-header-columns table-column-group table-row table-rows
table-header-rows table-row-group shapes forms table-source calculation-settings
database-ranges table-protection soft-page-break"""
"""Parts of a document that are about how it is shown and reckoned, or are read elsewhere."""

_KNOWN_PART = re.compile(
    r"mimetype|(?:meta|content|styles|settings)\.xml|manifest\.rdf|layout-cache|META-INF/.*|"
    r"(?:Thumbnails|Configurations2|Pictures|ObjectReplacements|Object \d+|Basic|Dialogs)/.*"
)
_OF_PROGRAMS_WORDS = """
AppVersion Company DocSecurity HyperlinksChanged LinksUpToDate ScaleCrop ShareDoc
ContentTypeId"""
"""Properties that programs write by themselves."""

_MOST_REPEATED = 1_000
"""Cells and rows alike whose looks are read; what is repeated more often goes to a sheet's end."""

_SIDES = ("left", "right", "top", "bottom")
_SAYS_NOTHING, _OF_PROGRAMS = (
    frozenset(words.split()) for words in (_SAYS_NOTHING_WORDS, _OF_PROGRAMS_WORDS)
)


def _said(element: Element) -> dict[str, str]:
    """Return the attributes of an element, without their namespaces."""
    return {key.rpartition("}")[2]: value for key, value in element.items()}


def traits_of(archive: zipfile.ZipFile, sheet: str) -> Traits:
    """Read what a document holds beside the values of one of its tables, named."""
    content = ElementTree.fromstring(archive.read("content.xml"))
    styles = _styles(archive, content)
    things = [*_properties(archive), *_headers(archive), *_strange_parts(archive)]
    shown = Traits()
    for book in (each for each in content.iter() if name_of(each) == "spreadsheet"):
        for element in book:
            if name_of(element) != "table":
                things += _things_in(element)
                continue
            for child in element:
                things += _things_in(child)
            tab = styles.said(_said(element).get("style-name", "")).get("tab-color", "")
            things += [Thing(traits.TAB, usual_colour(tab.removeprefix("#")))] if tab else []
            if _said(element).get("name") == sheet:
                shown = _of_table(element, styles)
                things += shown.things
    return Traits(shown.looks, shown.merged, tuple(things), shown.is_filtered)


# Things beside the cells


def _properties(archive: zipfile.ZipFile) -> Iterator[Thing]:
    if "meta.xml" not in archive.namelist():
        return
    said = [*ElementTree.fromstring(archive.read("meta.xml")).iter()]
    of_kind = {kind: [(each.text or "").strip() for each in said if name_of(each) == kind]
               for kind in ("title", "subject", "description", "keyword")}  # fmt: skip
    yield from (
        Thing(traits.PROPERTY, told) for texts in of_kind.values() if (told := " ".join(texts))
    )
    for each in said:
        name, text = _said(each).get("name", ""), (each.text or "").strip()
        is_ours = name in _OF_PROGRAMS or name.startswith("MSIP_")
        if name_of(each) == "user-defined" and text and not is_ours:
            yield Thing(traits.PROPERTY, f"{name}: {text}")


def _headers(archive: zipfile.ZipFile) -> Iterator[Thing]:
    if "styles.xml" not in archive.namelist():
        return
    for each in ElementTree.fromstring(archive.read("styles.xml")).iter():
        is_header = re.fullmatch(r"(?:header|footer)(?:-left|-first)?", name_of(each))
        if is_header and _said(each).get("display") != "false":
            text = typed_on_pages(" ".join(_typed(each).split()))
            yield from [Thing(traits.HEADER, text)] if text else []


def _typed(element: Element) -> str:
    """Return the words of an element without its fields, such as the number of a page."""
    told = [element.text or ""]
    for child in element:
        is_words = name_of(child) in ("p", "span", "a", "region-left", "region-center",
                                      "region-right")  # fmt: skip
        told += [_typed(child) if is_words else " ", child.tail or ""]
    return " ".join(told) if name_of(element) == "p" else "".join(told)


def _strange_parts(archive: zipfile.ZipFile) -> Iterator[Thing]:
    for part in archive.namelist():
        if not part.endswith("/") and not _KNOWN_PART.fullmatch(part):
            yield Thing(traits.PART, part)


def _things_in(element: Element) -> Iterator[Thing]:
    match name_of(element):
        case name if name in _SAYS_NOTHING:
            return
        case "content-validations":
            yield from (Thing(traits.MESSAGE, _words_of_validation(each)) for each in element)
        case "named-expressions":
            for each in element:
                said = _said(each)
                if not re.match(r"_xlnm|_FilterDatabase", said.get("name", "")):
                    where = said.get("cell-range-address") or said.get("expression", "")
                    yield Thing(traits.NAME, f"{said.get('name', '')} · {where}")
        case "conditional-formats":
            yield from (Thing(traits.RULE, _words(each)) for each in element)
        case name if len(element) or "".join(element.itertext()).strip():
            yield Thing(name, _words(element))


def _words_of_validation(rule: Element) -> str:
    condition = _said(rule).get("condition", "")
    allowed = ", ".join(re.findall(r'"([^"]*)"', condition)) or condition
    told = [text for each in rule if "message" in name_of(each) for text in
            (_said(each).get("title", ""), "".join(each.itertext()).strip())]  # fmt: skip
    return " · ".join(filter(None, (*told, allowed)))


def _words(element: Element) -> str:
    told = [
        value for each in element.iter() for key, value in _said(each).items()
        if key in ("name", "value", "title", "comment", "target-range-address")
    ]  # fmt: skip
    texts = [text for text in map(str.strip, element.itertext()) if text]
    return " · ".join(dict.fromkeys(filter(None, (*told, *texts))))


# Cells


@dataclass(frozen=True)
class _Styles:
    """The styles of a document by name: what each says, with what its parents say."""

    own: Mapping[str, tuple[str, Mapping[str, str]]]
    formats: Mapping[str, str]

    def said(self, name: str) -> dict[str, str]:
        """Return the properties of a style, its parents' included."""
        found: dict[str, str] = {}
        for _ in range(20):  # styles that are each other's parents end, too
            if name not in self.own:
                break
            name, said = self.own[name]
            found = {**said, **found}
        return found

    def look(self, name: str) -> Look:
        """Return how a cell of a style looks."""
        said = self.said(name)
        look = _look(said)
        look[traits.SHOWN_WITH] = self.formats.get(said.get("data-style-name", ""), "")
        return {trait: value for trait, value in look.items() if value}


def _styles(archive: zipfile.ZipFile, content: Element) -> _Styles:
    roots = [content]
    if "styles.xml" in archive.namelist():
        roots = [ElementTree.fromstring(archive.read("styles.xml")), content]
    own: dict[str, tuple[str, Mapping[str, str]]] = {}
    formats: dict[str, str] = {}
    for element in (each for root in roots for each in root.iter()):
        said = _said(element)
        if name_of(element) == "style":
            parts = {key: value for part in element for key, value in _said(part).items()}
            kept = {"data-style-name": said["data-style-name"]} if "data-style-name" in said else {}
            own[said.get("name", "")] = said.get("parent-style-name", ""), {**parts, **kept}
        elif name_of(element) in ("text-style", "number-style"):
            texts = [each.text or "" for each in element if name_of(each) == "text"]
            words = "".join(texts).strip()
            formats[said.get("name", "")] = words if any(map(str.isalpha, words)) else ""
    return _Styles(own, formats)


def _look(said: Mapping[str, str]) -> dict[str, str]:
    """Return a look out of the properties that a style says."""
    ink = "" if said.get("use-window-font-color") == "true" else said.get("color", "")
    underline = said.get("text-underline-style", "none")
    raised = said.get("text-position", "0%").split()[0]
    size = re.fullmatch(r"([\d.]+)pt", said.get("font-size", ""))
    font = said.get("font-name", said.get("font-family", "")).strip("'")
    return {
        traits.LETTERS: usual_colour(ink.removeprefix("#")),
        traits.UNDERLINE: "" if underline == "none" else "single",
        traits.BOLD: "yes" if said.get("font-weight", "normal") not in ("normal", "400") else "",
        traits.ITALIC: "yes" if said.get("font-style", "normal") != "normal" else "",
        traits.STRUCK: "yes" if said.get("text-line-through-style", "none") != "none" else "",
        traits.SIZE: f"{float(size[1]):g}" if size else "",
        traits.FONT: font,
        traits.RAISED: "" if raised in ("0%", "") else raised,
        traits.TURNED: said.get("rotation-angle", "0").strip("0"),
        traits.UNLOCKED: "open"
        if said.get("cell-protect", "").startswith(("none", "formula"))
        else "",
        traits.FRAME: _frame(said),
    }


def _frame(said: Mapping[str, str]) -> str:
    """Return the lines around a cell as they are told of an .xlsx."""
    lines = {side: said.get(f"border-{side}", said.get("border", "none")) for side in _SIDES}
    crossed = [said.get(f"diagonal-{way}", "none") for way in ("bl-tr", "tl-br")]
    lines["across"] = next((each for each in crossed if each != "none"), "none")
    told = []
    for side, line in lines.items():
        match = re.fullmatch(r"([\d.]+)pt (\w+) #(\w{6})", line)
        if match:
            style = match[2] if match[2] != "solid" else "heavy" if float(match[1]) > 1 else ""
            told.append(" ".join(filter(None, (side, usual_colour(match[3]), style))))
    return ", ".join(sorted(told))


def _of_table(table: Element, styles: _Styles) -> Traits:
    usual: list[str] = []
    looks: dict[tuple[int, int], Look] = {}
    merged: list[Merged] = []
    things: list[Thing] = []
    row, is_filtered = 0, False
    look_of = cache(styles.look)
    for element in table.iter():
        said = _said(element)
        if name_of(element) == "table-column":
            repeated = min(int(said.get("number-columns-repeated", 1)), _MOST_REPEATED)
            usual += [said.get("default-cell-style-name", "")] * repeated
        elif name_of(element) == "table-row":
            down = int(said.get("number-rows-repeated", 1))
            is_filtered |= said.get("visibility") == "filter"
            column = 0
            for cell in element:
                own = _said(cell)
                across = int(own.get("number-columns-repeated", 1))
                span = Merged(
                    row + 1, column, row + int(own.get("number-rows-spanned", 1)),
                    column + int(own.get("number-columns-spanned", 1)) - 1,
                )  # fmt: skip
                if (span.bottom, span.right) != (span.top, span.left):
                    merged.append(span)
                if down * across <= _MOST_REPEATED:
                    of_column = usual[column] if column < len(usual) else ""
                    otherwise = said.get("default-cell-style-name", of_column)
                    look = look_of(own.get("style-name", otherwise))
                    look = _with_what_is_its_own(cell, look, styles)
                    looks |= {
                        (row + n, column + at): look
                        for n in range(1, down + 1) for at in range(across)
                    }  # fmt: skip
                column += across
                text = "".join(cell.itertext()).strip()
                if column > MAX_COLUMNS and text:
                    things.append(Thing(traits.FAR, text))
            row += down
    return Traits(looks, tuple(merged), tuple(things), is_filtered)


def _with_what_is_its_own(cell: Element, look: Look, styles: _Styles) -> Look:
    formula = _said(cell).get("formula", "")
    links = [_said(each).get("href", "") for each in cell.iter() if name_of(each) == "a"]
    parts = words_of_parts(_parts_of(cell, styles), look)
    more = {
        traits.FORMULA: formula.partition(":")[2] or formula,
        traits.LINK: " ".join(links),
        traits.PARTS: parts,
    }
    return {**look, **{trait: value for trait, value in more.items() if value}}


def _parts_of(cell: Element, styles: _Styles) -> Iterator[tuple[str, Look]]:
    paragraphs = [each for each in cell if name_of(each) == "p"]
    for span in (each for paragraph in paragraphs for each in paragraph.iter()):
        if name_of(span) == "span":
            said = styles.said(_said(span).get("style-name", ""))
            own = {t: v for t, v in _look(said).items() if _SAID_BY[t] & said.keys()}
            yield "".join(span.itertext()), own


_SAID_BY = {
    traits.LETTERS: {"color", "use-window-font-color"}, traits.UNDERLINE: {"text-underline-style"},
    traits.BOLD: {"font-weight"}, traits.ITALIC: {"font-style"}, traits.SIZE: {"font-size"},
    traits.FONT: {"font-name", "font-family"}, traits.RAISED: {"text-position"},
    traits.STRUCK: set(), traits.TURNED: set(), traits.UNLOCKED: set(), traits.FRAME: set(),
}  # fmt: skip
"""The properties that a look is taken from; what is struck out is read elsewhere."""
