"""Setting the shop up, and where its defaults are named."""

from __future__ import annotations

from pathlib import Path

import pytest
from outside import cli, terminal

from mailmerge.findings import InputError
from mailmerge.orders import open_order
from mailmerge.shelves import find
from mailmerge.workshop.shop.setup import QUESTIONS
from mailmerge.workshop.shop.shop import open_shop, shop_folder


def asked(answers: str) -> tuple[int, str]:
    """Run ``mailmerge shop`` on a terminal; return its exit code and what it showed."""
    shown, code = terminal("shop", typed=answers)
    return code, shown


def test_every_question_has_a_default_that_is_taken(shop_folder: Path) -> None:
    code, shown = asked("\n" * len(QUESTIONS))
    assert code == 0, shown
    for question in QUESTIONS:
        assert question.words in shown
    shop = open_shop()
    assert shop.is_set_up
    assert shop.file == shop_folder / "shop.toml"
    from mailmerge.workshop.shop.shop import ShopFile

    assert shop.values == ShopFile()  # what was taken by Enter is what holds without it


def test_a_wrong_answer_is_asked_again() -> None:
    typed = {
        "shop.name": "Cups by the Quay", "shop.address": "1 Quay Street, Millport",
        "shop.machine": "diode\ndiode-roller", "shop.currency": "EURO\nusd",
        "hours.saturday": "9-12\n09:00-12:00",
        "rates.labour": "31.50", "price.margin": "99 %\n35 %",
    }  # fmt: skip
    lines = "".join(typed.get(question.key, "") + "\n" for question in QUESTIONS)
    code, shown = asked(lines)
    assert code == 0, shown
    assert 'your answer: shop.currency: Found "EURO". Enter a currency' in shown
    assert 'The library has no machine "diode"' in shown
    shop = open_shop()
    assert shop.values.shop.name == "Cups by the Quay"
    assert shop.values.shop.address == ("1 Quay Street", "Millport")
    assert shop.values.shop.currency == "USD"
    assert shop.values.hours.saturday == ((540, 720),)
    assert str(shop.values.rates.labour) == "31.50"
    assert shop.values.price.margin == 35
    again = cli("shop")
    assert "The shop is set up. To change anything, edit" in again
    assert "shop.name: Cups by the Quay" in again


def test_without_a_terminal_nothing_is_asked_or_written(shop_folder: Path) -> None:
    with pytest.raises(InputError, match="there is no terminal to ask on"):
        cli("shop")
    assert not (shop_folder / "shop.toml").exists()


def test_the_folder_is_where_the_system_keeps_such_data(monkeypatch: pytest.MonkeyPatch) -> None:
    import platformdirs

    monkeypatch.delenv("MAILMERGE_SHOP")
    assert shop_folder() == platformdirs.user_data_path("mailmerge-artwork", appauthor=False)
    assert shop_folder().name == "mailmerge-artwork"
    monkeypatch.setenv("MAILMERGE_SHOP", "~/elsewhere")
    assert shop_folder() == Path.home() / "elsewhere"


def test_a_shop_that_is_wrong_is_named(shop_folder: Path) -> None:
    (shop_folder / "shop.toml").write_text('[shop]\nmashine = "x"\n')
    with pytest.raises(
        InputError, match=r'shop\.toml: Found the unknown key "shop.mashine"\. Did you mean'
    ):
        open_shop()


def test_new_orders_get_the_shops_machine_and_layout_and_say_so(
    tmp_path: Path, shop_folder: Path
) -> None:
    names = tmp_path / "names.csv"
    names.write_text("Name,Role\nAnn Holm,Viola\n", encoding="utf-8")
    words = cli("new", tmp_path / "a", "--list", names)
    assert "layout: name-over-role (a default)" in words
    assert "machine: diode-rotary (a default)" in words
    (shop_folder / "shop.toml").write_text('[shop]\nmachine = "co2-rotary"\nlayout = "plain"\n')
    words = cli("new", tmp_path / "b", "--list", names)
    assert "machine: co2-rotary (as shop.toml says)" in words
    design = open_order(tmp_path / "b").design
    assert design.machine.name == "CO2 laser, chuck, mouth to the right"
    assert design.layout.name == "Plain"
    words = cli("new", tmp_path / "c", "--list", names, "--machine", "diode-roller")
    assert "machine:" not in words


def test_a_machine_of_the_shops_own_lies_beside_its_file(tmp_path: Path, shop_folder: Path) -> None:
    names = tmp_path / "names.csv"
    names.write_text("Name,Role\nAnn Holm,Viola\n", encoding="utf-8")
    profile = find("machines", "diode-rotary", Path()).read_text(encoding="utf-8")
    (shop_folder / "mine.toml").write_text(profile.replace("Diode laser,", "My laser,"))
    (shop_folder / "shop.toml").write_text('[shop]\nmachine = "mine.toml"\n')
    cli("new", tmp_path / "a", "--list", names)
    assert open_order(tmp_path / "a").design.machine.name.startswith("My laser")
    (shop_folder / "shop.toml").write_text('[shop]\nmachine = "diode"\n')
    with pytest.raises(
        InputError, match=r'shop\.toml: shop\.machine: machine: The library has no machine "diode"'
    ):
        cli("new", tmp_path / "b", "--list", names)


def test_a_bare_list_says_what_it_was_given(tmp_path: Path) -> None:
    names = tmp_path / "names.csv"
    names.write_text("Name,Role\nAnn Holm,Viola\n", encoding="utf-8")
    words = cli("merge", names, "--layout", "plain")
    assert (
        "Taken: blank handled-tumbler-40oz (a default), machine diode-rotary (a default)" in words
    )
