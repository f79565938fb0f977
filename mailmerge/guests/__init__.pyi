from .cleaning import Change
from .company import Remark
from .counted import RowCount
from .hands import Hand
from .names import fold
from .reading import (
    Guest,
    GuestList,
    Survey,
    Trouble,
    corrected,
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
