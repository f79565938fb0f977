"""Orders: all that the shop knows, by day due; and beginning a new one."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING
from urllib.parse import urlencode

from starlette.responses import RedirectResponse, Response

from mailmerge import deeds
from mailmerge.deeds import laid
from mailmerge.deeds.known import Known, known_orders, leave_out, remember
from mailmerge.deeds.status import Standing
from mailmerge.desk import words
from mailmerge.desk.asking import Asked, Undo, day_of, get, is_number, post
from mailmerge.desk.glance import Glance
from mailmerge.findings import InputError

if TYPE_CHECKING:
    from mailmerge.deeds.beginning import Recognised
    from mailmerge.deeds.offered import Coat, OfferedBlank


def orders(asked: Asked) -> Response:
    """Show all orders: those that are open, then those whose cups all exist."""
    shown = [(known, asked.desk.glances.of(known.folder)) for known in known_orders()]
    return asked.page(
        "orders.html",
        shown=[each for each in shown if not _is_finished(*each)],
        finished=[each for each in shown if _is_finished(*each)],
        laid=laid.laid_lists(),
        most=laid.MAX_BYTES,
    )


def _is_finished(known: Known, glance: Glance) -> bool:
    records = glance.records
    return not known.amiss and bool(records) and glance.count[Standing.ENGRAVED] == len(records)


def lay_by(asked: Asked) -> Response:
    """Take in a list that was dropped, and show what is recognised in it."""
    upload = asked.upload("list")
    return asked.on(f"/begin/{deeds.beginning.lay_by(upload.name, upload.data)}")


def look(asked: Asked) -> Response:
    """Show a list as it is read, and ask for what it cannot tell."""
    file, offered = laid.laid(asked.parts["laid"]), deeds.offered.blanks_to_begin_with()
    return asked.page(
        "begin.html",
        to=f"/begin/{asked.parts['laid']}",
        file=file.name,
        read=_read(file, asked.query),
        given=defaultdict(str, asked.query),
        fields=deeds.beginning.FIELDS,
        machines=deeds.choosing.machines_to_begin_with(),
        blanks=[_choice(each, asked.query) for each in offered],
        shown_on=next(
            each.blank.name for each in offered if each.name == deeds.opening.DEFAULT_BLANK
        ),
        read_as=urlencode({**asked.query, "layout": ""}),
    )


@dataclass(frozen=True, slots=True)
class _Choice:
    """A blank to choose, and which of its coats is shown."""

    offered: OfferedBlank
    coat: Coat

    @property
    def size(self) -> tuple[int, int]:
        """Of its picture, in CSS pixels."""
        cup = self.offered.plan.cup
        return round(cup.width * _SCALE), round(cup.height * _SCALE)


_SCALE = 1.05
"""CSS pixels to a millimetre, for all blanks alike."""


def _choice(offered: OfferedBlank, said: Mapping[str, str]) -> _Choice:
    coats, wanted = offered.blank.coat, said.get(f"coat-{offered.name}")
    return _Choice(offered, next((each for each in coats if each.name == wanted), coats[0]))


def sample(asked: Asked) -> Response:
    """Return a picture of the list's own names in a layout; none once an order was made of it."""
    query = asked.query
    try:
        file = laid.laid(asked.parts["laid"])
    except InputError:  # whoever began the order did not wait for all the pictures
        return Response(status_code=204)
    offered = next(
        (e for e in deeds.offered.blanks_to_begin_with() if e.name == query.get("blank")), None
    )
    coats = {coat.name for coat in offered.blank.coat} if offered else set()
    coat = query.get("coat", "")
    given = deeds.opening.Given(
        blank=offered.name if offered else None, layout=query.get("layout", ""),
        title=query.get("title") or None, coat=coat if coat in coats else None,
    )  # fmt: skip
    read = _read(file, query)
    found = asked.desk.warm.call(deeds.samples.sample_picture, file, read.seen, given)
    headers = {"Cache-Control": "private, max-age=3600"}
    return Response(found.png, media_type="image/png", headers=headers)


def begin(asked: Asked) -> Response:
    """Begin an order, or read its list as it was put right."""
    key, form = asked.parts["laid"], asked.form
    if form.get("do") == "look":
        return RedirectResponse(f"/begin/{key}?{urlencode({**form, 'do': ''})}", 303)
    if form.get("do") == "leave":
        laid.let_go(key)
        return asked.on("/", words.LIST_LET_GO)
    read = _read(laid.laid(key), form)
    if read.seen.doubt:
        raise InputError(words.doubt_of_list(read.seen.doubt))
    blank = form.get("blank", "")
    given = deeds.opening.Given(
        blank=blank, layout=form.get("layout", ""), title=form.get("title"),
        coat=form.get(f"coat-{blank}") or None, machine=_machine(form),
    )  # fmt: skip
    known = deeds.beginning.begin(key, read.seen, given, day_of(form.get("due", ""))).known
    then = f"/orders/{known.key}/cups"
    asked.desk.works.begin(
        known.key, words.MAKING_CUPS, deeds.making.merge, known.folder, then=then
    )
    return asked.on(then, words.begun(known.title))


def _machine(form: Mapping[str, str]) -> str | None:
    """Return the machine that was chosen; None for the shop's own profile, or if nobody says."""
    said = form.get("machine", "")
    return None if said in ("", deeds.choosing.OWN) else said


def _read(file: Path, form: Mapping[str, str]) -> Recognised:
    """Return a list as a form says that it is read; an empty form leaves all to be recognised."""
    at = {name.removeprefix("column-"): field for name, field in form.items()
          if name.startswith("column-")}  # fmt: skip
    if any(
        not is_number(place) or field not in ("", *deeds.beginning.FIELDS)
        for place, field in at.items()
    ):
        raise InputError(words.ODD_COLUMN)
    was, row = form.get("row-was", ""), form.get("row", "")
    is_same_table = row == was and form.get("sheet", "") == form.get("sheet-was", "")
    fields = {int(place): field for place, field in at.items()} if is_same_table and at else None
    number = int(row) if is_number(row) and form.get("sheet") == form.get("sheet-was") else 0
    return deeds.beginning.recognise(
        file, form.get("sheet", ""), number, fields, form.get("title", "")
    )


def open_folder(asked: Asked) -> Response:
    """Let the desk know an order by its folder."""
    path = asked.form.get("path", "")
    if not path:
        raise InputError(words.NO_PATH)
    try:
        known = remember(Path(path).expanduser())
    except (OSError, RuntimeError, ValueError):  # what no disk takes for a path
        raise InputError(words.NO_PATH) from None
    return asked.on(f"/orders/{known.key}/cups")


def first_place(asked: Asked) -> Response:
    """Go on at the place of an order where its cups are."""
    return asked.on(asked.at("list" if asked.order.amiss else "cups"))


def leave(asked: Asked) -> Response:
    """Take an order off the page of all orders."""
    leave_out(asked.order.key)
    undo = Undo(words.PUT_BACK, "/orders/open", {"path": str(asked.folder)})
    return asked.on("/", words.left_out(asked.order.title), undo)


ROUTES = [
    get("/", orders),
    post("/orders/begin", lay_by),
    get("/begin/{laid}", look),
    get("/begin/{laid}/cup.png", sample),
    post("/begin/{laid}", begin),
    post("/orders/open", open_folder),
    get("/orders/{key}", first_place),
    post("/orders/{key}/leave-out", leave),
]
