"""The order's memory: what a merge leaves alone, and what it survives."""

from __future__ import annotations

import contextlib
import os
import random
import runpy
import shutil
import signal
import sqlite3
import subprocess
import sys
import time
from contextlib import closing
from pathlib import Path

import pytest
from conftest import Samples
from disks import fill_disk
from outside import run
from shop import GUESTS, Shop

from mailmerge.deeds import client, making, status
from mailmerge.findings import InputError
from mailmerge.ledger import ledger as ledgers
from mailmerge.ledger.ledger import LEDGER, open_ledger
from mailmerge.ledger.who import Choices
from mailmerge.merge import update
from mailmerge.orders import open_order
from mailmerge.progress import CalledOff


def stamps(shop: Shop) -> dict[str, tuple[int, int]]:
    """Return when, and as which file of the disk, everything made was last written."""
    return {
        name: ((shop.folder / name).stat().st_mtime_ns, (shop.folder / name).stat().st_ino)
        for name in shop.files()
    }


def test_a_merge_without_a_change_touches_no_file(shop: Shop) -> None:
    before = stamps(shop)
    changes = shop.merge().changes
    assert (changes.new, changes.changed, changes.gone, changes.as_before) == ([], [], [], 5)
    assert changes.made == 0
    assert stamps(shop) == before


def test_only_what_changed_is_made_and_named(shop: Shop) -> None:
    before = stamps(shop)
    rows = [dict(row) for row in GUESTS]
    rows[1]["Role"] = "Horn II"
    del rows[3]
    rows.append({"Name": "Finn Hall", "Role": "Oboe"})
    shop.list(rows)
    changes = shop.merge().changes
    assert (changes.new, changes.changed, changes.gone) == ([6], [2], [4])
    assert changes.as_before == 3
    after = stamps(shop)
    touched = {name for name in after if after[name] != before.get(name)}
    assert {name for name in touched if name.endswith(".svg")} == {
        "merged/artwork/002-bo-dahl.svg", "merged/artwork/006-finn-hall.svg",
    }  # fmt: skip
    assert not list((shop.folder / "merged").rglob("004-*"))


def test_a_row_with_the_same_name_is_told_at_the_cup_that_was_made_before(shop: Shop) -> None:
    """The first Anna's own row is as it was; that there are two of her is news for her cup."""

    def said() -> list[str]:
        found = shop.records()[1].entry.findings
        return [each.message for each in found if each.code == "duplicate"]

    assert said() == []
    again = {"Name": "Anna Berg", "Role": "Choir"}
    shop.list([*GUESTS, again])
    shop.merge()
    assert said() == ["The same name stands in row 7."]
    shop.list([*GUESTS, {"Name": "Finn Hall", "Role": "Oboe"}, again])
    shop.merge()
    assert said() == ["The same name stands in row 8."]
    shop.list(GUESTS)
    shop.merge(Choices(gone=frozenset({6, 7})))
    assert said() == []


def test_a_sorted_list_touches_no_artwork(shop: Shop) -> None:
    before = {name: stamp for name, stamp in stamps(shop).items() if name.endswith("g")}
    shop.list(reversed(GUESTS))
    changes = shop.merge().changes
    assert changes.as_before == 5
    assert {name: stamp for name, stamp in stamps(shop).items() if name.endswith("g")} == before
    assert shop.records()[1].entry.row == 6


def test_the_same_files_come_out_whatever_was_before(shop: Shop, tmp_path: Path) -> None:
    shop.list([{**row, "Role": "Tutti"} for row in GUESTS])
    shop.merge()
    shop.list(GUESTS)
    shop.merge()
    again = Shop(tmp_path / "again", Path())
    shutil.copytree(shop.folder, again.folder, dirs_exist_ok=True)
    for name in ("merged", "to-engrave", "record-copies"):
        shutil.rmtree(again.folder / name)
    (again.folder / LEDGER).unlink()
    again.merge(jobs=2)
    assert again.files() == shop.files()


def test_files_that_somebody_changed_or_removed_are_made_again(shop: Shop) -> None:
    before = shop.files()
    (shop.folder / "merged/artwork/002-bo-dahl.svg").write_text("<svg/>")
    (shop.folder / "merged/proofs/003-carla-ek.png").unlink()
    assert shop.merge().changes.mended == [2, 3]
    assert shop.files() == before


def test_the_workbook_of_the_client_is_never_changed(shop: Shop) -> None:
    path = shop.folder / "list.csv"
    before = path.read_bytes(), path.stat().st_mtime_ns
    shop.pack()
    shop.wish(1, name="Anna Bergh")
    shop.accept(1)
    assert (path.read_bytes(), path.stat().st_mtime_ns) == before


def test_a_number_is_never_given_twice(shop: Shop) -> None:
    shop.list(GUESTS[:4])
    shop.merge()
    shop.list([*GUESTS[:4], {"Name": "Finn Hall", "Role": "Oboe"}])
    shop.merge()
    assert shop.standing()[5] == "gone"
    assert shop.records()[6].name == "Finn Hall"
    shop.list([*GUESTS, {"Name": "Finn Hall", "Role": "Oboe"}])
    shop.merge()
    assert shop.records()[5].name == "Eva Gran"
    assert shop.standing()[5] == "waiting"


def test_more_cups_for_a_guest_leave_the_others_their_numbers(shop: Shop) -> None:
    rows = [dict(row) for row in GUESTS]
    rows[0]["Quantity"] = "3"
    shop.list(rows)
    shop.merge()
    assert [(n, r.cup) for n, r in shop.records().items() if r.name == "Anna Berg"] == [
        (1, 1), (6, 2), (7, 3),
    ]  # fmt: skip
    rows[0]["Quantity"] = "2"
    shop.list(rows)
    assert shop.merge().changes.gone == [7]


def test_two_changes_at_once_on_one_order(shop: Shop) -> None:
    with open_ledger(shop.folder) as first, first.writing():
        with (
            pytest.raises(InputError, match="Something else is changing this order right now"),
            open_ledger(shop.folder) as second,
        ):
            update(open_order(shop.folder), second, 1)
        assert len(shop.records()) == 5  # whoever only reads may do so


@pytest.mark.long
def test_two_merges_at_once_by_the_command(shop: Shop) -> None:
    # So many that the first is at work still when the second comes, on any machine.
    shop.list({"Name": f"Guest {n}", "Role": "Tutti"} for n in range(30))
    call = [sys.executable, "-m", "mailmerge", "merge", str(shop.folder), "--gone", "all"]
    first = subprocess.Popen(
        [*call, "--jobs", "1"], stdout=subprocess.DEVNULL, stderr=subprocess.PIPE
    )
    while not list((shop.folder / "merged").glob(".staged-*")):
        assert first.poll() is None
        time.sleep(0.01)
    second = run("merge", shop.folder, "--gone", "all")
    assert second.returncode == 2
    assert "Something else is changing this order" in second.stderr
    _, errors = first.communicate()
    assert (first.returncode, errors) == (3, b"")  # the test font has no digits: all are stopped


def running(text: str) -> list[int]:
    """Return the processes whose command line holds a text."""
    found = []
    for path in Path("/proc").glob("[0-9]*/cmdline"):
        try:
            if text.encode() in path.read_bytes():
                found.append(int(path.parent.name))
        except OSError:
            continue  # it has ended meanwhile
    return found


@pytest.mark.long
@pytest.mark.skipif(not Path("/proc").is_dir(), reason="processes are listed elsewhere there")
def test_workers_end_with_the_merge_that_started_them(shop: Shop) -> None:
    shop.list({"Name": f"{'xy' * (n % 9 + 1)} Ek", "Role": "Tutti"} for n in range(600))
    call = [sys.executable, "-m", "mailmerge", "merge", str(shop.folder), "--gone", "all"]
    process = subprocess.Popen([*call, "--jobs", "3"])
    while not list((shop.folder / "merged").glob(".staged-*/proofs/*.png")):
        assert process.poll() is None
        time.sleep(0.01)
    process.kill()
    process.wait()
    for _ in range(100):
        if not running(str(shop.folder)):
            break
        time.sleep(0.1)
    assert running(str(shop.folder)) == []
    before = shop.standing()
    with shop.changing():
        pass
    assert shop.standing() == before
    assert not list((shop.folder / "merged").glob(".staged-*"))


def test_a_second_order_file_in_the_folder_is_not_taken_for_the_order(shop: Shop) -> None:
    (shop.folder / "vip.toml").write_text((shop.folder / "order.toml").read_text())
    before = shop.files()
    for command in ("merge", "proof", "release", "status"):
        result = run(command, shop.folder / "vip.toml")
        assert (result.returncode, result.stderr.count("\n")) == (2, 1), command
    assert shop.files() == before


def test_an_unsure_match_changes_nothing(shop: Shop) -> None:
    before = shop.files(), shop.records()
    shop.list([{"Name": "Quite Another", "Role": "Tuba"}, *GUESTS[1:]])
    with pytest.raises(InputError, match="not found for sure"):
        shop.merge()
    assert (shop.files(), shop.records()) == before
    assert shop.merge(Choices(gone=frozenset({1}))).changes.new == [6]


KILLS = 1, 34
"""Power cuts at random moments; before every step that can change the disk there is one each."""

STRIDE = 9, 3
"""Between two steps at which one run is killed; the three runs meet every third step, or each."""

KILLED = """
import os, signal, sys
from pathlib import Path
from mailmerge import merge as engine
from mailmerge.orders import open_order
from mailmerge.ledger.ledger import open_ledger
from mailmerge.ledger.matching import Choices

def update(folder):
    with open_ledger(folder) as ledger:
        choices = Choices({4: 5}, frozenset({5}))
        engine.update(open_order(folder), ledger, 1, choices=choices)

def die_before(step, folder):
    left, reading = step, False
    def hook(event, arguments):
        nonlocal left, reading
        if event in ("open", "os.rename", "os.remove", "os.mkdir", "os.rmdir", "os.listdir") and (
            str(folder) in str(arguments[0])
        ):
            reads = event == "os.listdir" or (
                event == "open" and not arguments[2] & (os.O_WRONLY | os.O_RDWR)
            )
            left -= not (reads and reading)  # between two reads nothing changes on the disk
            reading = reads
            if left == 0:
                os.kill(os.getpid(), signal.SIGKILL)
    sys.addaudithook(hook)

while line := sys.stdin.readline():
    folder, step = line.split()
    if step == "warm":
        update(Path(folder))
        print("warm", flush=True)
        continue
    child = os.fork()
    if child == 0:
        if step != "0":
            die_before(int(step), Path(folder))
        try:
            update(Path(folder))
        finally:
            os._exit(0)
    print(child, flush=True)
    sys.stdin.readline()  # until then its number belongs to it
    _, how = os.waitpid(child, 0)
    print("killed" if os.WIFSIGNALED(how) else "done", flush=True)
"""


@pytest.mark.skipif(sys.platform == "win32", reason="no such signal there")
@pytest.mark.parametrize(
    "turn", [3, pytest.param(1, marks=pytest.mark.long), pytest.param(2, marks=pytest.mark.long)]
)
def test_a_merge_killed_at_any_moment_leaves_a_whole_order(
    shop: Shop, tmp_path: Path, samples: Samples, turn: int
) -> None:
    rows = [*GUESTS[:3], {"Name": "Dag Falkk", "Role": "Harp"}, {"Name": "Ny Ek", "Role": "Oboe"}]
    shop.yes(1, 4, 5)
    shop.release()
    before = shop.files()
    shop.list(rows)

    def copy(name: str) -> Shop:
        made = Shop(tmp_path / name, Path())
        shutil.copytree(shop.folder, made.folder, dirs_exist_ok=True)
        return made

    undisturbed = copy("undisturbed")
    undisturbed.merge(Choices({4: 5}, frozenset({5})))
    after = undisturbed.files()
    wanted = [(r.number, r.name, r.seal, r.gone) for r in undisturbed.records().values()]
    server = subprocess.Popen(
        [sys.executable, "-c", KILLED], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    )
    assert server.stdin is not None
    assert server.stdout is not None

    def start(trial: Shop, step: int | str) -> str:
        assert server.stdin is not None
        assert server.stdout is not None
        server.stdin.write(f"{trial.folder} {step}\n")
        server.stdin.flush()
        return server.stdout.readline().strip()

    def end() -> str:
        assert server.stdin is not None
        assert server.stdout is not None
        server.stdin.write("reap\n")
        server.stdin.flush()
        return server.stdout.readline().strip()

    def survives(trial: Shop) -> None:
        """See that the next start of anything finds the order as it was, or as it is to be.

        And that meanwhile nothing lies in the folder to engrave from that is not released.
        """
        released = {n for n, standing in trial.standing().items() if standing == "released"}
        assert trial.to_engrave().keys() <= released
        with trial.changing():
            pass
        is_new = len(trial.records()) == len(wanted)
        assert trial.files() == (after if is_new else before)
        trial.merge(Choices() if is_new else Choices({4: 5}, frozenset({5})))
        assert trial.files() == after
        assert [(r.number, r.name, r.seal, r.gone) for r in trial.records().values()] == wanted
        shutil.rmtree(trial.folder)

    start(copy("warm"), "warm")
    timed = copy("timed")
    started = time.monotonic()
    start(timed, 0)
    assert end() == "done"
    span = time.monotonic() - started
    survives(timed)
    random_one = random.Random(20261205 + turn)
    killed = 0
    while killed < samples(*KILLS):
        trial = copy("trial")
        child = int(start(trial, 0))
        time.sleep(random_one.uniform(0.0, span))
        os.kill(child, signal.SIGKILL)
        killed += end() == "killed"
        survives(trial)
    stride = samples(*STRIDE)
    step, ends = turn * stride // 3 - stride, ""
    while ends != "done":
        step += stride
        trial = copy("trial")
        start(trial, step)
        ends = end()
        survives(trial)
    assert step > 45
    server.stdin.close()
    server.stdout.close()
    assert server.wait() == 0


def as_nobody(call: list[str]) -> subprocess.CompletedProcess[str]:
    """Run as a user for whom permissions hold; the superuser may write anywhere."""
    setpriv = ["setpriv", "--reuid=65534", "--regid=65534", "--clear-groups"]
    prefix = setpriv if os.geteuid() == 0 else []
    return subprocess.run([*prefix, *call], capture_output=True, text=True)


@pytest.mark.long
@pytest.mark.skipif(sys.platform == "win32", reason="permissions are other ones there")
def test_a_read_only_folder_loses_nothing(shop: Shop) -> None:
    parent = shop.folder.parent
    shop.list([{**row, "Role": "Tutti"} for row in GUESTS])
    before = shop.files(), (shop.folder / LEDGER).read_bytes()
    for path in [shop.folder, *shop.folder.rglob("*")]:
        path.chmod(0o555 if path.is_dir() else 0o444)
    while os.geteuid() == 0 and parent != Path("/tmp"):
        parent.chmod(0o755)
        parent = parent.parent
    try:
        result = as_nobody([sys.executable, "-m", "mailmerge", "merge", str(shop.folder)])
    finally:
        for path in [shop.folder, *shop.folder.rglob("*")]:
            path.chmod(0o755)
    assert result.returncode == 2
    assert result.stderr.startswith("error: ")
    assert result.stderr.count("\n") == 1
    assert (shop.files(), (shop.folder / LEDGER).read_bytes()) == before


@pytest.mark.parametrize("room", [0, 1, 3, 6, 9])
def test_a_full_disk_loses_nothing(shop: Shop, monkeypatch: pytest.MonkeyPatch, room: int) -> None:
    before = shop.files(), shop.records()
    shop.list([{**row, "Role": "Tutti"} for row in GUESTS])
    with monkeypatch.context() as patched:
        fill_disk(patched, room)
        with pytest.raises(InputError, match="No space left on device"):
            shop.merge()
    assert (shop.files(), shop.records()) == before
    assert shop.merge().changes.changed == [1, 2, 3, 4, 5]


FULL = """
import os, shutil, subprocess, sys
from pathlib import Path
from outside import run
from shop import Shop
source, disk = Path(sys.argv[1]), Path(sys.argv[2])
Shop.copied(source, Path(sys.argv[3]) / "first").merge()  # what it draws once, all others have
for free in (0, 8, 40, 200, 700, 3000):
    subprocess.run(["mount", "-t", "tmpfs", "-o", "size=6m", "tmpfs", disk], check=True)
    order = disk / "order"
    shutil.copytree(source, order)
    state = os.statvfs(disk)
    room = state.f_bavail * state.f_frsize - free * 1024
    (disk / "filler").write_bytes(bytes(max(0, room)))
    result = run("merge", order, "--jobs", "1")
    (disk / "filler").unlink()
    print(free, result.returncode, result.stderr.count("\\n"), flush=True)
    kept = Path(sys.argv[3]) / str(free)
    shutil.copytree(order, kept)
    subprocess.run(["umount", disk], check=True)
"""


@pytest.mark.long
@pytest.mark.outside("unshare")
def test_a_disk_that_is_really_full_loses_nothing(shop: Shop, tmp_path: Path) -> None:
    before = shop.files(), shop.records()
    shop.list([{**row, "Role": "Tutti"} for row in GUESTS])
    (tmp_path / "disk").mkdir()
    call = ["unshare", "-rm", sys.executable, "-c", FULL, shop.folder, tmp_path / "disk", tmp_path]
    path = os.pathsep.join([str(Path(__file__).parent), os.environ.get("PYTHONPATH", "")])
    result = subprocess.run(
        call, capture_output=True, text=True, env={**os.environ, "PYTHONPATH": path}
    )
    assert result.returncode == 0, result.stderr
    ends = [row.split() for row in result.stdout.splitlines()]
    assert len(ends) == 6
    for free, code, lines in ends:
        kept = Shop.at(tmp_path / free)
        if code == "0":
            assert kept.records()[1].about["role"] == "Tutti"
            continue
        assert (code, lines) == ("2", "1")
        assert (kept.files(), kept.records()) == before
        assert kept.merge().changes.changed == [1, 2, 3, 4, 5]
    assert (ends[0][1], ends[-1][1]) == ("2", "0")


def test_a_ledger_that_cannot_grow_loses_nothing(shop: Shop) -> None:
    before = shop.files(), shop.records()
    shop.list([*GUESTS, *({"Name": f"{'xy' * n} Ek", "Role": "Tutti"} for n in range(1, 60))])
    with open_ledger(shop.folder) as ledger:
        pages = ledger._db.execute("PRAGMA page_count").fetchone()[0]
        ledger._db.execute(f"PRAGMA max_page_count = {pages}")
        with pytest.raises(InputError, match="full"):
            update(open_order(shop.folder), ledger, 1)
    assert (shop.files(), shop.records()) == before


def test_only_tests_do_not_wait_for_the_disk() -> None:
    """SQLite, PRAGMA synchronous: with FULL, what is on record outlives a power cut."""
    assert runpy.run_path(str(ledgers.__file__))["SYNCHRONOUS"] == "FULL"


def test_a_ledger_of_a_newer_program_is_left_alone(shop: Shop) -> None:
    with sqlite3.connect(shop.folder / LEDGER) as connection:
        connection.execute("PRAGMA user_version = 99")
    connection.close()
    with pytest.raises(InputError, match="newer version of this program wrote this ledger"):
        shop.records()


def test_a_damaged_ledger_is_an_error_and_not_a_new_one(shop: Shop) -> None:
    path = shop.folder / LEDGER
    path.write_bytes(b"not a database at all" * 400)
    with pytest.raises(InputError, match="is damaged, or it is not a ledger"):
        shop.records()
    assert path.read_bytes().startswith(b"not a database")


def test_a_ledger_whose_tables_are_no_text_is_damaged(shop: Shop) -> None:
    path = shop.folder / LEDGER
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    data = path.read_bytes()
    assert b"CREATE TABLE fact" in data
    path.write_bytes(data.replace(b"CREATE TABLE fact", b"CREATE TABL\xff fact"))
    with pytest.raises(InputError, match="is damaged, or it is not a ledger"):
        shop.records()


def test_a_ledger_without_a_byte_is_a_lost_one(shop: Shop) -> None:
    for name in (LEDGER, f"{LEDGER}-wal", f"{LEDGER}-shm"):
        (shop.folder / name).unlink(missing_ok=True)
    (shop.folder / LEDGER).touch()
    for call in (shop.records, shop.merge, lambda: status.status(shop.folder)):
        with pytest.raises(InputError, match=r"The ledger of this order is gone.*go-back"):
            call()
    assert (shop.folder / LEDGER).read_bytes() == b""


def test_an_older_ledger_is_brought_up_to_date(shop: Shop, monkeypatch: pytest.MonkeyPatch) -> None:
    more = "ALTER TABLE item ADD COLUMN shelf TEXT NOT NULL DEFAULT 'top';\n"
    monkeypatch.setattr(ledgers, "MIGRATIONS", (*ledgers.MIGRATIONS, more))
    with open_ledger(shop.folder) as ledger:
        assert ledger._db.execute("SELECT DISTINCT shelf FROM item").fetchall() == [("top",)]
        assert ledger._db.execute("PRAGMA user_version").fetchone() == (len(ledgers.MIGRATIONS),)
    with monkeypatch.context() as patched:
        broken = (*ledgers.MIGRATIONS, "ALTER TABLE item ADD COLUMN a TEXT;\nnonsense;\n")
        patched.setattr(ledgers, "MIGRATIONS", broken)
        with pytest.raises(InputError), open_ledger(shop.folder):
            pass
    with open_ledger(shop.folder) as ledger:  # a step that fails half-way has not been
        columns = [row[1] for row in ledger._db.execute("PRAGMA table_info(item)")]
    assert "a" not in columns


def test_a_late_guest_of_an_older_ledger_stays(tmp_path: Path) -> None:
    """Then, every guest without a row had come with a question."""
    before = next(n for n, sql in enumerate(ledgers.MIGRATIONS) if "addition_now" in sql)
    with contextlib.closing(sqlite3.connect(tmp_path / LEDGER)) as old:
        for step in ledgers.MIGRATIONS[:before]:
            old.executescript(step)
        old.execute("INSERT INTO fact VALUES ('order', 'ABCD-EFGH')")
        old.execute("INSERT INTO arrival VALUES (3, 'file', 'Ina', '', 1, 1, '', 0, '', '')")
        old.execute(
            "INSERT INTO question (id, arrival, items, place, words, fields) "
            "VALUES (7, 3, '[]', '', '', '{}')"
        )
        old.execute('INSERT INTO addition VALUES (5, 7, NULL, \'{"name": "Dan Foss"}\')')
        old.execute(f"PRAGMA user_version = {before}")
        old.commit()
    with open_ledger(tmp_path, missing="make") as ledger:
        (late,) = ledger.additions()
        came_with = ledger._db.execute("SELECT question FROM addition").fetchone()
    assert (late.number, late.guest, late.beside) == (5, None, None)
    assert late.fields == {"name": "Dan Foss"}
    assert came_with == (7,)


def test_what_was_said_in_an_older_ledger_counts_as_it_did(packed: Shop) -> None:
    """Then, a later yes to the same artwork closed what was said against it."""
    new, old = packed.folder / LEDGER, packed.folder / "old.sqlite"
    db = sqlite3.connect(old)
    for step in ledgers.MIGRATIONS[:3]:
        db.executescript(step)
    db.execute("PRAGMA user_version = 3")
    db.execute("ATTACH ? AS now", (str(new),))
    db.execute("DELETE FROM fact")
    for table in ("fact", "guest", "item", "shown"):
        db.execute(f"INSERT INTO {table} SELECT * FROM now.{table}")
    db.execute("INSERT INTO pack SELECT id, made FROM now.pack")
    seals = {number: record.seal for number, record in packed.records().items()}
    abouts = dict(db.execute("SELECT number, about FROM item"))
    for item, verdict, way in (
        (1, "yes", "file"), (2, "change", "file"), (3, "change", "file"), (3, "yes", "confirm"),
        (4, "yes", "file"), (4, "change", "file"),
    ):  # fmt: skip
        db.execute(
            "INSERT INTO answer (item, seal, verdict, words, wanted, about, said_by, way, said_at, "
            "at) VALUES (?, ?, ?, '', '{}', ?, 'Anna', ?, '', '2099-01-01T00:00:00+00:00')",
            (item, seals[item], verdict, abouts[item], way),
        )
    db.commit()
    db.close()
    for each in packed.folder.glob(f"{LEDGER}*"):
        each.unlink()
    old.rename(new)
    assert packed.standing() == {
        1: "confirmed", 2: "to change", 3: "confirmed", 4: "to change", 5: "waiting",
    }  # fmt: skip
    assert [answer.pack for answer in packed.records()[3].answers] == [1, 0]


def test_the_ledger_holds_to_its_own_rules(shop: Shop) -> None:
    with open_ledger(shop.folder) as ledger:
        assert ledger._db.execute("PRAGMA journal_mode").fetchone() == ("wal",)
        assert ledger._db.execute("PRAGMA foreign_keys").fetchone() == (1,)
        with pytest.raises(sqlite3.IntegrityError):
            ledger._db.execute("INSERT INTO shown VALUES ('no such pack', 1, 'seal', '{}')")
        assert ledger._db.execute("PRAGMA integrity_check").fetchone() == ("ok",)


@pytest.mark.long
def test_nothing_is_sent_anywhere(shop: Shop) -> None:
    """No command opens a connection: the interpreter tells of every one (PEP 578)."""
    watched = (
        "import sys\n"
        "FOLDER = sys.argv[1]\n"
        "def hook(event, arguments):\n"
        "    if event in ('socket.connect', 'socket.getaddrinfo', 'socket.sendto'):\n"
        "        sys.stderr.write(f'{event} {arguments}\\n')\n"
        "sys.addaudithook(hook)\n"
        "from mailmerge.cli import main\n"
        "for call in sys.argv[2:]:\n"
        "    sys.argv = ['mailmerge', *call.split(' ')]\n"
        "    sys.argv[2:2] = [FOLDER]\n"
        "    try:\n"
        "        main()\n"
        "    except SystemExit as ended:\n"
        "        assert ended.code in (None, 0, 3), call\n"
    )
    calls = (
        "merge --jobs 1", "proof --jobs 1", "confirm 1 --by phone", "release", "status",
        "engraved --all", "forget --yes",
    )  # fmt: skip
    result = subprocess.run(
        [sys.executable, "-c", watched, shop.folder, *calls], capture_output=True, text=True
    )
    assert (result.returncode, result.stderr) == (0, "")
    assert "None is left" in result.stdout  # as the last of them says


def test_a_text_that_is_no_text_is_refused_and_nothing_is_kept(shop: Shop) -> None:
    """As a shell passes bytes that are not UTF-8."""
    with pytest.raises(InputError, match=r"bytes that are no letters: .*udcff"):
        client.confirm(shop.folder, ["1"], "\udcff")
    assert shop.standing()[1] == "waiting"


def test_a_first_call_that_was_refused_or_called_off_leaves_nothing_to_be_told(shop: Shop) -> None:
    fresh = Shop.at(shop.folder.parent / "fresh")
    shutil.copytree(shop.folder, fresh.folder)
    for name in (LEDGER, f"{LEDGER}-wal", f"{LEDGER}-shm"):
        (fresh.folder / name).unlink(missing_ok=True)
    shutil.rmtree(fresh.folder / "record-copies")
    (fresh.folder / "to-engrave" / "contents.json").unlink()
    with pytest.raises(CalledOff):
        making.merge(fresh.folder, jobs=1, watch=lambda *_: False)
    for call in (lambda: status.status(fresh.folder), fresh.release, lambda: fresh.confirm(1)):
        with pytest.raises(InputError, match="Nothing is merged yet"):
            call()
    making.check(fresh.folder)
    assert fresh.merge().changes is not None


def test_an_order_whose_cups_are_all_cancelled_says_so_once(shop: Shop) -> None:
    shop.list([])
    shop.merge(Choices(unsure_are_gone=True))
    assert shop.standing() == dict.fromkeys(range(1, 6), "gone")
    assert shop.merge().changes is not None
    assert shop.release().released == ()
    assert client.proof(shop.folder, jobs=1)
