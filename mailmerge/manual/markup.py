"""A page of the manual as HTML."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

from markdown_it import MarkdownIt
from markdown_it.token import Token

from mailmerge.manual import FILES, TASKS, Page


def as_html(page: Page, address: Callable[[str], str]) -> str:
    """Return a page's text as HTML; markup that stands in the text is shown as text.

    Parameters
    ----------
    address
        Where another page is, by its name.
    """
    tokens = _markdown().parse(page.text)
    for token in (each for block in tokens for each in block.children or ()):
        if token.type == "link_open":
            _lead(token, address)
    return str(_markdown().renderer.render(tokens, _markdown().options, {}))


@cache
def _markdown() -> MarkdownIt:
    return MarkdownIt("commonmark", {"html": False}).enable("table")


def _lead(link: Token, address: Callable[[str], str]) -> None:
    name = str(link.attrs["href"]).removesuffix(".md")
    if name in (*TASKS, *FILES):
        link.attrs["href"] = address(name)
