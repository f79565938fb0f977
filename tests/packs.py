"""Orders with names of many kinds, for tests of what clients get."""

from __future__ import annotations

import csv
from functools import partial
from pathlib import Path

from mailmerge.answers.packs import Envelope, Packed, write_pack
from mailmerge.ledger.ledger import open_ledger
from mailmerge.ledger.tray import changing
from mailmerge.merge import scenes_of, update
from mailmerge.orders import open_order
from mailmerge.proofs.pack import Sender
from mailmerge.proofs.pack.languages import Language

NAMES = [
    ("Zoë Lind", "Violin I"),
    ("Guðrún Þórðardóttir", "Violin II"),
    ("سارة الخطيب", "Oud"),
    ("דוד כהן", "Clarinet"),
    ("Nguyễn Thị Ánh Tuyết", "Viola"),
    ("Theo O'Hara-Smith", "Horn"),
    ("Anna <b>Berg</b> & Co", "Oboe"),
    ("+Sunniva Moe", "Harp"),
    ("Łukasz Żak", "Tuba"),
    ("Bo Dahl", "</script><script>alert(1)</script>"),
    ("Wilhelmina Featherstonehaugh-Cholmondeley-Smythe " * 3, "Flute"),
]
"""The last one is too long for any cup, and stopped."""

LAYOUT = """name = "Test layout"
face = "drinker"

[[line]]
text = "{name}"
font = "Noto Sans"
fallback = ["Amiri", "Frank Ruhl Libre"]
letter_height = { max = "12 mm", min = "2.5 mm" }
lines = 2

[[line]]
text = "{role}"
font = "Noto Sans"
letter_height = { max = "5 mm", min = "1 mm" }

[[line]]
text = "{order.title}"
font = "Noto Sans"
letter_height = { max = "4 mm", min = "1 mm" }
"""

SENDER = Sender("Ferry Lane Engraving", ("4 Ferry Lane, Norwell", "proofs@ferry-lane.example"))

SECRET = "unpaid until the 3rd, 49.90"
"""In the list's column of notes, which no layout uses and no client may see."""


def order_of(folder: Path, names: list[tuple[str, str]], layout: str = LAYOUT) -> Path:
    """Write an order of guests with these names and roles."""
    folder.mkdir(parents=True)
    (folder / "layout.toml").write_text(layout, encoding="utf-8")
    (folder / "order.toml").write_text(
        '[order]\ntitle = "Spring concert"\nlist = "list.csv"\nblank = "handled-tumbler-40oz"\n'
        'layout = "layout.toml"\ncoat = "black"\n',
        encoding="utf-8",
    )
    with (folder / "list.csv").open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file)
        writer.writerow(["Name", "Role", "Quantity", "Notes", "Price"])
        for at, (name, role) in enumerate(names):
            writer.writerow([name, role, 2 if at == 0 else 1, SECRET, "49.90"])
    return folder


def packed(
    folder: Path, everything: bool = False, language: str = "en", people: tuple[str, ...] = ()
) -> Packed:
    """Merge an order and write its proof pack."""
    envelope = Envelope(SENDER, people, Language(language))
    with open_ledger(folder, missing="make") as ledger:
        update(open_order(folder), ledger, 1)
        with changing(ledger) as change:
            scenes = partial(scenes_of, open_order(folder))
            pack = write_pack(change, scenes, everything, envelope)
    assert pack is not None
    return pack
