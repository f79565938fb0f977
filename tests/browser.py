"""A headless browser as an outside reader: what it finds of markup."""

from __future__ import annotations

from typing import Any

from playwright.sync_api import Browser


def found_by_browser(browser: Browser, body: str, script: str) -> Any:
    """Return ``found`` as the script left it; the script may be the body of an async function."""
    page = browser.new_page()
    page.set_content(f"<!doctype html><meta charset=utf-8><body>{body}")
    found = page.evaluate(f"async () => {{ {script} return found; }}")
    page.close()
    return found
