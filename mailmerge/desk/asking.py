"""What a page is asked, and how it answers: checked at the edge, so that a page reads plain values.

A page is a function of :class:`Asked` that returns a response. It runs in a thread, so that it may
call deeds, and an :class:`~mailmerge.findings.InputError` of theirs becomes one line on a page with
the way back.
"""

from __future__ import annotations

import datetime as dt
import secrets
import threading
from collections import OrderedDict
from collections.abc import Callable, Iterable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field, replace
from functools import cache, cached_property
from pathlib import Path
from typing import Any, TypeVar
from urllib.parse import parse_qsl, quote, urlencode, urlsplit

from jinja2 import Environment, PackageLoader, StrictUndefined
from starlette.concurrency import run_in_threadpool
from starlette.convertors import IntegerConvertor, register_url_convertor
from starlette.datastructures import FormData, UploadFile
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response
from starlette.routing import Match, Route

from mailmerge.deeds import interrupted
from mailmerge.deeds.faults import reported
from mailmerge.deeds.known import Known, order_called
from mailmerge.desk import words
from mailmerge.desk.glance import Glance, Glances
from mailmerge.desk.guard import TooLarge
from mailmerge.desk.nursery import Nursery
from mailmerge.desk.warm import Warm
from mailmerge.desk.work import Deed, Pressed, Work, Works, about_item, at_its_turn
from mailmerge.findings import BeingChanged, InputError
from mailmerge.voice import note, on_page

Result = TypeVar("Result")


@dataclass(frozen=True, slots=True)
class Undo:
    """How to take back what was just done: a form that is sent when its button is pressed."""

    words: str
    """On the button."""
    action: str
    """Where the form is sent."""
    fields: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Said:
    """What the page after something that was done says of it."""

    text: str
    undo: Undo | None = None


@dataclass(frozen=True, slots=True)
class Upload:
    """A file that was dropped on a page."""

    name: str
    """As the browser says; never a path on this disk."""
    data: bytes


class Desk:
    """What lives as long as the desk does: long work, a warm process, and what was said of late."""

    _MOST_SAID = 500
    _MOST_LAID = 40

    def __init__(self, bench_of: str | None = None) -> None:
        self.bench_of = bench_of
        """The key of the order whose bench it shows, and nothing else; None for a whole desk."""
        self.is_ending = threading.Event()
        """Set when somebody ends the desk: whatever waits for something waits no longer."""
        nursery = Nursery()
        self.works = Works(_written_down, nursery)
        self.warm = Warm(nursery=nursery)
        self.at_leisure: list[Callable[[], object]] = []
        """What is done once the desk is started and nobody waits, so that later pages come soon."""
        self.glances = Glances()
        self._said: OrderedDict[str, Said] = OrderedDict()
        self._laid: OrderedDict[str, object] = OrderedDict()
        self.templates = _templates()

    def drawn(self, template: str, **values: Any) -> str:
        """Return a page, or a part of one, with hidden signs shown; it knows ``words``."""
        return on_page(self.templates.get_template(template).render(words=words, **values))

    def see_all_places(self) -> None:
        """Let pages be known that nobody has asked for yet."""
        for each in self.at_leisure:
            each()

    def end(self) -> None:
        """End everything that goes on: the desk is closing."""
        self.works.end()
        self.warm.end()

    def keep(self, said: Said) -> str:
        """Keep what is to be said on the next page; return what the page asks for it with."""
        name = secrets.token_urlsafe(6)
        self._said[name] = said
        while len(self._said) > self._MOST_SAID:
            self._said.popitem(last=False)
        return name

    def lay(self, found: object) -> str:
        """Lay by what a deed has returned, for the page that shows it; return what it is asked by.

        It may be asked for more than once, as a page that is loaded again does.
        """
        name = secrets.token_urlsafe(6)
        self._laid[name] = found
        while len(self._laid) > self._MOST_LAID:
            self._laid.popitem(last=False)
        return name

    def laid(self, name: str) -> object | None:
        """Return what was laid by; None where it is long gone."""
        return self._laid.get(name)

    def said(self, name: str) -> Said | None:
        """Return what is to be said.

        It stays: a script fetches the page before the browser shows it, and work that ends shows
        the page anew.
        """
        return self._said.get(name)


def _written_down(key: str, presses: Sequence[interrupted.Press]) -> None:
    with suppress(InputError):  # where nothing can be written, the work itself will say so
        interrupted.keep(key, presses)


@dataclass(frozen=True)
class Asked:
    """One request, read."""

    desk: Desk
    path: str
    parts: Mapping[str, Any]
    """Of the address."""
    query: Mapping[str, str]
    form: Mapping[str, str]
    """The first text of each field, without blanks around it."""
    several: Mapping[str, tuple[str, ...]]
    """All texts of each field."""
    files: Mapping[str, Upload]
    known: Known | None
    """The order that the address is of."""
    came_from: str = ""
    """The address on this desk where its form or link stood; ``""`` if nobody says."""
    work_mark: str = ""
    """Of that order's work before anything was read: its page learns if that has ended since."""

    @property
    def order(self) -> Known:
        """The order that the address is of."""
        assert self.known is not None
        return self.known

    @property
    def folder(self) -> Path:
        """The folder of that order."""
        return self.order.folder

    @property
    def glance(self) -> Glance:
        """That order at a glance, for what stands above each of its pages."""
        return self.desk.glances.of(self.folder)

    @property
    def is_making(self) -> bool:
        """Whether something is at work for that order, or waits."""
        return self.desk.works.is_busy(self.order.key)

    @property
    def asks(self) -> bool:
        """Whether something has to be known before any work for that order can go on."""
        work = self.desk.works.of(self.order.key)
        return work is not None and work.question is not None

    @property
    def doing(self) -> frozenset[str]:
        """What is at work for that order, and what waits, as they are called."""
        return self.desk.works.doing(self.order.key)

    def need(self, place: str) -> str:
        """Return in one line what that order needs at a place."""
        if self.is_making and not self.glance.has_cups:
            return words.CUPS_BEING_MADE
        if place == "client" and words.MAKING_PACK in self.doing:
            return words.PACK_BEING_MADE
        if place == "list" and self.doing - words.MAKES_NO_CUP:
            return words.CUPS_BEING_MADE
        if self.glance.has_cups:
            return self.glance.needs[place] or self.glance.rests(place)
        return words.NO_CUPS_YET

    def has_need(self, place: str) -> bool:
        """Whether that order needs a hand at a place."""
        return self.glance.has_cups and bool(self.glance.needs[place])

    def at(self, *parts: object) -> str:
        """Return an address below that order's own."""
        return "/".join(["/orders", self.order.key, *(quote(str(part)) for part in parts)])

    def pressed(self, *about: str) -> list[tuple[Pressed, Work]]:
        """Return what was pressed about something and is to come, or was refused."""
        return [each for each in self._pressed if each[0].at in about]

    @cached_property
    def _pressed(self) -> list[tuple[Pressed, Work]]:
        return self.desk.works.pressed(self.order.key)

    @cached_property
    def left_over(self) -> tuple[interrupted.Press, ...]:
        """What a desk that has ended since was still to do for that order."""
        return interrupted.left_over(self.order.key)

    def begin(
        self, doing: str, deed: Deed, *given: object, then: str,
        pressed: Iterable[Pressed] = (), several: str = "",
        sent: interrupted.Press | None = None, **named: Any,
    ) -> Work:  # fmt: skip
        """Begin work for that order, or let it wait for its turn; a desk that ends keeps it.

        Parameters
        ----------
        deed
            Called with the order's folder, ``given`` and ``named``, as in ``Works.begin``.
        sent
            The form that would begin it anew; by default this one.
        """
        pressed = tuple(pressed)
        press = sent or interrupted.Press(self._says(pressed) or doing, self.path, self.several)
        interrupted.let_go(self.order.key, press)
        return self.desk.works.begin(
            self.order.key, doing, deed, self.folder, *given, then=then, pressed=pressed,
            several=several, sent=press, **named,
        )  # fmt: skip

    def _says(self, pressed: Iterable[Pressed]) -> str:
        """Say what was pressed, for somebody who does not see where."""
        of = {about_item(each.number): each for each in self.glance.records}
        return "; ".join(
            words.pressed_for(of[each.at].entry.row, of[each.at].name, each.says)
            if each.at in of
            else each.says
            for each in pressed
        )

    def in_turn(
        self, says: str, about: Iterable[str], deed: Callable[..., Result], *given: object,
        then: str, **named: Any,
    ) -> Result | None:  # fmt: skip
        """Call a deed that takes no time, with the order's folder; return what it returns.

        While something is at work for the order, here or elsewhere, it waits for its turn, and
        None is returned.

        Parameters
        ----------
        says, about
            What will be so, and where that is shown while it waits.
        """
        if not self.is_making:
            with suppress(BeingChanged):
                return deed(self.folder, *given, **named)
        pressed = [Pressed(each, says) for each in about]
        self.begin(says, at_its_turn, deed, *given, then=then, pressed=pressed, **named)
        return None

    def here(self, **other: object) -> str:
        """Return this page's own address, with something else asked of it."""
        asked = {**self.query, **other}
        asked.pop("said", None)
        return f"{self.path}?{urlencode(asked)}" if asked else self.path

    @property
    def start(self) -> int:
        """Where the stretch begins that is to be shown of something long, from 0."""
        told = self.form.get("start") or self.query.get("start", "")
        return int(told) if is_number(told) else 0

    def page(self, template: str, status: int = 200, **values: Any) -> HTMLResponse:
        """Return a page out of a template; it knows ``asked`` and ``words``."""
        said = self.desk.said(self.query.get("said", ""))
        return HTMLResponse(self.desk.drawn(template, asked=self, said=said, **values), status)

    def on(self, address: str, text: str = "", undo: Undo | None = None) -> RedirectResponse:
        """Go on at another page, which says what was done."""
        if text:
            address, hash_, at = address.partition("#")
            address += f"{'&' if '?' in address else '?'}said={self.desk.keep(Said(text, undo))}"
            address += hash_ + at
        return RedirectResponse(address, 303)

    def upload(self, name: str) -> Upload:
        """Return a file that must have come.

        Raises
        ------
        InputError
            None did.
        """
        found = self.files.get(name)
        if found is None or not found.data:
            raise InputError(words.NO_FILE)
        return found


class _Number(IntegerConvertor):
    """A number in an address, no longer than those that the desk gives out."""

    regex = "[0-9]{1,9}"


register_url_convertor("int", _Number())


def is_number(text: str) -> bool:
    """Whether a form's text is a number as a page has written it."""
    return text.isascii() and text.isdecimal() and len(text) <= 9


def day_of(text: str) -> dt.date | None:
    """Return a day as a form gives it; None for none.

    Raises
    ------
    InputError
        It is no day.
    """
    try:
        return dt.date.fromisoformat(text) if text else None
    except ValueError:
        raise InputError(words.NOT_THE_DAY) from None


Page = Callable[[Asked], Response]


def get(path: str, page: Page) -> Route:
    """Let a page answer an address."""
    return Route(path, _answering(page), methods=["GET"])


_POSTED: list[tuple[Route, Page]] = []


def post(path: str, page: Page) -> Route:
    """Let a page answer a form that is sent to an address."""
    route = Route(path, _answering(page), methods=["POST"])
    _POSTED.append((route, page))
    return route


def send_again(asked: Asked, press: interrupted.Press) -> None:
    """Let the page that answers a form take it once more, of the order that somebody looks at.

    Raises
    ------
    InputError
        It is refused.
    """
    for route, page in _POSTED:
        scope = {"type": "http", "method": "POST", "path": press.path}
        match, found = route.matches(scope)
        if match is Match.FULL and found["path_params"].get("key") == asked.order.key:
            form = {name: texts[0] for name, texts in press.fields.items() if texts}
            page(
                replace(
                    asked, path=press.path, parts=found["path_params"], query={}, form=form,
                    several=press.fields, files={}, came_from="",
                )
            )  # fmt: skip


_ANY_SIZE = 2**31
"""Bytes of a field: the guard has bounded the whole form already."""


def _answering(page: Page) -> Callable[[Request], Any]:
    async def answer(request: Request) -> Response:
        desk: Desk = request.app.state.desk
        try:
            form = await request.form(max_files=8, max_fields=2000, max_part_size=_ANY_SIZE)
        except TooLarge:
            raise HTTPException(413, words.TOO_LARGE) from None
        texts, files = await _read(form)
        await form.close()
        return await run_in_threadpool(_answered, page, desk, request, texts, files)

    return answer


async def _read(form: FormData) -> tuple[dict[str, tuple[str, ...]], dict[str, Upload]]:
    texts: dict[str, tuple[str, ...]] = {}
    files: dict[str, Upload] = {}
    for name, value in form.multi_items():
        if isinstance(value, UploadFile):
            if value.filename:
                files[name] = Upload(value.filename, await value.read())
        else:
            texts[name] = (*texts.get(name, ()), value.strip())
    return texts, files


def _answered(
    page: Page, desk: Desk, request: Request, texts: dict[str, tuple[str, ...]],
    files: dict[str, Upload],
) -> Response:  # fmt: skip
    key = request.path_params.get("key")
    is_shown = desk.bench_of in (None, key)
    asked = Asked(
        desk,
        request.url.path,
        request.path_params,
        dict(request.query_params),
        {name: values[0] for name, values in texts.items()},
        texts,
        files,
        order_called(key) if key and is_shown else None,
        _came_from(request),
        desk.works.mark(key) if key else "",
    )
    if key and asked.known is None:
        return asked.page("refused.html", 404, told=words.NO_SUCH_ORDER, back="/", typed=())
    try:
        return page(asked)
    except InputError as error:
        return refused(asked, words.told(error))
    except Exception as error:  # the one place where a fault of ours becomes a page
        told = words.went_wrong(reported(error))
        note(told)
        return asked.page("refused.html", 500, told=told, back="/", typed=())


def _came_from(request: Request) -> str:
    came = urlsplit(request.headers.get("referer", ""))
    if came.netloc != request.url.netloc or not came.path.startswith("/"):
        return ""
    asked = urlencode([pair for pair in parse_qsl(came.query) if pair[0] != "said"])
    return f"/{came.path.lstrip('/')}" + (f"?{asked}" if asked else "")


def refused(asked: Asked, told: str) -> Response:
    """Say in one line why something was not done, with what was typed and the way back."""
    told = words.on_page(told, asked.known.folder if asked.known else "")
    return asked.page("refused.html", 422, told=told, back=_back(asked), typed=_typed(asked))


def _back(asked: Asked) -> str:
    """Return where a refused form stood."""
    if asked.came_from and asked.came_from != asked.path:
        row = asked.form.get("row", "")
        return asked.came_from + (f"#row-{row}" if is_number(row) else "")
    part = (asked.path.split("/") + [""] * 3)[3]
    place = part if part in words.PLACES else "bench" if asked.desk.bench_of else "cups"
    return asked.at(place) if asked.known and not asked.known.amiss else "/"


def _typed(asked: Asked) -> list[tuple[str, str]]:
    """Return what somebody has typed or chosen in a form: what it is called, and its text."""
    seen = {name.partition("-")[2]: text for name, text in asked.form.items() if name[:4] == "saw-"}
    typed = []
    for name, text in asked.form.items():
        called, key = words.sent_as(name), name.partition("-")[2]
        if called and text and not (key in seen and seen[key] == text):
            typed.append((called, text))
    return typed


@cache
def _templates() -> Environment:
    found = Environment(
        loader=PackageLoader("mailmerge.desk"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    found.globals["address"] = quote
    found.filters["plain_number"] = lambda number: f"{float(number):g}"
    found.filters["at_desk"] = words.at_desk
    found.filters["capitalised"] = lambda text: text[:1].upper() + text[1:]
    return found
