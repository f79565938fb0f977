"""The short pass of the fuzzers; ``python -m tests.fuzz`` is the long one.

It tries everything that ever failed, a few cases of each kind, and orders on disks that fail. What
is drawn here is drawn alike each time: a suite that fails by chance helps nobody who has changed
something else. The long pass draws anew.
"""

from __future__ import annotations

import random
import re
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from fuzz import __main__ as program, commands, disks, faulty, kept, pairs
from fuzz.exploring import place_of
from fuzz.readers import READERS
from fuzz.rule import USUAL, Budget, Cost, Reader, RuleBrokenError, judged
from hypothesis import HealthCheck, Phase, given, settings, strategies as st

from mailmerge.files import write_file
from mailmerge.findings import InputError
from mailmerge.reading import room
from mailmerge.reading.room import Room

Samples = Callable[[int, int], int]

_USUAL = {"lists": 20, "drawings": 50, "fonts": 30, "settings": 25, "answers": 60, "ledgers": 15}
"""Cases in the suite: about a second of the processor for each reader."""


def _drawn(reader: Reader, count: int) -> list[Cost]:
    """Judge so many cases of a reader, the same ones each time."""
    costs = []

    @settings(
        max_examples=count, deadline=None, database=None, derandomize=True,
        suppress_health_check=list(HealthCheck), phases=[Phase.generate, Phase.shrink],
    )  # fmt: skip
    @given(reader.cases)
    def holds(case: kept.Case) -> None:
        costs.append(judged(reader, case))

    holds()
    return costs


@pytest.mark.parametrize("name", READERS)
def test_whatever_is_read_comes_out_as_a_value_or_one_line(name: str, samples: Samples) -> None:
    costs = _drawn(READERS[name], samples(_USUAL[name], 2_000))
    assert any(not each.said for each in costs), "nothing gets past the first door"
    assert any(each.said for each in costs)


@pytest.mark.parametrize("name", READERS)
def test_what_has_failed_once_holds(name: str) -> None:
    cases = kept.cases(name)
    assert cases
    for case in cases.values():
        judged(READERS[name], case)


def test_what_is_kept_is_small_and_no_font() -> None:
    for path in (path for path in kept.CORPUS.rglob("*") if path.is_file()):
        assert path.suffix == ".json"
        assert path.stat().st_size <= kept.MOST_BYTES, path


@pytest.mark.parametrize("name", ["lists", "drawings", "fonts", "answers"])
def test_the_room_for_reading_says_the_same(
    name: str, monkeypatch: pytest.MonkeyPatch, one_room: Room
) -> None:
    reader = READERS[name]
    cases = [case for case in kept.cases(name).values() if not kept.is_generated(case)][:2]
    here = [judged(reader, case).said for case in cases]
    monkeypatch.setattr(room, "asked", one_room.ask)
    there = [judged(reader, case).said for case in cases]
    assert cases
    assert list(map(_unplaced, here)) == list(map(_unplaced, there))


@pytest.fixture(scope="module")
def one_room() -> Iterator[Room]:
    made = Room()
    yield made
    made.end()


def _unplaced(said: str) -> str:
    """Return a text without the folder that a case was written to: every one has its own."""
    return " ".join(Path(word).name if "/" in word else word for word in said.split())


# The rule itself


def _reader(read: Callable[[Path], object], budget: Budget = USUAL) -> Reader:
    def write(_: object, folder: Path) -> Path:
        (folder / "file").write_bytes(b"x" * 2_000)
        return folder / "file"

    return Reader("test", st.none(), write, read, budget=budget)


class _Unbounded(InputError):
    """What says all that it was given, as no other does."""

    def __init__(self, said: str) -> None:
        Exception.__init__(self, said)


def _refuses(said: str) -> Callable[[Path], object]:
    def read(_: Path) -> None:
        raise _Unbounded(said)

    return read


def _spins(_: Path) -> None:
    until = time.process_time() + 0.3
    while time.process_time() < until:
        pass


@pytest.mark.parametrize(
    ("read", "budget", "says"),
    [
        (lambda path: path.with_name("left").touch(), USUAL, "left behind: left"),
        (_refuses("x" * 5_000), USUAL, "5000 characters"),
        (_spins, Budget(seconds=0.1, seconds_a_kb=0.05), "s of the processor for 2.0 kB"),
        (lambda _: len(b"x" * 200_000_000), Budget(memory=100_000_000), r"\d+ MB of memory"),
    ],
)
def test_what_breaks_the_rule_is_told(
    read: Callable[[Path], object], budget: Budget, says: str
) -> None:
    with pytest.raises(RuleBrokenError, match=says):
        judged(_reader(read, budget), {})


def test_what_keeps_it_is_measured() -> None:
    cost = judged(_reader(_refuses("no")), {})
    assert (cost.said, cost.kb) == ("no", 2.0)
    with pytest.raises(ZeroDivisionError) as raised:
        judged(_reader(lambda _: 1 / 0), {})
    assert place_of(raised.value).startswith("ZeroDivisionError at the rule")


# Disks that fail

_TRIALS = {"merge": 1, "proof": 1, "forget": 1}
"""Of each command in the suite; of all others :data:`_USUAL_TRIALS`."""

_USUAL_TRIALS = 6


@pytest.mark.parametrize("command", commands.COMMANDS)
def test_a_command_on_a_disk_that_fails_is_done_or_not_begun(
    command: str, samples: Samples
) -> None:
    trials = [trial for trial in disks.trials() if trial[0] == command]
    count = samples(_TRIALS.get(command, _USUAL_TRIALS), len(trials))
    _, wrong = disks.all_of_them(random.Random(command).sample(trials, count))
    assert not wrong, "\n".join(wrong)


def test_a_disk_fails_at_the_step_that_is_meant(tmp_path: Path) -> None:
    steps = disks.steps_of("keep-recipe")
    assert steps == ("open", "write", "close", "give", "unlink")
    assert {name.split()[0] for name in disks.steps_of("release")} >= {
        "open", "write", "close", "rename", "unlink", "mkdir", "rmdir", "BEGIN", "INSERT", "COMMIT",
    }  # fmt: skip
    with faulty.on(faulty.Disk(3, "short")), pytest.raises(InputError, match="Input/output error"):
        write_file(tmp_path / "file", b"x" * 10)
    assert not (tmp_path / "file").exists()


@pytest.mark.parametrize("name", ["disks", "pairs"])
def test_minutes_hold_for_what_is_no_reader_too(
    name: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    module = {"disks": disks, "pairs": pairs}[name]
    monkeypatch.setattr(module, "failed", lambda _: time.sleep(0.02) or "")
    many = [("log", "full", 1)] * 500 if name == "disks" else [("log", "log")] * 500
    monkeypatch.setitem(program.OTHERS, name, (lambda: many, module.all_of_them))
    assert program.main(["--minutes", "0.01", name]) == 0
    found = re.fullmatch(
        rf"{name}: (\d+) of 500 tried in \d s, 0 failed\n*", capsys.readouterr().out
    )
    assert found
    assert 0 < int(found[1]) < 100


# Two at once


def test_of_two_commands_at_once_one_goes_first(samples: Samples) -> None:
    wanted = list(pairs.pairs())
    cheap = [pair for pair in wanted if not {"proof", "forget", "merge"} & set(pair)]
    count = samples(3, len(wanted))
    chosen = wanted if count == len(wanted) else random.Random(3).sample(cheap, count)
    _, wrong = pairs.all_of_them(chosen)
    assert not wrong, "\n".join(wrong)


def test_each_command_has_something_to_do() -> None:
    for command in commands.COMMANDS:
        was, to_be = disks.states(command)
        assert was != to_be, command
