"""Commands that list the library: blanks, layouts, ornaments, machines."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from mailmerge.cli.app import app
from mailmerge.cli.common import JsonOption, print_table

if TYPE_CHECKING:
    from mailmerge.blanks import Blank


@app.command()
def blanks(as_json: JsonOption = False) -> None:
    """List the blanks of the library: typical sizes, to be measured on your own cup."""
    from mailmerge.blanks import Blank, angle_of, face_of
    from mailmerge.guests import Hand
    from mailmerge.shelves import load, shelf, templates

    rows = []
    for name in shelf("blanks"):
        blank = load(Blank, "blanks", name, Path())
        face = face_of(blank, angle_of("drinker", Hand.RIGHT), 120)
        rows.append(
            {
                "name": name,
                "what": blank.name,
                "around_mm": _around(blank),
                "height_mm": blank.height,
                "face_mm": round(face.usable_width, 1),
                "coats": ", ".join(coat.name for coat in blank.coat),
            }
        )
    print_table(
        rows,
        as_json,
        "Typical of the trade; measure your own before you engrave. To put your own numbers in, "
        f"copy a file from {templates() / 'blanks'}",
    )


def _around(blank: Blank) -> str:
    """Return how large a blank is: around, at mouth and base where that differs, or across."""
    if blank.is_flat:
        return f"flat, {blank.page_width:g} wide"
    if blank.taper:
        mouth, base = blank.circumference_at(blank.height), blank.circumference_at(0.0)
        return f"{mouth:.1f} / {base:.1f}"
    return f"{blank.page_width:.1f}"


@app.command()
def layouts(as_json: JsonOption = False) -> None:
    """List the layouts of the library."""
    from mailmerge.artwork import Layout
    from mailmerge.shelves import load, shelf

    rows = []
    for name in shelf("layouts"):
        layout = load(Layout, "layouts", name, Path())
        rows.append(
            {
                "name": name,
                "face": layout.face,
                "lines": " / ".join(line.text for line in layout.line),
                "fonts": ", ".join(dict.fromkeys(line.font for line in layout.line)),
                "what": layout.note,
            }
        )
    print_table(rows, as_json)


@app.command()
def ornaments(as_json: JsonOption = False) -> None:
    """List the ornaments of the library; a layout may also name an .svg file of your own."""
    from mailmerge.artwork import read_drawing
    from mailmerge.shelves import shelf

    rows = []
    for name, path in shelf("ornaments").items():
        box = read_drawing(path).box
        rows.append({"name": name, "width to height": f"{box.width / box.height:.2f} to 1"})
    print_table(rows, as_json)


@app.command()
def machines(as_json: JsonOption = False) -> None:
    """List the machine profiles of the library: typical ones, to be measured on your own."""
    from mailmerge.machines import Machine
    from mailmerge.shelves import load, shelf, templates

    rows = []
    for name in shelf("machines"):
        machine = load(Machine, "machines", name, Path())
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
    print_table(
        rows,
        as_json,
        "Typical of the trade, and not yours: put the numbers of your machine's manual into a file "
        f"of your own, such as a copy from {templates() / 'machines'}. Engrave a single line on a "
        "test piece and measure how wide it is.",
    )
