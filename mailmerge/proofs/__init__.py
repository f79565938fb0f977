"""Proofs: the picture of each item that the client confirms, and of fonts to choose from."""

from mailmerge.proofs.proof import Facts, draw_proof
from mailmerge.proofs.specimen import Sample, draw_specimen

__all__ = ["Facts", "Sample", "draw_proof", "draw_specimen"]
