"""The manual: short pages in Markdown, one for each task and for each file, that travel along."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

from mailmerge.findings import InputError, nearest, shown

TASKS = (
    "desk",
    "start-an-order", "measure-a-blank", "look-and-fonts", "mend-the-list", "proofs-and-answers",
    "changes-and-late-guests", "engrave", "find-settings", "time-and-price", "the-shop",
    "hand-over", "forget-an-order", "when-you-are-stuck",
)  # fmt: skip
"""Pages about what one does, in the order of the job."""

FILES = (
    "guest-list", "order-file", "order-folder", "blank-file", "layout-file", "machine-file",
    "recipe-file", "shop-file", "findings", "report", "artwork", "answers-files", "exit-codes",
)  # fmt: skip
"""Pages about what files and commands say."""

_LINK = re.compile(r"\[[^]]*\]\(([\w-]+)\.md\)")


@dataclass(frozen=True, slots=True)
class Page:
    """A page of the manual."""

    name: str
    title: str
    summary: str
    """One line: what the page is good for."""
    text: str
    """Markdown, title and summary included; links lead to the files of other pages."""

    @property
    def on_screen(self) -> str:
        """The text for a screen, where no link can be followed: each says what to type."""
        return _LINK.sub(r"`mailmerge manual \1`", self.text)


def pages() -> tuple[Page, ...]:
    """Return all pages, tasks first."""
    return tuple(page(name) for name in (*TASKS, *FILES))


def page(name: str) -> Page:
    """Return a page by its name.

    Raises
    ------
    InputError
        There is no such page; the nearest one is suggested.
    """
    if name not in (*TASKS, *FILES):
        raise InputError(
            f"The manual has no page {shown(name)}. {nearest(name, (*TASKS, *FILES))} "
            f"List the pages with: mailmerge manual"
        )
    text = (Path(__file__).parent / f"{name}.md").read_text(encoding="utf-8")
    title, _, summary = text.split("\n", 3)[:3]
    return Page(name, title.removeprefix("# "), summary, text)
