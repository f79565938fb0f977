"""Deeds: one function for each thing that a person does with an order or the shop.

Every rule and every transaction of the program is below a deed or in it; whoever calls one cannot
forget any. A deed takes checked values and returns a frozen result. What it must know before it can
go on it returns as a :class:`~mailmerge.deeds.questions.Question`, which is answered by calling it
again. None prints, asks or ends the program.
"""

from mailmerge.progress import CalledOff, Watch, unwatched

__all__ = ["CalledOff", "Watch", "unwatched"]
