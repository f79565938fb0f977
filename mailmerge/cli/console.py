"""The console for tables and colours: a text in it comes out as anywhere else, visible."""

from __future__ import annotations

import os
import re
from collections.abc import Iterable
from typing import Any

from rich.console import Console, ConsoleOptions, RenderableType
from rich.segment import Segment
from rich.text import Text

from mailmerge import voice

_SIZES = ("COLUMNS", "LINES")


def _environment() -> dict[str, str]:
    """Return the environment without sizes that no terminal has, which rich would count with."""
    return {
        name: value
        for name, value in os.environ.items()
        if name not in _SIZES or re.fullmatch("[1-9][0-9]{0,3}", value)
    }


class PlainConsole(Console):
    """A console that takes no text for anything but text, and shows what is hidden in it.

    Its own colours and movements pass the program's voice untouched, so nothing else may.

    Parameters
    ----------
    beside
        Whether it is standard error that it writes to.
    more
        As for rich.
    """

    def __init__(self, beside: bool = False, **more: Any) -> None:
        super().__init__(
            file=voice.for_a_console(beside), highlight=False, markup=False, emoji=False,
            _environ=_environment(), **more,
        )  # fmt: skip

    def render_str(self, text: str, **how: Any) -> Text:
        """Return a text, made visible before its room is measured."""
        return super().render_str(voice.visible(text), **how)

    def render(
        self, renderable: RenderableType, options: ConsoleOptions | None = None
    ) -> Iterable[Segment]:
        """Yield what a thing is drawn with; whatever it holds is visible at the latest here."""
        for segment in super().render(renderable, options):
            is_text = not segment.control
            yield segment._replace(text=voice.visible(segment.text)) if is_text else segment
