"""The engine: runs an order from its list to the files, one item at a time, on all cores.

Every item is made from plain data alone, so it does not matter which worker makes it or when. The
list streams: what is kept for an item is its file names, never its pictures.
"""

from __future__ import annotations

import csv
import json
import os
import re
from collections import deque
from collections.abc import Callable, Iterator
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from dataclasses import dataclass, replace
from itertools import islice
from pathlib import Path
from typing import IO, Any

from mailmerge.artwork import (
    Composition,
    compose,
    is_shared,
    own_heights,
    seal_of,
    settle,
    write_svg,
)
from mailmerge.artwork.layout import fields_of
from mailmerge.artwork.svg import named, title_of
from mailmerge.blanks import Blank, Coat, Face, angle_of
from mailmerge.checks import check_fonts, check_item, check_list, check_words, running_off
from mailmerge.findings import Finding, InputError, Severity
from mailmerge.guests import Guest, GuestList, Survey
from mailmerge.guests.names import slug
from mailmerge.machines import Loading, load_on
from mailmerge.orders import Design, Order
from mailmerge.proofs import (
    Facts,
    Load,
    Scene,
    View,
    draw_proof,
    maker_copy,
    place_in_words,
    steps_of,
)
from mailmerge.units import format_mm

ARTWORK, PROOFS, MAKER = "artwork", "proofs", "maker"
REPORT, FINDINGS = "report.json", "findings.csv"

JOURNAL = ".merge-journal"
"""Names of the files that a running merge is about to write; gone when it has ended well.

It lets the next merge take away what an interrupted one has left.
"""

_CHUNK = 8
"""Items that a worker takes at a time."""

_ALONE = 12
"""Fewer items than this are made without starting other processes."""

Entry = dict[str, Any]
"""One item of ``report.json``."""

Progress = Callable[[int, int], None]
"""Called with the number of items that are done and of all items."""


@dataclass(frozen=True, slots=True)
class Item:
    """One cup: a guest, and which of how many cups for the same guest it is."""

    number: int
    copy: int
    guest: Guest
    same_name: tuple[int, ...]
    digits: int
    """How many digits item numbers have in this order, at least."""

    @property
    def stem(self) -> str:
        """The item's file name without its ending: safe on every system, unique, readable."""
        return f"{self.number:0{self.digits}d}-{slug(self.guest.name)}"


@dataclass(frozen=True, slots=True)
class Made:
    """What an item came to; a stopped one has no artwork and no maker's copy."""

    entry: Entry
    artwork: bytes | None
    proof: bytes | None
    maker_copy: bytes | None


@dataclass
class Totals:
    """Counts over a whole order."""

    guests: int = 0
    items: int = 0
    ready: int = 0
    stopped: int = 0
    stops: int = 0
    warnings: int = 0
    notes: int = 0

    def count(self, entry: Entry) -> None:
        """Add one item."""
        self.items += 1
        if entry["status"] == "ready":
            self.ready += 1
        else:
            self.stopped += 1
        if entry["cup"] == 1:  # the findings of a guest's other cups are the same
            for finding in entry["findings"]:
                self.count_finding(finding["severity"])

    def count_finding(self, severity: str) -> None:
        """Add one finding."""
        match severity:
            case Severity.STOP:
                self.stops += 1
            case Severity.WARNING:
                self.warnings += 1
            case _:
                self.notes += 1


def items_of(guests: GuestList, survey: Survey) -> Iterator[Item]:
    """Pass over the items: every guest as many times as cups are wanted."""
    digits = max(3, len(str(survey.items)))
    number = 0
    for guest in guests.guests():
        same_name = survey.same_name(guest)
        for copy in range(1, guest.quantity + 1):
            number += 1
            yield Item(number, copy, guest, same_name, digits)


def make_item(design: Design, item: Item, picture: bool) -> Made:
    """Make one item: compose it, load it, check it, and write and draw it in memory.

    Parameters
    ----------
    picture
        Whether to draw the proof as well.
    """
    blank, coat, troubles = design.cup_for(item.guest.fields)
    guest = replace(item.guest, troubles=item.guest.troubles + troubles)
    composition = compose(design.layout, blank, guest, design.words, design.folder, design.sizes)
    span = composition.span()
    loading = load_on(blank, design.machine, design.datum, (span.left, span.right))
    cup = Cup(blank, coat, loading)
    findings = check_item(
        guest, composition, blank, design.machine, loading, design.engraved, item.same_name
    )
    stopped = any(finding.severity is Severity.STOP for finding in findings)
    artwork = write_svg(
        composition,
        blank,
        loading,
        title_of(item.number, guest.name),
        _description(design, cup, guest, composition),
        design.frame,
    )
    seal = None if stopped else seal_of(artwork)
    entry = _entry(design, cup, item, composition, findings, seal)
    if not picture:
        return Made(entry, None if stopped else artwork, None, None)
    scene = _scene(design, cup, guest, composition)
    proof = draw_proof(artwork, scene, _facts(design, cup, item, composition, findings, seal))
    if stopped:
        return Made(entry, None, proof.png(), None)
    return Made(entry, artwork, proof.png(), maker_copy(proof, scene))


@dataclass(frozen=True, slots=True)
class Cup:
    """A guest's blank in its coat, as it lies on the machine."""

    blank: Blank
    coat: Coat
    loading: Loading


def _artwork_folder(design: Design, blank: Blank, coat: Coat) -> str:
    """Return the folder for artwork of a blank in a coat: its own, where an order has several."""
    if not design.is_mixed:
        return ARTWORK
    return f"{ARTWORK}/{design.folders[blank, coat]}"


def _scene(design: Design, cup: Cup, guest: Guest, composition: Composition) -> Scene:
    words = _faces_in_words(design, cup, guest, composition)
    return Scene(
        cup.blank,
        cup.coat,
        tuple(
            View(face, words.capitalize())
            for face, words in zip(composition.faces, words, strict=True)
        ),
        cup.loading,
        design.machine.name,
        _around(composition),
        _ink(cup, composition),
        {
            name: tuple(piece.centre for piece in held.pieces if piece.around is None)
            for name, held in named(composition)
        },
    )


def _around(composition: Composition) -> tuple[Face, ...]:
    """Return what is free for the things that go around the cup, each of it once."""
    faces = [line.face for line in composition.lines if line.goes_around]
    faces += [drawn.face for drawn in composition.ornaments if drawn.goes_around]
    return tuple(dict.fromkeys(faces))


def _ink(cup: Cup, composition: Composition) -> tuple[float, float, float, float]:
    """Return left, top, width and height of the ink on the machine's page, in mm."""
    return cup.loading.page.box_of(*composition.span())


def _load(design: Design, cup: Cup, composition: Composition) -> Load:
    return Load(
        cup.blank, cup.coat, cup.loading, design.machine.name, composition.faces,
        _around(composition),
    )  # fmt: skip


def _entry(
    design: Design,
    cup: Cup,
    item: Item,
    composition: Composition,
    findings: tuple[Finding, ...],
    seal: str | None,
) -> Entry:
    blank = cup.blank
    folder = _artwork_folder(design, blank, cup.coat)
    return {
        "item": item.number,
        "row": item.guest.row,
        "cup": item.copy,
        "guest": {
            **item.guest.fields, "hand": str(item.guest.hand), "quantity": item.guest.quantity,
        },
        "blank": blank.name,
        "coat": cup.coat.name,
        "status": "ready" if seal else "stopped",
        "artwork": f"{folder}/{item.stem}.svg" if seal else None,
        "proof": f"{PROOFS}/{item.stem}.png",
        "maker_copy": f"{MAKER}/{item.stem}.png" if seal else None,
        "seal": seal,
        "face": _face_entry(composition.face),
        "faces": [_face_entry(face) for face in composition.faces],
        "loading": _loading_entry(design, cup, composition),
        "lines": [
            {
                "field": line.field,
                "text": line.text,
                "rows": list(line.rows),
                "font": line.font,
                "letter_height_mm": round(line.letter_height, 2),
                "in_set": line.in_set,
                "face_deg": None if line.on_ring else line.face.angle,
                "repeats": len(line.pieces),
                "outermost_looks": round(line.looks, 3),
                "local_radius_mm": None
                if blank.is_flat
                else round(blank.radius_at((line.box.low + line.box.high) / 2), 3),
                "stroke_mm": round(line.stroke.width, 3) if line.stroke else None,
                "gap_mm": round(line.gap.width, 3) if line.gap else None,
                "box_mm": {
                    "s": round(line.box.left, 3),
                    "z": round(line.box.low, 3),
                    "width": round(line.box.width, 3),
                    "height": round(line.box.height, 3),
                },
            }
            for line in composition.lines
        ],
        "findings": [_finding_entry(finding) for finding in findings],
    }  # fmt: skip


def _face_entry(face: Face) -> Entry:
    return {
        "angle_deg": face.angle,
        "centre_mm": round(face.centre, 3),
        "usable_width_mm": round(face.usable_width, 3),
    }


def _loading_entry(design: Design, cup: Cup, composition: Composition) -> Entry:
    """Return how the item is loaded: what the load picture shows, for programs."""
    loading, page = cup.loading, cup.loading.page
    left, top, width, height = page.box
    ink = _ink(cup, composition)
    turn = loading.turn_to(composition.face.centre)
    return {
        "drive": loading.drive,
        "mouth": page.mouth if loading.drive else None,
        "backwards": page.backwards,
        "datum": loading.datum,
        "mark": loading.mark,
        "under_head_at_start_deg": loading.start,
        "tick_mm": None if loading.tick_at is None else round(loading.tick_at, 3),
        "set_circumference_mm": None if cup.blank.is_flat else round(page.width, 3),
        "tilt_deg": round(loading.tilt, 3),
        "turn_to_face_deg": round(turn, 3) if loading.drive else 0.0,
        "top_turns": loading.words_for(turn) if loading.drive else None,
        "page_mm": {
            "left": round(left, 3), "top": round(top, 3),
            "width": round(width, 3), "height": round(height, 3),
        },
        "artwork_mm": dict(
            zip(("left", "top", "width", "height"), (round(edge, 3) for edge in ink), strict=True)
        ),
        "steps": steps_of(_load(design, cup, composition)),
    }  # fmt: skip


def _finding_entry(finding: Finding) -> Entry:
    return {
        "code": finding.code,
        "severity": str(finding.severity),
        "field": finding.field,
        "message": finding.message,
        "advice": finding.advice,
    }


def _face_words(blank: Blank, face: Face, asked_for: str) -> str:
    """Return in words where a face is, by the word that it was asked for if there is one."""
    if blank.is_flat:
        return "the front"
    words = {
        "drinker": "facing the drinker",
        "onlookers": "facing the onlookers",
        "opposite": f"opposite the {blank.zero}",
    }
    return words.get(asked_for.casefold()) or f"{face.angle:g}° from the {blank.zero}"


def _faces_in_words(design: Design, cup: Cup, guest: Guest, composition: Composition) -> list[str]:
    """Return the faces in words, by the words of the layout and the list."""
    asked_for = [composition.side, *(line.face for line in design.layout.line if line.face)]
    named = {angle_of(word, guest.hand): word for word in reversed(asked_for)}
    return [_face_words(cup.blank, face, named.get(face.angle, "")) for face in composition.faces]


def _description(design: Design, cup: Cup, guest: Guest, composition: Composition) -> str:
    """Return what an operator would want to know, for the artwork's ``<desc>``."""
    blank, page = cup.blank, cup.loading.page
    heights = "; ".join(
        f"{line.text}: letter height {format_mm(line.letter_height, 2)}"
        for line in composition.lines
    )
    faces = " and ".join(_faces_in_words(design, cup, guest, composition)).capitalize()
    steps = " ".join(steps_of(_load(design, cup, composition)))
    held = "" if blank.is_flat else f", {guest.hand} hand"
    return (
        f"{design.title}. {blank.name}, coat {cup.coat.name}. {faces}{held}. {heights}. Page "
        f"{format_mm(page.box[2], 2)} by {format_mm(page.box[3], 2)}, its origin where the job "
        f"starts. Machine: {design.machine.name}. {steps} {place_in_words(_ink(cup, composition))}"
    )


def _facts(
    design: Design, cup: Cup, item: Item, composition: Composition, findings: tuple[Finding, ...],
    seal: str | None,
) -> Facts:  # fmt: skip
    guest = item.guest
    used = [line.field for line in composition.lines if line.field and "." not in line.field]
    shown_fields = dict.fromkeys(["name", *used])
    titles = {"first": "First name", "last": "Last name"}
    faces = " and ".join(_faces_in_words(design, cup, guest, composition))
    details = [] if cup.blank.is_flat else [("Side", faces.capitalize())]
    if cup.blank.handle.width:
        details.append(("Held by", f"{guest.hand} hand"))
    details.append(("Coat", cup.coat.name))
    if not any(finding.severity is Severity.STOP for finding in findings):
        heights = ", ".join(
            f"{(line.field or 'line').removeprefix('order.')} "
            + format_mm(line.letter_height).removesuffix(" mm")
            for line in composition.lines
        )
        details.append(("Letter height", f"{heights} mm"))
    details.append(("Blank", cup.blank.name))
    if cup.blank.taper:
        details.append(("Wall", _radii(cup.blank, composition)))
    if guest.quantity > 1:
        details.append(("Cup", f"{item.copy} of {guest.quantity}"))
    if seal:
        details.append(("Seal", seal))
    return Facts(
        title=design.title,
        item=f"{item.number:0{item.digits}d}",
        texts=tuple((titles.get(f, f.capitalize()), guest.fields.get(f, "")) for f in shown_fields),
        details=tuple(details),
        stops=tuple((f.message, f.advice) for f in findings if f.severity is Severity.STOP),
        # A line in capitals lacks a capital; its owner typed it small.
        doubtful=frozenset(
            form
            for line in composition.lines
            for char in line.missing
            for form in (char, char.lower(), char.upper())
        ),
        running_off=frozenset(running_off(composition)),
    )


def _radii(blank: Blank, composition: Composition) -> str:
    """Return in words how the wall leans, and its radius at each line."""
    radii = ", ".join(
        f"{(line.field or 'line').removeprefix('order.')} "
        + format_mm(blank.radius_at((line.box.low + line.box.high) / 2)).removesuffix(" mm")
        for line in composition.lines
    )
    return f"leans {abs(blank.tilt):.1f}°; radius at {radii} mm" if radii else ""


def surveyed(order: Order) -> Survey:
    """Return the survey of the order's list.

    Raises
    ------
    InputError
        The list holds no guests.
    """
    survey = order.guests.survey()
    if survey.guests == 0:
        guests = order.guests
        raise InputError(
            f'{guests.path}: sheet "{guests.sheet.name}" holds no guests below its header in row '
            f"{guests.columns.header_row}, want at least one"
        )
    return survey


def _found_in_list(order: Order, survey: Survey) -> tuple[Finding, ...]:
    design = order.design
    return (
        *check_list(order.guests, survey),
        *check_fonts(design.layout, design.folder),
        *check_words(design.layout, design.words),
    )


def settled(order: Order) -> Design:
    """Return the order's design with the sizes that its sets settle on, in one pass of the list."""
    design = order.design
    if not is_shared(design.layout):
        return design
    own = (
        height
        for guest in order.guests.guests()
        for height in own_heights(
            design.layout, design.cup_for(guest.fields)[0], guest, design.words, design.folder
        )
    )
    return replace(design, sizes=settle(design.layout, own, design.sizes))


@dataclass(frozen=True)
class Checked:
    """An order that was gone through without writing anything; ``entries`` streams."""

    order: Entry
    list_findings: tuple[Finding, ...]
    items: int
    entries: Iterator[Entry]


def check(order: Order) -> Checked:
    """Go through an order as :func:`merge` does, but write nothing and draw nothing.

    Raises
    ------
    InputError
        The list holds no guests.
    """
    survey = surveyed(order)
    design = settled(order)
    found = _found_in_list(order, survey)
    entries = (
        make_item(design, item, picture=False).entry for item in items_of(order.guests, survey)
    )
    return Checked(order_entry(order, design, found), found, survey.items, entries)


def order_entry(order: Order, design: Design, found: tuple[Finding, ...]) -> Entry:
    """Return the ``order`` part of the report; ``design`` with its sizes settled."""
    return {
        "title": design.title,
        "list": str(order.guests.path.name),
        "sheet": order.guests.sheet.name,
        "columns": dict(order.guests.columns.titles),
        "blank": design.blank.name,
        "wall": wall_entry(design.blank),
        "coat": design.coat.name,
        "layout": design.layout.name,
        "machine": design.machine.name,
        "spot_mm": design.machine.spot,
        "sizes": [
            {
                "line": size.line,
                "field": next(iter(fields_of(design.layout.line[size.line - 1].text)), None),
                "role": size.role or None,
                "letter_height_mm": round(size.letter_height, 2),
                "members": size.members,
                "outliers": size.outliers,
                "kept": size.kept,
            }
            for size in design.sizes.settled
        ],
        "due": order.due.isoformat() if order.due else None,
        "findings": [_finding_entry(finding) for finding in found],
    }


def wall_entry(blank: Blank) -> Entry:
    """Return a blank's wall for the report; heights are along the wall but for ``upright``."""
    if blank.is_flat:
        return {"width_mm": round(blank.page_width, 3), "height_mm": round(blank.height, 3)}
    return {
        "set_circumference_mm": round(blank.page_width, 3),
        "mouth_circumference_mm": round(blank.circumference_at(blank.height), 3),
        "base_circumference_mm": round(blank.circumference_at(0.0), 3),
        "slant_mm": round(blank.height, 3),
        "upright_mm": round(blank.upright_height, 3),
        "tilt_deg": round(blank.tilt, 3),
    }


class _Groups:
    """Counts the items of each blank and coat, in the order in which they come up."""

    def __init__(self, design: Design) -> None:
        self.design = design
        self.found: dict[tuple[Blank, Coat], Entry] = {}

    def count(self, entry: Entry) -> None:
        """Add one item."""
        blank, coat, _ = self.design.cup_for(entry["guest"])
        group = self.found.setdefault(
            (blank, coat),
            {
                "blank": blank.name,
                "coat": coat.name,
                "wall": wall_entry(blank),
                "artwork": _artwork_folder(self.design, blank, coat),
                "items": 0,
                "ready": 0,
            },
        )
        group["items"] += 1
        group["ready"] += entry["status"] == "ready"


def merge(
    order: Order, out: Path, jobs: int, progress: Progress | None = None
) -> tuple[Totals, Survey]:
    """Make every item of an order and write artwork, proofs, report and findings into ``out``.

    Every file is written beside its place and renamed into it. Files of an earlier merge that
    this one did not make again are taken away: an old name must not lie among the new ones.

    Parameters
    ----------
    jobs
        Processes to use, 1 or more.
    progress
        Called after every item.

    Raises
    ------
    InputError
        The list holds no guests, or ``out`` cannot be written.
    """
    survey = surveyed(order)
    design = settled(order)
    found = _found_in_list(order, survey)
    totals = Totals(guests=survey.guests)
    groups = _Groups(design)
    written: set[str] = set()
    with _writing(out):
        for folder in (ARTWORK, PROOFS, MAKER):
            (out / folder).mkdir(parents=True, exist_ok=True)
        journal = out / JOURNAL
        earlier = _files_named_in(out / REPORT) | _files_named_in(journal)
        with (
            _whole_file(out / REPORT) as report,
            _whole_file(out / FINDINGS, encoding="utf-8-sig") as table,
        ):
            rows = csv.writer(table)
            rows.writerow(FINDINGS_HEADER)
            for finding in found:
                totals.count_finding(finding.severity)
                rows.writerow(_findings_row(None, _finding_entry(finding)))
            report.write('{"order": ' + _json(order_entry(order, design, found)) + ',\n"items": [')
            items = _noted(design, items_of(order.guests, survey), journal)
            for entry in _made(design, items, out, jobs, survey):
                report.write((",\n" if totals.items else "\n") + _json(entry))
                for finding_entry in entry["findings"]:
                    rows.writerow(_findings_row(entry, finding_entry))
                totals.count(entry)
                groups.count(entry)
                written.update(
                    filter(None, (entry["artwork"], entry["proof"], entry["maker_copy"]))
                )
                if progress:
                    progress(totals.items, survey.items)
            report.write('\n],\n"groups": ' + _json(list(groups.found.values())))
            report.write(',\n"totals": ' + _json(totals.__dict__) + "}\n")
        for name in earlier - written:
            if (out / name).is_file():
                (out / name).unlink()
                _forget_folder((out / name).parent)
        journal.unlink(missing_ok=True)
    return totals, survey


def _made(
    design: Design, items: Iterator[Item], out: Path, jobs: int, survey: Survey
) -> Iterator[Entry]:
    """Make and write items, in the list's order, whoever makes them."""
    if jobs == 1 or survey.items < _ALONE:
        for item in items:
            yield _write_item(design, item, out)
        return
    try:
        with ProcessPoolExecutor(jobs, initializer=_start_worker, initargs=(design, out)) as pool:
            waiting: deque[Future[list[Entry]]] = deque()
            try:
                while True:
                    # Few chunks ahead of the slowest: the list streams, it is not gathered.
                    while len(waiting) < 3 * jobs and (chunk := list(islice(items, _CHUNK))):
                        waiting.append(pool.submit(_write_chunk, chunk))
                    if not waiting:
                        return
                    yield from waiting.popleft().result()
            finally:
                for future in waiting:
                    future.cancel()
    except BrokenProcessPool:
        raise InputError(
            "a worker process was ended from outside (is the memory full?); try --jobs 1"
        ) from None


_worker: tuple[Design, Path] | None = None


def _start_worker(design: Design, out: Path) -> None:
    global _worker
    _worker = design, out


def _write_chunk(chunk: list[Item]) -> list[Entry]:
    assert _worker is not None
    design, out = _worker
    return [_write_item(design, item, out) for item in chunk]


def _write_item(design: Design, item: Item, out: Path) -> Entry:
    made = make_item(design, item, picture=True)
    with _writing(out):
        for name, data in (
            (made.entry["artwork"], made.artwork), (made.entry["proof"], made.proof),
            (made.entry["maker_copy"], made.maker_copy),
        ):  # fmt: skip
            if data is not None:
                (out / name).parent.mkdir(exist_ok=True)
                _write_whole(out / name, data)
    return made.entry


@contextmanager
def _writing(out: Path) -> Iterator[None]:
    """Turn what the system says about the output folder into our error."""
    try:
        yield
    except OSError as error:
        where = error.filename or out
        raise InputError(f"{where}: cannot be written: {error.strerror or error}") from None


def write_file(path: Path, data: bytes) -> None:
    """Write one file whole or not at all.

    Raises
    ------
    InputError
        It cannot be written.
    """
    if path.is_dir():
        raise InputError(f"{path}: is a folder, want the name of a file")
    with _writing(path.parent):
        path.parent.mkdir(parents=True, exist_ok=True)
        _write_whole(path, data)


def _write_whole(path: Path, data: bytes) -> None:
    part = path.with_name(f".{path.name}.part")
    try:
        part.write_bytes(data)
        part.replace(path)
    except BaseException:
        _forget(part)
        raise


@contextmanager
def _whole_file(path: Path, encoding: str = "utf-8") -> Iterator[IO[str]]:
    """Open a text file that takes its place only once it has been written to its end."""
    part = path.with_name(f".{path.name}.part")
    try:
        with part.open("w", encoding=encoding, newline="") as file:
            yield file
        part.replace(path)
    except BaseException:
        _forget(part)
        raise


def _forget_folder(folder: Path) -> None:
    """Take away the folder of a group that has no artwork any more."""
    if folder.name not in (ARTWORK, PROOFS, MAKER) and not any(folder.iterdir()):
        folder.rmdir()


def _forget(part: Path) -> None:
    try:
        part.unlink(missing_ok=True)
    except OSError:
        return  # the error that led here is the one to tell


def _json(value: object) -> str:
    return json.dumps(value, ensure_ascii=False)


_FILE_NAME = re.compile(
    rf'"((?:{ARTWORK}/(?:[a-z0-9-]+/)?\d{{3,}}-[a-z0-9-]+\.svg'
    rf'|(?:{PROOFS}|{MAKER})/\d{{3,}}-[a-z0-9-]+\.png))"'
)


def _files_named_in(path: Path) -> set[str]:
    """Return the files that an earlier report or journal of ours names.

    Nothing else is ever taken away.
    """
    if not path.is_file():
        return set()
    with path.open(encoding="utf-8", errors="replace") as file:
        return {name for line in file for name in _FILE_NAME.findall(line)}


def _noted(design: Design, items: Iterator[Item], journal: Path) -> Iterator[Item]:
    """Pass items on, each noted in the journal before anybody can write its files."""
    with journal.open("a", encoding="utf-8") as file:
        for item in items:
            blank, coat, _ = design.cup_for(item.guest.fields)
            folder = _artwork_folder(design, blank, coat)
            file.write(f'"{folder}/{item.stem}.svg" "{PROOFS}/{item.stem}.png" ')
            file.write(f'"{MAKER}/{item.stem}.png"\n')
            file.flush()
            yield item


FINDINGS_HEADER = (
    "item", "row", "name", "severity", "code", "field", "message", "advice", "proof",
)  # fmt: skip


def _findings_row(entry: Entry | None, finding: Entry) -> list[str]:
    cells = [
        entry["item"] if entry else "",
        entry["row"] if entry else "",
        entry["guest"]["name"] if entry else "",
        finding["severity"],
        finding["code"],
        finding["field"] or "",
        finding["message"],
        finding["advice"],
        entry["proof"] if entry else "",
    ]
    return [escaped(str(cell)) for cell in cells]


def escaped(text: str) -> str:
    """Return text that no spreadsheet takes for a formula (OWASP, CSV Injection)."""
    return f"'{text}" if text[:1] in ("=", "+", "-", "@", "\t", "\r") else text


def cores() -> int:
    """Return how many cores this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return max(1, len(os.sched_getaffinity(0)))
    return os.cpu_count() or 1
