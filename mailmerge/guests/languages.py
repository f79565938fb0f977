"""Languages as people and standards write them: BCP 47 tags, and names from the locale data."""

from __future__ import annotations

import re
from functools import lru_cache

_TAG = re.compile(r"([A-Za-z]{2,3})((?:[-_][A-Za-z0-9]{2,8})*)")


@lru_cache(maxsize=256)
def tag_of(text: str) -> str:
    """Return the BCP 47 tag of a language; one that is written as a tag stays as it is.

    Parameters
    ----------
    text
        A tag (``tr``, ``de-CH``), or the language's name in English or in itself (``Turkish``,
        ``Türkçe``), as CLDR has them.

    Raises
    ------
    ValueError
        There is no such language, script or country.
    """
    # Loading the locale data takes longer than starting the program, and few calls need it.
    from babel import Locale
    from babel.core import get_global

    english, aliases = Locale("en"), get_global("language_aliases")
    word = text.strip()
    if match := _TAG.fullmatch(word):
        code, *parts = re.split("[-_]", word)
        code = code.lower()
        if (code in english.languages or code in aliases) and all(
            part.upper() in english.territories
            or part.title() in english.scripts
            or part.upper() in english.variants
            for part in parts
        ):
            return str(aliases[code]) + match[2] if code in aliases else word
    low = word.casefold()
    for code, name in english.languages.items():
        if name.casefold() == low:
            return str(code)
    if low in _own_names():
        return _own_names()[low]
    raise ValueError(text)


_WITH_OWN_NAMES = (
    "az", "bg", "ca", "cs", "cy", "da", "de", "el", "es", "et", "eu", "fi", "fr", "ga", "hr", "hu",
    "hy", "id", "is", "it", "ka", "kk", "lt", "lv", "mk", "mt", "nb", "nl", "pl", "pt", "ro", "ru",
    "sk", "sl", "sq", "sr", "sv", "tr", "uk", "vi",
)  # fmt: skip
"""Languages that are known by what they call themselves: each takes some milliseconds to load."""


@lru_cache(maxsize=1)
def _own_names() -> dict[str, str]:
    """Return the tag of each language by what it calls itself."""
    from babel import Locale

    return {Locale(code).languages[code].casefold(): code for code in _WITH_OWN_NAMES}
