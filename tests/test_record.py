"""The record of an item: its schema, older ledgers, and what a newer engine makes of both."""

from __future__ import annotations

import ast
import json
import re
import shutil
import sqlite3
import sys
import tomllib
from contextlib import closing
from functools import cache
from importlib.metadata import packages_distributions
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from conftest import DEMO, ROOT
from shop import Shop
from test_mixed import order_in
from typer.testing import CliRunner

from mailmerge import provenance
from mailmerge.cli import app
from mailmerge.cli.changes import say_changes
from mailmerge.deeds import making
from mailmerge.deeds.questions import Question
from mailmerge.deeds.status import status
from mailmerge.findings import Finding, InputError, Severity
from mailmerge.guests import Guest
from mailmerge.items import SCHEMA, making as items
from mailmerge.items.schema import report_schema
from mailmerge.ledger.ledger import LEDGER, open_ledger
from mailmerge.merge import Changes

DATA = Path(__file__).parent / "data"
SCHEMA_FILE = ROOT / "templates" / "schemas" / "report-1.json"


def cli(*arguments: object) -> tuple[int, str]:
    """Run a command; return its exit code and what it printed."""
    result = CliRunner().invoke(app, [str(each) for each in arguments])
    if result.exception and not isinstance(result.exception, SystemExit):
        raise result.exception
    return result.exit_code, result.output


def report_of(source: Path, out: Path, **given: str) -> dict[str, object]:
    """Merge an order or a list elsewhere; return its report."""
    merged = making.merge(source, making.Given(**given), out, jobs=1)
    assert not isinstance(merged, Question)
    return dict(json.loads((out / "report.json").read_text(encoding="utf-8")))


@cache
def judge() -> Any:
    """Return what judges a report by the schema that travels with the program."""
    schema = json.loads(SCHEMA_FILE.read_text(encoding="utf-8"))
    return jsonschema.validators.validator_for(schema)(schema)


def test_the_schema_that_travels_is_that_of_the_models() -> None:
    assert SCHEMA_FILE.read_text(encoding="utf-8") == report_schema()
    jsonschema.Draft202012Validator.check_schema(json.loads(report_schema()))


@pytest.mark.long
@pytest.mark.parametrize(
    ("blank", "layout"),
    [
        ("handled-tumbler-40oz", "name-over-role"),
        ("tapered-tumbler-30oz", "both-sides"),
        ("coaster-100mm", "monogram"),
        ("name-tag-70mm", "crest"),
    ],
)
def test_reports_are_as_the_schema_says(tmp_path: Path, blank: str, layout: str) -> None:
    """Judged by jsonschema, which knows nothing of the models; with a stopped item in each."""
    guests = tmp_path / "guests.csv"
    guests.write_text(
        "Name,Role,Hand,Quantity\nZoë Lind,Horn,left,2\nBo Dahl,,right,1\n\u10d0 Berg,Harp,,1\n",
        encoding="utf-8",
    )
    report = report_of(guests, tmp_path / "out", blank=blank, layout=layout, title="T")
    assert report["schema"] == 1
    assert {item["status"] for item in report["items"]} >= {"stopped"}
    judge().validate(report)


def test_a_report_of_several_blanks_is_as_the_schema_says(tmp_path: Path) -> None:
    report = report_of(order_in(tmp_path / "gala"), tmp_path / "out")
    assert len({group["blank"] for group in report["groups"]}) == 3
    judge().validate(report)


def test_the_schema_refuses_what_is_no_report(gala: Path) -> None:
    report = json.loads((gala / "report.json").read_text(encoding="utf-8"))
    judge().validate(report)
    report["items"] = report["items"][:2]
    judge().validate(report)
    for spoil in (
        lambda r: r.update(schema=2),
        lambda r: r["items"][0].pop("seal"),
        lambda r: r["items"][0].update(status="nearly"),
        lambda r: r["items"][0].update(more=1),
        lambda r: r["items"][0]["lines"][0].update(letter_height_mm="4 mm"),
    ):
        spoiled = json.loads(json.dumps(report))
        spoil(spoiled)
        with pytest.raises(jsonschema.ValidationError):
            judge().validate(spoiled)


def test_a_checked_order_is_told_with_its_schema() -> None:
    code, told = cli("check", DEMO / "guests.xlsx", "--json")
    assert code == 3
    checked = json.loads(told)
    assert checked["schema"] == 1
    assert checked["items"][0]["artwork"] is None


def written(path: Path) -> tuple[int, int]:
    """Return which file it is and when it was written; when it was read last is no matter."""
    stat = path.stat()
    return stat.st_ino, stat.st_mtime_ns


def older(shop: Shop) -> None:
    """Put a ledger in place of the order's that the program wrote before records had a number.

    ``data/ledger-2.sql`` is one: five items, the first released, the first two confirmed. Its
    artwork is told by digests, and other libraries may draw other bytes. So they are put in from
    the order as it is made now; all else stays as it was written.
    """
    dump = (DATA / "ledger-2.sql").read_text(encoding="utf-8")
    row = r"""INSERT INTO "item" VALUES\(.*?,'(....-....-....)',.*'(\{".*\})','\w{64}'\)"""
    was = re.findall(row, dump)
    now = shop.records()
    assert len(was) == len(now) == 5
    for (seal, digests), record in zip(was, now.values(), strict=True):
        dump = dump.replace(seal, record.seal or "").replace(digests, json.dumps(record.digests))
    for path in (*shop.folder.glob(f"{LEDGER}*"), shop.folder / "to-engrave" / "contents.json"):
        path.unlink()
    shutil.rmtree(shop.folder / "record-copies")  # neither was there then
    with closing(sqlite3.connect(shop.folder / LEDGER)) as old:
        old.executescript(dump)


def test_an_older_ledger_is_brought_along_and_no_word_is_lost(released: Shop) -> None:
    before, tray = released.standing(), written(released.to_engrave()[1])
    assert [*before.values()] == ["released", "confirmed", "waiting", "waiting", "waiting"]
    older(released)
    assert released.standing() == before
    assert not status(released.folder).is_engine_current
    changes = released.merge().changes
    assert (changes.made, changes.as_before, changes.found) == (5, 5, [])
    assert (changes.new, changes.changed, changes.withdrawn) == ([], [], [])
    assert released.standing() == before
    assert written(released.to_engrave()[1]) == tray
    assert released.merge().changes.made == 0
    with open_ledger(released.folder) as ledger:
        assert ledger.fact("schema") == str(SCHEMA)
        assert ledger.fact("engine") == provenance.engine_mark()


def test_a_ledger_of_a_newer_program_is_refused(shop: Shop) -> None:
    shop.merge()
    with sqlite3.connect(shop.folder / LEDGER) as newer:
        newer.execute("PRAGMA user_version = 99")
    newer.close()
    with pytest.raises(InputError, match="newer version"):
        shop.merge()


@pytest.fixture(scope="module")
def released_once(tmp_path_factory: pytest.TempPathFactory, packed_once: Path) -> Path:
    """Return an order with two yeses and one cup released; it is copied, and never changed."""
    shop = Shop.copied(packed_once, tmp_path_factory.mktemp("released-once") / "concert")
    shop.yes(1, 2)
    shop.release(1)
    return shop.folder


@pytest.fixture
def released(tmp_path: Path, released_once: Path) -> Shop:
    """Return a workshop with that order, to be changed."""
    return Shop.copied(released_once, tmp_path / "concert")


def another_engine(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(provenance, "engine_mark", lambda: "another one")


def test_an_update_that_changes_no_byte_leaves_yes_and_release(
    released: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = released.standing()
    tray = written(released.to_engrave()[1])
    another_engine(monkeypatch)
    changes = released.merge().changes
    assert (changes.made, changes.new, changes.changed) == (len(before), [], [])
    assert changes.withdrawn == []
    assert released.standing() == before
    assert written(released.to_engrave()[1]) == tray
    assert released.merge().changes.made == 0


def test_an_update_that_changes_the_artwork_asks_again(
    released: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    another_engine(monkeypatch)
    title = items.title_of
    monkeypatch.setattr(items, "title_of", lambda number, name: f"{title(number, name)}, mended")
    changes = released.merge().changes
    assert changes.withdrawn == [1]
    assert {1, 2} <= set(changes.changed)
    assert released.standing()[1] == released.standing()[2] == "waiting"
    assert released.to_engrave() == {}


def test_nothing_is_released_that_an_older_engine_made(
    released: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    another_engine(monkeypatch)
    with pytest.raises(
        InputError, match=r"The program was updated .*Of these, item 1 lies in to-engrave"
    ):
        released.release()
    assert released.standing()[2] == "confirmed"
    found = status(released.folder)
    assert not found.is_engine_current
    assert found.is_current
    assert "The program was updated" in cli("status", released.folder)[1]
    released.merge()
    assert [record.number for record in released.release().released] == [2]


@pytest.mark.parametrize("command", ["release", "run-sheet", "time", "quote"])
def test_what_wants_the_order_up_to_date_says_that_the_program_was_updated(
    released: Shop, monkeypatch: pytest.MonkeyPatch, command: str
) -> None:
    another_engine(monkeypatch)
    cause = r"The program was updated since the last merge.* First run: mailmerge merge "
    with pytest.raises(InputError, match=cause + re.escape(str(released.folder))):
        cli(command, released.folder)


def test_what_is_said_in_other_words_is_not_new(
    released: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Of three alike, one is reworded, one was there, and one is new: it alone is told."""
    check, words = items.check_item, ["an old one", "a narrow gap"]

    def found(*given: object) -> tuple[Finding, ...]:
        alike = (Finding("gap", Severity.WARNING, "name", each, "Look.") for each in words)
        return (*check(*given), *alike)

    monkeypatch.setattr(items, "check_item", found)
    another_engine(monkeypatch)
    released.merge()
    monkeypatch.setattr(provenance, "engine_mark", lambda: "a third one")
    words[:] = ["an old one", "a gap is narrow"]
    assert released.merge().changes.found == []
    monkeypatch.setattr(provenance, "engine_mark", lambda: "a fourth one")
    words[:] = ["a second gap is narrow", "an old one", "a gap is narrow"]
    assert {finding.message for _, finding in released.merge().changes.found} == {words[0]}
    monkeypatch.setattr(provenance, "engine_mark", lambda: "a fifth one")
    words[:] = ["gap A", "gap B", "gap C", "gap D"]  # three were there, in whatever words
    assert [number for number, _ in released.merge().changes.found] == [1, 2, 3, 4, 5]


def test_what_a_newer_engine_finds_is_told(released: Shop, monkeypatch: pytest.MonkeyPatch) -> None:
    another_engine(monkeypatch)
    check = items.check_item
    new = Finding("seen-now", Severity.WARNING, None, "a fault that was not seen", "Look.")
    monkeypatch.setattr(items, "check_item", lambda *given: (*check(*given), new))
    assert [number for number, finding in released.merge().changes.found] == [1, 2, 3, 4, 5]
    assert released.standing()[1] == "released"


def test_what_is_found_anew_is_printed(released: Shop, monkeypatch: pytest.MonkeyPatch) -> None:
    another_engine(monkeypatch)
    check = items.check_item
    new = Finding("seen-now", Severity.WARNING, None, "a fault that was not seen", "Look.")
    monkeypatch.setattr(items, "check_item", lambda *given: (*check(*given), new))
    _, said = cli("merge", released.folder, "--jobs", "1")
    assert "items 1-5: warning: a fault that was not seen" in said


def test_a_stop_that_only_the_newer_engine_sees_is_told(
    released: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Of an item whose artwork goes with it, too; the list is not blamed for it."""
    another_engine(monkeypatch)
    check = items.check_item
    stop = Finding("seen-now", Severity.STOP, None, "A fault that stops.", "Look.")

    def found(guest: Guest, *given: Any) -> tuple[Finding, ...]:
        return (*check(guest, *given), *([stop] if guest.name == "Anna Berg" else []))

    monkeypatch.setattr(items, "check_item", found)
    _, said = cli("merge", released.folder, "--jobs", "1")
    assert "new since the last merge: item 1: stop: A fault that stops." in said
    assert "because the artwork has changed: item 1" in said
    assert "list" not in said.partition("Since the last merge")[2]
    assert released.to_engrave() == {}


def test_a_dozen_new_findings_are_printed_and_how_many_more(
    capsys: pytest.CaptureFixture[str],
) -> None:
    def seen(number: int) -> Finding:
        return Finding("seen-now", Severity.WARNING, None, f"fault {number}", "Look.")

    for count, more in ((12, ""), (13, "  1 more finding. "), (15, "  3 more findings. ")):
        say_changes(Changes(found=[(number, seen(number)) for number in range(1, count + 1)]))
        told = capsys.readouterr().out
        assert told.count("new since the last merge: item ") == 12
        assert "item 12: warning: fault 12\n" in told
        assert (more in told) if more else (" more" not in told)
    say_changes(Changes(found=[(number, seen(0)) for number in (1, 2, 3, 7)]))
    told = capsys.readouterr().out
    assert "new since the last merge: items 1-3, 7: warning: fault 0\n" in told


def test_the_mark_knows_sources_and_libraries(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Every library and every room from a cell to a file changes it; what only reads does not."""

    def mark() -> str:
        return provenance.engine_mark.__wrapped__()

    before = mark()
    monkeypatch.setattr(provenance, "libraries", lambda: {"numpy": "99"})
    assert mark() != before
    monkeypatch.undo()
    package = tmp_path / "mailmerge"
    for room in ("guests", "blanks", "machines", "lettering", "artwork", "checks", "proofs",
                 "proofs/pack", "orders", "items", "ledger", "deeds"):  # fmt: skip
        (package / room).mkdir(parents=True)
        (package / room / "a.py").write_text("a = 1\n")
    for name in ("voice.py", "findings.py", "units.py", "shelves.py"):
        (package / name).write_text("")
    monkeypatch.setattr(provenance, "__file__", str(package / "provenance.py"))
    before = mark()
    for name in ("ledger/a.py", "deeds/a.py", "proofs/pack/a.py", "proofs/specimen.py"):
        (package / name).write_text("a = 2\n")
        assert mark() == before
    (package / "guests" / "a.py").write_bytes(b"a = 1\r\n")
    assert mark() == before
    for room in ("guests", "blanks", "machines", "lettering", "artwork", "checks", "proofs",
                 "orders", "items"):  # fmt: skip
        (package / room / "a.py").write_text(f"a = {room!r}\n")
        assert mark() != before
        before = mark()


_SHAPES_NOTHING = {
    "fontpkg": "its fonts are in the fingerprint byte by byte",
    "lazy-loader": "it says when a module is imported, not what it does",
    "openpyxl": "the texts that it reads are in the fingerprint",
    "python-calamine": "the same",
    "pydantic": "the values that it checks are in the fingerprint",
    "pydantic_core": "the same",
    "tomlkit": "it writes order.toml",
}


def imported(path: Path) -> set[str]:
    """Return the names of all modules that a source imports from."""
    found = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module == "mailmerge":
            found |= {f"mailmerge.{alias.name}" for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            assert node.module
            found.add(node.module)
    return found


def test_whatever_shapes_an_item_is_in_the_mark() -> None:
    """What the marked sources import is marked as well, or has its reason not to be."""
    package = ROOT / "mailmerge"
    names = set().union(*(imported(path) for path in provenance._sources(package)))
    assert "mailmerge.lettering" in names
    rooms = {name.split(".")[1] for name in names if name.startswith("mailmerge.")}
    marked = {name.removesuffix(".py") for name in provenance._SHAPING}
    # The first only writes and digests, the second is the mark, the last hands on what is read.
    assert rooms - marked == {"files", "provenance", "reading"}
    tops = {name.split(".")[0] for name in names} - {"mailmerge", *sys.stdlib_module_names}
    packages = packages_distributions()
    libraries = {packages[top][0].lower() for top in tops}
    assert {"numpy", "skia-pathops"} <= libraries
    assert libraries - {*_SHAPES_NOTHING} == {*provenance._LIBRARIES}


def test_whatever_shapes_an_item_has_an_upper_bound() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    wanted = {re.split(r"[<>=]", each)[0]: each for each in project["dependencies"]}
    assert [name for name in provenance._LIBRARIES if ",<" not in wanted[name]] == []


def test_versions_are_told() -> None:
    code, plain = cli("--version")
    assert (code, plain) == (0, "mailmerge 0.1.0\n")
    code, told = cli("--version", "--all")
    assert code == 0
    assert f"engine {provenance.engine_mark()}" in told
    for name, number in provenance.libraries().items():
        assert f"{name} {number}" in told
