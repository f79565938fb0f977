"""Every value that a page of the desk shows is the one that the command line tells for programs.

One order is brought to where each place has something to say: cups that are engraved, spoiled,
released, confirmed, waiting, stopped, and one that somebody wants changed; a correction; a price.
Then the pages and the commands are asked at the same moment, and what stands on a page is compared
with the key of the JSON that tells the same.
"""

from __future__ import annotations

import datetime as dt
import html
import json
import re
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any, NamedTuple

import pytest
from desks import Visitor
from outside import file_of_the_test_machine, run, said
from shop import GUESTS, Shop, keep_recipe

from mailmerge.deeds import listing

LATE = [
    {"Name": "HANNELORE WEISS", "Role": "Oboe"},
    {"Name": "Bartholomew Featherstonehaugh-Cholmondeley Wellington Montgomery", "Role": "Tuba"},
]


class Told(NamedTuple):
    """What all commands tell of one moment, and what is in them."""

    commands: Mapping[str, Any]

    def standing(self, *wanted: str) -> list[dict[str, Any]]:
        """Return the items that stand so."""
        return [i for i in self.commands["status"]["items"] if i["standing"] in wanted]

    def item(self, number: int) -> dict[str, Any]:
        """Return what is checked of an item."""
        found = next(i for i in self.commands["check"]["items"] if i["item"] == number)
        return dict(found)

    def found(self, key: str) -> list[str]:
        """Return something of all findings that need a hand, by row."""
        return [str(f[key]) for i in self.commands["check"]["items"] for f in i["findings"]]

    def priced(self, key: str) -> list[str]:
        """Return an amount of the order's own quantity, and of the others."""
        return [str(each[key]) for each in self.commands["quote"]["priced"]]


class Shown(NamedTuple):
    """One thing on a page, and what the command line says of it."""

    place: str
    """Of an address: of the order, or of the desk where it begins with a stroke."""
    where: str
    """A pattern of the page's markup; its groups are what is shown."""
    command: str
    told: Callable[[Any, Told], object]
    """The same in that command's JSON; several in the page's order."""


def _texts(found: object) -> list[str]:
    """Return values of JSON as texts."""
    several = found if isinstance(found, list) else [found]
    return [f"{each:g}" if isinstance(each, float) else str(each) for each in several]


def _seen(markup: str, where: str) -> list[str]:
    """Return what stands at a place of a page, without markup."""
    found = re.finditer(where, " ".join(markup.split()))
    return [" | ".join(map(_text, each.groups())) for each in found]


def _text(markup: str) -> str:
    return " ".join(html.unescape(re.sub(r"<[^>]*>", " ", markup)).split())


def _plain(amount: str) -> str:
    """Return an amount of money as programs write it; all else as it is."""
    return amount[1:].replace(",", "") if amount.startswith("€") else amount


STANDS = {
    "waiting": "waits for a yes", "to change": "to change", "stopped": "stopped",
    "confirmed": "confirmed", "released": "to engrave", "engraved": "engraved",
    "spoiled": "to make again",
}  # fmt: skip
"""What pages call a standing."""

FROM = {"shop.toml": "yours", "default": "a default"}
EMPTY = "left empty"
ON_BILL = {"shop.toml and default": "your numbers, and defaults", "default": "a default"}


def _minutes(seconds: float) -> str:
    whole = int(seconds + 0.5)
    return f"{whole // 60}:{whole % 60:02d}"


def _choice(what: str) -> str:
    return rf'{what.capitalize()} <span class="number">(\d+)<'


def _fact(label: str) -> str:
    return rf"<dt>{label}</dt> ?<dd[^>]*>(.*?)</dd>"


def _sum(label: str) -> str:
    return rf'<p class="soft">{label}</p><p class="sum[^"]*">(.*?)</p>'


def _row(label: str) -> str:
    return rf'<th scope="row">{label}</th><td>.*?</td><td class="amount">(.*?)</td>'


def _of_run(key: str) -> Callable[[Any, Told], object]:
    return lambda run, _: run["cups"][0][key]


def _set(key: str) -> Callable[[Any, Told], object]:
    return lambda recipes, _: recipes[0][key]


LIST, ALL, CUP, BILL = "list", "list?show=all", "cups/1", "bill?quantities=12,48"
QUANTITY = r'<th scope="row" class="number">\d+</th>' + 4 * r'<td class="amount">%s</td>'
COLUMN = [QUANTITY % tuple("(.*?)" if at == column else ".*?" for at in range(4))
          for column in range(4)]  # fmt: skip

TABLE: Sequence[Shown] = [
    # List
    Shown(LIST, r"(\d+) rows: ", "check", lambda c, _: c["order"]["rows"]["guests"]),
    Shown(LIST, r"rows: (\d+) guests", "check", lambda c, _: c["order"]["rows"]["guests"]),
    Shown(LIST, r"guests, (\d+) cups", "check", lambda c, _: c["totals"]["items"]),
    Shown(LIST, r"cups\. (\d+) rows need", "check",
          lambda c, _: len({row for f in c["findings"] if f["severity"] != "note"
                            for row in f["rows"]})),
    Shown(LIST, r"<strong>List</strong><span>(\d+) rows need", "check",
          lambda c, _: sum(bool(i["findings"]) for i in c["items"])),
    Shown(ALL, r'id="row-(\d+)"', "status", lambda s, _: [i["row"] for i in s["items"]]),
    Shown(ALL, r'<dt>Name</dt><dd dir="auto">(.*?)</dd>', "check",
          lambda c, _: [i["guest"]["name"] for i in c["items"]]),
    Shown(ALL, r'<div class="found (?:stop|warning)"><p title="[^"]*">(.*?)</p>', "check",
          lambda _, told: told.found("message")),
    Shown(ALL, r'<div class="found (stop|warning)">', "check",
          lambda _, told: told.found("severity")),
    Shown(LIST, r'found stop"><p title="[^"]*">.*?</p><p>(.*?)(?: <a[^>]*>See its cup.*?)?</p>',
          "check", lambda c, _: c["findings"][0]["advice"]),
    Shown(LIST, r'<s dir="auto">(.*?)</s>', "status",
          lambda s, _: s["items"][4]["corrections"][0]["was"]),
    Shown(LIST, r'</s> → <strong dir="auto">(.*?)</strong>', "status",
          lambda s, _: s["items"][4]["corrections"][0]["text"]),
    Shown(LIST, r'<p class="small">([^<]*?), [^,]*</p> <form[^>]*take-back', "status",
          lambda s, _: s["items"][4]["corrections"][0]["by"]),
    # Cups
    Shown("cups", r'class="lead">(\d+) of', "check", lambda c, _: c["totals"]["ready"]),
    Shown("cups", r'class="lead">\d+ of (\d+) cups', "check", lambda c, _: c["totals"]["items"]),
    *(Shown("cups", _choice(called), "status",
            lambda s, _, standing=standing: s["totals"][standing])  # type: ignore[misc]
      for standing, called in STANDS.items()),
    Shown("cups", r'<span class="small soft number">(\d+)</span> <span class="tag', "status",
          lambda _, told: [i["item"] for i in _worst_first(told)]),
    Shown("cups", r'class="about"> <span class="name" dir="auto">(.*?)</span>', "status",
          lambda _, told: [i["name"] for i in _worst_first(told)]),
    Shown("cups", r'number">\d+</span> <span class="tag[^"]*">(.*?)</span>', "status",
          lambda _, told: [STANDS[i["standing"]] for i in _worst_first(told)]),
    Shown("cups", r'<span class="small why" dir="auto">(.*?)</span>', "check",
          lambda _, told: [found[0]["message"] for i in _worst_first(told)
                           if (found := told.item(i["item"])["findings"])]),
    Shown(CUP, r'<span class="text" dir="auto">(.*?)</span>', "check",
          lambda c, _: [" ".join(line["rows"]) for line in c["items"][0]["lines"]]),
    Shown(CUP, r"letters ([\d.]+) mm high", "check",
          lambda c, _: [line["letter_height_mm"] for line in c["items"][0]["lines"]]),
    Shown(CUP, r"mm high, in (.*?)<", "check",
          lambda c, _: [line["font"] for line in c["items"][0]["lines"]]),
    Shown(CUP, _fact("Face"), "check", lambda c, _: c["items"][0]["side"].capitalize()),
    Shown(CUP, _fact("Held by"), "check", lambda c, _: f"the {c['items'][0]['held_by']} hand"),
    Shown(CUP, _fact("Cup"), "status",
          lambda s, _: f"{s['items'][0]['blank']}, {s['items'][0]['coat']}"),
    Shown(CUP, r'dir="auto">(?:[^<]*\(file\): )?(yes|released|engraved)\b[^<]*</span></li>',
          "status", lambda s, _: [s["items"][0]["answers"][0]["answer"],
                                  *(e["what"] for e in s["items"][0]["events"])]),
    Shown("cups/2", r'dir="auto">spoiled: (.*?)</span>', "status",
          lambda s, _: s["items"][1]["events"][-1]["reason"]),
    # Client
    Shown("client", r"(\d+) answered", "status",
          lambda s, _: sum(bool(i["answers"]) and i["wanted"] is None for i in s["items"])),
    Shown("client", r"answered, (\d+) open", "status", lambda s, _: s["totals"]["waiting"]),
    Shown("client", r"(\d+) wish for you", "status",
          lambda s, _: sum(i["wanted"] is not None for i in s["items"])),
    Shown("client", r'id="cup-(\d+)"', "status",
          lambda s, _: [i["item"] for i in s["items"] if i["wanted"]]),
    Shown("client", r"writes: (.*?)</p>", "status",
          lambda s, _: s["items"][3]["answers"][-1]["words"]),
    Shown("client", r'<p dir="auto">([^<]*) writes:', "status",
          lambda s, _: s["items"][3]["answers"][-1]["by"]),
    Shown("client", r"<dt>On the cup</dt><dd[^>]*>(.*?)</dd>", "status",
          lambda s, _: s["items"][3]["texts"]["name"]),
    Shown("client", r'name="text.name" value="(.*?)">', "status",
          lambda s, _: s["items"][3]["wanted"]["name"]),
    Shown("client", r'type="checkbox" name="item" value="(\d+):', "status",
          lambda _, told: [i["item"] for i in told.standing("waiting")]),
    Shown("client", r'<a class="open-cup" .*?<span class="name" dir="auto">(.*?)</span>', "status",
          lambda _, told: [i["name"] for i in
                           told.standing("engraved", "spoiled", "released", "confirmed")]),
    Shown("client", r'<a class="open-cup" .*?class="soft small">\d+, (.*?)</span>', "status",
          lambda _, told: [i["answers"][-1]["by"] for i in
                           told.standing("engraved", "spoiled", "released", "confirmed")]),
    Shown("client", r"(\d+) cup is stopped and not in it", "status",
          lambda s, _: s["totals"]["stopped"]),
    # Bench
    Shown("bench", r">(\d+) of \d+ cups? engraved", "status", lambda s, _: s["totals"]["engraved"]),
    Shown("bench", r"engraved, (\d+) to go<", "status", lambda s, _: s["totals"]["released"]),
    Shown("bench", r"<h2>(\d+) cups can be released", "status",
          lambda s, _: s["totals"]["confirmed"] + s["totals"]["spoiled"]),
    Shown("bench", r'<span class="tag" dir="auto">(\d+ .*?)</span>', "status",
          lambda _, told: [f"{i['item']} {i['name']}"
                           for i in told.standing("confirmed", "spoiled")]),
    Shown("bench", r'<h1 dir="auto">(.*?)</h1>', "run-sheet", _of_run("name")),
    Shown("bench", r'<p class="file" id="file">(.*?)</p>', "run-sheet", _of_run("file")),
    Shown("bench", r"It must measure ([\d.]+) × ", "run-sheet",
          lambda run, _: f"{run['cups'][0]['width_mm']:.1f}"),
    Shown("bench", r" × ([\d.]+) mm", "run-sheet",
          lambda run, _: f"{run['cups'][0]['height_mm']:.1f}"),
    Shown("bench", r'<figcaption><ol>(.*?)</ol>', "run-sheet",
          lambda run, _: " ".join(run["cups"][0]["steps"])),
    Shown("bench", r'<span class="unseen">([^<]*)</span><span class="word', "run-sheet",
          lambda run, _: [run["cups"][0]["name"], *run["cups"][0]["texts"]]),
    Shown("bench", r"About (\d+:\d+) at the machine", "run-sheet",
          lambda run, _: _minutes(run["cups"][0]["seconds"])),
    Shown("bench", r"</h1> <p class=\"soft\">(.*?), facing", "run-sheet",
          lambda run, _: f"{run['lay_out'][0]['blank']}, {run['lay_out'][0]['coat']}"),
    Shown("bench", _fact("Power"), "recipes", lambda r, _: f"{r[0]['power %']} %"),
    Shown("bench", _fact("Speed"), "recipes", lambda r, _: f"{r[0]['speed mm/s']} mm/s"),
    Shown("bench", _fact("Passes"), "recipes", _set("passes")),
    Shown("bench", _fact("Line to line"), "recipes", lambda r, _: f"{r[0]['interval_mm']} mm"),
    Shown("bench", r"<span><bdi>(\d+ .*?)</bdi></span></label>", "status",
          lambda _, told: [f"{i['item']} {i['name']}" for i in told.standing("waiting")]),
    # Bill
    Shown(BILL, _sum("The client pays"), "quote", lambda _, told: told.priced("total")[0]),
    Shown(BILL, _sum("Left for you"), "quote", lambda _, told: told.priced("left")[0]),
    Shown(BILL, _sum("Blanks to buy"), "quote",
          lambda q, _: q["priced"][0]["quantity"] + q["priced"][0]["spares"]),
    Shown(BILL, r"<p>(\d+) cups at", "quote", lambda _, told: told.priced("quantity")[0]),
    Shown(BILL, r"<p>\d+ cups at (.*?)</p>", "quote", lambda _, told: told.priced("each")[0]),
    Shown(BILL, r"<p>(\d+) spare among them", "quote", lambda _, told: told.priced("spares")[0]),
    Shown(BILL, _sum("At the machine, without loading"), "time",
          lambda time, _: _minutes(time["seconds"])),
    Shown(BILL, r"Done \w+ \d+ \w+ \d+, (\d\d:\d\d), if", "time",
          lambda time, _: time["done"].partition("T")[2]),
    Shown(BILL, r"<p>([\d.]+) % of the price; wanted", "quote",
          lambda q, _: f"{float(q['priced'][0]['margin']):.1f}"),
    *(Shown(BILL, _row(label), "quote",
            lambda q, _, at=at: q["priced"][0]["costs"][at]["amount"])  # type: ignore[misc]
      for at, label in enumerate(["Test cup, black", "Machine", "Labour", "Consumables",
                                  "Packaging", "Fixed fees"])),
    Shown(BILL, r'<th scope="row">Machine</th><td>(.*?)</td>', "quote",
          lambda q, _: q["priced"][0]["costs"][1]["how"]),
    Shown(BILL, r'<th scope="row">Labour</th>.*?<td class="soft">(.*?)</td>', "quote",
          lambda q, _: ON_BILL[q["priced"][0]["costs"][2]["from"]]),
    *(Shown(BILL, _row(label), "quote",
            lambda _, told, key=key: told.priced(key)[0])  # type: ignore[misc]
      for label, key in {"All costs": "cost", "A cup": "each", "Without tax": "net", "Tax": "tax",
                         "Deposit": "deposit", "Fees": "fees"}.items()),
    Shown(BILL, r'<th scope="row" class="number">(\d+)</th>', "quote",
          lambda _, told: told.priced("quantity")),
    *(Shown(BILL, COLUMN[at], "quote", lambda _, told, key=key: told.priced(key))  # type: ignore[misc]
      for at, key in ((0, "each"), (2, "total"), (3, "left"))),
    Shown(BILL, COLUMN[1], "quote", lambda _, told: [f"{off} %" for off in told.priced("off")]),
    # Orders
    Shown("/", r'<span class="name" dir="auto">(.*?)</span>', "known",
          lambda k, _: [each["order"] for each in k]),
    Shown("/", r'<span class="soft">due (.*?)</span>', "known",
          lambda k, _: [day_in_words(each["due"]) for each in k]),
    Shown("/", r"Cups</span> (\d+) stopped", "status", lambda s, _: s["totals"]["stopped"]),
    Shown("/", r"Client</span> (\d+) open", "status", lambda s, _: s["totals"]["waiting"]),
    Shown("/", r"open, (\d+) wish", "status", lambda s, _: s["totals"]["to change"]),
    Shown("/", r"Bench</span> (\d+) to release", "status",
          lambda s, _: s["totals"]["confirmed"] + s["totals"]["spoiled"]),
    Shown("/", r"to release, (\d+) to engrave", "status", lambda s, _: s["totals"]["released"]),
    # Shop
    Shown("/shop", r'name="seen\.([a-z._]+)" value="(.*?)">.*?<small>(.*?)</small>', "shop",
          lambda shop, _: [f"{v['key']} | {v['value']} | {FROM[v['from']] if v['value'] else EMPTY}"
                           for v in shop]),
    Shown("/shop/blanks", r'<section class="card"><div class="head"><h2>(.*?)</h2>.*?'
          r'<dt>Height</dt><dd>([\d.]+) mm.*?<dd class="coats">(.*?)</dd>', "blanks",
          lambda blanks, _: [f"{b['what']} | {b['height_mm']:g} | {b['coats'].replace(',', '')}"
                             for b in blanks]),
    Shown("/shop/machines", r'<div class="head"><h2>(.*?)</h2>.*?' + _fact("Narrowest line")
          + ".*?" + _fact("Bed"), "machines",
          lambda machines, _: [f"{m['what']} | {m['spot_mm']:g} mm | "
                               f"{m['bed_mm'].replace('x', '×')} mm" for m in machines]),
    Shown("/shop/recipes", r'<li class="card stack"><div class="head"><h2>(.*?)</h2>', "recipes",
          lambda recipes, _: [each["coat"] for each in recipes if each["holds"]]),
    Shown("/shop/recipes", _fact("Speed"), "recipes",
          lambda recipes, _: [f"{r['speed mm/s']} mm/s" for r in recipes if r["holds"]]),
]  # fmt: skip

SORTED = {"/shop", "/shop/machines"}
"""Pages that put what they show into an order of their own."""


def _worst_first(told: Told) -> list[dict[str, Any]]:
    """Return the items with what needs a hand first; what is engraved already needs none."""

    def rank(item: dict[str, Any]) -> int:
        if item["standing"] in ("to change", "stopped", "engraved"):
            return 3 if item["standing"] == "engraved" else 0
        found = [each["severity"] for each in told.item(item["item"])["findings"]]
        return min((("stop", "warning", "note").index(each) for each in found), default=3)

    return sorted(told.commands["status"]["items"], key=lambda each: (rank(each), each["item"]))


def day_in_words(day: str) -> str:
    """Return a day as pages write it."""
    told = dt.date.fromisoformat(day)
    return f"{told:%a} {told.day} {told:%b %Y}"


@pytest.fixture
def busy(packed: Shop, tmp_path: Path, shop_folder: Path) -> Shop:
    """Return an order with something to say at each place."""
    keep_recipe(machine=file_of_the_test_machine(tmp_path), coat="black", power=50, speed=100)
    (shop_folder / "shop.toml").write_text('[rates]\nlabour = "31.70"\n', encoding="utf-8")
    packed.yes(1)
    packed.confirm(2, 3)
    packed.release(1, 2, 3)
    packed.engraved(1)
    said("spoiled", packed.folder, 2, "--reason", "slipped <b>in</b> the chuck")
    order = packed.folder / "order.toml"
    text = order.read_text(encoding="utf-8")
    order.write_text(text.replace("[order]", "[order]\ndue = 2027-02-05"), encoding="utf-8")
    packed.list([*GUESTS, *LATE])
    packed.merge()
    wanted = listing.Wanted(5, {"role": "Piccolo"}, {"role": "Flute"})
    listing.correct(packed.folder, wanted=[wanted], by="Ina Holm", jobs=1)
    packed.pack()
    packed.confirm(5)
    packed.wish(4, "with a c & no hyphen", name="Dag Falck")
    return packed


def test_every_value_is_what_the_command_line_says(busy: Shop) -> None:
    visitor, folder = Visitor(busy.folder), busy.folder
    calls: dict[str, tuple[object, ...]] = {
        "status": (folder,), "check": (folder,), "time": (folder,), "run-sheet": (folder,),
        "quote": (folder, "--quantity", "12,48"), "known": (), "shop": (), "blanks": (),
        "machines": (), "recipes": (),
    }  # fmt: skip
    told = Told({name: json.loads(run(name, *of, "--json").stdout) for name, of in calls.items()})
    pages = {
        place: (visitor.client.get(place) if place[0] == "/" else visitor.asks(place)).text
        for place in {each.place for each in TABLE}
    }
    differ = []
    for each in TABLE:
        seen = [*map(_plain, _seen(pages[each.place], each.where))]
        seen = sorted(seen) if each.place in SORTED else seen
        wanted = _texts(each.told(told.commands[each.command], told))
        wanted = sorted(wanted) if each.place in SORTED else wanted
        if not seen or seen != wanted:
            differ.append((each.place, each.where, seen, wanted))
    assert differ == []
    assert len(TABLE) > 80
