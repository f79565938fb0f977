"""Answers as a text out of a message, whatever a mail program has done to it on its way.

Several readings are tried. One whose check code agrees is what was sent, but for blanks and quotes;
one whose second code agrees as well is exact.
"""

from __future__ import annotations

import quopri
import re
import unicodedata
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import pairwise
from typing import Any

from mailmerge.answers import words
from mailmerge.answers.courtesies import is_plain_name, says_all_is_right, says_more
from mailmerge.answers.mails import out_of_html, without_own_words, without_quotes
from mailmerge.answers.said import (
    ID,
    MAX_BYTES,
    Answers,
    Said,
    Unclear,
    check_of,
    check_shown,
    cleaned,
    cleaned_answers,
    first_check_of,
    latest,
    spaced,
    squashed,
)
from mailmerge.files import too_large
from mailmerge.findings import InputError
from mailmerge.ledger.ledger import Ledger

_START = re.compile(rf"Answers\s+to\s+proof\s+pack\s+({ID})")
_PAGE = re.compile(rf"Page\s+({ID}),\s+saving\s+(\d{{1,6}})")
_RIGHT = re.compile(r"Right\s*:(.*)", re.S)
_CHANGE = re.compile(r"Change\s+(\d{1,9})\s*(?:,\s*([^:]{1,80}?)\s*)?:(.*)", re.S)
_FROM = re.compile(r"From\s*:(.*)", re.S)
_WRITTEN = re.compile(r"Written\s*:?\s*(\S*)")
_END = re.compile(
    r"End\s+of\s+answers\.(.{0,80}?)Check[\s*]+([0-9a-f]{8})(?:[\s*>|]+([0-9a-f]{8})\b)?",
    re.S | re.I,
)

_HEAD = (
    rf"(?:Page\s+{ID}|Right\s*:|Change\s+\d|From\s*:|Written\b|End\s+of\s+answers\b)"  # of a part
)
_HEADS = (
    re.compile(rf"^{_HEAD}", re.M),
    re.compile(rf"(?<!\S){_HEAD}"),  # where a program has joined the lines
)
_BEFORE_A_LINE = (
    re.compile(r"^[\s>|]+"),
    re.compile(r"^[\s>|*]+"),
    re.compile(r"^[\s>|*•·‣◦▪●–—-]+|\*+"),
)
"""What programs put before a line that they quote, or make a list's."""
_QUOTING = re.compile(r"[\s>|*•·‣◦▪●–—-]*")


def read_message(
    ledger: Ledger, where: str, text: str, own: Sequence[str] = (), people: Sequence[str] = ()
) -> Answers:
    """Read a message: the page's text, with more around it, or words alone.

    Words without answers are a question about every cup: nobody but the maker can tell which one
    they mean.

    Parameters
    ----------
    own
        The maker's own addresses: what a message quotes of theirs is known.
    people
        Who it is from and to, where that is known.

    Raises
    ------
    InputError
        It says nothing, or :func:`read_text` refuses it.
    """
    text = theirs(text, own)
    said = " ".join(text.split())
    if holds_answers(text) or len(text) > MAX_BYTES or not any(map(str.isalnum, said)):
        return read_text(ledger, where, text, people)
    return of_words(ledger, words.WITHOUT_ANSWERS, said)


def of_words(ledger: Ledger, place: str, said: str) -> Answers:
    """Return words alone as a question about every cup.

    One that exists or is gone waits for nothing; but it may have to be made once more.
    """
    items = tuple(record.number for record in ledger.records())
    pack, _ = ledger.newest_pack()
    unclear = Unclear(items, place, said)
    return Answers("text", "", "", (), pack, beside=said, unclear=(unclear,))


def theirs(text: str, own: Sequence[str]) -> str:
    """Return a message without what it quotes of ours, unless the answers stand there alone."""
    shorter = without_own_words(text, own)
    return shorter if holds_answers(shorter) or not holds_answers(text) else text


def holds_answers(text: str) -> bool:
    """Whether a text seems to hold the one that the page makes."""
    return any(map(_START.search, _versions(text)))


def read_text(ledger: Ledger, where: str, text: str, people: Sequence[str] = ()) -> Answers:
    """Read the text that the page makes for a message, as it arrives.

    It may be quoted, wrapped, joined, encoded, and have more text around it. What stands there
    beside greetings and signatures becomes a question about everything that is answered.

    Raises
    ------
    InputError
        It is not there, not whole, was edited, belongs to another order, or there are several.
    """
    if len(text) > MAX_BYTES:
        raise InputError(too_large(where, MAX_BYTES))
    versions = list(dict.fromkeys(_versions(text)))
    if not any(map(_START.search, versions)):
        raise InputError(words.no_answers_in_text(where))
    refusals: list[_NotWhole] = []
    readings: list[Answers] = []
    for version in versions:
        try:
            readings.append(_read(ledger, where, version, people))
        except _NotWhole as refusal:
            refusals.append(refusal)
            continue
        if readings[-1].is_exact:
            return readings[-1]
    if readings:
        return _in_words(readings[0])
    raise next((each for each in refusals if each.is_of_a_pack), refusals[0])


def _in_words(answers: Answers) -> Answers:
    """Return answers that are not exact: their new texts are words like others."""
    said = [
        replace(s, words=" / ".join(filter(None, (s.words, *(s.texts or {}).values()))), texts={})
        for s in answers.said
    ]
    return replace(answers, said=tuple(said))


class _NotWhole(InputError):
    """A reading that does not agree with its check code, or with the pack that it names."""

    def __init__(self, message: str, is_of_a_pack: bool = False) -> None:
        super().__init__(message)
        self.is_of_a_pack = is_of_a_pack


def _versions(text: str) -> Iterator[str]:
    """Yield what the text may have been before programs have encoded, quoted and listed it."""
    encoded = [text]
    if re.search(r"=\r?\n|=[0-9A-F]{2}", text):
        encoded.append(_out_of_quoted_printable(text))
    if re.search(r"<\w[^>]*>|&#?\w+;", text):
        encoded += map(out_of_html, tuple(encoded))
    # Joiners are part of some spellings; soft hyphens and the like are not.
    seen = ["".join(c for c in each if unicodedata.category(c) != "Cf") for each in encoded]
    for each in (*encoded, *seen):
        for before in _BEFORE_A_LINE:
            version = "\n".join(before.sub("", row).strip() for row in each.splitlines())
            yield version
            yield re.sub(r"(?<=\w-)\n", "", version)  # broken after a hyphen of its own


def _out_of_quoted_printable(text: str) -> str:
    """Return what a text was in RFC 2045, section 6.7."""
    data = quopri.decodestring(text.encode("utf-8", "surrogatepass"))
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError:
        return data.decode("cp1252", "replace")


def _read(ledger: Ledger, where: str, text: str, people: Sequence[str]) -> Answers:
    starts = [match.start() for match in _START.finditer(text)]
    if not starts:
        raise _NotWhole(words.text_not_whole(where))
    found: list[Answers] = []
    within: list[str] = []
    above, below = text[: starts[0]], ""
    for start, end in pairwise([*starts, len(text)]):
        answers, after = _block(ledger, where, text[start:end])
        found.append(replace(answers, beside=""))
        within += [row for row in _lines(answers.beside) if not _QUOTING.fullmatch(row)]
        above, below = f"{above}\n{below}", text[start + after : end]
    last = latest(found)
    if len({check_of(each, squashed) for each in last}) > 1:
        raise InputError(words.several_texts(where, len(found)))
    answers = next((each for each in last if each.is_exact), last[0])
    for name in dict.fromkeys(each.said_by for each in found):
        answers = with_words_for_a_name(ledger, answers, words.IN_PLACE_OF_A_NAME, name)
    if within:
        answers = _asking(ledger, answers, words.BETWEEN_THE_LINES, " / ".join(within))
    answers = with_what_is_beside(ledger, answers, above, below, people)
    beside = " / ".join(filter(None, (*within, answers.beside)))
    return replace(answers, beside=beside)


def with_words_for_a_name(ledger: Ledger, answers: Answers, place: str, name: str) -> Answers:
    """Return answers with what stands in the place of a name, as a question where it is none."""
    if not name.strip() or is_plain_name(name):
        return answers
    return _asking(ledger, answers, place, cleaned(name))


def _block(ledger: Ledger, where: str, text: str) -> tuple[Answers, int]:
    """Read one text, from its first line on; return where it ends as well.

    What somebody has written between its lines is beside the answers, a line each.
    """
    refusal = _NotWhole(words.text_not_whole(where))
    end = _END.search(text)
    if end is None:
        raise refusal
    readings: list[Answers] = []
    for heads in _HEADS:
        try:
            readings.append(_answers_in(ledger, where, text[: end.end()], heads, refusal))
        except _NotWhole as error:
            refusal = error
    if not readings:
        raise refusal
    answers = next((each for each in readings if each.is_exact), readings[0])
    check_shown(ledger, where, answers)
    return cleaned_answers(answers), end.end()


def _answers_in(
    ledger: Ledger, where: str, text: str, heads: re.Pattern[str], refusal: _NotWhole
) -> Answers:
    """Return the answers of a text whose parts begin with heads, and whose check code agrees.

    The parts are all of the text. What a part holds beside its head and its value is beside the
    answers, and so is a part that is none after all.
    """
    started = _START.match(text)
    assert started is not None
    pack = started[1]
    seen = ledger.shown_in(pack)
    if not seen:
        raise _NotWhole(words.unknown_pack(where, pack), is_of_a_pack=True)
    cuts = [match.start() for match in heads.finditer(text, started.end())]
    first, *parts = [" ".join(text[a:b].split()) for a, b in pairwise([started.end(), *cuts, None])]
    end = _END.fullmatch(parts[-1]) if parts else None
    if end is None:
        raise refusal
    read = _Parts(seen, refusal)
    beside = [first, *map(read.rest_of, parts[:-1]), end[1]]
    said = tuple(read.verdicts[number] for number in sorted(read.verdicts))
    answers = replace(read.answers, pack=pack, said=said, beside="\n".join(beside))
    if not answers.page:  # a text of the first version, as pages of packs without their list write
        if ledger.list_sent(pack) or first_check_of(answers) != end[2].lower():
            raise refusal
        return replace(answers, is_exact=False)
    if check_of(answers, squashed) != end[2].lower():
        raise refusal
    return replace(answers, is_exact=check_of(answers, spaced) == (end[3] or "").lower())


class _Parts:
    """What the parts of a text say, each part read once and whole."""

    def __init__(self, seen: Mapping[int, str], refusal: _NotWhole) -> None:
        self._seen = seen
        self._refusal = refusal
        self.verdicts: dict[int, Said] = {}
        self.answers = Answers("text", "", "", (), "")

    def rest_of(self, part: str) -> str:
        """Take in what a part says; return what in it is neither its head nor its value.

        Raises
        ------
        InputError
            It says what an earlier part has said.
        """
        if match := _RIGHT.fullmatch(part):
            self._right(match[1])
        elif match := _CHANGE.fullmatch(part):
            self._change(int(match[1]), match[2], match[3].strip())
        elif match := _FROM.fullmatch(part):
            self._fact(said_by=match[1])
        elif match := _WRITTEN.match(part):
            self._fact(said_at=match[1])
        elif match := _PAGE.match(part):
            self._fact(page=match[1], saving=int(match[2]))
        else:
            return part
        return part[match.end() :]

    def _right(self, numbers: str) -> None:
        for number in _numbers(numbers, self._refusal):
            if number in self.verdicts:
                raise self._refusal
            self.verdicts[number] = Said(number, self._seen.get(number, ""), "yes")

    def _change(self, number: int, field: str | None, remark: str) -> None:
        """Take in a remark, or a new text, as it came: what the check code was made of."""
        before = self.verdicts.get(number)
        texts = dict((before and before.texts) or {})
        if before and (before.verdict == "yes" or not field or field in texts):
            raise self._refusal
        if field:
            texts[field] = remark
        said = (before.words if before else "") if field else remark
        self.verdicts[number] = Said(number, self._seen.get(number, ""), "change", said, texts)

    def _fact(self, **facts: Any) -> None:
        if any(getattr(self.answers, name) for name in facts):
            raise self._refusal
        self.answers = replace(self.answers, **facts)


_MOST_NUMBERS = 20_000
"""Cups that one part of a text names; as many answers as a file may hold."""


def _numbers(text: str, wrong: InputError) -> list[int]:
    numbers: list[int] = []
    for part in filter(None, re.split(r"[,;\s]+", text.strip(" ."))):
        match = re.fullmatch(r"(\d{1,9})(?:[-–](\d{1,9}))?", part)
        if match is None:
            raise wrong
        low, high = int(match[1]), int(match[2] or match[1])
        if not low <= high < low + _MOST_NUMBERS:
            raise wrong
        numbers += range(low, high + 1)
        if len(numbers) > _MOST_NUMBERS:
            raise wrong
    return numbers


def with_what_is_beside(
    ledger: Ledger, answers: Answers, above: str, below: str, people: Sequence[str] = ()
) -> Answers:
    """Return answers with what stands around them, as a question where it says more.

    What a program quotes below them without a sign before its lines is not said now; but somebody
    may have written between those lines, so that it is a question of its own. Who sends them, who
    is asked and people beside may sign and be greeted.
    """
    known = (answers.said_by, *ledger.asked.people, *people)
    said, quoted = without_quotes(below)
    own, others = _lines(f"{above}\n{said}"), _lines(quoted)
    texts = [text for each in ledger.texts_in(answers.pack).values() for text in each.values()]
    beside = " / ".join(own)
    found = replace(answers, beside=" / ".join((*own, *others)))
    shown = ledger.shown_in(answers.pack)
    is_all_right = {s.item for s in answers.said if s.verdict == "yes"} == shown.keys()
    if says_more(own, known, texts, is_all_right):
        about = shown if any(map(says_all_is_right, own)) else None
        found = _asking(ledger, found, words.BESIDE_THE_ANSWERS, beside, about)
    if says_more(others, known, texts):
        found = _asking(ledger, found, words.QUOTED, " / ".join(others))
    return found


def _lines(text: str) -> list[str]:
    return [row for row in map(cleaned, text.splitlines()) if row]


def _asking(
    ledger: Ledger,
    answers: Answers,
    place: str,
    said: str,
    items: Iterable[int] | None = None,
) -> Answers:
    """Return answers with a question about all the cups that they are about, or others."""
    about = items or [each.item for each in answers.said] or ledger.shown_in(answers.pack)
    unclear = Unclear(tuple(about), place, said)
    return replace(answers, unclear=(*answers.unclear, unclear))
