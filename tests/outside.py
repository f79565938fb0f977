"""Calls of the command line, and PDFs as poppler reads and draws them."""

from __future__ import annotations

import contextlib
import os
import subprocess
import sys
import tempfile
import traceback
from pathlib import Path
from typing import NoReturn

import numpy as np
from PIL import Image
from typer.testing import CliRunner

from mailmerge.cli import app, main

USUAL = {"PYTHONWARNINGS": "error", "COLUMNS": "200"}
"""What calls have in their environment, whatever the desk has."""


def cli(*arguments: object) -> str:
    """Run a command within this process; return what it printed, or raise what went wrong."""
    result = CliRunner().invoke(app, [str(each) for each in arguments])
    if result.exception and not isinstance(result.exception, SystemExit):
        raise result.exception
    return result.output


def run(
    *arguments: object, typed: str | None = None, folder: Path | None = None, **environment: str
) -> subprocess.CompletedProcess[str]:
    """Run the command line as a process of its own, with streams and an exit code of its own.

    It is forked from this one, which has imported everything that takes a second to import. What is
    ``typed`` comes from a terminal; the process stands in the ``folder``.
    """
    call = ["mailmerge", *map(str, arguments)]
    if not hasattr(os, "fork"):
        return subprocess.run(
            [sys.executable, "-m", *call],
            capture_output=True,
            encoding="utf-8",
            env={**os.environ, **USUAL, **environment},
        )
    keyboard = () if typed is None else os.openpty()
    if keyboard:
        os.write(keyboard[0], typed.encode())
    with tempfile.TemporaryFile() as out, tempfile.TemporaryFile() as err:
        child = os.fork()
        if child == 0:
            streams = keyboard[1] if keyboard else 0, out.fileno(), err.fileno()
            become(call, streams, folder, **environment)
        _, status = os.waitpid(child, 0)
        said = []
        for stream in (out, err):
            stream.seek(0)
            said.append(stream.read().decode("utf-8"))
    for end in keyboard:
        os.close(end)
    return subprocess.CompletedProcess(call, os.waitstatus_to_exitcode(status), *said)


def terminal(*arguments: object, typed: str = "", **environment: str) -> tuple[str, int]:
    """Run the command line on a terminal of its own; return what it showed and its exit code."""
    import pty

    child, parent = pty.fork()
    if child == 0:
        call = ["mailmerge", *map(str, arguments)]
        become(call, TERM="xterm-256color", **environment)
    os.write(parent, typed.encode())
    shown = b""
    with contextlib.suppress(OSError):  # which is how a terminal says that nobody is there
        while part := os.read(parent, 65536):
            shown += part
    os.close(parent)
    _, status = os.waitpid(child, 0)
    return shown.decode("utf-8", "replace"), os.waitstatus_to_exitcode(status)


def said(*arguments: object) -> str:
    """Run a command line that goes well, without a note; return what it printed."""
    done = run(*arguments)
    assert (done.returncode, done.stderr) == (0, "")
    return done.stdout


def refused(*arguments: object) -> str:
    """Run a command line that is wrong; return what it said of it, and it said nothing else."""
    done = run(*arguments)
    assert (done.returncode, done.stdout) == (2, "")
    return done.stderr


def become(
    call: list[str],
    streams: tuple[int, int, int] = (0, 1, 2),
    folder: Path | None = None,
    **environment: str,
) -> NoReturn:
    """Be the command line from here on, as a process that was forked for it, and end with it."""
    code: object = 70
    try:
        for at, stream in enumerate(streams):
            os.dup2(stream, at)
        os.chdir(folder or Path.cwd())
        sys.stdin = os.fdopen(0, closefd=False)
        sys.stdout, sys.stderr = (os.fdopen(at, "w", closefd=False) for at in (1, 2))
        sys.argv = call
        os.environ.update(USUAL | environment)
        main()
        code = 0
    except SystemExit as ended:
        code = ended.code or 0
    except BaseException:
        traceback.print_exc()
    finally:
        sys.stdout.flush()
        sys.stderr.flush()
        os._exit(code if isinstance(code, int) else 1)


def file_of_the_test_machine(folder: Path) -> Path:
    """Write a profile with the name of the machine in the tests' orders, to keep recipes for."""
    path = folder / "machine.toml"
    path.write_text('name = "Test machine"\nspot = 0.1\nbed = { width = 100, depth = 100 }\n')
    return path


def text_of(pdf: Path, *options: str) -> str:
    """Return a PDF's text, by poppler's pdftotext."""
    call = ["pdftotext", *options, pdf, "-"]
    return subprocess.run(call, capture_output=True, text=True, check=True).stdout


def facts_of(pdf: Path) -> str:
    """Return what poppler's pdfinfo says about a PDF."""
    return subprocess.run(["pdfinfo", pdf], capture_output=True, text=True, check=True).stdout


def pages_of(pdf: Path, dpi: int = 100) -> list[Path]:
    """Draw a PDF's pages beside it, by poppler's pdftoppm; return the pictures.

    They are not packed: to pack them takes ten times as long as to draw them.
    """
    stem = pdf.with_suffix("")
    subprocess.run(["pdftoppm", "-r", str(dpi), pdf, stem], check=True)
    return sorted(stem.parent.glob(f"{stem.name}-*.ppm"))


def assert_nothing_is_cut_off(pdf: Path) -> None:
    """See that every page holds something, and no page anything within 5 mm of its edge."""
    dpi = 100
    edge = round(5 / 25.4 * dpi)
    pages = pages_of(pdf, dpi)
    assert pages
    for page in pages:
        ink = np.asarray(Image.open(page).convert("L")) < 250
        assert ink[edge:-edge, edge:-edge].any(), page.name
        ink[edge:-edge, edge:-edge] = False
        assert not ink.any(), page.name
