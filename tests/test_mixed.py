"""Orders with several blanks and coats, guides, the maker's copies, and machines by name."""

from __future__ import annotations

import json
import math
import re
import xml.etree.ElementTree as ET
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from outside import cli
from PIL import Image

from mailmerge.blanks import Blank
from mailmerge.deeds import making
from mailmerge.findings import InputError
from mailmerge.merge import check, merge
from mailmerge.orders import new_order, open_order
from mailmerge.shelves import load

LIST = """Name,Role,Hand,Blank,Cup colour
Zoë Lindqvist,Violin,,,
Ann Ek,Cello,l,mug,forest
Ivo Brand,Oboe,,mug,
Li Mei,Harp,,slim-tumbler-20oz,Teal
Jo Hale,Horn,,goblet,
"""

ORDER = """
[order]
title = "Gala"
list = "guests.csv"
blank = "handled-tumbler-40oz"
layout = "name-over-role"
coat = "burgundy"
{more}
[blanks]
mug = "handled-mug-12oz"
"""


def order_in(folder: Path, rows: str = LIST, more: str = "") -> Path:
    folder.mkdir(exist_ok=True)
    (folder / "guests.csv").write_text(rows, encoding="utf-8")
    (folder / "order.toml").write_text(ORDER.format(more=more), encoding="utf-8")
    return folder


def report_of(folder: Path) -> dict:
    return json.loads((folder / "report.json").read_text(encoding="utf-8"))


@pytest.mark.long
def test_items_of_different_blanks_and_coats_are_grouped(tmp_path: Path) -> None:
    order = open_order(order_in(tmp_path / "gala"))
    merge(order, tmp_path / "out", jobs=1)
    report = report_of(tmp_path / "out")
    tumbler, mug = "Handled tumbler, 40 oz class", "Handled steel mug, 12 oz class"
    assert [(i["blank"], i["coat"], i["status"]) for i in report["items"]] == [
        (tumbler, "burgundy", "ready"),
        (mug, "forest", "ready"),
        (mug, "black", "stopped"),  # it does not come in the order's own burgundy
        ("Straight slim tumbler, 20 oz class", "teal", "ready"),
        (tumbler, "burgundy", "stopped"),
    ]
    messages = {f["code"]: f["message"] for i in report["items"] for f in i["findings"]}
    assert (
        'The file of the blank "Handled steel mug, 12 oz class" has no coat "burgundy". '
        "It knows: black, forest, white."
    ) in messages["coat-unclear"]
    assert 'found "goblet". These are known: mug, ' in messages["blank-unclear"]
    folders = sorted(p.name for p in (tmp_path / "out" / "artwork").iterdir())
    assert folders == [
        "handled-steel-mug-12-oz-class-forest",
        "handled-tumbler-40-oz-class-burgundy",
        "straight-slim-tumbler-20-oz-class-teal",
    ]
    for item in report["items"]:
        if item["artwork"]:
            assert (tmp_path / "out" / item["artwork"]).is_file()
    assert [(g["blank"], g["coat"], g["items"], g["ready"]) for g in report["groups"]] == [
        (tumbler, "burgundy", 2, 1),
        (mug, "forest", 1, 1),
        (mug, "black", 1, 0),
        ("Straight slim tumbler, 20 oz class", "teal", 1, 1),
    ]
    # pi times 84 and 73 mm across.
    around = {g["blank"]: g["wall"]["set_circumference_mm"] for g in report["groups"]}
    assert around[mug] == pytest.approx(263.894, abs=0.001)
    assert {entry.status for entry in check(order).entries} == {"ready", "stopped"}


CUP = """name = "Concert cup"
note = "{note}"
circumference = "{around} mm"
height = "120 mm"
band = {{ from = "10 mm", to = "110 mm" }}
{coats}
"""
GREY = '[[coat]]\nname = "grey"\ncolour = "#808080"\n'
ROSE = '[[coat]]\nname = "rose"\ncolour = "#e0a0a0"\n'


def cup_in(folder: Path, file: str, around: int = 260, note: str = "", coats: str = GREY) -> Path:
    folder.mkdir(exist_ok=True)
    path = folder / file
    path.write_text(CUP.format(note=note, around=around, coats=coats), encoding="utf-8")
    return path


def test_a_blank_is_what_its_file_says(tmp_path: Path) -> None:
    def identity(file: str, **told: Any) -> str:
        return load(Blank, "blanks", str(cup_in(tmp_path, file, **told)), Path()).identity

    first = identity("a.toml", coats=GREY + ROSE)
    assert identity("b.toml", note="From the shelf.", coats=ROSE + "\n\n" + GREY) == first
    spelled = tmp_path / "b.toml"
    text = spelled.read_text(encoding="utf-8").replace('"260 mm"', '"26 cm"')
    spelled.write_text(text + "[handle]\nwidth = 0\n", encoding="utf-8")
    assert load(Blank, "blanks", str(spelled), Path()).identity == first
    others = [
        identity("c.toml", around=261, coats=GREY + ROSE),
        identity("d.toml", coats=GREY),
        identity("e.toml", coats=GREY + ROSE.replace("e0", "e1")),
    ]
    assert len({first, *others}) == 4


def test_two_blanks_of_one_name_are_told_apart(tmp_path: Path) -> None:
    folder = order_in(
        tmp_path / "gala",
        "Name,Role,Blank\nIlse Dam,Oboe,wide\nBo Ek,Harp,narrow\nJo Hale,Horn,wide\n",
    )
    cup_in(folder, "wide.toml", 260)
    cup_in(folder, "narrow.toml", 250)
    own = 'wide = "wide.toml"\nnarrow = "narrow.toml"\nagain = "wide.toml"\n'
    text = (folder / "order.toml").read_text(encoding="utf-8").replace("burgundy", "grey")
    text = text.replace('"handled-tumbler-40oz"', '"wide.toml"')
    (folder / "order.toml").write_text(text + own, encoding="utf-8")
    order = open_order(folder)
    merge(order, tmp_path / "out", jobs=1)
    report = report_of(tmp_path / "out")
    wide, narrow = "Concert cup (wide.toml)", "Concert cup (narrow.toml)"
    assert [item["blank"] for item in report["items"]] == [wide, narrow, wide]
    assert [(g["blank"], g["items"]) for g in report["groups"]] == [(wide, 2), (narrow, 1)]
    assert len({item["blank_identity"] for item in report["items"]}) == 2
    folders = {item["artwork"].split("/")[1] for item in report["items"]}
    assert folders == {"concert-cup-wide-toml-grey", "concert-cup-narrow-toml-grey"}
    # One of them alone keeps its name.
    (folder / "order.toml").write_text(text.replace("[blanks]", "[blanks]\nw='wide.toml'"))
    assert open_order(folder).design.called(order.design.blank) == "Concert cup"


def test_a_group_that_is_gone_leaves_no_files(tmp_path: Path) -> None:
    folder, out = order_in(tmp_path / "gala"), tmp_path / "out"
    merge(open_order(folder), out, jobs=1)
    order_in(folder, "\n".join(LIST.splitlines()[:2]))
    merge(open_order(folder), out, jobs=1)
    left = sorted(str(p.relative_to(out)) for p in out.rglob("*"))
    assert left == [
        "artwork",
        "artwork/handled-tumbler-40-oz-class-burgundy",
        "artwork/handled-tumbler-40-oz-class-burgundy/001-zoe-lindqvist.svg",
        "findings.csv",
        "maker",
        "maker/001-zoe-lindqvist.png",
        "proofs",
        "proofs/001-zoe-lindqvist.png",
        "report.json",
    ]


def test_guides_are_a_group_of_their_own(tmp_path: Path) -> None:
    """The frame of the face, a beam wide, apart from the engraving; and only where asked for."""
    rows = "Name,Role\nZoë Lindqvist,Violin\n"
    svg = "{http://www.w3.org/2000/svg}"
    engraved = []
    for more in ("", 'guides = "frame"\n'):
        out = tmp_path / f"out{len(more)}"
        merge(open_order(order_in(tmp_path / "gala", rows, more)), out, jobs=1)
        item = report_of(out)["items"][0]
        root = ET.parse(out / item["artwork"]).getroot()
        groups = root.findall(f"{svg}g")
        engraved.append([path.attrib for path in root.findall(f"{svg}path")])
        if not more:
            assert not groups
            continue
        (group,) = groups
        assert group.attrib["id"] == "guides"
        frame, mark = group.findall(f"{svg}path")
        # A cross where the head starts, mouth left, handle front: what of it is on the page.
        start, half = math.pi * 98 * 0.75, 0.05
        arm = re.findall(r"[\d.-]+", mark.attrib["d"])[:4]
        assert arm == ["0.000", f"{start - half:.3f}", "3.000", f"{start - half:.3f}"]
        assert "-" not in mark.attrib["d"]
        numbers = [
            float(n) for n in frame.attrib["d"].translate({ord(c): " " for c in "MLZ"}).split()
        ]
        points = np.array(numbers).reshape(-1, 2)
        # Mouth to the left: x down the wall of 190 mm, whose band goes from 45 to 165 mm. The face
        # is 120 degrees of what is around a cup of 98 mm; its middle is half of it further on.
        assert (points[:4, 0].min(), points[:4, 0].max()) == (25, 145)
        middle, half = math.pi * 98 / 4, math.pi * 98 / 6
        assert points[:4, 1].min() == pytest.approx(middle - half, abs=0.001)
        assert points[:4, 1].max() == pytest.approx(middle + half, abs=0.001)
        assert (points[4:, 0].min(), points[4:, 0].max()) == (25.1, 144.9)
    assert engraved[0] == engraved[1]


def test_the_makers_copy_is_the_proof_with_the_load_picture(tmp_path: Path) -> None:
    folder = order_in(tmp_path / "gala", "Name,Role\nZoë Lindqvist,Violin\nΑλέξανδρος,Oboe\n")
    out = tmp_path / "out"
    merge(open_order(folder), out, jobs=1)
    ready, stopped = report_of(out)["items"]
    proof = np.asarray(Image.open(out / ready["proof"]).convert("RGB"))
    copy = np.asarray(Image.open(out / ready["maker_copy"]).convert("RGB"))
    assert copy.shape[1] == proof.shape[1]
    assert copy.shape[0] > proof.shape[0] + 500
    assert (copy[: len(proof)] == proof).all()
    # Mouth to the left, handle to the front: the face a quarter on from the page's upper edge.
    placed = ready["loading"]["artwork_mm"]
    box = ready["lines"][0]["box_mm"]
    assert placed["left"] == pytest.approx(190 - box["z"] - box["height"], abs=0.01)
    assert placed["top"] + placed["height"] / 2 == pytest.approx(math.pi * 98 / 4, abs=0.5)
    assert (stopped["status"], stopped["maker_copy"]) == ("stopped", None)


@pytest.mark.long
def test_the_load_pictures_handle_is_where_the_page_has_it(tmp_path: Path) -> None:
    """Seen into the mouth: dark steel of the bracket at the right, the left, or at the top."""
    rows = "Name,Role\nZoë Lindqvist,Violin\n"
    places = {}
    for datum in ("front", "back", "up"):
        folder = order_in(tmp_path / datum, rows, f'datum = "{datum}"\n')
        out = tmp_path / f"out-{datum}"
        merge(open_order(folder), out, jobs=1)
        copy = np.asarray(Image.open(out / report_of(out)["items"][0]["maker_copy"]).convert("RGB"))
        load = copy[1560:].astype(int)
        places[datum] = load

    # Cup: middle (322, 372), 100 px in radius. Mouth to the left, the operator is at the right.
    def dark(picture: np.ndarray, x: int, y: int) -> bool:
        return bool(np.abs(picture[y, x] - (120, 123, 126)).sum() < 24)

    right, left, top = (322 + 109, 372), (322 - 109, 372), (322 - 12, 372 - 109)
    assert [dark(places["front"], *at) for at in (right, left, top)] == [True, False, False]
    assert [dark(places["back"], *at) for at in (right, left, top)] == [False, True, False]
    assert [dark(places["up"], *at) for at in (right, left, top)] == [False, False, True]


def test_wrong_words_for_datum_guides_and_blanks(tmp_path: Path) -> None:
    rows = "Name,Role\nZoë Lindqvist,Violin\n"
    for more, says in (
        (
            'datum = "left"\n',
            r"order.toml: order.datum: Found datum .left.\. With mouth .left.",
        ),
        ('datum = "under"\n', r'order.toml: order.datum: Found "under"\. Give "up", "front"'),
        ('guides = "lines"\n', r'order.toml: order.guides: Found "lines"\. Give "frame"\.'),
    ):
        with pytest.raises(InputError, match=says):
            open_order(order_in(tmp_path / "gala", rows, more))
    folder = order_in(tmp_path / "gala", rows)
    text = (folder / "order.toml").read_text(encoding="utf-8")
    (folder / "order.toml").write_text(text.replace("handled-mug-12oz", "mug-12oz"))
    with pytest.raises(InputError, match=r'The library has no blank "mug-12oz"'):
        open_order(folder)


def test_a_new_order_may_name_its_machine(tmp_path: Path) -> None:
    (tmp_path / "guests.csv").write_text("Name,Role\nZoë Lindqvist,Violin\n", encoding="utf-8")
    file, _ = new_order(
        tmp_path / "gala", tmp_path / "guests.csv", None, None, "bottle-25oz", "plain", None,
        "co2-rotary",
    )  # fmt: skip
    assert open_order(file).design.machine.name.startswith("CO2 laser, chuck")


def test_one_cause_is_one_finding(tmp_path: Path) -> None:
    """A coat that the blank lacks, and not one stop for each of those who ask for it."""
    cups = [("navy blue", 14), ("burgundy", 2), ("navy blue", 3), ("ink", 1)]
    coats = [coat for coat, count in cups for _ in range(count)]
    names = [f"{first} {last}" for last in ("Ek", "Holm", "Lund", "Brand", "Krag")
             for first in ("Ann", "Ivo", "Zoë", "Tomas")]  # fmt: skip
    rows = [f"{name},Horn,{coat}" for name, coat in zip(names, coats, strict=True)]
    order = order_in(tmp_path / "gala", "\n".join(["Name,Role,Coat", *rows, "", ""]))
    found = making.check(order)
    about = [cause for cause in found.causes if cause.finding.code == "coat-unclear"]
    assert [cause.rows for cause in about] == [[*range(2, 16), *range(18, 21)], [21]]
    assert [len(cause.names) for cause in about] == [17, 1]
    assert found.totals.stopped == 18  # each of them is stopped all the same
    told = cli("check", order)
    assert told.count('has no coat "navy') == 1
    assert "Ann Ek and 16 more" in " ".join(told.split())
    assert "2-15, 18-20" in told
    assert "guests.csv: 22 lines: 1 down to the header, 1 blank, 20 for guests\n" in told
    table = tmp_path / "gala" / "merged" / "findings.csv"
    cli("merge", order)
    assert table.read_text(encoding="utf-8").count("coat-unclear") == 18
    rows_of = json.loads(table.with_name("report.json").read_text(encoding="utf-8"))
    assert rows_of["order"]["rows"] == {
        "lines": 22, "continued": 0, "header": 1, "blank": 1, "unread": 0, "hidden": 0,
        "none_wanted": 0, "examples": 0, "guests": 20,
    }  # fmt: skip


def test_your_own_blank_is_copied_into_the_order(tmp_path: Path) -> None:
    rows, mine = tmp_path / "guests.csv", cup_in(tmp_path, "mine.toml")
    rows.write_text("Name,Role\nIlse Dam,Oboe\n", encoding="utf-8")
    file, _ = new_order(tmp_path / "gala", rows, "Gala", None, str(mine), "plain", None)
    assert (tmp_path / "gala" / "mine.toml").read_bytes() == mine.read_bytes()
    assert 'blank = "mine.toml"' in file.read_text(encoding="utf-8")
    mine.unlink()  # the order does not need it any more
    assert open_order(tmp_path / "gala").design.blank.name == "Concert cup"
    # Another file of that name in the folder is not written over, and nothing else is written.
    other = cup_in(tmp_path / "other", "mine.toml", 250)
    (tmp_path / "gala" / "order.toml").unlink()
    (tmp_path / "gala" / "guests.csv").unlink()
    with pytest.raises(InputError, match="Another file has this name already"):
        new_order(tmp_path / "gala", rows, "Gala", None, str(other), "plain", None)
    assert [path.name for path in (tmp_path / "gala").iterdir()] == ["mine.toml"]


def test_papers_tell_inches_beside_millimetres_for_a_tape_in_inches(tmp_path: Path) -> None:
    folder = order_in(tmp_path / "gala", "Name,Role\nIlse Dam,Oboe\n")
    cup_in(folder, "mine.toml")
    text = (folder / "mine.toml").read_text(encoding="utf-8")
    text = f"inches = 16\n{text.replace('260 mm', '11 5/8 in')}"
    (folder / "mine.toml").write_text(text, encoding="utf-8")
    order = (folder / "order.toml").read_text(encoding="utf-8").replace("burgundy", "grey")
    order = order.replace("handled-tumbler-40oz", "mine.toml")
    (folder / "order.toml").write_text(order, encoding="utf-8")
    merge(open_order(folder), tmp_path / "out", jobs=1)
    (item,) = report_of(tmp_path / "out")["items"]
    # 25.4 mm to the inch (NIST SP 811, appendix B.8); pi.
    assert (
        "295.27 mm (11 5/8 in) around, or 93.99 mm (3 11/16 in) across"
        in item["loading"]["steps"][0]
    )
