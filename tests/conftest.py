from __future__ import annotations

import os
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from boxfont import write_box_font

from mailmerge.artwork import Layout
from mailmerge.blanks import Blank
from mailmerge.guests import Guest, Hand
from mailmerge.machines import Machine
from mailmerge.shelves import validated

ROOT = Path(__file__).resolve().parents[1]
DEMO = ROOT / "demo" / "winter-gala"


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Skip tests on a desk whose outside program is missing; in CI they fail."""
    for item in items:
        marker = item.get_closest_marker("outside")
        if marker and not os.environ.get("CI") and not _is_here(marker.args[0]):
            item.add_marker(pytest.mark.skip(reason=f"{marker.args[0]} is not installed"))


def _is_here(outside: str) -> bool:
    """Whether a program, or a file given by its path, is installed."""
    return Path(outside).exists() if "/" in outside else shutil.which(outside) is not None


@pytest.fixture(scope="session")
def box_font(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return write_box_font(tmp_path_factory.mktemp("font") / "boxes.ttf")


@pytest.fixture
def blank() -> Blank:
    """300 mm around, 100 high, a band from 20 to 80, a handle zone of 25 mm to each side.

    The drinker's face is centred on s = 225 and at most 2 * (75 - 25) = 100 mm wide, which the
    visible arc of 120 degrees (100 mm) allows too.
    """
    return validated(
        Blank,
        {
            "name": "Test cup",
            "circumference": "300 mm",
            "height": "100 mm",
            "band": {"from": "20 mm", "to": "80 mm"},
            "handle": {"width": "30 mm", "clearance": "10 mm"},
            "coat": [{"name": "black", "colour": "#101010"}],
        },
        "test",
    )


FINE_BEAM = Machine(name="Test machine", spot=0.01)
"""Finer than anything that the tests of other things engrave."""

LayoutOf = Callable[..., Layout]


@pytest.fixture
def layout_of(box_font: Path) -> LayoutOf:
    """Return a function that makes a layout in the box font out of its lines."""

    def made(
        *lines: dict[str, object],
        face: str = "drinker",
        visible_angle: float = 120,
        **more: object,
    ) -> Layout:
        defaults = {"font": str(box_font), "letter_height": {"max": "14 mm", "min": "7 mm"}}
        return validated(
            Layout,
            {
                "name": "Test",
                "face": face,
                "visible_angle": visible_angle,
                "line": [defaults | line for line in lines],
                **more,
            },
            "test",
        )

    return made


def guest_named(name: str, role: str = "", hand: Hand = Hand.RIGHT, **more: str) -> Guest:
    first, _, last = name.partition(" ")
    return Guest(2, {"name": name, "first": first, "last": last, "role": role, **more}, hand)
