"""The layout: which lines, in which fonts and sizes, on which face."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from string import Formatter
from typing import Annotated, Literal, Self

from pydantic import AfterValidator, Field, field_validator, model_validator

from mailmerge.blanks import angle_of
from mailmerge.findings import Unsettled, nearest
from mailmerge.guests import Hand
from mailmerge.lettering import FONT_ENDINGS
from mailmerge.shelves import Length, LengthOrZero, Model, one_line

ORDER_FIELDS = ("order.title", "order.subtitle", "order.due")
"""What a line may say about the order itself."""


def _face(face: object) -> str:
    if isinstance(face, bool) or not isinstance(face, str | int | float):
        raise ValueError(f"found {face!r}, want a face")
    angle_of(face, Hand.RIGHT)  # raises ValueError for what is no face
    return str(face)


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
        raise ValueError(f'found "{text}": {error}; want fields such as {{name}}') from None
    for _, field, spec, conversion in parts:
        if field is not None and (not field.strip() or spec or conversion):
            raise ValueError(f'found "{text}", want fields such as {{name}}')
    return [field.strip() for _, field, _, _ in parts if field is not None]


class LetterHeight(Model):
    """The range in which a line's letter height may lie, in mm."""

    max: Length
    min: Length

    @model_validator(mode="after")
    def _ordered(self) -> Self:
        if self.min > self.max:
            raise ValueError(
                f"found min {self.min:g} mm above max {self.max:g} mm, want min up to max"
            )
        return self


class Line(Model):
    """One line of a layout; lengths in mm."""

    text: Annotated[str, Field(min_length=1, max_length=400), AfterValidator(_text)]
    font: Annotated[str, Field(min_length=1, max_length=400), AfterValidator(one_line)]
    weight: Annotated[int, Field(ge=1, le=1000)] = 400
    letter_height: LetterHeight
    lines: Annotated[int, Field(ge=1, le=2)] = 1
    """How many rows the text may take where one is too narrow for it."""
    case: Literal["as-typed", "upper"] = "as-typed"
    gap: LengthOrZero = 0.0
    """Room between the ink of the line above and this one's."""

    def filled(self, words: dict[str, str]) -> str | None:
        """Return the text with its fields filled in, or None where all its fields are blank.

        A field's text is put in as it is and never read as a template.
        """
        parts = list(Formatter().parse(self.text))
        values = [words[field.strip()] for _, field, _, _ in parts if field is not None]
        if values and not any(values):
            return None
        text = "".join(
            literal + (words[field.strip()] if field is not None else "")
            for literal, field, _, _ in parts
        )
        text = " ".join(text.split())
        return (text.upper() if self.case == "upper" else text) or None


class Layout(Model):
    """A template: a face, and the lines that are set on it from top to bottom."""

    name: Annotated[str, Field(min_length=1)]
    note: str = ""
    face: str = "drinker"
    visible_angle: Annotated[float, Field(gt=0, le=180)] = 120.0
    line: Annotated[tuple[Line, ...], Field(min_length=1)]

    _face = field_validator("face", mode="before")(_face)

    def with_fonts_beside(self, folder: Path) -> Layout:
        """Return the layout with the relative paths of its fonts starting at ``folder``."""
        lines = tuple(
            line.model_copy(update={"font": str(folder.absolute() / line.font)})
            if line.font.lower().endswith(FONT_ENDINGS)
            else line
            for line in self.line
        )
        return self.model_copy(update={"line": lines})


def check_fields(layout: Layout, list_fields: Iterable[str], source: str) -> None:
    """See that every field of the layout is known.

    Parameters
    ----------
    list_fields
        The fields that the guest list has.
    source
        What to call the layout in the message.

    Raises
    ------
    Unsettled
        A line uses a field that neither the list nor the order has.
    """
    known = [*list_fields, *ORDER_FIELDS]
    for number, line in enumerate(layout.line, start=1):
        for field in fields_of(line.text):
            if field not in known:
                raise Unsettled(
                    f"{source}: line {number}: text: the field {{{field}}} is not in the list"
                    f"{nearest(field, known)} (known: {', '.join(known)}); take a layout without "
                    f"it, or give a column this field under [columns] in order.toml"
                )
