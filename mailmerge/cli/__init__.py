"""The command line: turns input into the engine's calls, and results into text and exit codes.

Imports of the engine stay inside the commands, so that ``--help`` answers at once.
"""

from __future__ import annotations

import sys

from mailmerge.cli import words
from mailmerge.cli.app import app
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


def main(starts: Desk | None = None) -> None:
    """Run the command line; an :class:`InputError` becomes one line and exit code 2.

    Parameters
    ----------
    starts
        What starts the desk.

    Typer itself ends an interrupted call with 130, and one whose reader has stopped with 1.
    """
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(encoding="utf-8", errors="replace")
    try:
        app(obj=starts)
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
