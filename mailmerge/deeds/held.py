"""Which cups are in the run, and which are held back and why."""

from __future__ import annotations

from dataclasses import dataclass

from mailmerge.ledger.standing import Record, Standing

__all__ = ["Held", "held", "in_run"]


def in_run(records: tuple[Record, ...]) -> list[Record]:
    """Return those of an order's records that are released, in the order of the run."""
    released = [each for each in records if each.standing is Standing.RELEASED]
    return sorted(released, key=lambda each: each.events[-1].place or 0)


@dataclass(frozen=True, slots=True)
class Held:
    """What is not to be engraved yet, and why."""

    in_question: tuple[Record, ...]
    """Something came back that may concern them, and nobody has settled it yet."""
    questions: int
    """How many questions hold those."""
    wished: tuple[Record, ...]
    """Somebody wants them changed."""
    waiting: tuple[Record, ...]
    """The client has not said yes to them."""
    stopped: tuple[Record, ...]
    """They have no artwork."""
    taken_back: tuple[Record, ...]
    """Of all of these, what was released already and left the folder to engrave from."""

    @property
    def unforeseen(self) -> int:
        """How many would be engraved by now, had nothing come between."""
        return len({each.number for each in (*self.in_question, *self.taken_back)})

    def __bool__(self) -> bool:
        """Whether anything is held."""
        return bool(self.in_question or self.wished or self.waiting or self.stopped)


def held(records: tuple[Record, ...]) -> Held:
    """Return which of an order's records are not to be engraved yet, and why."""

    def standing(*wanted: Standing) -> tuple[Record, ...]:
        return tuple(each for each in records if each.standing in wanted)

    asked = standing(Standing.IN_QUESTION)
    wished = standing(Standing.TO_CHANGE, Standing.DISAGREE)
    waiting, stopped = standing(Standing.WAITING), standing(Standing.STOPPED)
    return Held(
        asked,
        len({question.number for each in asked for question in each.questions}),
        wished,
        waiting,
        stopped,
        tuple(
            each
            for each in (*asked, *wished, *waiting, *stopped)
            if each.events and each.events[-1].what == "withdrawn"
        ),
    )
