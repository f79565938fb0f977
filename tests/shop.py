"""A workshop for tests: an order in a folder, and everything that its maker does to it."""

from __future__ import annotations

import csv
import datetime as dt
import shutil
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path

from mailmerge.merge import Merged, update
from mailmerge.orders import open_order
from mailmerge.orders.answers import Taken, accept, confirm, take
from mailmerge.orders.incoming import Answers, Said
from mailmerge.orders.ledger import Ledger, open_ledger
from mailmerge.orders.matching import NO_CHOICES, Choices
from mailmerge.orders.packs import Packed, write_pack
from mailmerge.orders.release import Released, changing, engraved, release, spoiled
from mailmerge.orders.standing import Record
from mailmerge.workshop.run import Run, run_of
from mailmerge.workshop.shop import open_shop
from mailmerge.workshop.tally import read_log

MONDAY = dt.datetime(2026, 11, 30, 9, 0)

ORDER = """[order]
title = "Spring concert"
list = "list.csv"
layout = "layout.toml"
coat = "black"

[blank]
name = "Test cup"
circumference = "300 mm"
height = "100 mm"
band = {{ from = "20 mm", to = "80 mm" }}
handle = {{ width = "30 mm", clearance = "10 mm" }}
coat = [{{ name = "black", colour = "#101010" }}, {{ name = "plum", colour = "#401030" }}]

[machine]
name = "Test machine"
spot = "0.01 mm"
bed = {{ width = 1000, depth = 1000 }}
[machine.rotary]
drive = "chuck"
mouth = "away"
datum = "tick"
largest_diameter = 400
length = 1000
under_head = 1000
clearance = 100
"""

LAYOUT = """name = "Test layout"
face = "drinker"

[[line]]
text = "{{name}}"
font = "{font}"
letter_height = {{ max = "14 mm", min = "5 mm" }}
sizing = "set"
outliers = "own-size"

[[line]]
text = "{{role}}"
font = "{font}"
letter_height = {{ max = "6 mm", min = "3 mm" }}
"""

Row = dict[str, str]


class Shop:
    """An order in a folder, and its maker's calls."""

    def __init__(self, folder: Path, font: Path) -> None:
        self.folder = folder
        folder.mkdir(parents=True, exist_ok=True)
        (folder / "order.toml").write_text(ORDER.format(), encoding="utf-8")
        (folder / "layout.toml").write_text(LAYOUT.format(font=font), encoding="utf-8")

    @classmethod
    def at(cls, folder: Path) -> Shop:
        """Return a workshop whose order is there already."""
        shop = cls.__new__(cls)
        shop.folder = folder
        return shop

    @classmethod
    def copied(cls, order: Path, folder: Path) -> Shop:
        """Return a workshop with a copy of an order, files with their times."""
        return cls.at(Path(shutil.copytree(order, folder)))

    def list(self, rows: Iterable[Row]) -> None:
        """Write the client's list."""
        rows = list(rows)
        fields = list(dict.fromkeys(["Name", "Role", *(key for row in rows for key in row)]))
        with (self.folder / "list.csv").open("w", encoding="utf-8", newline="") as file:
            writer = csv.DictWriter(file, fields, restval="")
            writer.writeheader()
            writer.writerows(rows)

    @contextmanager
    def changing(self) -> Iterator[Ledger]:
        """Open the ledger for a change, as the commands do."""
        with open_ledger(self.folder) as ledger, changing(ledger):
            yield ledger

    def merge(self, choices: Choices = NO_CHOICES, jobs: int = 1) -> Merged:
        with open_ledger(self.folder, missing="make") as ledger:
            return update(open_order(self.folder), ledger, jobs, None, choices)

    def records(self) -> dict[int, Record]:
        with open_ledger(self.folder) as ledger:
            return {record.number: record for record in ledger.records()}

    def standing(self) -> dict[int, str]:
        return {number: str(record.standing) for number, record in self.records().items()}

    def pack(self, everything: bool = False) -> Packed | None:
        with self.changing() as ledger:
            return write_pack(ledger, everything)

    def answer(self, *said: Said, at: str = "") -> Taken:
        with self.changing() as ledger:
            return take(ledger, Answers("file", "the client", at, said))

    def yes(self, *numbers: int) -> Taken:
        records = self.records()
        return self.answer(*(Said(n, records[n].seal or "", "yes") for n in numbers))

    def wish(self, number: int, words: str = "", **texts: str) -> Taken:
        seal = self.records()[number].seal or ""
        return self.answer(Said(number, seal, "change", words, texts))

    def accept(self, *numbers: int, **texts: str) -> None:
        with self.changing() as ledger:
            accept(ledger, numbers or None, texts, "")
        self.merge()

    def confirm(self, *numbers: int) -> list[Record]:
        with self.changing() as ledger:
            return confirm(ledger, numbers, "phone, 5 Dec")

    def release(self, *numbers: int, reason: str = "") -> Released:
        with self.changing() as ledger:
            return release(ledger, numbers or None, reason)

    def engraved(self, *numbers: int) -> None:
        with self.changing() as ledger:
            engraved(ledger, numbers or None)

    def spoiled(self, *numbers: int) -> None:
        with self.changing() as ledger:
            spoiled(ledger, numbers)

    def run(self) -> Run:
        """Return what is released, as the run sheet tells it."""
        business = open_shop()
        with open_ledger(self.folder) as ledger:
            order = open_order(self.folder)
            return run_of(ledger, order, business, read_log(business, ledger), MONDAY)

    def to_engrave(self) -> dict[int, Path]:
        """Return the artwork in the folder to engrave from, by item."""
        return {
            int(path.name.split("_")[1].split("-")[0]): path
            for path in (self.folder / "to-engrave").glob("*.svg")
        }

    def files(self) -> dict[str, bytes]:
        """Return everything that was made, by name."""
        made = ("merged", "to-engrave", "proof-pack")
        return {
            str(path.relative_to(self.folder)): path.read_bytes()
            for path in sorted(self.folder.rglob("*"))
            if path.is_file() and path.relative_to(self.folder).parts[0] in made
        }


GUESTS = [
    {"Name": "Anna Berg", "Role": "Violin"},
    {"Name": "Bo Dahl", "Role": "Horn"},
    {"Name": "Carla Ek", "Role": "Viola"},
    {"Name": "Dag Falk", "Role": "Harp"},
    {"Name": "Eva Gran", "Role": "Flute"},
]
