"""What comes back from a proof pack, read and found sound; nothing is put on record here.

It comes as the file that the pack's page saves, as the text that it makes for a message, or as the
list with its column filled in. All three become :class:`Answers`, as a whole or not at all. An
answer belongs to the seal that its giver saw.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path, PurePath
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from mailmerge.answers import words
from mailmerge.answers.courtesies import (
    asks_in_its_name,
    is_usual_file_name,
    is_usual_subject,
)
from mailmerge.answers.lists import read_list
from mailmerge.answers.mails import Attached, is_mail, mail_in
from mailmerge.answers.messages import (
    holds_answers,
    of_words,
    read_message,
    read_text,
    theirs,
    with_what_is_beside,
    with_words_for_a_name,
)
from mailmerge.answers.said import (
    ID,
    MAX_BYTES,
    Answers,
    Said,
    check_of,
    check_shown,
    cleaned,
    cleaned_answers,
    latest,
    squashed,
)
from mailmerge.files import lent, read_file
from mailmerge.findings import InputError
from mailmerge.guests.names import slug
from mailmerge.ledger.ledger import Ledger
from mailmerge.reading import apart

__all__ = [
    "MAX_BYTES",
    "Answers",
    "Said",
    "check_of",
    "read_answers",
    "read_pasted",
    "read_text",
]

VERSION = 2
"""Of the answers files that the page writes. The first version had no page, saving and check."""

_Words = Annotated[str, Field(max_length=4000)]
_Text = Annotated[str, Field(max_length=300)]
"""As they came: the check code was made before anything was cleaned."""


class _FileAnswer(BaseModel):
    model_config = ConfigDict(extra="forbid", strict=True)
    item: Annotated[int, Field(ge=1, le=10**9)]
    seal: Annotated[str, Field(max_length=40)]
    answer: Literal["yes", "change"]
    words: _Words = ""
    texts: dict[Annotated[str, Field(max_length=80)], _Text] = Field(default_factory=dict)


class _FirstFile(BaseModel):
    """An answers file of the first version."""

    model_config = ConfigDict(extra="forbid", strict=True)
    kind: Literal["answers to a proof pack"]
    version: int
    order: Annotated[str, Field(max_length=40)]
    pack: Annotated[str, Field(max_length=40)]
    by: _Text = ""
    at: Annotated[str, Field(max_length=40)] = ""
    answers: Annotated[list[_FileAnswer], Field(max_length=20_000)]

    def as_it_came(self) -> Answers:
        """Return its answers before they are cleaned."""
        said = tuple(Said(a.item, a.seal, a.answer, a.words, a.texts) for a in self.answers)
        return Answers("file", self.by, self.at, said, self.pack)


class _File(_FirstFile):
    """An answers file of the present version."""

    page: Annotated[str, Field(pattern=rf"^{ID}$")]
    saving: Annotated[int, Field(ge=1, le=10**6)]
    check: Annotated[str, Field(pattern=r"^[0-9a-f]{8}$")]

    def as_it_came(self) -> Answers:
        """Return its answers before they are cleaned."""
        return replace(super().as_it_came(), page=self.page, saving=self.saving)


def read_answers(ledger: Ledger, path: Path, own: Sequence[str] = ()) -> Answers:
    """Read a file that came back: the page's own, a text, the list as a workbook, or a mail.

    Parameters
    ----------
    own
        The maker's own addresses: what a mail quotes of theirs is known.

    Raises
    ------
    InputError
        It is none of them, damaged, of another order, or it was edited.
    """
    data = read_file(path, MAX_BYTES)
    if is_mail(path.name, data) and not _is_list(path):
        return read_mail(ledger, str(path), data, own)
    answers = _of_data(ledger, path, data)
    title = ledger.fact("title") or ""
    if not asks_in_its_name(path.stem, f"{title} {slug(title, '')}"):
        return answers
    (asked,) = of_words(ledger, words.NAME_OF_THE_FILE, cleaned(path.stem)).unclear
    return replace(answers, unclear=(*answers.unclear, asked))


def _is_list(path: Path) -> bool:
    return path.suffix.lower() in (".xlsx", ".xlsm", ".ods", ".csv", ".tsv")


def _of_data(ledger: Ledger, path: Path, data: bytes) -> Answers:
    """Read the page's own file, a text, or a list.

    Raises
    ------
    InputError
        It is none of them, or not sound.
    """
    if _is_list(path):
        return read_list(ledger, path)
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise InputError(words.no_answers_file(path)) from None
    if text.lstrip().startswith("{"):
        return _from_file(ledger, str(path), text)
    return read_text(ledger, str(path), text)


def read_pasted(ledger: Ledger, where: str, text: str, own: Sequence[str] = ()) -> Answers:
    """Read a text that came without a file: a mail, what the page's own file holds, or a message.

    Parameters
    ----------
    own
        The maker's own addresses: what a mail quotes of theirs is known.

    Raises
    ------
    InputError
        It says nothing, is damaged, of another order, or it was edited.
    """
    data = text.encode()
    if is_mail("", data):
        return read_mail(ledger, where, data, own)
    if (bare := text.lstrip("\ufeff \t\r\n")).startswith("{"):
        return _from_file(ledger, where, bare)
    return read_message(ledger, where, text, own)


def read_mail(ledger: Ledger, where: str, data: bytes, own: Sequence[str] = ()) -> Answers:
    """Read a mail: the answers in its text or attached to it, and all that it says beside them.

    What is attached and holds no answers is a question, as words are.

    Raises
    ------
    InputError
        It is damaged, says nothing, or holds answers that differ.
    """
    mail = apart(where, mail_in, where, data)
    found: list[Answers] = []
    unread: list[str] = []
    called: list[str] = []
    for each in mail.attached:
        try:
            found.append(_of_attached(ledger, each))
            called += [each.name] if _says_more_than_a_name(ledger, each.name, found[-1]) else []
        except InputError as error:
            said = _words_in(each)
            told = words.attached_words(each.name, said) if said else ""
            unread.append(told or words.attached_unread(each.name, error))
    if struck := " ".join(mail.struck.split()):
        unread.append(words.struck_out(struck))
    text = theirs(_without_pictures(ledger, mail.text), own)
    is_usual = is_usual_subject(mail.subject, ledger.fact("title") or "")
    text = text if is_usual else f"{mail.subject}\n{text}"
    if holds_answers(text) or not (found or unread):
        found.append(read_message(ledger, where, text, own, mail.people))
    elif found:
        found[0] = with_what_is_beside(ledger, found[0], "", text, mail.people)
    else:
        unread.insert(0, " ".join(text.split()))
    last = latest(found)
    if len({check_of(each, squashed) for each in last}) > 1:
        raise InputError(words.several_in_mail(where, len(found)))
    said = words.in_a_mail([each for each in unread if each])
    more = [of_words(ledger, words.IN_A_MAIL, said)] if said else []
    more += [of_words(ledger, words.NAME_OF_A_FILE, name) for name in called]
    unclear = [question for each in (*found, *more) for question in each.unclear]
    beside = " / ".join(filter(None, (each.beside for each in found)))
    return replace((*last, *more)[0], unclear=tuple(unclear), beside=beside)


def _without_pictures(ledger: Ledger, text: str) -> str:
    """Return a text without the names of our own pictures, which programs show in their place."""
    ours = {PurePath(name).name for name in json.loads(ledger.fact("pack files") or "[]")}
    return "\n".join(line for line in text.splitlines() if line.strip() not in ours)


def _says_more_than_a_name(ledger: Ledger, name: str, answers: Answers) -> bool:
    """Whether a file's name says more than which order and pack it is of, and who sends it."""
    of_order = ledger.fact("title") or ""
    known = (of_order, slug(of_order, ""), answers.said_by, answers.pack, answers.page)
    return not is_usual_file_name(cleaned(name), known)


def _of_attached(ledger: Ledger, attached: Attached) -> Answers:
    """Read what is attached to a mail as a file that came back.

    Raises
    ------
    InputError
        It holds no answers, or they are not sound.
    """
    with lent(f"attached{Path(attached.name).suffix.lower()}", attached.data) as path:
        try:
            return read_answers(ledger, path)
        except InputError as error:
            raise InputError(str(error).replace(str(path), attached.name)) from None


_WORDS_END_WITH = (".txt", ".text", ".md")


def _words_in(attached: Attached) -> str:
    """Return the words of an attached text, whole, as long as it is no more than a message is."""
    if Path(attached.name).suffix.lower() not in _WORDS_END_WITH or len(attached.data) > MAX_BYTES:
        return ""
    try:
        said = attached.data.decode("utf-8-sig")
    except UnicodeDecodeError:
        said = attached.data.decode("cp1252", "replace")
    return cleaned(said)


def _from_file(ledger: Ledger, where: str, text: str) -> Answers:
    data = _file_in(where, text)
    if data.order != ledger.order_id:
        raise InputError(words.other_order(where, data.order, ledger.order_id))
    for each in data.answers:
        if each.answer == "yes" and (each.words or each.texts):
            raise InputError(words.yes_and_change(where, each.item))
    answers = data.as_it_came()
    check_shown(ledger, where, answers)
    if isinstance(data, _File):
        is_sound = data.check == check_of(answers)
    else:  # pages of packs that keep their list write a check code
        is_sound = not ledger.list_sent(answers.pack)
    if not is_sound:
        raise InputError(words.file_was_changed(where))
    place = words.IN_PLACE_OF_A_FILES_NAME
    return cleaned_answers(with_words_for_a_name(ledger, answers, place, answers.said_by))


def _file_in(where: str, text: str) -> _FirstFile:
    """Return the answers file that a text holds, of whichever version it is."""

    def once(pairs: list[tuple[str, object]]) -> dict[str, object]:
        keys = [key for key, _ in pairs]
        if twice := next((key for at, key in enumerate(keys) if key in keys[:at]), None):
            raise InputError(words.key_twice(where, twice))
        return dict(pairs)

    try:
        data = json.loads(text, parse_constant=_refused_constant, object_pairs_hook=once)
    except (ValueError, RecursionError):
        raise InputError(words.not_whole(where)) from None
    version = data.get("version")
    if isinstance(version, int) and version not in (1, VERSION):
        raise InputError(words.other_version(where, version, VERSION))
    try:
        return (_FirstFile if version == 1 else _File).model_validate(data)
    except ValidationError as error:
        first = error.errors()[0]
        key = ".".join(map(str, first["loc"])) or "the whole"
        if first["type"] == "missing":
            raise InputError(words.value_missing(where, key)) from None
        raise InputError(words.wrong_value(where, key, str(first["input"]))) from None


def _refused_constant(found: str) -> None:
    raise ValueError(found)
