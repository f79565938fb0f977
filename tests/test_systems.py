"""What differs between Windows, macOS and Linux: each branch, on whichever system this runs.

On Windows and macOS themselves the whole suite is run by ``.github/workflows/tests.yml``.
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from shop import Shop

from mailmerge.files import disk
from mailmerge.files.disk import Root
from mailmerge.findings import InputError
from mailmerge.guests.names import slug


@pytest.fixture
def on_windows(monkeypatch: pytest.MonkeyPatch) -> list[float]:
    """Let the gate to the disk take this for Windows; note what it would wait, and do not wait."""
    waited: list[float] = []
    monkeypatch.setattr(disk, "IS_WINDOWS", True)
    monkeypatch.setattr(disk.time, "sleep", waited.append)
    return waited


def held(monkeypatch: pytest.MonkeyPatch, times: int, step: str = "replace") -> list[Path]:
    """Let a file be open in another program for the first so many tries, as Windows says it."""
    tried: list[Path] = []
    real = getattr(Path, step)

    def refuse(path: Path, *rest: Any) -> Any:
        tried.append(path)
        if len(tried) <= times:
            raise PermissionError(13, "The process cannot access the file", str(path))
        return real(path, *rest)

    monkeypatch.setattr(Path, step, refuse)
    return tried


def test_windows_waits_for_a_file_that_somebody_has_open_for_a_moment(
    tmp_path: Path, on_windows: list[float], monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "a.svg").write_bytes(b"old")
    held(monkeypatch, times=2)
    Root(tmp_path).write("a.svg", b"new")
    assert (tmp_path / "a.svg").read_bytes() == b"new"
    assert len(on_windows) == 2
    held(monkeypatch, times=1, step="unlink")
    Root(tmp_path).remove("a.svg")
    assert list(tmp_path.iterdir()) == []


def test_windows_says_to_close_a_file_that_stays_open(
    tmp_path: Path, on_windows: list[float], monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "a.svg").write_bytes(b"old")
    held(monkeypatch, times=99)
    with pytest.raises(InputError, match=r"a\.svg.*Close it if it is open in another program"):
        Root(tmp_path).write("a.svg", b"new")
    assert [each.name for each in tmp_path.iterdir()] == ["a.svg"]
    assert (tmp_path / "a.svg").read_bytes() == b"old"
    assert sum(on_windows) < 2, "nobody waits longer for one file"


def test_elsewhere_a_refusal_is_told_at_once(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    tried = held(monkeypatch, times=99)
    monkeypatch.setattr(disk, "IS_WINDOWS", False)
    with pytest.raises(InputError, match="This cannot be written"):
        Root(tmp_path).write("a.svg", b"new")
    assert len(tried) == 1


@pytest.mark.usefixtures("on_windows")
def test_windows_says_which_path_is_too_long(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Microsoft, "Maximum Path Length Limitation": 260 characters with the one that ends it."""

    def refuse(path: Path, *_: Any) -> None:
        raise FileNotFoundError(2, "The system cannot find the path specified", str(path))

    monkeypatch.setattr(disk, "create", refuse)
    short = "s" * (259 - len(f"{tmp_path}/..12345678.part"))
    with pytest.raises(InputError, match="cannot find the path"):
        Root(tmp_path).write(short, b"")
    with pytest.raises(InputError, match="longer than the 259 characters that Windows takes"):
        Root(tmp_path).write(f"{short}s", b"")


@pytest.mark.parametrize(
    ("name", "file"),
    [
        ("Con", "con-layout"), ("AUX", "aux-layout"), ("nul", "nul-layout"),
        ("Prn.", "prn-layout"), ("com1", "com1-layout"), ("Lpt9", "lpt9-layout"),
        ("Conrad", "conrad"), ("Con Aux", "con-aux"), ("com10", "com10"), ("", "layout"),
    ],
)  # fmt: skip
def test_no_file_has_the_name_of_a_device(name: str, file: str) -> None:
    """Microsoft, "Naming Files, Paths, and Namespaces": such a name opens the device instead."""
    assert slug(name, "layout") == file


def test_names_that_differ_by_their_case_are_one_file_everywhere() -> None:
    """Windows and macOS take ``Crest.toml`` and ``crest.toml`` for one file."""
    assert slug("CREST of Ash") == slug("Crest Of ash")


@pytest.mark.long
def test_workers_that_are_started_anew_make_the_same_files(tmp_path: Path, box_font: Path) -> None:
    """Windows and macOS know no fork: a worker is a new Python there (``spawn``)."""
    alone = Shop(tmp_path / "alone", box_font)
    alone.list([{"Name": f"Ann {chr(65 + number)}", "Role": "Horn"} for number in range(14)])
    others = Shop.copied(alone.folder, tmp_path / "others")
    alone.merge()
    code = (
        "import multiprocessing, sys\n"
        "from pathlib import Path\n"
        "from mailmerge.deeds.making import merge\n"
        "if __name__ == '__main__':\n"
        "    multiprocessing.set_start_method('spawn')\n"
        "    merge(Path(sys.argv[1]), jobs=2)\n"
    )
    program = tmp_path / "program.py"
    program.write_text(code)
    ran = subprocess.run(
        [sys.executable, str(program), str(others.folder)], capture_output=True, text=True
    )
    assert (ran.returncode, ran.stderr) == (0, "")

    def made(shop: Shop) -> dict[str, bytes]:
        return {each.name: each.read_bytes() for each in shop.folder.rglob("*.svg")}

    assert made(others) == made(alone)
    assert len(made(alone)) == 14
