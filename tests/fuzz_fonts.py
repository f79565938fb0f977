"""Open damaged fonts and set a name in them: ``fuzz_fonts.py FONT SEED COUNT [PACKED]``.

A process of its own, so that a crash or a hang shows. Prints how many cases were opened and how
many refused, and the slowest one. Exits 1 at anything but a refusal in one line, and at a case that
takes longer than :data:`LONGEST`.
"""

from __future__ import annotations

import io
import random
import signal
import sys
import tempfile
import time
from pathlib import Path

from fontTools.ttLib import TTFont

from mailmerge.findings import InputError
from mailmerge.lettering import Font, Style, connects, finest, letter, licence_of

LONGEST = 10
"""Seconds for one case."""


def damaged(data: bytes, dice: random.Random) -> bytes:
    """Return a font cut short, or with some of its bytes changed."""
    if dice.random() < 0.25:
        return data[: dice.randrange(len(data))]
    changed = bytearray(data)
    # Tables of offsets stand first: damage there is another kind than in the middle of a glyph.
    reach = dice.choice((300, 4000, len(changed)))
    for _ in range(dice.choice((1, 2, 8, 64))):
        changed[dice.randrange(min(reach, len(changed)))] = dice.randrange(256)
    return bytes(changed)


def main(source: Path, seed: int, count: int, packed: bool) -> None:
    data = source.read_bytes()
    if packed:
        font, buffer = TTFont(io.BytesIO(data)), io.BytesIO()
        font.flavor = "woff2"
        font.save(buffer)
        data = buffer.getvalue()
    dice = random.Random(seed)
    opened = refused = 0
    slowest = 0.0
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "font.ttf"
        for number in range(count):
            path.write_bytes(damaged(data, dice))
            start = time.perf_counter()
            signal.alarm(LONGEST)
            try:
                font = Font(path, 400)
                line = letter(Style((font,)), "Zoë Mg")
                finest(line)
                connects(font)
                licence_of(font)
                opened += 1
            except InputError:
                refused += 1
            except BaseException:
                print(f"case {number} of seed {seed}", file=sys.stderr, flush=True)
                raise
            signal.alarm(0)
            slowest = max(slowest, time.perf_counter() - start)
    print(f"{opened} opened, {refused} refused, slowest {slowest:.2f} s")


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]), int(sys.argv[3]), len(sys.argv) > 4)
