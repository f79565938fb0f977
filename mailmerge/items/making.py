"""One item: composed, loaded, checked, written and drawn in memory.

Every item is made from plain data alone, so it does not matter which worker makes it or when, and
twice gives the same bytes.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from mailmerge.artwork import Composition, Own, Sheet, compose, seal_of, sheet_of, write_svg
from mailmerge.artwork.compose import Placed
from mailmerge.artwork.svg import named, title_of
from mailmerge.blanks import Blank, Coat, Face, angle_of
from mailmerge.checks import check_item, close_letters, running_off
from mailmerge.findings import Finding, Severity
from mailmerge.guests import Guest, Remark
from mailmerge.guests.columns import label_of
from mailmerge.guests.names import slug
from mailmerge.items import words
from mailmerge.items.record import (
    BoxEntry,
    Entry,
    FaceEntry,
    LineEntry,
    LoadingEntry,
    PageBox,
    PagePoint,
)
from mailmerge.machines import Loading, load_on
from mailmerge.orders import Design
from mailmerge.proofs import (
    Facts,
    Load,
    Scene,
    View,
    draw_proof,
    draw_sketch,
    maker_copy,
    seen_when_loaded,
    steps_of,
)
from mailmerge.proofs.png import png

ARTWORK, PROOFS, MAKER = "artwork", "proofs", "maker"
"""Folders of an order's files."""


@dataclass(frozen=True, slots=True)
class Item:
    """One cup: a guest, and which of how many cups for the same guest it is."""

    number: int
    copy: int
    guest: Guest
    remarks: tuple[Remark, ...]
    """What the other rows of the list say about the guest."""
    digits: int
    """How many digits item numbers have in this order, at least."""
    own: tuple[Own, ...] = ()
    """How this one cup is set, where that differs from its set."""

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


def make_item(design: Design, item: Item, picture: bool) -> Made:
    """Make one item: compose it, load it, check it, and write and draw it in memory.

    Parameters
    ----------
    picture
        Whether to draw the proof as well.
    """
    work = _worked(design, item)
    artwork = None if work.seal is None else work.artwork
    if not picture:
        return Made(work.entry, artwork, None, None)
    scene = _scene(design, work.cup, work.guest, work.composition, work.sheet)
    facts = _facts(design, work.cup, item, work.composition, work.entry.findings, work.seal)
    drawn = draw_proof(work.artwork, scene, facts)
    strip = drawn.strip()
    proof = png([strip], drawn.palette.colours)
    return Made(work.entry, artwork, proof, None if artwork is None else maker_copy(strip, scene))


@dataclass(frozen=True, slots=True)
class Sketch:
    """What an item would come to."""

    entry: Entry
    cup: bytes
    """The part of its proof that shows the cup, as a PNG; what is stopped is shown as well."""


def sketch_item(design: Design, item: Item) -> Sketch:
    """Make an item as :func:`make_item` does, to be looked at and thrown away."""
    work = _worked(design, item)
    scene = _scene(design, work.cup, work.guest, work.composition, work.sheet)
    off = frozenset(running_off(work.composition, work.cup.blank))
    return Sketch(work.entry, draw_sketch(work.artwork, scene, off).png())


@dataclass(frozen=True, slots=True)
class _Work:
    """An item that is made but for its pictures."""

    guest: Guest
    cup: Cup
    composition: Composition
    sheet: Sheet
    artwork: bytes
    """That of a stopped item too, as it would be."""
    seal: str | None
    """None for a stopped one."""
    entry: Entry


def _worked(design: Design, item: Item) -> _Work:
    guest, cup, composition = _composed(design, item)
    blank, loading = cup.blank, cup.loading
    findings = check_item(
        guest, composition, blank, design.machine, loading, design.engraved, item.remarks
    )
    stopped = any(finding.severity is Severity.STOP for finding in findings)
    sheet = sheet_of(composition, blank, loading, design.frame)
    artwork = write_svg(
        sheet,
        title_of(item.number, guest.name),
        _description(design, cup, guest, composition, sheet),
    )
    seal = None if stopped else seal_of(artwork)
    entry = _entry(design, cup, item, composition, sheet, findings, seal)
    return _Work(guest, cup, composition, sheet, artwork, seal, entry)


def _composed(design: Design, item: Item) -> tuple[Guest, Cup, Composition]:
    """Return an item's guest with all troubles, the cup on its machine, and its lines set."""
    blank, coat, troubles = design.cup_for(item.guest.fields)
    layout, unclear = design.layout_for(item.guest.fields)
    guest = replace(item.guest, troubles=item.guest.troubles + troubles + unclear)
    composition = compose(layout, blank, guest, design.words, design.folder, design.sizes, item.own)
    span = composition.span()
    loading = load_on(blank, design.machine, design.datum, (span.left, span.right))
    return guest, Cup(blank, coat, loading), composition


def composition_of(design: Design, item: Item) -> Composition:
    """Return how an item's lines are set."""
    return _composed(design, item)[2]


def scene_of(design: Design, item: Item) -> Scene:
    """Return what an item's pictures look at besides its artwork."""
    guest, cup, composition = _composed(design, item)
    sheet = sheet_of(composition, cup.blank, cup.loading, design.frame)
    return _scene(design, cup, guest, composition, sheet)


@dataclass(frozen=True, slots=True)
class Cup:
    """A guest's blank in its coat, as it lies on the machine."""

    blank: Blank
    coat: Coat
    loading: Loading


def artwork_folder(design: Design, blank: Blank, coat: Coat) -> str:
    """Return the folder for artwork of a blank in a coat: its own, where an order has several."""
    if not design.is_mixed:
        return ARTWORK
    return f"{ARTWORK}/{design.folders[blank, coat]}"


def _scene(design: Design, cup: Cup, guest: Guest, composition: Composition, sheet: Sheet) -> Scene:
    faces = _faces_in_words(design, cup, guest, composition)
    return Scene(
        cup.blank,
        cup.coat,
        tuple(
            View(face, where.capitalize())
            for face, where in zip(composition.faces, faces, strict=True)
        ),
        cup.loading,
        design.machine.name,
        _around(composition),
        sheet.box,
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
    sheet: Sheet,
    findings: tuple[Finding, ...],
    seal: str | None,
) -> Entry:
    guest, folder = item.guest, artwork_folder(design, cup.blank, cup.coat)
    return Entry(
        item=item.number,
        row=guest.row,
        cup=item.copy,
        guest={**guest.fields, "hand": str(guest.hand), "quantity": guest.quantity},
        blank=design.called(cup.blank),
        blank_identity=cup.blank.identity,
        coat=cup.coat.name,
        status="ready" if seal else "stopped",
        artwork=f"{folder}/{item.stem}.svg" if seal else None,
        proof=f"{PROOFS}/{item.stem}.png",
        maker_copy=f"{MAKER}/{item.stem}.png" if seal else None,
        seal=seal,
        side=words.listed(_faces_in_words(design, cup, guest, composition)),
        held_by=guest.hand.value if cup.blank.handles else None,
        face=_face_entry(composition.face),
        faces=tuple(map(_face_entry, composition.faces)),
        loading=_loading_entry(design, cup, composition, sheet),
        lines=tuple(_line_entry(design, cup.blank, line) for line in composition.lines),
        findings=findings,
    )


def _line_entry(design: Design, blank: Blank, line: Placed) -> LineEntry:
    box = line.box
    gaps = [gap.width for gap in (line.gap, line.between) if gap]
    return LineEntry(
        field=line.field,
        fields=line.fields,
        text=line.text,
        rows=tuple(line.rows),
        font=line.font,
        letter_height_mm=round(line.letter_height, 2),
        in_set=line.in_set,
        face_deg=None if line.on_ring else line.face.angle,
        repeats=len(line.pieces),
        outermost_looks=round(line.looks, 3),
        local_radius_mm=None
        if blank.is_flat
        else round(blank.radius_at((box.low + box.high) / 2), 3),
        stroke_mm=round(line.stroke.width, 3) if line.stroke else None,
        gap_mm=round(min(gaps), 3) if gaps else None,
        close_letters=close_letters(line, design.machine),
        box_mm=BoxEntry(
            s=round(box.left, 3),
            z=round(box.low, 3),
            width=round(box.width, 3),
            height=round(box.height, 3),
        ),
    )


def _face_entry(face: Face) -> FaceEntry:
    return FaceEntry(
        angle_deg=face.angle,
        centre_mm=round(face.centre, 3),
        usable_width_mm=round(face.usable_width, 3),
    )


def _page_box(box: tuple[float, float, float, float]) -> PageBox:
    left, top, width, height = (round(edge, 3) for edge in box)
    return PageBox(left=left, top=top, width=width, height=height)


def _loading_entry(
    design: Design, cup: Cup, composition: Composition, sheet: Sheet
) -> LoadingEntry:
    """Return how the item is loaded: what the load picture shows, for programs."""
    loading, page = cup.loading, cup.loading.page
    turn = loading.turn_to(composition.face.centre)
    return LoadingEntry(
        drive=loading.drive,
        mouth=page.mouth if loading.drive else None,
        backwards=page.backwards,
        datum=loading.datum,
        mark=loading.mark,
        under_head_at_start_deg=loading.start,
        tick_mm=None if loading.tick_at is None else round(loading.tick_at, 3),
        set_circumference_mm=None if cup.blank.is_flat else round(page.width, 3),
        tilt_deg=round(loading.tilt, 3),
        turn_to_face_deg=round(turn, 3) if loading.drive else 0.0,
        top_turns=loading.words_for(turn) if loading.drive else None,
        page_mm=_page_box((0.0, 0.0, *page.size)),
        start_mm=PagePoint(x=round(page.start[0], 3), y=round(page.start[1], 3)),
        artwork_mm=_page_box(sheet.box),
        steps=tuple(steps_of(_load(design, cup, composition))),
    )


def _face_words(blank: Blank, face: Face, asked_for: str) -> str:
    """Return in words where a face is, by the word that it was asked for if there is one."""
    if blank.is_flat:
        return words.THE_FRONT
    named = {
        "drinker": words.FACING_DRINKER,
        "onlookers": words.FACING_ONLOOKERS,
        "opposite": words.opposite(blank.zero),
    }
    return named.get(asked_for.casefold()) or words.degrees_from(blank.zero, face.angle)


def _faces_in_words(design: Design, cup: Cup, guest: Guest, composition: Composition) -> list[str]:
    """Return the faces in words, by the words of the layout and the list."""
    asked_for = [composition.side, *(line.face for line in design.layout.line if line.face)]
    named = {angle_of(word, guest.hand): word for word in reversed(asked_for)}
    return [_face_words(cup.blank, face, named.get(face.angle, "")) for face in composition.faces]


def _description(
    design: Design, cup: Cup, guest: Guest, composition: Composition, sheet: Sheet
) -> str:
    """Return what an operator would want to know, for the artwork's ``<desc>``."""
    blank, page = cup.blank, cup.loading.page
    where = words.listed(_faces_in_words(design, cup, guest, composition)).capitalize()
    if not blank.is_flat:
        where = f"{where}, {words.hand(guest.hand)}"
    steps = steps_of(_load(design, cup, composition))
    return words.description(
        design.title,
        design.called(blank),
        cup.coat.name,
        where,
        [(line.text, line.letter_height) for line in composition.lines],
        page.size,
        design.machine.name,
        " ".join([*steps, *seen_when_loaded(page, sheet.box)]),
    )


def _facts(
    design: Design, cup: Cup, item: Item, composition: Composition, findings: tuple[Finding, ...],
    seal: str | None,
) -> Facts:  # fmt: skip
    guest = item.guest
    used = [line.field for line in composition.lines if line.field and "." not in line.field]
    shown_fields = dict.fromkeys(["name", *used])
    faces = words.listed(_faces_in_words(design, cup, guest, composition))
    details = [] if cup.blank.is_flat else [(words.SIDE, faces.capitalize())]
    if cup.blank.handles:
        details.append((words.HELD_BY, words.hand(guest.hand)))
    details.append((words.COAT, cup.coat.name))
    if not any(finding.severity is Severity.STOP for finding in findings):
        heights = words.letter_heights((_name_of(x), x.letter_height) for x in composition.lines)
        details.append((words.LETTER_HEIGHT, heights))
    details.append((words.BLANK, design.called(cup.blank)))
    if cup.blank.taper:
        details.append((words.WALL, _radii(cup.blank, composition)))
    if guest.quantity > 1:
        details.append((words.CUP, words.cup_of(item.copy, guest.quantity)))
    if seal:
        details.append((words.SEAL, seal))
    return Facts(
        title=design.title,
        item=f"{item.number:0{item.digits}d}",
        texts=tuple((label_of(f), guest.fields.get(f, "")) for f in shown_fields),
        details=tuple(details),
        stops=tuple((f.message, f.advice) for f in findings if f.severity is Severity.STOP),
        # A line in capitals lacks a capital; its owner typed it small.
        doubtful=frozenset(
            form
            for line in composition.lines
            for char in line.missing
            for form in (char, char.lower(), char.upper())
        ),
        running_off=frozenset(running_off(composition, cup.blank)),
    )


def _radii(blank: Blank, composition: Composition) -> str:
    """Return in words how the wall leans, and its radius at each line."""
    radii = [
        (_name_of(line), blank.radius_at((line.box.low + line.box.high) / 2))
        for line in composition.lines
    ]
    return words.lean(blank.tilt, radii) if radii else ""


def _name_of(line: Placed) -> str:
    return (line.field or words.LINE).removeprefix("order.")
