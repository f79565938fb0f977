"""Looks on the desk: blank and coat, layout, measuring; what they show, and what they change."""

from __future__ import annotations

import html
import io
import math
import pickle
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from desks import OWN, Visitor
from outside import refused, said
from PIL import Image
from shop import GUESTS, Shop

from mailmerge.artwork import Layout
from mailmerge.artwork.layout import LetterHeight
from mailmerge.blanks import Blank
from mailmerge.candidates import telling_names
from mailmerge.deeds import layouts
from mailmerge.deeds.arranging import arranged
from mailmerge.deeds.choosing import fonts
from mailmerge.deeds.drafts import draft
from mailmerge.deeds.layouts import keep_layout, suiting, try_layout
from mailmerge.deeds.measuring import measured_so_far
from mailmerge.deeds.offered import blanks_for, blanks_to_begin_with, layouts_for
from mailmerge.desk import words
from mailmerge.findings import WrongValue
from mailmerge.guests import Guest
from mailmerge.lettering import shape
from mailmerge.orders import Design, open_order
from mailmerge.proofs.plan import View, plan_of
from mailmerge.shelves import load, shelf
from mailmerge.units import format_length

NAMED = """[order]
title = "Spring concert"
list = "list.csv"
layout = "layout.toml"
blank = "handled-tumbler-40oz"  # the usual one
coat = "ivory"
"""


@pytest.fixture
def visitor(shop: Shop) -> Iterator[Visitor]:
    shop.list(GUESTS)
    (shop.folder / "order.toml").write_text(NAMED, encoding="utf-8")
    visitor = Visitor(shop.folder)
    yield visitor
    visitor.desk.end()


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
    assert 'The coat is "plum" now; you chose "copper".' in html.unescape(answer.text)
    assert arranged(shop.folder).coat == "plum"


def test_a_refused_form_shows_what_was_chosen_and_leads_back_to_where_it_stood(
    visitor: Visitor,
) -> None:
    """Without a script, too: its page is all that there is then."""
    saw = digest(visitor.asks("cups", "layout").text)
    visitor.sends("cups", "layout", layout="plain", saw=saw)
    stood = f"{visitor.at('list')}?show=all"
    for address, leads in (
        (f"{OWN}{stood}&said=abc", f"{stood}#row-3"),
        ("https://elsewhere.example/list", visitor.at("cups")),
    ):
        answer = visitor.client.post(
            visitor.at("cups", "layout"),
            data={"layout": "classic-serif", "saw": saw, "row": "3", "text-1-name": "Bo <b>"},
            headers={"Referer": address},
        )
        told = html.unescape(answer.text)
        assert 'The layout is "Plain" now; you chose "Classic serif".' in told
        assert f'<a class="button" href="{leads}">' in told
        assert '<dd dir="auto" class="wraps">Bo &lt;b&gt;</dd>' in answer.text
        assert saw not in answer.text


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


def test_an_orders_own_blank_stays_among_the_others_when_another_is_taken(shop: Shop) -> None:
    """Its table gets a file beside the order, comments and all, and nothing of it is lost."""
    shop.list(GUESTS)
    file = shop.folder / "order.toml"
    text = file.read_text(encoding="utf-8").replace('"Test cup"', '"Test cup" # measured in May')
    file.write_text(text, encoding="utf-8")
    own = open_order(shop.folder).design.blank
    visitor = Visitor(shop.folder)
    saw = visitor.asks("cups", "blank").text
    assert words.OWN_BLANK_STAYS in html.unescape(saw)
    page = visitor.sends("cups", "blank", blank="lowball-10oz", coat="plum", saw=digest(saw)).text
    assert open_order(shop.folder).design.blank.name == "Lowball, 10 oz class"
    assert "[blank" not in file.read_text(encoding="utf-8")
    (kept,) = [each for each in blanks_for(shop.folder) if each.is_own]
    assert (kept.blank, kept.name) == (own, "test-cup.toml")
    assert "# measured in May" in (shop.folder / kept.name).read_text(encoding="utf-8")
    undo = dict(re.findall(r'type="hidden" name="(\w+)" value="([^"]*)"', page.split("</form>")[0]))
    visitor.sends("cups", "blank", **undo)
    assert open_order(shop.folder).design.blank == own


def test_whose_party_it_is_and_the_day_are_changed_and_taken_back(shop: Shop) -> None:
    shop.list(GUESTS)
    visitor = Visitor(shop.folder)
    before = (shop.folder / "order.toml").read_bytes()
    saw = digest(visitor.asks("about").text)
    form = {"title": "Autumn <b>concert", "due": "2027-10-02", "saw": saw}
    page = visitor.sends("about", **form).text
    now = arranged(shop.folder)
    assert (now.title, str(now.due)) == ("Autumn <b>concert", "2027-10-02")
    assert "due Sat 2 Oct 2027" in page
    assert "<b>" not in page
    stale = visitor.sends("about", **form)
    assert stale.status_code == 422
    for wrong in ({"title": ""}, {"due": "soon"}):
        new = {**form, "saw": digest(visitor.asks("about").text), **wrong}
        assert visitor.sends("about", **new).status_code == 422
    assert arranged(shop.folder) == now
    undo = dict(re.findall(r'type="hidden" name="(\w+)" value="([^"]*)"', page.split("</form>")[0]))
    visitor.sends("about", **{key: html.unescape(text) for key, text in undo.items()})
    assert arranged(shop.folder).title == "Spring concert"
    assert (shop.folder / "order.toml").read_bytes() == before


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


# Layouts


def query_of(**said: str) -> dict[str, str]:
    return {key.replace("__", "."): text for key, text in said.items()}


def tried(visitor: Visitor, **said: str) -> str:
    page = visitor.client.get(visitor.at("cups", "layout", "tried"), params=query_of(**said)).text
    return html.unescape(page[page.index('id="part"') :])


def test_every_layout_is_shown_with_three_of_the_orders_names(visitor: Visitor) -> None:
    page = visitor.asks("cups", "layout").text
    for name in shelf("layouts"):
        assert f"layout={name}&amp;which=2" in page
    pictures = re.findall(r'src="([^"]*cup.png[^"]*)"', page)
    assert len(pictures) == 3 * (len(shelf("layouts")) + 1)
    answer = visitor.client.get(html.unescape(pictures[0]))
    assert answer.headers["content-type"] == "image/png"
    with Image.open(io.BytesIO(answer.content)) as picture:
        assert picture.size == (904, 834)


def test_a_layout_that_wants_another_column_says_so(shop: Shop) -> None:
    shop.list([{"Name": "Ann Berg"}, {"Name": "Bo Dahl"}])
    lines = (shop.folder / "list.csv").read_text(encoding="utf-8").splitlines()
    only_names = [line.split(",")[0] for line in lines]
    (shop.folder / "list.csv").write_text("\n".join(only_names), encoding="utf-8")
    order = NAMED.replace("layout.toml", "name-alone")
    (shop.folder / "order.toml").write_text(order, encoding="utf-8")
    page = html.unescape(Visitor(shop.folder).asks("cups", "layout").text)
    assert words.DOES_NOT_SUIT in page
    assert "layout=name-over-role&which=0" not in page
    assert "layout=name-alone&which=0" in page


def test_a_layout_is_taken_and_taken_back(visitor: Visitor, shop: Shop) -> None:
    before = (shop.folder / "order.toml").read_text(encoding="utf-8")
    saw = digest(visitor.asks("cups", "layout").text)
    page = visitor.sends("cups", "layout", layout="classic-serif", saw=saw).text
    assert open_order(shop.folder).design.layout.name == "Classic serif"
    undo = dict(re.findall(r'type="hidden" name="(\w+)" value="([^"]*)"', page.split("</form>")[0]))
    visitor.sends("cups", "layout", **undo)
    assert (shop.folder / "order.toml").read_text(encoding="utf-8") == before
    assert visitor.sends("cups", "layout", layout="../x.toml").status_code == 422


def test_a_layouts_slot_is_filled_and_emptied_again(visitor: Visitor, shop: Shop) -> None:
    assert words.MOTIF_OF_ORDER not in visitor.asks("cups", "layout").text
    assert "motif: as the layout" in said("arrange", shop.folder, "--layout", "club")
    page = visitor.asks("cups", "layout").text
    assert words.MOTIF_OF_ORDER in page
    page = visitor.sends("cups", "motif", saw=digest(page), motif="anchor").text
    assert "<option selected>anchor" in page
    layout = open_order(shop.folder).design.drawn
    assert [each.drawing for each in layout.ornament] == ["anchor"]
    form = page.split("</form>")[0]
    undo = dict(re.findall(r'type="hidden" name="(\w+)" value="([^"]*)"', form))
    visitor.sends("cups", "motif", **undo)
    assert "motif" not in (shop.folder / "order.toml").read_text(encoding="utf-8")
    assert "motif: anchor" in said("arrange", shop.folder, "--motif", "Navy")
    assert 'Did you mean "anchor"?' in refused("arrange", shop.folder, "--motif", "ankor")
    address = visitor.at("cups", "layout", "change")
    page = visitor.client.get(address, params={"layout": "club"}).text
    assert '<select name="ornament.1.motif">' in page
    assert '<option value="star" selected>star' in page
    assert "ornament.1.drawing" not in page


def test_what_is_tried_is_what_a_merge_makes(shop: Shop) -> None:
    """The entries of the cups, with sizes of the whole list; and nothing is written before."""
    shop.list(GUESTS)
    before = sorted(path.name for path in shop.folder.iterdir())
    said = {"line.1.letter_height.max": "9 mm", "line.2.gap": "7 mm", "line.1.lines": "2"}
    seen = try_layout(shop.folder, "layout.toml", said)
    assert sorted(path.name for path in shop.folder.iterdir()) == before
    keep_layout(shop.folder, "Mine", "layout.toml", said)
    shop.merge()
    made = {record.number: record.entry for record in shop.records().values()}
    assert [cup.entry for cup in seen.cups] == [made[cup.number] for cup in seen.cups]
    assert {cup.entry.lines[0].letter_height_mm for cup in seen.cups} == {9.0}


def test_names_are_chosen_once_for_all_layouts_and_anew_for_another_list(
    shop: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Who tells most goes by the list and the layout that the order has, not by the one tried."""
    chosen: list[list[str]] = []

    def telling(guests: list[Guest], designs: list[Design]) -> list[Guest]:
        found = telling_names(guests, designs)
        chosen.append([guest.name for guest in found])
        return found

    monkeypatch.setattr(layouts, "telling_names", telling)
    for height in ("12 mm", "9 mm", "7 mm"):
        seen = try_layout(shop.folder, "layout.toml", {"line.1.letter_height.max": height})
        assert [cup.entry.name for cup in seen.cups] == chosen[0]
    assert len(chosen) == 1
    longest = "Maximiliane Wolkenstein-Trostburg"
    assert longest not in chosen[0]
    shop.list([*GUESTS, {"Name": longest, "Role": "Harp"}])
    seen = try_layout(shop.folder, "layout.toml", {"line.1.letter_height.max": "7 mm"})
    assert longest in [cup.entry.name for cup in seen.cups]
    assert len(chosen) == 2


def test_the_picture_follows_what_is_changed(visitor: Visitor) -> None:
    large = tried(visitor, layout="layout.toml", line__1__letter_height__max="12 mm")
    small = tried(visitor, layout="layout.toml", line__1__letter_height__max="7 mm")
    assert "12.00 mm" in large
    assert "7.00 mm" in small
    address = visitor.at("cups", "layout", "cup.png")
    one, two = (
        visitor.client.get(address, params={"layout": "layout.toml", "which": "0", **said}).content
        for said in ({}, query_of(line__1__letter_height__max="7 mm"))
    )
    assert one != two
    wrong = tried(visitor, layout="layout.toml", line__1__letter_height__max="2 mm")
    assert 'Line 1: "Least letters" is more than "Largest letters".' in wrong
    assert "<img" not in wrong


WRONG = [
    ({"line.1.letter_height.max": "tall"}, "Line 1, Largest letters: Found", "letter_height.max"),
    ({"line.1.letter_height.max": "2 mm"}, 'Line 1: "Least letters" is more', "letter_height"),
    ({"line.1.text": ""}, "Line 1, What it says: Fill it in.", "text"),
    ({"line.2.gap": "-3 mm"}, "Line 2, Gap above it: Found", "gap"),
    ({"line.2.arc.radius": "0"}, "Line 2, Radius of its arc: Found", "arc.radius"),
    ({"line.1.ring.height": "30 mm", "line.1.arc.radius": "90 mm"},
     'Line 1: Found "Radius of its arc" and "Ring around the cup at".', "arc and ring"),
    ({"line.1.lines": "2", "line.1.arc.radius": "90 mm"}, "Line 1: A line with an arc", "lines"),
    ({"line.1.ring.height": "30 mm", "line.1.sizing": "", "ornament.1.drawing": "rule",
      "ornament.1.line": "1", "ornament.1.place": "below", "ornament.1.width": "30 mm",
      "ornament.1.height": "9 mm"},
     "Ornament 1, With line: That line is a ring", "ornament 1.line"),
]  # fmt: skip


@pytest.mark.parametrize(("said", "on_page", "in_file"), WRONG)
def test_a_refusal_names_the_field_as_each_face_does(
    shop: Shop, said: dict[str, str], on_page: str, in_file: str
) -> None:
    with pytest.raises(WrongValue) as refusal:
        try_layout(shop.folder, "layout.toml", said)
    told = words.told(refusal.value)
    assert told.startswith(on_page)
    assert not re.search(r"letter_height|line \d\.|sizing|\barc\.|min \d", told)
    assert in_file in str(refusal.value)
    came = pickle.loads(pickle.dumps(refusal.value))  # as out of another process
    assert (str(came), words.told(came)) == (str(refusal.value), told)


def test_lines_are_added_and_taken_out_with_their_drawings(visitor: Visitor, shop: Shop) -> None:
    crest = draft(shop.folder, "crest", {"line.1": ""})
    assert [line["text"] for line in crest.tables["line"]] == ["{name}", "{order.subtitle}"]
    assert crest.tables["ornament"][0]["line"] == 1  # it follows its line
    assert crest.began["line"] == (2, 3)
    assert "ornament" not in draft(shop.folder, "crest", {"line.2": ""}).tables
    address = visitor.at("cups", "layout", "change")
    page = visitor.client.get(address, params={"layout": "crest", "line.1": ""}).text
    assert 'name="line" value="2,3"' in page
    more = {"layout": "crest", "line": "2,3", "add": "line"}
    page = visitor.client.get(address, params=more).text
    assert 'name="line" value="2,3,0"' in page
    assert 'name="line.3.text" value="{order.title}"' in page


def test_a_changed_layout_is_kept_with_what_no_page_shows(visitor: Visitor, shop: Shop) -> None:
    saw = digest(visitor.asks("cups", "layout").text)
    said = query_of(line__1__letter_height__max="15 mm", line__1__text="{name}!")
    page = visitor.sends(
        "cups", "layout", "keep", layout="monogram", name="Ours & mine", saw=saw, **said
    )
    assert page.status_code == 200
    kept = open_order(shop.folder).design.layout
    began = load(Layout, "layouts", "monogram", Path())
    first = began.line[0].model_copy(
        update={"text": "{name}!", "letter_height": LetterHeight(max="15 mm", min="12 mm")}
    )
    assert kept.line == (first, *began.line[1:])  # strengthen and mirrored are as they were
    assert kept.ornament == began.ornament
    again = {"layout": "monogram", "name": "ours & MINE", **said}
    assert visitor.sends("cups", "layout", "keep", **again).status_code == 422  # nothing is lost
    undo = dict(re.findall(r'name="(layout|saw)" value="([^"]*)"', page.text.split("</form>")[0]))
    visitor.sends("cups", "layout", **undo)
    assert open_order(shop.folder).design.layout.name == "Test layout"


@pytest.mark.parametrize(
    "said",
    [
        {"line.1.font": "/etc/passwd.ttf"},
        {"line.1.font": "../../x.otf"},
        {"ornament.1.drawing": "/etc/passwd.svg", "ornament.1.line": "1"},
        {"line": "99"},
        {"line.1.letter_height.max": "wide"},
        {"line.1.text": "{nobody}"},
    ],
)
def test_what_is_no_layout_is_not_kept(visitor: Visitor, shop: Shop, said: dict[str, str]) -> None:
    before = {path: path.read_bytes() for path in shop.folder.glob("*.toml")}
    answer = visitor.sends("cups", "layout", "keep", layout="layout.toml", name="Wrong", **said)
    assert answer.status_code == 422
    assert {path: path.read_bytes() for path in shop.folder.glob("*.toml")} == before


def test_a_layout_is_kept_for_all_orders_with_its_files_found(
    shop: Shop, shop_folder: Path, tmp_path: Path
) -> None:
    """From the command line, with a drawing that lies beside the order."""
    shop.list(GUESTS)
    star = shelf("ornaments")["star"].read_bytes()
    (shop.folder / "logo.svg").write_bytes(star)
    said_so = ["ornament.1.drawing=logo.svg", "ornament.1.line=1", "ornament.1.width=9 mm",
               "ornament.1.height=9 mm"]  # fmt: skip
    options = [part for each in said_so for part in ("--set", each)]
    told = said("keep-layout", shop.folder, "With a star", *options, "--for-all")
    file = shop_folder / "layouts" / "with-a-star.toml"
    assert str(file) in told
    other = Shop.copied(shop.folder, tmp_path / "other")
    (other.folder / "logo.svg").unlink()
    assert "With a star" in {each.layout.name for each in layouts_for(other.folder)}
    assert suiting(other.folder)[str(file)] == ""
    assert "KEY" not in refused("keep-layout", shop.folder, "X", "--set", "line.1.font")


# Measuring

MEASURED = {
    "name": "Gala cup",
    "around": "11 5/8 in, 11 9/16 in",
    "height": "7 1/2 in",
    "band-from": "1 in",
    "handle": "1 in",
    "clearance": "3/8 in",
    "coats": "navy, plum",
}


def notes(page: str) -> dict[str, str]:
    """Return what a page says of each measure."""
    found = re.findall(r'<li data-for="([\w-]+)" class="([\w-]+)">([^<]*)', page)
    return {key: html.unescape(text) for key, _, text in found if text}


def measuring(visitor: Visitor, **typed: str) -> str:
    return visitor.client.get(visitor.at("cups", "measure", "drawn"), params=typed).text


def test_readings_are_judged_each_beside_its_field(visitor: Visitor) -> None:
    found = notes(measuring(visitor, **MEASURED))
    # 11 5/8 in are 295.275 mm, 11 9/16 in are 293.6875 mm.
    assert list(found) == ["around"]
    assert "294.5 mm" in found["around"]
    assert "1.6 mm" in found["around"]
    apart = notes(measuring(visitor, around="295 mm, 320 mm"))
    assert "contradict each other" in apart["around"]
    unlike = notes(measuring(visitor, around="295 mm", across="98 mm"))
    assert "goes with 307.88 mm" in unlike["across"]  # C = pi d
    assert "unit" in notes(measuring(visitor, around="295"))["around"]


def test_the_drawing_follows_what_is_measured(visitor: Visitor, shop: Shop) -> None:
    """Faces and errors are those of the blank; each thing that is measured has its line."""
    page = html.unescape(measuring(visitor, **MEASURED))
    marks = set(re.findall(r'data-mark="([\w-]+)"', page))
    assert marks == {"around", "across", "height", "band-from", "band-to", "handle", "clearance",
                     "stands-out"}  # fmt: skip
    so_far = measured_so_far(shop.folder, MEASURED)
    assert so_far.drawn.page_width == pytest.approx((295.275 + 293.6875) / 2, abs=0.01)
    assert so_far.faces
    assert all(format_length(width, 16) in page for _, width in so_far.faces)
    assert so_far.errors
    assert all(error in page for error in so_far.errors)
    assert so_far.plan.cup.height == pytest.approx(190.5)
    tapered = measuring(visitor, tapered="yes")
    assert {"around-base", "around-top", "apart"} <= set(
        re.findall(r'data-mark="([\w-]+)"', tapered)
    )
    assert 'data-mark="around"' not in tapered


def test_a_measured_blank_is_kept_and_offered(visitor: Visitor, shop: Shop) -> None:
    assert " disabled" not in measuring(visitor, **MEASURED)
    page = visitor.sends("cups", "measure", **MEASURED).text
    assert words.blank_kept("Gala cup") in page
    kept = load(Blank, "blanks", "gala-cup.toml", shop.folder)
    told = measured_so_far(shop.folder / "elsewhere", MEASURED).drawn
    assert kept == told
    visitor.sends("cups", "blank", blank="gala-cup.toml", coat="plum", saw=digest(page))
    assert open_order(shop.folder).design.blank == kept
    assert visitor.sends("cups", "measure", **MEASURED).status_code == 422  # its name is taken


def test_a_measured_blank_is_kept_for_every_order(visitor: Visitor, shop: Shop) -> None:
    assert (
        words.blank_kept("Gala cup")
        in visitor.sends("cups", "measure", **MEASURED, where="shop").text
    )
    kept = measured_so_far(shop.folder, MEASURED).drawn
    assert [each.blank for each in blanks_to_begin_with() if each.is_own] == [kept]
    assert [each.blank for each in blanks_for(shop.folder) if each.is_own] == [kept]
    assert not (shop.folder / "gala-cup.toml").exists()


@pytest.mark.parametrize(
    "wrong", [{"around": ""}, {"height": "tall"}, {"name": "../../up"}, {"coats": ""}, {"name": ""}]
)
def test_a_blank_that_is_not_whole_is_not_kept(
    visitor: Visitor, shop: Shop, wrong: dict[str, str]
) -> None:
    before = {path.name for path in shop.folder.rglob("*.toml")}
    answer = visitor.sends("cups", "measure", **{**MEASURED, **wrong})
    after = {path.name for path in shop.folder.rglob("*.toml")}
    if wrong.get("name"):  # a name is no path
        assert after - before == {"up.toml"}
        assert not list(shop.folder.parent.glob("up*"))
    else:
        assert answer.status_code == 422
        assert after == before


def test_fonts_are_tried_ahead_once_a_layout_is_opened(
    visitor: Visitor, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each by itself, so that somebody who asks meanwhile waits for one of them alone."""
    begun: list[tuple[Any, tuple[Any, ...]]] = []
    monkeypatch.setattr(
        visitor.desk.warm, "begin_each", lambda deed, given: begun.extend((deed, g) for g in given)
    )
    page = visitor.client.get(visitor.at("cups", "layout", "change"), params={"layout": "plain"})
    lines = page.text.count('formaction="' + visitor.at("cups", "layout", "fonts"))
    assert {given[-2:] for _, given in begun} == {
        (line, font.name) for line in range(1, lines + 1) for font in fonts()
    }
    assert lines > 0
    deed, given = begun[0]
    deed(*given)
    shaped = shape.shaped.cache_info().misses
    deed(*given)
    assert shape.shaped.cache_info().misses == shaped  # nothing of it is left to do


def test_fonts_are_seen_in_their_own_letters_and_say_what_they_lack(
    visitor: Visitor, shop: Shop
) -> None:
    greek = ("Αλέξανδρος Παππάς", "Ann Παππάς", "Παππάς Παππάς")
    shop.list([*GUESTS, *({"Name": name, "Role": "Oboe"} for name in greek)])
    at = {"layout": "classic-serif", "of": "1", "line.1.letter_height.max": "9 mm"}
    page = html.unescape(visitor.client.get(visitor.at("cups", "layout", "fonts"), params=at).text)
    button = r'name="line.1.font" value="([^"]*)".*?</span>(.*?)</button>'
    lacks = dict(re.findall(button, page, re.S))
    assert words.lacks_letters_of(3) in lacks["Great Vibes"]  # it has no Greek
    assert "lacks" not in lacks["EB Garamond"]
    assert next(iter(lacks)) == "EB Garamond"  # the line's own stands first
    assert 'name="line.1.letter_height.max" value="9 mm"' in page  # what was changed stays
    one, two = (
        visitor.client.get(
            visitor.at("cups", "layout", "font.png"), params={**at, "font": font}
        ).content
        for font in ("Great Vibes", "EB Garamond")
    )
    assert one != two
    assert one.startswith(b"\x89PNG")
    away = visitor.client.get(
        visitor.at("cups", "layout", "font.png"), params={**at, "font": "/etc/passwd.ttf"}
    )
    assert away.status_code == 422
