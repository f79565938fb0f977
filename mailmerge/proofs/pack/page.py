"""The page of a proof pack: one HTML file that works by itself, from a file, without a network."""

from __future__ import annotations

import base64
import hashlib
import io
import json
from functools import cache
from importlib.resources import files

from jinja2 import Environment, StrictUndefined
from markupsafe import Markup

from mailmerge.proofs.pack.cards import Card, Pack

LARGEST = 10_000_000
"""Bytes that the page aims to stay below: what most mail servers take as an attachment."""

_SIZES = (880, 700, 560, 440, 330, 240)
"""Widths in px that the pictures are tried at. The first is that of the cup on its proof."""

_SAMPLE = 10
"""Cards whose pictures tell how large all of them will be, about."""

_TEXT_SHARE = 0.9
"""Of the page's bytes that pictures may take."""


def write_page(pack: Pack) -> bytes:
    """Return the page as the bytes of an HTML file, the same for the same pack."""
    style, script = _part("page.css"), _part("page.js")
    data = {
        "id": pack.id,
        "order": pack.order,
        "title": pack.title,
        "cards": [
            {
                "open": not card.settled,
                "seals": list(card.seals.items()),
                "texts": {text.field: text.text for text in card.texts if text.field},
            }
            for card in pack.cards
        ],
    }
    html = _environment().from_string(_part("page.html")).render(
        pack=pack,
        pictures=_pictures(pack),
        style=Markup(style),
        script=Markup(script),
        style_hash=_hash(style),
        script_hash=_hash(script),
        data=Markup(_script_safe(json.dumps(data, ensure_ascii=False))),
    )  # fmt: skip
    return html.encode()


@cache
def _environment() -> Environment:
    return Environment(
        autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True
    )


@cache
def _part(name: str) -> str:
    return (files(__package__) / name).read_text(encoding="utf-8")


def _hash(text: str) -> str:
    """Return the source that lets exactly this text run (W3C, Content Security Policy)."""
    return "sha256-" + base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()


def _script_safe(data: str) -> str:
    """Return JSON that cannot end the script element that it stands in (HTML, 4.12.1.3)."""
    return data.replace("<", "\\u003c")


def _pictures(pack: Pack) -> list[Markup]:
    """Return the pictures of all cards as image elements, as large as the page's size allows."""
    room = LARGEST * _TEXT_SHARE * 3 / 4  # base64 makes four bytes out of three
    step = max(1, len(pack.cards) // _SAMPLE)
    count = len(pack.cards)
    for width in _SIZES:
        is_last = width == _SIZES[-1]
        some = {} if is_last else {at: _webp(pack.cards[at], width) for at in range(0, count, step)}
        if sum(len(data) for data, _ in some.values()) > room * len(some) / count:
            continue
        pictures = [some.get(at) or _webp(card, width) for at, card in enumerate(pack.cards)]
        if is_last or sum(len(data) for data, _ in pictures) <= room:
            break
    return [
        _image(card.alternative(pack.language), data, size)
        for card, (data, size) in zip(pack.cards, pictures, strict=True)
    ]


def _image(words: str, data: bytes, size: tuple[int, int]) -> Markup:
    source = f"data:image/webp;base64,{base64.b64encode(data).decode()}"
    return Markup('<img src="{}" width="{}" height="{}" alt="{}">').format(source, *size, words)


def _webp(card: Card, width: int) -> tuple[bytes, tuple[int, int]]:
    """Return a card's picture as WebP (RFC 9649): a quarter of the bytes of a PNG, edges kept."""
    picture = card.cup(width, width)
    saved = io.BytesIO()
    picture.save(saved, "WEBP", quality=88)
    return saved.getvalue(), picture.size
