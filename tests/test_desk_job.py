"""The whole job in a browser, by somebody who reads only the page."""

from __future__ import annotations

import io
import json
import re
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from conftest import DEMO
from desks import answering, open_page
from playwright.sync_api import Browser, Page
from shop import Shop
from typer.testing import CliRunner

from mailmerge.cli import app

pytestmark = pytest.mark.outside("chromium")

KEPT = (1, 2, 3, 4, 5, 14, 19, 21)
"""Rows of the demo's list: what stands above its headings, and four of its guests."""

PHONE = {"width": 390, "height": 844}


def smaller_gala() -> bytes:
    """Return the demo's list with four guests: one in capitals, one too long, one left-handed."""
    book = openpyxl.load_workbook(DEMO / "guests.xlsx")
    sheet = book.active
    assert sheet is not None
    for row in range(sheet.max_row, 0, -1):
        if row not in KEPT:
            sheet.delete_rows(row)
    written = io.BytesIO()
    book.save(written)
    return written.getvalue()


def told(folder: Path) -> dict[str, Any]:
    """Return what the command line says of an order, as programs read it."""
    result = CliRunner().invoke(app, ["status", str(folder), "--json"])
    assert result.exit_code == 0, result.output
    return dict(json.loads(result.stdout))


def go(page: Page, place: str) -> None:
    """Go to a place of the order by what stands above every page."""
    page.get_by_role("link", name=re.compile(f"^{place}")).first.click()
    page.wait_for_url(f"**/{place.lower()}*")
    # Whoever reads only the page has no command line.
    assert "mailmerge" not in page.locator("main").inner_text()


def answer_as_client(page: Page, file: Path) -> Path:
    """Answer a pack on the client's own page: all are right but the last; return what is saved."""
    page.goto(file.as_uri())
    for _ in range(3):
        page.locator(".now .yes").click()
        page.wait_for_timeout(600)  # a second tap at the same place answers nothing
    page.locator(".now .no").click()
    page.locator(".now [data-field=name]").fill("Jürgen Groß-Alt")
    page.locator(".now .keep").click()
    if not page.locator("#overview").is_visible():
        page.locator("#all").click()
    page.get_by_label("Anouk Roth").check()
    with page.expect_download() as saving:
        page.locator("#save").click()
    saved = file.parent / saving.value.suggested_filename
    saving.value.save_as(saved)
    return saved


@pytest.mark.long
def test_from_the_list_to_the_last_cup(
    chromium: Browser, tmp_path: Path, shop_folder: Path
) -> None:
    with answering() as (entry, _), open_page(chromium, entry) as page:
        page.set_input_files(
            "input[type=file]",
            {"name": "guests.xlsx", "mimeType": "application/x", "buffer": smaller_gala()},
        )
        page.wait_for_url("**/begin/*")
        page.get_by_role("textbox", name="Whose party").fill("Harbour Lane Orchestra, winter gala")
        page.locator("input[name=blank][value=handled-tumbler-40oz]").check()
        page.locator("select[name=coat-handled-tumbler-40oz]").select_option("black")
        page.locator("input[name=layout][value=name-over-role]").check()
        page.get_by_role("button", name="Make the cups").click()
        page.wait_for_url("**/cups*")
        page.locator(".cup").nth(3).wait_for()
        (folder,) = (shop_folder / "orders").iterdir()

        go(page, "List")
        for way in ("Hannelore Weiss", "for the left hand"):
            page.get_by_role("button", name=way).click()
            page.get_by_role("button", name=way).wait_for(state="detached")
        page.get_by_role("link", name=re.compile("^See its cup.*Wilhelmina")).click()
        page.get_by_role("button", name=re.compile("^Take it")).first.click()
        page.get_by_role("heading", name="Wilhelmina", exact=True).wait_for()
        assert {each["standing"] for each in told(folder)["items"]} == {"waiting"}

        go(page, "Client")
        page.get_by_role("textbox", name="Whose yes").fill("Anouk Roth")
        page.get_by_role("button", name="Make the proof pack").click()
        with page.expect_download() as saving:
            page.get_by_role("link", name="Save the page, to send").click()
        sent = tmp_path / saving.value.suggested_filename
        saving.value.save_as(sent)
        assert sent.suffix == ".html"
        theirs = chromium.new_page()
        came = answer_as_client(theirs, sent)
        theirs.close()
        page.locator("input[type=file]").set_input_files(came)
        page.get_by_role("heading", name="This came back").wait_for()
        page.get_by_role("link", name="See what is open now").click()
        page.get_by_role("button", name=re.compile("^Take it ?: Jürgen")).click()
        page.get_by_label("Choose cup 4, Jürgen Groß-Alt").check()
        page.get_by_label("Who said it, and how").fill("Anouk Roth")
        page.get_by_role("button", name="Put the yes on record").click()
        page.get_by_text("The yes for Jürgen Groß-Alt is on record.").wait_for()

        go(page, "Bench")
        page.get_by_role("button", name="Release them to engrave").click()
        page.get_by_role("button", name="Start the clock").click()
        page.get_by_role("button", name="Stop the clock").wait_for()
        for engraved in range(4):
            page.get_by_role("button", name="Engraved").click()
            if engraved < 3:
                page.get_by_text(f"{engraved + 1} of 4 cups engraved").wait_for()
        page.get_by_text("All cups of this order are engraved").wait_for()
        go(page, "Bill")
        page.get_by_text("The client pays").first.wait_for()
        page.get_by_role("link", name="Orders").click()
        page.get_by_role("heading", name="Finished").wait_for()

    made = {each["item"]: each for each in told(folder)["items"]}
    assert {each["standing"] for each in made.values()} == {"engraved"}
    assert [each["name"] for each in made.values()] == [
        "Amara Okonkwo", "Hannelore Weiss", "Wilhelmina", "Jürgen Groß-Alt",
    ]  # fmt: skip


@pytest.mark.long
def test_client_and_bench_on_a_phone(chromium: Browser, packed: Shop) -> None:
    with (
        answering(packed.folder) as (entry, (known,)),
        open_page(chromium, entry, viewport=PHONE, has_touch=True, is_mobile=True) as page,
    ):
        page.goto(f"{entry.partition('/enter')[0]}/orders/{known.key}/client")
        page.get_by_label(re.compile("^Choose cup 1,")).check()
        page.get_by_label("Who said it, and how").fill("Ms Roth, by telephone")
        page.get_by_role("button", name="Put the yes on record").tap()
        page.get_by_text("is on record").wait_for()
        for place in ("Client", "Bench"):
            go(page, place)
            assert page.evaluate("document.documentElement.scrollWidth") == PHONE["width"]
        page.get_by_role("button", name="Release it to engrave").tap()
        page.get_by_role("button", name="Start the clock").wait_for()
        page.wait_for_load_state()  # with its style sheets
        small = page.evaluate(SMALL)
        assert small == []
        page.get_by_role("button", name="Engraved").tap()
        page.get_by_text("Anna Berg is engraved.").wait_for()
        assert packed.standing()[1] == "engraved"
        page.get_by_role("button", name="That was a mistake").tap()
        page.get_by_role("button", name="Start the clock").wait_for()
        assert packed.standing()[1] == "released"


SMALL = """() => [...document.querySelectorAll("main *")].flatMap((each) => {
  const has_text = [...each.childNodes].some((node) => node.nodeType === 3 && node.data.trim());
  const box = each.getBoundingClientRect();
  const found = [];
  const size = parseFloat(getComputedStyle(each).fontSize);
  if (has_text && box.width > 1 && size < 16) found.push("text");
  const is_pressed = each.matches("button, a.button, summary") && box.height;
  if (is_pressed && box.height < 63.5) found.push("touch");
  return found.map((what) => `${what}: ${each.outerHTML.slice(0, 80)}`);
})"""
"""What is too small at the bench: letters under 16 px, and what hands in gloves do not meet."""
