"""Where the program starts: ``mailmerge``, and ``python -m mailmerge``, which is the same."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

from mailmerge.cli import main as command_line


def main() -> None:
    """Run the command line, which may start the desk; neither of the two knows the other."""
    command_line(_serve)


def _serve(
    order: Path | None,
    port: int | None,
    is_opened: bool,
    is_bench_alone: bool,
    say: Callable[[Any], None],
) -> None:
    from mailmerge.desk import server  # so that every other command starts without it

    if is_bench_alone and order is not None:
        server.serve_bench(order, port, say)
    else:
        server.serve(order, port, is_opened, say)


if __name__ == "__main__":
    main()
