"""The record of an item: its schema, older ledgers, and what a newer engine makes of both."""

from __future__ import annotations

import json
import sqlite3
from pathlib import Path

import jsonschema
import pytest
from conftest import DEMO, ROOT
from shop import Shop
from typer.testing import CliRunner

from mailmerge import provenance
from mailmerge.cli import app
from mailmerge.deeds import making
from mailmerge.deeds.questions import Question
from mailmerge.deeds.status import status
from mailmerge.findings import Finding, InputError, Severity
from mailmerge.items import making as items
from mailmerge.items.schema import report_schema
from mailmerge.ledger.ledger import LEDGER, MIGRATIONS, open_ledger

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


def test_the_schema_that_travels_is_that_of_the_models() -> None:
    assert SCHEMA_FILE.read_text(encoding="utf-8") == report_schema()
    jsonschema.Draft202012Validator.check_schema(json.loads(report_schema()))


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
    report = report_of(guests, tmp_path / "out", blank=blank, layout=layout)
    assert report["schema"] == 1
    assert {item["status"] for item in report["items"]} >= {"stopped"}
    jsonschema.validate(report, json.loads(SCHEMA_FILE.read_text(encoding="utf-8")))


def test_the_schema_refuses_what_is_no_report(tmp_path: Path) -> None:
    report = report_of(DEMO / "guests.xlsx", tmp_path / "out")
    schema = json.loads(SCHEMA_FILE.read_text(encoding="utf-8"))
    jsonschema.validate(report, schema)
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
            jsonschema.validate(spoiled, schema)


def test_a_checked_order_is_told_with_its_schema() -> None:
    code, told = cli("check", DEMO / "guests.xlsx", "--json")
    assert code == 3
    checked = json.loads(told)
    assert checked["schema"] == 1
    assert checked["items"][0]["artwork"] is None


def older(shop: Shop) -> None:
    """Make a ledger what the program wrote before records had a number: without the last step."""
    with sqlite3.connect(shop.folder / LEDGER) as old:
        old.execute("DELETE FROM fact WHERE key IN ('schema', 'engine')")
        old.execute("PRAGMA user_version = 2")
    old.close()


def test_an_older_ledger_is_brought_along_and_no_word_is_lost(shop: Shop) -> None:
    shop.merge()
    shop.pack()
    shop.yes(1, 2)
    shop.release(1)
    before, tray = shop.standing(), shop.to_engrave()[1].stat()
    older(shop)
    assert shop.merge().changes.made == 0
    assert shop.standing() == before
    assert shop.to_engrave()[1].stat() == tray
    with open_ledger(shop.folder) as ledger:
        assert ledger.fact("schema") == "1"
        assert len(MIGRATIONS) == 3


def test_a_ledger_of_a_newer_program_is_refused(shop: Shop) -> None:
    shop.merge()
    with sqlite3.connect(shop.folder / LEDGER) as newer:
        newer.execute("PRAGMA user_version = 99")
    newer.close()
    with pytest.raises(InputError, match="newer version"):
        shop.merge()


@pytest.fixture
def released(shop: Shop) -> Shop:
    shop.merge()
    shop.pack()
    shop.yes(1, 2)
    shop.release(1)
    return shop


def another_engine(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(provenance, "engine_mark", lambda: "another one")


def test_an_update_that_changes_no_byte_leaves_yes_and_release(
    released: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = released.standing()
    tray = released.to_engrave()[1].stat()
    another_engine(monkeypatch)
    changes = released.merge().changes
    assert (changes.made, changes.new, changes.changed) == (len(before), [], [])
    assert changes.withdrawn == []
    assert released.standing() == before
    assert released.to_engrave()[1].stat() == tray
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
    with pytest.raises(InputError, match=r"the program was updated .*of which 1 lie in to-engrave"):
        released.release()
    assert released.standing()[2] == "confirmed"
    found = status(released.folder)
    assert not found.is_engine_current
    assert found.is_current
    assert "The program was updated" in cli("status", released.folder)[1]
    released.merge()
    assert [record.number for record in released.release().released] == [2]


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
    assert "item 3: warning: a fault that was not seen" in said


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
    for name in ("findings.py", "units.py", "shelves.py"):
        (package / name).write_text("")
    monkeypatch.setattr(provenance, "__file__", str(package / "provenance.py"))
    before = mark()
    for room in ("ledger", "deeds", "proofs/pack"):
        (package / room / "a.py").write_text("a = 2\n")
        assert mark() == before
    (package / "guests" / "a.py").write_bytes(b"a = 1\r\n")
    assert mark() == before
    for room in ("guests", "blanks", "machines", "lettering", "artwork", "checks", "proofs",
                 "orders", "items"):  # fmt: skip
        (package / room / "a.py").write_text(f"a = {room!r}\n")
        assert mark() != before
        before = mark()


def test_versions_are_told() -> None:
    code, plain = cli("--version")
    assert (code, plain) == (0, "mailmerge 0.1.0\n")
    code, told = cli("--version", "--all")
    assert code == 0
    assert f"engine {provenance.engine_mark()}" in told
    for name, number in provenance.libraries().items():
        assert f"{name} {number}" in told
