"""The command line: turns input into the engine's calls, and results into text and exit codes.

Imports of the engine stay inside the commands, so that ``--help`` answers at once.
"""

from __future__ import annotations

import itertools
import json
import math
import re
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from mailmerge import __version__
from mailmerge.findings import InputError

if TYPE_CHECKING:
    from rich.console import Console

    from mailmerge.blanks import Blank
    from mailmerge.blanks.measuring import Girth, Tapes
    from mailmerge.candidates import Candidate
    from mailmerge.merge import Checked, Progress, Totals
    from mailmerge.orders import Design, Order

READY, WRONG, STOPPED = 0, 2, 3
"""Exit codes: all ready; the call or an input is wrong; done, but some items are stopped."""

app = typer.Typer(
    help="From a party's guest list to ready-to-engrave artwork and client proofs.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
)

OrderArgument = Annotated[
    Path, typer.Argument(help="An order's folder, its order.toml, or a guest list.")
]
BlankOption = Annotated[
    str | None, typer.Option(help="For a guest list: a blank of the library, or a .toml file.")
]
LayoutOption = Annotated[
    str | None, typer.Option(help="For a guest list: a layout of the library, or a .toml file.")
]
CoatOption = Annotated[
    str | None, typer.Option(help="For a guest list: the blank's coat [default: its first].")
]
MachineOption = Annotated[
    str | None, typer.Option(help="For a guest list: a machine of the library, or a .toml file.")
]
SheetOption = Annotated[str | None, typer.Option(help="For a guest list: the workbook's sheet.")]
TitleOption = Annotated[str | None, typer.Option(help="For a guest list: whose party it is.")]
JsonOption = Annotated[bool, typer.Option("--json", help="Write JSON for programs.")]

DEFAULT_BLANK, DEFAULT_LAYOUT = "handled-tumbler-40oz", "name-over-role"


def _version(wanted: bool) -> None:
    if wanted:
        typer.echo(f"mailmerge {__version__}")
        raise typer.Exit


@app.callback()
def _options(
    version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Say the version.")
    ] = False,
) -> None:
    pass


@app.command()
def merge(
    order: OrderArgument,
    out: Annotated[
        Path | None, typer.Option(help='Folder to write [default: "merged" beside the order].')
    ] = None,
    blank: BlankOption = None,
    layout: LayoutOption = None,
    coat: CoatOption = None,
    sheet: SheetOption = None,
    title: TitleOption = None,
    machine: MachineOption = None,
    jobs: Annotated[int, typer.Option(min=0, help="Processes to use; 0 means all cores.")] = 0,
    as_json: JsonOption = False,
) -> None:
    """Write one artwork SVG and one proof PNG for every cup of an order."""
    from mailmerge import merge as engine

    opened = _open(order, blank, layout, coat, sheet, title, machine)
    folder = out if out is not None else _default_out(order)
    with _progress("making items", as_json) as progress:
        totals, survey = engine.merge(opened, folder, jobs or engine.cores(), progress)
    if as_json:
        typer.echo(json.dumps({"out": str(folder), "totals": totals.__dict__}, ensure_ascii=False))
    else:
        typer.echo(
            f"{_count(totals.items, 'item')} for {_count(survey.guests, 'guest')}: "
            f"{totals.ready} ready, {totals.stopped} stopped; "
            f"{_count(totals.warnings, 'warning')}, {_count(totals.notes, 'note')}"
        )
        typer.echo(f"artwork:  {folder / engine.ARTWORK}")
        typer.echo(f"proofs:   {folder / engine.PROOFS}")
        typer.echo(f"loading:  {folder / engine.MAKER}")
        typer.echo(f"findings: {folder / engine.FINDINGS}")
        if totals.stopped:
            typer.echo("Stopped items have no artwork; their proofs say why.")
    raise typer.Exit(STOPPED if totals.stopped else READY)


@app.command()
def check(
    order: OrderArgument,
    blank: BlankOption = None,
    layout: LayoutOption = None,
    coat: CoatOption = None,
    sheet: SheetOption = None,
    title: TitleOption = None,
    machine: MachineOption = None,
    as_json: JsonOption = False,
) -> None:
    """Go through an order without writing anything, and list the findings, worst first."""
    from mailmerge import merge as engine

    opened = _open(order, blank, layout, coat, sheet, title, machine)
    checked = engine.check(opened)
    totals = engine.Totals()
    for finding in checked.list_findings:
        totals.count_finding(finding.severity)
    if as_json:
        typer.echo('{"order": ' + json.dumps(checked.order, ensure_ascii=False) + ', "items": [')
        for entry in checked.entries:
            entry |= {"artwork": None, "proof": None}
            before = "," if totals.items else ""
            typer.echo(before + json.dumps(entry, ensure_ascii=False))
            totals.count(entry)
        typer.echo('], "totals": ' + json.dumps(totals.__dict__) + "}")
    else:
        with _progress("checking items", as_json) as progress:
            found = _found(checked, totals, progress)
        _print_findings(found, totals)
    raise typer.Exit(STOPPED if totals.stopped else READY)


@app.command()
def new(
    folder: Annotated[Path, typer.Argument(help="Folder of the new order.")],
    list_file: Annotated[Path, typer.Option("--list", help="The client's guest list.")],
    title: Annotated[
        str | None, typer.Option(help="Whose party it is [default: the folder's name].")
    ] = None,
    blank: Annotated[str, typer.Option(help="A blank of the library.")] = DEFAULT_BLANK,
    layout: Annotated[str, typer.Option(help="A layout of the library.")] = DEFAULT_LAYOUT,
    coat: Annotated[str | None, typer.Option(help="The blank's coat [default: its first].")] = None,
    sheet: Annotated[str | None, typer.Option(help="The workbook's sheet.")] = None,
    machine: Annotated[
        str | None, typer.Option(help="A machine of the library [default: a typical diode laser].")
    ] = None,
) -> None:
    """Start an order: a folder with the list and an order.toml to fill in."""
    from mailmerge.orders import new_order, open_order

    file, question = new_order(folder, list_file, title, sheet, blank, layout, coat, machine)
    typer.echo(f"started {file}")
    if question is not None:
        raise InputError(f"{question} (the place for it is ready in {file})")
    opened = open_order(file)
    for field, header in opened.guests.columns.titles.items():
        typer.echo(f'  {field}: column "{header}"')
    typer.echo(f"next: mailmerge check {folder}")


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
    _table(
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
    _table(rows, as_json)


@app.command()
def ornaments(as_json: JsonOption = False) -> None:
    """List the ornaments of the library; a layout may also name an .svg file of your own."""
    from mailmerge.artwork import read_drawing
    from mailmerge.shelves import shelf

    rows = []
    for name, path in shelf("ornaments").items():
        box = read_drawing(path).box
        rows.append({"name": name, "width to height": f"{box.width / box.height:.2f} to 1"})
    _table(rows, as_json)


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
    _table(
        rows,
        as_json,
        "Typical of the trade, and not yours: put the numbers of your machine's manual into a file "
        f"of your own, such as a copy from {templates() / 'machines'}. Engrave a single line on a "
        "test piece and measure how wide it is.",
    )


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
        from mailmerge.merge import write_file

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
                count = _count(len(found.readings), "reading")
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


@app.command("keep-sizes")
def keep_sizes(
    order: Annotated[Path, typer.Argument(help="An order's folder, or its order.toml.")],
) -> None:
    """Write the letter heights that an order has settled on into its order.toml.

    Guests who are added later are then set at the size of the cups that are engraved already.
    """
    from mailmerge import merge as engine
    from mailmerge.orders import keep_sizes as keep
    from mailmerge.orders import open_order

    design = engine.settled(open_order(order))
    if not design.sizes.settled:
        raise InputError(
            f'{order}: the layout "{design.layout.name}" shares no sizes, want sizing = "set" or '
            f'"role" on one of its lines'
        )
    file = keep(order, design)
    typer.echo(f"kept in {file}:")
    _print_sizes(design)


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
    from mailmerge.merge import write_file

    opened = _open(order, blank, layout, coat, sheet, title)
    wanted = [name.strip() for name in fonts.split(",") if name.strip()]
    if not wanted:
        wanted = [
            c.family for c in candidates.judged(opened, candidates.installed()) if not c.lacks
        ]
        wanted = wanted[: candidates.MOST] or candidates.installed()[: candidates.MOST]
    picture = candidates.specimen(opened, wanted)
    file = out if out is not None else _default_out(order).with_name("specimen.png")
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
    _table(rows, as_json, "A layout may also name a font file of your own by its path.")


def _judge_fonts(
    list_file: Path, blank: str | None, layout: str | None, sheet: str | None, fonts: str,
    as_json: bool,
) -> None:  # fmt: skip
    from mailmerge import candidates

    order = _open(list_file, blank, layout, None, sheet, None)
    wanted = [name.strip() for name in fonts.split(",") if name.strip()] or candidates.installed()
    rows: list[dict[str, Any]] = []
    with _progress("judging fonts", as_json) as progress:
        for candidate in candidates.judged(order, wanted):
            rows.append(_candidate(candidate, as_json))
            if progress:
                progress(len(rows), len(wanted))
    if not as_json:
        rows.sort(key=lambda row: row["lacks"] != "–")
    design = order.design
    _table(
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


def _print_sizes(design: Design) -> None:
    for size in design.sizes.settled:
        line = design.layout.line[size.line - 1]
        role = f", {size.role}" if size.role else ""
        members = "kept from before" if size.kept else f"for {size.members}"
        typer.echo(f"  {line.text}{role}: letter height {size.letter_height:.2f} mm, {members}")


def main() -> None:
    """Run the command line; an :class:`InputError` becomes one line and exit code 2.

    Typer itself ends an interrupted call with 130, and one whose reader has stopped with 1.
    """
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(encoding="utf-8", errors="replace")
    try:
        app()
    except InputError as error:
        sys.stderr.write(f"error: {error}\n")
        sys.exit(WRONG)
    except OSError as error:
        where = f"{error.filename}: " if error.filename else ""
        sys.stderr.write(f"error: {where}{error.strerror or error}\n")
        sys.exit(WRONG)


def _open(
    path: Path, blank: str | None, layout: str | None, coat: str | None, sheet: str | None,
    title: str | None, machine: str | None = None,
) -> Order:  # fmt: skip
    from mailmerge.orders import open_order, order_from_list

    given = {
        "blank": blank, "layout": layout, "coat": coat, "sheet": sheet, "title": title,
        "machine": machine,
    }  # fmt: skip
    if path.is_dir() or path.suffix.lower() == ".toml":
        if used := [f"--{name}" for name, value in given.items() if value is not None]:
            raise InputError(
                f"{path}: {', '.join(used)} goes with a guest list; an order says it in order.toml"
            )
        return open_order(path)
    if not path.exists():
        raise InputError(f"{path}: there is no such order or guest list")
    return order_from_list(
        path, title, sheet, blank or DEFAULT_BLANK, layout or DEFAULT_LAYOUT, coat, machine
    )


def _default_out(path: Path) -> Path:
    if path.is_dir():
        return path / "merged"
    if path.suffix.lower() == ".toml":
        return path.parent / "merged"
    return path.with_name(f"{path.stem}-merged")


def _count(number: int, word: str) -> str:
    return f"{number} {word}{'' if number == 1 else 's'}"


def _console() -> Console:
    """Return a console for standard output; it has no colour where NO_COLOR or no terminal is."""
    from rich.console import Console

    width = None if sys.stdout.isatty() else 200
    return Console(width=width, highlight=False, markup=False, emoji=False)


@contextmanager
def _progress(doing: str, as_json: bool) -> Iterator[Progress | None]:
    """Give a function that shows how far the work is, on a terminal only."""
    if as_json or not sys.stderr.isatty():
        yield None
        return
    from rich import progress as bars
    from rich.console import Console

    with bars.Progress(
        bars.TextColumn(doing),
        bars.BarColumn(),
        bars.MofNCompleteColumn(),
        bars.TextColumn("{task.fields[rate]} items/s, left"),
        bars.TimeRemainingColumn(),
        console=Console(stderr=True),
        transient=True,
    ) as bar:
        task = bar.add_task(doing, total=None, rate="–")

        def show(done: int, total: int) -> None:
            speed = bar.tasks[0].speed
            bar.update(task, completed=done, total=total, rate=f"{speed:.0f}" if speed else "–")

        yield show


_COLOURS = {"stop": "bold red", "warning": "yellow", "note": ""}


def _found(
    checked: Checked, totals: Totals, progress: Progress | None
) -> list[tuple[str, str, str, str, str]]:
    """Return severity, item, row, message and advice of every finding, worst first."""
    from mailmerge.findings import Severity

    found = [(str(f.severity), "", "", f.message, f.advice) for f in checked.list_findings]
    for entry in checked.entries:
        totals.count(entry)
        if entry["cup"] == 1:
            place = str(entry["item"]), str(entry["row"])
            found += [
                (finding["severity"], *place, finding["message"], finding["advice"])
                for finding in entry["findings"]
            ]
        if progress:
            progress(totals.items, checked.items)
    return sorted(found, key=lambda row: Severity(row[0]).rank)


def _print_findings(found: list[tuple[str, str, str, str, str]], totals: Totals) -> None:
    """Print findings as a table, and then the counts."""
    from rich.table import Table

    console = _console()
    if found:
        table = Table(box=None, pad_edge=False, padding=(0, 2, 1, 0))
        for header in ("severity", "item", "row"):
            table.add_column(header, no_wrap=True)
        table.add_column("what was found", ratio=3)
        table.add_column("what to do", ratio=2)
        for severity, item, row, message, advice in found:
            table.add_row(
                _styled(severity, _COLOURS[severity]), item, row, _safe(message), _safe(advice)
            )
        console.print(table)
    console.print(
        f"{_count(totals.items, 'item')}: {totals.ready} ready, {totals.stopped} stopped; "
        f"{_count(totals.warnings, 'warning')}, {_count(totals.notes, 'note')}"
    )


def _styled(text: str, style: str) -> Any:
    from rich.text import Text

    return Text(text, style=style)


def _safe(text: str) -> Any:
    """Return text of a cell so that no control or direction character reaches the terminal."""
    visible = "".join(c if c.isprintable() else f"<U+{ord(c):04X}>" for c in text)
    return _styled(visible, "")


def _table(rows: list[dict[str, Any]], as_json: bool, closing: str = "") -> None:
    if as_json:
        typer.echo(json.dumps(rows, ensure_ascii=False, indent=1))
        return
    from rich.table import Table

    table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0))
    for key in rows[0] if rows else ():
        table.add_column(key.replace("_mm", " mm"), no_wrap=key == "name")
    for row in rows:
        table.add_row(*(_safe(str(value)) for value in row.values()))
    console = _console()
    console.print(table)
    if closing:
        console.print(closing)
