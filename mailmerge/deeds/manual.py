"""The manual's pages, for whoever shows them."""

from __future__ import annotations

from collections.abc import Callable

from mailmerge.manual import FILES, TASKS, Page, page, pages

__all__ = ["FILES", "TASKS", "Page", "as_html", "page", "pages"]


def as_html(shown: Page, address: Callable[[str], str]) -> str:
    """Return a page's text as HTML; markup that stands in the text is shown as text.

    Parameters
    ----------
    address
        Where another page is, by its name.
    """
    from mailmerge.manual.markup import as_html as set_in_html  # only a browser needs it

    return set_in_html(shown, address)
