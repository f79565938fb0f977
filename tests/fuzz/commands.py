"""Nine commands that change an order or the shop, and what these are like before and after."""

from __future__ import annotations

import json
import os
import shutil
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from typing import Any

from outside import file_of_the_test_machine
from shop import Shop, done, keep_recipe

from mailmerge.answers.said import Answers, Said, check_of
from mailmerge.deeds import bench, client, forgetting, making, settings, timing
from mailmerge.deeds.settings import Kept
from mailmerge.files import digest_of
from mailmerge.ledger.ledger import LEDGER_FILES, open_ledger
from mailmerge.ledger.standing import Standing
from mailmerge.ledger.who import Choices

from . import base

PAGE = "ABCD-2345"


@cache
def start() -> Path:
    """Return a folder with an order and its shop's: ``concert`` and ``shop``.

    Anna's cup is engraved, Bo's is released, and Carla's waits for its release. The list says
    another role for Bo, there is a guest more, and Eva, whose cup was merged, is in it no longer.
    The client's answers lie there, unread.
    """
    top = base.folder().parent / "start"
    top.mkdir()
    shop = base.copied(top / "concert")
    with with_shop(top):
        keep_recipe(file_of_the_test_machine(top), coat="black")
        shop.yes(1, 2)
        shop.release()
        shop.engraved(1)
        shop.yes(3)
        _write_answers(shop)
        shop.list([*base.GUESTS, {"Name": "Eva Gran", "Role": "Flute"}])
        shop.merge()
        shop.list([*base.GUESTS[:1], {"Name": "Bo Dahl", "Role": "Oboe"}, *base.GUESTS[2:],
                   {"Name": "Dag Falk", "Role": "Harp"}])  # fmt: skip
    return top


def before(command: str) -> Path:
    """Return the folder that a command starts from: what looks at the list wants it as merged."""
    return start() if command in ("merge", "forget", "keep-recipe") else _merged_start()


@cache
def _merged_start() -> Path:
    """Return the same, where the list has not changed and all is merged."""
    top = Path(shutil.copytree(start(), start().with_name("start-as-merged")))
    shutil.copy(base.folder() / "list.csv", top / "concert" / "list.csv")
    with with_shop(top):
        _merge(top / "concert")
    return top


def _merge(order: Path) -> making.Merge:
    return done(making.merge(order, choices=Choices(unsure_are_gone=True), jobs=1))


def _write_answers(shop: Shop) -> None:
    with open_ledger(shop.folder) as ledger:
        (
            order,
            (pack, _),
        ) = ledger.order_id, ledger.newest_pack()
        seals = ledger.shown_in(pack)
    said = (Said(2, seals[2], "change", "", {"name": "Bo Dal"}), Said(3, seals[3], "yes"))
    at = "2026-11-20T10:00:00+00:00"
    answers = [
        {"item": each.item, "seal": each.seal, "answer": each.verdict, "words": each.words,
         "texts": dict(each.texts or {})} for each in said
    ]  # fmt: skip
    told = {
        "kind": "answers to a proof pack", "version": 2, "order": order, "pack": pack,
        "page": PAGE, "saving": 1, "by": "Ina", "at": at, "answers": answers,
        "check": check_of(Answers("file", "Ina", at, said, pack, PAGE, 1)),
    }  # fmt: skip
    (shop.folder / "answers.json").write_text(json.dumps(told))


def _keep_recipe(order: Path) -> Kept:
    told = {"power": "40", "speed": "80", "passes": "1", "interval": "0.2"}
    machine = str(order.parent / "machine.toml")
    return settings.keep_recipe(told, "navy", None, "even", machine)


COMMANDS: Mapping[str, Callable[[Path], object]] = {
    "merge": _merge,
    "proof": lambda order: done(client.proof(order, True, jobs=1)),
    "answers": lambda order: done(client.answers(order, order / "answers.json", jobs=1)),
    "release": lambda order: bench.release(order),
    "engraved": lambda order: bench.engraved(order, ["2"]),
    "spoiled": lambda order: bench.spoiled(order, ["1"]),
    "forget": lambda order: done(forgetting.forget(order, is_sure=True, leave_others=True)),
    "keep-recipe": _keep_recipe,
    "log": lambda order: timing.log(order, "1", 300.0),
}


@contextmanager
def with_shop(top: Path) -> Iterator[None]:
    """Let the shop be the one beside an order."""
    was = os.environ.get("MAILMERGE_SHOP")
    os.environ["MAILMERGE_SHOP"] = str(top / "shop")
    try:
        yield
    finally:
        if was is None:
            del os.environ["MAILMERGE_SHOP"]
        else:
            os.environ["MAILMERGE_SHOP"] = was


State = Mapping[str, Any]


def state_of(top: Path) -> State:
    """Return what an order and its shop come to: all that is on record but times, and all files."""
    order = top / "concert"
    with open_ledger(order) as ledger:
        records = ledger.records()
        stands = {
            each.number: (str(each.standing), each.seal, each.gone, dict(each.about))
            for each in records
        }
        said = {
            each.number: [(one.verdict, one.words, dict(one.wanted)) for one in each.answers]
            for each in records
        }
        happened = {each.number: [one.what for one in each.events] for each in records}
        packs, timings = ledger.newest_pack(), ledger.timings()
    return {
        "stands": stands, "said": said, "happened": happened, "packs": packs,
        "timings": sorted((item, each.took) for item, each in timings),
        "files": _files(order),
        "recipes": sorted(each.name for each in top.glob("shop/recipes/*.toml")),
    }  # fmt: skip


_UNLIKE = ("contents.json", *LEDGER_FILES)
"""Files that are other ones after every change."""

_DATED = ("record-copies", "to-engrave-not")


def _files(order: Path) -> dict[str, str]:
    """Return the digests of all files of an order that are the same whenever they are made."""
    found = {}
    for path in sorted(order.rglob("*")):
        name = path.relative_to(order)
        if path.is_file() and name.parts[0] not in _DATED and path.name not in _UNLIKE:
            is_dated = name.parts[0] == "proof-pack"  # says when it was made
            found[str(name)] = "" if is_dated else digest_of(path.read_bytes())
    return found


def wrong_in_tray(order: Path) -> list[str]:
    """Return what lies in the folder to engrave from and is not released, as it was confirmed."""
    with open_ledger(order) as ledger:
        records = ledger.records()
    right = {
        each.artwork_digest for each in records if each.standing is Standing.RELEASED
    }  # fmt: skip
    tray = order / "to-engrave"
    return [
        path.name for path in (sorted(tray.iterdir()) if tray.is_dir() else [])
        if path.name != "contents.json" and not path.name.endswith(".part")
        and digest_of(path.read_bytes()) not in right
    ]  # fmt: skip


def left_over(top: Path) -> list[str]:
    """Return what lies about half done, and files of cups that there are no longer.

    Beside recipes a part may stay that could not be removed: nobody reads it.
    """
    found = [*top.rglob(".staged-*"), *top.rglob("*.part"), *top.rglob("*-journal")]
    with open_ledger(top / "concert") as ledger:
        cups = {each.number for each in ledger.records() if not each.gone}
    for path in top.glob("concert/merged/*/*"):
        if (number := path.name.partition("-")[0]).isdecimal() and int(number) not in cups:
            found.append(path)
    return sorted(str(path.relative_to(top)) for path in found if path.parent.name != "recipes")
