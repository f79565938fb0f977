"""The record of an item, and of the report that it stands in: what programs may rely on.

``report.json`` and the ledger hold it as JSON. Its layout has a number, :data:`SCHEMA`. Whoever
changes what a key means, or takes one away, raises it, and adds a migration to the ledger that
brings the records of older orders along.
"""

from __future__ import annotations

import json
from typing import Literal, NamedTuple

from pydantic import BaseModel, ConfigDict, Field

from mailmerge.findings import Finding, Severity
from mailmerge.guests import RowCount
from mailmerge.machines.model import Datum, Drive, Mouth

SCHEMA = 1
"""The version of everything in this module."""


class _Part(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")

    def to_json(self) -> str:
        """Return it as JSON on one line."""
        return json.dumps(self.model_dump(), ensure_ascii=False)


class Kind(NamedTuple):
    """A blank in a coat: cups of one kind lie in one pile."""

    blank: str
    """What the blank is called, for people."""
    coat: str
    identity: str = ""
    """Of the blank (see :attr:`mailmerge.blanks.Blank.identity`); ``""`` where nobody knows."""

    @property
    def in_words(self) -> str:
        """The blank and its coat on one line."""
        return f"{self.blank}, {self.coat}"


class FaceEntry(_Part):
    """A face that holds lines."""

    angle_deg: float
    """Of its middle, from the blank's zero."""
    centre_mm: float
    usable_width_mm: float


class BoxEntry(_Part):
    """Where the ink of a line lies on the wall."""

    s: float
    z: float
    width: float
    height: float


class LineEntry(_Part):
    """A line as it is engraved."""

    field: str | None
    """What its text comes from first; None for a text of the layout's own."""
    fields: tuple[str, ...] = ()
    """All that its text comes from, in order; empty in records that are older than this key."""
    text: str
    """As it is engraved: in its capitals, in its initials."""
    rows: tuple[str, ...]
    font: str
    letter_height_mm: float
    in_set: bool
    """Whether its letter height is that of the whole set."""
    face_deg: float | None
    """None for a line that goes around."""
    repeats: int
    outermost_looks: float
    """How wide its outermost letters look, as a share of their width."""
    local_radius_mm: float | None
    """Of the wall behind it; None for flat goods."""
    stroke_mm: float | None
    """Its narrowest stroke, where it was measured."""
    gap_mm: float | None
    close_letters: tuple[str, ...] = ()
    """Two letters that may grow together, or one whose gap may close; read as they are."""
    box_mm: BoxEntry


class PageBox(_Part):
    """A rectangle on the machine's page, in the artwork's coordinates."""

    left: float
    top: float
    width: float
    height: float


class PagePoint(_Part):
    """A place on the machine's page, in the artwork's coordinates."""

    x: float
    y: float


class LoadingEntry(_Part):
    """How an item lies on its machine."""

    drive: Drive | None
    """None for flat goods."""
    mouth: Mouth | None
    """Where the cup's mouth points; None for flat goods."""
    backwards: bool
    datum: Datum | None
    """Where the mark points at the start; None for flat goods."""
    mark: str
    """What is looked for on the cup."""
    under_head_at_start_deg: float
    tick_mm: float | None
    set_circumference_mm: float | None
    """What the rotary is set to; None for flat goods."""
    tilt_deg: float
    turn_to_face_deg: float
    top_turns: str | None
    page_mm: PageBox
    start_mm: PagePoint = PagePoint(x=0.0, y=0.0)
    """Where the head starts. Earlier artwork had its origin there."""
    artwork_mm: PageBox
    """Bounds of everything in the artwork file."""
    steps: tuple[str, ...]
    """How to load it, in words."""


class Entry(_Part):
    """An item: what it holds, where, on what, and what was found about it."""

    item: int
    row: int
    """Of its guest in the list."""
    cup: int
    """Which of its guest's cups it is, from 1 on."""
    guest: dict[str, str | int]
    """The list's texts by field, with ``hand`` and ``quantity``."""
    blank: str
    """What its blank is called, told apart from another one of that name in the order."""
    blank_identity: str = ""
    """A digest of what the blank's file says; ``""`` in records that are older than this key."""
    coat: str
    status: Literal["ready", "stopped"]
    artwork: str | None
    """Its file; None while it is stopped."""
    proof: str
    maker_copy: str | None
    seal: str | None
    side: str
    """Its faces, in words."""
    held_by: Literal["right", "left"] | None
    """None for a cup without a handle."""
    face: FaceEntry
    faces: tuple[FaceEntry, ...]
    loading: LoadingEntry
    lines: tuple[LineEntry, ...]
    findings: tuple[Finding, ...]

    @property
    def name(self) -> str:
        """The guest's name."""
        return str(self.guest["name"])

    @property
    def texts(self) -> dict[str, str]:
        """The guest's fields, as texts."""
        return {field: str(text) for field, text in self.guest.items()}

    @property
    def kind(self) -> Kind:
        """Its blank and its coat."""
        return Kind(self.blank, self.coat, self.blank_identity)

    @property
    def stop(self) -> Finding | None:
        """The first finding that stops it."""
        return next((each for each in self.findings if each.severity is Severity.STOP), None)


class RoundWall(_Part):
    """The wall of a cup; heights are along it but for ``upright``."""

    set_circumference_mm: float
    mouth_circumference_mm: float
    base_circumference_mm: float
    slant_mm: float
    upright_mm: float
    tilt_deg: float


class FlatWall(_Part):
    """The surface of flat goods."""

    width_mm: float
    height_mm: float


class SizeEntry(_Part):
    """A letter height that the lines of a set share."""

    line: int
    field: str | None
    role: str | None
    letter_height_mm: float
    members: int
    outliers: int
    kept: bool


class OrderEntry(_Part):
    """The order that items belong to."""

    title: str
    list: str
    sheet: str
    columns: dict[str, str]
    """The header of each field's column."""
    blank: str
    wall: RoundWall | FlatWall
    coat: str
    layout: str
    machine: str
    spot_mm: float
    sizes: tuple[SizeEntry, ...]
    due: str | None
    rows: RowCount
    """What became of the list's rows."""
    findings: tuple[Finding, ...]
    """About the list as a whole."""


class GroupEntry(_Part):
    """The items of one blank and coat."""

    blank: str
    coat: str
    wall: RoundWall | FlatWall
    artwork: str
    """The folder of their artwork."""
    items: int
    ready: int


class Totals(BaseModel):
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
        if entry.status == "ready":
            self.ready += 1
        else:
            self.stopped += 1
        if entry.cup == 1:  # the findings of a guest's other cups are the same
            for finding in entry.findings:
                self.count_finding(finding.severity)

    def count_finding(self, severity: Severity) -> None:
        """Add one finding."""
        match severity:
            case Severity.STOP:
                self.stops += 1
            case Severity.WARNING:
                self.warnings += 1
            case Severity.NOTE:
                self.notes += 1

    def to_json(self) -> str:
        """Return them as JSON on one line."""
        return json.dumps(self.model_dump(), ensure_ascii=False)


class Report(_Part):
    """The whole of ``report.json``."""

    version: Literal[1] = Field(alias="schema")
    order: OrderEntry
    items: tuple[Entry, ...]
    groups: tuple[GroupEntry, ...]
    findings: tuple[Finding, ...] = ()
    """About all items together."""
    totals: Totals
