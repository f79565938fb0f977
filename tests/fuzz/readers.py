"""All readers that are fuzzed, by name."""

from __future__ import annotations

from collections.abc import Mapping

from . import answers, drawings, fonts, ledgers, lists, settings
from .rule import Reader

READERS: Mapping[str, Reader] = {
    module.READER.name: module.READER
    for module in (lists, drawings, fonts, settings, answers, ledgers)
}
