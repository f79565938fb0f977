"""Deeds: one function for each thing that a person does with an order or the shop.

Every rule and every transaction of the program is below a deed or in it; whoever calls one cannot
forget any. A deed takes checked values and returns a frozen result. What it must know before it can
go on it returns as a :class:`~mailmerge.deeds.questions.Question`, which is answered by calling it
again. None prints, asks or ends the program.

``deeds.listing`` is imported when it is first named so; whoever starts quickly names what it needs
later in this way.
"""

import pkgutil

import lazy_loader

from mailmerge.progress import CHANGES, CalledOff, Watch, end_with_parent, unwatched

__all__ = ["CHANGES", "CalledOff", "Watch", "end_with_parent", "unwatched"]

__getattr__, __dir__, _ = lazy_loader.attach(
    __name__, {module.name for module in pkgutil.iter_modules(__path__)}
)
