"""A mail as a file (RFC 5322, MIME): its words, and what is attached to it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from email import message_from_bytes, policy
from email.message import EmailMessage, MIMEPart
from email.utils import getaddresses
from html.parser import HTMLParser
from pathlib import PurePosixPath

from mailmerge.answers import words
from mailmerge.answers.courtesies import is_plain_name
from mailmerge.findings import InputError

_HEAD = re.compile(rb"\s*(?:[!-9;-~]+:[^\n]*\n(?:[ \t][^\n]*\n)*){2,}\s*\n")
_OF_A_MAIL = re.compile(
    rb"^(?:MIME-Version|Received|Return-Path|Message-ID|Content-Transfer-Encoding):", re.I | re.M
)
_CARDS = ("text/vcard", "text/x-vcard", "text/directory")
_SIGNATURES = {
    "application/pkcs7-signature": re.compile(rb"0[\x80-\x84].*", re.S),  # BER, a sequence
    "application/x-pkcs7-signature": re.compile(rb"0[\x80-\x84].*", re.S),
    "application/pgp-signature": re.compile(  # base64 of a packet of kind 2
        rb"\s*-----BEGIN PGP SIGNATURE-----\r?\n(?:Version: [^\n]*\n)?\s*"
        rb"[iw][A-Za-z0-9+/=]{19,}\r?\n(?:[A-Za-z0-9+/=]+\r?\n)*-----END PGP SIGNATURE-----\s*"
    ),
}
"""Attachments that only tell who has written (RFC 8551, 3.5; RFC 9580, 6.2), and how they look."""

_USUAL_NAMES = frozenset(
    ("", "smime", "signature", "openpgp_signature", "openpgp_digital_signature", "sig", "contact")
)
"""What signatures and cards are called by programs. From memory."""

_FULL_NAME = re.compile(r"(?im)^(?:[\w-]+\.)?FN\b[^:\n]*:(.*)$")

_NOTE = re.compile(r"(?im)^(?:[\w-]+\.)?NOTE\b[^:\n]*:(.*)$")
"""What somebody has written on a card about themselves, or to whoever gets it (RFC 6350, 6.7.2)."""

_SHOWN_LINK = re.compile(r"<(?:https?|mailto):[^<>]*>|\[(?:image|cid):[^\[\]]*\]")
"""What programs write of a link or a picture in the plain part."""


@dataclass(frozen=True)
class Attached:
    """A file that came with a mail."""

    name: str
    data: bytes


@dataclass(frozen=True)
class Mail:
    """What a mail says and brings."""

    subject: str
    text: str
    attached: tuple[Attached, ...]
    struck: str = ""
    """What is struck out in it, as HTML shows it; no word of the text."""
    people: tuple[str, ...] = ()
    """The names of whom it is from and to."""


def is_mail(name: str, data: bytes) -> bool:
    """Whether a file is a mail, by its name or by the lines that it begins with."""
    head = _HEAD.match(data)
    return name.lower().endswith(".eml") or bool(head and _OF_A_MAIL.search(head[0]))


def mail_in(where: str, data: bytes) -> Mail:
    """Read a mail, and the mails that are attached to it.

    Raises
    ------
    InputError
        It is damaged.
    """
    try:
        return _mail_in(data)
    except (ValueError, LookupError, TypeError, AttributeError, RecursionError):
        raise InputError(words.mail_damaged(where)) from None


def _mail_in(data: bytes) -> Mail:
    # What stands above its first line is none of it.
    message = message_from_bytes(data.lstrip(), policy=policy.default)
    assert isinstance(message, EmailMessage)
    texts: list[str] = []
    struck: list[str] = []
    attached: list[Attached] = []
    for one in _mails(message):
        body = one.get_body(("plain", "html"))
        shown = one.get_body(("html",))
        if shown is not None and _read(shown).struck:
            body = shown  # words alone do not tell what is struck out
        if body is not None:
            read = _read(body)
            texts.append(read.text)
            struck += read.struck
        parts: list[MIMEPart] = []
        if one.is_multipart():
            parts += one.iter_attachments()
        elif not body:
            parts.append(one)
        beside = [part for part in _leaves(one) if part is not body and not _is_in(part, parts)]
        for part in beside:
            if part.is_attachment():
                parts.append(part)
            elif part.get_content_maintype() == "text":
                read = _read(part)
                texts += _said_besides(read.text, [*texts, "\n".join(struck)])
                struck += read.struck
        for part in parts:
            kind = part.get_content_type()
            if kind in _CARDS:
                unfolded = re.sub(r"\r?\n[ \t]", "", _decoded(part))
                texts += [note.strip() for note in _NOTE.findall(unfolded)]
                names = [*_FULL_NAME.findall(unfolded), _stem_of(part)]
                texts += [name for name in map(str.strip, names) if not _is_a_name(name)]
            elif kind != "message/rfc822" and not _is_signature(part):
                name = PurePosixPath((part.get_filename() or kind).replace("\\", "/")).name
                attached.append(Attached(name, _bytes_of(part)))
    texts += [str(told) for name in ("Comments", "Keywords") for told in message.get_all(name, [])]
    subject = str(message.get("Subject", ""))
    said, out = "\n".join(texts), "\n".join(struck)
    return Mail(subject, said, tuple(attached), out, (*_people_of(message),))


def _people_of(message: EmailMessage) -> Iterator[str]:
    """Yield the names of whom a mail is from and to; what is no name is none of anybody."""
    heads = (str(head) for key in ("From", "To", "Cc") for head in message.get_all(key, []))
    for name, _ in getaddresses([*heads]):
        if is_plain_name(name):
            yield name


_NO_MARKUP = re.compile(
    r"<(?!!|\?xml|/?(?:a|abbr|article|b|big|blockquote|body|br|center|code|col|colgroup|dd|del|div|dl|dt"
    r"|em|font|footer|h[1-6]|head|header|hr|html|i|img|ins|li|link|main|meta|o:p|ol|p|pre|s|section"
    r"|small|span|strike|strong|style|sub|sup|table|tbody|td|tfoot|th|thead|title|tr|tt|u|ul|wbr)"
    r"(?:\s+[\w:-]+\s*=\s*(?:\"[^\"]*\"|'[^']*'|[^\s\"'<>]+))*\s*/?>)"
)
"""A sign that begins no element of those that mails are made of: somebody has written it."""


def out_of_html(text: str) -> str:
    """Return the words of what may be HTML; what is struck out stands below them.

    What only looks like an element is words as well.
    """
    read = _Words.of(_NO_MARKUP.sub("&lt;", text))
    return "\n".join((read.text, *read.struck))


_STRUCK = frozenset(("s", "strike", "del"))
_STRIKES = re.compile(r"text-decoration(?:-line)?\s*:[^;{}]{0,80}line-through", re.IGNORECASE)
_CLASS_THAT_STRIKES = re.compile(
    rf"\.([\w-]+)[^{{}}.]*\{{[^{{}}]*{_STRIKES.pattern}", re.IGNORECASE
)
_ENDS_A_LINE = frozenset(("p", "div", "li", "tr", "pre", *(f"h{n}" for n in range(1, 7))))
_EMPTY = frozenset(
    ("area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "wbr")
)
"""Elements without an end (HTML, 13.1.2)."""


class _Words(HTMLParser):
    """The words of a text in HTML, each paragraph on lines of its own, and what is struck out.

    Words that stand for a picture are on a line of their own; a sign, as of a smile, is not.
    """

    def __init__(self, striking: frozenset[str]) -> None:
        super().__init__()
        self._striking = striking
        self._open: list[tuple[str, bool]] = []
        self._words: dict[bool, list[str]] = {False: [], True: []}

    @classmethod
    def of(cls, text: str) -> _Words:
        """Read a text."""
        seen = re.sub(r"(?s)<!--.*?-->|<!\[[^<>]*>", "", text)
        read = cls(frozenset(found[1] for found in _CLASS_THAT_STRIKES.finditer(seen)))
        read.feed(re.sub(r"(?is)<(style|script|title)\b.*?</\1\s*>", "", seen))
        read.close()
        return read

    @property
    def text(self) -> str:
        """What is said."""
        return "".join(self._words[False])

    @property
    def struck(self) -> list[str]:
        """What is struck out: nothing, or one text."""
        struck = "".join(self._words[True])
        return [struck] if struck.strip() else []

    def handle_starttag(self, tag: str, attrs: Sequence[tuple[str, str | None]]) -> None:
        """Open an element."""
        of = {name: value or "" for name, value in attrs}
        is_struck = (
            tag in _STRUCK
            or _STRIKES.search(of.get("style", "")) is not None
            or not self._striking.isdisjoint(of.get("class", "").split())
        )
        if tag == "br":
            self._end_line()
        if tag == "img" and (told := of.get("alt", "")):
            self.handle_data(f"\n{told}\n" if any(map(str.isalnum, told)) else told)
        if tag not in _EMPTY:
            self._open.append((tag, is_struck or self._is_struck))

    def handle_endtag(self, tag: str) -> None:
        """Close an element, with all in it that are still open."""
        at = next((n for n in reversed(range(len(self._open))) if self._open[n][0] == tag), None)
        if at is not None:
            del self._open[at:]
        if tag in _ENDS_A_LINE or tag == "br":
            self._end_line()

    def handle_data(self, data: str) -> None:
        """Keep words."""
        self._words[self._is_struck].append(data)

    @property
    def _is_struck(self) -> bool:
        return bool(self._open) and self._open[-1][1]

    def _end_line(self) -> None:
        for each in self._words.values():
            each.append("\n")


def _mails(message: EmailMessage) -> Iterator[EmailMessage]:
    """Yield a mail, and those that are forwarded in it as attachments."""
    yield message
    for part in message.walk():
        if part.get_content_type() == "message/rfc822":
            for inner in part.get_payload():
                if isinstance(inner, EmailMessage):
                    yield inner


def _leaves(part: MIMEPart) -> Iterator[MIMEPart]:
    """Yield the parts of one mail that hold something, without the mails attached to it."""
    if not part.is_multipart():
        yield part
    elif part.get_content_type() != "message/rfc822":
        for each in part.iter_parts():
            yield from _leaves(each)


def _is_in(part: MIMEPart, parts: Sequence[MIMEPart]) -> bool:
    return any(part is each for whole in parts for each in whole.walk())


def _said_besides(text: str, said: Sequence[str]) -> list[str]:
    """Return the lines of a part that no other one says: alternatives should say the same."""
    whole = "\n".join(said)
    known = [_spoken(each) for each in (whole, _SHOWN_LINK.sub("", whole))]
    return [line for line in text.splitlines() if not any(_spoken(line) in each for each in known)]


def _spoken(text: str) -> str:
    """Return the words of a text with a blank around each; its other signs where it has none."""
    words = re.findall(r"[^\W_]+", text.casefold()) or text.split()
    return f" {' '.join(words)} " if words else " "


def _stem_of(part: MIMEPart) -> str:
    return PurePosixPath((part.get_filename() or "").replace("\\", "/")).stem


def _is_a_name(text: str) -> bool:
    """Whether a card, or its file, is called as somebody is, or as programs call it."""
    spaced = re.sub(r"[_.-]", " ", text)
    return text.casefold() in _USUAL_NAMES or is_plain_name(spaced.title())


def _is_signature(part: MIMEPart) -> bool:
    """Whether a part is a signature, and called as one."""
    looks = _SIGNATURES.get(part.get_content_type())
    is_one = looks is not None and looks.fullmatch(_bytes_of(part)) is not None
    return is_one and _stem_of(part).casefold() in _USUAL_NAMES


def _bytes_of(part: MIMEPart) -> bytes:
    data = part.get_payload(decode=True)
    return data if isinstance(data, bytes) else b""


@dataclass(frozen=True)
class _Read:
    text: str
    struck: list[str]


def _read(part: MIMEPart) -> _Read:
    text = _decoded(part)
    if part.get_content_subtype() != "html":
        return _Read(text, [])
    words = _Words.of(text)
    return _Read(words.text, words.struck)


def _decoded(part: MIMEPart) -> str:
    data = _bytes_of(part)
    for charset in (part.get_content_charset() or "utf-8", "utf-8"):
        try:
            return data.decode(charset)
        except (LookupError, UnicodeDecodeError):
            continue
    return data.decode("cp1252", "replace")


_FROM_WORD = r"(?:from|von|de|od|oddi wrth|من)"
_OTHER_WORD = (
    r"(?:sent|date|to|cc|subject|gesendet|datum|an|betreff|envoyé|date|à|objet|enviado(?: el)?|"
    r"fecha|para|asunto|wysłano|data|do|dw|temat|anfonwyd|dyddiad|at|pwnc|"
    r"تاريخ|التاريخ|إلى|الموضوع)"
)
_OF_A_HEAD = re.compile(rf"\W*{_OTHER_WORD}\W*:.+", re.IGNORECASE)
_HEAD_OF_A_QUOTE = re.compile(rf"\W*{_FROM_WORD}\W*:.+", re.IGNORECASE)
_RULE_OF_A_QUOTE = re.compile(
    r"\s*-{2,}\s*(?:original message|ursprüngliche nachricht|originalnachricht|message d.origine|"
    r"mensaje original|wiadomość oryginalna|neges wreiddiol|الرسالة الأصلية)\s*-{2,}\s*",
    re.IGNORECASE,
)
"""What programs write above a mail that they quote whole. From memory."""


def without_quotes(text: str) -> tuple[str, str]:
    """Return what a message says itself, and what it quotes whole below that, without signs.

    Such a quote begins with a rule that names it, or with the head of the earlier mail: from whom,
    and at least two lines more of when, to whom and about what.
    """
    lines = text.splitlines()
    at = next((at for at in range(len(lines)) if _begins_quote(lines, at)), len(lines))
    return "\n".join(lines[:at]), "\n".join(lines[at:])


def _begins_quote(lines: Sequence[str], at: int) -> bool:
    if _RULE_OF_A_QUOTE.fullmatch(lines[at]):
        return True
    near = [line for line in lines[at + 1 : at + 8] if line.strip()][:3]
    more = sum(_OF_A_HEAD.fullmatch(line) is not None for line in near)
    return _HEAD_OF_A_QUOTE.fullmatch(lines[at]) is not None and more >= 2


def without_own_words(text: str, own: Sequence[str]) -> str:
    """Return a message without the lines that it quotes out of mails of ours.

    Programs put > before each of them, below a line that says whose they are. What somebody writes
    between them has no such sign, and stays.

    Parameters
    ----------
    own
        Our addresses.
    """
    kept: list[str] = []
    is_ours = False
    for line in text.splitlines():
        if line.startswith(">"):
            if not is_ours:
                kept.append(line)
            continue
        if line.strip():
            named = " ".join([*kept[-1:], line]) if kept and kept[-1].strip() else line
            is_ours = line.rstrip().endswith(":") and any(
                each.casefold() in named.casefold() for each in own
            )
            if is_ours and named != line and not any(e.casefold() in line.casefold() for e in own):
                kept[-1:] = []  # a program has broken the line that says whose they are
                line = named
        kept.append(line)
    return "\n".join(kept)
