"""The report of a merge: ``report.json`` for programs, ``findings.csv`` for a spreadsheet.

Both stream: an item is written as soon as it is made, and only counts are kept.
"""

from __future__ import annotations

import csv
import json
import re
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import asdict
from pathlib import Path
from typing import IO

from mailmerge.artwork import Settled
from mailmerge.artwork.layout import fields_of
from mailmerge.blanks import Blank, Coat
from mailmerge.checks import check_close_letters
from mailmerge.files import Stage, escaped
from mailmerge.findings import Causes, Finding, Severity
from mailmerge.guests import RowCount
from mailmerge.items import ARTWORK, MAKER, PROOFS, SCHEMA, Entry, Totals, artwork_folder
from mailmerge.items.record import FlatWall, GroupEntry, OrderEntry, RoundWall, SizeEntry
from mailmerge.orders import Design, Order
from mailmerge.voice import on_a_line

REPORT, FINDINGS = "report.json", "findings.csv"

_CAUSES_KEPT = (12, 100)
"""So many causes are kept to be told at once, and so many guests of each."""


def order_entry(
    order: Order, design: Design, rows: RowCount, found: tuple[Finding, ...]
) -> OrderEntry:
    """Return the ``order`` part of the report; ``design`` with its sizes settled."""
    return OrderEntry(
        title=design.title,
        list=order.guests.path.name,
        sheet=order.guests.sheet.name,
        columns=dict(order.guests.columns.titles),
        blank=design.called(design.blank),
        wall=wall_entry(design.blank),
        coat=design.coat.name,
        layout=design.layout.name,
        machine=design.machine.name,
        spot_mm=design.machine.spot,
        sizes=tuple(_size_entry(design, size) for size in design.sizes.settled),
        due=order.due.isoformat() if order.due else None,
        rows=rows,
        findings=found,
    )


def _size_entry(design: Design, size: Settled) -> SizeEntry:
    return SizeEntry(
        line=size.line,
        field=next(iter(fields_of(design.layout.line[size.line - 1].text)), None),
        role=size.role or None,
        letter_height_mm=round(size.letter_height, 2),
        members=size.members,
        outliers=size.outliers,
        kept=size.kept,
    )


def wall_entry(blank: Blank) -> RoundWall | FlatWall:
    """Return a blank's wall for the report."""
    if blank.is_flat:
        return FlatWall(width_mm=round(blank.page_width, 3), height_mm=round(blank.height, 3))
    return RoundWall(
        set_circumference_mm=round(blank.page_width, 3),
        mouth_circumference_mm=round(blank.circumference_at(blank.height), 3),
        base_circumference_mm=round(blank.circumference_at(0.0), 3),
        slant_mm=round(blank.height, 3),
        upright_mm=round(blank.upright_height, 3),
        tilt_deg=round(blank.tilt, 3),
    )


class Groups:
    """Counts the items of each blank and coat, in the order in which they come up."""

    def __init__(self, design: Design) -> None:
        self.design = design
        self._items: Counter[tuple[Blank, Coat]] = Counter()
        self._ready: Counter[tuple[Blank, Coat]] = Counter()

    def count(self, entry: Entry) -> None:
        """Add one item."""
        blank, coat, _ = self.design.cup_for(entry.texts)
        self._items[blank, coat] += 1
        self._ready[blank, coat] += entry.status == "ready"

    def entries(self) -> list[GroupEntry]:
        """Return them for the report."""
        return [
            GroupEntry(
                blank=self.design.called(blank),
                coat=coat.name,
                wall=wall_entry(blank),
                artwork=artwork_folder(self.design, blank, coat),
                items=count,
                ready=self._ready[blank, coat],
            )
            for (blank, coat), count in self._items.items()
        ]


_FILE_NAME = re.compile(
    rf'"((?:{ARTWORK}/(?:[a-z0-9-]+/)?\d{{3,}}-[a-z0-9-]+\.svg'
    rf'|(?:{PROOFS}|{MAKER})/\d{{3,}}-[a-z0-9-]+\.png))"'
)


def files_named_in(path: Path) -> set[str]:
    """Return the files that an earlier report of ours names; nothing else is ever taken away."""
    if not path.is_file():
        return set()
    with path.open(encoding="utf-8", errors="replace") as file:
        return {name for line in file for name in _FILE_NAME.findall(line)}


FINDINGS_HEADER = (
    "item", "row", "name", "severity", "code", "field", "message", "advice", "proof",
)  # fmt: skip


def _findings_row(entry: Entry | None, finding: Finding) -> list[str]:
    cells = [
        entry.item if entry else "",
        entry.row if entry else "",
        entry.name if entry else "",
        finding.severity,
        finding.code,
        finding.field or "",
        finding.message,
        finding.advice,
        entry.proof if entry else "",
    ]
    return [escaped(on_a_line(str(cell))) for cell in cells]


class ReportWriter:
    """Writes the two files of a report while the items come."""

    def __init__(self, report: IO[str], table: IO[str], design: Design, guests: int) -> None:
        self.totals = Totals(guests=guests)
        self.causes = Causes([Severity.STOP], _CAUSES_KEPT)
        self._report, self._rows = report, csv.writer(table)
        self._close: set[str] = set()
        self._groups = Groups(design)

    def begin(self, order: OrderEntry, found: tuple[Finding, ...]) -> None:
        """Write what comes before the items: the order, and findings about its list."""
        self._rows.writerow(FINDINGS_HEADER)
        for finding in found:
            self._add_of_list(finding)
        self._report.write(f'{{"schema": {SCHEMA}, "order": {order.to_json()},\n"items": [')

    def _add_of_list(self, finding: Finding) -> None:
        self.totals.count_finding(finding.severity)
        self.causes.add_of_list(finding)
        self._rows.writerow(_findings_row(None, finding))

    def add(self, entry: Entry) -> None:
        """Write one item."""
        self._report.write((",\n" if self.totals.items else "\n") + entry.to_json())
        for finding in entry.findings:
            self._rows.writerow(_findings_row(entry, finding))
            if entry.cup == 1:
                self.causes.add(finding, entry.item, entry.row, entry.name)
        self.totals.count(entry)
        self._groups.count(entry)
        self._close.update(place for line in entry.lines for place in line.close_letters)

    def end(self) -> None:
        """Write what comes after the items: what they say together, and how many there are."""
        found = tuple(check_close_letters(self._close))
        for finding in found:
            self._add_of_list(finding)
        together = json.dumps([asdict(each) for each in found], ensure_ascii=False)
        groups = ", ".join(group.to_json() for group in self._groups.entries())
        self._report.write(f'\n],\n"groups": [{groups}],\n"findings": {together},\n')
        self._report.write(f'"totals": {self.totals.to_json()}}}\n')


@contextmanager
def report_on(
    stage: Stage, order: Order, design: Design, found: tuple[Finding, ...], rows: RowCount
) -> Iterator[ReportWriter]:
    """Write the report of a merge onto its stage.

    Parameters
    ----------
    design
        The order's, with its sizes settled.
    found
        Findings about the list.
    rows
        What became of the list's rows.
    """
    with (
        stage.text_file(REPORT) as report,
        stage.text_file(FINDINGS, encoding="utf-8-sig") as table,
    ):
        writer = ReportWriter(report, table, design, rows.guests)
        writer.begin(order_entry(order, design, rows, found), found)
        yield writer
        writer.end()
