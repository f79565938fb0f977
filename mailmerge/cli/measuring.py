"""The command that makes a blank out of readings."""

from __future__ import annotations

import itertools
import math
import re
import shlex
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from mailmerge.cli import words
from mailmerge.cli.app import MAKE, command
from mailmerge.findings import InputError
from mailmerge.units import parse_length, parse_lengths

if TYPE_CHECKING:
    from mailmerge.deeds.measuring import Answers, Girth, Measured, Question, Rest


def _measured(help_text: str) -> Any:
    return typer.Option(
        help=f"{help_text} Give it several times, or with commas.", show_default=False
    )


@command(
    MAKE,
    "measure",
    'measure --around "11 5/8 in, 11 11/16 in" --height "186 mm" --name Mine --out mine.toml',
)
def measure(
    context: typer.Context,
    around: Annotated[list[str] | None, _measured("Around a straight wall, by tape.")] = None,
    across: Annotated[list[str] | None, _measured("Across it, by callipers.")] = None,
    around_base: Annotated[list[str] | None, _measured("Around, at the lower tape.")] = None,
    around_top: Annotated[list[str] | None, _measured("Around, at the upper tape.")] = None,
    across_base: Annotated[list[str] | None, _measured("Across, at the lower tape.")] = None,
    across_top: Annotated[list[str] | None, _measured("Across, at the upper tape.")] = None,
    apart: Annotated[list[str] | None, _measured("From tape to tape, along the wall.")] = None,
    rise: Annotated[list[str] | None, _measured("From tape to tape, straight up.")] = None,
    lower: Annotated[str, typer.Option(help="How far the lower tape is above the base.")] = "0",
    height: Annotated[str, typer.Option(help="Height of the wall, along it.")] = "",
    band_from: Annotated[
        str, typer.Option(help="Lower edge of the band that may be engraved.")
    ] = "",
    band_to: Annotated[str, typer.Option(help="Upper edge of the band.")] = "",
    handle: Annotated[
        str, typer.Option(help="Width of handle and brackets, along the wall.")
    ] = "0",
    clearance: Annotated[
        str, typer.Option(help="What is kept free on each side of the handle.")
    ] = "4 mm",
    comes_off: Annotated[
        bool, typer.Option("--comes-off", help="The handle is taken off.")
    ] = False,
    stands_out: Annotated[
        str, typer.Option(help="How far what stays on the cup stands out from the wall.")
    ] = "",
    name: Annotated[
        str, typer.Option(help="What to call the blank: a name that no other one has.")
    ] = "",
    coat: Annotated[
        str, typer.Option(help="Its coats in words, with commas, such as navy, lilac #c8a2c8.")
    ] = "black",
    out: Annotated[Path | None, typer.Option(help="Blank file to write, ending in .toml.")] = None,
    ask: Annotated[bool, typer.Option("--ask", help="Ask for what is not given.")] = False,
) -> None:
    """Turn tape and calliper readings into a blank file.

    Read each length several times. Type lengths as you read them: "11 5/8 in", "29.5 cm",
    "295 mm". Without readings, or with --ask, the command asks for what is not given.
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
    if ask or not any(texts.values()):
        if not sys.stdin.isatty():
            raise InputError(words.READINGS_MISSING)
        _say_measured(_ask(_given(context)))
        return
    typed = " ".join(itertools.chain(*texts.values(), rest.values()))
    done = measuring.measure(
        measuring.Readings(
            **{key.replace("-", "_"): _lengths(f"--{key}", values) for key, values in texts.items()}
        ),
        _rest(rest, comes_off),
        _length("--lower", rest["lower"]),
        name,
        coat,
        measuring.inches_as_typed(typed),
        out,
    )
    _say_measured(done)


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


_OPTIONS = {"coats": "coat", "file": "out"}
"""Options that are called otherwise than the question which they answer."""


def _given(context: typer.Context) -> dict[str, str]:
    """Return what was given in the call, by the questions that it answers."""
    questions = {option: key for key, option in _OPTIONS.items()}
    found = {}
    for name, value in context.params.items():
        source = context.get_parameter_source(name)
        if name != "ask" and source is not None and source.name == "COMMANDLINE":
            option = name.replace("_", "-")
            text = ", ".join(value) if isinstance(value, list | tuple) else str(value)
            found[questions.get(option, option)] = "y" if value is True else text
    if not found.keys().isdisjoint(("around-base", "across-base", "around-top", "across-top")):
        found["tapered"] = "y"
    elif not found.keys().isdisjoint(("around", "across")):
        found["tapered"] = "n"
    return found


def _ask(given: dict[str, str]) -> Measured:
    """Ask for what is not given, each again until it is an answer.

    Whatever ends it, the answers so far are not lost: they are printed as a call.
    """
    from mailmerge.deeds import measuring

    typer.echo(words.HOW_TO_TYPE_LENGTHS)
    answers = measuring.begin(Path())
    try:
        while (question := measuring.next_question(answers)) is not None:
            answers = _with_answer(question, given, answers)
        if given:
            raise InputError(words.not_asked([f"--{_OPTIONS.get(key, key)}" for key in given]))
        return measuring.measure_as_answered(answers)
    except (typer.Abort, InputError):
        if answers.typed:
            typer.echo(f"\n{words.go_on_with(_call(answers.typed))}")
        raise


def _with_answer(question: Question, given: dict[str, str], answers: Answers) -> Answers:
    """Return the answers with one more, given or typed; as they were if it was no answer."""
    from mailmerge.deeds import measuring

    typed = given.pop(question.key, None)
    if typed is None:
        offered = question.otherwise(answers) or ""
        typed = str(typer.prompt(question.text, default=offered, show_default=bool(offered)))
    try:
        answers, said = measuring.answered(question, typed, answers)
    except InputError as error:
        said = str(error)
    if said:
        typer.echo(words.said_aloud(said))
    return answers


def _call(typed: Mapping[str, str]) -> str:
    """Return the call that goes on from answers, as a shell takes it."""
    parts = ["mailmerge measure --ask"]
    for key, text in typed.items():
        if key == "comes-off":
            parts += ["--comes-off"] if text.casefold().startswith("y") else []
        elif key != "tapered":
            parts.append(f"--{_OPTIONS.get(key, key)} {_quoted(text)}")
    return " ".join(parts)


def _quoted(text: str) -> str:
    """Return a text in double quotes, which every shell knows, unless they stand in it."""
    return shlex.quote(text) if re.search(r'["$`\\!%]', text) else f'"{text}"'


def _lengths(option: str, texts: list[str]) -> tuple[float, ...]:
    try:
        return tuple(length for text in texts for length in parse_lengths(text))
    except ValueError as error:
        raise InputError(words.bad_option(option, error)) from None


def _length(option: str, text: str) -> float:
    if not text:
        raise InputError(words.length_missing(option))
    try:
        return parse_length(text)
    except ValueError as error:
        raise InputError(words.bad_option(option, error)) from None


def _say_measured(done: Measured) -> None:
    """Print what was measured, what it means, and where it is kept."""
    parts = done.blank.inches
    for girth in done.girths:
        _say_readings(girth, parts)
        around = girth.circumference
        typer.echo(words.circumference(around, around / math.pi, parts))
    if done.taper:
        typer.echo(words.taper(done.taper.distance, done.blank.tilt, parts))
        typer.echo(words.middle_of_band(done.blank.page_width, parts))
    for word, width in done.faces:
        typer.echo(words.face(word, width, parts))
    typer.echo(words.IF_READ_WRONG)
    for said in done.errors:
        typer.echo(words.said_of_error(said))
    if done.file is not None:
        typer.echo(words.blank_written(done.file))


def _say_readings(girth: Girth, parts: int | None) -> None:
    for found in (girth.tape, girth.callipers):
        if found:
            count = len(found.readings)
            typer.echo(words.readings(found.what, found.mean, found.spread, count, parts))
