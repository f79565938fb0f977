"""The shop on the desk: its values, machines, blanks, recipes, test cards and fonts."""

from __future__ import annotations

import datetime as dt
import html
import io
import json
import re
from pathlib import Path
from urllib.parse import quote, unquote

import numpy as np
import pytest
from desks import Visitor
from PIL import Image
from shop import GUESTS, Shop
from typer.testing import CliRunner

from mailmerge.cli import app
from mailmerge.deeds.cards import artwork_of, cards, place_for_card
from mailmerge.deeds.choosing import (
    blank_called,
    blanks,
    fonts,
    judge_fonts,
    machine_with,
    machines_with,
    telling_names,
)
from mailmerge.deeds.manual import Page, as_html, pages
from mailmerge.deeds.settings import recipes
from mailmerge.deeds.shop import change_shop, shop as values_of_shop
from mailmerge.findings import InputError
from mailmerge.shelves import templates
from mailmerge.units import format_mm

FORM = re.compile(r'<form class="stack" method="post" action="/shop/values">(.*?)</form>', re.S)
HIDDEN = re.compile(r'<input type="hidden" name="([^"]+)" value="([^"]*)">')


@pytest.fixture
def visitor() -> Visitor:
    return Visitor()


def _page(visitor: Visitor, address: str) -> str:
    answer = visitor.client.get(address)
    assert answer.status_code == 200, answer.text
    return html.unescape(answer.text)


def _sent(visitor: Visitor, address: str, **fields: str) -> str:
    answer = visitor.client.post(address, data=fields)
    assert answer.status_code == 200, answer.text
    return html.unescape(answer.text)


def _filled_in(form: str) -> dict[str, str]:
    """Return what a browser would send of a form in which nothing was typed."""
    typed = re.findall(r'<input name="([^"]+)" value="([^"]*)"', form)
    chosen = re.findall(
        r'<select name="([^"]+)">.*?<option value="([^"]*)" selected>.*?</select>', form, re.S
    )
    return {**dict(HIDDEN.findall(form)), **dict(typed), **dict(chosen)}


def test_every_value_is_shown_once_with_where_it_comes_from(visitor: Visitor) -> None:
    change_shop({"shop.name": "Rosé & <b>Cups", "rates.labour": "31.70"})
    forms = [_filled_in(form) for form in FORM.findall(visitor.client.get("/shop").text)]
    shown = [(key, html.unescape(text)) for form in forms for key, text in form.items()]
    values = values_of_shop().values
    expected = [(key, each.value) for each in values for key in (f"seen.{each.key}", each.key)]
    assert sorted(shown) == sorted(expected)
    page = _page(visitor, "/shop")
    assert page.count("<small>yours</small>") == 2
    empty = sum(not each.value for each in values)
    assert empty > 0, "an address, for one"
    assert page.count("<small>left empty</small>") == empty
    assert page.count("<small>a default</small>") == len(values) - 2 - empty
    assert "<b>Cups" not in visitor.client.get("/shop").text


def test_a_form_in_which_nothing_was_typed_changes_nothing(
    visitor: Visitor, shop_folder: Path
) -> None:
    for form in FORM.findall(visitor.client.get("/shop").text):
        assert "Nothing was different" in _sent(visitor, "/shop/values", **_filled_in(form))
    assert not (shop_folder / "shop.toml").exists()


def test_a_change_is_put_back_by_its_button(visitor: Visitor) -> None:
    change_shop({"hours.monday": "closed"})
    page = _sent(visitor, "/shop/values", **{"hours.monday": "08:00-12:00", "shop.paper": "Letter"})
    assert {"hours.monday": "08:00-12:00", "shop.paper": "Letter"}.items() <= _held().items()
    said = page[page.index('class="say right"') : page.index("</form>")]
    _sent(visitor, "/shop/values", **dict(HIDDEN.findall(said)))
    assert (_held()["hours.monday"], _held()["shop.paper"]) == ("closed", "A4")
    assert {each.key for each in values_of_shop().values if each.source != "default"} == {
        "hours.monday"
    }


def _held() -> dict[str, str]:
    return {each.key: each.value for each in values_of_shop().values}


def test_what_somebody_else_has_changed_since_is_not_written_over(visitor: Visitor) -> None:
    (form,) = (f for f in FORM.findall(visitor.client.get("/shop").text) if "rates.labour" in f)
    stale = _filled_in(form)
    change_shop({"rates.labour": "31"})
    _sent(visitor, "/shop/values", **{**stale, "rates.machine": "18"})
    assert (_held()["rates.labour"], _held()["rates.machine"]) == ("31", "18")
    answer = visitor.client.post("/shop/values", data={**stale, "rates.labour": "40"})
    assert answer.status_code == 422
    told = html.unescape(answer.text)
    assert '"25"' in told  # as the page showed it
    assert '"31"' in told  # and as it is now
    assert _held()["rates.labour"] == "31"
    with pytest.raises(InputError, match="changed it since"):
        change_shop({"rates.labour": "40"}, seen={"rates.labour": "25"})


REFUSED = {
    "hours.monday": ("noon", "Monday: Found"),
    "shop.currency": ("XX", "Currency, by its three letters, such as EUR: Found"),
    "shop.address": ("x" * 401, "Address, telephone and e-mail, with a comma between lines: Found"),
    "rates.labour": ("much", "An hour of your work: Found"),
    "shop.machine": ("foo", "Machine: There is no such machine"),
    "shop.layout": ("/tmp/foo.toml", "Layout: There is no such layout"),
    "price.margin": ("94 %", "What a cup costs, and the price: Found fees of 3 %"),
}


def test_shop_speaks_of_its_values_and_never_of_keys(visitor: Visitor) -> None:
    """Labels, hints and refusals, also where a form was sent without a script."""
    change_shop({"price.fees": "3 %"})
    keys = [each.key for each in values_of_shop().values]
    told = [_text(_page(visitor, "/shop"))]
    for key, (wrong, begins) in REFUSED.items():
        answer = visitor.client.post("/shop/values", data={key: wrong})
        assert answer.status_code == 422
        told.append(_text(html.unescape(answer.text)))
        assert f" {begins}" in told[-1], key
        assert wrong[:40] in told[-1].partition(begins)[2], "what was typed is kept"
    for text in told:
        for key in (*keys, "toml", "your answer"):
            assert key not in text.replace("/tmp/foo.toml", ""), key


def _text(page: str) -> str:
    return " ".join(re.sub(r"<[^>]*>", " ", page).split())


def test_a_blank_of_the_shops_own_stands_first_and_is_taken_like_any_other(
    visitor: Visitor, shop_folder: Path
) -> None:
    shelf = (templates() / "blanks" / "camp-mug-14oz.toml").read_text(encoding="utf-8")
    file = shop_folder / "blanks" / "a mug #1.toml"
    file.parent.mkdir(parents=True)
    file.write_text(re.sub('name = ".*"', 'name = "Mine & <i>"', shelf, count=1), encoding="utf-8")
    (file.parent / "broken.toml").write_text("band = 3", encoding="utf-8")
    listed = json.loads(CliRunner().invoke(app, ["blanks", "--json"]).stdout)
    assert (listed[0]["name"], listed[0]["what"]) == (str(file), "Mine & <i>")
    assert len(listed) == 1 + len(list((templates() / "blanks").glob("*.toml")))
    page = visitor.client.get("/shop/blanks").text
    first = page[page.index('<section class="card">') :].split("</section>")[0]
    assert "<h2>Mine &amp; &lt;i&gt;</h2>" in first
    assert ">your own</span>" in first
    assert page.count(">your own</span>") == 1
    (picture,) = re.findall(r'src="(/shop/blanks/[^"]*)"', first)
    assert visitor.client.get(picture).headers["content-type"] == "image/png"
    name = unquote(picture.removeprefix("/shop/blanks/").removesuffix(".png"))
    lying = re.findall(
        r'src="(/shop/machines/[^"]*)"',
        visitor.client.get(f"/shop/machines?blank={quote(name)}").text,
    )
    assert visitor.client.get(lying[0]).status_code == 200
    _sent(visitor, "/shop/cards/make", **{**CARD, "piece": f"{name}/cream"})
    assert cards()[0].blank == "Mine & <i>"
    _sent(visitor, "/shop/recipes/keep", coat="cream", blank=name, power="50", speed="100",
          passes="1", interval="0.2", outcome="even")  # fmt: skip
    assert recipes().blank_of(recipes().kept[0][1]) == "Mine & <i>"


def test_putting_back_does_not_take_away_what_came_later(visitor: Visitor) -> None:
    page = _sent(visitor, "/shop/values", **{"rates.labour": "31"})
    said = page[page.index('class="say right"') : page.index("</form>")]
    change_shop({"rates.labour": "40"})
    answer = visitor.client.post("/shop/values", data=dict(HIDDEN.findall(said)))
    assert (answer.status_code, _held()["rates.labour"]) == (422, "40")


def test_the_manual_is_read_with_links_that_lead_to_its_other_pages(visitor: Visitor) -> None:
    listed = _page(visitor, "/manual")
    for page in pages():
        assert f'href="/manual/{page.name}"' in listed
        shown = visitor.client.get(f"/manual/{page.name}").text
        text = shown[shown.index("<article") : shown.index("</article>")]
        assert f"<h1>{html.escape(page.title, quote=False)}</h1>" in text
        linked = re.findall(r"\]\(([\w-]+)\.md\)", page.text)
        assert re.findall(r'href="/manual/([\w-]+)"', text) == linked
    answer = visitor.client.get("/manual/the-shopp")
    assert answer.status_code == 422
    assert "the-shop" in answer.text


def test_markup_in_a_page_is_shown_as_text() -> None:
    page = Page("guest-list", "A", "b", '# A\n\n<script>x</script> [a](javascript:x) [b](/c "<i>")')
    shown = as_html(page, str)
    assert "<script" not in shown
    assert "javascript:x" not in re.findall(r'href="([^"]*)"', shown)
    assert "<i>" not in shown


def test_every_blank_is_shown_with_its_sizes_and_to_one_scale(visitor: Visitor) -> None:
    page = _page(visitor, "/shop/blanks")
    for shelved in blanks().blanks:
        part = page[page.index(f"<h2>{shelved.blank.name}</h2>") :].split("</section>")[0]
        around = shelved.blank.page_width
        assert (f"{format_mm(around)} " if not shelved.blank.taper else "at the mouth") in part
        for who, width in shelved.faces[: 1 if shelved.blank.is_flat else 3]:
            assert (format_mm(width) if width else "nothing") in part, who
        assert all(f"{coat.name}</span>" in part for coat in shelved.blank.coat)
        assert f'src="/shop/blanks/{shelved.name}.png"' in part


def test_a_picture_of_a_blank_is_to_scale(visitor: Visitor) -> None:
    """The unrolled wall of a straight cup is as long as its circumference, by the ruler below."""
    for name in ("bottle-25oz", "handled-tumbler-40oz", "coaster-100mm"):
        answer = visitor.client.get(f"/shop/blanks/{name}.png")
        assert answer.headers["content-type"] == "image/png"
        picture = np.asarray(Image.open(io.BytesIO(answer.content)).convert("RGB")).astype(int)
        ink = np.abs(picture - picture[0, 0]).sum(axis=2) > 60
        ruler = _runs(ink[-31])[0]  # of 100 mm, in the middle of the foot
        blank = blank_called(name).blank
        wall = max(_runs(ink[blank_row(picture)]), key=lambda run: run[1] - run[0])
        found = (wall[1] - wall[0]) / (ruler[1] - ruler[0]) * 100
        assert found == pytest.approx(blank.page_width, rel=0.01), name


def blank_row(picture: np.ndarray) -> int:
    """Return a row just below the wall's upper edge: 20 mm and a little from the top."""
    return round(picture.shape[1] / 450 * 24)


def _runs(row: np.ndarray) -> list[tuple[int, int]]:
    """Return from where to where a row is drawn on; what is less than 8 px apart is one."""
    at = np.flatnonzero(row)
    cuts = np.flatnonzero(np.diff(at) > 8)
    return list(zip(at[[0, *(cuts + 1)]].tolist(), (at[[*cuts, -1]] + 1).tolist(), strict=True))


def test_machines_show_what_lies_on_them_and_what_does_not(visitor: Visitor) -> None:
    page = _page(visitor, "/shop/machines?blank=tapered-tumbler-30oz")
    for held in machines_with("tapered-tumbler-30oz"):
        part = page[page.index(held.machine.name) :].split("</section>")[0]
        address = f"/shop/machines/{held.name}/{held.blank.name}.png"
        assert (address in part) == held.is_held
        for finding in held.findings:
            assert finding.message in part
        answer = visitor.client.get(address)
        assert answer.status_code == (200 if held.is_held else 422), held.name
    assert {each.name for each in machines_with("tapered-tumbler-30oz") if not each.is_held} == {
        "flatbed"
    }
    assert all(each.is_held for each in machines_with())


def test_a_machine_is_taken_for_new_orders_and_put_back(visitor: Visitor) -> None:
    page = _sent(visitor, "/shop/machines", **{"shop.machine": "fibre-rotary"})
    assert machines_with()[0].name == "fibre-rotary" == _held()["shop.machine"]
    said = page[page.index('class="say right"') : page.index("</form>")]
    _sent(visitor, "/shop/machines", **dict(HIDDEN.findall(said)))
    assert machines_with()[0].name == _held()["shop.machine"] == "diode-rotary"


def test_the_shops_own_machine_is_shown_first(visitor: Visitor, shop_folder: Path) -> None:
    own = (templates() / "machines" / "co2-rotary.toml").read_text(encoding="utf-8")
    shop_folder.mkdir(exist_ok=True)
    (shop_folder / "mine.toml").write_text(re.sub('name = ".*"', 'name = "Mine & <i>"', own))
    change_shop({"shop.machine": "mine.toml"})
    page = visitor.client.get("/shop/machines").text
    assert page.index("Mine &amp; &lt;i&gt;") < page.index("Diode laser")
    first = machines_with()[0]
    assert visitor.client.get(f"/shop/machines/own/{first.blank.name}.png").status_code == 200


@pytest.mark.parametrize(
    "address",
    ["/shop/blanks/mine.toml.png", "/shop/blanks/..%2Fmine.png", "/shop/machines/own/x.toml.png",
     "/shop/machines/mine.toml/camp-mug-14oz.png", "/shop/machines?blank=mine.toml"],
)  # fmt: skip
def test_no_path_of_an_address_reaches_a_file(
    visitor: Visitor, shop_folder: Path, monkeypatch: pytest.MonkeyPatch, address: str
) -> None:
    """A file that is there, with a blank in it, is not read: only names of the library are."""
    shop_folder.mkdir(exist_ok=True)
    shelf = templates() / "blanks" / "camp-mug-14oz.toml"
    for name in ("mine.toml", "x.toml"):
        (shop_folder / name).write_bytes(shelf.read_bytes())
    monkeypatch.chdir(shop_folder)
    assert visitor.client.get(address).status_code in (404, 422)


def test_pictures_are_written_by_commands_too(visitor: Visitor, tmp_path: Path) -> None:
    run = CliRunner().invoke
    assert run(app, ["blanks", "--draw", str(tmp_path / "b")]).exit_code == 0
    assert run(app, ["machines", "--draw", str(tmp_path / "m"), "--blank", "camp-mug-14oz"]
               ).exit_code == 0  # fmt: skip
    shown = visitor.client.get("/shop/blanks/camp-mug-14oz.png").content
    assert (tmp_path / "b" / "camp-mug-14oz.png").read_bytes() == shown
    assert len(list((tmp_path / "b").iterdir())) == len(blanks().blanks)
    held = [each for each in machines_with("camp-mug-14oz") if each.is_held]
    assert {file.stem for file in (tmp_path / "m").iterdir()} == {each.name for each in held}


CARD = {
    "piece": "handled-tumbler-40oz/navy", "power_from": "20", "power_to": "80", "power_count": "4",
    "speed_from": "100", "speed_to": "280", "speed_count": "3", "passes": "1",
}  # fmt: skip


@pytest.fixture
def carded(visitor: Visitor) -> Visitor:
    """Return a visitor who has made a test card."""
    _sent(visitor, "/shop/cards/make", **CARD)
    return visitor


def test_a_card_made_on_the_page_is_the_commands(carded: Visitor, tmp_path: Path) -> None:
    (card,) = cards()
    said = "--blank handled-tumbler-40oz --coat navy --power 20..80x4 --speed 100..280x3"
    out = ["--out", str(tmp_path / "same")]
    assert CliRunner().invoke(app, ["test-card", *said.split(), *out]).exit_code == 0
    artwork = carded.client.get(f"/shop/cards/{card.name}/card.svg")
    assert artwork.headers["content-disposition"].startswith("attachment")
    assert artwork.content == (tmp_path / "same" / "test-card.svg").read_bytes()
    assert (card.folder / "key.csv").read_bytes() == (tmp_path / "same" / "key.csv").read_bytes()
    assert carded.client.get(f"/shop/cards/{card.name}/key.pdf").content.startswith(b"%PDF")


def test_the_grid_lies_as_on_the_test_piece(carded: Visitor) -> None:
    (card,) = cards()
    grid = [[(c.settings.power, c.settings.speed) for c in row] for row in card.rows]
    assert grid == [[(p, s) for p in (20, 40, 60, 80)] for s in (100, 190, 280)]
    page = _page(carded, f"/shop/cards/{card.name}")
    names = re.findall(r'type="radio" name="cell" value="(\w+)"', page)
    assert names == [f"{column}{row}" for row in (1, 2, 3) for column in "ABCD"]
    for row in card.rows:
        for cell in row:
            assert f'aria-label="{cell.name}: {cell.settings.in_words}"' in page
            group = re.search(rf'<[^>]*id="{cell.name}_[^>]*>', artwork_of(card.name).decode())
            assert group
            assert cell.ink in group[0]
            assert f'fill="{cell.ink}"' in page


def test_the_best_cell_is_kept_with_how_it_came_out(carded: Visitor) -> None:
    (card,) = cards()
    keep = f"/shop/cards/{card.name}/keep"
    refused = carded.client.post(keep, data={"outcome": "even"})
    assert (refused.status_code, recipes().kept) == (422, ())
    assert carded.client.post(keep, data={"cell": "B2"}).status_code == 422  # how did it come out?
    page = _sent(carded, keep, cell="B2", outcome="even <b>", day="2026-11-20")
    ((name, recipe, holds),) = recipes().kept
    assert (recipe.power, recipe.speed, recipe.outcome, holds) == (40, 190, "even <b>", True)
    assert recipe.date == dt.date(2026, 11, 20)
    assert recipe.coat == "navy"
    assert recipe.in_words in page
    assert "even <b>" in page  # unescaped by the test
    assert "even <b>" not in carded.client.get("/shop/recipes").text
    assert [cell.name for cell in cards()[0].kept] == ["B2"]
    _sent(carded, "/shop/recipes/drop", name=name)
    assert (recipes().kept, cards()[0].kept) == ((), ())
    _sent(carded, "/shop/recipes/restore", name=name)
    assert [name for name, *_ in recipes().kept] == [name]


def test_keeping_and_making_are_taken_back_by_their_buttons(carded: Visitor) -> None:
    (card,) = cards()
    page = _sent(carded, f"/shop/cards/{card.name}/keep", cell="A1", outcome="faint")
    said = page[page.index('class="say right"') :].split("</form>")[0]
    action = re.search(r'action="([^"]+)"', said)
    assert action
    page = _sent(carded, action[1], **dict(HIDDEN.findall(said)))
    assert recipes().kept == ()
    _sent(carded, "/shop/cards/drop", name=card.name)
    assert cards() == ()
    assert place_for_card("navy").name != card.name  # it may be put back
    assert carded.client.get(f"/shop/cards/{card.name}").status_code == 422
    _sent(carded, "/shop/cards/restore", name=card.name)
    assert cards() == (card,)
    assert carded.client.post("/shop/cards/restore", data={"name": card.name}).status_code == 422


def test_settings_found_otherwise_are_kept(visitor: Visitor) -> None:
    told = {"coat": "slate", "power": "55", "speed": "180", "passes": "2", "interval": "0.08",
            "outcome": "even", "machine": "fibre-rotary", "blank": "camp-mug-14oz"}  # fmt: skip
    for wrong in ({"power": "120"}, {"outcome": ""}, {"day": "yesterday"}, {"coat": ""},
                  {"blank": "../x.toml"}, {"machine": "x.toml"}):  # fmt: skip
        refused = visitor.client.post("/shop/recipes/keep", data={**told, **wrong})
        assert (refused.status_code, recipes().kept) == (422, ()), wrong
    _sent(visitor, "/shop/recipes/keep", **told)
    ((_, recipe, _),) = recipes().kept
    assert (recipe.coat, recipe.power, recipe.passes, recipe.interval) == ("slate", 55, 2, 0.08)
    assert recipe.machine == machine_with("fibre-rotary", "").machine.name
    assert recipe.blank == blank_called("camp-mug-14oz").blank.name


@pytest.mark.parametrize(
    "wrong",
    [{"piece": "x.toml/navy"}, {"piece": "camp-mug-14oz/pink"}, {"machine": "x.toml"},
     {"power_to": "much"}, {"speed_to": "900"}, {"power_count": "60"}, {"interval": "3 yards"}],
)  # fmt: skip
def test_a_card_that_cannot_be_is_refused_and_leaves_nothing(
    visitor: Visitor, shop_folder: Path, wrong: dict[str, str]
) -> None:
    answer = visitor.client.post("/shop/cards/make", data={**CARD, **wrong})
    assert answer.status_code == 422
    assert 'id="refusal"' in answer.text
    assert not (shop_folder / "test-cards").exists()


def test_cards_and_recipes_are_dropped_by_commands_too(carded: Visitor) -> None:
    (card,) = cards()
    carded.client.post(f"/shop/cards/{card.name}/keep", data={"cell": "A1", "outcome": "faint"})
    ((name, *_),) = recipes().kept
    run = CliRunner().invoke
    assert card.name in run(app, ["test-cards"]).output
    for what, each in (("recipes", name), ("test-cards", card.name)):
        assert run(app, [what, "--drop", each]).exit_code == 0
        assert isinstance(run(app, [what, "--drop", each]).exception, InputError)
        assert each not in run(app, [what]).output
        assert run(app, [what, "--restore", each]).exit_code == 0
        assert isinstance(run(app, [what, "--restore", each]).exception, InputError)
    assert [name for name, *_ in recipes().kept] == [name]
    assert cards()[0].name == card.name
    assert isinstance(run(app, ["recipes", "--drop", "../shop"]).exception, InputError)


def test_fonts_are_judged_for_an_order_as_the_command_judges_them(shop: Shop) -> None:
    shop.list([*GUESTS, {"Name": "李美", "Role": "Horn"}, {"Name": "Åse Ødegård", "Role": "Oboe"}])
    visitor = Visitor(shop.folder)
    assert visitor.known is not None
    page = _page(visitor, f"/shop/fonts?order={visitor.known.key}")
    judged = {each.family: each for each in judge_fonts(shop.folder).candidates}
    for font in fonts():
        part = page[page.index(f"<h2>{font.name}</h2>") :].split("</section>")[0]
        found = judged[font.name]
        assert ("cannot write" in part) == bool(found.lacks), font.name
        assert all(char in part for char in found.lacks[:12])
        height = found.letter_height
        assert (f"letters {format_mm(height)} high" if height else "no name fits") in part
        assert font.licence in part
        assert font.copyright in part
    texts = re.findall(r"[?]texts=([^\"]+)", page)
    assert {unquote(each) for each in texts} == {"\n".join(telling_names(shop.folder))}
    assert visitor.client.get("/shop/fonts?order=0123456789").status_code == 422


def _ink(visitor: Visitor, address: str) -> np.ndarray:
    answer = visitor.client.get(address)
    assert (answer.status_code, answer.headers["content-type"]) == (200, "image/png")
    return np.asarray(Image.open(io.BytesIO(answer.content)).convert("RGB")).astype(int)


def test_a_font_is_seen_in_letters_of_its_own(visitor: Visitor) -> None:
    one = _ink(visitor, "/shop/fonts/Lora.png?texts=Zoë")
    other = _ink(visitor, "/shop/fonts/Pacifico.png?texts=Zoë")
    assert one.shape == other.shape
    assert (one != other).any()
    assert (one.max(axis=2) < 60).any()  # set in ink
    lacking = _ink(visitor, "/shop/fonts/Lora.png?texts=李")
    red = (lacking[..., 0] > 150) & (lacking[..., 1] < 60)
    assert red.any()  # what it lacks is said, and nothing is set in another font's letters
    assert not (lacking.max(axis=2) < 60).any()
    rows = _ink(visitor, "/shop/fonts/Lora.png?texts=" + "%0A".join("abcdefgh"))
    assert rows.shape[0] < 5 * one.shape[0]
    for font in ("own.ttf", "..%2Fx.ttf", "Loraa"):
        assert visitor.client.get(f"/shop/fonts/{font}.png").status_code in (404, 422), font


def test_fonts_are_drawn_by_the_command_too(visitor: Visitor, tmp_path: Path) -> None:
    draw = ["fonts", "--draw", str(tmp_path), "--text", "Zoë"]
    assert CliRunner().invoke(app, draw).exit_code == 0
    assert {file.stem for file in tmp_path.iterdir()} >= {font.name for font in fonts()}
    shown = visitor.client.get("/shop/fonts/Lora.png?texts=Zoë").content
    assert (tmp_path / "Lora.png").read_bytes() == shown
