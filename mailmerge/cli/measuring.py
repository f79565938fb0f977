"""The command that makes a blank out of readings."""

from __future__ import annotations

import itertools
import math
import re
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from mailmerge.cli.app import MAKE, command
from mailmerge.findings import InputError
from mailmerge.units import counted, format_inches, format_mm, parse_length, parse_lengths

if TYPE_CHECKING:
    from mailmerge.deeds.measuring import Girth, Measured, Rest


def _measured(help_text: str) -> Any:
    return typer.Option(help=f"{help_text} Several times over, or with commas.", show_default=False)


@command(
    MAKE,
    "measure",
    'measure --around "11 5/8 in" --around "11 11/16 in" --height "186 mm" --out tumbler.toml',
)
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
    """Turn tape and calliper readings into a blank file.

    Read each length several times. Type lengths as you read them: "11 5/8 in", "29.5 cm",
    "295 mm". Without readings the command asks for them.
    """
    from mailmerge.deeds import measuring

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
                'want readings, such as --around "11 5/8 in" --around "11 11/16 in" '
                '--height "186 mm" (on a terminal they are asked for)'
            )
        comes_off, file_name = _ask(texts, rest)
        out = file_name or out
    done = measuring.measure(
        measuring.Readings(
            **{key.replace("-", "_"): _lengths(f"--{key}", values) for key, values in texts.items()}
        ),
        _rest(rest, comes_off),
        _length("--lower", rest["lower"]),
        name,
        coat,
        colour,
        out,
    )
    _say_measured(done, inches_as_typed(" ".join(itertools.chain(*texts.values(), rest.values()))))
    if done.file is not None:
        typer.echo(f'written: {done.file}   (in order.toml: blank = "{done.file.name}")')


def _rest(texts: dict[str, str], comes_off: bool) -> Rest:
    from mailmerge.deeds.measuring import Rest

    tall = _length("--height", texts["height"])
    return Rest(
        tall,
        (
            _length("--band-from", texts["band-from"] or "0"),
            _length("--band-to", texts["band-to"]) if texts["band-to"] else tall,
        ),
        _length("--handle", texts["handle"]),
        _length("--clearance", texts["clearance"]),
        _length("--stands-out", texts["stands-out"]) if texts["stands-out"] else None,
        comes_off,
    )


def _ask(texts: dict[str, list[str]], rest: dict[str, str]) -> tuple[bool, Path | None]:
    """Ask for the readings on a terminal; return if the handle comes off, and the file to write."""

    def asked(question: str, default: str = "") -> str:
        return str(typer.prompt(question, default=default, show_default=bool(default))).strip()

    def several(key: str, question: str) -> None:
        if answer := asked(f"{question}, with commas between"):
            texts[key] = [answer]

    typer.echo("Lengths as you read them: 11 5/8 in, 295 mm, 29.5 cm. Blank leaves one out.")
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


def _lengths(option: str, texts: list[str]) -> tuple[float, ...]:
    try:
        return tuple(length for text in texts for length in parse_lengths(text))
    except ValueError as error:
        raise InputError(f"{option}: {error}") from None


def _length(option: str, text: str) -> float:
    if not text:
        raise InputError(f'{option} is missing, want a length such as "190 mm"')
    try:
        return parse_length(text)
    except ValueError as error:
        raise InputError(f"{option}: {error}") from None


def inches_as_typed(typed: str) -> int | None:
    """Return into how many parts the tape that was read divides an inch; None for millimetres."""
    if not re.search(r"in\b|inch|[\"″]", typed):
        return None
    parts = [int(under) for under in re.findall(r"/(\d+)", typed)]
    return 32 if any(16 % under for under in parts if under) else 16


def _say_measured(done: Measured, parts: int | None) -> None:
    """Print what was measured, and what it means."""

    def shown(length: float, digits: int = 1) -> str:
        inches = f"  ({format_inches(length, parts)})" if parts else ""
        return f"{format_mm(length, digits)}{inches}"

    for girth in done.girths:
        _say_readings(girth, parts)
        typer.echo(
            f"  circumference {shown(girth.circumference, 2)}, diameter "
            f"{shown(girth.circumference / math.pi, 2)}"
        )
    if done.taper:
        tilt = done.blank.tilt
        typer.echo(
            f"taper: {shown(done.taper.distance, 2)} along the wall; it leans by {abs(tilt):.2f}° "
            f"({2 * abs(tilt):.2f}° from side to side), "
            f"{'wider' if tilt > 0 else 'narrower'} at the mouth"
        )
        typer.echo(f"  in the middle of the band {shown(done.blank.page_width, 2)} around")
    for word, width in done.faces:
        typer.echo(f"face, {word}: {shown(width)} usable")
    typer.echo("If the tape is read 1 mm wrong:")
    for said in done.errors:
        typer.echo(f"  {said}")


def _say_readings(girth: Girth, parts: int | None) -> None:
    for found in (girth.tape, girth.callipers):
        if found:
            inches = f"  ({format_inches(found.mean, parts)})" if parts else ""
            typer.echo(
                f"{found.what}: mean {format_mm(found.mean, 2)}{inches}, spread "
                f"{format_mm(found.spread, 2)}, {counted(len(found.readings), 'reading')}"
            )
