"""What is said of recipes and test cards."""

from __future__ import annotations

from mailmerge.units import counted

RECIPES_LEAD = (
    "Settings that you have tried, for a coat on a machine. The newest one counts, for times and "
    "on the run sheet."
)
COUNTS, NEWER_ONE, ANY = "counts", "a newer one counts", "any"
MACHINE, TRIED_BLANK, COAT, BEAM, TRIED = "Machine", "Blank", "Coat", "Beam", "Tried on"
TAKE_OUT, NOT_AFTER_ALL, WAS_PUT_BACK = "Take it out", "Not after all", "It was put back."
RECIPE_OUT = "The recipe was taken out. It counts no more."
NO_RECIPES = "No recipe was kept yet"
NO_RECIPES_HOW = "Make a test card for a coat, and keep the cell that came out best."
STARTING_POINTS = "Where a test card begins"
STARTING_POINTS_HOW = "For powder coat on steel. Nobody has tried them on your machine."
KEEP_BY_HAND, KEEP_RECIPE = "Settings that you found otherwise", "Keep this recipe"
KEEP_BY_HAND_HOW = "Only what you have tried on a test piece."
SHOPS_MACHINE = "the one for new orders"
OUTCOME, REMARKS = "How did it come out?", "What else is worth knowing"
CARDS_LEAD = (
    "A test card finds the settings for a coat: a grid of settings on a test piece, of which you "
    "keep the best cell. A spoiled cup with the same coat is good for that."
)
NONE_KEPT = "no cell was kept yet"
NO_CARDS, NO_CARDS_HOW = "No test card was made yet", "Make the first one below."
NEW_CARD, MAKE_CARD = "Make a test card", "Make the card"
TEST_PIECE, WHERE_ON_IT = "Test piece and its coat", "Where on it"
CARD_FACES = {
    "opposite": "opposite the handle",
    "drinker": "where the drinker looks",
    "onlookers": "where others look",
}
FROM_VALUE, TO_VALUE, HOW_MANY_VALUES = "From", "To", "How many"
PASSES_HOW = "Or several, such as 1, 2: each cell is tried with each."
INTERVAL_HOW = "Leave it empty for the width of the beam."
A_DOZEN = "A dozen cells are a good beginning, because you type their settings in by hand."
CARD_STEPS = (
    "Save the artwork, and print the key.",
    "Load the artwork. Every cell is a group with a colour of its own: give each the settings that "
    "the key says.",
    "Engrave the card, and stay beside it. Let it cool, and wipe it.",
    "Look for the cell whose patch is even, whose line is whole and whose word can be read. Press "
    "it below.",
)
SAVE_ARTWORK, PRINT_KEY = "Save the artwork", "Print the key"
BEST_CELL, KEEP_CELL = "Which cell came out best?", "Keep this cell"
NO_CELL = "Press the cell that came out best first."
CELL_KEPT, KEPT_OF_IT = "kept", "Kept of this card"
CARD_AWAY = "Take this card out of the shop"
CARD_OUT = "The test card was taken out. Recipes that were kept of it stay."


def card_title(coat: str) -> str:
    """Name a test card."""
    return f"Test card for {coat}"


def card_made(found: str) -> str:
    """Say that a test card was made."""
    return f"The card is ready. {found}".strip()


def cells_kept(names: str) -> str:
    """Say which cells of a card were kept."""
    return f"kept: {names}"


def cell(name: str, settings: str) -> str:
    """Name a cell of a card, with its settings."""
    return f"{name}: {settings}"


def passes(count: int) -> str:
    """Say how many passes there are."""
    return counted(count, "pass", "passes")


def recipe_kept(settings: str, doubt: str) -> str:
    """Say that a recipe was kept."""
    return f"Kept: {settings}. {doubt}".strip()


def bad_day(found: str) -> str:
    """Say that something is no day."""
    return f'"{found}" is not a day. Enter one such as 2026-11-27.'


def bad_field(label: str, reason: object) -> str:
    """Say what is wrong with a field."""
    return f"{label}: {reason}"
