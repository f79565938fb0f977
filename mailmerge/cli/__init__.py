"""The command line: turns input into the engine's calls, and results into text and exit codes.

Imports of the engine stay inside the commands, so that ``--help`` answers at once.
"""

from __future__ import annotations

import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import typer

from mailmerge import voice
from mailmerge.cli import words
from mailmerge.cli.app import app, app_for
from mailmerge.cli.common import FAULT, INTERRUPTED, READY, UNHEARD, WRONG
from mailmerge.cli.desk import Desk, Saying
from mailmerge.deeds import CHANGES, CalledOff
from mailmerge.findings import InputError

# isort: off
# In the order of --help.
from mailmerge.cli import measuring
from mailmerge.cli import desk
from mailmerge.cli import known
from mailmerge.cli import making
from mailmerge.cli import listing
from mailmerge.cli import apart
from mailmerge.cli import client
from mailmerge.cli import bench
from mailmerge.cli import handing
from mailmerge.cli import workshop
from mailmerge.cli import settings
from mailmerge.cli import library
from mailmerge.cli import fonts
from mailmerge.cli import manual
# isort: on

__all__ = [
    "Desk",
    "Saying",
    "apart",
    "app",
    "bench",
    "client",
    "desk",
    "fonts",
    "handing",
    "known",
    "library",
    "listing",
    "main",
    "making",
    "manual",
    "measuring",
    "settings",
    "workshop",
]


def main(starts: Desk | None = None) -> None:
    """Run the command line, and end the program with its exit code.

    Parameters
    ----------
    starts
        What starts the desk.
    """
    with voice.speaking(), _faults_told():
        code = _ran(starts)
    sys.exit(code)


def _ran(starts: Desk | None) -> int:
    """Run the command line; whatever goes wrong becomes one line. Return the exit code."""
    CHANGES.begin()
    try:
        code = _code(starts)
        voice.flush()
        if code == INTERRUPTED:  # before the command had begun
            raise CalledOff
    except (CalledOff, KeyboardInterrupt):
        return _said(words.called_off(CHANGES.told()), INTERRUPTED)
    except voice.Unheard as error:
        return _said(words.unheard(error.why, CHANGES.told()), UNHEARD) if error.why else UNHEARD
    except InputError as error:
        return _said(words.error(error), WRONG)
    except OSError as error:
        return _said(words.system_error(error.filename, error.strerror or error), WRONG)
    except Exception as error:
        return _tell_fault(error)
    return code


def _code(starts: Desk | None) -> int:
    """Run the command line; return the exit code that typer ends it with."""
    arguments = sys.argv[1:] or ["--help"]
    try:
        code = app_for(arguments)(
            arguments, prog_name="mailmerge", obj=starts, standalone_mode=False
        )
    except SystemExit as ended:
        code = ended.code
    except typer.Abort:
        raise CalledOff from None
    except typer.TyperException as error:  # typer itself would say it in three lines
        raise InputError(words.wrong_call(error, getattr(error, "ctx", None))) from None
    return code if isinstance(code, int) else READY


def _said(line: str, code: int) -> int:
    voice.note(line)
    return code


def _tell_fault(error: BaseException) -> int:
    """Tell a fault of the program: one line, and a report of it in a file."""
    from mailmerge.deeds.faults import reported

    changed = CHANGES.told()  # the report itself is none of it
    return _said(words.fault(reported(error), changed), FAULT)


@contextmanager
def _faults_told() -> Iterator[None]:
    """Tell faults of threads, and of what is thrown away, as those of a command are told."""

    def tell(fault: Any) -> None:
        if isinstance(fault.exc_value, Exception):
            _tell_fault(fault.exc_value)

    before = threading.excepthook, sys.unraisablehook
    threading.excepthook, sys.unraisablehook = tell, tell
    try:
        yield
    finally:
        threading.excepthook, sys.unraisablehook = before
