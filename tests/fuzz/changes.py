"""Changes of markup and of trees of values, told as numbers, so that any case can be made smaller.

Numbers that say which place is meant count around: every number means some place.
"""

from __future__ import annotations

import copy
import re
from collections.abc import Sequence
from typing import Any

from hypothesis import strategies as st
from hypothesis.strategies import SearchStrategy

Change = Sequence[Any]

ODD = (
    "", "0", "-1", "1", "2", "65536", "99999999999999999999", "1e999", "-1e-300", "nan", "0x10",
    "1,5", " ", "\u202etfel", "\ud7ff", "../../x", "A0", "XFE1", "A1048577", "A1:XFD1048576",
    "true", "s", "#REF!", "x" * 300, "9" * 400, "1899-12-31T25:61:00", "&#0;", "&lt;", "%s{0}",
    "\u0660\u0661", "none", "url(#a)", "#", "1e9 1e9", "0 0 0 0",
)  # fmt: skip
"""Values that stand where others are expected."""

SNIPPETS = (
    "<!DOCTYPE x [<!ENTITY a 'aaaa'>]>", "&a;", "<![CDATA[x]]>", "<?xml version='1.1'?>", "<!--",
    "<x xmlns='urn:x'>", "</x>", "\x00", "\x08", "\ufffe", "<a b='1' b='2'/>", "&#xD800;", "<", ">",
    "<script>1</script>", "\ufeff",
)  # fmt: skip

KINDS = (
    "attribute", "no attribute", "text", "no tag", "more", "nest", "remove", "rename", "cut",
    "insert", "swap",
)  # fmt: skip


def changes(values: Sequence[str] = (), most: int = 3) -> SearchStrategy[list[Change]]:
    """Return a strategy of changes of a text with markup."""
    value = st.one_of(
        st.sampled_from((*ODD, *values)), st.sampled_from(SNIPPETS), st.text(max_size=8)
    )
    number = st.integers(0, 400)
    return st.lists(st.tuples(st.sampled_from(KINDS), number, value, number), max_size=most)


_TOKEN = re.compile(r"<[^>]*>|[^<]+|<")
_ATTRIBUTE = re.compile(r"""\s([\w:.-]+)=("[^"]*"|'[^']*')""")
_NAME = re.compile(r"</?([\w:.-]+)")


def changed(text: str, made: Sequence[Change]) -> str:
    """Return a text with markup as it is after changes."""
    for kind, at, value, number in made:
        text = _changed(text, kind, at, value, number)
        if len(text) > 60_000:
            break
    return text


def _changed(text: str, kind: str, at: int, value: str, number: int) -> str:
    tokens = _TOKEN.findall(text)
    if not tokens:
        return text + value
    match kind:
        case "attribute" | "no attribute":
            found = list(_ATTRIBUTE.finditer(text))
            if not found:
                return text
            which = found[at % len(found)]
            put = f' {which[1]}="{value}"' if kind == "attribute" else ""
            return text[: which.start()] + put + text[which.end() :]
        case "cut":
            return text[: at * len(text) // 401]
        case "text" | "insert":
            texts = [n for n, token in enumerate(tokens) if token[0] != "<"] or [0]
            which_one = texts[at % len(texts)] if kind == "text" else at % len(tokens)
            tokens[which_one] = value if kind == "text" else value + tokens[which_one]
        case "no tag":
            del tokens[at % len(tokens)]
        case "rename":
            names = [name[1] for token in tokens if (name := _NAME.match(token))] or ["x"]
            old, new = names[at % len(names)], names[number % len(names)]
            return re.sub(rf"(</?){re.escape(old)}(?=[\s/>])", rf"\g<1>{new}", text)
        case _:
            return _with_elements(tokens, kind, at, number)
    return "".join(tokens)


def _with_elements(tokens: list[str], kind: str, at: int, number: int) -> str:
    """Change whole elements: more of one, one within itself, without one, or two exchanged."""
    found = elements(tokens)
    if not found:
        return "".join(tokens)
    start, end = found[at % len(found)]
    one = tokens[start:end]
    match kind:
        case "more":
            put = one * (1 + number % 60)
        case "nest":
            deep = 1 + number
            put = one[:1] * deep + one + one[-1:] * deep if len(one) > 1 else one
        case "remove":
            put = []
        case _:
            other = found[number % len(found)]
            put = tokens[other[0] : other[1]]
    return "".join(tokens[:start] + put + tokens[end:])


def elements(tokens: Sequence[str]) -> list[tuple[int, int]]:
    """Return from which token to which each element reaches, as far as they are whole."""
    found, begun = [], []
    for at, token in enumerate(tokens):
        if not _NAME.match(token):
            continue
        if token.endswith("/>"):
            found.append((at, at + 1))
        elif token.startswith("</"):
            if begun:
                found.append((begun.pop(), at + 1))
        else:
            begun.append(at)
    return sorted(found)


# Trees of values

TREE_KINDS = ("like", "like", "like", "set", "add", "remove", "rename", "wrap", "double", "copy")

_LENGTHS = (
    "0 mm", "0.001 mm", "0.05 mm", "0.3 mm", "1 mm", "4 mm", "12 mm", "40 mm", "100 mm", "300 mm",
    "2000 mm", "9999 mm", "1/64 in", "3 in", "-1 mm",
)  # fmt: skip
_NUMBERS = (0, 1, 2, 3, 7, 30, 100, 400, 900, 1000, 0.001, 0.5, 90.0, 359.9, 1e5, -1, 1e-6)
_SHARES = ("0 %", "0.01 %", "1 %", "50 %", "99.99 %", "100 %")


def tree_changes(
    values: SearchStrategy[Any], keys: Sequence[str], most: int = 3
) -> SearchStrategy[list[Change]]:
    """Return a strategy of changes of tables and lists within each other."""
    number, key = st.integers(0, 2_000), st.sampled_from(keys)
    return st.lists(st.tuples(st.sampled_from(TREE_KINDS), number, key, values), max_size=most)


def tree_changed(tree: Any, made: Sequence[Change]) -> Any:
    """Return tables and lists as they are after changes."""
    tree = copy.deepcopy(tree)
    for kind, at, key, value in made:
        places = list(_places(tree))
        if not places:
            return tree
        holder, where = places[at % len(places)]
        if kind == "like":
            holder[where] = _like(holder[where], at // len(places))
            continue
        _change_tree(holder, where, kind, key, copy.deepcopy(value), places)
    return tree


def _like(value: Any, number: int) -> Any:
    """Return another value of the same kind: what a person might have typed there."""
    if isinstance(value, bool):
        return not value
    if isinstance(value, (int, float)):
        return _NUMBERS[number % len(_NUMBERS)]
    if isinstance(value, str) and value.endswith("%"):
        return _SHARES[number % len(_SHARES)]
    if isinstance(value, str) and re.match(r"[\d.]+ (mm|in)", value):
        return _LENGTHS[number % len(_LENGTHS)]
    if isinstance(value, list) and value:
        return value * (number % 40)
    return value * (1 + number % 3) if isinstance(value, str) else value


def _places(tree: Any) -> Any:
    """Pass over every place of a value: what holds it, and under which key or number."""
    for where in list(tree) if isinstance(tree, dict) else range(len(tree)):
        yield tree, where
        if isinstance(tree[where], (dict, list)):
            yield from _places(tree[where])


def _change_tree(
    holder: Any, where: Any, kind: str, key: str, value: Any, places: Sequence[tuple[Any, Any]]
) -> None:
    match kind:
        case "set":
            holder[where] = value
        case "add" if isinstance(holder, dict):
            holder[key] = value
        case "remove":
            del holder[where]
        case "rename" if isinstance(holder, dict):
            holder[key] = holder.pop(where)
        case "wrap":
            holder[where] = [holder[where]] if isinstance(holder[where], dict) else {key: value}
        case "double" if isinstance(holder[where], list):
            holder[where] = holder[where] * 3
        case "copy":
            other, there = places[len(key) % len(places)]
            holder[where] = copy.deepcopy(other[there]) if there in _keys(other) else value
        case _:
            holder[where] = value


def _keys(holder: Any) -> Any:
    return holder if isinstance(holder, dict) else range(len(holder))
