from __future__ import annotations

import json
import os
import re
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from conftest import DEMO
from openpyxl import Workbook
from outside import USUAL, run, terminal

ENVIRONMENT = os.environ | USUAL


def started(*arguments: object) -> subprocess.CompletedProcess[str]:
    """Run the command line as its users do, from a Python that has imported nothing yet."""
    return subprocess.run(
        [sys.executable, "-m", "mailmerge", *map(str, arguments)],
        capture_output=True, encoding="utf-8", env=ENVIRONMENT, timeout=120,
    )  # fmt: skip


@pytest.fixture
def names(tmp_path: Path) -> Path:
    path = tmp_path / "names.csv"
    path.write_text("Name,Role\nAnn Holm,Viola\nBo Ek,Horn\n", encoding="utf-8")
    return path


@pytest.mark.long
def test_merge_of_a_bare_list(names: Path) -> None:
    call = "merge", names, "--blank", "lowball-10oz", "--layout", "plain", "--coat", "plum"
    result = started(*call)
    assert result.returncode == 0, result.stderr
    out = names.with_name("names-merged")
    assert sorted(path.name for path in (out / "artwork").iterdir()) == [
        "001-ann-holm.svg", "002-bo-ek.svg",
    ]  # fmt: skip
    assert "2 items for 2 guests: 2 ready, 0 stopped" in result.stdout
    assert result.stderr == ""


@pytest.mark.long
def test_merge_of_an_order_by_folder_and_by_file(names: Path, tmp_path: Path) -> None:
    guests = [f"{first} {last},Horn" for first in ("Ann", "Bo", "Eva", "Olof")
              for last in ("Ek", "Berg", "Holm", "Lindqvist")]  # fmt: skip
    names.write_text("\n".join(["Name,Role", *guests, "Bo " * 60]), encoding="utf-8")
    order = tmp_path / "order"
    assert run("new", order, "--list", names).returncode == 0
    by_folder = run("merge", order, "--out", tmp_path / "a", "--jobs", 1)
    by_file = run("merge", order / "order.toml", "--out", tmp_path / "b", "--jobs", 2)
    assert by_folder.returncode == by_file.returncode == 3
    report = (tmp_path / "a" / "report.json").read_bytes()
    assert report == (tmp_path / "b" / "report.json").read_bytes()


def test_check_writes_nothing_and_lists_the_worst_first(names: Path) -> None:
    names.write_text(f"Name,Role\nANN HOLM,Viola\n{'Bo ' * 60},Horn\n", encoding="utf-8")
    before = sorted(names.parent.iterdir())
    result = run("check", names)
    assert result.returncode == 3
    assert sorted(names.parent.iterdir()) == before
    rows = [line.split()[0] for line in result.stdout.splitlines() if line[:1].strip()]
    assert rows[:3] == ["severity", "stop", "warning"]
    assert "\x1b" not in result.stdout


def test_findings_of_one_cause_stand_together_for_programs(names: Path) -> None:
    names.write_text("Name,Role\nUnknown,Viola\nUnknown,Horn\nAnn Holm,Horn\n", encoding="utf-8")
    found = json.loads(run("check", names, "--json").stdout)["findings"]
    (nobody,) = [each for each in found if each["code"] == "not-a-name"]
    assert (nobody["severity"], nobody["rows"], nobody["items"]) == ("stop", [2, 3], [1, 2])


def test_json_is_for_programs(names: Path, tmp_path: Path) -> None:
    checked = json.loads(run("check", names, "--json").stdout)
    assert [item["status"] for item in checked["items"]] == ["ready", "ready"]
    assert checked["totals"]["items"] == 2
    assert checked["findings"] == []
    merged = json.loads(run("merge", names, "--json", "--out", tmp_path / "o").stdout)
    assert merged == {"out": str(tmp_path / "o"), "totals": merged["totals"]}
    for command in ("blanks", "layouts", "fonts"):
        rows = json.loads(run(command, "--json").stdout)
        assert len(rows) >= 5
        assert all(row["name"] for row in rows)


def test_new_starts_an_order_that_can_be_merged(names: Path, tmp_path: Path) -> None:
    folder = tmp_path / "gala"
    result = run("new", folder, "--list", names, "--blank", "bottle-25oz", "--layout", "poster")
    assert result.returncode == 0, result.stderr
    assert 'name: column "Name"' in result.stdout
    assert run("merge", folder).returncode == 0
    assert (folder / "merged" / "proofs" / "001-ann-holm.png").exists()
    again = run("new", folder, "--list", names)
    assert again.returncode == 2
    assert "There is an order here already. It is left as it is." in again.stderr


def test_lists_of_what_is_there() -> None:
    assert "handled-tumbler-40oz" in run("blanks").stdout
    assert "Measure your own cup" in run("blanks").stdout
    assert "name-over-role" in run("layouts").stdout
    assert "Great Vibes" in run("fonts").stdout


def test_help_and_version() -> None:
    shown = started("--help").stdout
    for command in ("merge", "check", "new", "blanks", "layouts", "fonts"):
        assert command in shown
    assert started("--version").stdout.startswith("mailmerge ")
    assert started("merge", "--halp").returncode == 2


def test_help_needs_none_of_the_engine() -> None:
    """The heavy libraries are imported by the commands that need them, not by ``--help``."""
    code = (
        "import sys, mailmerge.cli\n"
        "heavy = {'numpy', 'PIL', 'openpyxl', 'uharfbuzz', 'pathops', 'pydantic', 'fontTools'}\n"
        "sys.exit(sorted(heavy & set(sys.modules)) or 0)"
    )
    result = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True)
    assert result.returncode == 0, result.stderr


@pytest.mark.long
@pytest.mark.skipif(sys.platform == "win32", reason="no pseudo-terminals there")
def test_a_terminal_gets_a_progress_bar_and_colour_unless_it_says_no(
    names: Path, tmp_path: Path
) -> None:
    names.write_text(f"Name,Role\nANN HOLM,Viola\n{'Bo ' * 60},Horn\n", encoding="utf-8")
    shown, code = terminal("merge", names, "--out", tmp_path / "o")
    assert code == 3
    assert "making items" in shown
    assert "items/s" in shown
    # no-color.org: no colour where NO_COLOR is set, whatever its value.
    coloured, _ = terminal("check", names)
    plain, _ = terminal("check", names, NO_COLOR="1")
    assert "\x1b[1;31m" in coloured
    assert "\x1b[1;31m" not in plain
    assert "\x1b[33m" not in plain


@pytest.mark.long
def test_a_reader_that_stops_is_no_error() -> None:
    process = subprocess.Popen(
        [sys.executable, "-m", "mailmerge", "check", str(DEMO), "--json"],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, env=ENVIRONMENT,
    )  # fmt: skip
    assert process.stdout is not None
    process.stdout.read(10)
    process.stdout.close()
    assert process.stderr is not None
    with process.stderr as errors:
        assert b"Traceback" not in errors.read()
    process.wait()


@pytest.mark.long
@pytest.mark.skipif(sys.platform == "win32", reason="no such signal there")
def test_an_interrupted_merge_ends_quietly_with_whole_files(tmp_path: Path) -> None:
    path, out = tmp_path / "l.csv", tmp_path / "out"
    path.write_text("Name,Role\n" + "".join(f"Guest {n},Horn\n" for n in range(200)))
    process = subprocess.Popen(
        [sys.executable, "-m", "mailmerge", "merge", str(path), "--out", str(out), "--jobs", "1"],
        stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True, env=ENVIRONMENT,
    )  # fmt: skip
    while not list(out.glob(".staged-*/proofs/*.png")):
        assert process.poll() is None
        time.sleep(0.05)
    process.send_signal(signal.SIGINT)
    _, errors = process.communicate(timeout=60)
    assert process.returncode == 130
    assert errors == "Called off. Nothing has changed.\n"
    assert list(out.iterdir()) == []


def test_control_characters_of_a_cell_do_not_reach_the_terminal(tmp_path: Path) -> None:
    path = tmp_path / "l.csv"
    path.write_text("Name\nAnn\x1b[2JHolm\u202e\n", encoding="utf-8")
    assert "\x1b" not in run("check", path).stdout
    assert "\u202e" not in run("check", path).stdout


def test_a_merge_says_what_stops_and_what_the_whole_list_lacks(tmp_path: Path) -> None:
    """Each cause once with its rows; what only warns of one guest stays in the files."""
    book = Workbook()
    sheet = book.active
    sheet.append(["Name", "Role"])
    dated = ("2024-05-03", "")
    for guest in [("Anna Berg", "Viola"), ("Bo Dahl", "n/a"), ("=A2", "Horn"), dated]:
        sheet.append(guest)
    sheet["A4"].data_type = "s"
    for row in range(6, 12):
        sheet.append([f"Guest {chr(59 + row)}", "Harp"])
        sheet.row_dimensions[row].hidden = True
    sheet["A12"], sheet["A13"] = "2024-05-03", "2024-05-03"
    book.save(tmp_path / "list.xlsx")
    told = run("merge", tmp_path / "list.xlsx", "--layout", "plain", "--jobs", 1).stdout
    lines = [line for line in told.splitlines() if re.match("stop|warning|note", line)]
    assert [line.split()[:3] for line in lines] == [
        ["stop", "3", "4"], ["stop", "4-6", "5,"], ["warning", "6-11", "Left"],
    ]  # fmt: skip
    assert told.index("6 items for") < told.index(lines[0]) < told.index("findings.csv")


def test_a_merge_shows_a_dozen_causes_and_counts_the_others(tmp_path: Path) -> None:
    rows = "".join(f"2024-05-{day:02},Horn\n" for day in range(1, 20))
    (tmp_path / "list.csv").write_text(f"Name,Role\n{rows}2024-05-01,Horn\n")
    told = run("merge", tmp_path / "list.csv", "--layout", "plain", "--jobs", 1).stdout
    assert sum(line.startswith("stop") for line in told.splitlines()) == 12
    assert "and 7 more: see findings.csv" in told
