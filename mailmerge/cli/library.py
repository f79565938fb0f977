"""Commands that list the library: blanks, layouts, ornaments, machines."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from mailmerge.cli import words
from mailmerge.cli.app import LIBRARY, command
from mailmerge.cli.common import DrawOption, JsonOption, draw_into, print_table

if TYPE_CHECKING:
    from mailmerge.deeds.choosing import Blank


@command(LIBRARY, "blanks", "blanks --draw pictures")
def blanks(as_json: JsonOption = False, draw: DrawOption = None) -> None:
    """List the blanks of the shop and of the library.

    The library's sizes are typical. Measure your own cup. Pictures of them are to one scale.
    """
    from mailmerge.deeds import choosing

    found = choosing.blanks()
    if draw:
        from mailmerge.deeds.pictures import blank_picture

        draw_into(draw, {each.name: blank_picture(each) for each in found.blanks})
        return
    rows = [
        {
            "name": each.wanted,
            "what": each.blank.name,
            "around_mm": _around(each.blank),
            "height_mm": each.blank.height,
            "face_mm": round(each.face_mm, 1),
            "coats": ", ".join(coat.name for coat in each.blank.coat),
        }
        for each in found.blanks
    ]
    print_table(rows, as_json, words.about_blanks(found.folder))


def _around(blank: Blank) -> str:
    """Return how large a blank is: around, at mouth and base where that differs, or across."""
    if blank.is_flat:
        return f"flat, {blank.page_width:g} wide"
    if blank.taper:
        mouth, base = blank.circumference_at(blank.height), blank.circumference_at(0.0)
        return f"{mouth:.1f} / {base:.1f}"
    return f"{blank.page_width:.1f}"


@command(LIBRARY, "layouts")
def layouts(as_json: JsonOption = False) -> None:
    """List the layouts of the library."""
    from mailmerge.deeds import choosing

    rows = [
        {
            "name": name,
            "face": layout.face,
            "lines": " / ".join(line.text for line in layout.line),
            "fonts": ", ".join(dict.fromkeys(line.font for line in layout.line)),
            "what": layout.note,
        }
        for name, layout in choosing.layouts().items()
    ]
    print_table(rows, as_json)


@command(LIBRARY, "ornaments", "ornaments --subject sports --sheet sports.png")
def ornaments(
    as_json: JsonOption = False,
    kind: Annotated[str, typer.Option(help="Motifs, dividers and so on alone: --kind motif.")] = "",
    subject: Annotated[str, typer.Option(help="One subject alone: --subject sports.")] = "",
    sheet: Annotated[
        Path | None, typer.Option(help="Draw them into this file, .svg or .png.")
    ] = None,
) -> None:
    """List the ornaments of the library by kind and subject, with other words for them.

    A layout may also name an .svg file of your own.
    """
    from mailmerge.deeds import choosing

    found = choosing.ornaments(kind, subject)
    if sheet:
        from mailmerge.deeds.pictures import ornament_sheet

        typer.echo(words.written_file(ornament_sheet(found, sheet)))
        return
    rows = [
        {
            "name": each.name,
            "kind": each.kind,
            "subject": each.subject,
            "also": ", ".join(each.words),
        }
        for each in found
    ]
    print_table(rows, as_json)


@command(LIBRARY, "machines", "machines --draw pictures --blank camp-mug-14oz")
def machines(
    as_json: JsonOption = False,
    draw: DrawOption = None,
    blank: Annotated[
        str, typer.Option(help="With --draw: a blank of the library that lies on each of them.")
    ] = "",
) -> None:
    """List the machines of the library.

    The profiles are typical. Put the numbers of your own machine's manual into a file of yours.
    Pictures show how a blank lies at the start.
    """
    from mailmerge.deeds import choosing

    if draw:
        from mailmerge.deeds.pictures import lying_picture

        held = [each for each in choosing.machines_with(blank) if each.is_held]
        draw_into(draw, {each.name: lying_picture(each) for each in held})
        return
    found = choosing.machines()
    rows = []
    for name, machine in found.machines.items():
        rotary = machine.rotary
        run_up = machine.run_up
        rows.append(
            {
                "name": name,
                "what": machine.name,
                "spot_mm": machine.spot,
                "bed_mm": f"{machine.bed.width:g} x {machine.bed.depth:g}",
                "drive": rotary.drive if rotary else "–",
                "start": rotary.datum if rotary else "–",
                "across_mm": f"{rotary.smallest_diameter:g} to {rotary.largest_diameter:g}"
                if rotary
                else "–",
                "speed mm/s": f"{machine.speed:g}" if machine.speed else "–",
                "run-up_mm": f"{run_up:.1f}" if run_up is not None else "–",
            }
        )
    print_table(rows, as_json, words.about_machines(found.folder))
