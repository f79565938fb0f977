"""One voice: what is printed is visible, bounded, and true to the end of a call."""

from __future__ import annotations

import ast
import csv
import errno
import io
import json
import pickle
import re
import subprocess
import sys
import tempfile
import types
import unicodedata
from dataclasses import replace
from functools import cache
from pathlib import Path

import openpyxl
import pytest
import typer
from desks import Visitor
from disks import at_step
from draws import drawn
from hypothesis import HealthCheck, example, given, settings, strategies as st
from outside import cli, run, terminal
from rich.text import Text
from shop import Shop

from mailmerge import __main__ as start
from mailmerge.answers.packs import Packed
from mailmerge.cli import words
from mailmerge.cli.console import PlainConsole
from mailmerge.deeds import CalledOff, making
from mailmerge.desk.warm import Warm
from mailmerge.faults import Fault, told
from mailmerge.files import escaped, unescaped
from mailmerge.findings import Finding, InputError, Severity
from mailmerge.ledger import tray
from mailmerge.merge import pool, report
from mailmerge.proofs.pack import Sender
from mailmerge.proofs.pack.checklist import write_checklist
from mailmerge.proofs.pack.page import write_page
from mailmerge.proofs.text import legible, plain
from mailmerge.voice import MOST, Unheard, Voice, as_json, bounded, on_page, visible

ROOT = Path(__file__).resolve().parents[1]

BIDI = "\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"
"""Unicode, PropList.txt, Bidi_Control."""
JOINERS = "\u200c\u200d"
PICTURED = "".join(map(chr, [*range(0x600, 0x606), 0x6DD, 0x890, 0x891, 0x8E2, 0x110BD, 0x110CD]))
"""Unicode, PropList.txt, Prepended_Concatenation_Mark, without the Syriac one, which has no
picture of its own."""
HIEROGLYPHS = range(0x13430, 0x13460)

HOSTILE = "\x1b\x07\x08\r\t\x7f\x85\x9b\u2028\u2029\ufeff\u200b" + BIDI
NAMES = st.text(st.sampled_from(HOSTILE + "aé ش-[31m"), min_size=1, max_size=12)


def is_hidden(char: str) -> bool:
    """Whether nothing of a character may reach a terminal, by Unicode's own categories."""
    return char != "\n" and (unicodedata.category(char) in ("Cc", "Cs", "Zl", "Zp") or char in BIDI)


def assert_visible(*texts: str) -> None:
    for text in texts:
        assert not [f"U+{ord(char):04X}" for char in text if is_hidden(char)]


# What is shown, and how long it is


def test_what_is_hidden_goes_by_unicodes_categories() -> None:
    for number in range(0x110000):
        char = chr(number)
        is_format = unicodedata.category(char) == "Cf" and number not in HIEROGLYPHS
        expected = is_hidden(char) or (is_format and char not in JOINERS + PICTURED)
        assert (visible(char) != char) == expected, f"U+{number:04X}"


def test_a_name_keeps_what_it_is_written_with() -> None:
    persian, hindi, french = "می\u200cخواهم", "क\u094d\u200dष", "Zoë\u00a0Lind"
    for name in (persian, hindi, french):
        assert visible(name) == name
        assert json.loads(as_json([name])) == [name]


@given(st.text(st.one_of(st.sampled_from(HOSTILE + JOINERS + "\ud800\U000e0041"), st.characters())))
def test_json_reads_back_the_same_and_holds_nothing_hidden(text: str) -> None:
    written = as_json({text: [text]}, 1)
    assert json.loads(written) == {text: [text]}
    assert_visible(written)


@given(st.lists(st.one_of(NAMES, st.text(min_size=300, max_size=900)), max_size=6))
def test_an_error_is_a_short_line_that_begins_and_ends_as_it_was(parts: list[str]) -> None:
    message = " ".join(["order.toml: circumference:", *parts, "Give a length, such as 295 mm."])
    said = str(InputError(message))
    assert len(f"error: {said}") <= MOST
    assert said.startswith("order.toml: circumference:")
    assert said.endswith("Give a length, such as 295 mm.")
    assert_visible(said)
    assert "\n" not in said


@pytest.mark.parametrize("long", ["x" * 4000, '"' + "very long " * 400 + '"'])
def test_only_what_is_long_is_shortened(long: str) -> None:
    said = bounded(f'gala/order.toml: coat: Found {long}. The blank has only "navy" and "plum".')
    assert said.startswith("gala/order.toml: coat: Found ")
    assert said.endswith('. The blank has only "navy" and "plum".')
    assert len(said) == MOST
    assert said.count("…") == 1


def test_a_long_argument_makes_no_long_line(tmp_path: Path) -> None:
    long = "x" * 3000
    for call in (
        ("check", tmp_path / long),
        ("check", f"--{long}"),
        (long,),
        ("measure", f"--{long}=3"),
    ):
        done = run(*call)
        assert done.returncode == 2
        assert max(map(len, done.stderr.split("\n"))) <= MOST


def test_a_page_shows_signs_and_its_forms_send_them_back() -> None:
    name = "Zo\u202eë\x1b"
    page = f'<p title="{name}">{name}\r\n</p><input value="{name}"><textarea>{name}</textarea>'
    shown = "Zo&lt;U+202E&gt;ë&lt;U+001B&gt;".replace("&gt;", ">")
    assert on_page(page) == (
        f'<p title="{name}">{shown}\n</p><input value="{name}"><textarea>{name}</textarea>'
    )


def test_the_clients_page_and_papers_show_signs(pack_of_names: Packed) -> None:
    pack = replace(pack_of_names.pack, title="Gala\u202e", cards=pack_of_names.pack.cards[:1])
    html = write_page(pack).decode()
    assert "Gala&lt;U+202E></h1>" in html
    assert not is_hidden_in_text(html)
    assert '"title": "Gala\u202e"' in html  # what its script sends back
    assert (plain("Gala\u202e", 400), legible("Gala\u202e", 400)) == ("Gala[U+202E]", "Gala")


def is_hidden_in_text(page: str) -> list[str]:
    """Return what is hidden in a page's text, outside of tags and scripts."""
    text = re.sub(r"<script.*?</script>|<[^>]*>", "", page, flags=re.DOTALL)
    return [char for char in text if is_hidden(char)]


# Commands, with hostile names of everything

GO_WELL = ("check", "merge", "proof", "release", "time")

ONCE = settings(
    max_examples=drawn(1, 30), deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)  # fmt: skip


def folder_called(name: str) -> Path:
    """Return an empty folder's place below one of its own, with a name that the system takes."""
    place = Path(tempfile.mkdtemp()) / name.strip()
    try:
        place.mkdir()
    except OSError:
        return place.parent / "plain"
    place.rmdir()
    return place


def toml(text: str) -> str:
    """Return a text as a string of TOML, each sign of it escaped."""
    return '"' + "".join(f"\\U{ord(char):08x}" for char in text) + '"'


@pytest.mark.long
@pytest.mark.skipif(sys.platform == "win32", reason="no such names there")
@example("\x1b[31m\u202e\t\u2028", "\x9b\u2067a")
@ONCE
@given(NAMES, st.text(st.sampled_from("\x7f\x85\x9b\u2028" + BIDI + "ab"), min_size=1, max_size=8))
def test_no_command_sends_a_sign_raw(merged_once: Path, hostile: str, coat: str) -> None:
    shop = Shop.copied(merged_once, folder_called(f"gala {hostile}"))
    order, own_list = shop.folder, shop.folder / f"{hostile.strip()}.csv"
    text = (order / "order.toml").read_text(encoding="utf-8")
    for was, now in (("black", coat), ("Test machine", coat), ("Spring concert", f"={coat}")):
        text = text.replace(f'"{was}"', toml(now))
    (order / "order.toml").write_text(text, encoding="utf-8")
    for file in (order / "list.csv", own_list):
        with file.open("a", encoding="utf-8", newline="") as rows:
            csv.writer(rows).writerows([("Name", coat)] * (file == own_list))
            csv.writer(rows).writerow([f"Zoë{hostile}Lind", coat])
    for call in (
        ("recognise", own_list), ("check", order), ("check", order, "--json"), ("arrange", order),
        ("merge", order, "--jobs", 1), ("status", order, "--json"), ("proof", order, "--jobs", 1),
        ("confirm", order, 1, "--by", hostile), ("release", order), ("status", order),
        ("time", order), ("quote", order), ("engraved", order, 1),
        ("status", order, hostile),
    ):  # fmt: skip
        done = run(*call)
        assert done.returncode in ((0, 3) if call[0] in GO_WELL else (0, 2, 3)), done.stderr
        assert_visible(done.stdout, done.stderr)
        if "--json" in call:
            json.loads(done.stdout)
    (findings,) = order.rglob("findings.csv")
    with findings.open(encoding="utf-8-sig", newline="") as table:
        assert_visible(*(cell for row in csv.reader(table) for cell in row))
    done = run("forget", order, "--yes", "--leave-others")
    assert_visible(done.stdout, done.stderr)
    assert done.returncode in (0, 3)


@pytest.mark.parametrize(
    ("was", "becomes"),
    [
        ('"black"', "{0}"),
        ('circumference = "300 mm"', "circumference = {0}"),
        ("[blank]", "[columns]\n{0} = 'Name'\n[blank]"),
        ("[blank]", "[columns]\nname = {0}\n[blank]"),
        ('list = "list.csv"', "list = {0}"),
        ('layout = "layout.toml"', "layout = {0}"),
        ("[machine]", "[machine]\n{0} = 1"),
        ('datum = "tick"', "datum = {0}"),
    ],
)
def test_no_error_sends_a_sign_raw(shop: Shop, was: str, becomes: str) -> None:
    file = shop.folder / "order.toml"
    text = file.read_text(encoding="utf-8")
    bad = toml("re\x1b[31md\u202e\x9b" + "long" * 400)
    file.write_text(text.replace(was, becomes.format(bad), 1), encoding="utf-8")
    for call in ("check", "merge", "status", "proof", "time"):
        done = run(call, shop.folder)
        assert_visible(done.stdout, done.stderr)
        assert max(map(len, done.stderr.split("\n"))) <= MOST
    assert run("check", shop.folder).returncode == 2


def test_what_is_said_of_a_call_shows_the_call() -> None:
    for call in (
        ("che\x1b[2Jck",),
        ("check", "--\u202e"),
        ("blanks", "\x9b31m\udc9b"),
        ("manual", "\x1bc"),
    ):
        done = run(*call)
        assert done.returncode == 2
        assert_visible(done.stderr)
    assert "<U+001B>" in run("manual", "\x1bc").stderr


def test_a_table_on_a_terminal_has_no_colour_but_its_own(shop: Shop) -> None:
    with (shop.folder / "list.csv").open("a", encoding="utf-8") as rows:
        rows.write("Bo\x1b[8m\u202eDahl,Horn\n")
    shown, _ = terminal("check", shop.folder, COLUMNS="160")
    assert "\x1b[1;31mstop" in shown  # the table's own
    assert "\x1b[8m" not in shown
    assert "\u202e" not in shown


def test_a_console_shows_whatever_it_is_given(capsys: pytest.CaptureFixture[str]) -> None:
    for given_ in ("a\x1b[8m\u202e", Text("a\x1b[8m\u202e")):
        PlainConsole(width=60).print(given_)
        assert capsys.readouterr().out == "a<U+001B>[8m<U+202E>\n"


def test_findings_are_visible_and_no_formula() -> None:
    finding = Finding("x", Severity.NOTE, "=1+1", "-2\u202e\x1b", "\tthen\nmore")
    row = report._findings_row(None, finding)
    assert row[5:8] == ["'=1+1", "'-2<U+202E><U+001B>", "<U+0009>then<U+000A>more"]


# Spreadsheets

FORMULAS = ['=HYPERLINK("http://a.example","b")', "+1", "-1+2", "@SUM(A1)", "＝1", "'=1"]


@given(st.text(st.sampled_from("'=+-@\t\r\n＝a"), max_size=6))
def test_an_escaped_cell_is_no_formula_and_comes_back(text: str) -> None:
    assert not escaped(text).startswith(("=", "+", "-", "@", "\t", "\r", "\n", "＝"))
    assert unescaped(escaped(text)) == text


def test_no_cell_of_the_clients_list_is_a_formula(pack_of_names: Packed) -> None:
    pack = pack_of_names.pack
    cards = [
        replace(card, texts=tuple(replace(text, text=formula) for text in card.texts))
        for card, formula in zip(pack.cards, FORMULAS, strict=False)
    ]
    sender = Sender(FORMULAS[1], ())
    pack = replace(pack, title=FORMULAS[0] + "\x1b", cards=tuple(cards), sender=sender)
    sheet = openpyxl.load_workbook(io.BytesIO(write_checklist(pack))).active
    assert sheet is not None
    cells = [cell for row in sheet.iter_rows() for cell in row if isinstance(cell.value, str)]
    assert (sheet["A1"].value, sheet["A4"].value) == (FORMULAS[0] + "<U+001B>", FORMULAS[1])
    assert {*FORMULAS} <= {cell.value for cell in cells}
    for cell in cells:
        assert cell.data_type == "s"
        assert cell.quotePrefix == cell.value.startswith(("=", "+", "-", "@", "＝"))


# Where nobody hears, and where it is called off


class Full(io.StringIO):
    def __init__(self, number: int) -> None:
        super().__init__()
        self.number = number

    def flush(self) -> None:
        raise OSError(self.number, "gone")


def test_what_cannot_be_printed_ends_a_call_only_where_it_is_needed() -> None:
    with pytest.raises(Unheard) as full:
        Voice(Full(errno.ENOSPC), visible, True).flush()
    with pytest.raises(Unheard) as closed:
        Voice(Full(errno.EPIPE), visible, True).flush()
    assert (full.value.why, closed.value.why) == ("gone", "")
    Voice(Full(errno.ENOSPC), visible, False).flush()


def kept(folder: Path) -> dict[str, bytes]:
    """Return what people find in an order's folder, and what is on record of its items."""
    found = {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in folder.rglob("*")
        if path.is_file() and not path.name.startswith("ledger") and ".staged" not in str(path)
    }
    records = Shop.at(folder).standing() if (folder / "ledger.sqlite").exists() else {}
    return found | {"": repr(records).encode()}


def interrupt(_path: object) -> None:
    raise KeyboardInterrupt


CALLS = {
    "merge": (("merge", "{order}", "--jobs", "1", "--gone", "all"), range(1, 60, 6)),
    "proof": (("proof", "{order}"), (1, 3, 9)),
    "confirm": (("confirm", "{order}", "1", "--by", "Ina"), range(1, 20, 2)),
    "release": (("release", "{order}"), range(1, 60, 2)),
    "arrange": (("arrange", "{order}", "--coat", "plum"), range(1, 20)),
    "forget": (("forget", "{order}", "--yes", "--leave-others"), range(1, 60, 7)),
}
"""What is called off at which of its steps on the disk, as long as it has so many."""


def test_what_was_lost_is_told_again_to_whoever_passed_it_over() -> None:
    voice = Voice(Full(errno.ENOSPC), str, True)
    with pytest.raises(Unheard, match="gone"):
        voice.flush()
    with pytest.raises(Unheard, match="gone"):
        voice.write("a")  # which alone would go well


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="there is no such device there")
@pytest.mark.parametrize("call", [("--help",), ("blanks", "--json")])
def test_no_command_goes_well_that_nobody_can_hear(call: tuple[str, ...]) -> None:
    with Path("/dev/full").open("w") as full:
        done = subprocess.run(
            [sys.executable, "-m", "mailmerge", *call], stdout=full, stderr=subprocess.PIPE,
            text=True,
        )  # fmt: skip
    assert done.returncode == 1
    assert done.stderr.count("\n") == 1
    assert "No space left" in done.stderr


@pytest.mark.parametrize(
    "call",
    [
        ("check",), ("chekc", "g"), ("check", "--foo"), ("check", "a", "b"), ("--nope",),
        ("merge", "g", "--jobs", "x"), ("recognise", "l", "--row", "-3"), ("new",),
        ("check", "--json=3", "g"), ("merge", "g", "--jobs"), ("confirm", "g", "--by"),
    ],
)  # fmt: skip
def test_a_wrong_call_is_told_in_one_line(call: tuple[str, ...]) -> None:
    done = run(*call)
    assert (done.returncode, done.stdout) == (2, "")
    assert re.fullmatch(r"error: .*[.?] See: mailmerge( [a-z-]+)? --help\n", done.stderr)


def test_a_call_of_nothing_shows_what_there_is() -> None:
    done = run()
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout == run("--help").stdout


@pytest.mark.parametrize("wide", ["9" * 5_000, "²", "0", "-5", "99999"])
def test_a_width_that_no_terminal_has_is_none(wide: str) -> None:
    """Python reads no number of over 4,300 digits, and `²` is a digit that it does not read."""
    tables = [run("blanks", COLUMNS=each, LINES=each) for each in (wide, "")]
    assert (tables[0].returncode, tables[0].stderr) == (0, "")
    assert tables[0].stdout == tables[1].stdout
    console = PlainConsole(width=None)
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("COLUMNS", wide)
        assert PlainConsole().width == console.width


def test_an_interrupt_while_the_program_starts_is_a_line(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    class Interrupted(types.ModuleType):
        def __getattr__(self, name: str) -> object:
            raise KeyboardInterrupt

    monkeypatch.setitem(sys.modules, "mailmerge.cli", Interrupted("mailmerge.cli"))
    with pytest.raises(SystemExit) as ended:
        start.main()
    assert ended.value.code == 130
    assert capsys.readouterr() == ("", f"{words.called_off(())}\n")


@pytest.mark.parametrize("name", CALLS)
def test_a_call_that_is_called_off_says_truly_whether_anything_changed(
    merged_once: Path, tmp_path: Path, name: str
) -> None:
    call, steps = CALLS[name]
    lines = []
    for step in steps:
        shop = Shop.copied(merged_once, tmp_path / str(step))
        if name == "merge":
            shop.list([{"Name": "Ina Vik", "Role": "Harp"}])
        if name == "release":
            shop.confirm(1)
        before = kept(shop.folder)
        with pytest.MonkeyPatch.context() as patch:
            at_step(patch, step, interrupt)
            done = run(*(part.format(order=shop.folder) for part in call))
        if done.returncode != 130:
            break
        lines.append(done.stderr.splitlines()[-1])
        if lines[-1] == "Called off. Nothing has changed.":
            assert kept(shop.folder) == before, step
        else:
            assert lines[-1].startswith(f"Called off. This had changed by then: {shop.folder}")
    assert lines


@pytest.mark.parametrize("how", [KeyboardInterrupt, typer.Abort, CalledOff])
def test_a_check_that_is_called_off_has_changed_nothing(
    shop: Shop, monkeypatch: pytest.MonkeyPatch, how: type[BaseException]
) -> None:
    def call_off(*_given: object) -> None:
        raise how

    monkeypatch.setattr(making, "check", call_off)
    done = run("check", shop.folder)
    assert (done.returncode, done.stderr) == (130, "Called off. Nothing has changed.\n")


def test_an_interrupt_after_the_record_says_that_it_is_on_record(
    shop: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    shop.list([{"Name": "Ina Vik", "Role": "Harp"}])
    take_up, calls = tray.take_up, []

    def second_time(change: object) -> None:
        calls.append(change)
        interrupt("") if len(calls) == 2 else take_up(change)  # type: ignore[arg-type]

    monkeypatch.setattr(tray, "take_up", second_time)
    done = run("merge", shop.folder, "--gone", "all")
    assert (done.returncode, done.stderr) == (
        130, f"Called off. This had changed by then: {shop.folder}.\n",
    )  # fmt: skip
    monkeypatch.undo()
    assert "Ina Vik" in cli("status", shop.folder)


# Faults of the program

PLANTED = ("Zoë Planted", "planted-folder", "planted role")


def planted(*_given: object, **_named: object) -> None:
    name = PLANTED[0]
    try:
        raise OSError(errno.EIO, name, f"/home/{PLANTED[1]}/list.csv")
    except OSError as error:
        raise KeyError(name, PLANTED[2]) from error


def assert_nameless(text: str) -> None:
    for each in (*PLANTED, "Zoë", str(ROOT)):
        assert each not in text


def reports(folder: Path) -> list[Path]:
    return list(folder.glob("fault*/fault-*.txt"))


def test_a_fault_is_a_line_and_a_report_without_names(
    shop: Shop, shop_folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(making, "check", planted)
    for _ in range(2):
        done = run("check", shop.folder, "--title", PLANTED[0])
        assert (done.returncode, done.stdout) == (70, "")
        (line,) = done.stderr.splitlines()
        assert "Nothing has changed." in line, "the report itself is no change"
        assert_nameless(line)
    (file,) = reports(shop_folder)  # the same fault is one file
    assert str(file) in line
    text = file.read_text(encoding="utf-8")
    assert_nameless(text)
    assert "builtins.OSError 5\nthen\n" in text
    assert "builtins.KeyError\n" in text
    assert "mailmerge/cli/making.py:" in text
    assert "elsewhere:" in text
    assert "\nmailmerge " in text
    assert "\nuharfbuzz " in text


def test_a_report_goes_elsewhere_if_the_shop_cannot_be_written(
    shop: Shop, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "file").touch()
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path / "fault-here"))
    (tmp_path / "fault-here").mkdir()
    monkeypatch.setattr(making, "check", planted)
    done = run("check", shop.folder, MAILMERGE_SHOP=str(tmp_path / "file"))
    assert done.returncode == 70
    (file,) = reports(tmp_path)
    assert str(file) in done.stderr


def test_a_fault_travels_without_what_it_was_about(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pool, "_worker", (None, None))
    monkeypatch.setattr(pool, "make_and_stage", planted)
    with pytest.raises(Fault) as fault:
        pool._make_chunk([None])  # type: ignore[list-item]
    there = pickle.loads(pickle.dumps(fault.value))
    assert_nameless(told(there))
    assert "mailmerge/merge/pool.py:" in told(there)
    assert "builtins.KeyError" in told(there)


# Nothing prints but through it

PRINTS = {"print", "input", "breakpoint"}
STREAMS = {"stdout", "stderr", "__stdout__", "__stderr__"}
LOUD = {"logging", "warnings", "traceback", "pprint", "faulthandler", "click"}
ASKS = {"echo", "secho", "prompt", "confirm"}


@cache
def modules() -> list[tuple[str, ast.AST]]:
    """Return all parts of all modules, each with its module's place."""
    places = {
        path.relative_to(ROOT / "mailmerge").as_posix(): path.read_text(encoding="utf-8")
        for path in sorted((ROOT / "mailmerge").rglob("*.py"))
    }
    return [(place, node) for place, text in places.items() for node in ast.walk(ast.parse(text))]


def loud(node: ast.AST) -> str:
    """Return what a part of a module may print with, past its voice; or nothing."""
    match node:
        case ast.Name(id=name) if name in {*PRINTS, "for_a_console"}:
            return name
        case ast.Attribute(attr="for_a_console"):
            return "for_a_console"
        case ast.Attribute(value=ast.Name(id="sys"), attr=name) if name in STREAMS:
            return name
        case ast.Attribute(value=ast.Name(id="typer"), attr=name) if name in ASKS:
            return "typer"
        case ast.Import(names=names):
            return next((each.name for each in names if each.name in LOUD), "")
        case ast.ImportFrom(module=str(module), names=names):
            if module == "rich.console":
                return module
            is_loud = module.partition(".")[0] in LOUD
            return module if is_loud or STREAMS & {each.name for each in names} else ""
    return ""


def test_nothing_prints_but_through_the_voice() -> None:
    found = {f"{place}: {what}" for place, node in modules() if (what := loud(node))}
    own = ("voice.py: std", "voice.py: for_a_console")
    assert {each for each in found if not each.startswith(own) and not is_of_cli(each)} == {
        "cli/console.py: for_a_console",  # what it writes was made visible by then
        "cli/desk.py: for_a_console",  # squares of a code
        "cli/console.py: rich.console",
        "cli/common.py: rich.console",  # for its name in types
        "faults.py: traceback",  # to walk through, not to print
        "guests/workbook.py: warnings",  # to be quiet
    }


def is_of_cli(found: str) -> bool:
    """Whether something is said by way of typer, which writes to the voice, on the command line."""
    return found.startswith("cli/") and found.endswith(": typer")


def test_tables_and_json_for_people_are_written_in_known_places() -> None:
    made = {"csv.writer", "csv.DictWriter", "Workbook", "json.dumps"}
    found = {
        f"{place}: {name}"
        for place, node in modules()
        if isinstance(node, ast.Call) and (name := ast.unparse(node.func)) in made
    }
    assert {each for each in found if "json" not in each or each.startswith("cli/")} == {
        "merge/report.py: csv.writer", "workshop/settings/key.py: csv.writer",
        "proofs/pack/workbook.py: Workbook",
    }  # fmt: skip


# The desk


def test_a_page_of_the_desk_shows_signs_and_sends_them_back(shop: Shop) -> None:
    file, title = shop.folder / "order.toml", "Gala\u202e\x9b"
    text = file.read_text(encoding="utf-8")
    file.write_text(text.replace('"Spring concert"', toml(title)), encoding="utf-8")
    page = Visitor(shop.folder).asks("about").text
    assert "Gala&lt;U+202E>&lt;U+009B></a>" in page.replace("<span", "</a>")
    assert f'name="title" required maxlength="200" value="{title}"' in page
    assert not is_hidden_in_text(page)


@pytest.mark.parametrize(
    "broken", ["mailmerge.desk.places.about.arranged", "mailmerge.desk.asking.Desk.said"]
)
def test_a_fault_on_a_page_is_told_without_names(
    shop: Shop, shop_folder: Path, monkeypatch: pytest.MonkeyPatch,
    capfd: pytest.CaptureFixture[str], broken: str,
) -> None:  # fmt: skip
    visitor = Visitor(shop.folder)
    monkeypatch.setattr(broken, planted)
    answer = visitor.asks("about")
    assert answer.status_code == 500
    files = reports(shop_folder)
    assert len(files) == (2 if "said" in broken else 1)  # the page that tells of it broke as well
    for text in (answer.text, *(file.read_text() for file in files), *capfd.readouterr()):
        assert_nameless(text)
    assert any(str(file) in answer.text for file in files)
    assert "mailmerge/desk/asking.py:" in files[0].read_text()


@pytest.mark.long
def test_a_fault_of_long_work_is_a_refusal_without_names(
    shop: Shop, shop_folder: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    visitor = Visitor(shop.folder)
    assert visitor.known is not None
    visitor.desk.works.begin(visitor.known.key, "Breaking", planted, then="/")
    work = visitor.waits()
    assert work.state == "refused"
    (file,) = reports(shop_folder)
    assert str(file) in work.refusal
    for text in (work.refusal, file.read_text(encoding="utf-8"), "".join(capfd.readouterr())):
        assert_nameless(text)


@pytest.mark.long
def test_a_fault_of_what_is_tried_is_told_without_names(
    shop_folder: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    warm = Warm()
    with pytest.raises(InputError) as told_of:
        warm.call(planted)
    warm.end()
    (file,) = reports(shop_folder)
    assert str(file) in str(told_of.value)
    for text in (file.read_text(encoding="utf-8"), "".join(capfd.readouterr())):
        assert_nameless(text)


def test_every_page_is_drawn_in_one_place() -> None:
    drawn_in = {
        place
        for place, node in modules()
        if isinstance(node, ast.Attribute) and node.attr == "get_template"
    }
    assert drawn_in == {"desk/asking.py"}


@pytest.mark.skipif(sys.platform != "linux", reason="no such names elsewhere")
def test_a_folder_of_no_letters_is_worked_in_as_any_other(shop: Shop) -> None:
    order = shop.folder.rename(shop.folder.with_name("gala \udcff\n"))
    for call in ("check", "merge", "proof", "release", "status"):
        done = run(call, order)
        assert done.returncode in (0, 3), done.stderr
        assert_visible(done.stdout, done.stderr)
    stray = order / "to-engrave" / "9-\udcff\x1b.svg"
    stray.parent.mkdir(exist_ok=True)
    stray.write_text("<svg/>")
    Shop.at(order).confirm(1)
    done = run("release", order)
    assert done.returncode in (0, 3), done.stderr
    (note,) = order.rglob("why.txt")
    assert "9-<U+DCFF><U+001B>.svg" in note.read_text(encoding="utf-8")
