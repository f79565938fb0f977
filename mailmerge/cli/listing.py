"""Commands about the client's list: texts in the place of its own, and taking them back."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from mailmerge.cli import words
from mailmerge.cli.app import MAKE, command
from mailmerge.cli.changes import (
    GoneOption,
    JobsOption,
    SameOption,
    choices_of,
    say_changes,
    say_if_changed,
    settled,
)
from mailmerge.cli.common import FolderArgument, texts_of
from mailmerge.findings import InputError

if TYPE_CHECKING:
    from mailmerge.deeds.listing import Corrected

_Item = Annotated[int, typer.Argument(metavar="ITEM", help="The number of the item.")]


@command(MAKE, 'correct gala 7 "name=Zoë Lind" --by "phone, 3 Dec"')
def correct(
    order: FolderArgument,
    item: _Item,
    texts: Annotated[
        list[str], typer.Argument(metavar="FIELD=TEXT", help="The new text, and where it goes.")
    ],
    by: Annotated[str, typer.Option(help="Who says so. It goes on record.")],
    jobs: JobsOption = 0,
    same: SameOption = None,
    gone: GoneOption = None,
) -> None:
    """Put another text in the place of the list's.

    The client's file stays as it is. The cup is made again.
    """
    from mailmerge.deeds import listing

    wanted = listing.Wanted(item, texts_of(texts), {})
    done = settled(
        lambda choices, watch: listing.correct(order, [wanted], by, choices, jobs, watch),
        choices_of(same, gone),
    )
    _say(done)


@command(
    MAKE,
    'split gala 7 --by "phone, 3 Dec"',
    'split gala 7 "Ann Berg" "Bo Dahl" --by "phone, 3 Dec"',
)
def split(
    order: FolderArgument,
    item: _Item,
    names: Annotated[
        list[str] | None,
        typer.Argument(metavar="[NAME NAME]", help="Both names, where the row does not tell them."),
    ] = None,
    by: Annotated[str, typer.Option(help="Who says so. It goes on record.")] = "",
    jobs: JobsOption = 0,
    same: SameOption = None,
    gone: GoneOption = None,
) -> None:
    """Give each of two people in one row a cup.

    The client's file stays as it is. To go back, take back the name.
    """
    from mailmerge.deeds import listing

    if names and len(names) != 2:
        raise InputError(words.two_names_wanted(len(names)))
    two = (names[0], names[1]) if names else None
    done = settled(
        lambda choices, watch: listing.split(order, item, two, by, None, choices, jobs, watch),
        choices_of(same, gone),
    )
    _say(done)


@command(MAKE, "take-back gala 7 name --by Ina", name="take-back")
def take_back(
    order: FolderArgument,
    item: _Item,
    field: Annotated[str, typer.Argument(metavar="FIELD", help="Whose text was corrected.")],
    by: Annotated[str, typer.Option(help="Who says so. It goes on record.")],
    jobs: JobsOption = 0,
    same: SameOption = None,
    gone: GoneOption = None,
) -> None:
    """Let the list's own text hold again.

    It takes back what you have corrected, or what a client has asked for. The cup is made again.
    """
    from mailmerge.deeds import listing

    done = settled(
        lambda choices, watch: listing.take_back(order, item, field, by, choices, jobs, watch),
        choices_of(same, gone),
    )
    _say(done)


@command(MAKE, 'meant gala "The Photographer"', 'meant gala "The Photographer" --no-longer')
def meant(
    order: FolderArgument,
    text: Annotated[str, typer.Argument(metavar="TEXT", help="A whole cell of the list.")],
    no_longer: Annotated[bool, typer.Option("--no-longer", help="Take that back.")] = False,
) -> None:
    """Say that a text of the list is meant just so.

    It is not doubted any more, from the next merge on.
    """
    from mailmerge.deeds import listing

    file = (listing.mean_no_longer if no_longer else listing.mean_so)(order, text)
    typer.echo(words.meant(text, no_longer, file))


_NewerArgument = Annotated[
    Path, typer.Argument(metavar="LIST", help="The newer version of the client's list.")
]


@command(MAKE, "compare-list gala newer.xlsx", name="compare-list")
def compare_list(
    order: FolderArgument,
    list_file: _NewerArgument,
    same: SameOption = None,
    gone: GoneOption = None,
) -> None:
    """Show guest by guest what a newer list would change.

    Nothing is changed.
    """
    from mailmerge.deeds import newer

    found = settled(
        lambda choices, _: newer.compare_list(order, list_file, choices), choices_of(same, gone)
    )
    for each in found.changed:
        for text in each.texts:
            was, now = ("".join(part.text for part in parts) for parts in (text.was, text.now))
            typer.echo(words.changed_guest(each.row, each.name, text.field, was, now))
    for new in found.new:
        typer.echo(words.new_guest(new.row, new.texts))
    for left in found.gone:
        typer.echo(words.gone_guest(left.items, left.name))
    for row, correction in found.set_aside:
        typer.echo(words.correction_overtaken(row, correction.text, correction.was))
    typer.echo(words.compared(len(found.new), len(found.changed), len(found.gone), found.as_before))


@command(MAKE, "take-list gala newer.xlsx", name="take-list")
def take_list(
    order: FolderArgument,
    list_file: _NewerArgument,
    jobs: JobsOption = 0,
    same: SameOption = None,
    gone: GoneOption = None,
) -> None:
    """Take a newer list in the place of the order's, and merge.

    The former list is kept in lists-before, with its day. To go back, take that one.
    """
    from mailmerge.deeds import newer

    done = settled(
        lambda choices, watch: newer.take_list(order, list_file, choices, "", jobs, watch),
        choices_of(same, gone),
    )
    typer.echo(words.list_taken(list_file))
    if done.changes is not None:
        say_changes(done.changes)


def _say(done: Corrected) -> None:
    for items, texts in done.texts.items():
        for field, text in texts.items():
            typer.echo(words.new_text(items, field, text))
    say_if_changed(done.changes)
