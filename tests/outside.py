"""Calls of the command line, and PDFs as poppler reads and draws them."""

from __future__ import annotations

import contextlib
import io
import os
import pkgutil
import subprocess
import sys
import tempfile
import traceback
from importlib import import_module
from pathlib import Path
from typing import NoReturn

import numpy as np
import pytest
from PIL import Image
from typer.main import get_command
from typer.testing import CliRunner

from mailmerge import deeds
from mailmerge.cli import app, main

USUAL = {"PYTHONWARNINGS": "error", "COLUMNS": "200"}
"""What calls have in their environment, whatever the desk has."""

for _deed in pkgutil.iter_modules(deeds.__path__):
    import_module(f"{deeds.__name__}.{_deed.name}")
get_command(app)


def cli(*arguments: object) -> str:
    """Run a command within this process; return what it printed, or raise what went wrong."""
    result = CliRunner().invoke(app, [str(each) for each in arguments])
    if result.exception and not isinstance(result.exception, SystemExit):
        raise result.exception
    return result.output


def run(*arguments: object, **environment: str) -> subprocess.CompletedProcess[str]:
    """Run the command line as it begins and ends, within this process.

    What it draws once and keeps, the next one has. Nobody is at its terminal: see :func:`typed`.
    """
    call = ["mailmerge", *map(str, arguments)]
    out, err = (io.TextIOWrapper(io.BytesIO(), "utf-8") for _ in range(2))
    code: object = 0
    with pytest.MonkeyPatch.context() as patch, Path(os.devnull).open() as nobody:
        for name, value in {"argv": call, "stdin": nobody, "stdout": out, "stderr": err}.items():
            patch.setattr(sys, name, value)
        for name, value in (USUAL | environment).items():
            patch.setenv(name, value)
        try:
            main()
        except SystemExit as ended:
            code = ended.code or 0
    return subprocess.CompletedProcess(call, int(str(code)), *map(_held, (out, err)))


def _held(stream: io.TextIOWrapper) -> str:
    """Return what was written into a stream."""
    stream.flush()
    return bytes(stream.buffer.getvalue()).decode("utf-8")  # type: ignore[attr-defined]


def typed(
    answers: str, *arguments: object, folder: Path | None = None
) -> subprocess.CompletedProcess[str]:
    """Run the command line as a process that stands in a folder, with answers from a terminal.

    It is forked from this one, which has imported everything that takes a second to import.
    """
    call = ["mailmerge", *map(str, arguments)]
    keyboard = os.openpty()
    os.write(keyboard[0], answers.encode())
    with tempfile.TemporaryFile() as out, tempfile.TemporaryFile() as err:
        child = os.fork()
        if child == 0:
            become(call, (keyboard[1], out.fileno(), err.fileno()), folder)
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
