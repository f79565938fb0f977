"""Drawings: SVG with paths, groups that are used, clips and strokes."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from hypothesis import strategies as st

from mailmerge.artwork.drawings import read_drawing

from .changes import changed, changes
from .rule import Reader

_START = (
    '<?xml version="1.0"?><svg xmlns="http://www.w3.org/2000/svg" '
    'xmlns:xlink="http://www.w3.org/1999/xlink" width="40mm" height="30" viewBox="0 0 40 30">'
)
_BASES = tuple(
    f"{_START}{inner}</svg>"
    for inner in (
        '<defs><g id="a" transform="rotate(9)"><path d="M1 1h9v9z"/></g><clipPath id="c"><circle '
        'cx="9" cy="9" r="8"/></clipPath></defs><use href="#a" x="3"/><g clip-path="url(#c)"><rect '
        'x="2" y="2" width="20" height="9" rx="3"/></g>',
        '<style>.k{fill:#000;stroke:none}</style><path class="k" fill-rule="evenodd" '
        'd="M0 0L30 0C30 9 9 30 0 20S-9 9 5 5Q9 9 20 20T1 1A5 6 30 0 1 9 9Z m2 2h3v3H2z"/>',
        '<g stroke="black" stroke-width="2" fill="none" stroke-linecap="round" '
        'stroke-linejoin="miter" stroke-miterlimit="9"><polyline points="0,0 9,9 20,3"/><ellipse '
        'cx="20" cy="20" rx="8" ry="3" stroke-dasharray="2 1"/><line x1="1" y1="2" x2="30" '
        'y2="9"/></g>',
        '<g transform="matrix(1 .2 0 1 3 4) scale(.5)" opacity="1"><symbol id="s" '
        'viewBox="0 0 9 9">'
        '<polygon points="0 0 9 0 9 9"/></symbol><use xlink:href="#s" width="9" height="9"/><g '
        'style="fill:white"><circle cx="4" cy="4" r="2"/></g><switch><rect width="5%" '
        'height="2em"/></switch></g>',
    )
)  # fmt: skip

_VALUES = (
    "M0 0", "M0 0z", "M0 0L1e38 1e38z", "M0 0h1e-9v1e-9z", "M0,0 9-9.5.5z", "M 0 0 A 0 0 0 0 0 1 1",
    "M0 0A1e9 1e-9 0 1 1 9 9z", "M0 0C", "h9", "M0 0" + "L9 9L0 9" * 40 + "z", "#a", "#s",
    "url(#c)",
    "scale(0)", "scale(1e-20)", "matrix(1 1 1 1 0 0)", "rotate(90,1,1) skewX(90)",
    "translate(1e300)",
    "inherit", "currentColor", "rgba(0,0,0,.5)", "hsl(1,2%,3%)", "#fff", "white", "red", "0.001",
    "1e-30", "100%", "3in", "-5mm", "1e6", "0 0 1e-9 1e-9", "fill:none", "display:none", "round",
    "0.001 0.001", "1000000", "data:image/png;base64,AA", "file:///etc/passwd", "evenodd",
)  # fmt: skip

_path = st.lists(
    st.tuples(
        st.sampled_from("MmLlHhVvCcSsQqTtAaZz"),
        st.lists(
            st.one_of(st.integers(-50, 50), st.sampled_from((0.001, 1e-12, 1e7, -1e38, 0.1, 1, 0))),
            max_size=7,
        ),
    ),
    max_size=12,
)

CASES = st.fixed_dictionaries(
    {
        "base": st.integers(0, len(_BASES) - 1),
        "changes": changes(_VALUES),
        "path": st.one_of(st.none(), _path),
        "stroked": st.booleans(),
    }
)


def write(case: dict[str, Any], folder: Path) -> Path:
    """Write a drawing."""
    text = _BASES[case["base"]]
    if case["path"] is not None:
        data = "M0 0" + "".join(
            command + " ".join(f"{number:g}" for number in numbers)
            for command, numbers in case["path"]
        )
        look = ' fill="none" stroke="black" stroke-width="1"' if case["stroked"] else ""
        text = text.replace("</svg>", f'<path d="{data}"{look}/></svg>')
    path = folder / "drawing.svg"
    path.write_bytes(changed(text, case["changes"]).encode("utf-8", "surrogatepass"))
    return path


def read(path: Path) -> None:
    """Read a drawing as a layout does."""
    read_drawing.cache_clear()
    assert read_drawing(path).outline.box.width > 0


READER = Reader("drawings", CASES, write, read, may_leave=("*.png",))
