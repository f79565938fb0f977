"""What is said in Shop."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from mailmerge.findings import NOT_THERE
from mailmerge.units import counted, format_length, format_mm

if TYPE_CHECKING:
    from mailmerge.deeds.choosing import Blank, Machine

SHOP_PARTS = {
    "": "Values",
    "machines": "Machines",
    "blanks": "Blanks",
    "recipes": "Recipes",
    "cards": "Test cards",
    "fonts": "Fonts",
}
PARTS_OF_SHOP = "Parts of the shop"
SHOP_LEAD = "What holds for every order. Leave a field empty to go back to its default."
KEEP_VALUES, THE_DEFAULT = "Keep these", "back to the default"

GROUPS = (
    ("shop", "Your shop", "As it stands on quotes and run sheets.",
     ("shop.name", "shop.address", "shop.currency", "shop.locale")),
    ("new", "What a new order gets", "Each order can have others.",
     ("shop.machine", "shop.layout", "shop.paper")),
    ("hours", "When somebody is there", "A laser is never left alone: nothing runs outside these "
     "hours.", ("hours.",)),
    ("minutes", "Minutes of your time", "Beside what the machine takes.", ("minutes.",)),
    ("rates", "What an hour costs", "", ("rates.",)),
    ("price", "What a cup costs, and the price", "No tax rules are built in. Ask whoever does your "
     "taxes.", ("price.", "shop.spoilage")),
)  # fmt: skip
"""Short name, heading, what to know first, and the keys or their beginnings."""

LABELS = {
    "shop.name": "Name of the shop",
    "shop.address": "Address, telephone and e-mail, with a comma between lines",
    "shop.currency": "Currency, by its three letters, such as EUR",
    "shop.locale": "Language and country of amounts and days, such as en_GB",
    "shop.paper": "Paper",
    "shop.machine": "Machine",
    "shop.layout": "Layout",
    "shop.spoilage": "Blanks that you spoil out of 100, until enough cups are counted",
    **{f"hours.{day}": day.capitalize() for day in (
        "monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")},
    "minutes.setup": "Minutes for each order: list, proofs, settings, a test piece",
    "minutes.loading": "Minutes for each cup at the machine: load, focus, trace, unload",
    "minutes.handling": "Minutes for each cup elsewhere: unpack, clean, look, pack",
    "rates.labour": "An hour of your work",
    "rates.machine": "An hour of the machine, with you beside it because it never runs alone",
    "price.blank": "A blank",
    "price.consumables": "Consumables for each cup",
    "price.packaging": "Packaging for each cup",
    "price.fixed_fees": "Fixed fees for each order",
    "price.fees": "Fees, in percent of the price",
    "price.margin": "Margin, in percent of the price",
    "price.deposit": "Deposit, in percent of the total",
    "price.tax": "Tax in percent, at your own rate because none is built in",
}  # fmt: skip
"""What each value is called in a form, and where it is refused."""

_NOT_THERE = {
    "shop.machine": "There is no such machine, and no such file on this computer. Take one that is "
    "shown here, or give the whole place of a file.",
    "shop.layout": "There is no such layout any more. Take one that is shown here.",
}


def refused_value(key: str, why: str, rule: str) -> str:
    """Say why a value of the shop cannot be, under the name that its form has for it."""
    known = {name: head for name, head, _, _ in GROUPS} | LABELS
    called = known.get(key) or known[key.rpartition(".")[0]]
    return f"{called}: {_NOT_THERE[key] if rule == NOT_THERE else why}"


HOURS_HOW = "Such as 09:00-12:00, 13:00-17:00, or closed."


def value_from(source: str, value: str) -> str:
    """Say where a value of the shop comes from."""
    if not value:
        return "left empty"
    return {"shop.toml": "yours", "default": "a default"}[source]


MACHINES_LEAD = (
    "Typical profiles, and how a cup lies at the start. Compare one with your own machine before "
    "you trust it: what points where is what turns the names the right way up."
)
BLANK_ON_IT, ANY_BLANK = "Show them with this blank", "one that each of them takes"
FOR_NEW_ORDERS, TAKE_FOR_NEW_ORDERS = "for new orders", "Take it for new orders"
OWN_MACHINE, OWN_MACHINE_HOW = (
    "Your own machine",
    "A file with your machine's own numbers, on this computer. The manual says what stands in it.",
)
PATH_OF_MACHINE = "The file's place"
BLANKS_LEAD = (
    "All are drawn to one scale, each beside its wall unrolled. Hatched: what stays free. Dashed: "
    "what one sees at once. Sizes that are not your own are typical: measure a cup before you "
    "engrave it."
)
AROUND, HEIGHT, BAND, COATS, FACES, KEPT_FREE = (
    "Around", "Height", "May be engraved", "Coats", "Seen at once", "Kept free",
)  # fmt: skip
MAY_COME_OFF = "comes off to engrave"


def machine_facts(machine: Machine) -> list[tuple[str, str]]:
    """Return what a machine's profile says."""
    beams = {"diode": "diode laser", "co2": "CO2 laser", "fibre": "fibre laser"}
    facts = [
        ("Beam", beams.get(machine.beam or "", "not said")),
        ("Narrowest line", f"{machine.spot:g} mm"),
        ("Bed", f"{machine.bed.width:g} × {machine.bed.depth:g} mm"),
    ]
    if machine.speed:
        facts.append(("Fastest", f"{machine.speed:g} mm/s"))
    if machine.run_up is not None:
        facts.append(("Run-up to it", f"{machine.run_up:.1f} mm"))
    if rotary := machine.rotary:
        smallest, largest = rotary.smallest_diameter, rotary.largest_diameter
        facts += [
            ("Turns a cup with", {"chuck": "a chuck", "roller": "rollers"}[rotary.drive]),
            ("Takes, across", f"{smallest:g} to {largest:g} mm"),
            ("Longest wall", f"{rotary.length:g} mm"),
            ("Head above wall", f"{rotary.clearance:g} mm, in focus"),
        ]
    return facts


def lies_on(name: str, machine: str) -> str:
    """Say what a picture of a blank on a machine shows."""
    return f"How {name} lies on {machine} at the start: seen into its mouth, and from above"


def to_scale(name: str) -> str:
    """Say what a picture of a blank shows."""
    return f"{name} to scale, beside its wall unrolled"


def band(blank: Blank) -> str:
    """Say between which heights one may engrave."""
    return f"{format_mm(blank.band.from_)} to {format_mm(blank.band.to)} above the base"


def zones(blank: Blank) -> list[str]:
    """Say what of the wall is kept free, each zone by itself."""
    found = []
    for zone in blank.zones:
        if not zone.edge:
            continue
        room = "all around" if zone.goes_around else f"{format_mm(2 * zone.edge)} wide"
        part = zone.from_ > 0 or zone.to is not None
        top = blank.height if zone.to is None else zone.to
        heights = f", {format_mm(zone.from_)} to {format_mm(top)} above the base" if part else ""
        off = f", {MAY_COME_OFF}" if zone.comes_off else ""
        found.append(f"{zone.word}: {room}{heights}{off}")
    if blank.edge:
        found.append(f"edges: {format_mm(blank.edge)} each")
    return found


def face_width(who: str, width: float) -> str:
    """Say how wide a face is."""
    seen = {"drinker": "by whoever drinks", "onlookers": "by others", "opposite": "opposite"}
    return f"{format_mm(width)} {seen.get(who, who)}" if width else f"nothing {seen.get(who, who)}"


FONTS_LEAD = (
    "Each font in its own letters. Choose an order to see its shortest, longest and trickiest name "
    "in each, and what each lacks."
)
IN_NAMES_OF, NO_ORDERS_NAMES = "In the names of", "no order"
IN_THESE_WORDS = "Or in these words"
WRITES_ALL = "writes all names"
LACKS, AS_ONE_SET, WEIGHTS, LICENCE = "Lacks", "As one set", "Weights", "Licence"


def in_letters(family: str) -> str:
    """Say what a picture of a font shows."""
    return f"{family}, in its own letters"


def cannot_write(count: int) -> str:
    """Say how many names a font cannot write."""
    return f"cannot write {counted(count, 'name')}"


def too_long(count: int) -> str:
    """Say how many names do not fit."""
    return f"{counted(count, 'name')} too long"


def set_height(height: float | None) -> str:
    """Say how large the names of an order come out as one set."""
    return "no name fits" if height is None else f"letters {format_mm(height)} high"


def around(blank: Blank) -> str:
    """Say how large a blank is: around, at mouth and base where that differs, or across."""
    if blank.is_flat:
        return f"flat, {format_mm(blank.page_width)} wide"
    if blank.taper:
        mouth, base = blank.circumference_at(blank.height), blank.circumference_at(0.0)
        return f"{format_mm(mouth)} at the mouth, {format_mm(base)} at the base"
    across = format_mm(blank.page_width / math.pi)
    return f"{format_length(blank.page_width, blank.inches)} ({across} across)"


def high(blank: Blank) -> str:
    """Say how high a blank is."""
    leaning = f" along the wall, which leans by {abs(blank.tilt):.1f}°" if blank.taper else ""
    return f"{format_mm(blank.height)}{leaning}"
