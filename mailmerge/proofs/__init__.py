"""Proofs: the picture of each item that the client confirms, and of fonts to choose from."""

from mailmerge.proofs.loading import Load, place_in_words, steps_of
from mailmerge.proofs.proof import Facts, Scene, draw_proof, maker_copy
from mailmerge.proofs.specimen import Sample, draw_specimen
from mailmerge.proofs.stage import View

__all__ = [
    "Facts",
    "Load",
    "Sample",
    "Scene",
    "View",
    "draw_proof",
    "draw_specimen",
    "maker_copy",
    "place_in_words",
    "steps_of",
]
