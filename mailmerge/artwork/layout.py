"""The layout: which lines and ornaments, in which fonts and sizes, on which face."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import lru_cache
from pathlib import Path
from string import Formatter
from typing import Annotated, Any, Literal, Self, TypeVar

from pydantic import AfterValidator, BeforeValidator, Field, field_validator, model_validator

from mailmerge.artwork import words
from mailmerge.artwork.colours import INK_BELOW
from mailmerge.blanks import VISIBLE_ANGLE, angle_of
from mailmerge.findings import InputError, RuleBroken, Unsettled, WrongValue
from mailmerge.guests import Hand
from mailmerge.guests.languages import tag_of
from mailmerge.guests.names import initials, titled, upper
from mailmerge.lettering import FONT_ENDINGS, Style, connects, nearest_weight, open_font
from mailmerge.shelves import Length, LengthOrZero, Model, Name, one_line, positive
from mailmerge.units import parse_length

ORDER_FIELDS = ("order.title", "order.subtitle", "order.due")
"""What a line may say about the order itself."""


def _face(face: object) -> str:
    if isinstance(face, bool) or not isinstance(face, str | int | float):
        raise ValueError(words.not_a_face(face))
    angle_of(face, Hand.RIGHT)  # raises ValueError for what is no face
    return str(face)


def _face_or_none(face: object) -> str:
    return "" if face == "" else _face(face)


def _text(text: str) -> str:
    fields_of(text)  # raises ValueError for what is no text with fields
    return text


def fields_of(text: str) -> list[str]:
    """Return the names of the fields in a line's text, in order.

    Raises
    ------
    ValueError
        A brace is open, or a field holds more than a name.
    """
    try:
        parts = list(Formatter().parse(text))
    except ValueError as error:
        raise ValueError(words.broken_text(text, error)) from None
    for _, field, spec, conversion in parts:
        if field is not None and (not field.strip() or spec or conversion):
            raise ValueError(words.more_than_a_field(text))
    return [field.strip() for _, field, _, _ in parts if field is not None]


def _features(features: Any) -> Any:
    """Take a list of OpenType tags as well as a table of tags and values."""
    if isinstance(features, list) and all(isinstance(tag, str) for tag in features):
        features = dict.fromkeys(features, 1)
    if not isinstance(features, dict):
        raise ValueError(words.not_features(features))
    for tag, value in features.items():
        if not re.fullmatch(r"[ -~]{4}", str(tag)):
            raise ValueError(words.not_a_tag(str(tag)))
        if isinstance(value, bool) or not isinstance(value, int) or not 0 <= value < 100:
            raise ValueError(words.not_an_alternate(tag, value))
    return tuple(features.items())


def _axes(axes: Any) -> Any:
    if not isinstance(axes, dict):
        raise ValueError(words.not_axes(axes))
    for tag, value in axes.items():
        number = isinstance(value, int | float) and not isinstance(value, bool)
        if not number or not abs(value) < 1e6:  # nan is not below anything
            raise ValueError(words.not_an_axis_value(tag, value))
    return tuple(axes.items())


def _language(tag: str) -> str:
    try:
        return tag_of(tag) if tag else ""
    except ValueError:
        raise ValueError(words.not_a_language(tag)) from None


def _rim(distance: float) -> float:
    if distance and not 0.01 <= distance <= 2:
        raise ValueError(words.rim_out_of_bounds(distance))
    return distance


FontName = Annotated[str, Field(min_length=1, max_length=400), AfterValidator(one_line)]


class LetterHeight(Model):
    """The range in which a line's letter height may lie, in mm."""

    max: Length
    min: Length

    @model_validator(mode="after")
    def _ordered(self) -> Self:
        if self.min > self.max:
            raise RuleBroken("least above most", words.least_above_most(self.min, self.max))
        return self


def _height(height: object) -> object:
    """Take the words low and high as well as a length."""
    if isinstance(height, str) and not any(char.isdigit() for char in height):
        word = height.strip().casefold()
        if word not in ("low", "high"):
            raise ValueError(words.not_a_height(height))
        return word
    return positive(parse_length(height))


Height = Annotated[float | Literal["low", "high"], BeforeValidator(_height)]
"""Of something's middle: in mm above the base, or at the lower or the upper edge of the band."""


class Arc(Model):
    """A circle on the wrap that a line's baseline follows; lengths in mm."""

    radius: Length
    bow: Literal["up", "down"] = "up"
    """Whether the middle of the line stands higher than its ends, or lower."""


class Ring(Model):
    """A place around the cup, at one height, from one edge of the handle zone to the other."""

    height: Height
    """Of the middle of the letters above the base, in mm; or low or high in the band."""
    fill: bool = False
    """Whether the letters are spread so that they fill the ring."""
    repeat: bool = False
    """Whether the text is repeated as often as it goes around; on a cup without a handle the ring
    closes at the seam."""
    apart: LengthOrZero = 6.0
    """The least room between two repeats."""

    @model_validator(mode="after")
    def _one_way(self) -> Self:
        if self.fill and self.repeat:
            raise RuleBroken("fill and repeat", words.FILL_AND_REPEAT)
        return self


@lru_cache(maxsize=256)  # a line is filled in for every guest
def _parts_of(text: str) -> tuple[tuple[str, str | None], ...]:
    """Return the parts of a line's text: what stands there, and the field behind it."""
    parts = Formatter().parse(text)
    return tuple((literal, None if f is None else f.strip()) for literal, f, _, _ in parts)


class Line(Model):
    """One line of a layout; lengths in mm."""

    text: Annotated[str, Field(min_length=1, max_length=400), AfterValidator(_text)]
    font: FontName
    weight: Annotated[int, Field(ge=1, le=1000)] = 400
    variation: Annotated[tuple[tuple[str, float], ...], BeforeValidator(_axes)] = ()
    """Axes of a variable font with their values; ``wght`` here wins over ``weight``."""
    index: Annotated[int, Field(ge=0, le=1000)] = 0
    """Which face of a font collection."""
    fallback: tuple[FontName, ...] = ()
    """Fonts to take for characters that the first one lacks, in this order."""
    features: Annotated[tuple[tuple[str, int], ...], BeforeValidator(_features)] = ()
    tracking: Annotated[int, Field(ge=-200, le=2000)] = 0
    """Letter spacing, in thousandths of an em."""
    language: Annotated[str, AfterValidator(_language)] = ""
    """For capitals and letters that differ by language; a guest's own ``language`` wins."""
    letter_height: LetterHeight
    lines: Annotated[int, Field(ge=1, le=3)] = 1
    """How many rows the text may take where one is too narrow for it."""
    rows: Literal["largest", "fewest"] = "largest"
    """Whether a text takes the rows on which its letters are largest, or the fewest on which it
    fits at the least letter height."""
    sizing: Literal["each", "set", "role"] = "each"
    """Whether every name gets its own largest letter height, or the whole order one, or each
    role one."""
    outliers: Literal["own-size", "hold-set", "stop"] = "own-size"
    """What happens to the few names that would make the whole set small."""
    case: Literal["as-typed", "upper", "title"] = "as-typed"
    monogram: Literal["even", "tall-middle"] | None = None
    """Set the initials of the text instead of the text: all of one height, or the middle one
    taller."""
    centring: Literal["ink", "mass"] = "ink"
    """Whether the middle of the ink's width stands on the face's centre, or its centroid."""
    strengthen: Annotated[LengthOrZero, AfterValidator(_rim)] = 0.0
    """How far the outline is moved outward on every side, for strokes too fine for the beam."""
    face: Annotated[str, BeforeValidator(_face_or_none)] = ""
    """The face that it stands on, where that is another than the layout's."""
    height: Height | None = None
    """Of the middle of its letters above the base, or low or high in the band: it stands there by
    itself, and not in the stack of its face."""
    arc: Arc | None = None
    ring: Ring | None = None
    gap: LengthOrZero = 0.0
    """Room between the line above and this one; see :attr:`Layout.stacking`."""

    @model_validator(mode="after")
    def _one_place(self) -> Self:
        if self.arc and self.ring:
            raise RuleBroken("arc and ring", words.ARC_AND_RING)
        if self.ring and (self.face or self.height):
            raise RuleBroken("ring and place", words.RING_AND_FACE_OR_HEIGHT)
        if self.height and self.arc:
            raise RuleBroken("height and arc", words.HEIGHT_AND_ARC)
        if (self.arc or self.ring or self.monogram) and self.lines > 1:
            raise RuleBroken("one row", words.rows_of_a_single_row(self.lines))
        if self.sizing != "each" and (self.arc or self.ring):
            raise RuleBroken("each its own", words.sizing_along_a_curve(self.sizing))
        return self

    def filled(self, fields: dict[str, str]) -> str | None:
        """Return the text with its fields filled in, or None where all its fields are blank.

        A field's text is put in as it is and never read as a template.
        """
        parts = _parts_of(self.text)
        values = [fields[field] for _, field in parts if field is not None]
        if values and not any(values):
            return None
        text = "".join(
            literal + (fields[field] if field is not None else "") for literal, field in parts
        )
        text = " ".join(text.split())
        language = self.language_for(fields)
        if self.monogram:
            text = initials(text, language)
        match self.case:
            case "upper":
                text = upper(text, language)
            case "title" if not self.monogram:
                text = titled(text, language)
        return text or None

    def language_for(self, fields: dict[str, str]) -> str:
        """Return the language of a guest's text: the guest's own if the list names a valid one."""
        try:
            return _language(fields.get("language", "")) or self.language
        except ValueError:
            return self.language

    def style(self, beside: Path, language: str = "") -> Style:
        """Return the style with its fonts opened; relative paths start at the folder ``beside``.

        Raises
        ------
        InputError
            A font, weight, axis, face or feature is not there, or tracking would tear a
            connected script.
        """
        first = open_font(self.font, self.weight, beside, self.variation, self.index)
        lenders = (
            open_font(font, nearest_weight(font, self.weight), beside) for font in self.fallback
        )
        return Style((first, *lenders), self.tracking, self.features, language or self.language)

    def in_font(self, font: str, beside: Path) -> Line:
        """Return the line in another font, with as much of its own as that font can do.

        Raises
        ------
        InputError
            There is no such font.
        """
        weight = nearest_weight(font, self.weight)
        opened = open_font(font, weight, beside)
        can = tuple((tag, value) for tag, value in self.features if tag in opened.feature_tags)
        return self.model_copy(
            update={
                "font": font,
                "weight": weight,
                "variation": (),
                "index": 0,
                "fallback": (),
                "features": can,
                "tracking": 0 if connects(opened) else self.tracking,
            }
        )

    def check_style(self, beside: Path) -> None:
        """See that the line's fonts can do what it asks of them.

        Raises
        ------
        InputError
            See :meth:`style`.
        """
        style = self.style(beside)
        font = style.font
        for tag, _ in self.features:
            if tag not in font.feature_tags:
                raise InputError(words.no_such_feature(font.name, tag, sorted(font.feature_tags)))
        if self.ring and self.ring.fill and connects(font):
            raise _joined("ring.fill", words.fill_breaks_joins(font.name))
        if self.tracking and connects(font):
            raise _joined("tracking", words.tracking_breaks_joins(font.name, self.tracking))


def _joined(key: str, why: str) -> WrongValue:
    return WrongValue(f"{key}: {why}", key, why, "joined letters")


DrawingName = Annotated[str, Field(max_length=400), AfterValidator(one_line)]

OPEN = "?"
"""The motif of a slot in which nothing stands but what the order or its list says."""


class Motif(Model):
    """A drawing, and how it is read."""

    drawing: DrawingName = ""
    """A name from the library, or the path of an .svg file."""
    motif: DrawingName = ""
    """In place of ``drawing``, of a slot: the drawing that stands there where neither the order nor
    its list says another one, which is its drawing until then, or ``?`` for none."""
    ink_below: Annotated[float, Field(gt=0, lt=1)] = INK_BELOW
    """Relative luminance below which a colour of it is engraved; 0 is black, 1 is white."""
    mirrored: bool = False

    @model_validator(mode="before")
    @classmethod
    def _drawing_or_motif(cls, tables: Any) -> Any:
        if not isinstance(tables, dict):
            return tables
        drawing, motif = tables.get("drawing"), tables.get("motif")
        if bool(drawing) == bool(motif):
            raise RuleBroken("drawing or motif", words.drawing_or_motif(bool(drawing)))
        return tables if drawing or motif == OPEN else {**tables, "drawing": motif}

    def filled(self, drawing: str) -> Self | None:
        """Return it with a drawing in its slot; with ``""`` what usually stands there, if any."""
        if not self.motif:
            return self
        stands = drawing or ("" if self.motif == OPEN else self.motif)
        return self.model_copy(update={"drawing": stands}) if stands else None


MotifT = TypeVar("MotifT", bound=Motif)


def _filled(motifs: Iterable[MotifT], drawing: str) -> tuple[MotifT, ...]:
    """Return motifs with a drawing in their slots; slots in which none stands are left out."""
    return tuple(filled for each in motifs if (filled := each.filled(drawing)))


class Ornament(Motif):
    """A drawing that stands with a line, and is left out where the line is blank."""

    line: Annotated[int, Field(ge=1)]
    """Number of the line that it stands with."""
    place: Literal["above", "below", "beside", "around"] = "above"
    """Beside a line it stands on both sides, mirrored on the right; around it, it is a frame, and
    grows with the text up to its box."""
    width: Length
    height: Length
    """The box that it is scaled to fit into, its proportions kept."""
    gap: LengthOrZero = 0.0
    """Room between its ink and the line's."""


class Border(Motif):
    """A drawing that is repeated around the whole cup, a whole number of times.

    On a cup without a handle it closes at the seam; else it runs from one edge of the handle zone
    to the other.
    """

    height: Height
    """Of its middle above the base, or low or high in the band."""
    size: Length
    """Height of the drawing at most: it is made a little smaller, so that the repeats come out
    even."""
    gap: LengthOrZero = 0.0
    """Room between two repeats."""


class Layout(Model):
    """A template: a face, and the lines that are set on it from top to bottom."""

    name: Name
    note: str = ""
    face: str = "drinker"
    visible_angle: Annotated[float, Field(gt=0, le=180)] = VISIBLE_ANGLE
    stacking: Literal["ink", "baseline"] = "ink"
    """Whether gaps and the middle of the band are measured to the ink, or to baselines and the
    height of capitals, so that names with and without descenders stand alike on all cups."""
    line: Annotated[tuple[Line, ...], Field(min_length=1, max_length=20)]
    ornament: Annotated[tuple[Ornament, ...], Field(max_length=20)] = ()
    border: Annotated[tuple[Border, ...], Field(max_length=10)] = ()

    _face = field_validator("face", mode="before")(_face)

    @property
    def motifs(self) -> tuple[Motif, ...]:
        """All drawings of it, ornaments and borders."""
        return (*self.ornament, *self.border)

    @property
    def has_slots(self) -> bool:
        """Whether the order or its list may say what stands in a slot of it."""
        return any(each.motif for each in self.motifs)

    @property
    def has_open_slots(self) -> bool:
        """Whether nothing stands in a slot of it where neither of them says anything."""
        return any(each.motif == OPEN for each in self.motifs)

    def filled(self, drawing: str = "") -> Layout:
        """Return the layout with a drawing in its slots; with ``""``, what usually stands there."""
        ornament, border = _filled(self.ornament, drawing), _filled(self.border, drawing)
        return self.model_copy(update={"ornament": ornament, "border": border})

    @model_validator(mode="after")
    def _ornaments_stand_with_lines(self) -> Self:
        for number, ornament in enumerate(self.ornament, start=1):
            if ornament.line > len(self.line):
                told = words.no_such_line(number, ornament.line, len(self.line))
                raise RuleBroken("no such line", told, f"ornament.{number}.line")
            if self.line[ornament.line - 1].ring:
                told = words.ornament_on_ring(number, ornament.line)
                raise RuleBroken("ornament on ring", told, f"ornament.{number}.line")
        return self

    def with_files_beside(self, folder: Path) -> Layout:
        """Return the layout with the relative paths of fonts and drawings from ``folder``."""

        def placed(file: str) -> str:
            own = file.lower().endswith((*FONT_ENDINGS, ".svg"))
            return str(folder.absolute() / file) if own else file

        lines = tuple(
            line.model_copy(
                update={
                    "font": placed(line.font),
                    "fallback": tuple(placed(font) for font in line.fallback),
                }
            )
            for line in self.line
        )

        def placed_all(motifs: Iterable[MotifT]) -> tuple[MotifT, ...]:
            return tuple(
                each.model_copy(
                    update={"drawing": placed(each.drawing), "motif": placed(each.motif)}
                )
                for each in motifs
            )

        ornaments, borders = placed_all(self.ornament), placed_all(self.border)
        return self.model_copy(update={"line": lines, "ornament": ornaments, "border": borders})


def check_fields(
    layout: Layout, list_fields: Iterable[str], source: str, unused: Iterable[str] = ()
) -> None:
    """See that every field of the layout is known.

    Parameters
    ----------
    list_fields
        The fields that the guest list has.
    source
        What to call the layout in the message.
    unused
        Headers of the list that stand for no field yet.

    Raises
    ------
    Unsettled
        A line uses a field that neither the list nor the order has.
    """
    known, unused = [*list_fields, *ORDER_FIELDS], [*unused]
    for number, line in enumerate(layout.line, start=1):
        for field in fields_of(line.text):
            if field not in known:
                said = words.no_such_field(source, number, field, known, unused)
                raise Unsettled(said, field, unused)
