"""The demo: make the cups of an orchestra's gala, its patrons and a hockey club; say where to look.

Type ``python3 demo/run.py``; with ``--desk`` behind it, the gala's order opens in the browser.
It needs nothing but Python 3.11 or newer: the first start makes a virtual environment ``.venv`` in
this checkout and installs the project into it, later ones are quick. Standard library only.
"""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
VENV = ROOT / ".venv"
OF_THE_DEMO = {**os.environ, "MAILMERGE_SHOP": str(ROOT / "demo" / "shop")}
"""The demo has a shop of its own; nobody's real one is read or written."""


def ready(extras: str = "") -> Path:
    """Return the Python of ``.venv`` with the project installed; make it so where it is not.

    ``extras`` is the optional part of the dependencies that is needed too, such as ``test``.
    """
    if sys.version_info < (3, 11):
        found = ".".join(map(str, sys.version_info[:3]))
        sys.exit(f"This needs Python 3.11 or newer, found {found}: see python.org/downloads")
    windows = sys.platform == "win32"
    python = VENV / ("Scripts/python.exe" if windows else "bin/python")
    stamp = VENV / f"installed-{extras or 'plain'}.txt"
    # The place counts too: a copied checkout would otherwise run the code of the first one.
    project = (ROOT / "pyproject.toml").read_bytes() + str(ROOT).encode()
    wanted = hashlib.sha256(project).hexdigest()
    if python.exists() and stamp.is_file() and stamp.read_text() == wanted:
        return python
    if not _works(python):
        print("making the virtual environment .venv ...", flush=True)
        made = subprocess.run(
            [sys.executable, "-m", "venv", "--clear", str(VENV)], capture_output=True, text=True
        )
        if made.returncode != 0:
            sys.exit(
                "Python cannot make a virtual environment here. On Debian and Ubuntu install it "
                "with: sudo apt install python3-venv; elsewhere install Python from python.org.\n"
                + (made.stdout + made.stderr).strip()
            )
    print("installing, which takes a minute or two the first time ...", flush=True)
    target = f"{ROOT}[{extras}]" if extras else str(ROOT)
    pip = [str(python), "-m", "pip", "install", "--quiet", "--disable-pip-version-check"]
    if subprocess.run([*pip, "--editable", target]).returncode != 0:
        sys.exit("The installation failed; see above. Is there a connection to the internet?")
    stamp.write_text(wanted)
    return python


def _works(python: Path) -> bool:
    """Whether there is a Python with pip; a half-made environment is made again."""
    if not python.exists():
        return False
    try:
        tried = subprocess.run([str(python), "-m", "pip", "--version"], capture_output=True)
    except OSError:
        return False
    return tried.returncode == 0


def main() -> int:
    """Run the demo orders; 0 if the merges went through, stopped items included."""
    python = ready()
    for name in ("winter-gala", "patrons"):
        order = ROOT / "demo" / name
        for command in ("merge", "proof"):
            call = [str(python), "-m", "mailmerge", command, str(order)]
            code = subprocess.run(call, env=OF_THE_DEMO).returncode
            if code not in (0, 3):
                return code
        if name == "winter-gala":
            for paper in ("quote", "form", "labels", "packing-list", "care-cards"):
                call = [str(python), "-m", "mailmerge", paper, str(order)]
                subprocess.run(call, env=OF_THE_DEMO)
        (page,) = (order / "proof-pack").glob("*.html")
        print(f"\nOpen what the client gets in a browser: {page},")
        print(f"look at how to load the cups in {order / 'merged' / 'maker'},")
        print(f'and at what was found, with: "{python}" -m mailmerge check "{order}"\n')
    club = ROOT / "demo" / "hockey-club"
    code = subprocess.run([str(python), "-m", "mailmerge", "merge", str(club)], env=OF_THE_DEMO)
    if code.returncode not in (0, 3):
        return code.returncode
    print(f"\nEach player has a motif out of the list: see {club / 'merged' / 'proofs'}\n")
    card = ROOT / "demo" / "test-card"
    if not card.exists():
        subprocess.run(
            [str(python), "-m", "mailmerge", "test-card", "--blank", "handled-tumbler-40oz",
             "--coat", "burgundy", "--machine", "diode-rotary", "--power", "20..80x5",
             "--speed", "100..300x4", "--passes", "1,2", "--out", str(card)],
            env=OF_THE_DEMO,
        )  # fmt: skip
    if "--desk" in sys.argv[1:]:
        gala = str(ROOT / "demo" / "winter-gala")
        return subprocess.run(
            [str(python), "-m", "mailmerge", "desk", gala], env=OF_THE_DEMO
        ).returncode
    return 0


if __name__ == "__main__":
    sys.exit(main())
