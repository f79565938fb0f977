"""The shop's values in a form: what was typed otherwise is changed, and can be put back."""

from __future__ import annotations

from starlette.responses import Response

from mailmerge.deeds.shop import change_shop, shop
from mailmerge.desk import words
from mailmerge.desk.asking import Asked, Undo
from mailmerge.findings import InputError, WrongValue

SEEN = "seen."
"""Before a value's key: the field that carries what its form has shown."""


def changed(asked: Asked, page: str, action: str) -> Response:
    """Let the shop say what was typed otherwise than its form showed it, for every order.

    Parameters
    ----------
    page, action
        Where to go on, and where such a form is sent.
    """
    before = {each.key: each for each in shop().values}
    seen = {key: asked.form.get(f"{SEEN}{key}", each.value) for key, each in before.items()}
    typed = {key: text for key, text in asked.form.items() if key in before}
    new = {key: text for key, text in typed.items() if text != seen[key]}
    if not new:
        return asked.on(page, words.SAME_VALUES)
    try:
        change_shop(new, seen)
    except WrongValue as error:
        raise InputError(words.refused_value(error.key, error.why, error.rule)) from None
    now = {each.key: each.value for each in shop().values}
    back = {key: before[key].value if before[key].source != "default" else "" for key in new}
    back |= {f"{SEEN}{key}": now[key] for key in new}
    return asked.on(page, words.values_changed(len(new)), Undo(words.UNDO_CHANGE, action, back))
