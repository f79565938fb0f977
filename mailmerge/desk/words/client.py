"""What is said in Client."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping

from mailmerge.desk.words.everywhere import day
from mailmerge.units import counted, in_a_row

PASTED = "the message"
NOTHING_CAME = "Choose the file that came back, or paste the message."
NOTHING_TYPED = (
    "These are the words that stand on the cup now. Type other ones, or leave it as it is."
)
LONG_GONE = "This picture is gone. Type again."

YOUR_WORD = "Needs your word"
CAME_BACK = "Something came back?"
DROP_ANSWERS = "Drop it here"
DROP_ANSWERS_HOW = "the answers that the page has saved, the list filled in, or a text"
PASTE = "Or paste the message"
PASTE_HOW = (
    "All of it, with greetings and all: text out of an e-mail, a chat or the PDF. Words that hold "
    "no answer become a question for you. It holds every cup it may concern, also those at the "
    "bench, until you settle it."
)
TAKE_IN = "Take it in"
STAYS_ON_RECORD = (
    "What came goes on record word for word, and stays there. A later word of the same person "
    "counts instead of it."
)
CANNOT_UNDO_YES = "A yes stays on record, and is not taken out again. Read the names first."

THE_PACK = "The proof pack"
PACK_STAYS = "A pack that was made stays on record. What people say to an older one still counts."
NO_PACK = "No proof pack was made yet"
NO_PACK_HOW = "It shows the client every cup, close by, and asks: right, or change?"
MAKE_PACK = "Make the proof pack"
MAKE_PACK_ANEW = "Make a new one"
SEE_PACK = "See it as the client will"
SAVE_PAGE = "Save the page, to send"
SAVE_PACK = "Save all of it as one file"
PACK_IS_CURRENT = "It shows everything that is open, as it is now."
LANGUAGE = "Its language"
WHOSE_YES = "Whose yes you need"
WHOSE_YES_HOW = "One name a line. Nobody named: whoever answers speaks for the client."
ONE_IS_ENOUGH = "One of them is enough"
ALL_OF_THEM = "Each of them has to say yes"
SHOW_ALL = "Also show what is answered already"
NEW_TAB = "opens in a new tab"

STILL_OPEN = "Still open"
NOTHING_OPEN = "Nothing is open"
NOTHING_OPEN_HOW = "Every cup that can be shown has its answer."
NEVER_SHOWN = "not shown yet"
REMIND = "Remind the client"
REMIND_HOW = "Copy this text into a message. Nothing is sent from here."
COPY_TEXT = "Copy the text"
BY_PHONE = "A yes by telephone"
BY_PHONE_HOW = (
    "Choose the cups above, then say who said yes, and how. Each cup that is chosen counts as "
    "confirmed from then on, and can be released to engrave."
)
CHOOSE_ALL = "Choose all"
WHO_SAID_YES = "Who said it, and how"
WHO_SAID_YES_HOW = "such as: Anna Reed, by telephone"
ON_WHICH_DAY = "On which day"
PUT_YES = "Put the yes on record"

NOW = "Now"
AS_WISHED = "As wished"
ON_THE_CUP = "On the cup"
WISHED = "Wished"
TAKE_IT = "Take it"
OTHER_WORDS = "Other words"
MAKE_IT_SO = "Make it so"
LEAVE_IT = "Leave it as it is"
LEAVE_IT_HOW = "The cup still needs a yes. Your name and the reason go on record, and stay there."
YOUR_NAME = "Your name"
WHY = "Why"
NO_TEXT_TOLD = "The words do not say which text it should be."
STANDS_ON_RECORD = "The list stays as it is. The new text stands on record, and waits for a yes."
CHANGE_OR_SEE = "Change it"
DISAGREE_HOW = "People say different things. Take one, or leave it as it is."

QUESTION = "Question"
SETTLE = "It is settled"
AS_GUEST = "A guest who came late: make a cup"
WHAT_WAS_DONE = "What you did, or why nothing is to be done"
MAY_CONCERN = "Holds these cups:"
CONCERNS_NONE = "It holds no cup."
SETTLED_STAYS = "What you write goes on record, and stays there."

ANSWERED = "Answered"
EARLIER_RECORDS = "Earlier records"
EARLIER_RECORDS_HOW = (
    "The order keeps dated copies of its record. If it goes on with one of them, the present "
    "record is kept as a copy first, so you can come back to it."
)
PRESENT_RECORD = "The present record"
GO_ON_WITH_IT = "Go on with this one"
NO_RECORDS = "There is no earlier record yet."
HISTORY = "What was said and done"
NO_HISTORY = "Nothing was said about this cup yet."

CAME_TITLE = "This came back"
CAME_RIGHT = "Right"
CAME_WISHES = "To change"
CAME_KEPT = "On record, but it changes nothing now"
CAME_AGAIN = "Was on record already"
CAME_BESIDE = "What stood beside the answers"
CAME_LEFT_OUT = "Their rows are not in the list that came back"
CAME_ASKED = "Not understood: a question for you"


def stop_the_machine(item: int) -> str:
    """Say that what was taken back is just being engraved."""
    return f"Stop the machine: cup {item} is on it, its clock runs, and its file was taken back."


CAME_WITHDRAWN = "Taken back out of the folder to engrave from"
CAME_ON_RECORD = (
    "It is all on record now, word for word, and stays there: nothing is left to be taken. A "
    "later word of the same person replaces it, and each wish waits for your decision."
)
GO_ON = "See what is open now"
NOT_EXACT = (
    "A mail program has changed spaces or signs in the message, so no text is proposed. Ask how it "
    "is written, or for the file that the page saves."
)


def moment(when: dt.datetime) -> str:
    """Name a day and an hour, by this computer's clock."""
    here = when.astimezone()
    return f"{day(here)}, {here:%H:%M}"


def talk_now(answered: int, held: int, open_ones: int, wishes: int, questions: int) -> str:
    """Say in one line where the talk stands."""
    need = [
        counted(wishes, "wish", "wishes") if wishes else "",
        counted(questions, "question") if questions else "",
    ]
    needs = " and ".join(each for each in need if each)
    but = f" ({held} of them held by a question)" if held else ""
    told = f"{answered} answered{but}, {open_ones} open."
    return f"{told} {needs} for you to settle." if needs else told


def of_chosen(count: int) -> str:
    """Say of how many cups some are chosen; the number that are stands before it."""
    return f"of {counted(count, 'cup')} chosen"


def open_since(when: dt.datetime | None) -> str:
    """Say since when a cup is open."""
    return f"since {day(when)}" if when else NEVER_SHOWN


def yes_of(people: tuple[str, ...], all_of_them: bool) -> str:
    """Say whose yes is missing."""
    return f"needs {in_a_row(people)}" if all_of_them else f"needs {' or '.join(people)}"


def pack_made(name: str, when: dt.datetime, cups: int) -> str:
    """Say which pack is the newest."""
    return f"Pack {name}, made {moment(when)}, shows {counted(cups, 'cup')}."


def pack_is_old(cups: int) -> str:
    """Say that a pack does not show everything as it is now."""
    return f"It does not show {counted(cups, 'open cup')} as it is now. Make a new one."


def not_in_pack(cups: int) -> str:
    """Say how many cups no pack can show."""
    verb = "is" if cups == 1 else "are"
    return f"{counted(cups, 'cup')} {verb} stopped and not in it. See Cups."


def file_size(size: int) -> str:
    """Name a file's size."""
    return f"{size / 1e6:.1f} MB" if size >= 100_000 else f"{max(1, round(size / 1000))} kB"


def page_to_send(size: int) -> str:
    """Say what the client does with the page."""
    return f"Your client opens it in any browser, also on a phone. It has {file_size(size)}."


def of_the_pack(size: int) -> str:
    """Say what else the pack holds."""
    return f"with a PDF to print, a workbook to fill in and the pictures apart: {file_size(size)}."


def reminder_for(person: str) -> str:
    """Head a text that reminds."""
    return f"{REMIND}: {person}" if person else REMIND


def picture_now(name: str) -> str:
    """Tell the picture of a cup as it is."""
    return f"The cup of {name} as it is now"


def picture_wished(name: str) -> str:
    """Tell the picture of a cup as somebody wants it."""
    return f"The cup of {name} as wished"


def wants(by: str, said: str) -> str:
    """Say who wants what."""
    return (
        f"{by or 'Somebody'} writes: {said}" if said else f"{by or 'Somebody'} wants another text."
    )


def says_right(by: str) -> str:
    """Say who says yes."""
    return f"{by or 'Somebody'} says that it is right."


def choose(number: int, name: str) -> str:
    """Name the box that chooses a cup."""
    return f"Choose cup {number}, {name}"


def asked_by(by: str, when: str) -> str:
    """Say who has sent what is not understood."""
    return f"From {by or 'somebody'}, {day(dt.datetime.fromisoformat(when))}"


def came_from(count: int, by: str) -> str:
    """Say how much came, and from whom."""
    if not count:
        return "No answers stand in it, only words."
    return f"{counted(count, 'answer')} from {by}." if by else f"{counted(count, 'answer')}."


def making_again(name: str) -> str:
    """Say which cup is made again."""
    return f"Making the cup of {name} again"


STAYS_SO, YES_COMES, SETTLED_SO = "Stays as it is", "A yes, on record", "Settled"
COMES_IN_TURN = "It is put on record by itself, as soon as what is at work is done."


def stays(name: str, waits_for: str) -> str:
    """Say that a cup stays as it is."""
    return f"The cup of {name} stays as it is: {waits_for}."


def confirmed(names: list[str], unseen: int) -> str:
    """Say whose yes is on record."""
    told = f"The yes for {in_a_row(names)} is on record."
    if not unseen:
        return told
    return f"{told} For {counted(unseen, 'cup')} no pack has shown it as it is now."


def question_settled(number: int, again: int = 0) -> str:
    """Say that a question is settled, and how many cups can be released now."""
    told = f"Question {number} is settled."
    if not again:
        return told
    verb = "waits" if again == 1 else "wait"
    return f"{told} {counted(again, 'cup')} {verb} to be released to engrave. One press does it."


def no_day(text: str) -> str:
    """Say how a day is given."""
    return f"{text}: This is no day. Give one such as 2026-12-05."


def went_back(is_copy: bool, aside: int) -> str:
    """Say with which record the order goes on."""
    told = "The order goes on with the earlier record." if is_copy else "The present record holds."
    if not aside:
        return told
    return f"{told} {counted(aside, 'file')} left the folder to engrave from and was put aside."


def in_record(totals: Mapping[str, int]) -> str:
    """Say what a record holds."""
    return ", ".join(f"{count} {standing}" for standing, count in totals.items()) or "nothing yet"
