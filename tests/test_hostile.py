"""Files made to hang, to crash or to fill the memory: one line each that names the file, at once.

What takes longer than the tests' own limit of processor time has no limit of its own.
"""

from __future__ import annotations

import os
import re
import resource
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import hostile
import pytest
from outside import run
from shop import Shop

from mailmerge.answers.messages import _numbers
from mailmerge.artwork.drawings import read_drawing
from mailmerge.findings import InputError
from mailmerge.guests.reading import open_list
from mailmerge.lettering import Outline, Style, letter, open_font
from mailmerge.lettering.outline import Points
from mailmerge.lettering.tangle import MOST_CROSSINGS, is_tangled

_SECONDS = 8.0
"""Of processor time for one case; all are ended within one on a quiet machine."""


@pytest.fixture(autouse=True)
def _quick() -> Iterator[None]:
    """See that a case takes little processor time."""
    before = resource.getrusage(resource.RUSAGE_SELF).ru_utime
    yield
    assert resource.getrusage(resource.RUSAGE_SELF).ru_utime - before < _SECONDS


# Drawings

_DRAWINGS: dict[str, tuple[Callable[[], bytes], str]] = {
    "mutual use": (hostile.mutual_use, "uses itself"),
    "one id twice": (hostile.same_id_twice, "uses itself"),
    "200 crossing strokes": (lambda: hostile.crossing_strokes(200), "cross more than 10,000 times"),
    "500 crossing strokes": (lambda: hostile.crossing_strokes(500), "cross more than 10,000 times"),
    "zigzag": (lambda: hostile.zigzag(2_000), "cross more than 10,000 times"),
    "filled zigzag": (lambda: hostile.filled_zigzag(2_000), "cross more than 10,000 times"),
    "tiny dashes": (hostile.tiny_dashes, "more than 1000 dashes"),
}


@pytest.mark.parametrize("case", _DRAWINGS)
def test_a_drawing_is_refused_before_the_work_is_done(tmp_path: Path, case: str) -> None:
    made, says = _DRAWINGS[case]
    path = tmp_path / "drawing.svg"
    path.write_bytes(made())
    with pytest.raises(InputError, match=f"drawing.svg.*{says}"):
        read_drawing(path)


def test_a_hatched_drawing_is_read(tmp_path: Path) -> None:
    path = tmp_path / "hatched.svg"
    path.write_bytes(hostile.crossing_strokes(30))
    assert read_drawing(path).outline.box.height > 0.9


def _grid(across: int, down: int) -> Outline:
    """Return lines of which each of one way crosses each of the other, as thin triangles."""
    lines = [((0, at), (1000, at + 0.5), (0, at + 0.5)) for at in range(down)]
    lines += [((at, -9), (at + 0.5, 1000), (at + 0.5, -9)) for at in range(across)]
    points = [point for line in lines for point in line]
    import numpy as np

    return Outline("MLLZ" * len(lines), np.array(points, dtype=float))


def _steps(points: int) -> Points:
    """Return moves that set each three points apart from all others."""
    import numpy as np

    return np.repeat(np.arange(points // 3), 3)[:, None] * np.array([2000.0, 0.0])


def test_crossings_are_counted_and_neighbours_are_not() -> None:
    # A triangle crosses another one at two of its sides or more: 4 to 9 times.
    assert not is_tangled(_grid(30, 30))  # 900 pairs
    assert is_tangled(_grid(60, 60))  # 3,600 pairs
    import numpy as np

    angles = np.linspace(0, 2 * np.pi, MOST_CROSSINGS, endpoint=False)
    circle = Outline(
        "M" + "L" * (MOST_CROSSINGS - 1) + "Z", np.stack([np.cos(angles), np.sin(angles)], axis=1)
    )
    assert not is_tangled(circle)
    # As many of a grid's lines, but each behind the others: none of them meet.
    apart = _grid(60, 60)
    assert not is_tangled(Outline(apart.verbs, apart.points + _steps(len(apart.points))))


# Fonts


@pytest.mark.parametrize("write", [hostile.many_components, hostile.long_contour])
def test_a_tangled_letter_is_left_out(tmp_path: Path, write: Callable[[Path], Path]) -> None:
    font = open_font(str(write(tmp_path / "font.ttf")), 400, tmp_path)
    assert not letter(Style((font,)), "Anna").sound
    glyph = font.hb_font.get_nominal_glyph(ord("A"))
    assert glyph is not None
    assert font.damaged(glyph)


# Lists


def _guests(path: Path) -> list[tuple[int, str]]:
    opened = open_list(path, None, {})
    assert opened.survey().guests == len(list(opened.guests()))
    return [(guest.row, guest.name) for guest in opened.guests()]


THREE = [(2, "Anna"), (3, "Ben"), (4, "Cleo")]


def test_a_workbook_with_a_cell_in_its_last_row_is_read(tmp_path: Path) -> None:
    assert _guests(hostile.far_cell(tmp_path / "list.xlsx")) == THREE
    far = _guests(hostile.far_cell(tmp_path / "far.xlsx", "Dora"))
    assert far == [*THREE, (1_048_576, "Dora")]


def test_rows_that_a_workbook_leaves_out_are_counted_as_blank(tmp_path: Path) -> None:
    count = open_list(hostile.far_cell(tmp_path / "l.xlsx", "Dora"), None, {}).survey().count
    assert (count.header, count.guests, count.blank) == (1, 4, 1_048_576 - 5)


_ODS_START = (hostile.ods_row("name", "role"), hostile.ods_row("Anna", "Viola"))


def test_blank_rows_to_the_end_of_an_ods_are_read(tmp_path: Path) -> None:
    path = hostile.write_ods(tmp_path / "list.ods", *_ODS_START, hostile.blank_rows(1_048_574))
    assert _guests(path) == [(2, "Anna")]


@pytest.mark.parametrize(
    ("row", "says"),
    [
        (hostile.ods_row("Ben", more=hostile.blank_cells(2_000_000_000)), "columns 2,000,000,000"),
        (hostile.blank_rows(2_000_000_000), "rows 2,000,000,000"),
        (hostile.ods_row(more=hostile.text_blanks(2_000_000_000)), "blanks 2,000,000,000"),
        (hostile.ods_row(*["Ben"] * 40, attributes='table:number-rows-repeated="1000000"'),
         "cells 20,000,004"),
    ],
)  # fmt: skip
def test_an_ods_that_says_it_holds_millions_is_refused(tmp_path: Path, row: str, says: str) -> None:
    path = hostile.write_ods(tmp_path / "list.ods", *_ODS_START, row)
    with pytest.raises(InputError, match=rf"list\.ods: .* repeats {says}"):
        open_list(path, None, {})


def test_a_text_that_no_cell_holds_is_refused(tmp_path: Path) -> None:
    path = hostile.large_string(tmp_path / "list.xlsx", 20_000_000)
    with pytest.raises(InputError, match=r"list\.xlsx: .*sharedStrings.*more than 1,000,000"):
        open_list(path, None, {})


@pytest.mark.parametrize(
    ("write", "count", "says"),
    [
        (hostile.nested_rows, 197, 'sheet1.xml" is nested more than 200 deep'),
        (hostile.merged_cells, 65_536, "more than 65,536 merged cells"),
        (hostile.many_sheets, 255, "more than 256 sheets"),
        (hostile.shared_texts, 999_000, "more than 1,000,000 shared texts"),
    ],
)
def test_more_than_programs_write_is_refused_before_it_is_read(
    tmp_path: Path, write: Callable[[Path, int], Path], count: int, says: str
) -> None:
    with pytest.raises(InputError, match=rf"list\.xlsx: .*{says}"):
        open_list(write(tmp_path / "list.xlsx", count + 1_000), None, {})
    assert _guests(hostile.nested_rows(tmp_path / "few.xlsx", 100))[:3] == THREE


@pytest.mark.parametrize("piece", ["a" * 1000, "a," * 500])
def test_a_line_without_an_end_is_refused(tmp_path: Path, piece: str) -> None:
    path = tmp_path / "list.csv"
    path.write_text("name,role\n" + piece * 2_000)
    with pytest.raises(InputError, match=r"list\.csv: line 2: .*more than 1,000,000"):
        open_list(path, None, {})


# Answers


def test_ranges_of_numbers_by_the_thousand_are_refused() -> None:
    wrong = InputError("not whole")
    with pytest.raises(InputError, match="not whole"):
        _numbers("1-19999 " * 3_000, wrong)
    assert len(_numbers("1-19999", wrong)) == 19_999


# Layouts


@pytest.mark.parametrize(
    "more",
    [
        'ring = {{ height = "low", repeat = true, apart = 0 }}\n'
        'letter_height = {{ max = "0.05 mm", min = "0.05 mm" }}\n',
        '[[border]]\ndrawing = "hairline"\nheight = "low"\nsize = 1e-9\n',
    ],
)
def test_what_would_be_repeated_without_measure_is_refused(shop: Shop, more: str) -> None:
    (shop.folder / "hairline.svg").write_bytes(
        b'<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><path d="M0 0h9v9z"/></svg>'
    )
    layout = shop.folder / "layout.toml"
    text = layout.read_text().split("[[line]]")
    first = text[1]
    if more.startswith("ring"):
        first = "\n".join(
            row for row in first.splitlines()
            if not row.startswith(("letter_height", "sizing", "outliers"))
        ).replace("{name}", ".") + "\n"  # fmt: skip
    more = more.replace("{{", "{").replace("}}", "}").replace("hairline", "hairline.svg")
    layout.write_text(f"{text[0]}[[line]]{first}{more}")
    result = run("merge", shop.folder, "--jobs", 1)
    assert result.returncode == 2, result.stderr
    assert result.stderr.count("\n") == 1
    assert "are the most" in result.stderr


# No ordinary files


@pytest.mark.parametrize("file", ["list.csv", "layout.toml", "order.toml", "font.ttf", "came.txt"])
@pytest.mark.parametrize("kind", ["pipe", "device"])
def test_a_pipe_or_a_device_is_never_waited_for(shop: Shop, file: str, kind: str) -> None:
    path = shop.folder / file
    if path.exists():
        path.unlink()
    if kind == "pipe":
        os.mkfifo(path)
    else:
        path.symlink_to("/dev/zero")
    if file == "font.ttf":
        layout = shop.folder / "layout.toml"
        rows = [
            f'font = "{file}"' if row.startswith("font") else row
            for row in layout.read_text().splitlines()
        ]
        layout.write_text("\n".join(rows))
    call = ("answers", shop.folder, path) if file == "came.txt" else ("merge", shop.folder)
    result = run(*call)
    assert (result.returncode, result.stderr.count("\n")) == (2, 1), result.stderr
    assert file in result.stderr or str(shop.folder) in result.stderr


# What used to end in a traceback


def refused(*call: object, **environment: str) -> str:
    """Run a call that has to end with one line, and return it."""
    result = run(*call, **environment)
    assert result.returncode == 2, result.stdout + result.stderr
    assert result.stderr.startswith("error: ")
    assert result.stderr.count("\n") == 1
    return result.stderr


@pytest.mark.parametrize(
    "text", ["columns." + ".".join("a" * 15_000) + " = 1", "a = " + "[" * 9_000]
)
def test_a_toml_of_many_tables_within_each_other_is_refused(shop: Shop, text: str) -> None:
    order = shop.folder / "order.toml"
    order.write_text(f"{text}\n{order.read_text()}")
    assert "order.toml" in refused("merge", shop.folder)


DIGITS = "9" * 5_000


@pytest.mark.parametrize(
    "more", [("--same", f"{DIGITS}=1"), ("--same", f"1={DIGITS}"), ("--gone", DIGITS)]
)
def test_numbers_without_end_are_refused(shop: Shop, more: tuple[str, str]) -> None:
    assert more[0] in refused("merge", shop.folder, *more)


def test_a_speed_of_nearly_nothing_is_refused(shop: Shop) -> None:
    order = shop.folder / "order.toml"
    order.write_text(order.read_text().replace("spot =", "speed = 1e-300\nspot ="))
    assert "machine.speed" in refused("merge", shop.folder)


def test_a_shop_in_nobodys_home_is_refused() -> None:
    assert "~nosuchuser/x" in refused("shop", MAILMERGE_SHOP="~nosuchuser/x")


def test_a_ledger_with_flipped_bytes_is_refused(shop: Shop) -> None:
    ledger = shop.folder / "ledger.sqlite"
    data = ledger.read_bytes()
    assert b'"findings":' in data
    ledger.write_bytes(data.replace(b'"findings":', b'"findings";'))
    assert "damaged" in refused("merge", shop.folder)
    assert "damaged" in refused("status", shop.folder)


@pytest.mark.skipif(os.name == "nt", reason="a program without a console prints nowhere there")
def test_a_closed_output_is_none_of_the_files_and_is_told() -> None:
    closing = (
        "import os, sys; os.close(1); os.execv(sys.executable, "
        "[sys.executable, '-m', 'mailmerge', 'blanks'])"
    )
    call = [sys.executable, "-c", closing]
    done = subprocess.run(call, stderr=subprocess.PIPE, check=False, text=True)
    assert done.returncode == 1
    assert re.fullmatch("error: Standard output cannot be written: .* changed\\.\n", done.stderr)


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="/dev/full is Linux's")
def test_a_full_output_is_one_line() -> None:
    with Path("/dev/full").open("w") as full:
        done = subprocess.run(
            [sys.executable, "-m", "mailmerge", "blanks"],
            stdout=full, stderr=subprocess.PIPE, check=False, text=True,
        )  # fmt: skip
    why = "Standard output cannot be written: No space left on device. Nothing has changed."
    assert (done.returncode, done.stderr) == (1, f"error: {why}\n")
