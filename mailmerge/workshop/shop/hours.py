"""When the shop is open, and when work in it is done."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterable
from typing import Annotated, NamedTuple, Self

from pydantic import BeforeValidator, model_validator

from mailmerge.shelves import Model
from mailmerge.workshop.shop import words

Span = tuple[int, int]
"""From when to when on a day, in minutes from midnight."""

WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")

_SPAN = re.compile(r"(\d{1,2}):(\d\d)\s*[-–]\s*(\d{1,2}):(\d\d)")
_DAY = 24 * 60
_LOOK_AHEAD = 14
"""Days in which every shop that opens once a week has opened."""


def _parse_spans(value: object) -> tuple[Span, ...]:
    if not isinstance(value, str):
        raise ValueError(words.no_hours(value))
    if value.strip().casefold() in ("", "closed"):
        return ()
    spans: list[Span] = []
    for part in value.split(","):
        match = _SPAN.fullmatch(part.strip())
        numbers = [int(number) for number in match.groups()] if match else []
        if not numbers or numbers[1] > 59 or numbers[3] > 59:
            raise ValueError(words.no_hours(value))
        start, end = numbers[0] * 60 + numbers[1], numbers[2] * 60 + numbers[3]
        if not (spans[-1][1] if spans else 0) <= start < end <= _DAY:
            raise ValueError(words.hours_out_of_order(value))
        if spans and spans[-1][1] == start:
            start = spans.pop()[0]  # no break between them
        spans.append((start, end))
    return tuple(spans)


Spans = Annotated[tuple[Span, ...], BeforeValidator(_parse_spans)]

_OFFICE: tuple[Span, ...] = ((9 * 60, 17 * 60),)


class Hours(Model):
    """When somebody is in the shop on each day of the week: a laser never runs alone."""

    monday: Spans = _OFFICE
    tuesday: Spans = _OFFICE
    wednesday: Spans = _OFFICE
    thursday: Spans = _OFFICE
    friday: Spans = _OFFICE
    saturday: Spans = ()
    sunday: Spans = ()

    @model_validator(mode="after")
    def _opens(self) -> Self:
        if not any(self.on(day) for day in range(7)):
            raise ValueError(words.NEVER_OPEN)
        return self

    def on(self, weekday: int) -> tuple[Span, ...]:
        """Return the open spans of a day of the week, 0 for Monday."""
        spans: tuple[Span, ...] = getattr(self, WEEKDAYS[weekday])
        return spans

    def until(self, weekday: int, end: int) -> int:
        """Return how long a span goes on, in minutes from midnight of its day.

        One that ends at midnight goes on into the next day where that opens at midnight.
        """
        for more in range(1, _LOOK_AHEAD):
            following = self.on((weekday + more) % 7)
            if end != more * _DAY or not following or following[0][0] != 0:
                break
            end += following[0][1]
        return end

    @property
    def longest(self) -> int:
        """Minutes of the longest open span of the week."""
        return max(self.until(day, end) - start for day in range(7) for start, end in self.on(day))


class Slot(NamedTuple):
    """When a piece of work is done."""

    start: dt.datetime
    end: dt.datetime


def scheduled(hours: Hours, start: dt.datetime, minutes: Iterable[float]) -> list[Slot]:
    """Return when each of several pieces of work is done, one after the other.

    A piece is not left lying over closing time: what does not fit into the rest of an open span
    waits for the next one. What fits into none at all starts with a span and runs past its end.

    Parameters
    ----------
    start
        Local time, without a zone: what the clock in the shop says.
    minutes
        How long each piece takes.
    """
    slots: list[Slot] = []
    now = start
    for wanted in minutes:
        length = dt.timedelta(minutes=wanted)
        now = _opening(hours, now, min(wanted, hours.longest))
        slots.append(Slot(now, now + length))
        now = slots[-1].end
    return slots


def _opening(hours: Hours, now: dt.datetime, wanted: float) -> dt.datetime:
    """Return the first moment from which so many minutes are open without a break."""
    midnight = now.replace(hour=0, minute=0, second=0, microsecond=0)
    for day in range(-1, 2 * _LOOK_AHEAD):  # from yesterday on: its last span may go on
        today = midnight + dt.timedelta(days=day)
        for start, end in hours.on(today.weekday()):
            first = max(now, today + dt.timedelta(minutes=start))
            closing = today + dt.timedelta(minutes=hours.until(today.weekday(), end))
            if first + dt.timedelta(minutes=wanted) <= closing:
                return first
    raise AssertionError("a week has an open hour, and nothing longer than the longest is wanted")
