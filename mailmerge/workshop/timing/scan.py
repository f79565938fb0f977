"""The head's way over an artwork: its lines, and how long it takes to run them.

A head runs to and fro over the artwork, a line at a time. It needs a run-up to its speed before the
ink and brakes behind it; then it moves on to the next line that has ink, and runs that backwards.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mailmerge.lettering import Outline
from mailmerge.lettering.flat import flattened, following
from mailmerge.lettering.outline import joined
from mailmerge.machines.motion import Motion

Floats = NDArray[np.float64]

_STRAY = 0.005
"""Millimetres that a chord may lie from its curve: a twentieth of a line interval."""


@dataclass(frozen=True, eq=False)
class Lines:
    """The lines of one pass that have ink, in the order in which they are run; mm on the page."""

    at: Floats
    """Where each lies, across the lines."""
    low: Floats
    high: Floats
    """From where to where its ink reaches. What lies between is swept at the same speed."""

    def __len__(self) -> int:
        return len(self.at)


def scan_lines(outlines: Iterable[Outline], interval: float, first: int) -> Lines:
    """Return the lines of one pass over outlines.

    Parameters
    ----------
    outlines
        On the machine's page, in mm.
    interval
        From line to line, in mm; the first one lies half of it inside the ink.
    first
        The page's coordinate along the lines: 0 for x, 1 for y.
    """
    starts, counts = flattened(joined([*outlines]), _STRAY)
    if not len(starts):
        return Lines(np.empty(0), np.empty(0), np.empty(0))
    ends = starts[following(counts)]
    u0, u1, t0, t1 = starts[:, first], ends[:, first], starts[:, 1 - first], ends[:, 1 - first]
    origin = min(t0.min(), t1.min()) + interval / 2
    # An edge crosses the lines from its lower end on up to, but not at, its upper one.
    nearest = np.ceil((np.minimum(t0, t1) - origin) / interval - 1e-9).astype(np.int64)
    beyond = np.ceil((np.maximum(t0, t1) - origin) / interval - 1e-9).astype(np.int64)
    counts = beyond - nearest
    edge = np.repeat(np.arange(len(counts)), counts)
    line = np.arange(counts.sum()) - np.repeat(np.cumsum(counts) - counts, counts) + nearest[edge]
    share = (origin + line * interval - t0[edge]) / (t1[edge] - t0[edge])
    crossing = u0[edge] + share * (u1[edge] - u0[edge])
    count = int(beyond.max(initial=0))
    low, high = np.full(count, np.inf), np.full(count, -np.inf)
    np.minimum.at(low, line, crossing)
    np.maximum.at(high, line, crossing)
    inked = np.flatnonzero(low <= high)
    return Lines(origin + inked * interval, low[inked], high[inked])


def seconds_of(
    lines: Lines, passes: int, motion: Motion, home: tuple[float, float] = (0.0, 0.0)
) -> float:
    """Return the seconds that a head takes over some passes, from its start and back to it.

    Each line takes v / a to speed up before its ink, its length over v, and v / a to brake. Between
    two lines both axes move at once. Each pass begins at the first line again.

    Parameters
    ----------
    home
        Where the head starts: along and across the lines, in mm.
    """
    if not len(lines):
        return 0.0
    run_up = motion.along.run_up(motion.speed)
    forward = np.arange(len(lines)) % 2 == 0
    low, high = lines.low - run_up, lines.high + run_up
    begin, end = np.where(forward, low, high), np.where(forward, high, low)
    running = (lines.high - lines.low) / motion.speed + 2 * motion.along.to_speed(motion.speed)

    def moved(along: Floats, across: Floats) -> float:
        return float(np.maximum(motion.along.move(along), motion.across.move(across)).sum())

    one_pass = float(running.sum()) + moved(begin[1:] - end[:-1], np.diff(lines.at))
    back = moved(begin[:1] - end[-1:], lines.at[:1] - lines.at[-1:])
    out = moved(begin[:1] - home[0], lines.at[:1] - home[1])
    last = moved(end[-1:] - home[0], lines.at[-1:] - home[1])
    return passes * one_pass + (passes - 1) * back + out + last
