"""The command that makes a blank out of readings."""

from __future__ import annotations

import itertools
import math
import re
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from mailmerge.cli.app import app
from mailmerge.cli.common import counted
from mailmerge.findings import InputError

if TYPE_CHECKING:
    from mailmerge.blanks import Blank
    from mailmerge.blanks.measuring import Girth, Tapes


def _measured(help_text: str) -> Any:
    return typer.Option(help=f"{help_text} Several times over, or with commas.", show_default=False)


@app.command()
def measure(
    around: Annotated[list[str] | None, _measured("Around a straight wall, by tape.")] = None,
    across: Annotated[list[str] | None, _measured("Across it, by callipers.")] = None,
    around_base: Annotated[list[str] | None, _measured("Around, at the lower tape.")] = None,
    around_top: Annotated[list[str] | None, _measured("Around, at the upper tape.")] = None,
    across_base: Annotated[list[str] | None, _measured("Across, at the lower tape.")] = None,
    across_top: Annotated[list[str] | None, _measured("Across, at the upper tape.")] = None,
    apart: Annotated[list[str] | None, _measured("From tape to tape, along the wall.")] = None,
    rise: Annotated[list[str] | None, _measured("From tape to tape, straight up.")] = None,
    lower: Annotated[str, typer.Option(help="The lower tape above the base.")] = "0",
    height: Annotated[str, typer.Option(help="The wall, along it.")] = "",
    band_from: Annotated[str, typer.Option(help="Lower edge of what may be engraved.")] = "",
    band_to: Annotated[str, typer.Option(help="Upper edge of it.")] = "",
    handle: Annotated[str, typer.Option(help="Handle and brackets, along the wall.")] = "0",
    clearance: Annotated[str, typer.Option(help="Kept free on each side of it.")] = "4 mm",
    comes_off: Annotated[
        bool, typer.Option("--comes-off", help="The handle is taken off.")
    ] = False,
    stands_out: Annotated[str, typer.Option(help="How far what stays on stands out.")] = "",
    name: Annotated[str, typer.Option(help="What to call the blank.")] = "My cup",
    coat: Annotated[str, typer.Option(help="Name of its coat.")] = "black",
    colour: Annotated[str, typer.Option(help="Colour of its coat.")] = "#1c1d20",
    out: Annotated[Path | None, typer.Option(help="Blank file to write, ending in .toml.")] = None,
) -> None:
    """Make a blank out of readings of tape and callipers; without any, ask for them.

    Lengths as people read them: "12 3/8 in", "31.4 cm", "314 mm".
    """
    from mailmerge.blanks import measuring

    if out is not None and out.suffix != ".toml":
        raise InputError(f"{out}: want the name of a blank file, ending in .toml")
    given = {
        "around": around, "across": across, "around-base": around_base, "around-top": around_top,
        "across-base": across_base, "across-top": across_top, "apart": apart, "rise": rise,
    }  # fmt: skip
    texts = {key: list(values or ()) for key, values in given.items()}
    rest = {
        "lower": lower, "height": height, "band-from": band_from, "band-to": band_to,
        "handle": handle, "clearance": clearance, "stands-out": stands_out,
    }  # fmt: skip
    if not any(texts.values()):
        if not sys.stdin.isatty():
            raise InputError(
                'want readings, such as --around "12 3/8 in" --around "12 7/16 in" '
                '--height "190 mm" (on a terminal they are asked for)'
            )
        comes_off, file_name = _ask(texts, rest)
        out = file_name or out
    readings = {key: _lengths(f"--{key}", values) for key, values in texts.items()}
    wall = _wall(readings, _length("--lower", rest["lower"]))
    tall = _length("--height", rest["height"])
    blank, file = measuring.measured_blank(
        name,
        coat,
        colour,
        wall,
        measuring.Rest(
            tall,
            (
                _length("--band-from", rest["band-from"] or "0"),
                _length("--band-to", rest["band-to"]) if rest["band-to"] else tall,
            ),
            _length("--handle", rest["handle"]),
            _length("--clearance", rest["clearance"]),
            _length("--stands-out", rest["stands-out"]) if rest["stands-out"] else None,
            comes_off,
        ),
    )
    typed = " ".join(itertools.chain(*texts.values(), rest.values()))
    _say_measured(blank, wall, inches_as_typed(typed))
    if out is not None:
        if out.exists():
            raise InputError(f"{out}: is there already; it is left as it is")
        from mailmerge.files import write_file

        write_file(out, file.encode())
        typer.echo(f'written: {out}   (in order.toml: blank = "{out.name}")')


def _ask(texts: dict[str, list[str]], rest: dict[str, str]) -> tuple[bool, Path | None]:
    """Ask for the readings on a terminal; return if the handle comes off, and the file to write."""

    def asked(question: str, default: str = "") -> str:
        return str(typer.prompt(question, default=default, show_default=bool(default))).strip()

    def several(key: str, question: str) -> None:
        if answer := asked(f"{question}, with commas between"):
            texts[key] = [answer]

    typer.echo("Lengths as you read them: 12 3/8 in, 314 mm, 31.4 cm. Blank leaves one out.")
    if typer.confirm("Is the wall tapered?", default=False):
        several("around-base", "Around at the lower tape, several readings")
        several("across-base", "Across at the lower tape, by callipers")
        several("around-top", "Around at the upper tape, several readings")
        several("across-top", "Across at the upper tape, by callipers")
        several("apart", "From tape to tape along the wall, several readings")
        rest["lower"] = asked("The lower tape above the base", "0 mm")
    else:
        several("around", "Around the wall by tape, several readings")
        several("across", "Across the wall by callipers, several readings")
    rest["height"] = asked("Height of the wall, along it")
    rest["band-from"] = asked("It may be engraved from, above the base", "0 mm")
    rest["band-to"] = asked("up to", rest["height"])
    rest["handle"] = asked("Handle and brackets along the wall, 0 for none", "0 mm")
    has_handle = _length("handle", rest["handle"]) > 0
    rest["clearance"] = asked("Kept free on each side", "10 mm" if has_handle else "4 mm")
    comes_off = has_handle and typer.confirm("Does the handle come off?", default=False)
    if has_handle:
        rest["stands-out"] = asked("How far what stays on the cup stands out from the wall")
    file = asked("File to write, such as my-cup.toml")
    return comes_off, Path(file).with_suffix(".toml") if file else None


def _lengths(option: str, texts: list[str]) -> list[float]:
    from mailmerge.units import parse_lengths

    try:
        return [length for text in texts for length in parse_lengths(text)]
    except ValueError as error:
        raise InputError(f"{option}: {error}") from None


def _length(option: str, text: str) -> float:
    from mailmerge.units import parse_length

    if not text:
        raise InputError(f'{option} is missing, want a length such as "190 mm"')
    try:
        return parse_length(text)
    except ValueError as error:
        raise InputError(f"{option}: {error}") from None


def _wall(readings: dict[str, list[float]], lower: float) -> Girth | Tapes:
    """Return the wall that the readings are of."""
    from mailmerge.blanks import measuring

    straight = measuring.girth("", readings["around"], readings["across"])
    base = measuring.girth(" at the base", readings["around-base"], readings["across-base"])
    top = measuring.girth(" at the top", readings["around-top"], readings["across-top"])
    if straight and (base or top):
        raise InputError(
            "found readings of a straight and of a tapered wall, want --around or --across, or "
            "both of --around-base and --around-top"
        )
    if straight:
        return straight
    if not base or not top:
        raise InputError(
            "want readings of one circumference (--around, --across), or of two "
            "(--around-base and --around-top, or --across-base and --across-top)"
        )
    if bool(readings["apart"]) == bool(readings["rise"]):
        raise InputError(
            "want how far the two tapes are apart: either --apart along the wall, or --rise "
            "straight up"
        )
    key = "apart" if readings["apart"] else "rise"
    distance = measuring.measure("from tape to tape", readings[key])
    return measuring.Tapes(base, top, distance, key == "rise", lower)


def inches_as_typed(typed: str) -> int | None:
    """Return into how many parts the tape that was read divides an inch; None for millimetres."""
    if not re.search(r"in\b|inch|[\"″]", typed):
        return None
    parts = [int(under) for under in re.findall(r"/(\d+)", typed)]
    return 32 if any(16 % under for under in parts if under) else 16


def _say_measured(blank: Blank, wall: Girth | Tapes, parts: int | None) -> None:
    """Print what was measured, and what it means."""
    from mailmerge.blanks import measuring
    from mailmerge.units import format_inches, format_mm

    def shown(length: float, digits: int = 1) -> str:
        inches = f"  ({format_inches(length, parts)})" if parts else ""
        return f"{format_mm(length, digits)}{inches}"

    girths = [wall] if isinstance(wall, measuring.Girth) else [wall.base, wall.top]
    for girth in girths:
        for found in (girth.tape, girth.callipers):
            if found:
                count = counted(len(found.readings), "reading")
                typer.echo(
                    f"{found.what}: mean {shown(found.mean, 2)}, spread "
                    f"{format_mm(found.spread, 2)}, {count}"
                )
        typer.echo(
            f"  circumference {shown(girth.circumference, 2)}, diameter "
            f"{shown(girth.circumference / math.pi, 2)}"
        )
    if isinstance(wall, measuring.Tapes):
        typer.echo(
            f"taper: {shown(wall.distance, 2)} along the wall; it leans by {abs(blank.tilt):.2f}° "
            f"({2 * abs(blank.tilt):.2f}° from side to side), "
            f"{'wider' if blank.tilt > 0 else 'narrower'} at the mouth"
        )
        typer.echo(f"  in the middle of the band {shown(blank.page_width, 2)} around")
    for word, width in measuring.faces_in_words(blank):
        typer.echo(f"face, {word}: {shown(width)} usable")
    typer.echo("If the tape is read 1 mm wrong:")
    for said in measuring.error_in_words(blank, wall):
        typer.echo(f"  {said}")
