"""What an order remembers, laid over its list: numbers, corrections, and the sizes of cups made."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from mailmerge.artwork import Layout, Own, Settled, Sizes
from mailmerge.checks import check_name
from mailmerge.guests import Guest, Survey, fold, quantity_of
from mailmerge.ledger.forgotten import refuse_forgotten
from mailmerge.ledger.ledger import Ledger, LedgerChange
from mailmerge.ledger.matching import match
from mailmerge.ledger.standing import Addition, Correction, Record, SetApart, Standing
from mailmerge.ledger.who import Choices, Found, Matching, Question, Unsure
from mailmerge.orders.order import Design, Order


@dataclass(frozen=True)
class Recall:
    """An order with its memory laid over it."""

    order: Order
    """Its list speaks the corrected texts, and its design keeps the sizes of cups that exist."""
    matching: Matching
    numbers: Mapping[int, tuple[int, ...]]
    """The items of each row, one for each cup."""
    gone: tuple[int, ...]
    """Items that are in the list no more."""
    may_be_empty: bool
    """Whether it was said that guests who are not in the list are gone, all of them if need be, or
    whether all are gone already."""
    digits: int | None
    """Of an item's number in its file names; None where nothing was merged yet."""
    held: Mapping[int, tuple[Correction, ...]]
    """Corrections that hold, by row."""
    set_aside: tuple[tuple[int, Correction], ...]
    """Corrections, with their rows, that the list has overtaken: it says something else now."""
    added: Mapping[int, int]
    """Additions by the rows in which they stand, behind the list's last one."""
    past: tuple[int, ...]
    """Additions whom the list holds by now, or who are said to be gone."""
    own: Mapping[int, tuple[Own, ...]]
    """How single cups are set differently, by item."""


def found_in(order: Order) -> tuple[list[Found], dict[int, int]]:
    """Return the rows of an order's list as they are in the file, and their quantities."""
    found: list[Found] = []
    quantities: dict[int, int] = {}
    for guest in replace(order.guests, corrections={}).guests():
        found.append(Found(guest.row, dict(guest.fields)))
        quantities[guest.row] = guest.quantity
    return found, quantities


def _with_what_is_amiss(order: Order, questions: Sequence[Question]) -> list[Question]:
    """Return the questions with what stops the rows in question: Total, a date, a formula.

    They are asked all the same: the row may hold the guest again once its cell is mended.
    """
    rows = {found.row for question in questions for found in question.rows}
    survey = order.guests.survey()
    amiss = {
        guest.row: stops[0].message
        for guest in replace(order.guests, corrections={}).guests()
        if guest.row in rows
        and (stops := check_name(guest, survey.remarks(guest)))
    }  # fmt: skip
    return [
        replace(
            question,
            rows=tuple(replace(f, amiss=amiss.get(f.row, "")) for f in question.rows),
        )
        for question in questions
    ]


def _with_additions(
    order: Order, ledger: Ledger, choices: Choices
) -> tuple[Order, list[Addition], tuple[int, ...]]:
    """Return an order whose list speaks the additions, those that it speaks, and those that end.

    One gives way where the list has more rows with that name than it had: it is the same guest.
    """
    additions = ledger.additions()
    if not additions:
        return order, [], ()
    known = ledger.guests()
    own = {each.guest for each in additions}
    gone = {each.guest for each in known if choices.gone & {*each.items}}
    spare = Counter(fold(found.fields["name"]) for found in found_in(order)[0])
    spare.subtract(fold(k.fields["name"]) for k in known if not k.gone and k.guest not in own)
    speak: list[Addition] = []
    past: list[int] = []
    for each in additions:
        name = fold(_name_of(each.fields))
        if each.guest in gone:
            past.append(each.number)
        elif spare[name] > 0:
            spare[name] -= 1
            past.append(each.number)
        else:
            speak.append(each)
    guests = replace(order.guests, additions=tuple(each.fields for each in speak))
    return replace(order, guests=guests), speak, tuple(past)


def _name_of(fields: Mapping[str, str]) -> str:
    return fields.get("name") or f"{fields.get('first', '')} {fields.get('last', '')}"


def recall(order: Order, ledger: Ledger, choices: Choices) -> Recall:
    """Lay what the ledger holds over an order; nothing is put on record.

    Raises
    ------
    Unsure
        It is not sure which row is whose.
    InputError
        The choices do not fit the list.
    """
    refuse_forgotten(ledger)
    order, additions, past = _with_additions(order, ledger, choices)
    found, quantities = found_in(order)
    behind = found[len(found) - len(additions) :]
    known = ledger.guests()
    try:
        matching = match(known, found, choices)
    except Unsure as unsure:
        raise Unsure(_with_what_is_amiss(order, unsure.questions)) from None
    held, set_aside = _holding(matching, ledger.corrections())
    corrections = {row: {each.field: each.text for each in of} for row, of in held.items()}
    quantities |= _quantities_in(corrections)
    numbers: dict[int, tuple[int, ...]] = {}
    rank = {r.number: _rank(r) for r in ledger.records(after_release=True)}
    items = {
        each.found.row: sorted(each.known.items, key=lambda n: (rank.get(n, 2), n))
        if len(each.known.items) > quantities[each.found.row]
        else list(each.known.items)
        for each in matching.stayed
    }
    following = ledger.next_number()
    for row in sorted(quantities):
        had = items.get(row, [])[: quantities[row]]
        more = quantities[row] - len(had)
        numbers[row] = (*had, *range(following, following + more))
        following += more
    kept = {number for of_row in numbers.values() for number in of_row}
    guests = replace(order.guests, corrections=corrections)
    design = order.design
    exist = (Standing.RELEASED, Standing.ENGRAVED)
    if any(each.standing in exist for each in ledger.records(after_release=True)):
        design = replace(design, sizes=_with_sizes_of(design, ledger))
    digits = ledger.fact("digits")
    return Recall(
        replace(order, guests=guests, design=design),
        matching,
        numbers,
        tuple(number for number in ledger.active() if number not in kept),
        choices.unsure_are_gone or (ledger.next_number() > 1 and not ledger.active()),
        int(digits) if digits else None,
        held,
        set_aside,
        {row.row: each.number for row, each in zip(behind, additions, strict=True)},
        past,
        _own_by_item(design.layout, ledger),
    )


def _own_by_item(layout: Layout, ledger: Ledger) -> dict[int, tuple[Own, ...]]:
    """Return how cups are set differently, in the lines that the layout has now.

    A layout may have got another line since, above one that is meant; or lost it.
    """
    found: dict[int, tuple[Own, ...]] = {}
    for number, told in ledger.set_apart().items():
        by_line = {own.line: own for each in told if (own := _placed(each, layout))}
        if differing := tuple(own for own in by_line.values() if own.says_anything):
            found[number] = differing
    return found


def _placed(apart: SetApart, layout: Layout) -> Own | None:
    places = [at for at, line in enumerate(layout.line, start=1) if line.text == apart.text]
    if not places:
        return None
    return replace(apart.own, line=apart.own.line if apart.own.line in places else places[0])


def _rank(record: Record) -> int:
    """Return what to keep first where fewer cups are wanted: those that exist."""
    return {Standing.ENGRAVED: 0, Standing.RELEASED: 1}.get(record.standing, 2)


def _holding(
    matching: Matching, corrections: Mapping[int, tuple[Correction, ...]]
) -> tuple[dict[int, tuple[Correction, ...]], tuple[tuple[int, Correction], ...]]:
    """Return the corrections that hold by row, and those that the list has overtaken.

    A correction holds as long as the list says what it said then, or what it was corrected to. A
    list that says a third thing is newer than the correction. One that says what the list says
    changes nothing: it was taken back, or the list has followed it.
    """
    holding: dict[int, tuple[Correction, ...]] = {}
    overtaken: list[tuple[int, Correction]] = []
    for each in matching.stayed:
        latest = {c.field: c for c in corrections.get(each.known.guest, ())}
        for field, correction in latest.items():
            own = each.found.fields.get(field, "")
            if own == correction.text or correction.is_taken_back:
                continue
            if own == correction.was:
                holding[each.found.row] = (*holding.get(each.found.row, ()), correction)
            else:
                overtaken.append((each.found.row, correction))
    return holding, tuple(overtaken)


def _quantities_in(corrections: Mapping[int, Mapping[str, str]]) -> dict[int, int]:
    """Return how many cups are wanted by row, where that was corrected."""
    wanted = {
        row: quantity_of(texts["quantity"])
        for row, texts in corrections.items()
        if "quantity" in texts
    }
    return {row: quantity for row, quantity in wanted.items() if quantity is not None}


def _with_sizes_of(design: Design, ledger: Ledger) -> Sizes:
    """Return a design's sizes with those of cups that exist; what ``order.toml`` says holds."""
    found = {(size.line, size.role): size for size in design.sizes.settled}
    lines = list(enumerate(design.layout.line, start=1))
    for number, text, role, height in ledger.letter_sizes():
        # A layout may have got another line since, above this one.
        places = [
            at for at, line in lines
            if line.text == text and (line.sizing == "role" or (line.sizing == "set" and not role))
        ]  # fmt: skip
        if places:
            at = number if number in places else places[0]
            found.setdefault((at, role), Settled(at, role, height, kept=True))
    return Sizes(tuple(found.values()))


def sizes_on_record(design: Design) -> list[tuple[int, str, str, float]]:
    """Return line, its text, role and letter height (mm) of what a design has settled on."""
    return [
        (size.line, design.layout.line[size.line - 1].text, size.role, size.letter_height)
        for size in design.sizes.settled
    ]


def put_matching(change: LedgerChange, recalled: Recall) -> dict[int, int]:
    """Put on record who is in which row now; return the guest of each row."""
    guests = {
        each.found.row: change.put_guest(each.known.guest, each.found.row, each.found.fields)
        for each in recalled.matching.stayed
    }
    for found in recalled.matching.new:
        guests[found.row] = change.put_guest(None, found.row, found.fields)
    for row, number in recalled.added.items():
        change.put_added(number, guests[row])
    for number in recalled.past:
        change.end_addition(number)
    return guests


def engraved_texts(guest: Guest, fields: frozenset[str]) -> dict[str, str]:
    """Return the guest's texts that the layout engraves, by field."""
    return {field: guest.fields.get(field, "") for field in sorted(fields) if field in guest.fields}


def digits_for(survey: Survey) -> int:
    """Return how many digits the item numbers of an order get in file names."""
    return max(3, len(str(survey.items)))
