"""A workshop for tests: an order in a folder, and everything that its maker does to it."""

from __future__ import annotations

import csv
import datetime as dt
import shutil
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, TypeVar

from mailmerge.answers.incoming import Answers, Said
from mailmerge.answers.packs import Packed
from mailmerge.answers.taking import Taken, take
from mailmerge.deeds import bench, client, making, papers, settings, timing
from mailmerge.deeds.bench import Became, Released
from mailmerge.deeds.client import Accept
from mailmerge.deeds.making import Merge
from mailmerge.deeds.papers import Quoted
from mailmerge.deeds.questions import NO_CHOICES, Choices, Question
from mailmerge.deeds.settings import Kept
from mailmerge.deeds.timing import Timed
from mailmerge.findings import InputError
from mailmerge.ledger.ledger import LedgerChange, open_ledger
from mailmerge.ledger.standing import Record
from mailmerge.ledger.tray import changing
from mailmerge.orders import open_order
from mailmerge.proofs.paper_size import PaperSize
from mailmerge.workshop.papers.run import Run, run_of
from mailmerge.workshop.shop.shop import open_shop
from mailmerge.workshop.timing.tally import read_log

Result = TypeVar("Result")

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
    def changing(self) -> Iterator[LedgerChange]:
        """Open the ledger for a change, as the commands do."""
        with open_ledger(self.folder) as ledger, changing(ledger) as change:
            yield change

    def merge(self, choices: Choices = NO_CHOICES, jobs: int = 1) -> Merge:
        return done(making.merge(self.folder, choices=choices, jobs=jobs))

    def records(self) -> dict[int, Record]:
        with open_ledger(self.folder) as ledger:
            return {record.number: record for record in ledger.records()}

    def standing(self) -> dict[int, str]:
        return {number: str(record.standing) for number, record in self.records().items()}

    def pack(self, everything: bool = False) -> Packed | None:
        return done(client.proof(self.folder, everything, jobs=1)).packed

    def answer(
        self,
        *said: Said,
        at: str = "",
        by: str = "the client",
        pack: str = "",
        page: str = "",
        saving: int = 0,
        way: str = "file",
    ) -> Taken:
        """Take answers; they are to the newest pack, where nothing else is said.

        Where it does not show what was seen, a pack that does is put on record, without its files.
        """
        with self.changing() as change:
            pack = pack or self._pack_with(change, said)
            return take(change, Answers(way, by, at, said, pack, page, saving))

    @staticmethod
    def _pack_with(change: LedgerChange, said: Iterable[Said]) -> str:
        pack, number = change.newest_pack()
        shown = change.shown_in(pack)
        if all(shown.get(each.item) == each.seal for each in said):
            return pack
        everything = [record for record in change.records() if record.seal]
        change.put_pack(f"PACK-{number + 1:04d}", number + 1, everything, b"")
        return f"PACK-{number + 1:04d}"

    def yes(self, *numbers: int) -> Taken:
        records = self.records()
        return self.answer(*(Said(n, records[n].seal or "", "yes") for n in numbers))

    def wish(self, number: int, words: str = "", **texts: str) -> Taken:
        seal = self.records()[number].seal or ""
        return self.answer(Said(number, seal, "change", words, texts))

    def accept(self, *numbers: int, **texts: str) -> None:
        done(client.accept(self.folder, Accept(numbers or None, texts), jobs=1))

    def confirm(self, *numbers: int) -> tuple[int, ...]:
        return client.confirm(self.folder, list(map(str, numbers)), "phone, 5 Dec").unseen

    def decide(self, *numbers: int) -> tuple[Record, ...]:
        return client.decide(self.folder, list(map(str, numbers)), "Ina Holm", "as agreed")

    def release(self, *numbers: int, reason: str = "") -> Released:
        return bench.release(self.folder, list(map(str, numbers)), reason or None)

    def engraved(self, *numbers: int) -> Became:
        return bench.engraved(self.folder, list(map(str, numbers)) or None)

    def spoiled(self, *numbers: int) -> Became:
        return bench.spoiled(self.folder, list(map(str, numbers)))

    def time(self, begin: dt.datetime = MONDAY) -> Timed:
        return timing.time(self.folder, begin)

    def quote(self, *quantities: int, size: PaperSize | None = None) -> Quoted:
        return papers.quote(self.folder, quantities, size)

    def run(self) -> Run:
        """Return what is released, as the run sheet tells it, without writing one."""
        shop = open_shop()
        with open_ledger(self.folder) as ledger:
            return run_of(ledger, open_order(self.folder), shop, read_log(shop, ledger), MONDAY)

    def to_engrave(self) -> dict[int, Path]:
        """Return the artwork in the folder to engrave from, by item."""
        return {
            int(path.name.split("_")[1].split("-")[0]): path
            for path in (self.folder / "to-engrave").glob("*.svg")
        }

    def files(self) -> dict[str, bytes]:
        """Return everything that was made, by name, but not what each change stamps anew."""
        made = ("merged", "to-engrave", "proof-pack")
        return {
            str(path.relative_to(self.folder)): path.read_bytes()
            for path in sorted(self.folder.rglob("*"))
            if path.is_file()
            and path.relative_to(self.folder).parts[0] in made
            and path.name != "contents.json"
        }


def done(result: Result | Question[Any]) -> Result:
    """Return what a deed came to; where it asks instead, nobody is there to answer."""
    if isinstance(result, Question):
        raise InputError(result.refusal)
    return result


def keep_recipe(
    machine: Path | str = "diode-rotary",
    coat: str = "navy",
    blank: str | None = None,
    outcome: str = "even",
    day: dt.date | None = None,
    **typed: object,
) -> Kept:
    """Keep a recipe by hand, for any blank; settings that are not typed are something usual."""
    values = {"power": 30, "speed": 90, "passes": 1, "interval": 0.2} | typed
    told = {key: str(value) for key, value in values.items()}
    return settings.keep_recipe(told, coat, blank, outcome, str(machine), day=day)


GUESTS = [
    {"Name": "Anna Berg", "Role": "Violin"},
    {"Name": "Bo Dahl", "Role": "Horn"},
    {"Name": "Carla Ek", "Role": "Viola"},
    {"Name": "Dag Falk", "Role": "Harp"},
    {"Name": "Eva Gran", "Role": "Flute"},
]
