"""The languages of a proof pack: what it says in each, and how each writes days and lists.

A catalogue is a folder of ``locale/`` with a ``pack.po``; ``pack.pot`` holds every text that there
is to be translated. They are read as they stand: nothing is compiled beforehand.
"""

from __future__ import annotations

import datetime as dt
import gettext
import io
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:  # Loading Babel takes longer than starting the program, and few calls need it.
    from babel import Locale
    from babel.messages import Catalog, Message

SOURCE = "en"
"""The language that the texts are written in; it needs no catalogue."""

_LOCALES = {SOURCE: "en_GB"}
"""Where the days and lists of a language are those of one country."""

_LISTED_WITH_COMMAS = ("cy",)
"""The list of the locale data leaves a choice open in Welsh: ``a(c)``."""


def N_(message: str) -> str:
    """Return a text as it is: it stands in the catalogues, and is translated where it is used."""
    return message


@dataclass(frozen=True)
class Language:
    """One of the languages that there is a catalogue for; texts have ``%(name)s`` for values."""

    tag: str

    def gettext(self, message: str, **values: object) -> str:
        """Return a text in the language; in English, where it is not translated."""
        return translations(self.tag).gettext(message) % values

    def ngettext(self, one: str, many: str, count: int, **values: object) -> str:
        """Return the form of a text that a count takes."""
        return translations(self.tag).ngettext(one, many, count) % {"count": count, **values}

    def listed(self, texts: Iterable[str]) -> str:
        """Return texts as a list in a sentence."""
        from babel.lists import format_list

        if self.tag in _LISTED_WITH_COMMAS:
            return ", ".join(texts)
        return format_list([*texts], locale=self._locale)

    def day(self, day: dt.date) -> str:
        """Return a day with its month in words."""
        from babel.dates import format_date

        return format_date(day, "long", self._locale)

    def number(self, number: float) -> str:
        """Return a number with the language's own comma."""
        from babel.numbers import format_decimal

        return format_decimal(number, "0.##", self._locale, numbering_system="latn")

    def script(self, name: str) -> str:
        """Return what a script is called, by its name in English; that, where it has no other."""
        return str(self._locale.scripts.get(_scripts().get(name, ""), name))

    def is_written_in(self, script: str) -> bool:
        """Whether the language is written in a script, by that one's name in English."""
        from babel.core import get_global

        own = str(get_global("likely_subtags").get(self.tag, "")).split("_")
        return _scripts().get(script) in own

    @property
    def is_right_to_left(self) -> bool:
        """Whether it is written from the right to the left."""
        return self.tag != SOURCE and self._locale.text_direction == "rtl"

    @property
    def called(self) -> str:
        """What the language calls itself."""
        return str(self._locale.get_language_name()).capitalize()

    @property
    def missing(self) -> tuple[str, ...]:
        """The texts that are not translated: the pack has them in English."""
        if self.tag == SOURCE:
            return ()
        own, wanted = _catalogue(_po_of(self.tag)), _catalogue(_LOCALE / "pack.pot")
        texts = [_text_of(message) for message in wanted if message.id]
        return tuple(text for text in texts if not _is_translated(own.get(text)))

    @property
    def _locale(self) -> Locale:
        from babel import Locale

        return Locale.parse(_LOCALES.get(self.tag, self.tag))


_LOCALE = Path(__file__).parent / "locale"


@cache
def known() -> tuple[str, ...]:
    """Return the tags of all languages that a pack can be in."""
    with_catalogue = [each.name for each in _LOCALE.iterdir() if _po_of(each.name).is_file()]
    return (SOURCE, *sorted(with_catalogue))


@cache
def translations(language: str) -> gettext.NullTranslations:
    """Return the texts of a language; what is not translated comes back in English."""
    if language == SOURCE:
        return gettext.NullTranslations()
    from babel.messages.mofile import write_mo

    compiled = io.BytesIO()
    write_mo(compiled, _catalogue(_po_of(language)))
    compiled.seek(0)
    return gettext.GNUTranslations(compiled)


@cache
def _scripts() -> dict[str, str]:
    """Return the codes of scripts (ISO 15924) by their names in English."""
    from babel import Locale

    return {str(called): str(code) for code, called in Locale("en").scripts.items()}


def _po_of(language: str) -> Path:
    return _LOCALE / language / "LC_MESSAGES" / "pack.po"


@cache
def _catalogue(file: Path) -> Catalog:
    from babel.messages.pofile import read_po

    with file.open("rb") as data:
        return read_po(data)


def _text_of(message: Message) -> str:
    """Return a text in English, in the form for one."""
    return message.id if isinstance(message.id, str) else message.id[0]


def _is_translated(message: Message | None) -> bool:
    """Whether there is a text, in all forms that its language has; a guess (fuzzy) is none."""
    if message is None or message.fuzzy:
        return False
    return all((message.string,) if isinstance(message.string, str) else message.string or ("",))


ENGLISH = Language(SOURCE)
