"""The machine that engraves: what of it decides whether artwork can be engraved."""

from mailmerge.machines.model import DEFAULT_MACHINE, Machine

__all__ = ["DEFAULT_MACHINE", "Machine"]
