"""Commands at the bench: release, keep count of cups and blanks, and forget when all is done."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, Annotated

import typer

from mailmerge.cli.app import BENCH, command
from mailmerge.cli.common import (
    READY,
    STOPPED,
    FolderArgument,
    ItemsArgument,
    PaperOption,
    named,
    say_not_logged,
    watching,
)
from mailmerge.findings import InputError, shown
from mailmerge.units import counted

if TYPE_CHECKING:
    from mailmerge.deeds.forgetting import Forgot


@command(BENCH, "release gala", "release gala 3 7", 'release gala --without-yes "gift, no client"')
def release(
    order: FolderArgument,
    items: ItemsArgument = None,
    without_yes: Annotated[
        str | None,
        typer.Option(
            metavar="REASON",
            help="Release what still waits, too: why, which goes on the run sheet.",
        ),
    ] = None,
) -> None:
    """Put confirmed artwork into the folder to engrave from.

    Only artwork that the client has confirmed and nobody has changed since goes there.
    """
    from mailmerge.deeds import bench
    from mailmerge.deeds.status import waits_for

    done = bench.release(order, items or (), without_yes)
    typer.echo(f"released: {counted(len(done.released), 'item')} into {done.tray}")
    for record in done.released:
        typer.echo(f"  {bench.place_of(record)}  {record.entry.blank}, {record.entry.coat}")
    for record, why in done.refused:
        typer.echo(f"  refused: item {record.number}: {why}")
    if done.waiting:
        typer.echo("not released:")
        for record in done.waiting:
            typer.echo(f"  {record.number}, {shown(record.name)[1:-1]}: {waits_for(record)}")
    if done.released:
        typer.echo(
            f"the paper for the machine, with its cautions: mailmerge run-sheet {done.folder}"
        )
    raise typer.Exit(STOPPED if done.refused or done.waiting else READY)


@command(BENCH, "run-sheet gala", name="run-sheet")
def run_sheet(order: FolderArgument, paper: PaperOption = None) -> None:
    """Write the run sheet for the machine.

    It holds the cautions, the blanks to lay out, and a line for each cup.
    """
    from mailmerge.deeds import papers

    with watching("making items") as watch:
        done = papers.run_sheet(order, paper, watch)
    run = done.run
    typer.echo(f"run {run.mark}: {counted(len(run.cups), 'cup')} on {run.machine}")
    typer.echo(f"  {done.file} ({done.paper.in_words})")
    for pile in run.piles:
        typer.echo(
            f"  lay out {pile.cups + pile.spares} of {pile.blank}, {pile.coat}: {pile.cups} and "
            f"{counted(pile.spares, 'spare')}; {pile.settings_in_words}"
        )
    typer.echo(f"  spares for {run.spoilage.percent:.1f} % spoiled: {run.spoilage.source}")
    if run.plan:
        told = f" (defaults: {', '.join(done.defaults)})" if done.defaults else ""
        typer.echo(f"  begun now it is done on {papers.day_and_time(run.plan.done)}{told}")


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

    if bool(items) == everything:
        raise InputError("want item numbers, or --all for everything that is released")
    done = bench.engraved(order, items)
    say_not_logged(done.not_logged)
    typer.echo(f"engraved: {named(done.records)}")


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
    lost = counted(done.blanks_lost, "blank")
    typer.echo(f"spoiled: {named(done.records)}; {lost} lost in this order")
    if ready := [each for each in done.records if each.standing == "spoiled"]:
        typer.echo(f"in the next release: {named(ready)}: mailmerge release {done.folder}")
    for each in done.records:
        if each.standing != "spoiled":
            typer.echo(f"not in the next release: {named([each])}: {waits_for(each)}")


@command(BENCH, "forget gala", "forget gala --yes")
def forget(
    order: FolderArgument,
    yes: Annotated[bool, typer.Option("--yes", help="Do not ask.")] = False,
    leave_others: Annotated[
        bool, typer.Option("--leave-others", help="Go on though files of your own hold names.")
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
        typer.confirm(f"{done.words}\nGo on?", abort=True)
        done = forget_order(order, True, leave_others)
        assert not isinstance(done, Question)
    _say_forgot(done)
    raise typer.Exit(READY if done.is_clean else STOPPED)


def _say_forgot(done: Forgot) -> None:
    say_not_logged(done.not_logged)
    for trace in done.traces:
        typer.echo(f"still there: {trace.path}: {shown(trace.name)}")
    if done.outside:
        typer.echo(f"outside of the folder, and not touched: {done.outside}")
    for path in done.unread:
        typer.echo(f"not a file that this can look into, look yourself: {path}")
    if not done.traces:
        typer.echo(
            f"Forgotten. {counted(done.files, 'file')} of {done.folder} searched for "
            f"{counted(done.names, 'name')}: none is left"
            + (" in those that can be read." if done.unread else ".")
        )
