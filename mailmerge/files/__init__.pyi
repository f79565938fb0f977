from .disk import Root, is_link, lent, temporary, write_file, writing
from .reading import (
    digest_of,
    escaped,
    is_file_with,
    is_like_formula,
    read_file,
    unescaped,
)
from .stage import Stage
from .words import leads_elsewhere, too_large, unreadable

__all__ = [
    "Root",
    "Stage",
    "digest_of",
    "escaped",
    "is_file_with",
    "is_like_formula",
    "is_link",
    "leads_elsewhere",
    "lent",
    "read_file",
    "temporary",
    "too_large",
    "unescaped",
    "unreadable",
    "write_file",
    "writing",
]
