"""The proof pack: what the client gets to look at, tick and send back.

One :class:`Pack` of plain data, and four ways to look at it, each a module: a page, a paper, a
contact sheet and a list. None of them knows more than the pack holds, so none can show what is not
the client's. They are imported from where they are: what reads an order needs none of them, nor the
libraries behind them, which take longer to load than all the rest.
"""

from mailmerge.proofs.pack.cards import Card, Pack, Sender, Text

__all__ = ["Card", "Pack", "Sender", "Text"]
