"""The texts of a proof pack, taken from its files, and its catalogues brought up to date.

    python -m tests.catalogues       # after a text was added or changed
    python -m tests.catalogues nl    # begins a catalogue for another language

A text that is no longer there goes; a new one stands there with nothing beside it.
"""

from __future__ import annotations

import io
import sys
from pathlib import Path

from babel.messages import Catalog
from babel.messages.extract import DEFAULT_KEYWORDS, extract
from babel.messages.pofile import read_po, write_po

PACK = Path(__file__).resolve().parents[1] / "mailmerge" / "proofs" / "pack"
LOCALE = PACK / "locale"
METHODS = {".py": "python", ".html": "jinja2.ext:babel_extract"}
OPTIONS = {"trimmed": "true", "silent": "false", "newstyle_gettext": "true"}


def extracted() -> Catalog:
    """Return a catalogue of all texts that the pack's files hold, without translations."""
    found = Catalog(fuzzy=False)
    for path in sorted(PACK.iterdir()):
        if method := METHODS.get(path.suffix):
            texts = extract(
                method, io.BytesIO(path.read_bytes()), DEFAULT_KEYWORDS, ["Translators:"], OPTIONS
            )  # fmt: skip
            for _, message, comments, context in texts:
                found.add(message, None, [(path.name, None)], auto_comments=comments,
                          context=context)  # fmt: skip
    return found


def po_of(language: str) -> Path:
    return LOCALE / language / "LC_MESSAGES" / "pack.po"


def catalogue(language: str) -> Catalog:
    """Return the catalogue of a language as it stands in its file; empty, if there is none."""
    path = po_of(language)
    if not path.exists():
        return Catalog(language, fuzzy=False)
    with path.open("rb") as data:
        return read_po(data, language)


def text_of(own: Catalog) -> bytes:
    """Return a catalogue as its file, without the time that it was made at."""
    data = io.BytesIO()
    write_po(data, own, width=99, omit_header=True, ignore_obsolete=True, include_lineno=False)
    language = f'"Language: {own.locale}\\n"\n"Plural-Forms: {own.plural_forms}\\n"\n'
    head = 'msgid ""\nmsgstr ""\n"Content-Type: text/plain; charset=utf-8\\n"\n'
    return f"{head}{language if own.locale else ''}\n".encode() + data.getvalue()


def updated(language: str, wanted: Catalog) -> Catalog:
    """Return the catalogue of a language with exactly these texts, translated as far as it is."""
    was, own = catalogue(language), Catalog(language, fuzzy=False)
    for message in wanted:
        if message.id:
            before = was.get(message.id, message.context)
            own.add(message.id, before.string if before else None, message.locations,
                    auto_comments=message.auto_comments, context=message.context)  # fmt: skip
    return own


def main(more: list[str]) -> None:
    wanted = extracted()
    LOCALE.mkdir(exist_ok=True)
    (LOCALE / "pack.pot").write_bytes(text_of(wanted))
    for language in sorted({*more, *(each.name for each in LOCALE.iterdir() if each.is_dir())}):
        po_of(language).parent.mkdir(parents=True, exist_ok=True)
        po_of(language).write_bytes(text_of(updated(language, wanted)))


if __name__ == "__main__":
    main(sys.argv[1:])
