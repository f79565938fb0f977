"""The room for reading: what dies, hangs or grows in there is one line, and the work goes on.

What is done in the room is told as expressions, for it knows nothing of the tests.
"""

from __future__ import annotations

import gc
import os
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import hostile
import pytest
from test_fonts import write_box_font

from mailmerge.artwork import drawings
from mailmerge.findings import InputError
from mailmerge.guests.opening import open_table, table_in
from mailmerge.lettering import open_font
from mailmerge.reading import Outside, apart, inside, limits, room
from mailmerge.reading.room import Room

HERE = Path("list.xlsx")


@pytest.fixture(scope="module")
def _one() -> Iterator[Room]:
    """Return the one process that these tests read in."""
    made = Room()
    yield made
    made.end()


@pytest.fixture(autouse=True)
def _in_a_room(_one: Room, monkeypatch: pytest.MonkeyPatch) -> None:
    """See that everything is read in a process of its own, as when the program runs."""
    monkeypatch.setattr(room, "asked", _one.ask)


def told(expression: str, seconds: float = 20.0) -> object:
    """Return what an expression is in the room."""
    return Outside(HERE, seconds).apart(eval, expression)


PID = "__import__('os').getpid()"


def test_it_is_one_process_that_is_kept() -> None:
    assert told(PID) == told(PID) != os.getpid()


@pytest.mark.parametrize(
    ("expression", "says"),
    [
        ("__import__('os').abort()", "broke off"),
        ("__import__('os').kill(__import__('os').getpid(), 11)", "broke off"),
        ("bytearray(2_000_000_000)", "more than 1,500 MB"),
        ("[0] * 10**9", "more than 1,500 MB"),
        ("1 / 0", r"fault of this program \(ZeroDivisionError\)"),
        ("lambda: 0", "fault of this program"),
    ],
)
def test_what_dies_or_grows_is_one_line_and_the_next_is_read(expression: str, says: str) -> None:
    with pytest.raises(InputError, match=rf"^list\.xlsx: .*{says}"):
        told(expression)
    assert told("6 * 7") == 42


@pytest.mark.long
def test_what_never_ends_is_given_up(monkeypatch: pytest.MonkeyPatch) -> None:
    # The library for regular expressions never lets another thread of its process run, so that
    # the system has to end it: the clock has time enough.
    monkeypatch.setattr(limits, "PATIENCE", 100)
    with pytest.raises(InputError, match="given up after 1 seconds"):
        told("__import__('re').match('(a+)+$', 'a' * 60 + 'b')", 1.0)
    monkeypatch.setattr(limits, "PATIENCE", 1)
    with pytest.raises(InputError, match="given up"):
        told("__import__('time').sleep(60)", 1.0)
    assert told("6 * 7") == 42


def test_a_refusal_comes_as_it_was_said(tmp_path: Path) -> None:
    with pytest.raises(InputError) as refusal:
        open_table(tmp_path / "none.xlsx")
    assert str(refusal.value) == f"{tmp_path}/none.xlsx: There is no such list."


def test_a_large_file_has_more_time(tmp_path: Path) -> None:
    small, large = tmp_path / "small", tmp_path / "large"
    small.write_bytes(b"")
    with large.open("wb") as file:
        file.truncate(5_000_000)
    assert limits.seconds_for(large) == limits.seconds_for(small) + 50
    assert limits.seconds_for("a mail") == limits.seconds_for(tmp_path / "none") == 15


BUSY = "[0 for _ in iter(lambda: __import__('time').process_time() > {until}, True)]"


def test_a_file_has_its_time_once_however_often_it_is_asked_for() -> None:
    file = Outside(HERE, 1.0)
    file.apart(eval, "6 * 7")
    assert 0 < file.left <= 1.0
    for _ in range(2):  # each is over within its second, which is all that the system can count
        spent = file.apart(eval, "__import__('time').process_time()")
        file.apart(eval, BUSY.format(until=spent + 0.6))
    with pytest.raises(InputError, match=r"list\.xlsx: .*given up after 1 seconds"):
        file.apart(eval, "6 * 7")
    assert told("6 * 7") == 42  # another one has its own


def test_all_that_is_read_of_a_list_is_one_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[Outside] = []
    in_room = room.asked
    monkeypatch.setattr(room, "asked", lambda *given: (asked.append(given[0]), in_room(*given))[1])
    table = open_table(hostile.three_guests(tmp_path / "list.xlsx"))
    (sheet,) = table.sheets
    list(sheet.rows())
    sheet.grounds()
    sheet.colours()
    sheet.ruled_columns()
    table.drawn()
    table.apart(str)
    (own, *of_dropping) = dict.fromkeys(asked)
    assert own.where == table.path
    assert len(asked) - len(of_dropping) >= 7
    assert len(of_dropping) == 1, "a stream is dropped even where no time is left"


def test_numbers_of_streams_are_of_one_process_alone() -> None:
    other = Room()
    try:
        there = other.ask(Outside(HERE), inside.begin, (range, (3,)))
    finally:
        other.end()
    assert apart(HERE, inside.begin, range, (9,)) != there
    with pytest.raises(InputError):
        apart(HERE, inside.more, there)


# What comes out of it


@pytest.mark.parametrize("ending", ["xlsx", "ods", "csv"])
def test_lists_are_read_as_they_would_be_here(tmp_path: Path, ending: str) -> None:
    path = tmp_path / f"list.{ending}"
    if ending == "xlsx":
        hostile.far_cell(path, "Dora")
    elif ending == "ods":
        hostile.write_ods(path, *(hostile.ods_row(f"Anna {at}", "Viola") for at in range(700)))
    else:
        path.write_text("".join(f"Anna {at},Viola\n" for at in range(700)))
    there, here = open_table(path), table_in(path)
    assert [list(sheet.rows()) for sheet in there.sheets] == [
        list(sheet.rows()) for sheet in here.sheets
    ]
    for mine, theirs in zip(here.sheets, there.sheets, strict=True):
        assert theirs.ruled_columns() == mine.ruled_columns()
        assert list(theirs.colours()) == list(mine.colours())
        assert theirs.grounds() == mine.grounds()
    assert there.drawn() == here.drawn()


def test_a_list_is_read_without_what_takes_long_to_import(tmp_path: Path) -> None:
    path = hostile.three_guests(tmp_path / "list.xlsx")
    own = Room()
    try:
        own.ask(Outside(path), table_in, (path,))
        imported = own.ask(Outside(HERE), eval, ("set(__import__('sys').modules)",))
        again = own.ask(Outside(HERE), eval, ("__import__('numpy').arange(3).sum() == 3",))
    finally:
        own.end()
    assert "openpyxl" in imported
    assert not imported & {"numpy", "PIL", "mailmerge.reading.room", "mailmerge.guests.textfile"}
    assert again  # whoever needs it after all has it


@pytest.mark.long
def test_streams_run_beside_each_other_and_may_be_left() -> None:
    one, other = (Outside(HERE).streamed(range, start, 2_000) for start in (0, 1_000))
    assert [next(one), next(other), next(one)] == [0, 1_000, 1]
    assert list(other) == list(range(1_001, 2_000))
    del other
    one.close()  # type: ignore[attr-defined]
    gc.collect()
    held = "len(__import__('mailmerge.reading.inside').reading.inside._streams)"
    assert told(held) == 0


def test_a_drawing_and_a_font_are_read_there(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    calls: list[str] = []

    def counted(file: Outside, call: Callable[..., object], given: object) -> object:
        calls.append(call.__name__)
        return in_room(file, call, given)

    in_room = room.asked
    monkeypatch.setattr(room, "asked", counted)
    path = tmp_path / "hatched.svg"
    path.write_bytes(hostile.crossing_strokes(12))
    found = drawings.read_drawing(path)
    here = drawings.drawing_in(path, 0.5)
    assert isinstance(here, drawings.Read)
    assert found.outline.path_data() == here.outline.path_data()
    assert (found.inks, found.bares) == (here.inks, here.bares)
    font = write_box_font(tmp_path / "boxes.ttf")
    assert open_font(str(font), 400, tmp_path).has("A")
    assert calls == ["drawing_in", "tried_font"]
    open_font("Great Vibes", 400, tmp_path)  # comes with the program
    assert len(calls) == 2


def test_a_font_that_changes_after_it_was_tried_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    font = write_box_font(tmp_path / "boxes.ttf")
    monkeypatch.setattr(room, "asked", lambda *_: "0" * 64)
    with pytest.raises(InputError, match=r"boxes\.ttf: .*changed while it was read"):
        open_font(str(font), 400, tmp_path)


# Which process it is


def test_several_threads_ask_in_turn() -> None:
    found: dict[int, object] = {}

    def ask(number: int) -> None:
        found[number] = apart(HERE, eval, f"{number} ** 2")

    threads = [threading.Thread(target=ask, args=(number,)) for number in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert found == {number: number**2 for number in range(8)}


def test_relative_names_are_those_of_the_one_that_asks(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "here.txt").write_text("x")
    monkeypatch.chdir(tmp_path)
    assert told("__import__('os').path.exists('here.txt')")


def test_it_has_none_of_our_files(tmp_path: Path) -> None:
    with (tmp_path / "ledger.sqlite").open("wb") as file:
        os.set_inheritable(file.fileno(), True)
        own = Room()
        try:
            open_there = own.ask(Outside(HERE), eval, (_FILES,))
        finally:
            own.end()
    assert not any("ledger" in str(each) or "socket" in str(each) for each in open_there)
    assert len(open_there) <= 6


_FILES = (
    "[__import__('os').readlink(f'/proc/self/fd/{n}') for n in range(60) "
    "if __import__('os').path.lexists(f'/proc/self/fd/{n}')]"
)


@pytest.mark.long
def test_a_forked_process_has_a_room_of_its_own() -> None:
    code = (
        "import multiprocessing as mp, threading, time\n"
        "from pathlib import Path\n"
        "from mailmerge.reading import apart\n"
        f"def ask(said={PID!r}): return apart(Path('x'), eval, said)\n"
        "first = ask()\n"
        "long = threading.Thread(target=ask, args=(\"__import__('time').sleep(2)\",))\n"
        "long.start()\n"
        "time.sleep(0.5)\n"
        "with mp.get_context('fork').Pool(1) as pool:\n"
        "    other = pool.apply_async(ask).get(60)\n"
        "long.join()\n"
        "assert first != other and ask() == first\n"
    )
    call = [sys.executable, "-W", "error", "-c", code]
    done = subprocess.run(call, capture_output=True, text=True, check=False)
    assert (done.returncode, done.stderr) == (0, "")


@pytest.mark.parametrize("busy", ["", "__import__('time').sleep(100)", "[0 for _ in iter(int, 1)]"])
def test_it_ends_with_the_one_that_asks(busy: str) -> None:
    code = (
        "import time\n"
        "from pathlib import Path\n"
        "from mailmerge.reading import apart\n"
        f"print(apart(Path('x'), eval, {PID!r}), flush=True)\n"
        f"apart(Path('x'), eval, {busy!r}) if {busy!r} else time.sleep(100)\n"
    )
    with subprocess.Popen([sys.executable, "-c", code], stdout=subprocess.PIPE) as asking:
        assert asking.stdout is not None
        reading = int(asking.stdout.readline())
        time.sleep(0.2)
        asking.send_signal(signal.SIGKILL)
    until = time.monotonic() + 30
    while _is_there(reading):
        assert time.monotonic() < until
        time.sleep(0.05)


def _is_there(process: int) -> bool:
    """Whether a process runs; one that nobody has waited for does not."""
    try:
        return ") Z " not in Path(f"/proc/{process}/stat").read_text()
    except (FileNotFoundError, ProcessLookupError):
        return False


# Where the system has no limits


@pytest.mark.parametrize(
    ("code", "seconds", "why"),
    [("while True: pass", 0.5, "time"), ("a = b'x' * 300_000_000; input()", 30.0, "memory")],
)
def test_elsewhere_the_one_that_asks_looks_on(
    code: str, seconds: float, why: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(limits, "MOST_MEMORY", 200_000_000)
    with subprocess.Popen([sys.executable, "-c", code], stdin=subprocess.PIPE) as process:
        watch = limits.Watch(process, seconds, is_held=False)
        process.wait(60)
    assert watch.ended_for == why


def test_elsewhere_a_quiet_process_is_left_alone() -> None:
    with subprocess.Popen([sys.executable, "-c", "input()"], stdin=subprocess.PIPE) as process:
        watch = limits.Watch(process, 0.5, is_held=False)
        time.sleep(0.3)
        watch.leave()
        process.communicate(b"\n")
    assert (process.returncode, watch.ended_for) == (0, "")


@pytest.mark.skipif(not limits.IS_HELD, reason="the system holds no limits there")
def test_whoever_has_less_than_the_limits_is_not_asked_for_more(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Only the superuser may raise a hard limit: for anybody else that is an error."""
    import resource

    held: dict[int, tuple[int, int]] = {}
    monkeypatch.setattr(resource, "setrlimit", held.__setitem__)
    monkeypatch.setattr(resource, "getrlimit", lambda _: (30, 40))
    limits.hold_this_process()
    assert held[resource.RLIMIT_NOFILE] == held[resource.RLIMIT_DATA] == (40, 40)
    monkeypatch.setattr(resource, "getrlimit", lambda _: (30, resource.RLIM_INFINITY))
    limits.hold_this_process()
    assert held[resource.RLIMIT_DATA] == (limits.MOST_MEMORY, limits.MOST_MEMORY)


def test_the_system_is_not_asked_for_limits_that_it_lacks(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(limits, "IS_HELD", False)
    monkeypatch.setitem(sys.modules, "resource", None)
    limits.hold_this_process()
    limits.hold_to(1.0)  # either would import it
