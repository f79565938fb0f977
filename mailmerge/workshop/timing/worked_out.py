"""How long artwork takes, kept by what that comes from: the lines of a file are counted once."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping

from mailmerge.machines import Machine
from mailmerge.machines.motion import motion_of
from mailmerge.workshop.settings.recipes import Settings
from mailmerge.workshop.timing.estimate import Engraving, engraving_of

_MOST = 20_000
"""Times that are kept; beyond them all are forgotten."""

_kept: dict[str, Engraving] = {}


def mark_of(
    artwork: bytes,
    machine: Machine,
    settings: Settings,
    mouth: str | None,
    start: tuple[float, float],
) -> str:
    """Return what the time of an artwork file is kept by: a digest of all that it comes from."""
    motion = motion_of(machine, settings.speed, mouth)
    told = repr((motion, settings.interval, settings.passes, start)).encode()
    return hashlib.sha256(hashlib.sha256(artwork).digest() + told).hexdigest()


def worked_out(
    artwork: bytes,
    machine: Machine,
    settings: Settings,
    mouth: str | None,
    start: tuple[float, float],
) -> Engraving:
    """Return what :func:`engraving_of` does, once for the same file in the same way."""
    mark = mark_of(artwork, machine, settings, mouth, start)
    if mark not in _kept:
        keep({mark: engraving_of(artwork, machine, settings, mouth, start)})
    return _kept[mark]


def keep(found: Mapping[str, Engraving]) -> None:
    """Keep times that were worked out, in this process or in another."""
    if len(_kept) + len(found) > _MOST:
        _kept.clear()
    _kept.update(found)


def kept() -> dict[str, Engraving]:
    """Return the times that are kept, by :func:`mark_of`."""
    return dict(_kept)
