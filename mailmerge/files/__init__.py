"""Files: read whole, and written whole or not at all, one by one or many together.

Only SQLite opens the ledger; everything else on the disk is written and deleted through here.
"""

from mailmerge.files.disk import Root, is_link, lent, write_file, writing
from mailmerge.files.reading import digest_of, escaped, is_file_with, read_file, unescaped
from mailmerge.files.stage import Stage
from mailmerge.files.words import leads_elsewhere, too_large, unreadable

__all__ = [
    "Root",
    "Stage",
    "digest_of",
    "escaped",
    "is_file_with",
    "is_link",
    "leads_elsewhere",
    "lent",
    "read_file",
    "too_large",
    "unescaped",
    "unreadable",
    "write_file",
    "writing",
]
