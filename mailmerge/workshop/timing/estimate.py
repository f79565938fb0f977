"""How long cups take: worked out from the artwork itself, and mended by what the clock has said."""

from __future__ import annotations

import datetime as dt
import math
import statistics
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from mailmerge.artwork import read_outlines
from mailmerge.machines import Machine
from mailmerge.machines.motion import motion_mark, motion_of
from mailmerge.workshop.settings.recipes import Settings
from mailmerge.workshop.shop.hours import WEEKDAYS, Slot, scheduled
from mailmerge.workshop.shop.shop import Shop
from mailmerge.workshop.timing import words
from mailmerge.workshop.timing.scan import scan_lines, seconds_of
from mailmerge.workshop.timing.tally import Timed

ENOUGH = 3
"""Cups that were timed, from which on a machine's overhead is taken from them."""


@dataclass(frozen=True, slots=True)
class Engraving:
    """What the profile and the settings say about engraving one item."""

    seconds: float
    lines: int
    """Of all passes together."""


@dataclass(frozen=True, slots=True)
class Overhead:
    """What a machine takes for each line beyond what its profile says."""

    seconds: float = 0.0
    """For each line; below 0 where the profile is too slow."""
    share: float = 0.0
    """What the timed cups took beyond their profile, as a share of what it says."""
    cups: int = 0
    """From how many timed cups; 0 where there are too few, and nothing is added."""
    median_error: float = 0.0
    worst_error: float = 0.0
    """As a share of the time taken, of each cup foretold from the others alone; 0 without cups."""

    def added_to(self, engraving: Engraving) -> float:
        """Return the seconds that an item takes on this machine."""
        return max(0.0, engraving.seconds + self.seconds * engraving.lines)


def engraving_of(
    artwork: bytes,
    machine: Machine,
    settings: Settings,
    mouth: str | None,
    start: tuple[float, float],
) -> Engraving:
    """Return how long an artwork file takes, guides left out.

    Parameters
    ----------
    start
        Where the head starts and ends: x and y on the artwork's page, in mm.
    """
    motion = motion_of(machine, settings.speed, mouth)
    lines = scan_lines(read_outlines(artwork).values(), settings.interval, motion.first)
    home = start[motion.first], start[1 - motion.first]
    seconds = seconds_of(lines, settings.passes, motion, home)
    return Engraving(seconds, len(lines) * settings.passes)


def overhead_of(timed: Iterable[Timed], machine: Machine) -> Overhead:
    """Return what a machine takes for each line beyond its profile.

    Least squares through the origin of what the clock has said beyond what was worked out, over
    the number of lines: s = sum(n d) / sum(n^2). Its error is told from each cup left out in turn.
    Cups that were timed before the profile was changed are left out.
    """
    mark = motion_mark(machine)
    cups = [
        each for each in timed
        if each.machine.casefold() == machine.name.casefold() and each.motion == mark
    ]  # fmt: skip
    if len(cups) < ENOUGH:
        return Overhead()
    errors = []
    for at, cup in enumerate(cups):
        foretold = cup.worked_out + cup.lines * _slope(cups[:at] + cups[at + 1 :])
        errors.append(abs(foretold - cup.took) / cup.took)
    worked_out = math.fsum(cup.worked_out for cup in cups)
    share = math.fsum(cup.took for cup in cups) / worked_out - 1
    return Overhead(_slope(cups), share, len(cups), statistics.median(errors), max(errors))


def _slope(cups: list[Timed]) -> float:
    beyond = math.fsum(cup.lines * (cup.took - cup.worked_out) for cup in cups)
    return beyond / math.fsum(cup.lines**2 for cup in cups)


@dataclass(frozen=True)
class Plan:
    """When a batch is done."""

    setup: Slot
    cups: Mapping[int, Slot]
    """By item."""
    done: dt.datetime
    """With the last cup cleaned and packed; the others are while the next one runs."""
    past_closing: tuple[int, ...]
    """Items that take longer than any open span."""

    def is_ready_by(self, due: dt.date) -> bool:
        """Whether it is done by the end of the due day."""
        return (self.done - dt.timedelta(microseconds=1)).date() <= due

    @property
    def minutes(self) -> float:
        """How long setting up and all cups take at the machine, waiting included."""
        slots = (self.setup, *self.cups.values())
        return sum((slot.end - slot.start).total_seconds() for slot in slots) / 60


def defaults_of_time(shop: Shop) -> list[str]:
    """Return in words which of a plan's numbers are defaults, because ``shop.toml`` is silent."""
    minutes = shop.values.minutes
    found = [
        words.default_minutes(key, getattr(minutes, key))
        for key in ("setup", "loading", "handling")
        if not shop.says(f"minutes.{key}")
    ]
    days = [day for day in WEEKDAYS if day not in shop.values.hours.model_fields_set]
    if len(days) == len(WEEKDAYS):
        found.append(words.DEFAULT_HOURS)
    elif days:
        found.append(words.default_days(days))
    return found


def plan_of(shop: Shop, engraving: Mapping[int, float], start: dt.datetime) -> Plan:
    """Return when each cup of a batch is at the machine, by the shop's hours.

    While one is engraved, the one before is cleaned and packed; where that takes longer, the
    machine waits.

    Parameters
    ----------
    engraving
        Seconds at the machine for each item, in their order.
    start
        From when on; local time by the clock in the shop, without a zone.
    """
    minutes = shop.values.minutes
    at_machine = {
        item: minutes.loading + max(seconds / 60, minutes.handling if at else 0.0)
        for at, (item, seconds) in enumerate(engraving.items())
    }
    work = [minutes.setup, *at_machine.values(), minutes.handling]
    setup, *cups, last = scheduled(shop.values.hours, start, work)
    longest = shop.values.hours.longest
    return Plan(
        setup,
        dict(zip(at_machine, cups, strict=True)),
        last.end,
        tuple(item for item, length in at_machine.items() if length > longest),
    )
