"""The proof of one item: a picture to confirm letter by letter.

The lettering on it is the path data read back out of the artwork file's own bytes, so the picture
cannot disagree with the file.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from mailmerge.artwork import lifted, read_outlines
from mailmerge.blanks import Blank, Coat, Face
from mailmerge.lettering import Outline
from mailmerge.machines import Loading
from mailmerge.proofs import words
from mailmerge.proofs.canvas import Canvas
from mailmerge.proofs.loading import Load, draw_load, seen_when_loaded
from mailmerge.proofs.measures import CUP_PICTURE, HEIGHT, MARGIN, WIDTH
from mailmerge.proofs.palette import INK, RED, SOFT, TINT
from mailmerge.proofs.png import Strip, png
from mailmerge.proofs.projection import turns_seen
from mailmerge.proofs.stage import (
    COLUMN,
    Stage,
    View,
    bare,
    stage_for,
    write_widths,
)
from mailmerge.proofs.text import cut, legible, plain, unbroken, width_of, wrapped

_COLUMN_WIDTH = WIDTH - MARGIN - COLUMN
_COLUMN_TOP = 150
_COLUMN_HEIGHT = 830
_LABEL_WIDTH = 206


@dataclass(frozen=True)
class Facts:
    """The words on a proof."""

    title: str
    """Whose party it is."""
    item: str
    """Number of the item, as in its file name."""
    texts: tuple[tuple[str, str], ...]
    """(label, text) for each engraved text of the guest, to be checked letter by letter."""
    details: tuple[tuple[str, str], ...]
    """(label, value): side, hand, coat, letter heights, seal."""
    stops: tuple[tuple[str, str], ...] = ()
    """(what is wrong, what to do) for a stopped item; empty for one that is ready."""
    doubtful: frozenset[str] = frozenset()
    """Characters to mark in the plain texts: the layout's font lacks them."""
    running_off: frozenset[str] = frozenset()
    """Names of the artwork's paths that reach past their place."""


@dataclass(frozen=True)
class Scene:
    """What a proof looks at besides the artwork."""

    blank: Blank
    coat: Coat
    views: tuple[View, ...]
    """The faces, the first one first."""
    loading: Loading
    machine: str
    around: tuple[Face, ...]
    """What is free for things that go around the cup."""
    ink: tuple[float, float, float, float]
    """Left, top, width and height of the artwork on the machine's page, from its corner."""
    centres: Mapping[str, tuple[float, ...]]
    """``s`` of the meridians that the pieces of each of the artwork's paths were laid about."""


def draw_proof(artwork: bytes, scene: Scene, facts: Facts) -> Canvas:
    """Return the proof of an item as a picture, 1600 px wide.

    Parameters
    ----------
    artwork
        The artwork file's bytes. For a stopped item these are of the design as it would be, which
        is not written; what reaches past its place is shown in red.
    """
    stage = stage_for(scene.blank, scene.coat, scene.views)
    canvas = Canvas(stage.canvas.palette, stage.canvas.pixels)
    _lettering(canvas, stage, read_outlines(artwork), scene, facts.running_off)
    write_widths(canvas, stage, scene.views)
    _header(canvas, facts)
    _column(canvas, facts)
    return canvas


def draw_cup(artwork: bytes, scene: Scene) -> Canvas:
    """Return the cups of an item's proof alone, engraved, on bare paper."""
    stage = stage_for(scene.blank, scene.coat, scene.views)
    canvas = Canvas(stage.canvas.palette, stage.canvas.pixels)
    _lettering(canvas, stage, read_outlines(artwork), scene, frozenset())
    return canvas.part(stage.cups_box)


def draw_sketch(artwork: bytes, scene: Scene, running_off: frozenset[str]) -> Canvas:
    """Return the part of an item's proof that shows its cups, as it would be.

    Parameters
    ----------
    running_off
        Names of the artwork's paths that reach past their place; they are shown in red.
    """
    stage = stage_for(scene.blank, scene.coat, scene.views)
    canvas = Canvas(stage.canvas.palette, stage.canvas.pixels)
    _lettering(canvas, stage, read_outlines(artwork), scene, running_off)
    return canvas.part(CUP_PICTURE)


def load_of(scene: Scene) -> Load:
    """Return how the item of a scene is loaded."""
    faces = tuple(bare(view.face) for view in scene.views)
    return Load(scene.blank, scene.coat, scene.loading, scene.machine, faces, scene.around)


def maker_copy(proof: Strip, scene: Scene) -> bytes:
    """Return a proof with its load picture below as the bytes of a PNG."""
    load, load_foot = draw_load(load_of(scene))
    foot = Canvas(load_foot.palette, load_foot.pixels)
    soft = foot.palette.ink(SOFT)
    y = foot.pixels.shape[0] - 90
    for row, said in enumerate(seen_when_loaded(scene.loading.page, scene.ink)):
        foot.text(said, MARGIN, y, 28, soft if row else foot.palette.ink(INK), 400 if row else 600)
        y += 37
    return png([proof, load, foot.strip()], foot.palette.colours)


def _lettering(
    canvas: Canvas,
    stage: Stage,
    outlines: dict[str, Outline],
    scene: Scene,
    running_off: frozenset[str],
) -> None:
    """Draw the outlines on the cups and on the wrap; in red whatever reaches past its place."""
    engraving, red = canvas.palette.engraving, canvas.palette.ink(canvas.palette.alarm)
    blank = scene.blank
    for name, outline in outlines.items():
        ink = red if name in running_off else engraving
        on_wall = lifted(outline, scene.centres.get(name, ()), blank, scene.loading)
        for view, middle in stage.views:
            for turn in turns_seen(on_wall, blank, view.face):
                seen = on_wall.moved(1.0, False, turn, 0.0) if turn else on_wall
                canvas.outline(stage.cup(seen, view, middle), ink)
        # The wrap closes: what runs past one edge comes in at the other.
        left, right = on_wall.points[:, 0].min(), on_wall.points[:, 0].max()
        for beyond, turn in ((True, 0), (left < 0, 1), (right > blank.page_width, -1)):
            if beyond:
                moved = on_wall.moved(1.0, False, turn * blank.page_width, 0.0)
                canvas.outline(stage.wrap(moved), ink)
        if name in running_off:
            _clear_beside_wrap(canvas, stage)


def _clear_beside_wrap(canvas: Canvas, stage: Stage) -> None:
    """Put back the ground beside the wrap, where overlong lettering has run off it."""
    box = stage.wrap_box
    top, bottom = int(box[1]), int(box[3]) + 1
    left, right = int(box[0]), int(np.ceil(box[2])) + 1
    for columns in (slice(0, left), slice(right, WIDTH)):
        canvas.pixels[top:bottom, columns] = stage.canvas.pixels[top:bottom, columns]


def _header(canvas: Canvas, facts: Facts) -> None:
    ink, soft = canvas.palette.ink(INK), canvas.palette.ink(SOFT)
    number = words.proof(facts.item)
    canvas.text(cut(facts.title, 38, 600, 1000), MARGIN, 84, 38, ink, 600)
    canvas.text(number, WIDTH - MARGIN - width_of(number, 38, 600), 84, 38, ink, 600)
    closing = words.ITEM_IS_STOPPED if facts.stops else words.CHECK_EVERY_LETTER
    canvas.text(closing, MARGIN, HEIGHT - 24, 32, soft)


@dataclass(frozen=True)
class _Row:
    """One row of the column beside the cup; sizes in px."""

    text: str
    size: float
    colour: tuple[int, int, int]
    down: float
    """From the baseline of the row above to this one's."""
    weight: int = 400
    label: str = ""
    """Written in the soft colour before the text, which then starts further right."""
    boxed: bool = False
    doubtful: frozenset[str] = frozenset()


def _column(canvas: Canvas, facts: Facts) -> None:
    """Write the words beside the cup, as large as they fit: none is ever left out."""
    scale = 1.0
    rows = _rows(facts, scale)
    while sum(row.down for row in rows) > _COLUMN_HEIGHT and scale > 0.2:
        scale *= 0.94
        rows = _rows(facts, scale)
    palette = canvas.palette
    boxed = [row for row in rows if row.boxed]
    y = float(_COLUMN_TOP)
    if boxed:
        bottom = int(y + sum(row.down for row in boxed) + 24 * scale)
        box = canvas.pixels[_COLUMN_TOP:bottom, COLUMN : WIDTH - MARGIN]
        box[:] = palette.nearest(np.array(TINT, float))
        box[:, :8] = palette.nearest(np.array(RED, float))
    for row in rows:
        y += row.down
        x = COLUMN + (28.0 if row.boxed else 0.0)
        if row.label:
            canvas.text(row.label, x, y, row.size * 0.94, palette.ink(SOFT))
        if row.label or not row.text or row.colour == SOFT or row.boxed:
            x += _LABEL_WIDTH * scale if row.label else 0.0
            canvas.text(row.text, x, y, row.size, palette.ink(row.colour), row.weight)
        else:
            _marked(canvas, row, x, y)


def _rows(facts: Facts, scale: float) -> list[_Row]:
    """Return the rows of the column at a scale: why it is stopped, the texts, the details."""
    rows: list[_Row] = []
    if facts.stops:
        rows.append(_Row(words.STOPPED, 40 * scale, RED, 54 * scale, 700, boxed=True))
        inner = _COLUMN_WIDTH - 52
        for message, advice in facts.stops:
            for text, weight, colour in ((message, 600, RED), (advice, 400, INK)):
                size = 30 * scale
                rows += [
                    _Row(row, size, colour, size * 1.3, weight, boxed=True)
                    for row in wrapped(legible(text, weight), size, weight, inner)
                ]
    first_down = 92 * scale if facts.stops else 40 * scale
    for at, (name, text) in enumerate(facts.texts):
        size, weight = (70 * scale, 600) if at == 0 else (50 * scale, 400)
        size = unbroken(plain(text, weight), size, weight, _COLUMN_WIDTH)
        rows.append(_Row(name, 32 * scale, SOFT, first_down))
        rows += [
            _Row(row, size, INK, size * 1.14, weight, doubtful=facts.doubtful)
            for row in wrapped(plain(text, weight) or "–", size, weight, _COLUMN_WIDTH)
        ]
        first_down = 62 * scale
    for at, (name, value) in enumerate(facts.details):
        size = 33 * scale
        room = _COLUMN_WIDTH - _LABEL_WIDTH * scale
        for number, row in enumerate(wrapped(value, size, 400, room)):
            gap = (26 if at == 0 else 6) * scale if number == 0 else 0
            label = name if number == 0 else " "
            rows.append(_Row(row, size, INK, size * 1.28 + gap, label=label))
    return rows


def _marked(canvas: Canvas, row: _Row, x: float, y: float) -> None:
    """Write a text letter by letter for checking, with what is doubtful in red."""
    ink, red = canvas.palette.ink(row.colour), canvas.palette.ink(RED)
    parts = re.findall(r"\[U\+[0-9A-F]{4,6}\]?|.", row.text, re.DOTALL)
    run = ""
    for part in [*parts, ""]:
        if part and len(part) == 1 and part not in row.doubtful:
            run += part
            continue
        x = canvas.text(run, x, y, row.size, ink, row.weight) if run else x
        run = ""
        x = canvas.text(part, x, y, row.size, red, row.weight) if part else x
