"""The page of a proof pack: one HTML file that works by itself, from a file, without a network."""

from __future__ import annotations

import base64
import hashlib
import io
import json
import re
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from functools import cache, partial
from importlib.resources import files

from jinja2 import Environment, StrictUndefined, Template
from markupsafe import Markup

from mailmerge.proofs.pack.cards import Card, Pack, within
from mailmerge.proofs.pack.languages import Language, translations
from mailmerge.voice import on_page

LARGEST = 10_000_000
"""Bytes that the page aims to stay below: what most mail servers take as an attachment."""

_SIZES = (900, 720, 600, 480, 360, 240)
"""Widths in px that pictures are tried at. The first is that of three px for each of a phone's."""

_WHOLE = 0.6
"""Width of a whole cup's picture, in parts of that of a face close by."""

_SAMPLE = 10
"""Cards whose pictures tell how large all of them will be, about."""

_TEXT_SHARE = 0.9
"""Of the page's bytes that pictures may take."""

_MAIL = re.compile(r"[^\s@<>,;:]+@[^\s@<>,;:]+\.[^\s@<>,;:]+")


def write_page(pack: Pack) -> bytes:
    """Return the page as the bytes of an HTML file, the same for the same pack."""
    style, script = _part("page.css"), _part("page.js")
    html = _template(pack.language).render(
        pack=pack,
        pictures=_pictures(pack),
        style=Markup(style),
        script=Markup(script),
        style_hash=_hash(style),
        script_hash=_hash(script),
        data=Markup(_script_safe(json.dumps(_data(pack), ensure_ascii=False))),
    )  # fmt: skip
    return on_page(html).encode()


def _data(pack: Pack) -> dict[str, object]:
    """Return what the page's script knows."""
    mail = next(filter(None, map(_MAIL.search, pack.sender.reach)), None)
    return {
        "id": pack.id,
        "order": pack.order,
        "title": pack.title,
        "mail": mail[0] if mail else "",
        "words": _words(pack.language, pack.open),
        "cards": [
            {
                "open": not card.settled,
                "seals": list(card.seals.items()),
                "texts": {text.field: text.text for text in card.texts if text.field},
            }
            for card in pack.cards
        ],
    }


def _words(language: Language, count: int) -> dict[str, str | list[str]]:
    """Return what the page's script says; what depends on how many are open, for each number."""
    _, ngettext = translations(language.tag).gettext, translations(language.tag).ngettext
    open_of = [
        ngettext("%(count)s open", "%(count)s open", n) % {"count": n} for n in range(1, count + 1)
    ]
    still_open = [
        ngettext(
            "%(count)s cup is still open. It will not be engraved until you say yes to it.",
            "%(count)s cups are still open. They will not be engraved until you say yes to them.",
            n,
        )
        % {"count": n}
        for n in range(1, count + 1)
    ]
    return {
        "open": _("Open"),
        "right": _("Right"),
        "change": _("Change: %(wanted)s"),
        "where": _("%(at)s of %(all)s"),
        "openOf": [_("all answered"), *open_of],
        "summary": [
            _(
                "You have answered for every cup. Please send us your answers: we do not have them "
                "yet."
            ),
            *still_open,
        ],
        "thanks": _("You have answered for every cup. Thank you!"),
        "nameFirst": _("Please write your name first."),
        "whoFirst": _("Please say first who you are."),
        "nothingYet": _("You have not answered for any cup yet."),
        "shared": _("Passed on. Thank you!"),
        "saved": _(
            "Saved as %(file)s. Look for it where your browser puts downloads, and send it to us. "
            "If it is not there, copy the text instead."
        ),
        "copied": _("Copied. Paste it into a message to us."),
        "notCopied": _(
            "Your browser did not copy the text. It is selected below: please copy it yourself."
        ),
        "mailed": _(
            "A message with your answers should have opened. If it has not, save the file instead."
        ),
        "passed": _("The copy is called %(file)s. Please send it to the other person."),
        "saidRight": _("%(who)s says that it is right."),
        "saidWants": _("%(who)s wants: %(wanted)s"),
        "kept": _(
            "Your answers are kept in this browser. You can close this page and come back later."
        ),
        "notKept": _(
            "This viewer does not keep your answers when you close the page. Please send what you "
            "have before you close it."
        ),
    }


@cache
def _template(language: Language) -> Template:
    environment = Environment(
        autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True,
        extensions=["jinja2.ext.i18n"],
    )  # fmt: skip
    environment.install_gettext_translations(  # type: ignore[attr-defined]
        translations(language.tag), newstyle=True
    )
    return environment.from_string(_part("page.html"))


@cache
def _part(name: str) -> str:
    return (files(__package__) / name).read_text(encoding="utf-8")


def _hash(text: str) -> str:
    """Return the source that lets exactly this text run (W3C, Content Security Policy)."""
    return "sha256-" + base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()


def _script_safe(data: str) -> str:
    """Return JSON that cannot end the script element that it stands in (HTML, 4.12.1.3)."""
    return data.replace("<", "\\u003c")


@dataclass(frozen=True)
class _Pictures:
    """The pictures of a card, as image elements."""

    faces: tuple[Markup, ...]
    cup: Markup


@dataclass(frozen=True)
class _Saved:
    """A picture as WebP (RFC 9649): a quarter of the bytes of a PNG, edges kept."""

    data: bytes
    size: tuple[int, int]

    def element(self, words: str) -> Markup:
        """Return it as an image element, with the same in words."""
        source = f"data:image/webp;base64,{base64.b64encode(self.data).decode()}"
        element = '<img src="{}" width="{}" height="{}" alt="{}">'
        return Markup(element).format(source, *self.size, words)


def _pictures(pack: Pack) -> list[_Pictures]:
    """Return the pictures of all cards, as large as the page's size allows."""
    room = LARGEST * _TEXT_SHARE * 3 / 4  # base64 makes four bytes out of three
    step = max(1, len(pack.cards) // _SAMPLE)
    count = len(pack.cards)
    for width in _SIZES:
        is_last = width == _SIZES[-1]
        tried = () if is_last else range(0, count, step)
        some = dict(zip(tried, _all_saved([pack.cards[at] for at in tried], width), strict=True))
        if sum(map(_bytes_of, some.values())) > room * len(some) / count:
            continue
        others = iter(_all_saved([pack.cards[at] for at in range(count) if at not in some], width))
        saved = [some.get(at) or next(others) for at in range(count)]
        if is_last or sum(map(_bytes_of, saved)) <= room:
            break
    return [
        _Pictures(
            tuple(face.element(said if at == 0 else "") for at, face in enumerate(faces)),
            cup.element("" if faces else said),
        )
        for card, (cup, *faces) in zip(pack.cards, saved, strict=True)
        for said in [card.alternative(pack.language)]
    ]


def _bytes_of(pictures: list[_Saved]) -> int:
    return sum(len(picture.data) for picture in pictures)


def _all_saved(cards: Sequence[Card], width: int) -> list[list[_Saved]]:
    """Return the pictures of cards; Pillow lets others work while it saves one."""
    with ThreadPoolExecutor() as pool:
        return [*pool.map(partial(_saved, width=width), cards)]


def _saved(card: Card, width: int) -> list[_Saved]:
    """Return a card's whole cup and its faces close by."""
    whole = round(width * _WHOLE) if card.faces else width
    return [_webp(card.cup, whole), *(_webp(face, width) for face in card.faces)]


def _webp(picture: bytes, width: int) -> _Saved:
    """Return a picture as WebP; more effort takes twice the time, for a twentieth of the bytes."""
    image, saved = within(picture, width, width), io.BytesIO()
    image.save(saved, "WEBP", quality=86, method=2)
    return _Saved(saved.getvalue(), image.size)
