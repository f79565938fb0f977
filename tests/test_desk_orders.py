"""Orders on the desk: a list is dropped, read, put right, and an order begins; all orders."""

from __future__ import annotations

import html
import math
import os
import re
import threading
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from desks import Visitor, answering, open_page
from playwright.sync_api import Browser
from shop import Shop

from mailmerge.deeds import beginning, laid
from mailmerge.deeds.known import known_orders
from mailmerge.deeds.offered import blanks_to_begin_with
from mailmerge.deeds.opening import DEFAULT_BLANK, NOTHING_GIVEN
from mailmerge.deeds.samples import sample_picture
from mailmerge.desk import words
from mailmerge.desk.warm import Warm
from mailmerge.findings import InputError
from mailmerge.guests import open_list
from mailmerge.guests.opening import open_table
from mailmerge.guests.seen import see_list
from mailmerge.orders import open_order
from mailmerge.reading import Outside, inside, room
from mailmerge.shelves import shelf

ODD = "Wintergala\nWer,Rolle,Was\nAnn Berg,ja,Horn\nBo Dahl,nein,Oboe\n"
CHOSEN = {"do": "begin", "title": "Spring concert", "blank": "lowball-10oz", "layout": "plain",
          "coat-lowball-10oz": "plum"}  # fmt: skip


@pytest.fixture
def visitor() -> Visitor:
    return Visitor()


def dropped(visitor: Visitor, name: str, data: bytes) -> str:
    """Drop a list on the page; return the address of what was read."""
    page = visitor.client.post("/orders/begin", files={"list": (name, data)})
    assert page.status_code == 200, page.text
    return urlsplit(str(page.url)).path


def shown(page: str) -> dict[str, str]:
    """Return what each column of a page holds, by its letter."""
    found = re.findall(r'aria-label="Column (\w+),.*?<option value="(\w*)" selected', page, re.S)
    return dict(found)


@pytest.mark.long
def test_a_list_is_read_put_right_and_made_into_an_order(visitor: Visitor) -> None:
    """The columns that are recognised are Rolle for the role; here it is Was, and Wer the name."""
    to = dropped(visitor, "list.csv", ODD.encode())
    page = visitor.client.get(to).text
    assert "No column is a name yet" in page
    assert "Ann Berg" in page
    refused = visitor.client.post(to, data=CHOSEN)
    assert refused.status_code == 422
    assert "No column is a name yet" in refused.text
    right = {"row": "2", "row-was": "2", "column-0": "name", "column-1": "", "column-2": "role"}
    page = visitor.client.post(to, data={**CHOSEN, **right, "do": "look"}).text
    assert "2 guests, 2 cups." in page
    assert 'value="Spring concert"' in page  # what was typed is kept
    begun = visitor.client.post(to, data={**CHOSEN, **right, "due": "2027-01-16"})
    assert begun.status_code == 200
    visitor.known = known_orders()[0]
    assert visitor.waits().state == "done"
    order = open_order(visitor.known.folder)
    guests = [(guest.name, guest.fields["role"]) for guest in order.guests.guests()]
    assert guests == [("Ann Berg", "Horn"), ("Bo Dahl", "Oboe")]
    assert (order.design.title, order.design.coat.name) == ("Spring concert", "plum")
    assert str(order.due) == "2027-01-16"
    assert order.design.blank.name == "Lowball, 10 oz class"
    assert "2 of 2 cups have their artwork" in visitor.asks("cups").text
    assert visitor.client.get(to).status_code == 422  # the list is the order's now


def test_the_row_of_the_headings_can_be_another_one(visitor: Visitor) -> None:
    text = "Name,Role\nSurname,Instrument\nBerg,Horn\n"
    to = dropped(visitor, "list.csv", text.encode())
    assert "2 guests" in visitor.client.get(to).text
    page = visitor.client.get(f"{to}?row=2&row-was=1&column-0=name&column-1=role").text
    assert "1 guest, 1 cup." in page
    assert re.search(r'<option value="last" selected>', page)


def test_a_field_that_no_column_holds_is_none(tmp_path: Path) -> None:
    file = tmp_path / "list.csv"
    file.write_text("Name,Role\nAnn Berg,Horn\n", encoding="utf-8")
    for columns in ({"role": ""}, {"role": "", "name": "Name"}):
        read = open_list(file, None, columns)
        assert set(read.columns.of) == {"name"}
        assert [guest.fields["role"] for guest in read.guests()] == [""]


@pytest.mark.parametrize(("guests", "passes"), [(40, 1), (400, 2)])
def test_what_is_recognised_takes_one_reading_or_two(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, guests: int, passes: int
) -> None:
    """The first rows are kept for whoever looks for the headings; the count goes over them all."""
    begun: list[object] = []
    called = room.asked

    def counted(file: Outside, call: Callable[..., object], given: object) -> object:
        begun.extend([given] if call is inside.begin else [])
        return called(file, call, given)

    monkeypatch.setattr(room, "asked", counted)
    file = tmp_path / "list.csv"
    file.write_text("Name,Role\n" + "".join(f"Ann Berg{at},Horn\n" for at in range(guests)))
    assert beginning.recognise(file).guests == guests
    assert len(begun) == passes


@pytest.mark.parametrize("is_said", [False, True])
def test_the_machine_is_asked_before_the_cups_are_made(
    visitor: Visitor, shop_folder: Path, monkeypatch: pytest.MonkeyPatch, is_said: bool
) -> None:
    if is_said:
        shop_folder.mkdir(parents=True, exist_ok=True)
        (shop_folder / "shop.toml").write_text('[shop]\nmachine = "diode-roller"\n')
    to = dropped(visitor, "list.csv", b"Name,Role\nAnn Berg,Horn\n")
    page = html.unescape(visitor.client.get(to).text)
    (taken,) = re.findall(r'<option value="([^"]*)" selected>[^<]* laser', page)
    assert taken == ("diode-roller" if is_said else "diode-rotary")
    assert words.machine_taken(is_said) in page
    assert words.machine_taken(not is_said) not in page
    monkeypatch.setattr(visitor.desk.works, "begin", lambda *_, **__: None)
    for machine in ("co2-rotary", taken):
        to = dropped(visitor, "list.csv", b"Name,Role\nAnn Berg,Horn\n")
        assert visitor.client.post(to, data={**CHOSEN, "machine": machine}).is_success
        made = sorted(shop_folder.rglob("order.toml"), key=lambda file: file.stat().st_mtime_ns)
        assert f'machine = "{machine}"' in made[-1].read_text(encoding="utf-8")


def test_two_columns_of_one_field_are_told_and_chosen_from(tmp_path: Path) -> None:
    file = tmp_path / "list.csv"
    file.write_text("Name,Guest,Role\nAnn,Bo,Horn\n", encoding="utf-8")
    assert beginning.recognise(file).seen.doubt == "name"
    put_right = beginning.recognise(file, fields={1: "name", 2: "role"})
    assert (put_right.seen.doubt, put_right.guests) == ("", 1)
    assert put_right.seen.said == (None, {"name": "Guest", "role": "Role"})
    without = beginning.recognise(file, fields={1: "name"})
    assert without.seen.said == (None, {"name": "Guest", "role": ""})


@pytest.mark.parametrize("name", ["../../../away.csv", "..\\away.csv", "<img src=x>.csv"])
def test_a_name_leads_nowhere_and_is_only_text(
    visitor: Visitor, shop_folder: Path, name: str
) -> None:
    to = dropped(visitor, name, b"Name\nAnn <b>Berg\n")
    (file,) = [path for path in shop_folder.rglob("*") if path.is_file()]
    assert file.parent.parent == shop_folder / laid.LAID_BY
    page = visitor.client.get(to).text
    assert html.escape("Ann <b>Berg") in page
    assert "<b>" not in page
    assert "<img src=x>" not in page


def test_what_is_no_list_is_refused_and_not_kept(visitor: Visitor, shop_folder: Path) -> None:
    page = visitor.client.post("/orders/begin", files={"list": ("l.xlsx", b"%PDF-1.7 and more")})
    assert page.status_code == 422
    assert "l.xlsx: " in page.text
    assert str(shop_folder) not in page.text
    assert not any((shop_folder / laid.LAID_BY).iterdir())


@pytest.mark.parametrize(
    ("field", "value", "told"),
    [
        ("title", " ", "Enter whose party it is."),
        ("blank", "../blank.toml", "Choose one of the blanks."),
        ("layout", "/etc/layout.toml", "Choose one of the layouts."),
        ("machine", "/etc/machine.toml", "Choose one of the machines."),
        ("due", "soon", "Enter the day as year-month-day"),
        ("column-0", "import os", "Choose what the column holds"),
    ],
)
def test_what_is_given_is_checked_and_nothing_begins(
    visitor: Visitor, field: str, value: str, told: str
) -> None:
    to = dropped(visitor, "list.csv", b"Name,Role\nAnn Berg,Horn\n")
    refused = visitor.client.post(to, data={**CHOSEN, field: value})
    assert refused.status_code == 422
    assert told in refused.text
    assert known_orders() == []


def test_a_list_that_was_laid_by_goes_after_a_week() -> None:
    old, new = (beginning.lay_by("list.csv", b"Name\nAnn Berg\n") for _ in range(2))
    week = time.time() - 7 * 86_400 - 60
    os.utime(beginning.laid(old).parent, (week, week))
    beginning.lay_by("list.csv", b"Name\nBo Dahl\n")
    assert beginning.laid(new).is_file()
    with pytest.raises(InputError, match="more than a week"):
        beginning.laid(old)
    with pytest.raises(InputError, match="Drop it once more"):
        beginning.laid("../orders")


def test_a_list_that_was_left_is_told_where_orders_begin_and_deleted_there(
    visitor: Visitor, shop_folder: Path
) -> None:
    to = dropped(visitor, "gala.csv", b"Name\nAnn Berg\n")
    old = beginning.lay_by("old.csv", b"Name\nBo Dahl\n")
    long_ago = time.time() - 7 * 86_400 - 60
    os.utime(beginning.laid(old).parent, (long_ago, long_ago))
    page = visitor.client.get("/").text
    assert f'href="{to}" dir="auto">gala.csv<' in page
    assert "They hold names of guests" in page
    assert "old.csv" not in page  # what is a week old goes when anybody looks
    assert visitor.client.post(to, data={"do": "leave"}).is_success
    assert "gala.csv" not in visitor.client.get("/").text
    assert [*(shop_folder / "lists").rglob("*.csv")] == []


def test_an_orders_own_address_leads_to_its_cups(shop: Shop) -> None:
    visitor = Visitor(shop.folder)
    assert visitor.asks().url.path == visitor.at("cups")


def test_blanks_are_shown_to_one_scale_with_what_is_measured_of_them(visitor: Visitor) -> None:
    """The coaster is 100 mm by 100 mm, and each handle of the mug stands out 36 mm: their files."""
    of = {each.name: each for each in blanks_to_begin_with()}
    coaster, mug = of["coaster-100mm"].plan.cup, of["two-handled-mug-14oz"]
    assert (coaster.width, coaster.height) == pytest.approx((100, 100))
    handles = [shape.points for shape in mug.plan.cup.shapes if shape.part == "handle"]
    out = mug.blank.largest_circumference / (2 * math.pi) + 36
    assert sorted(max(abs(x) for x, _ in each) for each in handles) == pytest.approx([out, out])
    assert mug.plan.cup.width == pytest.approx(2 * out)
    page = visitor.client.get(dropped(visitor, "list.csv", b"Name\nAnn Berg\n")).text
    for each in of.values():
        assert all(html.escape(shape.path) in page for shape in each.plan.cup.shapes), each.name
    assert 'width="105" height="105"' in page  # 1.05 px to a millimetre


@pytest.mark.long
def test_a_blank_of_ones_own_is_offered_when_an_order_begins(
    visitor: Visitor, shop_folder: Path
) -> None:
    own = shop_folder / "blanks" / "ours.toml"
    own.parent.mkdir(parents=True)
    text = shelf("blanks")["lowball-10oz"].read_text(encoding="utf-8")
    own.write_text(text.replace('"Lowball, 10 oz class"', '"Our glass"'), encoding="utf-8")
    to = dropped(visitor, "list.csv", b"Name,Role\nAnn Berg,Horn\n")
    page = visitor.client.get(to).text
    assert page.index("Our glass") < page.index("Lowball, 10 oz class"), "own ones come first"
    chosen = {**CHOSEN, "blank": str(own), f"coat-{own}": "plum"}
    assert visitor.client.post(to, data=chosen).status_code == 200
    visitor.known = known_orders()[0]
    visitor.waits()
    own.unlink()  # the order has a copy
    design = open_order(visitor.known.folder).design
    assert (design.blank.name, design.coat.name) == ("Our glass", "plum")


def test_an_order_is_left_out_and_put_back(shop: Shop) -> None:
    visitor = Visitor(shop.folder)
    page = visitor.sends("leave-out").text
    assert known_orders() == []
    assert "Spring concert is off this page" in page
    path = re.search('name="path" value="([^"]+)"', page)
    assert path
    visitor.client.post("/orders/open", data={"path": html.unescape(path[1])})
    assert [known.folder for known in known_orders()] == [shop.folder]


def test_an_order_whose_cups_all_exist_stands_apart(shop: Shop) -> None:
    visitor = Visitor(shop.folder)
    assert "Finished" not in visitor.client.get("/").text
    records = shop.records()
    shop.confirm(*records)
    shop.release()
    shop.engraved(*records)
    assert set(shop.standing().values()) == {"engraved"}
    page = visitor.client.get("/").text
    assert page.index("Finished") < page.index("Spring concert")


@pytest.mark.long
@pytest.mark.outside("/usr/bin/chromium")
def test_in_a_browser_the_list_is_read_anew_at_once(chromium: Browser) -> None:
    """What was typed stays, and the button that is pressed is known to whoever reads the form."""
    with answering() as (entry, _), open_page(chromium, entry) as page:
        page.set_input_files(
            "input[type=file]",
            {"name": "list.csv", "mimeType": "text/csv", "buffer": ODD.encode()},
        )
        page.wait_for_url("**/begin/*")
        page.fill("input[name=title]", "Spring concert")
        page.select_option("select[name=column-0]", "name")
        page.wait_for_url("**/begin/*title=Spring*")
        assert page.input_value("input[name=title]") == "Spring concert"
        assert page.get_by_text("2 guests, 2 cups.").is_visible()


def test_layouts_are_shown_with_the_lists_own_names_and_nothing_is_chosen(
    visitor: Visitor,
) -> None:
    at = dropped(visitor, "list.csv", b"Name,Role\nAnn Berg,Horn\nMaximiliane Dahl,Oboe\n")
    page = visitor.client.get(at).text
    assert not re.search(r'type="radio"[^>]* checked', page)
    assert page.count('value="">' + words.WHICH_COAT_TOO) > 1
    default = next(e for e in blanks_to_begin_with() if e.name == DEFAULT_BLANK)
    assert words.on_which_blank(default.blank.name) in html.unescape(page)
    chosen = visitor.client.get(f"{at}?blank=lowball-10oz").text
    assert words.on_which_blank("").split(".")[0] not in chosen
    sources = [html.unescape(each) for each in re.findall(r'src="(/begin/[^"]*)"', page)]
    assert len(sources) > 10
    assert page.count('<img loading="lazy"') == len(sources)
    (plain,) = [each for each in sources if each.endswith("layout=plain")]
    (other,) = [each for each in sources if each.endswith("layout=name-alone")]
    pictures = [visitor.client.get(each) for each in (plain, other, f"{plain}&blank=lowball-10oz")]
    assert [each.headers["content-type"] for each in pictures] == ["image/png"] * 3
    assert len({each.content for each in pictures}) == 3
    default_too = visitor.client.get(f"{plain}&blank={DEFAULT_BLANK}")
    assert default_too.content == pictures[0].content  # as the page says
    assert visitor.client.get(f"{at}/cup.png?layout=../x").status_code == 422
    gone = at[:-1] + ("0" if at[-1] != "0" else "1")
    assert visitor.client.get(f"{gone}/cup.png?layout=plain").status_code == 204
    asked = visitor.client.post(at, data={**CHOSEN, "coat-lowball-10oz": ""})
    assert asked.status_code == 422
    assert "Choose the coat" in asked.text


def test_a_layout_is_never_shown_without_a_name_that_usual_guests_have(tmp_path: Path) -> None:
    """The longest name fits on no cup, and the font has neither the shortest's letters."""
    usual = [f"{name},Horn" for name in ("Ann Berg", "Bo Dahl Ek", "Cleo Falk", "Dina Gran")]
    path = tmp_path / "list.csv"
    rows = [
        "Name,Role",
        "\u4f50\u85e4,Horn",
        "\u1f08\u03b8\u03b7\u03bd\u1fb6 Q\u0307\u0323,Oboe",
        *usual,
        f"{'Wolfe' * 12} {'Hart' * 12},Horn",
    ]
    path.write_text("\n".join(rows), encoding="utf-8")
    drawn = sample_picture(
        path, see_list(open_table(path)), replace(NOTHING_GIVEN, layout="name-alone")
    )
    assert any(name.partition(",")[0] in drawn.in_words for name in usual)


def test_what_is_looked_at_last_is_drawn_first() -> None:
    warm, order = Warm(), []
    with warm._turn.taken():
        waiting = [
            threading.Thread(target=lambda n=n: order.append(warm.call(int, n))) for n in range(3)
        ]
        for at, each in enumerate(waiting, 1):
            each.start()
            while len(warm._turn._waiting) < at:
                time.sleep(0.01)
    for each in waiting:
        each.join(30)
    warm.end()
    assert order == [2, 1, 0]
