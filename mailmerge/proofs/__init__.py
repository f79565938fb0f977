"""Proofs: the picture of an item that the client confirms."""

from mailmerge.proofs.proof import Facts, draw_proof

__all__ = ["Facts", "draw_proof"]
