"""Commands at the bench: release, keep count of cups and blanks, and forget when all is done."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, Annotated, Any

import typer

from mailmerge.cli import words
from mailmerge.cli.app import BENCH, command
from mailmerge.cli.common import (
    READY,
    STOPPED,
    FolderArgument,
    ItemsArgument,
    JsonOption,
    PaperOption,
    named,
    print_json,
    print_table,
    say_not_logged,
    say_tray,
    watching,
)
from mailmerge.findings import InputError

if TYPE_CHECKING:
    from mailmerge.deeds.copies import Kept
    from mailmerge.deeds.forgetting import Forgot
    from mailmerge.deeds.papers import RunSheet


@command(BENCH, "release gala", "release gala 3 7", 'release gala --without-yes "gift, no client"')
def release(
    order: FolderArgument,
    items: ItemsArgument = None,
    without_yes: Annotated[
        str | None,
        typer.Option(
            metavar="REASON",
            help="Also release what still waits. The reason goes on the run sheet.",
        ),
    ] = None,
) -> None:
    """Put confirmed artwork into the folder to engrave from.

    Only artwork that the client has confirmed and nobody has changed since goes there.
    """
    from mailmerge.deeds import bench
    from mailmerge.deeds.status import waits_for

    done = bench.release(order, items or (), without_yes)
    typer.echo(words.released(len(done.released), done.tray))
    for record in done.released:
        entry = record.entry
        typer.echo(words.released_file(bench.place_of(record), entry.blank, entry.coat))
    for finding, numbers in done.look.items():
        typer.echo(words.look(numbers, finding.message))
    for record, why in done.refused:
        typer.echo(words.refused(record.number, why))
    if done.aside:
        typer.echo(words.moved_aside(done.aside, "to-engrave-not"))
    if done.waiting:
        typer.echo(words.NOT_RELEASED)
        for record in done.waiting:
            typer.echo(words.not_released(record.number, record.name, waits_for(record)))
    if done.released:
        typer.echo(words.run_sheet_next(done.folder))
    raise typer.Exit(STOPPED if done.refused or done.waiting else READY)


@command(BENCH, "run-sheet gala", name="run-sheet")
def run_sheet(
    order: FolderArgument, paper: PaperOption = None, as_json: JsonOption = False
) -> None:
    """Write the run sheet for the machine.

    It holds the cautions, the blanks to lay out, and a line for each cup.
    """
    from mailmerge.deeds import papers

    with watching(words.MAKING_ITEMS, as_json) as watch:
        done = papers.run_sheet(order, paper, watch)
    run = done.run
    if as_json:
        print_json(_run_entry(done))
        return
    typer.echo(words.run(run.mark, len(run.cups), run.machine))
    typer.echo(words.written_file(done.file, done.paper.in_words))
    for pile in run.piles:
        typer.echo(
            words.lay_out(pile.kind.in_words, pile.cups, pile.spares, pile.settings_in_words)
        )
    typer.echo(words.run_spares(run.spoilage.percent, run.spoilage.source))
    if run.plan:
        typer.echo(words.begun_now(papers.day_and_time(run.plan.done), done.defaults))


def _run_entry(done: RunSheet) -> dict[str, Any]:
    run = done.run
    return {
        "run_sheet": str(done.file),
        "run": run.mark,
        "machine": run.machine,
        "cups": [
            {
                "item": cup.number,
                "name": cup.name,
                "texts": cup.texts,
                "file": cup.file,
                "width_mm": round(cup.size[0], 2),
                "height_mm": round(cup.size[1], 2),
                "side": cup.holding,
                "steps": cup.steps,
                "settings": cup.settings,
                "tried": cup.is_tried,
                "seconds": None if cup.seconds is None else round(cup.seconds, 1),
                "spoiled_before": cup.again,
                "look": cup.look,
                "without_yes": cup.without_yes,
            }
            for cup in run.cups
        ],
        "lay_out": [
            {
                "blank": pile.kind.blank,
                "coat": pile.kind.coat,
                "cups": pile.cups,
                "spares": pile.spares,
                "settings": pile.settings_in_words,
            }
            for pile in run.piles
        ],
        "spoiled_percent": str(run.spoilage.percent),
        "done": run.plan.done.isoformat(timespec="minutes") if run.plan else None,
    }


@command(BENCH, "engraved gala 3 7", "engraved gala --all")
def engraved(
    order: FolderArgument,
    items: ItemsArgument = None,
    everything: Annotated[bool, typer.Option("--all", help="Everything that is released.")] = False,
) -> None:
    """Record that cups are engraved.

    Their files leave the folder to engrave from.
    """
    from mailmerge.deeds import bench
    from mailmerge.deeds.status import waits_for

    if bool(items) == everything:
        raise InputError(words.ITEMS_OR_ALL)
    done = bench.engraved(order, items)
    say_not_logged(done.not_logged)
    if done.records:
        typer.echo(words.engraved(named(done.records)))
    for record in done.against:
        typer.echo(words.engraved_though_taken_back(named([record]), waits_for(record)))
    if done.left:
        typer.echo(words.left_for_now(named(done.left), order))
    raise typer.Exit(STOPPED if done.left or done.against else READY)


@command(BENCH, 'spoiled gala 7 --reason "slipped on the rollers"')
def spoiled(
    order: FolderArgument,
    items: ItemsArgument = None,
    reason: Annotated[str, typer.Option(help="What went wrong.")] = "",
) -> None:
    """Record that a blank was lost.

    The next release puts the cup into the folder again.
    """
    from mailmerge.deeds import bench
    from mailmerge.deeds.status import waits_for

    done = bench.spoiled(order, items or (), reason)
    say_not_logged(done.not_logged)
    typer.echo(words.spoiled(named(done.records), done.blanks_lost))
    if ready := [each for each in done.records if each.standing == "spoiled"]:
        typer.echo(words.in_next_release(named(ready), done.folder))
    for each in done.records:
        if each.standing != "spoiled":
            typer.echo(words.not_in_next_release(named([each]), waits_for(each)))


@command(BENCH, "mistaken gala 7")
def mistaken(order: FolderArgument, items: ItemsArgument = None) -> None:
    """Take back that cups were recorded as engraved or spoiled.

    They then stand where they stood before.
    """
    from mailmerge.deeds import bench

    done = bench.mistaken(order, items or ())
    say_not_logged(done.not_logged)
    for each in done.records:
        typer.echo(words.stands_again(each.number, each.name, each.standing))


@command(BENCH, "clock gala 7", "clock gala --stop")
def clock(
    order: FolderArgument,
    item: Annotated[str | None, typer.Argument(help="The item that goes on the machine.")] = None,
    stop: Annotated[bool, typer.Option("--stop", help="Stop the clock, and log its time.")] = False,
) -> None:
    """Start the clock for a cup, or stop it.

    The order keeps it: it runs on when this computer is off. Without an item it says what runs.
    """
    from mailmerge.deeds import clock as deeds

    if stop:
        done = deeds.stop(order)
        typer.echo(words.clock_stopped(done.number, done.took, done.why_not))
    elif item is not None:
        typer.echo(words.clock_runs(deeds.start(order, item).number, 0.0))
    elif (found := deeds.running(order)) is not None:
        typer.echo(words.clock_runs(found.number, found.until()))
    else:
        typer.echo(words.NO_CLOCK_RUNS)


@command(BENCH, "go-back gala", "go-back gala 2026-12-05T09-40-00", name="go-back", looks=False)
def go_back(
    order: FolderArgument,
    to: Annotated[
        str | None,
        typer.Argument(metavar="NAME", help='A copy\'s name or its beginning, or "present".'),
    ] = None,
    as_json: JsonOption = False,
) -> None:
    """List the dated copies of an order's record, or go back to one.

    The present record is kept as a copy first. What is not on the record leaves the folder to
    engrave from.
    """
    from mailmerge.deeds import copies

    if to is None:
        closing = "" if as_json else words.choose_copy(order)
        print_table([_kept(each) for each in copies.copies(order)], as_json, closing)
        if tray := copies.beside(order):
            say_tray(tray, order)
        return
    done = copies.go_back(order, to)
    if done.aside:
        typer.echo(words.moved_aside(done.aside, "to-engrave-not"))
    if done.damaged:
        typer.echo(words.damaged_kept(done.damaged))
    if done.to:
        typer.echo(words.went_back(done.to.at, done.to.state, order))
    else:
        typer.echo(words.record_holds(order))


def _kept(each: Kept) -> dict[str, Any]:
    totals = ", ".join(f"{count} {standing}" for standing, count in each.totals.items())
    return {
        "name": each.name,
        "made": f"{each.at:%Y-%m-%d %H:%M:%S}" if each.at else "",
        "changes": each.state,
        "items": each.amiss or totals,
    }


@command(BENCH, "forget gala", "forget gala --yes")
def forget(
    order: FolderArgument,
    yes: Annotated[bool, typer.Option("--yes", help="Do not ask.")] = False,
    leave_others: Annotated[
        bool, typer.Option("--leave-others", help="Go on even if files of your own hold names.")
    ] = False,
) -> None:
    """Delete the names, pictures and answers of a finished order.

    The list in the folder goes too. Counts stay. Then every file is searched for names that are
    left.
    """
    from mailmerge.deeds.forgetting import forget as forget_order
    from mailmerge.deeds.questions import Question

    done = forget_order(order, yes, leave_others)
    if isinstance(done, Question):
        if not sys.stdin.isatty():
            raise InputError(done.refusal)
        typer.confirm(words.go_on(done.words), abort=True)
        done = forget_order(order, True, leave_others)
        assert not isinstance(done, Question)
    _say_forgot(done)
    raise typer.Exit(READY if done.is_clean else STOPPED)


def _say_forgot(done: Forgot) -> None:
    say_not_logged(done.not_logged)
    for trace in done.traces:
        typer.echo(words.still_there(trace.path, trace.name))
    if done.outside:
        typer.echo(words.outside(done.outside))
    for path in done.linked:
        typer.echo(words.left_linked(path))
    for path in done.unread:
        typer.echo(words.not_searched(path))
    if not done.traces:
        typer.echo(words.forgot(done.files, done.folder, done.names, not done.unread))
