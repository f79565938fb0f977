"""The parts of a workbook's file, which are XML in a ZIP (ECMA-376 part 2; OpenDocument part 2)."""

from __future__ import annotations

import zipfile
from collections.abc import Callable, Iterator
from xml.etree import ElementTree
from xml.etree.ElementTree import Element


def name_of(element: Element) -> str:
    """Return the name of an element without its namespace."""
    return element.tag.rpartition("}")[2]


def part_of(archive: zipfile.ZipFile, name: str) -> Element | None:
    """Return the root of a part; None where there is no such part."""
    return ElementTree.fromstring(archive.read(name)) if name in archive.namelist() else None


def children_of(parent: Element | None, name: str) -> list[Element]:
    """Return what the parent's children of a name hold."""
    found = () if parent is None else parent
    return [each for child in found if name_of(child) == name for each in child]


def runs_of(text: Element) -> Iterator[tuple[str, Element | None]]:
    """Pass over the runs of a text of an .xlsx: what each says, and its font if it has its own."""
    for run in text:
        if name_of(run) == "r":
            said = "".join(part.text or "" for part in run if name_of(part) == "t")
            yield said, next((part for part in run if name_of(part) == "rPr"), None)


def shared_texts(
    archive: zipfile.ZipFile, is_wanted: Callable[[Element], bool]
) -> dict[int, Element]:
    """Return some of the texts that the cells of an .xlsx share, by their number.

    The others are forgotten at once, so that memory does not grow with them.
    """
    found: dict[int, Element] = {}
    if "xl/sharedStrings.xml" not in archive.namelist():
        return found
    number, root = 0, None
    with archive.open("xl/sharedStrings.xml") as file:
        for event, element in ElementTree.iterparse(file, events=("start", "end")):
            if root is None:
                root = element
            if event == "end" and name_of(element) == "si":
                if is_wanted(element):
                    found[number] = element
                number += 1
                root.clear()
    return found
