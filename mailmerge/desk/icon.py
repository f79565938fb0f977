"""An icon on the desktop that starts the desk."""

from __future__ import annotations

import sys
from pathlib import Path

import pyshortcuts

from mailmerge.deeds.shop import shop_place
from mailmerge.desk import words
from mailmerge.findings import InputError

_STATIC = Path(__file__).parent / "static"


def put_icon() -> Path:
    """Put an icon on the desktop, and into the menu of programs where the system has one.

    It starts the desk in a window of its own, in the shop's folder.

    Raises
    ------
    InputError
        The system has no place for it.
    """
    picture = _STATIC / ("cup.icns" if sys.platform == "darwin" else "cup.ico")
    try:
        made = pyshortcuts.make_shortcut(
            "_ -m mailmerge desk",
            name=words.ICON,
            description=words.ICON_IS,
            icon=str(picture),
            working_dir=str(shop_place()),
            executable=sys.executable,
            terminal=True,
        )
    except (OSError, ImportError, TypeError) as error:
        raise InputError(words.no_icon(error)) from None
    folder: str = made.desktop_dir or made.startmenu_dir
    return Path(folder) / str(made.target)
