from .beam import check_close_letters, close_letters
from .items import check_item, check_name, check_texts
from .lines import running_off
from .listing import (
    check_drawings,
    check_fonts,
    check_languages,
    check_list,
    check_words,
)
from .loading import check_blank, check_reach
from .mending import Way, ways
from .naming import two_in

__all__ = [
    "Way",
    "check_blank",
    "check_close_letters",
    "check_drawings",
    "check_fonts",
    "check_item",
    "check_languages",
    "check_list",
    "check_name",
    "check_reach",
    "check_texts",
    "check_words",
    "close_letters",
    "running_off",
    "two_in",
    "ways",
]
