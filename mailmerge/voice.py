"""What people see: signs that show nothing of themselves are shown, lines are bounded.

Whatever is printed passes :class:`Voice`, which stands in the place of standard output and standard
error, so that no place that prints has to think of it. Whatever is written into files for people,
or onto pages, passes :func:`visible`. What the program reads back is data, and is never changed.
"""

from __future__ import annotations

import errno
import io
import json
import os
import re
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from typing import Any, TextIO, cast

_CONTROLS = "\x00-\x09\x0b-\x1f\x7f-\x9f"
_SEPARATORS = "\u2028\u2029"
_SURROGATES = "\ud800-\udfff"
_FORMATS = (
    "\u00ad\u061c\u070f\u180e\u200b\u200e\u200f\u202a-\u202e\u2060-\u2064\u2066-\u206f\ufeff"
    "\ufff9-\ufffb\U0001bca0-\U0001bca3\U0001d173-\U0001d17a\U000e0001\U000e0020-\U000e007f"
)
"""Format characters (Cf), but for the two joiners, which names need, and for those that have a
picture or lay out hieroglyphs."""

_HIDDEN = re.compile(f"[{_CONTROLS}{_SEPARATORS}{_SURROGATES}{_FORMATS}]")

MOST = 500
"""Characters of a line that says what is wrong."""


def visible(text: str) -> str:
    """Return text with the code point in place of each control or direction sign.

    Ends of lines stay, and so do the joiners that a name in Persian or Hindi is written with: they
    move nothing but the letters beside them.
    """
    return _HIDDEN.sub(lambda found: f"<U+{ord(found[0]):04X}>", text)


def hidden_in(text: str) -> set[str]:
    """Return the control and direction signs of a text."""
    return set(_HIDDEN.findall(text))


def on_a_line(text: str) -> str:
    """Return text as :func:`visible` does, and its ends of lines as code points too."""
    return visible(text).replace("\n", "<U+000A>")


_TAG = re.compile(r"(<textarea\b.*?</textarea>|<script\b.*?</script>|<[^>]*>)", re.DOTALL)


def on_page(html: str) -> str:
    """Return a page with :func:`visible` text; what forms send back stays as it is."""
    if not _HIDDEN.search(html):
        return html
    parts = _TAG.split(html)
    parts[::2] = (_shown_on_page(part) for part in parts[::2])
    return "".join(parts)


def _shown_on_page(text: str) -> str:
    """Return what stands between two tags; a tabulator there is a blank of the page's own."""
    return visible(text.replace("\r\n", "\n").replace("\t", " ")).replace("<U+", "&lt;U+")


def as_json(value: object, indent: int | None = None) -> str:
    """Return a value as JSON, in which hidden signs are escaped: it reads back the same."""
    written = json.dumps(value, ensure_ascii=False, indent=indent)
    return _HIDDEN.sub(_escaped, written)


def _escaped(found: re.Match[str]) -> str:
    units = found[0].encode("utf-16-be", "surrogatepass")
    return "".join(f"\\u{units[at : at + 2].hex()}" for at in range(0, len(units), 2))


_THING = re.compile(r'"[^"]*"|[^\s"]+')
_LEAST = 60
"""Characters of a path or a value that are left of it at least."""


def bounded(line: str, most: int = MOST) -> str:
    """Return a line of at most ``most`` characters, with ``…`` for what is left out.

    Its longest words and quotations are shortened in their middles first, for these are what the
    input held; else the line itself is. How it begins and ends always stays.
    """
    line = _without_middle(line, 40 * most)
    while len(line) > most:
        start, end = max((found.span() for found in _THING.finditer(line)), key=_length)
        if end - start <= _LEAST:
            return _without_middle(line, most)
        keep = max(_LEAST, end - start - (len(line) - most))
        line = line[:start] + _without_middle(line[start:end], keep) + line[end:]
    return line


def _length(span: tuple[int, int]) -> int:
    return span[1] - span[0]


def _without_middle(text: str, most: int) -> str:
    if len(text) <= most:
        return text
    tail = most // 2
    return f"{text[: most - tail - 1]}…{text[-tail:]}"


class Unheard(Exception):
    """What was to be said could not be written.

    Parameters
    ----------
    why
        What the system says; ``""`` where the reader has had enough.
    """

    def __init__(self, why: str) -> None:
        super().__init__(why)
        self.why = why


class Voice:
    """A stream for people: what is written comes out visible, and in one piece or not at all.

    Parameters
    ----------
    stream
        Where it goes.
    shape
        What is made of each text that is written.
    is_needed
        Whether the call is over where nobody can hear it. Notes beside what a command does are not
        worth its end.
    """

    def __init__(self, stream: TextIO, shape: Callable[[str], str], is_needed: bool) -> None:
        self._stream, self._shape, self._is_needed = stream, shape, is_needed
        self.encoding = getattr(stream, "encoding", None) or "utf-8"
        self.errors = getattr(stream, "errors", None) or "strict"
        self._lost: Unheard | None = None

    def for_a_console(self) -> Voice:
        """Return the same stream for a console that shows its texts itself, and adds colours."""
        return Voice(self._stream, str, self._is_needed)

    def write(self, text: str) -> int:
        """Write text."""
        if not isinstance(text, str):
            raise TypeError(type(text).__name__)
        self._tried(lambda: self._stream.write(self._shape(text)))
        return len(text)

    def flush(self) -> None:
        """Let everything come out that was written.

        Raises
        ------
        Unheard
            It cannot, and it is needed.
        """
        self._tried(self._stream.flush)

    def isatty(self) -> bool:
        """Whether somebody sits at a terminal."""
        return self._stream.isatty()

    def fileno(self) -> int:
        """Return the system's number of the stream."""
        return self._stream.fileno()

    @property
    def closed(self) -> bool:
        """Whether nothing can be written any more."""
        return self._stream.closed

    def _tried(self, do: Callable[[], object]) -> None:
        if self._lost:  # who was told of it before may have passed it over
            raise Unheard(self._lost.why)
        try:
            do()
        except OSError as error:
            self._let_go()
            if self._is_needed:
                has_enough = isinstance(error, BrokenPipeError) or error.errno == errno.EINVAL
                self._lost = Unheard("" if has_enough else error.strerror or str(error))
                raise self._lost from None

    def _let_go(self) -> None:
        """Send whatever is left nowhere: else Python tries again at its end, and says so."""
        with suppress(OSError, ValueError):
            nowhere = os.open(os.devnull, os.O_WRONLY)
            os.dup2(nowhere, self._stream.fileno())
            os.close(nowhere)


def _noted(text: str) -> str:
    """Return what is said beside a command's own output: no line of it is long."""
    return "\n".join(map(bounded, visible(text).split("\n")))


_UNHEARD = os.O_WRONLY if sys.platform == "win32" else os.O_RDONLY
"""How what stands in for a closed standard output is opened: what is printed cannot be written, and
that is told. Windows gives none to a program without a console, as is the desk from its icon."""


def _open_what_is_closed() -> None:
    """Give a call whose input or output is closed another one.

    Else the first files that it opens are in their places, and what it prints goes there.
    """
    for name, mode, how in (
        ("stdin", "r", os.O_RDONLY), ("stdout", "w", _UNHEARD), ("stderr", "w", os.O_WRONLY),
    ):  # fmt: skip
        if getattr(sys, name) is None:
            setattr(sys, name, os.fdopen(os.open(os.devnull, how), mode, encoding="utf-8"))


def speak() -> None:
    """Let whatever this process prints from now on pass a :class:`Voice`."""
    _open_what_is_closed()
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(encoding="utf-8", errors="replace")
    sys.stdout = cast(TextIO, Voice(sys.stdout, visible, True))
    sys.stderr = cast(TextIO, Voice(sys.stderr, _noted, False))


@contextmanager
def speaking() -> Iterator[None]:
    """Do as :func:`speak`, until what is called is over."""
    before = sys.stdout, sys.stderr
    speak()
    try:
        yield
    finally:
        sys.stdout, sys.stderr = before


def note(line: str) -> None:
    """Say a line beside what a command prints."""
    sys.stderr.write(f"{line}\n")
    sys.stderr.flush()


def flush() -> None:
    """Let everything come out that was printed.

    Raises
    ------
    Unheard
        It cannot.
    """
    sys.stdout.flush()


def is_on_terminal() -> bool:
    """Whether what is printed goes to somebody at a terminal."""
    return sys.stdout.isatty()


def is_noted_on_terminal() -> bool:
    """Whether what is said beside it does."""
    return sys.stderr.isatty()


def for_a_console(beside: bool = False) -> Any:
    """Return standard output, or error, for a console that shows its texts itself."""
    stream = sys.stderr if beside else sys.stdout
    return stream.for_a_console() if isinstance(stream, Voice) else stream
