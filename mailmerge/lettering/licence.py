"""What a font's file says about its licence. The file's own words, and no legal advice."""

from __future__ import annotations

import struct
from dataclasses import dataclass

from mailmerge.lettering import words
from mailmerge.lettering.fonts import Font

_COPYRIGHT, _LICENCE, _LICENCE_URL = 0, 13, 14
"""Name IDs: OpenType specification, name table."""

_FS_TYPE_AT = 8
"""Byte at which fsType stands: OpenType specification, OS/2 table."""

_RESTRICTED = 0x0002
_EMBEDDING = {
    _RESTRICTED: words.RESTRICTED,
    0x0004: words.PREVIEW_AND_PRINT,
    0x0008: words.EDITABLE,
}
_ALSO = {0x0100: words.NO_SUBSETTING, 0x0200: words.BITMAPS_ONLY}


@dataclass(frozen=True, slots=True)
class Licence:
    """A font's licence as its file states it; texts are ``""`` where the file says nothing."""

    copyright: str
    words: str
    """Its licence in words."""
    url: str
    embedding: str
    """Its embedding bits in words."""
    restricted: bool

    @property
    def short(self) -> str:
        """The licence on one line: where it can be read, or how it begins."""
        return self.url or self.words[:80] or words.NOTHING_ABOUT_LICENCE


def licence_of(font: Font) -> Licence:
    """Return what a font's name table and embedding bits say (name IDs 0, 13 and 14; fsType)."""
    bits = _embedding_bits(font)
    said = [text for bit, text in _EMBEDDING.items() if bits is not None and bits & bit]
    said += [text for bit, text in _ALSO.items() if bits is not None and bits & bit]
    if bits is None:
        said = [words.NOTHING_ABOUT_EMBEDDING]
    return Licence(
        copyright=font.named(_COPYRIGHT),
        words=font.named(_LICENCE),
        url=font.named(_LICENCE_URL),
        embedding=", ".join(said) or words.INSTALLABLE,
        # Where several bits are set, the least restrictive counts.
        restricted=bits is not None and bits & 0x000E == _RESTRICTED,
    )


def _embedding_bits(font: Font) -> int | None:
    table = bytes(font.face.reference_table("OS/2").data)
    if len(table) < _FS_TYPE_AT + 2:
        return None
    return int(struct.unpack_from(">H", table, _FS_TYPE_AT)[0])
