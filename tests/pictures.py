"""The pictures of the README and the manual, made from the demo: ``python -m tests.pictures``.

Wants poppler's pdftoppm and chromium. Look at each picture before you commit it.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
PICTURES = ROOT / "demo" / "pictures"
CARD = (
    "--blank handled-tumbler-40oz --coat burgundy --power 20..80x5 --speed 100..300x4 --passes 1,2"
)


def main() -> None:
    """Make all pictures in a copy of the demo, and put them where they are shown."""
    with tempfile.TemporaryDirectory() as name:
        work = Path(name)
        shutil.copytree(ROOT / "demo", work / "demo")
        gala, patrons = work / "demo" / "winter-gala", work / "demo" / "patrons"
        for order in (gala, patrons):
            mailmerge(work, "merge", order)
        mailmerge(work, "proof", gala)
        mailmerge(work, "release", gala, "--without-yes", "demo")
        mailmerge(work, "run-sheet", gala)
        fonts = "Great Vibes,Lora,EB Garamond"
        mailmerge(work, "specimen", gala, "--fonts", fonts, "--out", PICTURES / "specimen.png")
        mailmerge(work, "test-card", *CARD.split(), "--out", work / "card")
        for number, picture in ((6, "ready"), (9, "left-hand"), (14, "stopped")):
            (proof,) = (gala / "merged" / "proofs").glob(f"{number:03}-*.png")
            shutil.copy(proof, PICTURES / f"proof-{picture}.png")
        (maker,) = (patrons / "merged" / "maker").glob("001-*.png")
        shutil.copy(maker, PICTURES / "maker-copy.png")
        page_of(gala / "papers" / "run-sheet.pdf", 3, 90, "run-sheet")
        page_of(work / "card" / "key.pdf", 1, 80, "test-card")
        (page,) = (gala / "proof-pack").glob("*.html")
        screen_of(page, work)


def mailmerge(work: Path, *call: object) -> None:
    """Run a command in the demo's shop; stops are no failure."""
    shop = {"MAILMERGE_SHOP": str(work / "demo" / "shop")}
    done = subprocess.run(
        [sys.executable, "-m", "mailmerge", *map(str, call)], env=os.environ | shop, cwd=work
    )
    if done.returncode not in (0, 3):
        sys.exit(done.returncode)


def page_of(pdf: Path, page: int, dpi: int, name: str) -> None:
    """Draw a page of a PDF."""
    one = ["-f", str(page), "-l", str(page), "-r", str(dpi), "-png", "-singlefile"]
    subprocess.run(["pdftoppm", *one, pdf, PICTURES / name], check=True)


def screen_of(page: Path, work: Path) -> None:
    """Draw the client's page as a telephone shows it, at a name with unusual letters."""
    frame = work / "frame.html"  # for chromium makes no window as narrow as a telephone
    frame.write_text(
        "<!doctype html><body style='margin:0'><iframe id=f style='border:0;width:390px;"
        f"height:844px' src='{page.as_uri()}#6'></iframe>",
        encoding="utf-8",
    )
    root = ["--no-sandbox"] if hasattr(os, "geteuid") and os.geteuid() == 0 else []
    subprocess.run(
        [
            "chromium", "--headless", *root, "--disable-gpu", "--hide-scrollbars",
            "--allow-file-access-from-files", "--virtual-time-budget=8000",
            f"--user-data-dir={work / 'profile'}", "--force-device-scale-factor=2",
            "--window-size=390,844", f"--screenshot={PICTURES / 'proof-page.png'}", frame.as_uri(),
        ],
        check=True, capture_output=True,
    )  # fmt: skip


if __name__ == "__main__":
    main()
