"""Looks on the desk: blank and coat, layout, measuring; what they show, and what they change."""

from __future__ import annotations

import math
import re
from pathlib import Path

import pytest
from desks import Visitor
from outside import refused, said
from shop import GUESTS, Shop

from mailmerge.deeds.arranging import arranged
from mailmerge.deeds.offered import blanks_for
from mailmerge.desk import words
from mailmerge.orders import open_order
from mailmerge.proofs.plan import View, plan_of
from mailmerge.shelves import shelf

NAMED = """[order]
title = "Spring concert"
list = "list.csv"
layout = "layout.toml"
blank = "handled-tumbler-40oz"  # the usual one
coat = "ivory"
"""


@pytest.fixture
def visitor(shop: Shop) -> Visitor:
    shop.list(GUESTS)
    (shop.folder / "order.toml").write_text(NAMED, encoding="utf-8")
    return Visitor(shop.folder)


def digest(page: str) -> str:
    found = re.search(r'name="saw" value="(\w+)"', page)
    assert found
    return found[1]


def width_of(view: View, part: str) -> float:
    across = [x for shape in view.shapes if shape.part == part for x, _ in shape.points]
    return max(across) - min(across)


# Drawings to scale


@pytest.mark.parametrize("offered", ["handled-tumbler-40oz", "tapered-tumbler-30oz"])
def test_a_drawing_has_the_blanks_own_measures(offered: str, shop: Shop) -> None:
    shop.list(GUESTS)
    blank = next(each.blank for each in blanks_for(shop.folder) if each.name == offered)
    plan = plan_of(blank)
    # The widest circle of the wall is seen as wide as it is: C / pi.
    assert width_of(plan.cup, "wall") == pytest.approx(blank.largest_circumference / math.pi)
    assert plan.cup.height == pytest.approx(blank.upright_height)
    if not blank.taper:
        assert width_of(plan.wrap, "wall") == pytest.approx(blank.circumference_at(0))
        # Of the zone at the zero one half lies at each end.
        zones = [shape for shape in plan.wrap.shapes if shape.part == "zone"]
        edge = blank.handle.width / 2 + blank.handle.clearance
        wide = [max(x for x, _ in z.points) - min(x for x, _ in z.points) for z in zones]
        assert wide == [pytest.approx(edge)] * 2
        # A chord of the face's arc: 2 R sin(w / 2 R).
        (face,) = (each.face_mm for each in blanks_for(shop.folder) if each.name == offered)
        radius = blank.radius_at(0)
        assert width_of(plan.cup, "face") == pytest.approx(2 * radius * math.sin(face / 2 / radius))


# Blank and coat


def test_every_blank_is_offered_in_every_coat(visitor: Visitor, shop: Shop) -> None:
    page = visitor.asks("cups", "blank").text
    for each in blanks_for(shop.folder):
        assert f'name="blank" value="{each.name}"' in page
        assert each.blank.name in page.replace("&#39;", "'")
    assert {each.name for each in blanks_for(shop.folder)} == set(shelf("blanks"))
    pressed = re.findall(r'value="([^"]*)" aria-pressed="true"', page)
    assert pressed == ["ivory"]


def test_a_blank_is_taken_with_one_press_and_taken_back(visitor: Visitor, shop: Shop) -> None:
    before = (shop.folder / "order.toml").read_text(encoding="utf-8")
    saw = digest(visitor.asks("cups", "blank").text)
    page = visitor.sends("cups", "blank", blank="lowball-10oz", coat="plum", saw=saw).text
    taken = open_order(shop.folder).design
    assert (taken.blank.name, taken.coat.name) == ("Lowball, 10 oz class", "plum")
    assert words.blank_taken("Lowball, 10 oz class", "plum") in page
    undo = dict(re.findall(r'type="hidden" name="(\w+)" value="([^"]*)"', page.split("</form>")[0]))
    visitor.sends("cups", "blank", **undo)
    assert (shop.folder / "order.toml").read_text(encoding="utf-8") == before


def test_a_blank_is_not_taken_over_what_somebody_else_changed(visitor: Visitor, shop: Shop) -> None:
    saw = digest(visitor.asks("cups", "blank").text)
    visitor.sends("cups", "blank", blank="lowball-10oz", coat="plum", saw=saw)
    answer = visitor.sends("cups", "blank", blank="lowball-10oz", coat="copper", saw=saw)
    assert answer.status_code == 422
    assert arranged(shop.folder).coat == "plum"


@pytest.mark.parametrize("wrong", ["../order.toml", "/etc/hostname", "no-such-cup", "layout.toml"])
def test_a_blank_that_is_not_offered_is_not_taken(visitor: Visitor, shop: Shop, wrong: str) -> None:
    before = (shop.folder / "order.toml").read_bytes()
    answer = visitor.sends("cups", "blank", blank=wrong, coat="black")
    assert answer.status_code == 422
    assert words.NO_SUCH_BLANK in answer.text
    assert (shop.folder / "order.toml").read_bytes() == before


def test_ones_own_blanks_are_offered_too(visitor: Visitor, shop: Shop, shop_folder: Path) -> None:
    own = shelf("blanks")["lowball-10oz"].read_text(encoding="utf-8")
    (shop.folder / "mine.toml").write_text(own.replace("Lowball", "Mine"), encoding="utf-8")
    (shop_folder / "blanks").mkdir(parents=True)
    lent = shop_folder / "blanks" / "ours.toml"
    lent.write_text(own.replace("Lowball", "<b>Ours</b>"), encoding="utf-8")
    page = visitor.asks("cups", "blank").text
    assert "Mine, 10 oz class" in page
    assert "&lt;b&gt;Ours" in page
    assert "<b>Ours" not in page
    visitor.sends("cups", "blank", blank=str(lent), coat="plum")
    assert open_order(shop.folder).design.blank.name.startswith("<b>Ours")


def test_a_blank_that_stands_in_the_orders_file_is_shown(shop: Shop) -> None:
    shop.list(GUESTS)
    visitor = Visitor(shop.folder)
    page = visitor.asks("cups", "blank").text
    assert "Test cup, black" in page
    visitor.sends("cups", "blank", blank="", coat="plum", saw=digest(page))
    assert open_order(shop.folder).design.coat.name == "plum"


def test_the_command_line_arranges_an_order_likewise(shop: Shop) -> None:
    shop.list(GUESTS)
    assert said("arrange", shop.folder, "--coat", "plum", "--due", "2026-12-05") == (
        "title: Spring concert\ndue: 2026-12-05\nblank: Test cup\ncoat: plum\n"
        "layout: Test layout\nmachine: Test machine\n"
    )
    assert "due: open" in said("arrange", shop.folder, "--due", "open")
    before = (shop.folder / "order.toml").read_bytes()
    assert "tomorrow" in refused("arrange", shop.folder, "--due", "tomorrow")
    assert "no-such" in refused("arrange", shop.folder, "--coat", "no-such")
    assert (shop.folder / "order.toml").read_bytes() == before
