"""The guest list: reading workbooks and text files, matching columns, cleaning names."""

from mailmerge.guests.cleaning import Change
from mailmerge.guests.company import Remark
from mailmerge.guests.hands import Hand
from mailmerge.guests.reading import (
    Guest,
    GuestList,
    RowCount,
    Survey,
    Trouble,
    corrected,
    fold,
    meant_so,
    open_list,
    quantity_of,
    values_below,
)

__all__ = [
    "Change",
    "Guest",
    "GuestList",
    "Hand",
    "Remark",
    "RowCount",
    "Survey",
    "Trouble",
    "corrected",
    "fold",
    "meant_so",
    "open_list",
    "quantity_of",
    "values_below",
]
