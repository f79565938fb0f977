"""``python -m mailmerge``, the same as the ``mailmerge`` command."""

from mailmerge.cli import main

main()
