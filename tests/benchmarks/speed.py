"""How fast items are made: ``python -m pytest -o addopts= -s tests/benchmarks/speed.py``.

Not part of the test command; it prints and asserts nothing about time. Names come from the census
lists of the PyPI package ``names``, all different, so that no cache of names helps; roles repeat
as they do in real lists.
"""

from __future__ import annotations

import itertools
import random
from pathlib import Path

import names
import pytest

from mailmerge.artwork import Layout, compose, read_outlines, sheet_of, write_svg
from mailmerge.blanks import Blank
from mailmerge.checks import check_item
from mailmerge.guests import Guest
from mailmerge.items import Item, make_item
from mailmerge.lettering import Style, finest, letter, open_font
from mailmerge.machines import DEFAULT_MACHINE, Machine, load_on
from mailmerge.orders import Design
from mailmerge.shelves import load

ROLES = ("Violin I", "Violin II", "Viola", "Cello", "Double bass", "Flute", "Oboe", "Horn")
ITEMS = 200
MACHINE = load(Machine, "machines", DEFAULT_MACHINE, Path())


@pytest.fixture(scope="module")
def design() -> Design:
    blank = load(Blank, "blanks", "handled-tumbler-40oz", Path())
    layout = load(Layout, "layouts", "name-over-role", Path())
    words = {"order.title": "Gala", "order.subtitle": "", "order.due": ""}
    return Design(Path(), "Gala", words, blank, blank.coat[0], layout, MACHINE)


def fresh_items(seeds: itertools.count[int]) -> list[Item]:
    random.seed(next(seeds))
    found = []
    for number in range(1, ITEMS + 1):
        name = names.get_full_name()
        first, _, last = name.partition(" ")
        fields = {"name": name, "first": first, "last": last, "role": random.choice(ROLES)}
        found.append(Item(number, 1, Guest(number + 1, fields), (), 3))
    return found


SEEDS = itertools.count(1)


@pytest.mark.parametrize("picture", [False, True], ids=["artwork-alone", "artwork-and-proof"])
def test_items_per_second_on_one_core(benchmark, design: Design, picture: bool) -> None:
    make_item(design, fresh_items(SEEDS)[0], picture)  # fonts and the proof's ground are kept

    def setup() -> tuple[tuple[list[Item]], dict[str, object]]:
        return (fresh_items(SEEDS),), {}

    def make(items: list[Item]) -> None:
        for item in items:
            make_item(design, item, picture)

    benchmark.pedantic(make, setup=setup, rounds=5)
    print(f"\n{ITEMS / benchmark.stats['median']:.0f} items/s per core")


def test_share_of_each_stage(benchmark, design: Design) -> None:
    """Print what each stage takes of an item, in microseconds."""
    import time

    from mailmerge.proofs import Facts, Scene, View, draw_proof, maker_copy

    took: dict[str, float] = dict.fromkeys(
        (
            "weld and shape",
            "stroke and gap",
            "compose",
            "check",
            "svg",
            "read back",
            "proof",
            "maker's copy",
        ),
        0.0,
    )

    def clocked(stage: str, function, *arguments):
        start = time.perf_counter()
        result = function(*arguments)
        took[stage] += time.perf_counter() - start
        return result

    def all_stages() -> None:
        font = open_font("Great Vibes", 400, Path())
        for item in fresh_items(SEEDS):
            guest = item.guest
            welded = clocked("weld and shape", letter, Style((font,)), guest.name)
            clocked("stroke and gap", finest, welded)
            made = clocked(
                "compose", compose, design.layout, design.blank, guest, design.words, design.folder
            )
            loading = load_on(design.blank, design.machine, None, made.span()[::2])
            clocked(
                "check", check_item, guest, made, design.blank, design.machine, loading,
                design.engraved, (),
            )  # fmt: skip
            sheet = clocked("lay", sheet_of, made, design.blank, loading)
            artwork = clocked("svg", write_svg, sheet, guest.name, "d")
            clocked("read back", read_outlines, artwork)
            facts = Facts("Gala", "001", (("Name", guest.name),), (("Coat", "black"),))
            views = tuple(View(face, "") for face in made.faces)
            scene = Scene(
                design.blank, design.coat, views, loading, "Test", (), (0.0, 0.0, 0.0, 0.0), {}
            )
            proof = clocked("proof", draw_proof, artwork, scene, facts)
            clocked("proof", proof.png)
            clocked("maker's copy", maker_copy, proof, scene)

    benchmark.pedantic(all_stages, rounds=3, warmup_rounds=1)
    total = sum(took.values())
    print()
    own = sum(took[stage] for stage in ("weld and shape", "compose", "check", "svg"))
    print(f"stroke and gap are {took['stroke and gap'] / own:.1%} of the artwork's own time")
    for stage, seconds in took.items():
        print(f"{stage:16} {seconds / total:6.1%}")
