"""Commands for choosing a font: the fonts at hand, judged for a list, and a specimen."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from mailmerge.cli.app import app
from mailmerge.cli.common import (
    BlankOption,
    CoatOption,
    JsonOption,
    LayoutOption,
    OrderArgument,
    SheetOption,
    TitleOption,
    default_out,
    open_any,
    print_table,
    watching,
)
from mailmerge.findings import InputError
from mailmerge.progress import told

if TYPE_CHECKING:
    from mailmerge.candidates import Candidate


@app.command()
def specimen(
    order: OrderArgument,
    fonts: Annotated[
        str,
        typer.Option(
            help="Families or font files, with commas between [default: what lacks nothing]."
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
    """Draw the order's shortest, longest and trickiest names in several fonts, to choose by eye."""
    from mailmerge import candidates
    from mailmerge.files import write_file

    opened = open_any(order, blank, layout, coat, sheet, title)
    wanted = [name.strip() for name in fonts.split(",") if name.strip()]
    if not wanted:
        wanted = [
            c.family for c in candidates.judged(opened, candidates.installed()) if not c.lacks
        ]
        wanted = wanted[: candidates.MOST] or candidates.installed()[: candidates.MOST]
    picture = candidates.specimen(opened, wanted)
    file = out if out is not None else default_out(order).with_name("specimen.png")
    write_file(file, picture)
    typer.echo(f"specimen: {file}")


@app.command()
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
    as_json: JsonOption = False,
) -> None:
    """List the installed font families; with --list, what each would mean for a guest list."""
    if list_file is not None:
        _judge_fonts(list_file, blank, layout, sheet, fonts, as_json)
        return
    if given := [
        f"--{name}"
        for name, value in (
            ("blank", blank),
            ("layout", layout),
            ("sheet", sheet),
            ("fonts", fonts),
        )
        if value
    ]:
        raise InputError(f"{', '.join(given)} goes with --list")
    from mailmerge.lettering import families

    rows = [
        {
            "name": family.name,
            "weights": (
                f"{family.weight_range[0]} to {family.weight_range[1]}"
                if family.is_variable and family.weight_range
                else ", ".join(map(str, family.weights))
            ),
            "licence": family.license,
        }
        for family in families()
    ]
    print_table(rows, as_json, "A layout may also name a font file of your own by its path.")


def _judge_fonts(
    list_file: Path, blank: str | None, layout: str | None, sheet: str | None, fonts: str,
    as_json: bool,
) -> None:  # fmt: skip
    from mailmerge import candidates

    order = open_any(list_file, blank, layout, None, sheet, None)
    wanted = [name.strip() for name in fonts.split(",") if name.strip()] or candidates.installed()
    rows: list[dict[str, Any]] = []
    with watching("judging fonts", as_json) as watch:
        for candidate in candidates.judged(order, wanted):
            rows.append(_candidate(candidate, as_json))
            told(watch, len(rows), len(wanted))
    if not as_json:
        rows.sort(key=lambda row: row["lacks"] != "–")
    design = order.design
    print_table(
        rows,
        as_json,
        f'Letter height: as one set, in the name\'s line of the layout "{design.layout.name}" on '
        f'the blank "{design.blank.name}". Licence: as the file itself states it, which is not '
        f"legal advice; keep your own proof of licence with the order.",
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
        more = candidate.guests_lacking - len(candidate.guests)
        named = ", ".join(candidate.guests[:3]) + (
            f" and {more + len(candidate.guests[3:])} more"
            if more + len(candidate.guests[3:])
            else ""
        )
        lacks = f"{' '.join(candidate.lacks[:12])} ({named})"
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
