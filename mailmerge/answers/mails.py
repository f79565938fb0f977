"""A mail as a file (RFC 5322, MIME): its words, and what is attached to it."""

from __future__ import annotations

import html
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from email import message_from_bytes, policy
from email.message import EmailMessage, MIMEPart
from pathlib import PurePosixPath

from mailmerge.answers import words
from mailmerge.findings import InputError

_HEAD = re.compile(rb"\s*(?:[!-9;-~]+:[^\n]*\n(?:[ \t][^\n]*\n)*){2,}\s*\n")
_OF_A_MAIL = re.compile(
    rb"^(?:MIME-Version|Received|Return-Path|Message-ID|Content-Transfer-Encoding):", re.I | re.M
)
_CARDS = ("text/vcard", "text/x-vcard", "text/directory")
_SIGNATURES = ("application/pkcs7-signature", "application/pgp-signature", *_CARDS)
"""Attachments that only tell who has written."""

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
    attached: list[Attached] = []
    for one in _mails(message):
        body = one.get_body(("plain", "html"))
        if body is not None:
            texts.append(_text_of(body))
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
                texts += _said_besides(_text_of(part), texts)
        for part in parts:
            kind = part.get_content_type()
            if kind in _CARDS:
                unfolded = re.sub(r"\r?\n[ \t]", "", _decoded(part))
                texts += [note.strip() for note in _NOTE.findall(unfolded)]
            if kind != "message/rfc822" and kind not in _SIGNATURES:
                name = PurePosixPath((part.get_filename() or kind).replace("\\", "/")).name
                attached.append(Attached(name, _bytes_of(part)))
    texts += [str(told) for name in ("Comments", "Keywords") for told in message.get_all(name, [])]
    return Mail(str(message.get("Subject", "")), "\n".join(texts), tuple(attached))


def out_of_html(text: str) -> str:
    """Return the words of a text in HTML, each paragraph on lines of its own."""
    seen = re.sub(r"(?is)<(style|script|title)\b.*?</\1\s*>|<!--.*?-->", "", text)
    lines = re.sub(r"(?i)<br[^>]*>|</(?:p|div|li|tr|h\d|pre)>", "\n", seen)
    return html.unescape(re.sub(r"<[/!]?[a-zA-Z][^<>]*>", "", lines))


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


def _bytes_of(part: MIMEPart) -> bytes:
    data = part.get_payload(decode=True)
    return data if isinstance(data, bytes) else b""


def _text_of(part: MIMEPart) -> str:
    text = _decoded(part)
    return out_of_html(text) if part.get_content_subtype() == "html" else text


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
