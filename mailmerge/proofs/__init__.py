"""Proofs: the picture of each item that the client confirms, and of fonts to choose from."""

from mailmerge.proofs.letters import draw_letters
from mailmerge.proofs.loading import Load, draw_lying, seen_when_loaded, steps_of
from mailmerge.proofs.proof import (
    Facts,
    Scene,
    draw_cup,
    draw_proof,
    draw_sketch,
    load_of,
    maker_copy,
)
from mailmerge.proofs.specimen import Sample, draw_specimen
from mailmerge.proofs.stage import View
from mailmerge.proofs.to_scale import draw_to_scale, width_to_scale

__all__ = [
    "Facts",
    "Load",
    "Sample",
    "Scene",
    "View",
    "draw_cup",
    "draw_letters",
    "draw_lying",
    "draw_proof",
    "draw_sketch",
    "draw_specimen",
    "draw_to_scale",
    "load_of",
    "maker_copy",
    "seen_when_loaded",
    "steps_of",
    "width_to_scale",
]
