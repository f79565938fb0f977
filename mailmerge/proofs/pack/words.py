"""What a proof pack says to clients, in their language; its page says more in page.html.

A text for translators is a literal in a call of ``gettext``, ``ngettext`` or ``N_``: so the
catalogues are made (see *A language* in DEVELOPERS.md).
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterable, Sequence

from mailmerge.guests.columns import label_of
from mailmerge.proofs.pack.languages import N_, Language

# A card


def cup_numbers(language: Language, number: str, count: int) -> str:
    """Name the cups of a card."""
    return language.ngettext("Cup %(number)s", "Cups %(number)s", count, number=number)


def picture(language: Language, number: str, texts: Sequence[tuple[str, str]]) -> str:
    """Tell a picture of a cup to whoever does not see it; ``texts`` are (label, text)."""
    if not texts:
        return language.gettext(
            "Picture of cup %(number)s, engraved with no text.", number=number
        )  # fmt: skip
    listed = language.listed(detail(language, label, text) for label, text in texts)
    return language.gettext(
        "Picture of cup %(number)s, engraved with %(texts)s.", number=number, texts=listed
    )


def engraved_as(language: Language, letter: str, capital: str) -> str:
    """Say that a letter is engraved as another one, or as several."""
    return language.gettext(
        "%(letter)s is engraved as %(capital)s", letter=letter, capital=capital
    )  # fmt: skip


def opinion(language: Language, who: str, wanted: str) -> str:
    """Say what somebody wants of a cup; nothing, for whoever says that it is right."""
    who = who or language.gettext("Somebody")
    if not wanted:
        return language.gettext("%(who)s says that it is right.", who=who)
    return language.gettext("%(who)s wants: %(wanted)s", who=who, wanted=wanted)


def what_shall_it_be(language: Language) -> str:
    """Ask those who have said different things."""
    return language.gettext("What shall it be?")


def as_written(language: Language, text: str) -> str:
    """Tell a text as it is written, where it is engraved otherwise."""
    return language.gettext("As written: %(text)s", text=text)


def cup_of_pack(language: Language, pack: str, number: str) -> str:
    """Name a single picture."""
    return language.gettext("Pack %(pack)s, cup %(number)s", pack=pack, number=number)


def detail(language: Language, label: str, value: str) -> str:
    """Tell a detail of a cup."""
    return language.gettext("%(label)s: %(value)s", label=label, value=value)


def not_ready(language: Language) -> str:
    """Head the names of those whose cups are not shown."""
    return language.gettext("Not ready yet")


def later(language: Language, names: Iterable[str]) -> str:
    """Say whose cups are not shown."""
    return language.gettext("You will get these later: %(names)s.", names=language.listed(names))


def also_on_the_cup(language: Language) -> str:
    """Label a text that is none of the list's."""
    return language.gettext("Also on the cup")


def side(language: Language) -> str:
    """Label where the faces are."""
    return language.gettext("Side")


def held_by(language: Language) -> str:
    """Label the hand that holds a cup."""
    return language.gettext("Held by")


def colour(language: Language) -> str:
    """Label the coat of a cup."""
    return language.gettext("Colour")


def cup(language: Language) -> str:
    """Label the kind of a cup."""
    return language.gettext("Cup")


def how_many(language: Language) -> str:
    """Label the number of cups."""
    return language.gettext("How many")


def cups(language: Language, count: int) -> str:
    """Say how many cups a card stands for."""
    return language.ngettext("%(count)s cup", "%(count)s cups", count)


def hand(language: Language, hand: str) -> str:
    """Say which hand holds a cup: ``left`` or ``right``."""
    return language.gettext("Left hand") if hand == "left" else language.gettext("Right hand")


def number_range(language: Language, first: str, last: str) -> str:
    """Say that a card stands for items in a row."""
    return language.gettext("%(first)s to %(last)s", first=first, last=last)


def confirmed_on(language: Language, day: dt.datetime) -> str:
    """Say when a card was confirmed."""
    return language.gettext("Confirmed on %(day)s.", day=language.day(day))


def is_engraved(language: Language) -> str:
    """Say that a cup exists."""
    return language.gettext("This is engraved already.")


_FACES = (
    N_("the front"),
    N_("facing the drinker"),
    N_("facing the onlookers"),
    N_("opposite the handle"),
    N_("opposite the seam"),
)
_DEGREES = {
    "handle": N_("%(angle)s° from the handle"),
    "seam": N_("%(angle)s° from the seam"),
}


def faces(language: Language, side: str) -> str:
    """Say where the faces of a cup are; ``side`` is what its record says of that."""
    listed = language.listed(_face(language, each) for each in side.split(" and "))
    return listed[:1].upper() + listed[1:]


def _face(language: Language, face: str) -> str:
    if match := re.fullmatch(r"([0-9.-]+)° from the (handle|seam)", face):
        return language.gettext(_DEGREES[match[2]], angle=language.number(float(match[1])))
    return language.gettext(face) if face in _FACES else face


_LABELS = (
    N_("Name"), N_("First name"), N_("Last name"), N_("Initials"), N_("Role"), N_("Hand"),
    N_("Quantity"), N_("Side"), N_("Blank"), N_("Coat"), N_("Language"), N_("Note"),
    N_("Table"), N_("Group"),
)  # fmt: skip


def field_label(language: Language, field: str) -> str:
    """Return what a field of the list is called; one of an order's own stays as it is."""
    label = label_of(field)
    return language.gettext(label) if label in _LABELS else label


# The paper


def read_the_paper(language: Language) -> str:
    """Say what to do with the paper."""
    return language.gettext(
        "What you see here is exactly what will be engraved. Please check every letter, capital, "
        "accent and space. Tick what is right, or write what to change. Only what you say yes to "
        "will be engraved."
    )


def right(language: Language) -> str:
    """Label the box to tick."""
    return language.gettext("right")


def change(language: Language) -> str:
    """Label the line to write on."""
    return language.gettext("change:")


def page(language: Language, pack: str, number: int) -> str:
    """Return the name of a pack and the number of a page, for its foot."""
    return language.gettext("Pack %(pack)s, page %(number)s", pack=pack, number=number)


# The contact sheet


def first_look(language: Language) -> str:
    """Say what a contact sheet is not good for."""
    return language.gettext(
        "For a first look only. Please check each letter in the page, the PDF or the list."
    )


def sheet(language: Language, pack: str, number: int, count: int) -> str:
    """Name a contact sheet by its pack, and by its number if there are several."""
    if count == 1:
        return language.gettext("Pack %(pack)s", pack=pack)
    return language.gettext(
        "Pack %(pack)s, sheet %(number)s of %(all)s", pack=pack, number=number, all=count
    )


# The list. Its titles are read again when it comes back.


def please_check(language: Language) -> str:
    """Name the sheet of the workbook: at most 31 characters, as the format wants it."""
    return language.gettext("Please check")


def read_the_list(language: Language) -> str:
    """Say what to do with the list."""
    return language.gettext(
        'Please check every letter. Beside each cup, write "%(yes)s" if it is right, or write '
        "what to change. Leave the last column as it is. Then save the list and send it back.",
        yes=yes(language),
    )


def yes(language: Language) -> str:
    """Return what is written beside a cup that is right."""
    return language.gettext("yes")


def your_name(language: Language) -> str:
    """Label the cell for the name of whoever fills the list in."""
    return language.gettext("Your name")


def item_column(language: Language) -> str:
    """Give the column of numbers its title."""
    return language.gettext("Item")


def right_column(language: Language) -> str:
    """Give the column for a yes its title."""
    return language.gettext("Right?")


def change_column(language: Language) -> str:
    """Give the column for wishes its title."""
    return language.gettext("What to change")


def engraved_column(language: Language) -> str:
    """Give the column of texts that are engraved otherwise than they are written its title."""
    return language.gettext("As it is engraved")


def question_column(language: Language) -> str:
    """Give the column of what people have said its title."""
    return language.gettext("To be settled")


def seal_of_pack(language: Language, pack: str) -> str:
    """Give the column of seals its title."""
    return language.gettext("Seal of pack %(pack)s", pack=pack)


def text_column(language: Language, title: str) -> str:
    """Give a text's column another title than those of the list's own columns."""
    return language.gettext("%(title)s (text)", title=title)


# Letters that are easily missed


def other_letters(language: Language, word: str, script: str, right_to_left: bool) -> str:
    """Say that a word is in another alphabet; ``script`` is its name in English."""
    called = language.script(script)
    if right_to_left:
        return language.gettext(
            "%(word)s is in %(script)s letters, read from right to left: compare it with your own "
            "spelling", word=word, script=called,
        )  # fmt: skip
    return language.gettext(
        "%(word)s is in %(script)s letters: compare it with your own spelling",
        word=word, script=called,
    )  # fmt: skip


def unusual_letters(language: Language, word: str, bare: str, found: Sequence[str]) -> str:
    """Tell the unusual letters of a word; ``bare`` is the word without them."""
    listed = language.listed(found)
    if bare != word:
        return language.gettext(
            "%(bare)s with %(found)s: %(word)s", bare=bare, found=listed, word=word
        )  # fmt: skip
    return language.gettext("%(word)s: with %(found)s", word=word, found=listed)


def digit(language: Language, char: str) -> str:
    """Name a digit in a word."""
    return language.gettext("the digit %(digit)s", digit=char)


def sign(language: Language, char: str) -> str:
    """Name a sign in a word."""
    return language.gettext("the sign %(sign)s", sign=char)


def capital_inside(language: Language, char: str) -> str:
    """Name a capital that does not start its word."""
    return language.gettext("a capital %(letter)s inside", letter=char)


def mark(language: Language, mark: str, letter: str) -> str:
    """Name a mark on a letter, by what people call it and not by what Unicode does."""
    message = _MARKS.get(mark, N_("a mark on the %(letter)s"))
    return language.gettext(message, letter=letter)


_MARKS = {
    "\u0300": N_("a stroke falling to the right on the %(letter)s"),
    "\u0301": N_("a stroke rising to the right on the %(letter)s"),
    "\u0302": N_("a roof on the %(letter)s"),
    "\u0303": N_("a tilde on the %(letter)s"),
    "\u0304": N_("a bar over the %(letter)s"),
    "\u0306": N_("a bowl over the %(letter)s"),
    "\u0307": N_("a dot over the %(letter)s"),
    "\u0308": N_("two dots on the %(letter)s"),
    "\u0309": N_("a small hook on top of the %(letter)s"),
    "\u030a": N_("a ring on the %(letter)s"),
    "\u030b": N_("two rising strokes on the %(letter)s"),
    "\u030c": N_("a small v on the %(letter)s"),
    "\u030f": N_("two falling strokes on the %(letter)s"),
    "\u031b": N_("a horn on the %(letter)s"),
    "\u0323": N_("a dot under the %(letter)s"),
    "\u0326": N_("a comma under the %(letter)s"),
    "\u0327": N_("a hook under the %(letter)s"),
    "\u0328": N_("a tail under the %(letter)s"),
    "\u0331": N_("a bar under the %(letter)s"),
}

LETTERS = {
    "ð": ("d", N_("an eth (ð)")), "Ð": ("D", N_("a capital eth (Ð)")),
    "þ": ("th", N_("a thorn (þ)")), "Þ": ("Th", N_("a capital thorn (Þ)")),
    "ø": ("o", N_("a stroke through the o")), "Ø": ("O", N_("a stroke through the O")),
    "ł": ("l", N_("a stroke through the l")), "Ł": ("L", N_("a stroke through the L")),
    "đ": ("d", N_("a bar through the d")), "Đ": ("D", N_("a bar through the D")),
    "ħ": ("h", N_("a bar through the h")), "Ħ": ("H", N_("a bar through the H")),
    "ß": ("ss", N_("a sharp s (ß)")), "ẞ": ("SS", N_("a capital sharp s (ẞ)")),
    "æ": ("ae", N_("a and e joined (æ)")), "Æ": ("AE", N_("A and E joined (Æ)")),
    "œ": ("oe", N_("o and e joined (œ)")), "Œ": ("OE", N_("O and E joined (Œ)")),
    "ı": ("i", N_("an i without a dot")),
    "ŋ": ("ng", N_("an eng (ŋ)")), "Ŋ": ("Ng", N_("a capital eng (Ŋ)")),
    "ə": ("e", N_("a schwa (ə)")), "Ə": ("E", N_("a capital schwa (Ə)")),
}  # fmt: skip
"""Letters with what stands for them in a plain alphabet, and what they are called."""

SIGNS = {
    "'": N_("an apostrophe"), "’": N_("an apostrophe"), "‘": N_("an opening quotation mark"),
    "ʻ": N_("an okina"), "-": N_("a hyphen"), "‐": N_("a hyphen"), "–": N_("a dash"),
    "—": N_("a long dash"), "&": N_("an and sign (&)"), "/": N_("a slash"), "(": N_("brackets"),
    "@": N_("an at sign"), "+": N_("a plus sign"), "·": N_("a dot in the middle"),
}  # fmt: skip


# A reminder


def please_check_order(language: Language, title: str) -> str:
    """Say what it is about, as the page does."""
    return language.gettext("Please check: %(title)s", title=title)


def only_what_is_confirmed(language: Language) -> str:
    """Say what an answer is needed for, as the page does."""
    return language.gettext("Only what you say yes to will be engraved.")


def still_needed(language: Language) -> str:
    """Head the cups that nobody has answered yet."""
    return language.gettext("We still need your answer for:")


def open_the_page(language: Language) -> str:
    """Say how to answer."""
    return language.gettext(
        "Please open the page that we sent you, and answer there. Or write to us by hand."
    )


# The form for a list


def guest_list(language: Language) -> str:
    """Name the form, and its sheet."""
    return language.gettext("Guest list")


def wanted_by(language: Language, day: dt.date) -> str:
    """Say by when the list is needed: no sentence, for those above a table may be wishes."""
    return language.gettext("Needed by: %(day)s", day=language.day(day))


def as_on_the_cup(language: Language) -> str:
    """Explain a column whose text is engraved."""
    return language.gettext("exactly as on the cup: capitals, accents, spaces")


def goes_with_the_name(language: Language) -> str:
    """Explain the column of roles."""
    return language.gettext("stands with the name; blank for none")


def which_hand(language: Language) -> str:
    """Explain the column of hands."""
    return language.gettext("the hand that holds the cup; blank for right")


def which_motif(language: Language) -> str:
    """Explain the column of motifs, where nothing stands in place of a blank."""
    return language.gettext("choose one")


def motif(language: Language) -> str:
    """Name the column of motifs."""
    return language.gettext("Motif")


def one_of(language: Language, usual: str) -> str:
    """Explain a column that chooses between a few."""
    return language.gettext("choose one; blank for %(usual)s", usual=usual)


def example(language: Language, text: str) -> str:
    """Mark a text as an example."""
    return language.gettext("Example: %(text)s", text=text)


EXAMPLES = (
    (N_("Marta"), N_("Lindholm"), N_("Flute")),
    (N_("Zoë"), N_("Abernathy"), N_("Chair")),
    (N_("Teo"), N_("Brandt"), N_("Goalkeeper")),
)
"""First name, last name and role of people who do not exist."""


def examples(language: Language, field: str) -> tuple[str, ...]:
    """Return what the example rows hold of a field that is engraved."""
    first, last, role = zip(*(map(language.gettext, row) for row in EXAMPLES), strict=True)
    known = {
        "first": first,
        "last": last,
        "name": [f"{one} {other}" for one, other in zip(first, last, strict=True)],
        "role": role,
    }
    return tuple(example(language, text) for text in known.get(field, ["…"] * len(EXAMPLES)))


# The card for a guest


def care_title(language: Language) -> str:
    """Head the card that goes with a cup."""
    return language.gettext("Taking care of your cup")


def care(language: Language) -> tuple[str, ...]:
    """Say how an engraved cup is cared for. Common practice."""
    return (
        language.gettext("Wash it by hand before you use it for the first time."),
        language.gettext("No steel wool, no scouring powder, no harsh cleaners on the engraving."),
        language.gettext(
            "What the maker of the cup says comes first: about dishwashers, heat, ice and drinks."
        ),
    )
