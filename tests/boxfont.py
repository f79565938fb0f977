"""A test font whose letters are plain boxes, so that expected sizes are sums a reader can redo.

1000 units to the em. Capitals are 500 wide and 700 high (a letter height of 1 is 700 units) with
50 units of room on each side, so they advance 600. Small letters are 400 by 500 and advance 500;
``g`` reaches 200 below the baseline. The blank advances 300, the hyphen is 200 by 100 and advances
300. ``A`` before ``V`` is kerned by -150, which makes the boxes overlap by 50. Accents other than
``É`` (900 high) are missing. Hebrew alef is 300 wide (advance 400), bet 500 (advance 600).
"""

from __future__ import annotations

from pathlib import Path

from fontTools.feaLib.builder import addOpenTypeFeaturesFromString
from fontTools.fontBuilder import FontBuilder
from fontTools.pens.ttGlyphPen import TTGlyphPen

CAPITALS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
SMALL = "abcdefghijklmnopqrstuvwxyz"


def box(left: int, low: int, right: int, high: int) -> object:
    pen = TTGlyphPen(None)
    pen.moveTo((left, low))
    pen.lineTo((left, high))
    pen.lineTo((right, high))
    pen.lineTo((right, low))
    pen.closePath()
    return pen.glyph()


def write_box_font(path: Path, cap_height: int = 700) -> Path:
    glyphs: dict[str, object] = {".notdef": box(0, 0, 500, 700), "space": TTGlyphPen(None).glyph()}
    advances = {".notdef": 600, "space": 300}
    cmap = {ord(" "): "space", ord("-"): "hyphen", ord("."): "period", ord("É"): "Eacute"}
    cmap |= {0x05D0: "alef", 0x05D1: "bet"}
    for letter in CAPITALS:
        glyphs[letter], advances[letter] = box(50, 0, 550, 700), 600
        cmap[ord(letter)] = letter
    for letter in SMALL:
        glyphs[letter] = box(50, -200 if letter == "g" else 0, 450, 500)
        advances[letter] = 500
        cmap[ord(letter)] = letter
    glyphs |= {"hyphen": box(50, 200, 250, 300), "period": box(50, 0, 150, 100)}
    glyphs |= {"alef": box(50, 0, 350, 700), "bet": box(50, 0, 550, 700)}
    glyphs["Eacute"] = box(50, 0, 550, 900)
    advances |= {"hyphen": 300, "period": 200, "Eacute": 600, "alef": 400, "bet": 600}
    builder = FontBuilder(1000, isTTF=True)
    builder.setupGlyphOrder(list(glyphs))
    builder.setupCharacterMap(cmap)
    builder.setupGlyf(glyphs)
    builder.setupHorizontalMetrics({name: (advances[name], 50) for name in glyphs})
    builder.setupHorizontalHeader(ascent=900, descent=-200)
    builder.setupNameTable({"familyName": "Test Boxes", "styleName": "Regular"})
    builder.setupOS2(sCapHeight=cap_height, sxHeight=500, sTypoAscender=900, version=4)
    builder.setupPost()
    addOpenTypeFeaturesFromString(builder.font, "feature kern { pos A V -150; } kern;")
    builder.font["head"].created = builder.font["head"].modified = 0
    builder.save(path)
    return path
