"""What comes back from clients: the page's file, messages, mails and lists that were filled in."""

from __future__ import annotations

import json
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Any

from hypothesis import strategies as st

from mailmerge.answers.incoming import read_answers
from mailmerge.answers.said import Answers, Said, check_of
from mailmerge.answers.taking import take
from mailmerge.ledger.ledger import open_ledger

from . import base, packed
from .changes import changed, changes, tree_changed, tree_changes
from .rule import Reader

PAGE = "ABCD-2345"


@cache
def _sent() -> tuple[str, str, dict[int, str], dict[str, bytes]]:
    """Return what was sent: the order's and the pack's name, the seals and the list's parts."""
    with open_ledger(base.folder()) as ledger:
        pack, _ = ledger.newest_pack()
        list_ = packed.parts_of(ledger.list_sent(pack))
        return ledger.order_id, pack, ledger.shown_in(pack), list_


_KEYS = (
    "kind", "version", "order", "pack", "by", "at", "answers", "page", "saving", "check", "item",
    "seal", "answer", "words", "texts", "name", "role", "x",
)  # fmt: skip
_WORDS = (
    "yes", "change", "no", "", " ", "1", "all", "Anna Berg", "Bo", "Carla Ek", "ok!", "fine, but",
    "Anna Maria Berg", "1-3", "1-19999", "2, 3", "not 2", "#1", "1.", "item 1: yes", "\u0661",
    "2\u20133", "name: Bo Dal", "role: Oboe", "as it is", "thanks", "cancel 2", "x" * 500, "\0",
    "\u202eon", "'=1'", "9" * 400, "ja", "oui", "\u2714", "\U0001f44d", "> yes", "-- ", "and",
    "but",
    "Answers to proof pack", "End of answers.", "Check 0123abcd", "From:", "Change 2, name:",
    "yes to",
)  # fmt: skip

_json_values = st.one_of(
    st.sampled_from(_WORDS), st.integers(-2, 10**10), st.none(), st.booleans(), st.floats(),
    st.lists(st.integers(), max_size=2), st.dictionaries(st.sampled_from(_KEYS),
    st.text(max_size=3)),
    st.text(max_size=10),
)  # fmt: skip

_files = st.fixed_dictionaries({
    "file": tree_changes(_json_values, _KEYS),
    "checked": st.booleans(),
    "markup": st.one_of(st.just([]), st.just([]), changes((), 1)),
})  # fmt: skip

_line = st.lists(st.one_of(st.sampled_from(_WORDS), st.text(max_size=6)), max_size=6).map(" ".join)
_messages = st.fixed_dictionaries({
    "lines": st.lists(_line, max_size=8),
    "framed": st.booleans(),
    "end": st.sampled_from(("\n", "\r\n", "\u2028", "\n> ", "; ")),
})  # fmt: skip

_HEADERS = (
    "Content-Type: text/plain; charset=utf-8", "Content-Type: text/html; charset=x-none",
    "Content-Type: text/plain; charset=utf-7", "Content-Type: text/html",
    "Content-Type: multipart/mixed; boundary=a", "Content-Type: multipart/alternative; boundary=a",
    "Content-Type: message/rfc822", "Content-Type: multipart/mixed", "Content-Type: ;;;=",
    "Content-Transfer-Encoding: base64", "Content-Transfer-Encoding: quoted-printable",
    "Content-Transfer-Encoding: 8bit", "Content-Transfer-Encoding: x-uuencode",
    "Content-Disposition: attachment; filename=a.txt", "Content-Disposition: attachment; "
    "filename*=utf-8''%ff%00..%2fa.xlsx", "Content-Type: text/calendar",
    "From: =?x?q?=?= <a@b.example>",
    "Content-Type: application/ms-tnef", "Content-Type: text/plain; format=flowed; delsp=yes",
    "Subject: =?utf-8?b?////?=", "MIME-Version: 1.0", "Subject: Proof pack",
    'Content-Type: text/plain; charset="\0"', "X: " + "y" * 400, "To: a@[", "Date: x", "To: ,;<@>",
    "Content-Type: text/plain; name*0*=a'b; name*1=c", "Content-Disposition: =?",
)  # fmt: skip
_BODIES = (
    "yes to all", "<p>1 <b>yes</b><br>2 <s>no</s></p>", "eWVzIHRvIGFsbA==", "=FF=zz=",
    "begin 644 a",
    "On Monday, Ina wrote:\n> is 1 right?\nyes", "<div>" * 300 + "yes", "<table><tr><td>1<td>yes",
    "<style>x{}</style><!-- 1 yes --><span style='display:none'>2 no</span>", "+AGEAYg-",
    "-- \nIna",
    "<blockquote>yes</blockquote>2 no", "\x00\xff\xfe", "", "&#x1F44D;&nbsp;&#0;&#99999999;&bad;",
)  # fmt: skip
_part = st.tuples(
    st.lists(st.sampled_from(_HEADERS), max_size=3), st.sampled_from(_BODIES), changes((), 1)
)
_mails = st.fixed_dictionaries(
    {
        "headers": st.lists(st.sampled_from(_HEADERS), max_size=4),
        "mail": st.lists(_part, max_size=3),
    }
)
_lists = st.fixed_dictionaries({"list": packed.cases(("1", "yes", "no", "Item", "Anna", "2"))})


def _file(case: Mapping[str, Any]) -> str:
    order, pack, seals, _ = _sent()
    numbers = sorted(seals)
    said = (
        Said(numbers[0], seals[numbers[0]], "yes"),
        Said(numbers[1], seals[numbers[1]], "change", "please", {"name": "Bo Dal"}),
    )
    told = {
        "kind": "answers to a proof pack", "version": 2, "order": order, "pack": pack,
        "by": "Ina", "at": "2026-11-28T10:00:00.000Z", "page": PAGE, "saving": 1,
        "answers": [
            {"item": each.item, "seal": each.seal, "answer": each.verdict, "words": each.words,
             "texts": dict(each.texts or {})}
            for each in said
        ],
    }  # fmt: skip
    found = tree_changed(told, case["file"])
    if case["checked"]:
        try:
            found["check"] = _check_of(found)
        except (KeyError, TypeError, AttributeError, ValueError):
            found["check"] = "00000000"  # no check is of such values
    return changed(json.dumps(found), case["markup"])


def _check_of(told: Mapping[str, Any]) -> str:
    said = tuple(
        Said(each["item"], each["seal"], each["answer"], each["words"], each["texts"])
        for each in told["answers"]
    )
    by, at, page = str(told["by"]), str(told["at"]), str(told["page"])
    return check_of(Answers("file", by, at, said, str(told["pack"]), page, int(told["saving"])))


def _mail(case: Mapping[str, Any]) -> str:
    """Return a mail; parts stand between the lines that the header may tell of."""
    rows = ["From: ina@example.org", "Subject: Re: Spring concert", *case["headers"], ""]
    for headers, body, made in case["mail"]:
        rows += ["--a", *headers, "", changed(body, made)]
    return "\r\n".join([*rows, "--a--", ""])


def write(case: dict[str, Any], folder: Path) -> Path:
    """Write what came back."""
    if "list" in case:
        path = folder / "list.xlsx"
        path.write_bytes(packed.built(case["list"], _sent()[3]))
        return path
    if "mail" in case:
        path = folder / "came.eml"
        path.write_bytes(_mail(case).encode("latin-1", "replace"))
        return path
    if "file" in case:
        path = folder / "answers.json"
        text = _file(case)
    else:
        path = folder / "came.txt"
        lines = case["lines"]
        if case["framed"]:
            lines = [f"Answers to proof pack {_sent()[1]}", *lines, "End of answers. 1 of 3."]
        text = case["end"].join(lines)
    path.write_bytes(text.encode("utf-8", "surrogatepass"))
    return path


class _BackError(Exception):
    """Nothing of it is to be kept."""


def read(path: Path) -> None:
    """Read what came back, and put it on record as far as that goes before it is kept."""
    with open_ledger(base.folder()) as ledger:
        found = read_answers(ledger, path)
        try:
            with ledger.writing() as change:
                take(change, found)
                raise _BackError
        except _BackError:
            pass


READER = Reader("answers", st.one_of(_files, _messages, _mails, _lists), write, read)
