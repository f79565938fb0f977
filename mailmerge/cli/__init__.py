"""The command line: turns input into the engine's calls, and results into text and exit codes.

Imports of the engine stay inside the commands, so that ``--help`` answers at once.
"""

from __future__ import annotations

import os
import sys

from mailmerge.cli import words
from mailmerge.cli.app import app, app_for
from mailmerge.cli.common import INTERRUPTED, WRONG
from mailmerge.cli.desk import Desk, Saying
from mailmerge.deeds import CalledOff
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


def _open_what_is_closed() -> None:
    """Give a call whose input or output is closed an empty one.

    Else the first files that it opens are in their places, and what it prints goes there.
    """
    for name, mode in (("stdin", "r"), ("stdout", "w"), ("stderr", "w")):
        if getattr(sys, name) is None:
            setattr(sys, name, os.fdopen(os.open(os.devnull, os.O_RDWR), mode, encoding="utf-8"))


def main(starts: Desk | None = None) -> None:
    """Run the command line; an :class:`InputError` becomes one line and exit code 2.

    Parameters
    ----------
    starts
        What starts the desk.

    Typer itself ends an interrupted call with 130, and one whose reader has stopped with 1.
    """
    _open_what_is_closed()
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(encoding="utf-8", errors="replace")
    try:
        app_for(sys.argv[1:])(obj=starts)
    except CalledOff:
        sys.stderr.write(f"{words.CALLED_OFF}\n")
        sys.exit(INTERRUPTED)
    except InputError as error:
        sys.stderr.write(f"{words.error(error)}\n")
        sys.exit(WRONG)
    except OSError as error:
        said = words.system_error(error.filename, error.strerror or error)
        sys.stderr.write(f"{said}\n")
        sys.exit(WRONG)
