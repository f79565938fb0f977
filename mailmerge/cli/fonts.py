"""Commands for choosing a font: the fonts at hand, judged for a list, and a specimen."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from mailmerge.cli import words
from mailmerge.cli.app import LIBRARY, command
from mailmerge.cli.common import (
    BlankOption,
    CoatOption,
    DrawOption,
    JsonOption,
    LayoutOption,
    OrderArgument,
    SheetOption,
    TitleOption,
    draw_into,
    print_table,
    watching,
)
from mailmerge.findings import InputError

if TYPE_CHECKING:
    from mailmerge.deeds.choosing import Candidate


@command(LIBRARY, "specimen gala", 'specimen gala --fonts "Great Vibes,Pacifico"')
def specimen(
    order: OrderArgument,
    fonts: Annotated[
        str,
        typer.Option(
            help="Families or font files, with commas between [default: those that lack nothing]."
        ),
    ] = "",
    out: Annotated[
        Path | None, typer.Option(help='Picture to write [default: "specimen.png" beside it].')
    ] = None,
    blank: BlankOption = None,
    layout: LayoutOption = None,
    coat: CoatOption = None,
    sheet: SheetOption = None,
    title: TitleOption = None,
) -> None:
    """Draw the list's hardest names in several fonts.

    The shortest, the longest and the trickiest name, side by side, to choose by eye.
    """
    from mailmerge.deeds import choosing

    given = choosing.Given(blank, layout, coat, sheet, title)
    typer.echo(words.specimen(choosing.specimen(order, given, _names_in(fonts), out)))


def _names_in(text: str) -> list[str]:
    return [name.strip() for name in text.split(",") if name.strip()]


@command(LIBRARY, "fonts", "fonts --list gala", 'fonts --draw pictures --text "Zoë"')
def fonts(
    list_file: Annotated[
        Path | None,
        typer.Option("--list", help="A guest list or an order, to judge every font for it."),
    ] = None,
    blank: BlankOption = None,
    layout: LayoutOption = None,
    sheet: SheetOption = None,
    fonts: Annotated[
        str, typer.Option(help="With --list: only these, with commas between, or font files.")
    ] = "",
    draw: DrawOption = None,
    text: Annotated[str, typer.Option(help="With --draw: what is set in each of them.")] = "",
    as_json: JsonOption = False,
) -> None:
    """List the installed fonts, or judge them for a guest list.

    With --list it says for each font which letters it lacks and how large the names come out. With
    --draw each is seen in its own letters.
    """
    from mailmerge.deeds import choosing

    if draw:
        from mailmerge.deeds.pictures import font_picture

        texts = (text,) if text else ()
        draw_into(draw, {each.name: font_picture(each.name, texts) for each in choosing.fonts()})
        return
    if list_file is not None:
        given = choosing.Given(blank=blank, layout=layout, sheet=sheet)
        _judge_fonts(list_file, given, _names_in(fonts), as_json)
        return
    options = {"blank": blank, "layout": layout, "sheet": sheet, "fonts": fonts}
    if used := [f"--{name}" for name, value in options.items() if value]:
        raise InputError(words.needs_list(used))
    rows = [
        {"name": font.name, "weights": font.weights, "licence": font.licence}
        for font in choosing.fonts()
    ]
    print_table(rows, as_json, words.ABOUT_FONTS)


def _judge_fonts(list_file: Path, given: Any, wanted: list[str], as_json: bool) -> None:
    from mailmerge.deeds import choosing

    with watching(words.JUDGING_FONTS, as_json) as watch:
        judged = choosing.judge_fonts(list_file, given, wanted, watch)
    candidates = list(judged.candidates)
    if not as_json:
        candidates.sort(key=lambda candidate: bool(candidate.lacks))
    print_table(
        [_candidate(candidate, as_json) for candidate in candidates],
        as_json,
        words.about_judged_fonts(judged.layout, judged.blank),
    )


def _candidate(candidate: Candidate, as_json: bool) -> dict[str, Any]:
    """Return a candidate as a row: of plain values for programs, of words for people."""
    licence = candidate.licence
    if as_json:
        return {
            "family": candidate.family,
            "style": candidate.style,
            "lacks": list(candidate.lacks),
            "guests": list(candidate.guests),
            "guests_lacking": candidate.guests_lacking,
            "connects": candidate.connects,
            "letter_height_mm": candidate.letter_height,
            "too_long": candidate.too_long,
            "copyright": licence.copyright,
            "licence": licence.words,
            "licence_url": licence.url,
            "embedding": licence.embedding,
            "restricted": licence.restricted,
        }
    lacks = "–"
    if candidate.lacks:
        named = candidate.guests[:3]
        lacks = words.lacking(candidate.lacks[:12], named, candidate.guests_lacking - len(named))
    height = "none fits" if candidate.letter_height is None else f"{candidate.letter_height:.1f}"
    return {
        "family": candidate.family,
        "style": candidate.style,
        "lacks": lacks,
        "letters": "connect" if candidate.connects else "apart",
        "height_mm": height,
        "too long": candidate.too_long or "–",
        "licence": licence.short,
        "embedding": licence.embedding,
    }
