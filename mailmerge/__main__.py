"""Where the program starts: ``mailmerge``, and ``python -m mailmerge``, which is the same."""

from typing import Any

from mailmerge.cli import main as command_line


def main() -> None:
    """Run the command line, which may start the desk; neither of the two knows the other."""
    command_line(_serve)


def _serve(*given: Any) -> None:
    from mailmerge.desk.server import serve  # so that every other command starts without it

    serve(*given)


if __name__ == "__main__":
    main()
