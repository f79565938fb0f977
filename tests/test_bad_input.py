"""Bad input, end to end: one clear line on standard error, exit code 2, nothing written."""

from __future__ import annotations

import datetime as dt
import io
import os
import random
import sys
import tomllib
import zipfile
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from conftest import Samples
from disks import fill_disk
from openpyxl import Workbook
from outside import run
from shop import Shop

from mailmerge import cli
from mailmerge.artwork import Layout
from mailmerge.blanks import Blank
from mailmerge.findings import InputError
from mailmerge.lettering import open_font
from mailmerge.machines import Machine
from mailmerge.orders.order import OrderFile, open_order
from mailmerge.shelves import Kind, Model, find, read_toml, shelf, validated

GOOD = (
    '[order]\ntitle = "T"\nlist = "l.csv"\nblank = "lowball-10oz"\nlayout = "plain"\n'
    'coat = "black"\n'
)
CUP = (
    '[blank]\nname = "Cup"\nheight = "90 mm"\n{size}\n[blank.band]\nfrom = "10 mm"\nto = "80 mm"\n'
    '{more}[[blank.coat]]\nname = "black"\ncolour = "#000000"\n'
)
LAYOUT = (
    '[layout]\nname = "L"\n[[layout.line]]\ntext = "{name}"\nfont = "%s"\n'
    'letter_height = { max = "%s", min = "%s" }\n'
)


def refused(tmp_path: Path, *arguments: object, says: str) -> None:
    """Run merge and see that it ends as bad input must."""
    before = set(tmp_path.rglob("*"))
    result = run("merge", *arguments, "--out", tmp_path / "out")
    assert result.returncode == 2, result.stdout + result.stderr
    assert result.stdout == ""
    lines = result.stderr.splitlines()
    assert len(lines) == 1, result.stderr
    assert lines[0].startswith("error: ")
    assert says in lines[0]
    assert set(tmp_path.rglob("*")) == before


def workbook_bytes(*rows: tuple[object, ...]) -> bytes:
    book = Workbook()
    for row in rows:
        book.active.append(row)
    buffer = io.BytesIO()
    book.save(buffer)
    return buffer.getvalue()


def zip_bomb() -> bytes:
    buffer = io.BytesIO(workbook_bytes(("Name",), ("Ann",)))
    with (
        zipfile.ZipFile(buffer, "a", zipfile.ZIP_DEFLATED, compresslevel=1) as archive,
        archive.open("xl/media/blank.bin", "w", force_zip64=True) as member,
    ):
        for _ in range(700):
            member.write(bytes(1_000_000))
    return buffer.getvalue()


def lying_bomb() -> bytes:
    """Return a bomb whose directory says that the sheet is small."""
    buffer = io.BytesIO()
    source = zipfile.ZipFile(io.BytesIO(workbook_bytes(("Name",), ("Ann",))))
    with zipfile.ZipFile(buffer, "w", zipfile.ZIP_DEFLATED) as archive:
        for name in source.namelist():
            data = source.read(name)
            if name == "xl/worksheets/sheet1.xml":
                data = data.replace(b"<sheetData>", b"<sheetData>" + b" " * 50_000_000)
            archive.writestr(name, data)
    data = bytearray(buffer.getvalue())
    with zipfile.ZipFile(io.BytesIO(bytes(data))) as archive:
        size = archive.getinfo("xl/worksheets/sheet1.xml").file_size
    at = data.rindex(size.to_bytes(4, "little"))
    data[at : at + 4] = (900).to_bytes(4, "little")
    return bytes(data)


GOOD_BOOK = workbook_bytes(("Name", "Role"), *[(f"Guest {n}", "Horn") for n in range(50)])


@pytest.mark.parametrize(
    ("name", "content", "says"),
    [
        ("l.xlsx", None, "There is no such order or guest list"),
        ("l.xlsx", b"", "The file is empty. A list has a header row"),
        ("l.csv", b"  \n", "The file is empty. A list has a header row"),
        ("l.xlsx", GOOD_BOOK[: len(GOOD_BOOK) // 2], "The workbook is damaged or cut short. "),
        ("l.xlsx", GOOD_BOOK[:200], "The workbook is damaged or cut short. "),
        ("l.xlsx", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(600), "by a password, or it is in"),
        ("l.xlsx", b"Name,Role\nAnn,Horn\n", "it is plain text. If it is a CSV, rename it to .csv"),
        ("l.xlsx", b"\xff\xd8\xff\xe0JFIF" + bytes(100), "This is really a JPEG picture"),
        ("l.csv", GOOD_BOOK, "is called text, but it is a workbook"),
        ("l.csv", b"\x89PNG\r\n\x1a\n" + bytes(50), "This is really a PNG picture"),
        ("l.pages", b"Name\nAnn\n", 'Found the ending ".pages". Give the list as .xlsx'),
        ("l.xlsx", zip_bomb, "would unpack to 700 MB"),
        ("l.xlsx", lying_bomb, "The workbook is damaged or cut short. "),
        ("l.csv", b"Wer,What\nAnn,Horn\n", "No name column was found"),
        ("l.csv", b"Guest,Name,Role\nAnn,Bo,Horn\n", 'Two columns could be the name: "Guest" (A)'),
        ("l.csv", b"Name,Role\n", "No guest stands below the header in row 1"),
        ("l.csv", b"Name,Role\n\x81\x8d\x8f,Horn\n", "in no encoding known here"),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)  # fmt: skip
def test_a_list_that_is_none(
    tmp_path: Path, name: str, content: bytes | Callable[[], bytes] | None, says: str
) -> None:
    if content is not None:
        (tmp_path / name).write_bytes(content if isinstance(content, bytes) else content())
    refused(tmp_path, tmp_path / name, says=says)


@pytest.mark.parametrize(
    ("order", "says"),
    [
        (GOOD.replace("lowball", "lowbal"), '"lowbal-10oz". Did you mean "lowball-10oz"?'),
        (GOOD.replace('"plain"', '"plian"'), 'has no layout "plian". Did you mean "plain"?'),
        (GOOD.replace('"black"', '"blck"'), 'has no coat "blck". Did you mean "black"'),
        (GOOD.replace("title", "titel"), 'unknown key "order.titel". Did you mean "title"?'),
        (GOOD.replace("l.csv", "m.csv"), "m.csv: There is no such list"),
        (
            GOOD.replace('blank = "lowball-10oz"\n', ""),
            'The blank is missing. Give order.blank = "…" or one table [blank].',
        ),
        (GOOD + '[client]\npeople = ["Bo", "BO"]\n', 'client.people: Found "BO" twice.'),
        (GOOD + '[client]\npeople = [""]\n', "client.people 1: Found an empty text."),
        (
            GOOD + '[client]\npeople = ["Bo"]\nneeds = "all"\n',
            'client: Found needs = "all" and 1 name in people.',
        ),
        (GOOD + '[client]\nneeds = "two"\n', 'client.needs: Found "two". Give "one" or "all".'),
        (GOOD + "due = yesterday\n", "order.toml: This is not valid TOML: "),
        (GOOD + 'due = "soon"\n', 'order.due: Found "soon". Give a day such as'),
        ("", 'order.toml: The key "order" is missing.'),
        (
            GOOD + '[columns]\nname = "Nome"\n',
            'Did you mean "Name"? The first row that is not blank holds "Name", "Role"',
        ),
    ],
)
def test_an_order_that_is_wrong(tmp_path: Path, order: str, says: str) -> None:
    (tmp_path / "l.csv").write_text("Name,Role\nAnn,Horn\n")
    (tmp_path / "order.toml").write_text(order)
    refused(tmp_path, tmp_path, says=says)


@pytest.mark.parametrize(
    ("size", "more", "says"),
    [
        ("circumference = 0", "", "blank.circumference: Found 0 mm. Give a length above 0"),
        ('circumference = "-12 in"', "", "blank.circumference: Found -304.8 mm"),
        ('circumference = "12 3/0 in"', "", 'Found "12 3/0 in". A fraction cannot have 0 below'),
        ('circumference = "12,5 in"', "", 'Write the decimal comma as a point: "12.5 in"'),
        (
            "diameter = 80",
            "[blank.handle]\nwidth = 90\n",
            "handle.width: Found 90 mm. A handle is narrower",
        ),
        ("diameter = 80\ncircumference = 300", "", "contradict each other"),
    ],
)
def test_a_blank_that_cannot_be(tmp_path: Path, size: str, more: str, says: str) -> None:
    (tmp_path / "l.csv").write_text("Name,Role\nAnn,Horn\n")
    order = GOOD.replace('blank = "lowball-10oz"\n', "") + CUP.format(size=size, more=more)
    (tmp_path / "order.toml").write_text(order)
    refused(tmp_path, tmp_path, says=says)


@pytest.mark.parametrize(
    ("font", "most", "least", "says"),
    [
        ("Lora", "6 mm", "9 mm", "letter_height: Found min 9 mm and max 6 mm"),
        ("Graet Vibes", "9 mm", "6 mm", 'Did you mean "Great Vibes"?'),
        ("note.ttf", "9 mm", "6 mm", "note.ttf: The file is not a font"),
        ("missing.otf", "9 mm", "6 mm", "missing.otf: The file cannot be read: No such file"),
    ],
)
def test_a_layout_that_cannot_be(
    tmp_path: Path, font: str, most: str, least: str, says: str
) -> None:
    (tmp_path / "l.csv").write_text("Name,Role\nAnn,Horn\n")
    (tmp_path / "note.ttf").write_text("this is no font")
    order = GOOD.replace('layout = "plain"\n', "") + LAYOUT % (font, most, least)
    (tmp_path / "order.toml").write_text(order)
    refused(tmp_path, tmp_path, says=says)


def test_options_of_a_list_do_not_go_with_an_order(tmp_path: Path) -> None:
    (tmp_path / "l.csv").write_text("Name,Role\nAnn,Horn\n")
    (tmp_path / "order.toml").write_text(GOOD)
    refused(tmp_path, tmp_path, "--blank", "lowball-10oz", says="--blank goes with a guest list")


def test_new_leaves_a_place_for_the_columns_it_cannot_settle(tmp_path: Path) -> None:
    (tmp_path / "l.csv").write_text("Wer,Was\nAnn,Horn\n")
    result = run("new", tmp_path / "gala", "--list", tmp_path / "l.csv")
    assert result.returncode == 2
    assert 'holds "Wer" (Ann), "Was" (Horn)' in result.stderr
    order = tmp_path / "gala" / "order.toml"
    text = order.read_text()
    assert "# [columns]" in text
    order.write_text(
        text.replace("# [columns]", "[columns]")
        .replace('# name = "the header of the name"', 'name = "Wer"')
        .replace('# role = "the header of the role"', 'role = "Was"')
    )
    assert run("merge", tmp_path / "gala").returncode == 0


def test_new_writes_nothing_for_a_wrong_call(tmp_path: Path) -> None:
    (tmp_path / "l.csv").write_text("Name,Role\nAnn,Horn\n")
    for wrong in (("--coat", "blck"), ("--blank", "lowbal"), ("--layout", "plian")):
        result = run("new", tmp_path / "gala", "--list", tmp_path / "l.csv", *wrong)
        assert result.returncode == 2
        assert len(result.stderr.splitlines()) == 1
        assert not (tmp_path / "gala").exists()


def test_fonts_of_a_layout_file_start_where_it_is(tmp_path: Path, box_font: Path) -> None:
    (tmp_path / "l.csv").write_text("Name\nANN\n")
    (tmp_path / "looks").mkdir()
    (tmp_path / "looks" / "boxes.ttf").write_bytes(box_font.read_bytes())
    layout = (LAYOUT % ("boxes.ttf", "9 mm", "6 mm")).replace("[layout]\n", "")
    (tmp_path / "looks" / "own.toml").write_text(layout.replace("layout.line", "line"))
    look = tmp_path / "looks" / "own.toml"
    out = tmp_path / "out"
    assert run("merge", tmp_path / "l.csv", "--layout", look, "--out", out).returncode == 0
    started = run("new", tmp_path / "gala", "--list", tmp_path / "l.csv", "--layout", look)
    assert started.returncode == 0, started.stderr
    assert run("merge", tmp_path / "gala").returncode == 0


def test_an_output_folder_that_is_a_file(tmp_path: Path) -> None:
    (tmp_path / "l.csv").write_text("Name,Role\nAnn,Horn\n")
    (tmp_path / "out").write_text("mine")
    refused(tmp_path, tmp_path / "l.csv", says="out: This is a file, and a folder")
    assert (tmp_path / "out").read_text() == "mine"


Cli = Callable[..., tuple[int, str]]


@pytest.fixture
def in_process(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Cli:
    """Run the command line in this process, so that the system can be made to fail."""

    def call(*arguments: object) -> tuple[int, str]:
        monkeypatch.setattr(sys, "argv", ["mailmerge", *map(str, arguments)])
        with pytest.raises(SystemExit) as ended:
            cli.main()
        return int(ended.value.code or 0), capsys.readouterr().err

    return call


def test_a_locked_workbook(
    tmp_path: Path, in_process: Cli, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "l.xlsx").write_bytes(GOOD_BOOK)
    opening = Path.open

    def locked(self: Path, *arguments: object, **keys: object) -> object:
        if self.name == "l.xlsx":
            raise PermissionError(13, "Permission denied", str(self))
        return opening(self, *arguments, **keys)  # type: ignore[arg-type]

    monkeypatch.setattr(Path, "open", locked)
    code, error = in_process("merge", tmp_path / "l.xlsx")
    assert code == 2
    assert "If it is open in another program, close it" in error
    assert error.count("\n") == 1


@pytest.mark.parametrize("full_at", [0, 1, 3])
def test_a_full_disk_leaves_nothing_half_written(
    tmp_path: Path, in_process: Cli, monkeypatch: pytest.MonkeyPatch, full_at: int
) -> None:
    (tmp_path / "l.csv").write_text("Name,Role\nAnn,Horn\nBo,Viola\n")
    fill_disk(monkeypatch, full_at)
    code, error = in_process("merge", tmp_path / "l.csv", "--out", tmp_path / "out", "--jobs", 1)
    assert code == 2
    assert "No space left on device" in error
    assert error.count("\n") == 1
    left = [path for path in (tmp_path / "out").rglob("*") if path.is_file()]
    assert left == []


NO_NAMES = (
    "A" * 300, "W" * 301, "(" * 400, "a@" * 200, "a" + "\u0301\u0323" * 150, "\u0301" * 300,
    "x" * 100_000, "\u202e" * 50, "a" * 250 + " " + "b" * 40,
)  # fmt: skip


@pytest.mark.long
@pytest.mark.parametrize("layout", ["first-name", "poster"])
def test_no_text_of_a_cell_ends_the_batch(tmp_path: Path, layout: str) -> None:
    path = tmp_path / "l.csv"
    rows = "".join(f"{name},Horn\n" for name in NO_NAMES)
    path.write_text(f"Name,Role\n{rows}Ann Holm,Viola\n", encoding="utf-8")
    result = run("merge", path, "--layout", layout, "--out", tmp_path / "out", "--jobs", 1)
    assert result.returncode == 3, result.stderr
    assert result.stderr == ""
    assert [path.name for path in (tmp_path / "out" / "artwork").iterdir()] == ["010-ann-holm.svg"]
    assert len(list((tmp_path / "out" / "proofs").iterdir())) == 1 + len(NO_NAMES)


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (("--title", " "), "the call: title: Found an empty text"),
        (("--coat", " "), "the call: coat: Found an empty text"),
        (("--sheet", ""), "the call: sheet: Found an empty text"),
        (("--blank", "a" * 300 + ".toml"), 'blank: There is no file "aaa'),
        (("--layout", "x\ny"), 'layout: The library has no layout "x<U+000A>y"'),
    ],
)
def test_options_that_cannot_be(tmp_path: Path, arguments: tuple[str, ...], says: str) -> None:
    (tmp_path / "l.csv").write_text("Name,Role\nAnn,Horn\n")
    refused(tmp_path, tmp_path / "l.csv", *arguments, says=says)


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ('"T"', "9" * 5000, "order.toml: This is not valid TOML: Exceeds"),
        ('"T"', "0x" + "f" * 5000, "order.title: Found a number that is too large. Give a text"),
        ('"l.csv"', '"\\u0000"', 'order.list: Found "<U+0000>". Write it on one line'),
        ('"l.csv"', f'"{"a" * 300}.csv"', "File name too long"),
        ('"plain"', f'"{"a" * 300}.toml"', "layout: There is no file"),
        ('title = "T"', "a." * 50_000 + "b = 1", "larger than 32 kB"),
    ],
)
def test_an_order_with_hostile_values(tmp_path: Path, old: str, new: str, says: str) -> None:
    (tmp_path / "l.csv").write_text("Name,Role\nAnn,Horn\n")
    (tmp_path / "order.toml").write_text(GOOD.replace(old, new))
    refused(tmp_path, tmp_path, says=says)


def test_a_sheet_that_claims_a_hundred_million_rows(tmp_path: Path) -> None:
    source = zipfile.ZipFile(io.BytesIO(workbook_bytes(("Name",), ("Ann",))))
    with zipfile.ZipFile(tmp_path / "l.xlsx", "w") as archive:
        for name in source.namelist():
            archive.writestr(name, source.read(name).replace(b'<row r="2"', b'<row r="99999999"'))
    refused(
        tmp_path, tmp_path / "l.xlsx", says="it has 99,999,999 rows. A sheet has at most 1,048,576."
    )


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no named pipes there")
def test_a_pipe_is_no_list(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "l.csv")
    refused(tmp_path, tmp_path / "l.csv", says="This is a folder, or no ordinary file")


def test_a_damaged_font_never_crashes(
    tmp_path: Path, box_font: Path, in_process: Cli, samples: Samples
) -> None:
    (tmp_path / "l.csv").write_text("Name,Role\nAnn Holm,Horn\n")
    order = GOOD.replace('layout = "plain"\n', "") + LAYOUT % ("bad.ttf", "9 mm", "6 mm")
    (tmp_path / "order.toml").write_text(order)
    data = box_font.read_bytes()
    chance = random.Random(20261212)
    for number in range(samples(12, 60)):
        damaged = bytearray(data)
        for _ in range(chance.randrange(1, 12)):
            damaged[chance.randrange(len(damaged))] = chance.randrange(256)
        if number % 4 == 0:
            damaged = damaged[: chance.randrange(len(damaged))]
        (tmp_path / "bad.ttf").write_bytes(damaged)
        open_font.cache_clear()
        code, error = in_process("merge", tmp_path, "--out", tmp_path / "out", "--jobs", 1)
        assert code in (0, 2, 3)
        assert error.count("\n") == (1 if code == 2 else 0)


@pytest.mark.parametrize("option", ["--blank", "--layout", "--coat", "--sheet"])
def test_a_message_shows_what_was_typed_and_no_placeholder(tmp_path: Path, option: str) -> None:
    (tmp_path / "l.csv").write_text("Name,Role\nAnn,Horn\n")
    result = run("merge", tmp_path / "l.csv", option, "{x}", "--out", tmp_path / "out")
    assert result.returncode == 2
    assert '"{x}"' in result.stderr
    assert "{" not in result.stderr.replace('"{x}"', "")


ODD: tuple[Any, ...] = (
    "", "x", "9" * 500, -1, 0, 1.5, 10**30, float("nan"), float("inf"), True, [], [1], ["x"] * 30,
    {}, {"x": 1}, dt.datetime(2026, 12, 12, 9, 40), dt.time(9, 40),
)  # fmt: skip


def _with_odd_values(data: Any) -> Iterator[Any]:
    """Yield copies of a table in which one value is replaced by an odd one."""
    yield from ODD
    items = data.items() if isinstance(data, dict) else enumerate(data)
    for key, value in items if isinstance(data, dict | list) else ():
        for odd in _with_odd_values(value) if isinstance(value, dict | list) else ODD:
            changed = data.copy()
            changed[key] = odd
            yield changed


ORDER = tomllib.loads(
    GOOD + 'datum = "up"\nguides = "frame"\ndue = 2026-12-12\n[columns]\nname = "Name"\n'
    '[client]\nlanguage = "en"\npeople = ["Anna Reed", "Bo Dahl"]\nneeds = "all"\n'
    '[[size]]\nline = 1\nrole = "Horn"\nletter_height = "9 mm"\n'
)


@pytest.mark.parametrize(
    ("model", "data"),
    [
        (OrderFile, ORDER),
        (Blank, read_toml(shelf("blanks")["two-handled-mug-14oz"])),
        (Layout, read_toml(shelf("layouts")["crest"])),
        (Layout, read_toml(shelf("layouts")["both-sides"])),
        (Machine, read_toml(shelf("machines")["diode-rotary"])),
    ],
    ids=lambda value: getattr(value, "__name__", ""),
)
def test_whatever_a_key_holds_is_said_in_our_words(model: type[Model], data: Any) -> None:
    said = []
    for changed in _with_odd_values(data):
        if isinstance(changed, dict):
            try:
                validated(model, changed, "a.toml")
            except InputError as error:
                said.append(str(error))
    assert len(said) > 100
    # Whatever pydantic says of a value, it says that something should be.
    assert [each for each in said if "should" in each] == []


def test_a_title_that_nobody_gave_is_not_engraved(tmp_path: Path) -> None:
    """Else the name of the list's file would be on the cups."""
    (tmp_path / "three.csv").write_text("Name,Role\nAnn Berg,Horn\n")
    refused(
        tmp_path, tmp_path / "three.csv", "--layout", "both-sides", says="engraves the title of the"
    )
    given = ("--layout", "both-sides", "--title", "Winter gala", "--out", tmp_path / "out")
    assert run("merge", tmp_path / "three.csv", *given).returncode == 0


@pytest.mark.skipif(os.name == "nt", reason="there are no such files there")
@pytest.mark.parametrize("kind", ["pipe", "folder", "device"])
@pytest.mark.parametrize(("of", "ending"), [("ornaments", "svg"), ("layouts", "toml")])
def test_what_is_there_and_no_file_is_not_called_missing(
    tmp_path: Path, of: Kind, ending: str, kind: str
) -> None:
    name = f"mine.{ending}"
    path = tmp_path / name
    if kind == "pipe":
        os.mkfifo(path)
    elif kind == "folder":
        path.mkdir()
    else:
        path.symlink_to("/dev/zero")
    with pytest.raises(InputError, match=rf'"{path}" is a folder, a pipe or a device') as said:
        find(of, name, tmp_path)
    assert str(said.value).startswith(of.removesuffix("s"))
    with pytest.raises(InputError, match="There is no file"):
        find(of, f"other.{ending}", tmp_path)


AROUND = {
    "border 2": (
        'name = "Mine"\n[[line]]\ntext = "{name}"\nfont = "Oswald"\n'
        'letter_height = { min = "4 mm", max = "9 mm" }\n'
        '[[border]]\ndrawing = "quavers"\nsize = "8 mm"\nheight = "20 mm"\n'
        '[[border]]\ndrawing = "quavers"\nsize = "0.0000001 mm"\nheight = "60 mm"\n'
    ),
    "line 1": (
        'name = "Mine"\n[[line]]\ntext = "{name}"\nfont = "Oswald"\n'
        'letter_height = { min = "0.001 mm", max = "0.001 mm" }\n'
        'ring = { height = "20 mm", repeat = true, apart = 0 }\n'
    ),
}


@pytest.mark.parametrize("place", AROUND)
def test_what_is_repeated_too_often_is_told_with_its_place(tmp_path: Path, place: str) -> None:
    (tmp_path / "mine.toml").write_text(AROUND[place])
    (tmp_path / "l.csv").write_text("Name\nAnna Berg\n")
    (tmp_path / "order.toml").write_text(
        '[order]\ntitle = "Concert"\nlist = "l.csv"\nblank = "lowball-10oz"\n'
        'layout = "mine.toml"\ncoat = "plum"\n'
    )
    done = run("check", tmp_path)
    assert done.returncode == 2
    assert f'layout "Mine": {place}: What is repeated around the cup would stand' in done.stderr


def test_the_name_of_an_orders_folder_is_no_title_to_engrave(
    tmp_path: Path, box_font: Path
) -> None:
    """Where nobody gave one, none is engraved: as an order is begun, and as it is changed."""
    listed, look, titled = (tmp_path / name for name in ("l.csv", "look.toml", "titled.toml"))
    listed.write_text("Name\nAnn Berg\n")
    for file, text in ((look, "{name}"), (titled, "{order.title}")):
        file.write_text(
            f'name = "L"\nface = "opposite"\n[[line]]\ntext = "{text}"\nfont = "{box_font}"\n'
            'letter_height = { max = "9 mm", min = "2 mm" }\n'
        )
    begin = ("new", tmp_path / "acme", "--list", listed, "--layout")
    refusal = run(*begin, titled)
    assert refusal.returncode == 2
    assert "engraves the title of the party, and nobody has given one" in refusal.stderr
    assert not (tmp_path / "acme").exists()
    assert run(*begin, look).returncode == 0
    order = open_order(tmp_path / "acme")
    assert (order.design.title, order.design.words["order.title"]) == ("acme", "")
    file = tmp_path / "acme" / "order.toml"
    text = file.read_text().replace(str(look), str(titled))
    file.write_text(text)
    with pytest.raises(InputError, match=r"order\.toml: \[order\] title: .* it is blank"):
        open_order(tmp_path / "acme")
    file.write_text(text.replace('title = ""', 'title = "acme"'))
    assert open_order(tmp_path / "acme").design.words["order.title"] == "acme"


@pytest.mark.skipif(os.name == "nt", reason="there are no such files there")
def test_a_pipe_in_the_place_of_the_shops_file_is_told(tmp_path: Path) -> None:
    """Its prices would be defaults, and nobody would know."""
    os.mkfifo(tmp_path / "shop.toml")
    (tmp_path / "l.csv").write_text("Name\nAnna Berg\n")
    done = run("check", tmp_path / "l.csv", MAILMERGE_SHOP=str(tmp_path))
    assert done.returncode == 2
    assert "shop.toml" in done.stderr


@pytest.mark.skipif(os.name == "nt", reason="there are no such files there")
def test_a_pipe_beside_the_copies_of_a_record_holds_nobody_up(shop: Shop) -> None:
    newest = shop.folder / "record-copies" / "newest.txt"
    newest.unlink(missing_ok=True)
    newest.parent.mkdir(exist_ok=True)
    os.mkfifo(newest)
    assert run("status", shop.folder).returncode in (0, 2)
