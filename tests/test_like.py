"""An order like one that was done before: what comes along, and that no name does."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest
from outside import run
from shop import GUESTS, Shop

from mailmerge.deeds.form import FORM
from mailmerge.deeds.like import begin_like
from mailmerge.findings import InputError
from mailmerge.orders import open_order

DUE = dt.date(2027, 10, 2)


def test_all_but_the_guests_comes_along(shop: Shop, tmp_path: Path) -> None:
    file = shop.folder / "order.toml"
    text = file.read_text(encoding="utf-8")
    said = 'subtitle = "2026"\ndue = 2026-12-01\nas_written = ["Bo Dahl"]\n'
    text = text.replace('coat = "black"\n', f'coat = "plum"\n{said}', 1)
    file.write_text(text + '\n[client]\npeople = ["Ina Holm"]\nlanguage = "de"\n', encoding="utf-8")
    new = begin_like(tmp_path / "autumn", shop.folder, title="Autumn", due=DUE)
    before, after = open_order(shop.folder), open_order(new)
    for part in ("layout", "blank", "machine", "coat"):
        assert getattr(before.design, part) == getattr(after.design, part), part
    assert after.client == before.client
    assert (after.design.title, after.due) == ("Autumn", DUE)
    assert after.design.words["order.subtitle"] == ""
    assert not list(after.guests.guests())
    held = b"".join(each.read_bytes() for each in new.parent.iterdir() if each.name != FORM)
    for guest in GUESTS:
        assert guest["Name"].encode() not in held, guest


def test_cups_match_those_of_the_year_before(packed: Shop, tmp_path: Path) -> None:
    """What was released keeps its letter heights for the set, whoever comes in its list."""
    packed.confirm(1, 2, 3)
    packed.release()
    old = {s.line: s.letter_height for s in open_order(packed.folder).design.sizes.settled}
    listed = tmp_path / "new.csv"
    listed.write_text("Name,Role\nAl,Horn\n", encoding="utf-8")
    new = begin_like(tmp_path / "autumn", packed.folder, listed)
    kept = open_order(new).design.sizes.settled
    assert all(each.kept for each in kept)
    sizes = {size.line: size.letter_height for size in kept}
    with_sets = [n for n, line in enumerate(open_order(new).design.layout.line, 1)
                 if line.sizing != "each"]  # fmt: skip
    assert set(sizes) == set(with_sets)
    assert not old or old == sizes


def test_nothing_is_left_where_the_list_does_not_go_with_it(shop: Shop, tmp_path: Path) -> None:
    listed = tmp_path / "new.csv"
    listed.write_text("Colour\nred\n", encoding="utf-8")
    with pytest.raises(InputError):
        begin_like(tmp_path / "autumn", shop.folder, listed)
    assert not (tmp_path / "autumn").exists()
    used = tmp_path / "used"
    used.mkdir()
    (used / "mine.txt").write_text("mine")
    with pytest.raises(InputError, match="Something lies in this folder"):
        begin_like(used, shop.folder)
    assert [each.name for each in used.iterdir()] == ["mine.txt"]


def test_the_command_says_what_comes_from_the_other_order(shop: Shop, tmp_path: Path) -> None:
    told = run("new", tmp_path / "autumn", "--like", shop.folder, "--title", "Autumn")
    assert told.returncode == 0, told.stderr
    assert (tmp_path / "autumn" / FORM).is_file()
    refused = run("new", tmp_path / "b", "--like", shop.folder, "--coat", "plum")
    assert refused.returncode == 2
    assert "--coat: With --like, these come from the other order" in refused.stderr
