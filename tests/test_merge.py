from __future__ import annotations

import csv
import json
import math
import re
from pathlib import Path

import pytest
from conftest import DEMO
from hypothesis import given, strategies as st

from mailmerge.artwork import read_outlines, seal_of
from mailmerge.files import escaped, unescaped
from mailmerge.findings import InputError
from mailmerge.guests.names import slug
from mailmerge.merge import merge
from mailmerge.orders import open_order
from mailmerge.progress import CalledOff


def files(out: Path) -> dict[str, bytes]:
    return {
        str(path.relative_to(out)): path.read_bytes() for path in out.rglob("*") if path.is_file()
    }


def test_one_artwork_for_each_ready_item_and_one_proof_for_each(gala: Path) -> None:
    report = json.loads((gala / "report.json").read_text(encoding="utf-8"))
    items = report["items"]
    ready = [item for item in items if item["status"] == "ready"]
    assert report["totals"]["ready"] == len(ready)
    assert report["totals"]["items"] == len(items) == report["totals"]["stopped"] + len(ready)
    assert {item["artwork"] for item in ready} == {
        f"artwork/{path.name}" for path in (gala / "artwork").iterdir()
    }
    assert {item["proof"] for item in items} == {
        f"proofs/{path.name}" for path in (gala / "proofs").iterdir()
    }
    for item in items:
        stops = [finding for finding in item["findings"] if finding["severity"] == "stop"]
        assert (item["status"] == "stopped") == bool(stops) == (item["artwork"] is None)
        assert [item["item"] for item in items] == list(range(1, len(items) + 1))


def test_the_demo_meets_every_awkward_guest(gala: Path) -> None:
    report = json.loads((gala / "report.json").read_text(encoding="utf-8"))
    found: dict[str, set[str]] = {}
    for item in report["items"]:
        for finding in item["findings"]:
            found.setdefault(finding["code"], set()).add(item["guest"]["name"])
    assert found["name-too-long"] == {
        "Wilhelmina Featherstonehaugh-Cholmondeley-Smythe", "HANNELORE WEISS",
    }  # fmt: skip
    assert found["drags-the-set"] == {"Bartholomew Aldous Whittingstall-Greene"}
    assert "Bartholomew Aldous Whittingstall-Greene" in found["on-three-lines"]
    assert found["name-is-date"] == {"2026-05-01"}
    assert {"Αλέξανδρος Παππάς", "李美玲"} <= found["letter-missing"]
    assert found["duplicate"] == {"Zoë Lindqvist", "zoe lindqvist"}
    assert found["emoji"] == {"Marta Oduya 🎻"}
    assert found["all-capitals"] == {"HANNELORE WEISS"}
    assert found["mixed-alphabets"] == {"Pаvel Sorokin"}
    assert found["role-in-name"] == {"Tomás (bass)"}
    assert found["cleaned-encoding"] == {"François Bélanger"}
    assert found["hand-unclear"] == {"Jürgen Groß"}
    assert found["cleaned-blanks"] == {"Ingrid Sæther", "Keiko Tanabe"}
    assert [
        item["cup"] for item in report["items"] if item["guest"]["name"] == "Marek Wiśniewski"
    ] == [1, 2]
    left = {i["guest"]["name"] for i in report["items"] if i["face"]["angle_deg"] == 90}
    assert left == {"Łukasz Śmigielski", "Mateus Gonçalves", "Chiara Bellandi", "Elif Şahin"}
    assert {f["code"] for f in report["order"]["findings"]} == {
        "hidden-rows", "none-wanted", "said-above-header",
    }  # fmt: skip


def test_seals_and_boxes_are_those_of_the_files(gala: Path) -> None:
    report = json.loads((gala / "report.json").read_text(encoding="utf-8"))
    for item in report["items"]:
        if item["artwork"]:
            artwork = (gala / item["artwork"]).read_bytes()
            assert item["seal"] == seal_of(artwork)
            outlines = list(read_outlines(artwork).values())
            assert len(outlines) == len(item["lines"])
            for outline, line in zip(outlines, item["lines"], strict=True):
                box = line["box_mm"]
                # Mouth to the left, handle to the front: see _box in test_outside.
                assert math.pi * 98 - outline.box.high == pytest.approx(box["s"], abs=0.002)
                assert 190 - outline.box.right == pytest.approx(box["z"], abs=0.002)


def test_artwork_keeps_to_its_contract(gala: Path) -> None:
    for path in (gala / "artwork").iterdir():
        text = path.read_text(encoding="utf-8")
        tags = set(re.findall(r"<([a-zA-Z]+)", text))
        assert tags <= {"svg", "title", "desc", "defs", "path"}
        assert 'width="190.000mm"' in text
        around = math.pi * 98  # the library's tumbler is 98 mm across
        assert f'height="{around:.3f}mm"' in text
        assert f'viewBox="0 0 190.000 {around:.3f}"' in text
        for path_tag in re.findall(r"<path[^>]*>", text):
            assert re.fullmatch(r'<path d="[^"]*" fill="#000000" id="line-\d" />', path_tag)
        assert "stroke" not in text
        assert "style" not in text


@pytest.mark.long
def test_a_second_run_and_more_processes_give_the_same_bytes(gala: Path, tmp_path: Path) -> None:
    merge(open_order(DEMO), tmp_path, jobs=2)
    assert files(tmp_path) == files(gala)


def test_an_item_made_alone_is_the_same(gala: Path) -> None:
    from mailmerge.items import make_item
    from mailmerge.merge import items_of, settled, surveyed

    order = open_order(DEMO)
    items = list(items_of(order.guests, surveyed(order)))
    for item in (items[30], items[3]):
        made = make_item(settled(order), item, picture=True)
        assert made.proof == (gala / made.entry.proof).read_bytes()


def test_findings_csv_opens_in_a_spreadsheet(gala: Path) -> None:
    data = (gala / "findings.csv").read_bytes()
    assert data.startswith(b"\xef\xbb\xbf")
    rows = list(csv.reader(data.decode("utf-8-sig").splitlines()))
    assert rows[0][:4] == ["item", "row", "name", "severity"]
    report = json.loads((gala / "report.json").read_text(encoding="utf-8"))
    listed = sum(len(item["findings"]) for item in report["items"])
    told = len(report["order"]["findings"]) + len(report["findings"])
    assert len(rows) - 1 == listed + told


def test_files_of_an_earlier_merge_do_not_stay(tmp_path: Path) -> None:
    order, out = tmp_path / "order", tmp_path / "out"
    order.mkdir()
    (order / "order.toml").write_text(
        '[order]\ntitle = "T"\nlist = "l.csv"\nblank = "lowball-10oz"\nlayout = "first-name"\n'
        'coat = "black"\n'
    )
    (order / "l.csv").write_text("Name\nAnn\nBob\n")
    merge(open_order(order), out, jobs=1)
    (out / "artwork" / "009-mine.svg").write_text("kept: it is not ours")
    (order / "l.csv").write_text("Name\nAnn\nCleo\n")
    merge(open_order(order), out, jobs=1)
    assert sorted(path.name for path in (out / "artwork").iterdir()) == [
        "001-ann.svg", "002-cleo.svg", "009-mine.svg",
    ]  # fmt: skip
    assert sorted(path.name for path in (out / "proofs").iterdir()) == [
        "001-ann.png",
        "002-cleo.png",
    ]


def test_a_merge_that_is_called_off_leaves_the_earlier_one_as_it_was(tmp_path: Path) -> None:
    (tmp_path / "order.toml").write_text(
        '[order]\ntitle = "T"\nlist = "l.csv"\nblank = "lowball-10oz"\nlayout = "first-name"\n'
        'coat = "black"\n'
    )
    (tmp_path / "l.csv").write_text("Name\nAnn\nBob\nCleo\n")
    order, out = open_order(tmp_path), tmp_path / "out"
    merge(order, out, jobs=1)
    before = files(out)
    (tmp_path / "l.csv").write_text("Name\nDora\nBob\nCleo\n")
    order = open_order(tmp_path)
    seen = []

    def call_off(done: int, total: int) -> bool:
        assert total == 3
        seen.append(done)
        return done < 2

    with pytest.raises(CalledOff):
        merge(order, out, 1, call_off)
    assert seen == [1, 2]
    assert files(out) == before
    (tmp_path / "l.csv").write_text("Name\nDora\n")
    merge(open_order(tmp_path), out, jobs=1)
    assert [path.name for path in (out / "artwork").iterdir()] == ["001-dora.svg"]
    assert [path.name for path in (out / "proofs").iterdir()] == ["001-dora.png"]


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("Zoë O'Hara", "zoe-ohara"),
        ("Łukasz Śmigielski", "lukasz-smigielski"),
        ("Guðrún Þórðardóttir", "gudrun-thordardottir"),
        ("Jürgen Groß", "jurgen-gross"),
        ("a/b\\c:d*e?f", "a-b-c-d-e-f"),
        ("...", "guest"),
        ("李美玲", "guest"),
        ("", "guest"),
        ("x" * 300, "x" * 40),
    ],
)
def test_slugs(name: str, expected: str) -> None:
    assert slug(name) == expected


@given(st.text(max_size=400))
def test_file_names_are_safe_on_every_system(name: str) -> None:
    # Microsoft, Naming Files, Paths, and Namespaces: no < > : " / \ | ? *, no trailing dot or
    # blank; reserved names (CON, NUL, COM1 ...) cannot come up, for a number stands before.
    assert re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", slug(name))
    assert len(slug(name)) <= 40


@pytest.mark.parametrize("start", ["=", "+", "-", "@", "\t", "\r"])
def test_formulas_are_escaped(start: str) -> None:
    # OWASP, CSV Injection.
    assert escaped(f"{start}1+1") == f"'{start}1+1"
    assert escaped("1+1") == "1+1"
    for text in (f"{start}1+1", "1+1", "'t oak", ""):
        assert unescaped(escaped(text)) == text


def test_an_order_without_guests_is_an_error(tmp_path: Path) -> None:
    (tmp_path / "order.toml").write_text(
        '[order]\ntitle = "T"\nlist = "l.csv"\nblank = "lowball-10oz"\nlayout = "first-name"\n'
        'coat = "black"\n'
    )
    (tmp_path / "l.csv").write_text("Name,Role\n,\n")
    with pytest.raises(InputError, match="No guest stands below the header in row 1"):
        merge(open_order(tmp_path), tmp_path / "out", jobs=1)
    assert not (tmp_path / "out").exists()


def test_markup_in_a_cell_is_text(tmp_path: Path) -> None:
    from xml.etree import ElementTree

    name = "<script>&\"]]> O'Neill"
    (tmp_path / "l.csv").write_text(f'Name\n"{name.replace(chr(34), chr(34) * 2)}"\n')
    (tmp_path / "order.toml").write_text(
        '[order]\ntitle = "<T> & Co"\nlist = "l.csv"\nblank = "handled-tumbler-40oz"\n'
        'layout = "name-alone"\ncoat = "black"\n'
    )
    merge(open_order(tmp_path), tmp_path / "out", jobs=1)
    (artwork,) = (tmp_path / "out" / "artwork").iterdir()
    root = ElementTree.fromstring(artwork.read_bytes())
    assert root.find("{*}title").text == f"Item 1: {name}"
    assert root.find("{*}desc").text.startswith("<T> & Co. ")
    report = json.loads((tmp_path / "out" / "report.json").read_text(encoding="utf-8"))
    assert report["items"][0]["guest"]["name"] == name
