from .letters import draw_letters
from .loading import Load, draw_lying, seen_when_loaded, steps_of
from .ornaments import sheet_of_ornaments
from .proof import (
    Facts,
    Scene,
    draw_cup,
    draw_proof,
    draw_sketch,
    load_of,
    maker_copy,
)
from .specimen import Sample, draw_specimen
from .stage import View
from .to_scale import draw_to_scale, width_to_scale

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
    "sheet_of_ornaments",
    "steps_of",
    "width_to_scale",
]
