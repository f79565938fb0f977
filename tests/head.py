"""A head that is moved in small steps of time, to check estimates.

It shares nothing with them but the numbers of the machine. It does not know of run-ups or closed
forms: at every step it speeds up, keeps its speed or brakes, whatever still lets it stop where it
has to. Its lines come from shapely.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import shapely

STEP = 1e-4
"""Seconds. So a move comes out at most 0.3 % longer than it is."""


@dataclass
class Axis:
    speed: float
    acceleration: float


def seconds(
    way: float, speed: float, acceleration: float
) -> tuple[float, list[tuple[float, float]]]:
    """Return how long a move from rest to rest takes, and (place, speed) at each step."""
    way = abs(way)
    at = velocity = elapsed = 0.0
    trace = []
    while way - at > 1e-6:
        brake = velocity * velocity / (2 * acceleration)
        if way - at <= brake + velocity * STEP:
            velocity = math.sqrt(max(2 * acceleration * (way - at), 0.0))
            velocity = max(velocity - acceleration * STEP, acceleration * STEP)
        else:
            velocity = min(speed, velocity + acceleration * STEP)
        at += velocity * STEP
        elapsed += STEP
        trace.append((at, velocity))
    return elapsed, trace


def lines_of(
    shape: shapely.Geometry, interval: float, across: int
) -> list[tuple[float, float, float]]:
    """Return (place, from, to) of every line that has ink; ``across`` is 0 for x, 1 for y."""
    left, low, right, high = shape.bounds
    start, end = ((left, right), (low, high))[across]
    along = ((low - 1, high + 1), (left - 1, right + 1))[across]
    found = []
    for k in range(math.ceil((end - start) / interval)):
        at = start + (k + 0.5) * interval
        ends = [(at, v) if across == 0 else (v, at) for v in along]
        ink = shape.intersection(shapely.LineString(ends))
        if not ink.is_empty:
            box = ink.bounds
            found.append((at, box[1 - across], box[3 - across]))
    return found


def run(
    shape: shapely.Geometry, interval: float, passes: int, speed: float,
    along: Axis, across: Axis, across_is: int,
) -> float:  # fmt: skip
    """Return the seconds that the head needs from (0, 0) over all passes and back."""
    run_up = speed**2 / (2 * along.acceleration)
    here = [0.0, 0.0]  # along, across
    total = 0.0

    def go(to: tuple[float, float]) -> None:
        nonlocal total
        total += max(
            seconds(to[0] - here[0], along.speed, along.acceleration)[0],
            seconds(to[1] - here[1], across.speed, across.acceleration)[0],
        )
        here[:] = to

    for _ in range(passes):
        for number, (at, low, high) in enumerate(lines_of(shape, interval, across_is)):
            begin, end = low - run_up, high + run_up
            if number % 2:
                begin, end = end, begin
            go((begin, at))
            took, trace = seconds(end - begin, speed, along.acceleration)
            # All of the ink is swept at full speed: that is what the run-up is for.
            inside = [v for x, v in trace if run_up + 0.01 < x < run_up + (high - low) - 0.01]
            assert not inside or min(inside) > speed * 0.999
            total += took
            here[0] = end
    go((0.0, 0.0))
    return total
