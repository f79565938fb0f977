"""The order of mixed lines, against the test files of the Unicode Character Database."""

from __future__ import annotations

import itertools
import unicodedata
from pathlib import Path

import pytest
from conftest import Samples

from mailmerge.lettering.bidi import embedding_levels, runs

UNICODE = Path("/usr/share/unicode")  # Debian's package unicode-data
EXPLICIT = {"LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI", "B"}


def levels_in(row: str) -> list[tuple[int, int]]:
    """Return the places that have a level, and that."""
    return [(at, int(level)) for at, level in enumerate(row.split()) if level != "x"]


@pytest.mark.outside("/usr/share/unicode/BidiTest.txt")
def test_levels_of_the_unicode_test_file(samples: Samples) -> None:
    """BidiTest.txt (UAX #9): cases of up to four classes without explicit signs, by turns."""
    levels: list[tuple[int, int]] = []
    turn = itertools.cycle(range(samples(4, 1)))
    checked = 0
    for line in (UNICODE / "BidiTest.txt").read_text().splitlines():
        if line.startswith("@Levels:"):
            levels = levels_in(line.split(":")[1])
        elif line and line[0] not in "#@":
            classes, bits = line.split(";")
            names = classes.split()
            if not EXPLICIT.isdisjoint(names) or next(turn):
                continue
            for bit, base in ((1, None), (2, 0), (4, 1)):
                if int(bits, 16) & bit:
                    found = embedding_levels(" " * len(names), names, base)
                    assert all(found[at] == wanted for at, wanted in levels), (names, base)
                    checked += 1
    assert checked > 5_000


@pytest.mark.long
@pytest.mark.outside("/usr/share/unicode/BidiCharacterTest.txt")
def test_order_of_the_unicode_character_test_file() -> None:
    """BidiCharacterTest.txt (UAX #9): paired brackets, and the order from left to right."""
    checked = 0
    for line in (UNICODE / "BidiCharacterTest.txt").read_text().splitlines():
        if not line or line[0] == "#":
            continue
        codes, base, _, levels, order = line.split(";")
        text = "".join(chr(int(code, 16)) for code in codes.split())
        classes = [unicodedata.bidirectional(char) for char in text]
        if not EXPLICIT.isdisjoint(classes):
            continue
        wanted_base = {"0": 0, "1": 1, "2": None}[base]
        found = embedding_levels(text, classes, wanted_base)
        wanted = levels_in(levels)
        assert all(found[at] == level for at, level in wanted), line
        checked += 1
        ordered = [
            at
            for run in runs(text, wanted_base)
            for at in (range(run.start, run.end)[::-1] if run.backwards else range(*run[:2]))
        ]
        told = {at for at, _ in wanted}
        kept = [at for at in ordered if at in told]
        assert kept == [int(at) for at in order.split()], line
    assert checked > 20_000


def test_a_latin_name_inside_a_hebrew_line_stays_in_order() -> None:
    text = "אב Zoë גד"
    parts = [(text[run.start : run.end], run.backwards) for run in runs(text)]
    assert parts == [(" גד", True), ("Zoë", False), ("אב ", True)]
