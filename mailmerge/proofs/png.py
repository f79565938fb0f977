"""A palette picture as the bytes of a PNG (W3C, Portable Network Graphics, third edition).

Written here and not by Pillow for one reason: Pillow's own deflate takes 6 ms for a proof, longer
than drawing it; isal's takes 0.8 ms for a file that is as small. And rows that two pictures share
are deflated once.
"""

from __future__ import annotations

import struct
import zlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from isal import isal_zlib

if TYPE_CHECKING:  # a part is cut out without it
    import numpy as np
    from numpy.typing import NDArray

_ADLER = 65521
"""The prime that Adler's sums are taken by (RFC 1950)."""


@dataclass(frozen=True, slots=True)
class Strip:
    """Whole rows of a palette picture, deflated: a picture is as many of them as one likes."""

    width: int
    height: int
    deflated: bytes
    """Whole bytes, and not the last block (RFC 1951)."""
    adler: int
    """Their checksum."""


def strip_of(rows: NDArray[np.uint8]) -> Strip:
    """Return rows of palette indices as a strip.

    Parameters
    ----------
    rows
        Shape (height, width + 1): each row starts with its filter, which is 0 for none.
    """
    deflate = isal_zlib.compressobj(1, isal_zlib.DEFLATED, -15)
    deflated = deflate.compress(rows.data) + deflate.flush(isal_zlib.Z_FULL_FLUSH)
    return Strip(rows.shape[1] - 1, rows.shape[0], deflated, isal_zlib.adler32(rows.data))


def png(strips: Sequence[Strip], colours: NDArray[np.float64]) -> bytes:
    """Return strips of one width, from the upper to the lowest, as a PNG.

    Parameters
    ----------
    colours
        Red, green and blue from 0 to 255 for each index, shape (256, 3).
    """
    width, height = strips[0].width, sum(strip.height for strip in strips)
    adler = 1
    for strip in strips:
        adler = _adler_of_both(adler, strip.adler, strip.height * (width + 1))
    data = [b"\x78\x01", *(strip.deflated for strip in strips), _LAST, struct.pack(">I", adler)]
    return _written(width, height, colours.round().astype("uint8").tobytes(), b"".join(data))


def part_of(png: bytes, box: tuple[int, int, int, int]) -> bytes:
    """Return a part of a picture as a picture of its own, without drawing either.

    Rows that are neither filtered nor interlaced, a byte for a pixel, are cut as texts are: that
    takes a third of the time that any picture's takes.

    Parameters
    ----------
    png
        As :func:`png` has written it.
    box
        Left, top, right and bottom in px.

    Raises
    ------
    ValueError
        It is another kind of picture, or damaged.
    """
    left, top, right, bottom = box
    chunks = dict(_chunks(png))
    try:
        width, height, *kind = struct.unpack(_HEADER, chunks[b"IHDR"])
        rows = isal_zlib.decompress(chunks[b"IDAT"])
        colours = chunks[b"PLTE"]
    except (KeyError, struct.error, isal_zlib.error):  # type: ignore[misc]  # wrong in its stub
        raise ValueError from None
    stride = width + 1
    if kind != _KIND or len(rows) != height * stride or any(rows[::stride]):
        raise ValueError
    starts = range(top * stride, bottom * stride, stride)
    cut = b"".join(b"\0" + rows[at + left + 1 : at + right + 1] for at in starts)
    return _written(right - left, bottom - top, colours, isal_zlib.compress(cut, 2))


_SIGNATURE = b"\x89PNG\r\n\x1a\n"
_HEADER = ">IIBBBBB"
_KIND = [8, 3, 0, 0, 0]
"""8 bits a pixel, which stand in a palette; deflated, filtered row by row, not interlaced."""


def _written(width: int, height: int, colours: bytes, deflated: bytes) -> bytes:
    return b"".join(
        [
            _SIGNATURE,
            _chunk(b"IHDR", struct.pack(_HEADER, width, height, *_KIND)),
            _chunk(b"PLTE", colours),
            _chunk(b"IDAT", deflated),
            _chunk(b"IEND", b""),
        ]
    )


def _chunks(png: bytes) -> Iterator[tuple[bytes, bytes]]:
    """Pass over the chunks of a picture, each with its kind; of one that is cut short, what is."""
    at = len(_SIGNATURE)
    while at + 8 <= len(png):
        (length,) = struct.unpack_from(">I", png, at)
        yield png[at + 4 : at + 8], png[at + 8 : at + 8 + length]
        at += length + 12


_LAST = b"\3\0"
"""The last block of a deflated stream, with nothing in it."""


def _adler_of_both(first: int, second: int, length: int) -> int:
    """Return the checksum of data that a second part, so many bytes long, follows (RFC 1950).

    The low half is 1 and the sum of the bytes, the high half the sum of all low halves on the way.
    """
    low, high = first & 0xFFFF, first >> 16
    both = (low + (second & 0xFFFF) - 1) % _ADLER
    return (high + (second >> 16) + length * (low - 1)) % _ADLER << 16 | both


def _chunk(kind: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
