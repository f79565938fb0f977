"""Commands for a single cup: the ways out of a stop, and setting it differently from its set."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from mailmerge.cli import words
from mailmerge.cli.app import MAKE, command
from mailmerge.cli.changes import (
    GoneOption,
    JobsOption,
    SameOption,
    choices_of,
    say_if_changed,
    settled,
)
from mailmerge.cli.common import (
    READY,
    STOPPED,
    FolderArgument,
    JsonOption,
    draw_into,
    named,
    print_table,
    texts_of,
)
from mailmerge.findings import InputError
from mailmerge.units import parse_length

if TYPE_CHECKING:
    from mailmerge.deeds.apart import Apart
    from mailmerge.deeds.trying import Outcome

ItemArgument = Annotated[int, typer.Argument(help="The number of the cup.")]
ByOption = Annotated[str, typer.Option(help="Who said so. It goes on record.")]


@command(MAKE, "ways gala 14")
def ways(order: FolderArgument, item: ItemArgument, as_json: JsonOption = False) -> None:
    """List what can be done about a cup that is stopped or not set as its set.

    Each way is tried in memory, as the next merge would make it. Nothing is written.
    """
    from mailmerge.deeds import trying

    tried = [(way, trying.preview(order, item, way.change)) for way in trying.ways_out(order, item)]
    rows = [_row(way.words, outcome) for way, outcome in tried if not outcome.is_stopped]
    if not rows and not as_json:
        typer.echo(words.no_way_out(item))
        return
    print_table(rows, as_json, words.take_a_way(order, item))


@command(
    MAKE, 'try gala 14 "name=Zoë Lind"', 'try gala 14 "name=Zoë Lind" --draw tried', name="try"
)
def try_words(
    order: FolderArgument,
    item: ItemArgument,
    texts: Annotated[
        list[str], typer.Argument(metavar="FIELD=TEXT", help="The other text, and where it goes.")
    ],
    draw: Annotated[
        Path | None, typer.Option("--draw", help="Folder to write a picture of the cup into.")
    ] = None,
    as_json: JsonOption = False,
) -> None:
    """Show what other words would make of a cup.

    It is made in memory, as the next merge would make it. Nothing goes on record.
    """
    from mailmerge.deeds import trying

    outcome = trying.preview(order, item, trying.Change(texts_of(texts)))
    if draw:
        draw_into(draw, {f"cup-{item}": outcome.picture})
    row = _row(words.STOPPED if outcome.is_stopped else words.IT_FITS, outcome)
    told = [each.message for each in outcome.entry.findings if each.severity != "note"]
    print_table([row], as_json, "\n".join(told))


def _row(way: str, outcome: Outcome) -> dict[str, Any]:
    lines = outcome.entry.lines
    return {
        "way": way,
        "text": " | ".join(" / ".join(line.rows) for line in lines),
        "letter_height_mm": ", ".join(f"{line.letter_height_mm:g}" for line in lines),
        "font": ", ".join(dict.fromkeys(line.font for line in lines)),
    }


@command(
    MAKE,
    "set-differently gala 7 --height 12mm",
    'set-differently gala 7 --break "Mathew / Klein" --by "Ina Holm"',
    'set-differently gala 7 --font "EB Garamond"',
    name="set-differently",
)
def set_differently(
    order: FolderArgument,
    item: ItemArgument,
    height: Annotated[
        str, typer.Option(help="The letter height, within what the layout allows.")
    ] = "",
    rows: Annotated[
        str, typer.Option("--break", help='The text on its lines, such as "Anna / Berg".')
    ] = "",
    font: Annotated[str, typer.Option(help="A family, or the path of a font file.")] = "",
    line: Annotated[int, typer.Option(help="Which line of the layout.")] = 1,
    by: ByOption = "",
    jobs: JobsOption = 0,
    same: SameOption = None,
    gone: GoneOption = None,
) -> None:
    """Set one cup differently from its set, and make it again.

    The other cups stay as they are. What you name takes the place of all that was the cup's own in
    that line. A yes of the client's does not count for the cup as it is then.
    """
    from mailmerge.deeds import apart

    broken = tuple(row.strip() for row in rows.split("/") if row.strip())
    own = apart.Own(line, _length(height), broken, font)
    done = settled(
        lambda choices, watch: apart.set_differently(
            order, item, own, by, None, choices, jobs, watch
        ),
        choices_of(same, gone),
    )
    _say(done)


@command(MAKE, "set-as-others gala 7", name="set-as-others")
def set_as_others(
    order: FolderArgument,
    item: ItemArgument,
    by: ByOption = "",
    jobs: JobsOption = 0,
    same: SameOption = None,
    gone: GoneOption = None,
) -> None:
    """Set a cup as the others of its set again, and make it again."""
    from mailmerge.deeds import apart

    done = settled(
        lambda choices, watch: apart.set_as_the_others(order, item, by, None, choices, jobs, watch),
        choices_of(same, gone),
    )
    _say(done)


def _length(text: str) -> float | None:
    try:
        return parse_length(text, "mm") if text else None
    except ValueError as error:
        raise InputError(words.option_is_no_length("--height", error)) from None


def _say(done: Apart) -> None:
    whom = named([done.record])
    lines = [(line.rows, line.letter_height_mm, line.font) for line in done.record.entry.lines]
    typer.echo(words.set_now(whom, lines, is_own=bool(done.own)))
    say_if_changed(done.changes)
    raise typer.Exit(STOPPED if done.record.entry.stop else READY)
