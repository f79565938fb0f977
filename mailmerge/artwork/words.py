"""What this room says to people."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

from mailmerge.blanks.words import not_a_face
from mailmerge.findings import nearest, shown

__all__ = ["not_a_face"]

# A layout's file: the text that follows the name of the file and the key


def _typed(found: object) -> str:
    """Return a value as it was typed, as far as a line of a message holds it."""
    return shown(found) if isinstance(found, str) else shown(repr(found))[1:-1]


def broken_text(text: str, reason: object) -> str:
    """Say that the braces of a line's text do not match."""
    return f"Found {shown(text)} ({reason}). A field is a name in braces, such as {{name}}."


def more_than_a_field(text: str) -> str:
    """Say that there is something else than a name between two braces."""
    return f"Found {shown(text)}. Braces hold the name of a field alone, such as {{name}}."


def not_features(found: object) -> str:
    """Say that a value is no list or table of OpenType features."""
    return f'Found {_typed(found)}. Features are a list of tags, such as ["ss01", "swsh"].'


def not_a_tag(found: str) -> str:
    """Say that a text is no tag of an OpenType feature."""
    return f'Found {shown(found)}. An OpenType tag has four characters, such as "ss01".'


def not_an_alternate(tag: str, found: object) -> str:
    """Say that a feature's value is none."""
    return (
        f"Found {_typed(found)} for {tag}. Enter 1 to use the feature, 0 to leave it out, or the "
        f"number of an alternate up to 99."
    )


def not_axes(found: object) -> str:
    """Say that a value is no table of axes."""
    return f"Found {_typed(found)}. Axes are a table, such as {{ wght = 600 }}."


def not_an_axis_value(tag: str, found: object) -> str:
    """Say that an axis's value is no number."""
    return f"Found {_typed(found)} for {tag}. Enter a number below a million."


def not_a_language(found: str) -> str:
    """Say that a text is no language."""
    return (
        f'Found {shown(found)}. Enter a language tag such as "tr" or "pt-BR" (BCP 47), or the '
        f"language's name, such as Turkish."
    )


def rim_out_of_bounds(found: float) -> str:
    """Say that an outline is not moved outward by so much."""
    return f"Found {found:g} mm. Enter a length from 0.01 to 2 mm, or 0 for none."


def least_above_most(least: float, most: float) -> str:
    """Say that a range of letter heights is upside down."""
    return f"Found min {least:g} mm and max {most:g} mm. The least is not above the most."


def not_a_height(found: str) -> str:
    """Say that a word is no height above the base."""
    return f'Found {shown(found)}. A height is "low", "high" or a length such as "45 mm".'


FILL_AND_REPEAT = "Found fill and repeat. A ring takes one of them at most."
ARC_AND_RING = "Found arc and ring. A line takes one of them at most."
RING_AND_FACE_OR_HEIGHT = (
    "Found ring together with face or height. A ring has a height of its own and no face. Take "
    "face and height out."
)
HEIGHT_AND_ARC = "Found height and arc. A line takes one of them at most."


def rows_of_a_single_row(rows: int) -> str:
    """Say that a line on an arc, a ring or in a monogram has one row."""
    return f"lines: Found {rows}. A line with arc, ring or monogram has 1."


def sizing_along_a_curve(found: str) -> str:
    """Say that a line on an arc or a ring shares no size."""
    return f'sizing: Found "{found}". A line with arc or ring has sizing = "each".'


def no_such_line(ornament: int, found: int, lines: int) -> str:
    """Say that an ornament stands with a line that there is not."""
    if lines == 1:
        return f"ornament {ornament}.line: Found {found}. This layout has 1 line. Enter 1."
    return (
        f"ornament {ornament}.line: Found {found}. This layout has {lines} lines. Enter a number "
        f"from 1 to {lines}."
    )


def border_of(layout: str, number: int) -> str:
    """Name a border as the place of what is wrong with it."""
    return f"layout {shown(layout)}: border {number}"


def line_of(layout: str, number: int) -> str:
    """Name a line as the place of what is wrong with it."""
    return f"layout {shown(layout)}: line {number}"


def at(where: str, said: object) -> str:
    """Say what is wrong, behind its place."""
    return f"{where}: {said}"


def drawing_or_motif(has_both: bool) -> str:
    """Say that an ornament or a border wants a drawing, or a motif that is filled in later."""
    if has_both:
        return "Found drawing and motif. Give one of them."
    return (
        'Give a drawing, such as drawing = "flourish". Or give motif = "?" and name the drawing in '
        "order.toml or in the list."
    )


def no_such_motif(found: str, suggested: str) -> str:
    """Say that a word names no drawing."""
    told = f"There is no motif {shown(found)}."
    if suggested:
        told = f'{told} Did you mean "{suggested}"?'
    return (
        f"{told} The command mailmerge ornaments lists them all. For a drawing of your own, give "
        f"the path of its .svg file."
    )


def motif_file_is_missing(catalogue: Path, name: str) -> str:
    """Say that the list of ornaments names one without a file."""
    return f"{catalogue}: There is no {name}.svg beside this file."


def too_many_repeats(count: int, most: int) -> str:
    """Say that something would go around a cup too often."""
    return (
        f"What is repeated around the cup would stand there {count:,} times, and {most:,} are the "
        f"most. Make it larger, or give it a larger gap, in the layout."
    )


def ornament_on_ring(ornament: int, found: int) -> str:
    """Say that an ornament stands with a ring."""
    return (
        f"ornament {ornament}.line: Found {found}, which is a ring. No ornament stands with a "
        f"ring. Name another line, or repeat the drawing around the cup as a border."
    )


def no_such_field(
    source: str, line: int, field: str, known: Sequence[str], unused: Sequence[str]
) -> str:
    """Say that a layout uses a field that neither the list nor the order has."""
    other = f" Columns not used: {', '.join(map(shown, unused))}." if unused else ""
    return (
        f"{source}: line {line}: text: The list has no field {{{field}}}. "
        f"{nearest(field, known)} Known fields: {', '.join(known)}.{other} Take a layout without "
        f"it, or give a column this field under [columns] in order.toml."
    )


# What a line asks of its font


def no_such_feature(font: str, tag: str, known: Sequence[str]) -> str:
    """Say that a font has not this OpenType feature, or none."""
    if not known:
        return f"features: {font} has no feature {shown(tag)}. It has no features at all."
    return f"features: {font} has no feature {shown(tag)}. It has: {', '.join(known)}."


def fill_breaks_joins(font: str) -> str:
    """Say that a connected script cannot be spread around a cup."""
    return (
        f"Found true, but the letters of {font} connect, and spreading them breaks "
        f"their joins. Enter false, or take another font."
    )


def tracking_breaks_joins(font: str, tracking: int) -> str:
    """Say that a connected script cannot be letter-spaced."""
    return (
        f"Found {tracking}, but the letters of {font} connect, and spacing breaks their "
        f"joins. Enter 0, or take another font."
    )


# Ways to set what is too long

ON_ROWS: Mapping[int, str] = {1: "on one line", 2: "on two lines", 3: "on three lines"}


def shorter_on_rows(form: str, rows: int) -> str:
    """Say that a text is both made shorter and broken into rows."""
    return f"{form}, {ON_ROWS[rows]}"


# A drawing's file


def not_an_svg(path: Path, reason: object) -> str:
    """Say that a file is no SVG."""
    return f"{path}: The file is not an SVG drawing that can be read ({reason})."


def not_text(path: Path, reason: object) -> str:
    """Say that a file's letters cannot be decoded."""
    return f"{path}: The file is not text that can be read ({reason})."


def other_root(path: Path, root: str) -> str:
    """Say that a file starts with the element of something else."""
    return f"{path}: The file is not an SVG drawing. It starts with {shown(root)}."


_AS_PATHS = (
    "In the drawing program turn it into paths, unite them, and save the drawing as plain SVG."
)


def unread(path: Path, reason: object) -> str:
    """Say that a drawing holds something that is not read."""
    return f"{path}: {reason} {_AS_PATHS}"


def not_as_drawn(path: Path, picture: Path | None) -> str:
    """Say that a drawing would be engraved otherwise than it is drawn."""
    text = f"{path}: The drawing would not be engraved as it is drawn."
    if picture:
        text += (
            f" Look at {picture}: left the drawing, right what would be engraved, and red what "
            f"differs."
        )
    return f"{text} {_AS_PATHS}"


def _found(what: str) -> str:
    return f"Found {shown(what)}, which is not read in a drawing."


def odd_length(text: str) -> str:
    """Say that a number or a length cannot be read."""
    return f"Found {shown(text)}, which is no number or length that is read in a drawing."


def odd_stroke(text: str) -> str:
    """Say that a stroke has a width, end, corner or dash that is not read."""
    return f"A stroke has {shown(text)}, which is not read in a drawing."


def too_many_dashes(most: int) -> str:
    """Say that a dashed stroke has more dashes than are drawn."""
    return f"A stroke has more than {most} dashes."


def odd_paint(text: str) -> str:
    """Say that a colour or paint is not known."""
    return f"Found {shown(text.strip())} as a colour, which is not read in a drawing."


def odd_clip(text: str) -> str:
    """Say that a clip is made of something that is not read."""
    return f"A clip is made with {shown(text.strip())}, which is not read in a drawing."


def odd_property(name: str, value: str) -> str:
    """Say that a property, or its value, is not read."""
    return _found(f"{name}: {value.strip()}")


def around_the_whole(name: str, value: str) -> str:
    """Say that the whole drawing has something that is painted behind or around it."""
    return (
        f"The whole drawing has {shown(f'{name}: {value.strip()}')}. A browser paints that behind "
        f"or around it, but it is no shape. Take it out, or draw it as a shape."
    )


def negative_stroke(width: str) -> str:
    """Say that a stroke is narrower than nothing."""
    return f"A stroke has the width {shown(width)}. Give it a width above 0, or none."


def broken_path(data: str) -> str:
    """Say that the data of a path cannot be read."""
    return f"The data of a path cannot be read at {shown(data)}."


TRANSFORM_OF_THE_WHOLE = "The whole drawing has a transform, which is not read."
NO_VIEW = "The drawing does not say how large it is: it has neither a viewBox nor width and height."
CONDITIONS = "A part of the drawing is shown to some readers only (requiredFeatures and the like)."
CLIP_BY_A_GROUPS_BOX = "A group is clipped by its own bounds (clipPathUnits), which is not read."
NEGATIVE_RADIUS = "A shape has a size or radius below 0."
ODD_POINTS = "A polygon or polyline has an odd count of numbers."
DARK_AND_LIGHT = (
    "A gradient goes from dark to light, so it is not clear what of it is engraved. Give the shape "
    "one colour."
)
NO_NUMBER = "A number in it is larger than any."


def too_many_points(path: Path, most: int) -> str:
    """Say that a drawing is richer than what is welded."""
    return f"{path}: The drawing has more than {most} points. Simplify it, and save it again."


def too_many_elements(path: Path, most: int) -> str:
    """Say that a drawing grows too large once every ``use`` is followed."""
    return (
        f"{path}: The drawing has more than {most} elements. Simplify it, and save it again as "
        f"plain SVG."
    )


def nested_too_deep(path: Path, most: int) -> str:
    """Say that groups of a drawing lie too deep inside each other."""
    return (
        f"{path}: Elements of the drawing are nested deeper than {most}. Ungroup them, and save "
        f"it again as plain SVG."
    )


def uses_itself(path: Path) -> str:
    """Say that a drawing would never end."""
    return (
        f"{path}: A shape of the drawing uses itself. Unlink the copies in the drawing program, "
        f"and save it again as plain SVG."
    )


def not_one_outline(path: Path) -> str:
    """Say that a drawing's shapes could not be welded."""
    return (
        f"{path}: The shapes could not be welded into one outline. Unite them in the drawing "
        f"program, and save it again."
    )


NUMBERS_OUT_OF_REACH = "A number in it is too large or too small to draw with. Draw it anew."


def no_usable_size(path: Path, reason: object) -> str:
    """Say that a drawing has no size."""
    return f"{path}: {reason}"


def no_shape(path: Path, has_light: bool) -> str:
    """Say that a drawing shows nothing, or nothing dark."""
    if has_light:
        return (
            f"{path}: Everything in the drawing is light, and light is not engraved. Draw it dark, "
            f"or raise ink_below in the layout."
        )
    return f"{path}: The drawing holds no shape that is filled or drawn."


_ONLY_SHAPES = (
    "A drawing holds paths and basic shapes only. Save it as plain SVG, with texts as paths, and "
    "with fill and stroke as attributes of the shapes."
)


def doctype_or_entity(path: Path) -> str:
    """Say that a drawing declares a document type or an entity."""
    return f"{path}: Found a document type or an entity. {_ONLY_SHAPES}"


def instruction(path: Path, target: str) -> str:
    """Say that a drawing holds a processing instruction."""
    return f"{path}: Found a processing instruction ({shown(target)}). {_ONLY_SHAPES}"


def other_element(path: Path, name: str) -> str:
    """Say that a drawing holds an element that is no shape."""
    return f"{path}: Found <{name}>. {_ONLY_SHAPES}"


def script(path: Path, attribute: str) -> str:
    """Say that a drawing holds a script."""
    return f"{path}: Found a script ({attribute}). {_ONLY_SHAPES}"


def reference_outside(path: Path, value: str) -> str:
    """Say that a drawing refers to another file."""
    return f"{path}: Found a reference to the outside ({shown(value)}). {_ONLY_SHAPES}"


def style_that_loads(path: Path, value: str) -> str:
    """Say that a style of a drawing would load something."""
    return f"{path}: Found a style that loads something ({shown(value)}). {_ONLY_SHAPES}"
