"""The proof pack: what the client gets to look at, tick and send back.

One :class:`Pack` of plain data, and four ways to look at it: a page, a paper, a contact sheet and a
list. None of them knows more than the pack holds, so none can show what is not the client's.
"""

from mailmerge.proofs.pack.cards import Card, Pack, Sender, Text
from mailmerge.proofs.pack.checklist import write_checklist
from mailmerge.proofs.pack.page import write_page
from mailmerge.proofs.pack.printed import write_paper
from mailmerge.proofs.pack.sheet import draw_picture, draw_sheets

__all__ = [
    "Card",
    "Pack",
    "Sender",
    "Text",
    "draw_picture",
    "draw_sheets",
    "write_checklist",
    "write_page",
    "write_paper",
]
