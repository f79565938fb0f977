"""The job that puts faults in, on a toy: what a good test notices, and what a bad one lets pass."""

from __future__ import annotations

import multiprocessing
from pathlib import Path

import mutate
import pytest

TOY = '''"""Who may have wine."""

OF_AGE = 18


def may_have_wine(age: int, drives: bool) -> bool:
    """Say so."""
    if drives:
        return False
    return age >= OF_AGE
'''
GOOD = """from toy import may_have_wine

def test_from_the_birthday_on():
    assert [may_have_wine(age, False) for age in (17, 18, 19)] == [False, True, True]

def test_not_who_drives():
    assert not may_have_wine(40, True)
"""
BAD = """from toy import may_have_wine

def test_of_age():
    assert may_have_wine(40, False) and not may_have_wine(3, False)
"""


@pytest.fixture
def toy(tmp_path: Path) -> Path:
    root = tmp_path / "toy"
    (root / "tests").mkdir(parents=True)
    (root / "toy.py").write_text(TOY)
    (root / "tests" / "test_good.py").write_text(GOOD)
    (root / "tests" / "test_bad.py").write_text(BAD)
    return root


def tried(root: Path, *tests: str) -> tuple[list[str], str]:
    """Return the faults that survive a test file, in the order of the text, and the last line."""
    said: list[str] = []
    multiprocessing.get_context("forkserver").set_forkserver_preload(["coverage", "pytest"])
    mutate.survivors(root, mutate.faults_of(root, {"toy.py": tests}), 2, 5, said.append)
    return said[:-1], said[-1]


@pytest.mark.long
def test_good_tests_notice_every_fault_and_the_checkout_is_never_changed(toy: Path) -> None:
    lost, last = tried(toy, "test_good")
    assert lost == []
    assert last == "7 of 7 faults were tried: 7 were noticed, 0 survive"
    assert {path.name: path.read_text() for path in toy.rglob("*.*")} == {
        "toy.py": TOY, "test_good.py": GOOD, "test_bad.py": BAD,
    }  # fmt: skip


@pytest.mark.long
def test_what_a_bad_test_does_not_hold_is_named_with_its_line(toy: Path) -> None:
    lost, last = tried(toy, "test_bad")
    assert lost == [
        "toy.py:3  18 -> 19",
        "toy.py:3  18 -> 17",
        "toy.py:8  if drives: return False -> pass",
        "toy.py:9  False -> True",
        "toy.py:10  age >= OF_AGE -> age > OF_AGE",
    ]
    assert last == "7 of 7 faults were tried: 2 were noticed, 5 survive"
    assert tried(toy, "test_bad", "test_good")[0] == []


def test_faults_are_of_the_code_and_not_of_its_words_and_types() -> None:
    source = "@cache(1)\ndef f(a: Annotated[int, 2]) -> 'x':\n    raise Wrong(f'{a + 1} {a < 2}')\n"
    assert list(mutate.faults_in("x.py", source)) == []


def test_every_kind_of_fault() -> None:
    source = (
        "for a in b:\n    if not min(a, 0.5) < a - 1:\n        continue\n    put(a in b and a)\n"
        "def c():\n    yield -a\n"
    )
    assert [f"{fault.line} {fault.before} -> {fault.after}" for fault in
            mutate.faults_in("x.py", source)] == [
        "2 if not min(a, 0.5) < a - 1: continue -> pass",
        "2 not min(a, 0.5) < a - 1 -> min(a, 0.5) < a - 1",
        "2 min(a, 0.5) < a - 1 -> min(a, 0.5) <= a - 1",
        "2 min(a, 0.5) < a - 1 -> min(a, 0.5) > a - 1",
        "2 min -> max",
        "2 0.5 -> 0.55",
        "2 0.5 -> 0.45",
        "2 a - 1 -> a + 1",
        "2 1 -> 2",
        "2 1 -> 0",
        "4 put(a in b and a) -> pass",
        "4 a in b and a -> a in b or a",
        "4 a in b and a -> a",
        "4 a in b and a -> a in b",
        "4 a in b -> a not in b",
        "6 yield (-a) -> yield from ()",
        "6 -a -> a",
    ]  # fmt: skip
    for fault in mutate.faults_in("x.py", source):
        compile(fault.text(), "x.py", "exec")


def test_a_target_that_has_moved_is_told(toy: Path) -> None:
    with pytest.raises(SystemExit, match=r"there is no tests/test_gone\.py; put the table TARGETS"):
        mutate.faults_of(toy, {"toy.py": ["test_gone"]})
    with pytest.raises(SystemExit, match=r"there is no rooms/toy\.py"):
        mutate.faults_of(toy, {"rooms/toy.py": ["test_good"]})
    with pytest.raises(SystemExit, match=r"nothing to change in rooms"):
        mutate.faults_of(toy, {"toy.py": ["test_good"]}, "rooms")


def test_the_table_of_targets_is_right() -> None:
    faults = mutate.faults_of(mutate.ROOT, mutate.TARGETS)
    assert len(faults) > 1000
    assert {fault.tests for fault in faults if fault.path == "mailmerge/checks/beam.py"} == {
        ("tests/test_beam.py",)
    }


def test_tests_that_fail_without_a_fault_are_told(toy: Path) -> None:
    (toy / "tests" / "test_bad.py").write_text("def test_it():\n    assert 1 == 2\n")
    with pytest.raises(SystemExit, match="want green tests first"):
        tried(toy, "test_bad")
