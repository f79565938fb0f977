"""What is said at the Bench."""

from __future__ import annotations

import datetime as dt
import hashlib
from collections.abc import Iterable

from mailmerge.deeds.held import Held
from mailmerge.deeds.status import Record
from mailmerge.desk.words.everywhere import cups, standing
from mailmerge.units import counted, format_minutes

# Bench

RELEASE_CHOSEN = "Release what is chosen"
RELEASE_HOW = (
    "What is confirmed goes into the folder to engrave from, exactly as the client saw it. It "
    "stays there until it is engraved or spoiled, or the client wants something else."
)
RELEASE_WITHOUT_YES = "Release a cup without the client's yes"
REASON_WITHOUT_YES = "Why it is engraved without a yes; it stands on the run sheet"
CHOOSE_CUPS = "Choose the cups that are to be released without a yes."
NOTHING_RELEASED = "Nothing was released. Every cup that is left waits for something."
NO_RUN = "Nothing is to be engraved now"
NO_RUN_HOW = "Cups come here when the client has said yes and you release them."
ALL_DONE = "All cups of this order are engraved"
ALL_DONE_HOW = "Look at each in daylight, letter by letter. Then see what to charge."
CAUTIONS = "Before you start"
READ_CAUTIONS = "Read them all"
CAUTIONS_IN_SHORT = (
    "Eyes protected, enclosure shut, extraction on, lid off, handle clear of the head. Never alone."
)
CLOCK_STAYS = "A time that was stopped stays in the shop's log: estimates learn from it."
LETTER_BY_LETTER = "Letter by letter"
HOW_IT_LIES = "How it lies"
HOW_IT_WILL_LOOK = "How it will look"
TO_LOAD = "Load this file"
COPY, COPIED = "Copy the name", "Copied"
SETTINGS = "Settings"
POWER, SPEED, PASSES, INTERVAL = "Power", "Speed", "Passes", "Line to line"
NO_SETTINGS = "No settings are known for this coat on this machine. Make a test card first."
START_CLOCK, STOP_CLOCK = "Start the clock", "Stop the clock"
ENGRAVED, SPOILED, SKIP_THIS = "Engraved", "Spoiled", "Another one first"
WHAT_HAPPENED = (
    "What happened? You may leave it empty. It helps to know how many spare blanks to order."
)
PUT_ON_RECORD = "Put it on record"
STEPS = "Step by step"
LEFT_HAND = "LEFT HAND"
UNDO = "That was a mistake"
WITHOUT_YES = "Without the client's yes"
LOOK_FIRST = "Look at this first"


ENGRAVED_ALREADY = "Was one of them engraved already?"
SETTLED_AT_DESK = "It is settled at the desk, under Client."


def clock_runs_for(number: int) -> str:
    """Say that the clock runs for a cup that is not the one to be seen."""
    return f"The clock runs for cup {number}. Stop it before you start it for this one."


def release_them(count: int) -> str:
    """Name the press that lets what is confirmed out."""
    return "Release it to engrave" if count == 1 else "Release them to engrave"


def size_of_word(letters: int) -> str:
    """Say how large the letters of a word stand beside each other, so that it need not break."""
    return "" if letters <= _LARGE else "long" if letters <= _SMALLER else "longest"


_LARGE, _SMALLER = 8, 12
"""So many letters stand beside each other on a phone of 390 px, large and somewhat smaller."""


def of_run(engraved: int, left: int) -> str:
    """Say how far the run is."""
    return f"{engraved} of {cups(engraved + left)} engraved, {left} to go"


def is_not_in_run(name: str, found: str) -> str:
    """Say that a cup is not to be engraved now."""
    return f"{name} is not in the run now: {standing(found)}."


def held(found: Held) -> list[tuple[str, str]]:
    """Say what is not to be engraved yet and why, each with the place where that is settled."""
    told = []
    if found.in_question:
        by = counted(found.questions, "question")
        count = len(found.in_question)
        told.append((f"{cups(count)} {_is(found.in_question)} held by {by}.", "client"))
    if found.wished:
        told.append((f"{cups(len(found.wished))} {_is(found.wished)} wanted otherwise.", "client"))
    if found.waiting:
        count = len(found.waiting)
        verb = "waits" if count == 1 else "wait"
        told.append((f"{cups(count)} {verb} for the client's yes.", "client"))
    if found.stopped:
        told.append((f"{cups(len(found.stopped))} {_is(found.stopped)} stopped.", "cups"))
    return told


def _is(found: tuple[Record, ...]) -> str:
    return "is" if len(found) == 1 else "are"


def taken_out(count: int) -> str:
    """Say that what was released is not to be engraved now."""
    if count == 1:
        return "It left the folder to engrave from. When that is settled, release it again here."
    return (
        f"Of these, {cups(count)} left the folder to engrave from. When that is settled, release "
        f"them again here."
    )


def released(count: int) -> str:
    """Say that cups were released."""
    return f"{counted(count, 'cup')} released. The files are in the folder to engrave from."


def not_released(refused: Iterable[tuple[Record, str]]) -> str:
    """Say why confirmed cups were not released."""
    return " ".join(f"{record.number} {record.name}: {why}" for record, why in refused)


def file_measures(width: float, height: float) -> str:
    """Say what the file must measure."""
    return f"It must measure {width:.1f} × {height:.1f} mm. If it does not, do not engrave it."


def takes(seconds: float) -> str:
    """Say how long a cup takes at the machine."""
    return f"About {format_minutes(seconds)} at the machine"


def limited(limit: float) -> str:
    """Say that a machine cannot be as fast as it is set."""
    return f"The machine moves at {limit:g} mm/s at most on this axis."


def is_engraved(name: str, took: float | None) -> str:
    """Say that a cup is on record as engraved."""
    time = f" It took {format_minutes(took)}." if took is not None else ""
    return f"{name} is engraved.{time}"


def is_spoiled(name: str) -> str:
    """Say that a blank is on record as lost."""
    return f"The blank of {name} is on record as lost. Release the cup again when it can be made."


def taken_back(name: str) -> str:
    """Say that something was taken back."""
    return f"That was taken back. {name} stands where it stood before."


def clock_stopped(took: float, why_not: str) -> str:
    """Say what the clock has said."""
    more = f" Estimates learn nothing from it: {why_not}" if why_not else ""
    return f"The clock said {format_minutes(took)}.{more}"


def digest_of(told: Iterable[str]) -> str:
    """Return a short digest of texts."""
    return hashlib.sha256("\n".join(told).encode()).hexdigest()[:16]


# Bench: what waits for its turn

STOPS_CLOCK = "The clock is stopped"


def starts_clock(name: str, at: dt.datetime) -> str:
    """Say for which cup the clock starts, and since when it will have run."""
    return f"The clock runs for {name} from {at:%H:%M:%S} on"


def becomes_engraved(name: str) -> str:
    """Say that a cup comes on record as engraved."""
    return f"{name} is engraved"


def becomes_spoiled(name: str) -> str:
    """Say that a blank comes on record as lost."""
    return f"The blank of {name} is lost"


def is_taken_back(name: str) -> str:
    """Say that what became of a cup is taken back."""
    return f"{name}: what was put on record is taken back"


def are_released(count: int) -> str:
    """Say that cups are released."""
    return f"{cups(count)} {'is' if count == 1 else 'are'} released"


# Bench: the file

FILES_LIE_IN = "It lies in this folder"
SAVE_FILE, COPY_FOLDER = "Save the file", "Copy the folder"
SEE_CUP = "See its cup"
