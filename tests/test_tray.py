"""Record and folder as one: what lies in the tray is what the record says, whatever happens."""

from __future__ import annotations

import datetime as dt
import hashlib
import inspect
import json
import os
import random
import shutil
import sqlite3
from collections.abc import Callable
from contextlib import closing
from itertools import pairwise
from pathlib import Path
from typing import Any, NoReturn

import pytest
from disks import at_step, fill_disk
from outside import cli, refused, run
from shop import GUESTS, Shop

from mailmerge.cli import app
from mailmerge.deeds import bench, copies
from mailmerge.findings import InputError
from mailmerge.ledger.copies import (
    COPIES,
    NEWEST,
    SMALL,
    Copy,
    copies_in,
    is_due,
    name_of,
    outdated,
)
from mailmerge.ledger.ledger import LEDGER, MIGRATIONS, open_ledger
from mailmerge.ledger.synced import marks_in


def copied(shop: Shop, name: str) -> Shop:
    return Shop.copied(shop.folder, shop.folder.parent / name)


def tray(shop: Shop) -> list[str]:
    return sorted(path.name for path in (shop.folder / "to-engrave").iterdir())


def aside(shop: Shop) -> list[str]:
    found = (shop.folder / "to-engrave-not").glob("*/*")
    return sorted(path.name for path in found if path.name != "why.txt")


def released(shop: Shop) -> set[int]:
    return {number for number, stands in shop.standing().items() if stands == "released"}


# A disk that fails


def test_a_release_on_a_full_disk_is_all_or_nothing(
    shop: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    shop.yes(1, 2, 3)
    room = 0
    while True:
        trial = copied(shop, f"full-{room}")
        with monkeypatch.context() as patched:
            fill_disk(patched, room)
            told = said_by(trial.release)
            if not told:
                break
            assert "No space left on device" in told
            assert trial.standing() == shop.standing()
            assert trial.to_engrave() == {}
            assert bench.engraved(trial.folder, None).records == ()  # there is nothing to believe
            assert not list(trial.folder.glob(".staged-*"))
        room += 1
    assert room > 5
    assert trial.to_engrave().keys() == released(trial) == {1, 2, 3}


def said_by(deed: Callable[[], object]) -> str:
    """Return what a deed says where it is refused; ``""`` if it is done."""
    try:
        deed()
    except InputError as error:
        return str(error)
    return ""


def _broken(path: Any) -> NoReturn:
    raise OSError(5, "Input/output error", str(path))


def _killed(_: Any) -> NoReturn:
    os._exit(9)


@pytest.mark.skipif(not hasattr(os, "fork"), reason="processes are started otherwise there")
@pytest.mark.parametrize("fails", [_broken, _killed])
@pytest.mark.parametrize("first", [1, *(pytest.param(n, marks=pytest.mark.long) for n in (2, 3))])
def test_a_release_cut_off_at_any_step_is_mended_by_whatever_comes_next(
    shop: Shop, monkeypatch: pytest.MonkeyPatch, fails: Any, first: int
) -> None:
    shop.yes(1, 2)
    shop.release()
    shop.wish(1, "no, wait")
    shop.yes(3)
    (shop.folder / "to-engrave" / "stray.svg").write_text("<svg/>")
    step, is_whole, halves = first - 3, False, 0
    while not is_whole:
        step += 3
        trial = copied(shop, f"cut-{step}")
        is_whole = _cut_off(trial, monkeypatch, step, fails)
        on_record = released(trial)
        assert on_record in ({2}, {2, 3})
        lying = trial.to_engrave
        numbers = {int(name[4:7]) for name in tray(trial) if name[:3].isdigit()}
        assert numbers <= on_record, "a file lies there that is not on record"
        halves += numbers != on_record
        with trial.changing():
            pass
        assert released(trial) == on_record
        (trial.folder / "to-engrave" / "stray.svg").unlink(missing_ok=True)
        assert lying().keys() == on_record
        assert not list(trial.folder.rglob(".staged-*"))
        assert not list((trial.folder / "to-engrave").rglob("*.part"))
        shutil.rmtree(trial.folder)
    assert on_record == {2, 3}
    assert step > 15
    assert halves  # otherwise nothing was there to be mended


def _cut_off(trial: Shop, patch: pytest.MonkeyPatch, step: int, fails: Any) -> bool:
    """Release in a process of its own that fails at a step; return whether it did not get there."""
    child = os.fork()
    if child == 0:
        try:
            count = at_step(patch, step, fails)
            trial.release()
            os._exit(0 if count[0] < step else 1)
        except InputError:
            os._exit(2)
        finally:
            os._exit(3)
    _, how = os.waitpid(child, 0)
    assert os.waitstatus_to_exitcode(how) in (0, 1, 2, 9)
    return os.waitstatus_to_exitcode(how) == 0


def test_what_is_on_record_and_not_in_the_tray_is_not_called_engraved(shop: Shop) -> None:
    shop.yes(1, 2)
    shop.release()
    shop.to_engrave()[1].unlink()
    artwork = shop.folder / "merged" / shop.records()[1].artwork
    artwork.write_text("<svg/>")
    said = refused("engraved", shop.folder, "1", "2")
    assert "Released, but the file is not in the folder as it should be: item 1." in said
    assert "error: Item 1 is on record as released, but its file is not in to-engrave" in said
    assert released(shop) == {1, 2}
    done = run("engraved", shop.folder, "--all")
    assert (done.returncode, "Engraved: 2 " in done.stdout) == (3, True), done.stdout
    assert (
        "Not recorded, because the file was not in to-engrave as it was confirmed: 1 Anna"
        in done.stdout
    )
    assert released(shop) == {1}
    assert "the file is not in the folder as it should be: item 1." in cli("status", shop.folder)
    shop.merge()
    bench.engraved(shop.folder, None)
    assert shop.standing()[1] == "engraved"


def test_a_cup_whose_file_was_changed_is_not_called_engraved_before_it_is_mended(
    shop: Shop,
) -> None:
    shop.yes(1, 2)
    shop.release()
    path = shop.to_engrave()[1]
    right = path.read_bytes()
    path.write_bytes(right + b"<!-- mine -->")
    for _ in range(2):
        said = refused("engraved", shop.folder, "1")
        assert "error: The file of item 1 in to-engrave was changed after its release" in said
        assert f"right one back: mailmerge release {shop.folder}. Then record the cup:" in said
        assert released(shop) == {1, 2}
    assert path.read_bytes() != right
    assert path.name in cli("release", shop.folder)
    assert path.read_bytes() == right
    run("engraved", shop.folder, "1")
    assert released(shop) == {2}


def test_a_list_of_what_was_laid_out_that_is_a_link_is_told_and_moved_aside(
    shop: Shop, tmp_path: Path
) -> None:
    shop.yes(1, 2)
    shop.release()
    listed, elsewhere = shop.folder / "to-engrave" / "contents.json", tmp_path / "mine.json"
    listed.rename(elsewhere)
    listed.symlink_to(elsewhere)
    mine = elsewhere.read_bytes()
    told = run("status", shop.folder)
    assert 'Not on record, do not engrave this: "contents.json"' in told.stdout + told.stderr
    shop.wish(1, "smaller")
    assert [path.name[:7] for path in shop.to_engrave().values()] == ["002_002"]
    assert not listed.is_symlink()
    assert (aside(shop), elsewhere.read_bytes()) == (["contents.json"], mine)


# What lies in the tray and is not on record

STRAY = (
    "002_003-carla-ek (conflicted copy).svg", "001_001-anna-berg.SVG", "jig.svg", "notes.txt",
    "009_004-dag-falk.svg.bak", ".hidden",
)  # fmt: skip


def stray(shop: Shop, elsewhere: Path) -> None:
    """Put everything into the tray that may come to lie there."""
    for name in STRAY:
        (shop.folder / "to-engrave" / name).write_text(name)
    (shop.folder / "to-engrave" / "more").mkdir()
    (shop.folder / "to-engrave" / "more" / "001.svg").write_text("<svg/>")
    (shop.folder / "to-engrave" / "linked.svg").symlink_to(elsewhere)


def test_whatever_is_not_on_record_is_told_and_a_release_moves_it_aside(
    shop: Shop, tmp_path: Path
) -> None:
    elsewhere = tmp_path / "mine.svg"
    elsewhere.write_text("mine")
    shop.yes(1, 2)
    shop.release()
    on_record = tray(shop)
    stray(shop, elsewhere)
    for call in (("check",), ("time",), ("quote",), ("merge",), ("confirm", "4", "--by", "phone")):
        told = run(call[0], shop.folder, *call[1:])
        assert told.stderr.startswith("Not on record, do not engrave this: "), call
    assert {*STRAY, "more", "linked.svg"} <= {*tray(shop)}
    told = run("status", shop.folder).stdout
    for name in (*STRAY, "more", "linked.svg"):
        assert f'"{name}"' in told
    listed = json.loads(cli("status", shop.folder, "--json"))["tray"]
    assert set(listed["not_on_record"]) == {*STRAY, "more", "linked.svg"}
    told = run("release", shop.folder).stdout
    assert "Not on record, and moved into to-engrave-not: " in told
    assert tray(shop) == sorted([*on_record, shop.to_engrave()[4].name])
    assert aside(shop) == sorted([*STRAY, "more", "linked.svg"])
    (note,) = (shop.folder / "to-engrave-not").glob("*/why.txt")
    assert all(f"\n  {name}\n" in note.read_text() for name in STRAY)
    assert elsewhere.read_text() == "mine"
    assert run("status", shop.folder).stderr == ""
    assert "Not on record" not in cli("status", shop.folder)


SYSTEM_FILES = {
    ".DS_Store": b"\0\0\0\1Bud1\0\0\x10\0",
    "Thumbs.db": b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1\0\0",
    "desktop.ini": "\ufeff[.ShellClassInfo]\r\nIconResource=x\r\n".encode("utf-16-le"),
    "Desktop.ini": b"[ViewState]\r\nMode=\r\n",
}


def test_what_systems_leave_in_every_folder_is_not_told_and_stays(packed: Shop) -> None:
    packed.confirm(1, 2)
    packed.release()
    for name, data in SYSTEM_FILES.items():
        (packed.folder / "to-engrave" / name).write_bytes(data)
    (packed.folder / "to-engrave" / "._001_001-anna-berg.svg").write_bytes(b"no artwork")
    told = run("status", packed.folder).stdout
    assert [name for name in SYSTEM_FILES if name in told] == []
    assert "._001_001-anna-berg.svg" in told
    cli("release", packed.folder)
    assert SYSTEM_FILES.keys() < {*tray(packed)}


def test_what_is_only_called_as_systems_call_theirs_is_told_and_moved_aside(packed: Shop) -> None:
    packed.confirm(1)
    packed.release()
    for name in SYSTEM_FILES:
        (packed.folder / "to-engrave" / name).write_bytes(b"<svg><path/></svg>")
    told = run("status", packed.folder).stdout
    assert all(f'"{name}"' in told for name in SYSTEM_FILES)
    cli("release", packed.folder)
    assert tray(packed) == ["001_001-anna-berg.svg", "contents.json"]
    assert aside(packed) == sorted(SYSTEM_FILES)


def test_a_list_of_the_tray_that_was_deleted_is_told_until_it_is_written_anew(packed: Shop) -> None:
    assert "contents.json is gone" not in cli("status", packed.folder)
    (packed.folder / "to-engrave" / "contents.json").unlink()
    assert "contents.json is gone" in cli("status", packed.folder)
    assert json.loads(cli("status", packed.folder, "--json"))["tray"]["list_is_gone"] is True
    assert "contents.json is gone" in run("confirm", packed.folder, 1, "--by", "Anna Reed").stderr
    assert "contents.json is gone" not in cli("status", packed.folder)


def looks_first(call: Callable[..., Any] | None) -> bool:
    """Whether what a command is wrapped in looks at the tray."""
    while call is not None and call.__code__.co_name != "looking":
        call = getattr(call, "__wrapped__", None)
    return call is not None


def test_every_command_of_an_order_looks_at_the_tray_first() -> None:
    looking = {
        command.name or command.callback.__name__: looks_first(command.callback)
        for command in app.registered_commands
        if command.callback and "order" in inspect.signature(command.callback).parameters
    }
    told_by_themselves = {name for name, looks in looking.items() if not looks}
    assert told_by_themselves == {"status", "go-back", "desk"}
    assert len(looking) > 15


def test_a_file_edited_in_the_tray_is_moved_aside_and_the_confirmed_one_laid_out(
    shop: Shop,
) -> None:
    shop.yes(1)
    shop.release()
    path = shop.to_engrave()[1]
    whole = path.read_bytes()
    path.write_text("edited")
    shop.confirm(2)
    assert path.read_bytes() == whole
    assert aside(shop) == [path.name]


def test_what_was_released_and_edited_leaves_the_tray_when_it_is_taken_back(shop: Shop) -> None:
    shop.yes(1, 2)
    shop.release()
    shop.to_engrave()[1].write_text("edited")
    shop.wish(1, "no, wait")
    shop.wish(2, "no, wait")
    assert tray(shop) == ["contents.json"]
    assert aside(shop) == ["001_001-anna-berg.svg"]


def test_a_tray_that_is_a_link_is_left_alone(shop: Shop, tmp_path: Path) -> None:
    shop.yes(1)
    elsewhere = tmp_path / "stick"
    (shop.folder / "to-engrave").rename(elsewhere)
    (elsewhere / "001_009-other.svg").write_text("of another job")
    (shop.folder / "to-engrave").symlink_to(elsewhere)
    for command in ("release", "status", "merge"):
        assert "to-engrave: This is a link to another place" in refused(command, shop.folder)
    assert (elsewhere / "001_009-other.svg").read_text() == "of another job"


# A ledger that is not the last one


def ledger_of(shop: Shop) -> bytes:
    return (shop.folder / LEDGER).read_bytes()


OLDER = "The ledger is an older one: it ends with change "


def test_an_older_ledger_is_told_before_anything_is_released(shop: Shop) -> None:
    """As a synced folder brings it back: the client's objection is on the one that was lost."""
    shop.yes(1, 2)
    older = ledger_of(shop)
    shop.wish(1, "no, wait")
    shop.release()
    last = shop.standing()
    (shop.folder / LEDGER).write_bytes(older)
    calls = (["release"], ["merge"], ["run-sheet"], ["engraved", "--all"], ["forget", "--yes"],
             ["confirm", "3", "--by", "phone"], ["time"], ["proof"])  # fmt: skip
    for command, *rest in calls:
        said = refused(command, shop.folder, *rest)
        assert OLDER in said
        assert said.endswith(f"mailmerge go-back {shop.folder}\n")
    told = cli("status", shop.folder)
    assert f"Stop: {shop.folder}: {OLDER}" in told
    assert '"001_002-bo-dahl.svg"' in told
    assert ledger_of(shop) == older
    newest = copies_in(shop.folder)[0]
    assert f"{newest.name}" in cli("go-back", shop.folder)
    assert "to change, 1 released" in cli("go-back", shop.folder)
    cli("go-back", shop.folder, newest.name)
    assert shop.standing() == last
    assert tray(shop) == ["001_002-bo-dahl.svg", "contents.json"]
    assert "Stop: " not in cli("status", shop.folder)


def test_the_maker_may_say_that_the_older_ledger_holds(shop: Shop) -> None:
    shop.yes(1, 2)
    older = ledger_of(shop)
    shop.release()
    (shop.folder / LEDGER).write_bytes(older)
    said = cli("go-back", shop.folder, "present")
    assert 'Not on record, and moved into to-engrave-not: "001_001-anna-berg.svg"' in said
    assert tray(shop) == ["contents.json"]
    assert aside(shop) == ["001_001-anna-berg.svg", "002_002-bo-dahl.svg"]
    assert [each.number for each in shop.release().released] == [1, 2]


def test_a_copy_without_the_log_beside_the_ledger_is_told(shop: Shop) -> None:
    """The last change may be in ``ledger.sqlite-wal`` alone."""
    with open_ledger(shop.folder):  # somebody reads it, so the log is not emptied
        shop.wish(1, "no, wait")
        without = shop.folder.parent / "without"
        shutil.copytree(shop.folder, without, ignore=shutil.ignore_patterns("*-wal", "*-shm"))
        whole = shop.folder.parent / "whole"
        shutil.copytree(shop.folder, whole)
    assert OLDER in refused("release", without)
    assert Shop.at(whole).standing()[1] == "to change"


def test_two_copies_of_an_order_that_were_changed_apart_are_told(shop: Shop) -> None:
    other = copied(shop, "other-desk")
    shop.yes(1)
    other.wish(1, "no, wait")
    (shop.folder / LEDGER).write_bytes(ledger_of(other))
    assert "two copies of this order that were changed apart" in refused("release", shop.folder)


APART = "two copies of this order that were changed apart"


def test_a_record_that_went_on_further_elsewhere_does_not_take_the_place_of_this_one(
    shop: Shop,
) -> None:
    """It has seen more changes than this one, but not the last one of this one."""
    shop.yes(1, 2)
    shop.release()
    other = copied(shop, "other-desk")
    shop.wish(2, "the o has a stroke")
    for number in (3, 4, 3):
        other.confirm(number)
    (shop.folder / LEDGER).write_bytes(ledger_of(other))
    for command, *rest in (["release"], ["merge"], ["confirm", "4", "--by", "phone"], ["proof"]):
        assert APART in refused(command, shop.folder, *rest)
    told = cli("status", shop.folder)
    assert APART in told
    assert f"mailmerge go-back {shop.folder}" in told
    assert tray(shop) == ["001_001-anna-berg.svg", "contents.json"]
    cli("go-back", shop.folder, copies_in(shop.folder)[0].name)
    assert shop.standing()[2] == "to change"
    assert shop.release().released == ()
    assert "Stop: " not in cli("status", shop.folder)


def test_what_went_on_elsewhere_is_told_where_nothing_lies_in_the_tray(shop: Shop) -> None:
    """Beside the dated copies stands which change was the last one."""
    other = copied(shop, "other-desk")
    shop.wish(4, "Falck with c")
    other.yes(1)
    other.yes(2)
    (shop.folder / LEDGER).write_bytes(ledger_of(other))
    shutil.rmtree(shop.folder / "to-engrave")
    assert APART in refused("release", shop.folder)
    cli("go-back", shop.folder, "present")
    assert [each.number for each in shop.release().released] == [1, 2]


def test_a_record_whose_folders_are_behind_is_its_own(shop: Shop) -> None:
    """A call was cut off after its change was on record."""
    shop.yes(1)
    contents, newest = shop.folder / "to-engrave" / "contents.json", shop.folder / NEWEST
    before = contents.read_bytes(), newest.read_bytes()
    shop.yes(2)
    shop.yes(3)
    contents.write_bytes(before[0])
    newest.write_bytes(before[1])
    assert [each.number for each in shop.release().released] == [1, 2, 3]


def test_a_record_gone_on_with_is_its_own_though_the_folders_are_behind(shop: Shop) -> None:
    """Going back was cut off after it was on record: the stamps are still the other copy's."""
    other = copied(shop, "other-desk")
    shop.wish(4, "Falck with c")
    other.yes(1, 2)
    other.confirm(3)
    (shop.folder / LEDGER).write_bytes(ledger_of(other))
    stamps = [shop.folder / "to-engrave" / "contents.json", shop.folder / NEWEST]
    before = [path.read_bytes() for path in stamps]
    cli("go-back", shop.folder, "present")
    for path, data in zip(stamps, before, strict=True):
        path.write_bytes(data)
    assert [each.number for each in shop.release().released] == [1, 2, 3]


def test_a_record_from_before_it_kept_its_states_goes_on(shop: Shop) -> None:
    """Of what was before nobody can tell whether it is its own."""
    shop.yes(1)
    before = (shop.folder / "to-engrave" / "contents.json").read_bytes()
    shop.yes(2)
    with sqlite3.connect(shop.folder / LEDGER) as record:
        record.execute("DROP TABLE state")
        at = next(n for n, step in enumerate(MIGRATIONS) if "CREATE TABLE state" in step)
        record.execute(f"PRAGMA user_version = {at}")
    record.close()
    (shop.folder / "to-engrave" / "contents.json").write_bytes(before)
    (shop.folder / NEWEST).write_text("3")
    assert [each.number for each in shop.release().released] == [1, 2]
    other = copied(shop, "other-desk")
    shop.wish(1, "no, wait")
    other.confirm(3)
    other.confirm(4)
    (shop.folder / LEDGER).write_bytes(ledger_of(other))
    assert APART in refused("release", shop.folder)


def test_a_file_that_is_only_called_ours_is_kept(shop: Shop) -> None:
    """A list that names it, or a name like those of beginnings, makes it none of ours."""
    shop.yes(1)
    shop.release()
    strange = {"007_007-ib-holm.svg": b"<svg/>", ".seating plan.part": b"row 1",
               ".001_001-anna-berg.svg.part": b"mine"}  # fmt: skip
    for name, data in strange.items():
        (shop.folder / "to-engrave" / name).write_bytes(data)
    path = shop.folder / "to-engrave" / "contents.json"
    contents = json.loads(path.read_text())
    digest = hashlib.sha256(b"<svg/>").hexdigest()
    contents["files"]["007_007-ib-holm.svg"] = {"seal": "abcd", "digest": digest}
    path.write_text(json.dumps(contents))
    shop.release()
    assert tray(shop) == ["001_001-anna-berg.svg", "contents.json"]
    kept = {path.name: path.read_bytes() for path in shop.folder.glob("to-engrave-not/*/*")}
    assert strange.items() <= kept.items()
    assert "007_007-ib-holm.svg" in kept["why.txt"].decode()


def test_going_back_tells_first_what_lies_in_the_tray(shop: Shop) -> None:
    shop.yes(1)
    shop.release()
    (shop.folder / "to-engrave" / "008_lid.svg").write_text("<svg/>")
    assert '"008_lid.svg"' in run("go-back", shop.folder).stderr
    (shop.folder / LEDGER).write_bytes(b"no ledger at all")
    assert run("go-back", shop.folder).returncode == 0


def test_a_ledger_of_another_order_is_told(shop: Shop, tmp_path: Path, box_font: Path) -> None:
    other = Shop(tmp_path / "other", box_font)
    other.list(GUESTS)
    other.merge()
    shop.yes(1)
    copy = copies_in(shop.folder)[0].name
    shutil.copy(shop.folder / COPIES / copy, other.folder / COPIES)
    with pytest.raises(InputError, match="This is a copy of another order's record"):
        copies.go_back(other.folder, copy)
    (shop.folder / LEDGER).write_bytes(ledger_of(other))
    known = json.loads((shop.folder / "to-engrave" / "contents.json").read_text())["order"]
    assert f"but to-engrave is of order {known}" in refused("release", shop.folder)


@pytest.mark.parametrize("text", ["{", "{}", '{"order": "../x", "stamp": 1, "files": {}}'])
def test_contents_that_are_not_ours_are_told_and_made_anew(shop: Shop, text: str) -> None:
    shop.yes(1)
    shop.release()
    path = shop.folder / "to-engrave" / "contents.json"
    before = json.loads(path.read_text())
    assert list(before["files"]) == ["001_001-anna-berg.svg"]
    path.write_text(text)
    assert "This is not as the program writes it" in refused("release", shop.folder)
    copies.go_back(shop.folder, "present")
    after = json.loads(path.read_text())
    assert (after["order"], after["files"]) == (before["order"], before["files"])
    assert after["stamp"]["state"] > before["stamp"]["state"]
    assert shop.to_engrave().keys() == {1}


# Dated copies


def test_every_change_leaves_a_copy_that_is_whole_by_itself(shop: Shop) -> None:
    shop.yes(1)
    shop.wish(2, "no, wait")
    copy = shop.folder / COPIES / copies_in(shop.folder)[0].name
    with closing(sqlite3.connect(f"file:{copy}?mode=ro", uri=True)) as read:
        assert read.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        (said,) = read.execute("SELECT words FROM word ORDER BY id DESC LIMIT 1").fetchone()
    assert said == "no, wait"
    assert not list((shop.folder / COPIES).glob("*-wal"))


def test_a_large_record_is_copied_where_something_was_said_and_else_once_a_minute(
    shop: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    shop.yes(1, 2)
    monkeypatch.setattr("mailmerge.ledger.copies.SMALL", 1_000)
    before = copies_in(shop.folder)[0].name
    shop.release()
    bench.engraved(shop.folder, ["1"])
    assert copies_in(shop.folder)[0].name == before
    for say in (lambda: shop.wish(2, "no, wait"), lambda: shop.yes(3)):
        say()
        assert copies_in(shop.folder)[0].name > before
        before = copies_in(shop.folder)[0].name
        with closing(
            sqlite3.connect(f"file:{shop.folder / COPIES / before}?mode=ro", uri=True)
        ) as db:
            (known,) = db.execute("SELECT max(id) FROM arrival").fetchone()
        with open_ledger(shop.folder) as ledger:
            assert known == ledger._db.execute("SELECT max(id) FROM arrival").fetchone()[0]


def test_an_older_record_is_told_where_no_copy_and_no_tray_knows_better(
    shop: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The last change left no copy, and a synced folder brings back the tray with the ledger."""
    shop.yes(1, 2)
    monkeypatch.setattr("mailmerge.ledger.copies.SMALL", 1_000)
    older, laid = ledger_of(shop), (shop.folder / "to-engrave" / "contents.json").read_bytes()
    shop.release()
    (shop.folder / LEDGER).write_bytes(older)
    for path in (shop.folder / "to-engrave").iterdir():
        path.unlink()
    (shop.folder / "to-engrave" / "contents.json").write_bytes(laid)
    assert OLDER in refused("release", shop.folder)
    cli("go-back", shop.folder, "present")
    shop.release()


def test_when_a_copy_is_due() -> None:
    at = dt.datetime(2026, 11, 27, 10, 0)
    last = [Copy("x", at, 7)]
    large, second = SMALL + 1, dt.timedelta(seconds=1)
    assert is_due([], at, large, False)
    assert not is_due(last, at + 59 * second, large, False)
    assert is_due(last, at + 60 * second, large, False)
    assert is_due(last, at + second, large, True)
    assert is_due(last, at + second, SMALL, False)
    assert is_due(last, at - second, large, False)  # the clock was put back
    before = [Copy(name_of(at, 7, is_kept=True), at, 7)]
    assert is_due(before, at + second, large, False)  # it is what the order went back from


def test_copies_are_thinned_by_their_age() -> None:
    """Some ten changes a day for a hundred days, as they come."""
    some = random.Random(12)
    start = dt.datetime(2026, 9, 1, 8, 0)
    kept: list[Copy] = []
    state = 0
    for day in range(100):
        for hour in sorted(some.sample(range(12), 10)):
            state += 1
            at = start + dt.timedelta(days=day, hours=hour)
            kept.insert(0, Copy(f"{state}", at, state))
            gone = outdated(kept, at.date())
            kept = [copy for copy in kept if copy not in gone]
            assert len(kept) <= 3 + 7 + 6
            assert [copy.state for copy in kept[:3]] == list(range(state, max(0, state - 3), -1))
            days = {copy.at.date() for copy in kept}
            week = {at.date() - dt.timedelta(days=back) for back in range(min(day, 6) + 1)}
            assert week <= days
            if day > 35:
                ages = sorted((at.date() - each).days for each in days)
                assert 29 <= ages[-1] <= 35
                assert max(b - a for a, b in pairwise(ages)) <= 7


def test_a_damaged_ledger_is_gone_back_from(shop: Shop) -> None:
    shop.yes(1, 2)
    shop.release(1)
    shop.wish(3, "no, wait")
    last = shop.standing()
    (shop.folder / LEDGER).write_bytes(b"not a database at all" * 400)
    said = refused("status", shop.folder)
    assert said.endswith(f"Go back to a dated copy: mailmerge go-back {shop.folder}\n")
    newest = copies_in(shop.folder)[0].name
    assert newest in cli("go-back", shop.folder)
    assert "The damaged ledger lies in " in cli("go-back", shop.folder, newest[:24])
    assert shop.standing() == last
    assert shop.to_engrave().keys() == {1}
    (damaged,) = (shop.folder / COPIES).glob("damaged-*/*")
    assert damaged.read_bytes().startswith(b"not a database")
    shop.release(2)


def test_a_ledger_that_is_gone_is_not_begun_anew(shop: Shop) -> None:
    shop.yes(1)
    (shop.folder / LEDGER).unlink()
    for command in ("merge", "status", "release"):
        assert "The ledger of this order is gone, but there are copies" in refused(
            command, shop.folder
        )
    assert not (shop.folder / LEDGER).exists()
    copies.go_back(shop.folder, copies_in(shop.folder)[0].name)
    assert shop.standing()[1] == "confirmed"


def test_going_back_keeps_the_present_record_and_brings_the_tray_in_step(shop: Shop) -> None:
    shop.yes(1, 2)
    before = copies_in(shop.folder)[0].name
    shop.release()
    shop.list([*GUESTS, {"Name": "Finn Hall", "Role": "Oboe"}])
    shop.merge()
    said = cli("go-back", shop.folder, before)
    (last,) = [copy.name for copy in copies_in(shop.folder) if copy.is_kept]
    assert "The one before is kept among the copies" in said
    assert (shop.standing()[1], len(shop.records())) == ("confirmed", 5)
    assert tray(shop) == ["contents.json"]
    assert aside(shop) == ["001_001-anna-berg.svg", "002_002-bo-dahl.svg"]
    shop.list([*GUESTS, {"Name": "Gro Holm", "Role": "Oboe"}])
    assert shop.merge().changes.new == [7]  # 6 was given to another cup meanwhile
    shop.yes(3, 4, 5)
    shop.release()
    shop.engraved(3)
    cli("go-back", shop.folder, last)
    assert shop.standing()[1] == "released"
    assert shop.records()[6].name == "Finn Hall"
    assert shop.to_engrave().keys() == {1, 2}


def test_what_an_order_went_back_from_is_kept_for_weeks() -> None:
    at = dt.datetime(2026, 12, 5, 9, 40)
    kept = Copy(name_of(at, 5, is_kept=True), at, 5)
    others = [Copy(name_of(at, state), at, state) for state in range(20, 10, -1)]
    assert kept not in outdated([*others, kept], at.date())
    assert len(outdated([*others, kept], at.date())) == 7
    assert kept in outdated([*others, kept], at.date() + dt.timedelta(weeks=6))


def test_a_damaged_copy_changes_nothing(shop: Shop) -> None:
    shop.yes(1)
    path = shop.folder / COPIES / copies_in(shop.folder)[0].name
    whole = path.read_bytes()
    path.write_bytes(whole[: len(whole) // 2])
    before = shop.standing()
    assert "This copy is damaged" in refused("go-back", shop.folder, path.name)
    assert "This copy is damaged" in " ".join(cli("go-back", shop.folder).split())
    assert shop.standing() == before
    for name in ("", "2026", "../x"):
        assert "of the record" in refused("go-back", shop.folder, name)


def test_copies_and_what_was_moved_aside_are_forgotten_with_the_order(shop: Shop) -> None:
    shop.yes(1, 2)
    shop.release()
    shop.to_engrave()[1].write_text("edited")
    shop.wish(1, "no, wait")
    assert aside(shop)
    assert copies_in(shop.folder)
    assert run("forget", shop.folder, "--yes").returncode == 0
    left = sorted(path.name for path in shop.folder.iterdir())
    assert left == ["layout.toml", LEDGER, "order.toml"]


# Synced folders


def test_status_tells_the_marks_that_synced_folders_leave(shop: Shop) -> None:
    """Common practice, from memory: such names come of files that were changed on two desks."""
    assert "synced folder" not in cli("status", shop.folder)
    marked = ["layout (Anna's conflicted copy 2026-12-05).toml", "order (1).toml",
              "order-DESKTOP-ABC123.toml", "notes.sync-conflict-20261205-094000-ABCDEF.txt",
              "ledger-LAPTOP-7.sqlite", "ledger.sqlite.old"]  # fmt: skip
    for name in marked:
        (shop.folder / name).write_text("x")
    (shop.folder / "merged" / "artwork" / "009-pat-desktop-abc.svg").write_text("x")
    told = cli("status", shop.folder)
    assert "A synced folder may have put these beside the files that count" in told
    listed = json.loads(cli("status", shop.folder, "--json"))["changed_twice"]
    assert sorted(listed) == sorted(marked)
    shutil.move(shop.folder / "list.csv", shop.folder / "list (2).csv")
    order = shop.folder / "order.toml"
    order.write_text(order.read_text().replace("list.csv", "list (2).csv"))
    assert sorted(json.loads(cli("status", shop.folder, "--json"))["changed_twice"]) == sorted(
        marked
    )


def test_a_folder_that_goes_away_while_it_is_searched_is_passed_over(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / ".staged-1f" / "merged").mkdir(parents=True)
    (tmp_path / "order (1).toml").write_text("")
    scan = os.scandir

    def scan_late(at: Any) -> Any:
        if str(at).endswith(".staged-1f"):  # a release in another process was quicker
            shutil.rmtree(at)
        return scan(at)

    monkeypatch.setattr(os, "scandir", scan_late)
    assert marks_in(tmp_path) == ["order (1).toml"]
    assert not (tmp_path / ".staged-1f").exists()
