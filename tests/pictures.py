"""The pictures of the README and the manual, made from the demo: ``python -m tests.pictures``.

Wants poppler's pdftoppm and chromium. Look at each picture before you commit it.
"""

from __future__ import annotations

import os
import re
import shutil
import signal
import subprocess
import sys
import tempfile
from pathlib import Path

from playwright.sync_api import sync_playwright

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
        mailmerge(work, "engraved", gala, "1", "2")  # from then on the cautions are folded
        desk_of(gala, work)


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


SCREENS = {
    "desk-cups": ("cups", 1280, 860, 1),
    "desk-cup": ("cups/14", 1280, 860, 1),
    "desk-bench": ("bench", 390, 844, 2),
}
"""Place of an order, width, height and fineness by the name of the picture."""


def desk_of(order: Path, work: Path) -> None:
    """Draw the desk as a browser shows it, with an order on it."""
    shop = {"MAILMERGE_SHOP": str(work / "demo" / "shop")}
    call = [sys.executable, "-m", "mailmerge", "desk", str(order), "--no-browser"]
    with subprocess.Popen(call, env=os.environ | shop, stdout=subprocess.PIPE, text=True) as desk:
        assert desk.stdout is not None
        said = "".join(desk.stdout.readline() for _ in range(3))
        address = re.search(r"http://\S+key=\S+", said)
        assert address, said
        try:
            with sync_playwright() as play:
                chromium = play.chromium.launch(
                    executable_path=shutil.which("chromium"), args=["--no-sandbox"]
                )
                for name, (place, width, height, fine) in SCREENS.items():
                    size = {"width": width, "height": height}
                    page = chromium.new_page(viewport=size, device_scale_factor=fine)
                    page.goto(address[0])
                    page.goto(page.url.rpartition("/")[0] + f"/{place}", wait_until="load")
                    page.wait_for_load_state("networkidle")
                    page.wait_for_timeout(3000)
                    page.screenshot(path=PICTURES / f"{name}.png")
                chromium.close()
        finally:
            desk.send_signal(signal.SIGINT)


if __name__ == "__main__":
    main()
