"""Where the program starts: ``mailmerge``, and ``python -m mailmerge``, which is the same."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

from mailmerge import voice

if TYPE_CHECKING:
    from mailmerge.cli import Saying


class _Desk:
    """What starts the desk, handed to the command line: neither of the two knows the other.

    The desk is imported when it is started, so that every other command starts without it.
    """

    def serve(self, order: Path | None, port: int | None, is_opened: bool, say: Saying) -> None:
        from mailmerge.desk.server import serve

        serve(order, port, is_opened, say)

    def serve_bench(self, order: Path, port: int | None, say: Saying) -> None:
        from mailmerge.desk.server import serve_bench

        serve_bench(order, port, say)

    def put_icon(self) -> Path:
        from mailmerge.desk.icon import put_icon

        return put_icon()


CALLED_OFF = "Called off. Nothing has changed."
"""What is said of Ctrl-C while the command line is still being imported."""


def main() -> None:
    """Run the command line."""
    try:
        from mailmerge.cli import main as command_line
    except KeyboardInterrupt:
        with voice.speaking():
            voice.note(CALLED_OFF)
        sys.exit(130)
    command_line(_Desk())


if __name__ == "__main__":
    main()
