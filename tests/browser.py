"""A headless browser as an outside reader: what a page writes into its ``<pre id="out">``."""

from __future__ import annotations

import html
import json
import os
import re
import subprocess
from pathlib import Path
from typing import Any

SCRIPT_OUT = 'document.getElementById("out").textContent = JSON.stringify(found);'


def found_by_browser(body: str, script: str, folder: Path) -> Any:
    """Return ``found`` as the script left it; the script may be the body of an async function."""
    page = folder / "page.html"
    page.write_text(
        f'<!doctype html><meta charset=utf-8><body>{body}<pre id="out"></pre>'
        f"<script>(async () => {{ {script} {SCRIPT_OUT} }})();</script>",
        encoding="utf-8",
    )
    root = ["--no-sandbox"] if hasattr(os, "geteuid") and os.geteuid() == 0 else []
    result = subprocess.run(
        [
            "chromium", "--headless", *root, "--disable-gpu", "--disable-quic", "--no-first-run",
            "--disable-background-networking", "--disable-component-update", "--disable-sync",
            "--allow-file-access-from-files", "--virtual-time-budget=20000",
            f"--user-data-dir={folder / 'profile'}", "--dump-dom", page.as_uri(),
        ],
        capture_output=True, text=True, timeout=120,
    )  # fmt: skip
    match = re.search(r'<pre id="out">(.+?)</pre>', result.stdout, re.DOTALL)
    assert match, result.stderr[-2000:]
    return json.loads(html.unescape(match[1]))
