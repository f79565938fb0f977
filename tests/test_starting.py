"""How the program starts: with what is asked of it, and nothing else."""

from __future__ import annotations

import ast
import importlib
import json
import pkgutil
import subprocess
import sys
from pathlib import Path

import pytest
from conftest import ROOT
from shop import Shop

import mailmerge
from mailmerge import deeds
from mailmerge.cli.app import app, app_for

ENGINE = {"numpy", "uharfbuzz", "pathops", "freetype", "fontTools", "svgwrite", "ftfy", "rapidfuzz",
          "openpyxl", "fpdf", "resvg_py", "PIL", "rich"}  # fmt: skip
"""What takes long to import, and no page needs that only shows what is on record."""

ANSWERED = """
import json, re, sys
from pathlib import Path
import anyio
import mailmerge.__main__
from mailmerge.deeds.known import remember
from mailmerge.desk.app import application
from mailmerge.desk.asking import Desk
from mailmerge.desk.guard import Door

app = application(Desk(), Door(frozenset({"here"}), "s" * 40, "desk", {}))
headers = [(b"host", b"here"), (b"cookie", b"desk=" + b"s" * 40)]

def asked(path):
    came = []
    async def receive():
        return {"type": "http.request", "body": b"", "more_body": False}
    async def send(message):
        came.append(message)
    scope = {"type": "http", "method": "GET", "path": path, "raw_path": path.encode(),
             "query_string": b"", "root_path": "", "headers": headers, "scheme": "http",
             "http_version": "1.1", "server": ("here", 80), "client": ("here", 1)}
    anyio.run(app, scope, receive, send)
    return came[0]["status"], b"".join(each.get("body", b"") for each in came).decode("latin-1")

known = remember(Path(sys.argv[1]))
pages = [asked("/"), asked(f"/orders/{known.key}/cups")]
pages.append(asked(re.search(r'src="(/orders/[^"]*[.]png)"', pages[1][1])[1]))
print(json.dumps([pages, sorted({name.partition(".")[0] for name in sys.modules})]))
"""


def test_the_first_pages_need_nothing_of_the_engine(shop: Shop) -> None:
    """All orders, the cups of one with their names, and the picture of the first; all whole."""
    call = [sys.executable, "-c", ANSWERED, str(shop.folder)]
    told = subprocess.run(call, capture_output=True, text=True, check=True, cwd=ROOT).stdout
    pages, modules = json.loads(told)
    assert [status for status, _ in pages] == [200, 200, 200]
    names = [record.name for record in shop.records().values()]
    assert all(name in pages[1][1] for name in names)
    assert pages[2][1].encode("latin-1").startswith(b"\x89PNG")
    assert "pydantic" in modules
    assert not ENGINE & set(modules)


def rooms() -> list[str]:
    """Return the rooms whose names are imported when they are asked for."""
    folder = Path(mailmerge.__file__).parent
    return [file.parent.name for file in sorted(folder.glob("*/__init__.pyi"))]


@pytest.mark.parametrize("room", [each for each in rooms() if each != "deeds"])
def test_a_room_gives_every_name_that_it_tells_of(room: str) -> None:
    found = importlib.import_module(f"mailmerge.{room}")
    told = ast.parse(Path(found.__file__ or "").with_suffix(".pyi").read_text(encoding="utf-8"))
    names = {
        alias.name: f"mailmerge.{room}.{node.module}"
        for node in told.body
        if isinstance(node, ast.ImportFrom)
        for alias in node.names
    }
    assert sorted(found.__all__) == sorted(names)
    for name, module in names.items():
        assert getattr(found, name) is getattr(importlib.import_module(module), name)
    with pytest.raises(AttributeError):
        found.no_such_name  # noqa: B018


def test_every_deed_can_be_named() -> None:
    """What stands in the stub, for mypy, is what there is."""
    stub = Path(deeds.__file__).with_suffix(".pyi").read_text(encoding="utf-8")
    told = [
        alias.name
        for node in ast.parse(stub).body
        if isinstance(node, ast.ImportFrom) and node.level
        for alias in node.names
    ]
    assert told == sorted(each.name for each in pkgutil.iter_modules(deeds.__path__))


def test_only_the_command_that_is_called_is_made() -> None:
    everything = len(app.registered_commands)
    (only,) = app_for(["desk", "--no-browser"]).registered_commands
    assert only.name == "desk"
    (only,) = app_for(["run-sheet"]).registered_commands
    assert only.name == "run-sheet"
    for called in ([], ["--help"], ["deskk"], ["--version", "desk"]):
        assert app_for(called) is app
    assert len(app.registered_commands) == everything > 40
