"""Commands that make an order: start, check, merge, keep its sizes."""

from __future__ import annotations

import datetime as dt
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, Literal

import typer

from mailmerge.cli import words
from mailmerge.cli.app import MAKE, command
from mailmerge.cli.changes import (
    GoneOption,
    JobsOption,
    SameOption,
    asked,
    changes_entry,
    choices_of,
    is_anybody_there,
    say_changes,
    settled,
)
from mailmerge.cli.common import (
    READY,
    STOPPED,
    BlankOption,
    CoatOption,
    JsonOption,
    LayoutOption,
    MachineOption,
    OrderArgument,
    SheetOption,
    TitleOption,
    new_console,
    print_causes,
    say_causes,
    watching,
)
from mailmerge.findings import InputError
from mailmerge.voice import as_json

if TYPE_CHECKING:
    from mailmerge.deeds.form import Formed
    from mailmerge.deeds.making import Checked, Entry, Merge, Totals


@command(
    MAKE, "new gala --list guests.xlsx", 'new gala --list guests.xlsx --title "Winter gala"',
    "new autumn --like gala --due 2027-10-02",
)  # fmt: skip
def new(
    folder: Annotated[Path, typer.Argument(help="Folder of the new order.")],
    list_file: Annotated[
        Path | None,
        typer.Option("--list", help="The client's guest list [default: a form to be filled in]."),
    ] = None,
    title: Annotated[
        str | None, typer.Option(help="Whose party it is [default: the folder's name].")
    ] = None,
    blank: Annotated[
        str | None, typer.Option(help="A blank of the library [default: a 40 oz tumbler].")
    ] = None,
    layout: Annotated[
        str | None, typer.Option(help="A layout of the library [default: the shop's].")
    ] = None,
    coat: Annotated[str | None, typer.Option(help="The blank's coat [default: its first].")] = None,
    sheet: Annotated[str | None, typer.Option(help="The workbook's sheet.")] = None,
    machine: Annotated[
        str | None, typer.Option(help="A machine of the library [default: the shop's].")
    ] = None,
    due: Annotated[
        dt.datetime | None, typer.Option(formats=["%Y-%m-%d"], help="The day the cups are due.")
    ] = None,
    like: Annotated[
        Path | None,
        typer.Option(help="An order that this one is like: all of it but its guests."),
    ] = None,
) -> None:
    """Start an order from a guest list, or with a form for one.

    Makes a folder with a copy of the list and an order.toml for you to fill in. Without a list, a
    form stands in its place, to be sent to the client.
    """
    from mailmerge.deeds import form, making
    from mailmerge.deeds.questions import Question

    given, said = making.Given(blank, layout, coat, sheet, title, machine), making.NOTHING_SAID
    day = due.date() if due else None
    if like is not None:
        if used := [f"--{name}" for name, value in asdict(given).items()
                    if value is not None and name != "title"]:  # fmt: skip
            raise InputError(words.like_says_it(used))
        from mailmerge.deeds.like import begin_like

        typer.echo(words.started(begin_like(folder, like, list_file, title or "", day)))
        typer.echo(words.check_next(folder) if list_file else words.list_back(folder))
        return
    if list_file is None:
        begun, formed = form.begin(folder, given, day)
        typer.echo(words.started(begun.file))
        for taken in begun.taken:
            typer.echo(words.taken(taken.what, taken.value, taken.is_default))
        _say_form(formed)
        typer.echo(words.list_back(folder))
        return
    while isinstance(started := making.new(folder, list_file, given, said, day), Question):
        # Where nobody can be asked, order.toml has the place for the answer.
        said = asked(started) if is_anybody_there() else started.options[-1].answer
    typer.echo(words.started(started.file))
    for taken in started.taken:
        typer.echo(words.taken(taken.what, taken.value, taken.is_default))
    if started.open_question:
        raise InputError(words.open_columns(started.open_question, started.file))
    for field, header in started.columns.items():
        typer.echo(words.column(field, header))
    if started.unused:
        typer.echo(words.not_used(started.unused))
    typer.echo(words.check_next(folder))


@command(MAKE, "form gala", "form gala --by 2026-12-05")
def form(
    order: OrderArgument,
    by: Annotated[
        dt.datetime | None,
        typer.Option(
            formats=["%Y-%m-%d"],
            help="The day the list is needed [default: a week before the cups are due].",
        ),
    ] = None,
    out: Annotated[
        Path | None, typer.Option(help="Where to write it [default: the order's folder].")
    ] = None,
) -> None:
    """Write a form for the guest list, to send to the client.

    It has the columns that the order's layout and blanks use, and no other. A list that comes back
    in it leaves next to nothing to ask.
    """
    from mailmerge.deeds import form

    _say_form(form.list_form(order, by.date() if by else None, out))
    typer.echo(words.list_back(order))


def _say_form(formed: Formed) -> None:
    typer.echo(words.form_written(formed.file, formed.titles, formed.by))


@command(MAKE, "check gala", "check guests.xlsx --blank lowball-10oz")
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
    """List everything that could spoil a blank.

    Reads the order and changes nothing in it. The worst comes first.
    """
    from mailmerge.deeds import making

    given = making.Given(blank, layout, coat, sheet, title, machine)
    if as_json:
        checked = _check_as_json(order, given)
    else:
        with watching(words.CHECKING_ITEMS) as watch:
            checked = making.check(order, given, watch)
        _print_findings(checked)
    raise typer.Exit(STOPPED if checked.totals.stopped else READY)


def _check_as_json(order: Path, given: Any) -> Checked:
    """Print items as they come: they are many, and are not gathered."""
    from mailmerge.deeds import making

    before = f'{{"schema": {making.SCHEMA}, "items": [\n'

    def print_item(entry: Entry) -> None:
        nonlocal before
        typer.echo(before + _json({**entry.model_dump(), "artwork": None, "proof": None}), nl=False)
        before = ",\n"

    with watching(words.CHECKING_ITEMS, True) as watch:
        checked = making.check(order, given, watch, print_item)
    start = "" if checked.totals.items else before
    together = _json(
        [
            {
                **asdict(cause.finding),
                "items": cause.items,
                "rows": cause.rows,
                "names": cause.names,
            }
            for cause in checked.causes
        ]
    )
    typer.echo(
        f'{start}\n], "findings": {together}, "order": {checked.order.to_json()}, '
        f'"totals": {checked.totals.to_json()}}}'
    )
    return checked


def _json(value: object) -> str:
    return as_json(value)


def _print_findings(checked: Checked) -> None:
    """Print findings as a table, and then the counts."""
    print_causes(checked.causes)
    console = new_console()
    console.print(words.list_read(checked.order.list, checked.order.rows))
    console.print(words.columns_read(checked.order.columns))
    console.print(words.checked(checked.totals.items, *_counts(checked.totals)))


def _counts(totals: Totals) -> tuple[int, int, int, int]:
    return totals.ready, totals.stopped, totals.warnings, totals.notes


@command(MAKE, "merge gala", "merge gala --same 7=12 --gone 9", "merge guests.xlsx --out try")
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
    jobs: JobsOption = 0,
    same: SameOption = None,
    gone: GoneOption = None,
    as_json: JsonOption = False,
) -> None:
    """Make the artwork and a proof for every cup.

    An order remembers its guests: each keeps the same item number, and only what has changed is
    made again. With --out, everything is written to another folder and nothing is recorded.
    """
    from mailmerge.deeds import making

    given = making.Given(blank, layout, coat, sheet, title, machine)
    merged = settled(
        lambda choices, watch: making.merge(order, given, out, choices, jobs, watch),
        choices_of(same, gone),
        as_json,
    )
    if as_json:
        told: dict[str, Any] = {"out": str(merged.folder), "totals": merged.totals.model_dump()}
        if merged.changes:
            told["changes"] = changes_entry(merged.changes)
        typer.echo(_json(told))
    else:
        _say_merged(merged)
    raise typer.Exit(STOPPED if merged.totals.stopped else READY)


def _say_merged(merged: Merge) -> None:
    totals = merged.totals
    typer.echo(words.list_read(merged.list, merged.rows))
    typer.echo(words.columns_read(merged.columns))
    if merged.unused:
        typer.echo(words.not_used(merged.unused))
    typer.echo(words.merged(totals.items, merged.rows.guests, *_counts(totals)))
    say_causes(merged.causes)
    if merged.changes:
        say_changes(merged.changes)
    for what, place in merged.places.items():
        typer.echo(words.place(what, place))
    if totals.stopped:
        typer.echo(words.STOPPED_HAVE_NO_ARTWORK)
    if merged.taken:
        typer.echo(words.all_taken((t.what, t.value, t.is_default) for t in merged.taken))


@command(MAKE, "keep-sizes gala", name="keep-sizes")
def keep_sizes(
    order: Annotated[Path, typer.Argument(help="An order's folder, or its order.toml.")],
) -> None:
    """Keep today's letter heights for late guests.

    Writes them into order.toml. Guests who join later get letters of the same height as the cups
    that are engraved already.
    """
    from mailmerge.deeds import making

    kept = making.keep_sizes(order)
    typer.echo(words.sizes_kept(kept.file))
    for size in kept.sizes:
        typer.echo(words.kept_size(size.text, size.role, size.letter_height, size.members))


@command(MAKE, "arrange gala --coat navy", "arrange gala --layout monogram --due 2026-12-12")
def arrange(
    order: Annotated[Path, typer.Argument(help="An order's folder, or its order.toml.")],
    title: Annotated[str | None, typer.Option(help="Whose party it is.")] = None,
    due: Annotated[
        str | None, typer.Option(help='Day when it is due, such as 2026-12-12, or "open".')
    ] = None,
    blank: Annotated[
        str | None, typer.Option(help="A blank of the library, or a .toml file.")
    ] = None,
    coat: Annotated[str | None, typer.Option(help="A coat of the blank.")] = None,
    layout: Annotated[
        str | None, typer.Option(help="A layout of the library, or a .toml file.")
    ] = None,
    machine: Annotated[
        str | None, typer.Option(help="A machine of the library, or a .toml file.")
    ] = None,
    motif: Annotated[
        str | None,
        typer.Option(help="A word for an ornament, or an .svg file, for a layout that asks."),
    ] = None,
) -> None:
    """Change an order's title, day, blank, coat, layout, motif or machine.

    Writes it into order.toml. The next merge goes by it. Without an option it says how it is.
    """
    from mailmerge.deeds import arranging

    if any(each is not None for each in (title, due, blank, coat, layout, machine, motif)):
        day = None if due is None else _day(due)
        arranging.arrange(order, title, day, blank, coat, layout, machine, motif)
    now = arranging.arranged(order)
    told = {
        "title": now.title,
        "due": str(now.due) if now.due else "open",
        "blank": now.blank,
        "coat": now.coat,
        "layout": now.layout,
        **({"motif": now.motif or "as the layout and the list say"} if now.has_slots else {}),
        "machine": now.machine,
    }
    for key, value in told.items():
        typer.echo(f"{key}: {value}")


@command(
    MAKE,
    'keep-layout gala "Gala script" --from name-over-role --set line.1.font=Caveat',
    name="keep-layout",
)
def keep_layout(
    order: Annotated[Path, typer.Argument(help="An order's folder, or its order.toml.")],
    called: Annotated[str, typer.Argument(metavar="NAME", help="What your layout is called.")],
    base: Annotated[
        str | None, typer.Option("--from", help="The layout it begins from [default: the order's].")
    ] = None,
    given: Annotated[
        list[str] | None,
        typer.Option(
            "--set", metavar="KEY=VALUE", help="Change a value. No value takes the key out."
        ),
    ] = None,
    for_all: Annotated[bool, typer.Option("--for-all", help="Keep it for all orders.")] = False,
) -> None:
    """Change a layout and keep it as your own.

    The order is made with it from the next merge on. The layout it began from stays as it is.
    """
    from mailmerge.deeds import layouts

    if wrong := next((each for each in given or () if "=" not in each), None):
        raise InputError(words.bad_layout_value(wrong))
    said = dict(each.split("=", 1) for each in given or ())
    begins = layouts.layout_named(order) if base is None else base
    kept = layouts.keep_layout(order, called, begins, said, "shop" if for_all else "order")
    typer.echo(words.layout_kept(kept.file))


def _day(text: str) -> dt.date | Literal["open"]:
    try:
        return "open" if text == "open" else dt.date.fromisoformat(text)
    except ValueError:
        raise InputError(words.bad_due(text)) from None
