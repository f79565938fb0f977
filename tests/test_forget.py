"""Forgetting an order: no name is left in its folder, wherever it was."""

from __future__ import annotations

import os
import random
import re
import shutil
import sqlite3
import subprocess
import sys
import unicodedata
import zipfile
from contextlib import closing
from pathlib import Path

import pytest
from outside import run
from shop import GUESTS, Shop
from typer.testing import CliRunner

from mailmerge.cli import app
from mailmerge.deeds import forgetting, status
from mailmerge.deeds.forgetting import Forgot
from mailmerge.deeds.questions import Question
from mailmerge.deeds.status import Forgotten
from mailmerge.findings import InputError
from mailmerge.ledger.forgetting import (
    Names,
    Search,
    forget as forget_all,
    names_of,
    search,
    search_files,
    searched,
)
from mailmerge.ledger.ledger import LEDGER, LedgerChange, open_ledger
from mailmerge.ledger.tray import changing
from mailmerge.ledger.who import Choices
from mailmerge.merge import bring_up_to_date
from mailmerge.orders import open_order

WORDS = ("Anna", "Berg", "Bergh", "Dahl", "Carla", "Falk", "Gran", "Anouk")


def forget(shop: Shop, leave_others: bool = False) -> Forgot:
    forgot = forgetting.forget(shop.folder, is_sure=True, leave_others=leave_others)
    assert isinstance(forgot, Forgot)
    return forgot


@pytest.fixture(scope="module")
def used_once(tmp_path_factory: pytest.TempPathFactory, packed_once: Path) -> Path:
    """Return an order with everything in it that an order can have; it is copied, never changed."""
    packed = Shop.copied(packed_once, tmp_path_factory.mktemp("used-once") / "concert")
    packed.wish(1, "Bergh with an h", name="Anna Bergh")
    packed.accept(1)
    packed.yes(1, 2, 3)
    packed.release()
    packed.engraved(1)
    packed.spoiled(2)
    packed.list([*GUESTS, {"Name": "Late Guest", "Role": "Oboe"}])
    packed.merge()
    (packed.folder / "answers-AAAA-BBBB.json").write_text('{"by": "Anouk"}')
    return packed.folder


@pytest.fixture
def used(tmp_path: Path, used_once: Path) -> Shop:
    """Return a workshop with that order, to be changed."""
    return Shop.copied(used_once, tmp_path / "concert")


def test_nothing_is_left_but_counts(used: Shop) -> None:
    forgot = forget(used)
    assert forgot.is_clean
    assert forgot.files > 0 < forgot.names
    assert sorted(path.name for path in used.folder.iterdir()) == [
        "layout.toml", LEDGER, "order.toml",
    ]  # fmt: skip
    # Looked for by another program, in every byte.
    for word in WORDS:
        found = subprocess.run(["grep", "-rail", word, used.folder], capture_output=True, text=True)
        assert found.stdout == "", word
    with closing(sqlite3.connect(used.folder / LEDGER)) as read:
        tables = [name for (name,) in read.execute(
            "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%'"
        )]  # fmt: skip
        assert len(tables) > 10
        full = {name for name in tables if read.execute(f"SELECT 1 FROM {name}").fetchone()}
    assert full == {"fact"}
    left = status.status(used.folder)
    assert isinstance(left, Forgotten)
    counts = {key: left.kept[key] for key in ("items", "engraved", "blanks spoiled")}
    assert counts == {"items": 6, "engraved": 1, "blanks spoiled": {"Test cup, black": 1}}
    with pytest.raises(InputError, match="was forgotten on"):
        used.merge()


def test_the_ledger_had_names_in_free_pages_and_log_before(used: Shop) -> None:
    """Otherwise the search would prove nothing: deleting alone leaves them there."""
    copy = used.folder.parent / "copy.sqlite"
    copy.write_bytes((used.folder / LEDGER).read_bytes())
    connection = sqlite3.connect(copy)
    connection.execute("PRAGMA secure_delete = OFF")
    for table in ("event", "word", "arrival", "correction", "shown", "pack", "item", "guest"):
        connection.execute(f"DELETE FROM {table}")
    connection.commit()
    connection.close()
    assert b"Carla" in copy.read_bytes()


@pytest.mark.long
def test_a_reader_that_holds_the_old_pages_is_noticed(used: Shop) -> None:
    before = used.files()
    reader = sqlite3.connect(used.folder / LEDGER)
    try:
        reader.execute("BEGIN")
        reader.execute("SELECT count(*) FROM item").fetchone()
        with pytest.raises(InputError, match="Another program has the ledger open"):
            forget(used)
        assert used.files() == before
    finally:
        reader.close()
    assert forget(used).is_clean


def test_a_file_of_the_makers_own_with_a_name_in_it_is_told_before_anything_goes(
    used: Shop,
) -> None:
    before = used.files()
    notes = used.folder / "notes.txt"
    notes.write_text("Carla wants hers gift-wrapped")
    with pytest.raises(InputError, match=r'notes\.txt \("carla"\)'):
        forget(used)
    assert used.files() == before
    forgot = forget(used, leave_others=True)
    assert [(trace.path, trace.name) for trace in forgot.traces] == [(notes, "carla")]
    assert not forgot.is_clean
    assert notes.exists()


def test_a_second_ledger_in_the_folder_is_a_file_of_the_makers_own(used: Shop) -> None:
    for name in ("ledger.sqlite.bak", "ledger (conflicted copy).sqlite"):
        shutil.copy(used.folder / LEDGER, used.folder / name)
        with pytest.raises(InputError, match=f"hold names: {re.escape(name)} "):
            forget(used)
        (used.folder / name).unlink()
    assert forget(used).is_clean


def test_it_asks_first(used: Shop) -> None:
    before = used.files()
    asked = forgetting.forget(used.folder)
    assert isinstance(asked, Question)
    assert [(option.key, option.answer) for option in asked.options] == [("y", True)]
    assert used.files() == before


def test_the_command_says_what_it_did(used: Shop) -> None:
    """Without --yes nothing happens where nobody can be asked; names that are left are an alarm."""

    def run(*options: str) -> tuple[int, str]:
        result = CliRunner().invoke(app, ["forget", str(used.folder), *options])
        return result.exit_code, f"{result.exception} {result.output}"

    code, said = run()
    assert (code, "Add --yes" in said) == (1, True)
    (used.folder / "notes.txt").write_text("Carla wants hers gift-wrapped")
    code, said = run("--yes", "--leave-others")
    assert (code, "Still there: " in said) == (3, True)


def test_an_order_that_was_cut_off_while_forgetting_can_be_forgotten_again(
    used: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:

    def cut(*_: object) -> None:
        raise KeyboardInterrupt

    with monkeypatch.context() as patched:
        patched.setattr(LedgerChange, "clear", cut)
        with pytest.raises(KeyboardInterrupt):
            forget(used)
    assert not (used.folder / "merged").exists()
    assert forget(used).is_clean


NAMES = Names(
    frozenset({"zoë lind", "zoe-lind", "李明", "प्रिया"}),
    frozenset({"zoë", "lind"}),
    frozenset({"Bo"}),
)


def found(folder: Path) -> list[str]:
    return [trace.path.name for trace in search_files(folder, NAMES).traces]


@pytest.mark.parametrize(
    ("name", "data"),
    [
        ("a.txt", "ZOË LIND".encode()),
        ("a.txt", b"Lind"),
        ("a.txt", "Zoe\u0308 Lind".encode()),
        ("a.txt", "Zoë\n  Lind".encode("cp1252")),
        ("a.txt", "Zoë Lind".encode("utf-16")),
        ("a.json", b'{"name": "Zo\\u00eb Lind"}'),
        ("a.xml", b"<n>Zo&#xeb; Lind</n>"),
        ("a.bin", b"\0\1\2\xff" + "Zoë Lind".encode() + b"\0\xfe"),
        ("a.bin", b"\0\1\2" + "Zoë Lind".encode("utf-16-le") + b"\0\xff"),
        ("001-zoe-lind.svg", b"<svg/>"),
        ("proof of Lind.png", b"\x89PNG"),
        ("a.txt", b"from Bo, with love"),
        ("a.txt", "我是李明。".encode()),
        ("a.txt", "प्रिया को".encode()),
    ],
)
def test_the_search_finds_names_however_they_are_written(
    tmp_path: Path, name: str, data: bytes
) -> None:
    (tmp_path / "sub").mkdir()
    (tmp_path / "sub" / name).write_bytes(data)
    assert found(tmp_path) == [name]


HARD = "aAeEsSßſkK\u212aiİıfﬁéÉ\u0301\u0308\u0323\u0345 \u00a0각가αᾳιΐǰj\u030cÅ\u212bå-\0漢"
"""Letters that are written in several ways, that become several ones, and what lies between."""


@pytest.mark.long
def test_a_name_is_found_by_its_letters_alone_just_where_it_is_in_the_whole_text() -> None:
    drawn = random.Random(1)

    def some(most: int) -> str:
        return "".join(drawn.choice(HARD) for _ in range(drawn.randint(1, most)))

    held = 0
    for _ in range(400):
        name = " ".join(unicodedata.normalize("NFC", some(5)).split())
        if not name:
            continue
        whole, word = (frozenset({each}) for each in (name.casefold(), name))
        kinds = [Names(whole, frozenset(), frozenset()), Names(frozenset(), whole, frozenset())]
        for names in (*kinds, Names(frozenset(), frozenset(), word)):
            written = drawn.choice([name, name.upper(), unicodedata.normalize("NFD", name)])
            written = written.replace(" ", drawn.choice(["\n", "\u00a0 ", " "]))
            text = some(4) + drawn.choice(["", written]) + some(4)
            plain = " ".join(unicodedata.normalize("NFC", text).casefold().split())
            words = set(re.findall(r"[^\W_]+", plain)) & names.words
            short = set(re.findall(r"[^\W_]+", unicodedata.normalize("NFC", text))) & names.short
            is_held = any(each in plain for each in names.whole) or bool(words | short)
            assert bool(names.found_in(text)) == is_held, ascii((names, text))
            held += is_held
    assert held > 100


def test_the_search_looks_into_archives_and_finds_nothing_where_nothing_is(
    tmp_path: Path,
) -> None:
    (tmp_path / "a.txt").write_text("Linda and the lindworm")
    assert search_files(tmp_path, NAMES) == Search((), (), 1)
    with zipfile.ZipFile(tmp_path / "b.xlsx", "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("xl/sharedStrings.xml", "<si><t>Zoë Lind</t></si>")
    assert found(tmp_path) == ["b.xlsx"]


def test_the_search_says_what_it_cannot_look_into(tmp_path: Path) -> None:
    (tmp_path / "a.pdf").write_bytes(b"%PDF-1.7\n\0\1\2\xff")
    (tmp_path / "b.zip").write_bytes(b"PK\x03\x04" + bytes(60))
    with zipfile.ZipFile(tmp_path / "c.zip", "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("a.txt", "nothing " * 400)
    whole = (tmp_path / "c.zip").read_bytes()
    (tmp_path / "c.zip").write_bytes(whole[:40] + b"\xff" * 8 + whole[48:])
    (tmp_path / "d.txt").write_text("the client, bo and nobody")
    locked = bytearray(whole)
    for at in (6, whole.index(b"PK\x01\x02") + 8):
        locked[at] |= 1  # the flag of an entry with a password
    (tmp_path / "e.zip").write_bytes(locked)
    result = search_files(tmp_path, NAMES)
    assert result.traces == ()
    assert [path.name for path in result.unread] == ["a.pdf", "b.zip", "c.zip", "e.zip"]
    assert result.files == 5


def test_what_is_linked_is_told_and_left_alone_with_all_that_it_leads_to(
    used: Shop, tmp_path: Path
) -> None:
    elsewhere = tmp_path / "photos"
    elsewhere.mkdir()
    (elsewhere / "ours of 1998.jpg").write_bytes(b"never yours")
    shutil.rmtree(used.folder / "proof-pack")
    (used.folder / "proof-pack").symlink_to(elsewhere)
    (used.folder / "merged" / "proofs" / "more").symlink_to(elsewhere)
    told = run("forget", used.folder, "--yes")
    assert told.returncode == 3
    for link in ("proof-pack", "merged/proofs/more"):
        said = (
            f"This is a link to another place. It was not followed and not touched: {used.folder}"
        )
        assert f"{said}/{link}\n" in told.stdout
        assert (used.folder / link).is_symlink()
    assert [path.name for path in elsewhere.iterdir()] == ["ours of 1998.jpg"]
    assert [path.name for path in (used.folder / "merged").rglob("*")] == ["proofs", "more"]


def test_what_the_maker_wrote_of_a_call_is_no_name(used: Shop) -> None:
    used.confirm(4)
    assert forget(used).is_clean


def test_names_of_earlier_lists_are_searched_for_as_well(used: Shop) -> None:
    used.list([{"Name": "Gertrud Plus", "Role": "Violin"}, *GUESTS[1:]])
    used.merge(Choices(same={1: 2}, unsure_are_gone=True))
    used.list([{"Name": "Pat Smith", "Role": "Violin"}, *GUESTS[1:]])
    used.merge(Choices(same={1: 2}))
    with open_ledger(used.folder) as ledger:
        assert {"gertrud", "anna"} <= names_of(ledger).words


def test_what_is_forgotten_cannot_be_searched_for_again(used: Shop) -> None:
    (used.folder / "remarks.txt").write_text("Carla Ek is vegetarian")
    assert not forget(used, leave_others=True).is_clean
    with pytest.raises(InputError, match="This order is forgotten already"):
        forget(used)


OTHER = """
import sqlite3, sys
other = sqlite3.connect(sys.argv[1], timeout=0, isolation_level=None)
try:
    other.execute("BEGIN IMMEDIATE")
except sqlite3.OperationalError as error:
    print(error)
"""


def test_searching_the_folder_lets_no_lock_on_the_ledger_go(used: Shop) -> None:
    """A process that closes a file loses its locks on it, whoever of it has opened the file."""
    os.link(used.folder / LEDGER, used.folder / "same file.sqlite")
    with open_ledger(used.folder) as ledger, ledger.writing() as change:
        search(change, names_of(change))
        call = [sys.executable, "-c", OTHER, used.folder / LEDGER]
        other = subprocess.run(call, capture_output=True, text=True, check=True)
    assert other.stdout == "database is locked\n"


@pytest.mark.long
def test_forgetting_beside_a_merge_removes_nothing(used: Shop) -> None:
    """Of two processes: this one merges, and the other one is refused while it does."""
    before = used.files()
    used.list([{**row, "Role": "Tutti"} for row in GUESTS])
    call = [sys.executable, "-m", "mailmerge", "forget", used.folder, "--yes"]
    with open_ledger(used.folder) as ledger:
        with changing(ledger) as change:
            beside = subprocess.run(call, capture_output=True, text=True)
            assert used.files() == before
            bring_up_to_date(open_order(used.folder), change, 1, choices=Choices())
        assert beside.returncode == 2
        assert "Something else is changing this order right now" in beside.stderr
    with closing(sqlite3.connect(used.folder / LEDGER)) as connection:
        assert connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
    assert (used.folder / "list.csv").exists()
    assert used.records()[4].about["role"] == "Tutti"


def test_what_a_merge_puts_on_record_while_the_folder_is_searched_is_not_left(used: Shop) -> None:
    with open_ledger(used.folder) as ledger:
        before = searched(ledger, leave_others=False)
        used.list([*GUESTS, {"Name": "Late Guest", "Role": "Oboe"}, {"Name": "Ivo Jarl"}])
        used.merge()
        with pytest.raises(InputError, match="was changed while it was searched"):
            forget_all(before)
    assert (used.folder / "list.csv").exists()
    assert forget(used).is_clean
