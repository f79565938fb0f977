"""What is said where blank and layout are chosen, measured and changed."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from mailmerge.findings import InputError, WrongValue
from mailmerge.units import counted

BLANK_AND_COAT = "Blank and coat"
BLANK_HOW = (
    "Press a coat to take that blank. Cups that are engraved stay as they are. What changes has to "
    "be confirmed anew."
)
MEASURE_YOUR_OWN = "Measure your own"
BACK_TO_CUPS = "Back to the cups"
ALL_TO_SCALE = "All to one scale"
FACE_OF_DRINKER = "the face that the drinker sees"
OTHER_FACES = "the other faces"
LEGEND_BAND = "the band that may be engraved"
LEGEND_FREE = "kept free: handle, seam or mark"
YOUR_OWN = "your own"
TAKEN = "taken now"
OWN_BLANK_STAYS = (
    "This order has a blank of its own. Take another one, and its own stays here among the others."
)
OWN_LAYOUT_STAYS = (
    "This order has a layout of its own. Take another one, and its own stays here among the others."
)
NO_SUCH_BLANK = "That blank is not there any more. Look at the page again."
AROUND_WALL, AROUND_MOUTH_BASE, WALL_HEIGHT, BAND_HEIGHT = (
    "Around", "Around mouth and base", "Height of the wall", "Band",
)  # fmt: skip
ACROSS_FLAT, DRINKERS_FACE, FREE_AT_ZERO = "Width", "Drinker's face", "Kept free at the handle"
FREE_AT_SEAM = "Kept free at the seam"


def cup_drawn(name: str) -> str:
    """Say what a drawing shows."""
    return f"{name}, drawn to scale"


def cup_and_wall(name: str) -> str:
    """Say what a drawing of the blank that is taken shows."""
    return f"{name} and its wall unrolled, with its faces and what is kept free"


def blank_taken(name: str, coat: str) -> str:
    """Say which blank an order is made of now."""
    return f"The order is made of {name} in {coat} now. Make the cups again to see them so."


def size_of(around: str, height: str) -> str:
    """Say how large a blank is."""
    return f"{around} around, {height} high"


def size_of_flat(width: str, height: str) -> str:
    """Say how large flat goods are."""
    return f"{width} wide, {height} high"


def from_to(low: str, high: str) -> str:
    """Say where something begins and ends."""
    return f"{low} to {high}"


LAYOUT = "Layout"
LAYOUT_HOW = (
    "Each with this order's own names: a short one, the longest, and the one with the most unusual "
    "letters."
)
CHANGE_LAYOUT = "Change a layout"
CHANGE_LAYOUT_HOW = (
    "The cups follow what you change. Nothing happens to the order until you keep it."
)
ALL_LAYOUTS = "All layouts"
CHANGE_IT = "Change it"
DOES_NOT_SUIT = "It does not suit this list."
NO_SUCH_LAYOUT = "That layout is not there any more. Look at the page again."
TOO_LONG = "Names that are too long"
LETTERS_LACKING = "Names with letters that a font lacks"
NAME_OF_YOUR_LAYOUT = "What your layout is called"
FOR_ALL_ORDERS = "Also for other orders"
KEEP_AND_TAKE = "Keep it and take it"
KEEPING_HOW = (
    "It becomes a layout of your own; the one it began from stays as it is. The order can go back "
    "with one press."
)
WHAT_IT_SAYS, FONT, WEIGHT = "What it says", "Font", "Weight"
LARGEST_LETTERS, LEAST_LETTERS = "Largest letters", "Least letters"
ONE_SIZE, ROWS, GAP_ABOVE = "One size for", "Rows at most", "Gap above it"
CAPITALS, TRACKING = "Capitals", "Letter spacing"
WHERE_IT_STANDS = "Arc, ring, face and initials"
ON_FACE, AT_HEIGHT, IN_THE_STACK = "Face", "Middle above the base", "with the others"
ARC_RADIUS, ARC_BOW, STRAIGHT = "Radius of its arc", "Arc's middle", "straight"
RING_HEIGHT, NO_RING = "Ring around the cup at", "no ring"
RING_FILL, RING_REPEAT = "Letters fill the ring", "Text repeats on the ring"
INITIALS = "Initials"
TAKE_OUT_LINE, TAKE_OUT_DRAWING = "Take this line out", "Take it out"
ORNAMENT, BORDER, DRAWING = "Ornament", "Band of drawings around the cup", "Drawing"
MOTIF = "Motif, if neither the order nor the list says one"
WITH_LINE, PLACE = "With line", "Place"
WIDTH_AT_MOST, HEIGHT_AT_MOST = "Width at most", "Height at most"
GAP_TO_LINE, GAP_BETWEEN = "Gap to the line", "Gap between two"
ADD_LINE, ADD_ORNAMENT, ADD_BORDER = "Add a line", "Add an ornament", "Add a band of drawings"
LINE_FACES = {
    "drinker": "the drinker's",
    "onlookers": "the onlookers'",
    "opposite": "opposite the handle",
}
OTHER_FACES_TO_CHOOSE = {"": "as the layout", **LINE_FACES}
SIZINGS = {"": "each name its own", "set": "the whole set", "role": "each role"}
ROW_COUNTS = {"": "1", "2": "2", "3": "3"}
CASES = {"": "as typed", "upper": "all capitals", "title": "first letters"}
BOWS = {"": "up", "down": "down"}
YES_OR_NO = {"": "no", "true": "yes"}
MONOGRAMS = {"": "no", "even": "all of one height", "tall-middle": "the middle one taller"}
PLACES_OF_ORNAMENT = {"": "above it", "below": "below it", "beside": "on both sides",
                      "around": "around it"}  # fmt: skip
_FIELDS_CALLED = {
    "order.title": "the event", "order.subtitle": "the line below the event",
    "order.due": "the day", "first": "first name", "last": "last name",
}  # fmt: skip
_TELLING = ("A short name", "The longest name", "The name with the most unusual letters")


AS_THE_LAYOUT_HAS_IT = "as the layout has it"
MOTIF_OF_ORDER = "Motif for all who have none in the list"
TAKE_MOTIF = "Take this motif"


def motif_taken(motif: str) -> str:
    """Say which motif an order has now."""
    if not motif:
        return "The motif is as the layout has it."
    return f"The motif is now {motif}. A motif in the list comes first."


def motifs_to_choose(open_slot: str, drawings: Iterable[str]) -> dict[str, str]:
    """Name what may stand in a slot of a layout if nothing else is said: none, or a drawing."""
    return {open_slot: "none", **{each: each for each in drawings}}


def layout_taken(name: str) -> str:
    """Say with which layout an order is made now."""
    return f"The order is made with {name} now. Make the cups again to see them so."


def layout_kept(name: str) -> str:
    """Say that a layout was kept."""
    return f"{name} is kept, and the order is made with it now. Make the cups again to see them so."


def take_called(name: str) -> str:
    """Say which layout a button takes."""
    return f"Take {name}"


def not_to_choose_from(found: str) -> str:
    """Say that a font or drawing is none of those to choose from."""
    return f"{found} is none of the fonts and drawings to choose from."


def telling_cup(which: int, layout: str) -> str:
    """Say what a picture of a layout shows."""
    return f"{_TELLING[which]} in {layout}"


def letters_high(letter_height: float) -> str:
    """Say how large the letters of a set are."""
    return f"{letter_height:.2f} mm"


def changing(name: str) -> str:
    """Say which layout is changed."""
    return f"Change {name}"


def line_called(number: int, text: str) -> str:
    """Say which line it is."""
    return f"Line {number}: {text}"


def field_called(field: str) -> str:
    """Say what a line may hold."""
    return _FIELDS_CALLED.get(field, field)


def lines_to_choose(lines: Sequence[Mapping[str, str]]) -> dict[str, str]:
    """Return the lines that an ornament may stand with."""
    return {str(at): f"{at}: {line['text']}" for at, line in enumerate(lines, start=1)}


MEASURE = "Measure a blank"
MEASURE_HOW = (
    "Type what you read, with its unit: 11 5/8 in or 295 mm. Read the tape several times, with "
    "commas between. The drawing shows where each measure is taken."
)
WHERE_TAPE_GOES = "The cup as it is measured so far, and where each measure is taken"
MEASURE_ON = "Measure around the wall and its height to see how wide the faces are."
KEEP_BLANK = "Keep this blank"
KEEP_BLANK_FOR_ALL = "Keep it for all orders"
KEEP_BLANK_HOW = (
    "It stays with this order, or with the shop, where every new order can be made of it. "
    "Nothing that you have is changed."
)
MEASURES = {
    "name": "What the blank is called",
    "tapered": "Is the wall tapered?",
    "around": "Around the wall, by tape",
    "across": "Across the wall, by callipers",
    "around-base": "Around at the lower tape",
    "across-base": "Across at the lower tape, by callipers",
    "around-top": "Around at the upper tape",
    "across-top": "Across at the upper tape, by callipers",
    "apart": "From tape to tape, along the wall",
    "lower": "The lower tape above the base",
    "height": "Height of the wall, along it",
    "band-from": "Engraving may begin above the base at",
    "band-to": "Engraving may reach up to",
    "handle": "Handle and its brackets along the wall, 0 for none",
    "clearance": "Kept free on each side of it",
    "comes-off": "Does the handle come off?",
    "stands-out": "How far what stays on the cup stands out",
    "coats": "Its coats, with commas between",
}
_FACES_CALLED = {
    "drinker": "Face that the drinker sees",
    "onlookers": "Face that the onlookers see",
    "opposite": "Face opposite the handle",
}


def face_of(whose: str) -> str:
    """Say whose face it is."""
    return _FACES_CALLED.get(whose, whose)


def blank_kept(name: str) -> str:
    """Say that a measured blank was kept."""
    return f"{name} is kept. Press one of its coats to take it."


SEE_FONTS = "See the fonts in their own letters"
FONTS_IN_LETTERS = "Fonts in their own letters"
FONTS_HOW = "Press one to take it for the line. Those that have all letters of the list come first."


def lacks_letters_of(names: int) -> str:
    """Say of how many names a font lacks letters."""
    return f"lacks letters of {counted(names, 'name')}"


# What a layout cannot be

_LINE = {
    "text": WHAT_IT_SAYS,
    "font": FONT,
    "weight": WEIGHT,
    "letter_height.max": LARGEST_LETTERS,
    "letter_height.min": LEAST_LETTERS,
    "sizing": ONE_SIZE,
    "lines": ROWS,
    "gap": GAP_ABOVE,
    "case": CAPITALS,
    "tracking": TRACKING,
    "face": ON_FACE,
    "height": AT_HEIGHT,
    "arc.radius": ARC_RADIUS,
    "arc.bow": ARC_BOW,
    "ring.height": RING_HEIGHT,
    "ring.fill": RING_FILL,
    "ring.repeat": RING_REPEAT,
    "monogram": INITIALS,
}
_ORNAMENT = {
    "drawing": DRAWING,
    "motif": MOTIF,
    "line": WITH_LINE,
    "place": PLACE,
    "width": WIDTH_AT_MOST,
    "height": HEIGHT_AT_MOST,
    "gap": GAP_TO_LINE,
}
_BORDER = {
    "drawing": DRAWING,
    "motif": MOTIF,
    "height": AT_HEIGHT,
    "size": HEIGHT_AT_MOST,
    "gap": GAP_BETWEEN,
}
_PARTS = {"line": ("Line", _LINE), "ornament": (ORNAMENT, _ORNAMENT), "border": (BORDER, _BORDER)}

_RULES = {
    "missing": "Fill it in.",
    "least above most": (
        f'"{LEAST_LETTERS}" is more than "{LARGEST_LETTERS}". Enter less there, or more here.'
    ),
    "fill and repeat": (
        f'Found yes for "{RING_FILL}" and for "{RING_REPEAT}". Choose yes for one of them at most.'
    ),
    "arc and ring": f'Found "{ARC_RADIUS}" and "{RING_HEIGHT}". Leave one of them empty.',
    "ring and place": (
        f'A ring has its own height and no face. Leave "{AT_HEIGHT}" empty, and "{ON_FACE}" as '
        f"the layout has it."
    ),
    "height and arc": f'Found "{AT_HEIGHT}" and "{ARC_RADIUS}". Leave one of them empty.',
    "one row": f'A line with an arc, a ring or initials has one row. Choose 1 for "{ROWS}".',
    "each its own": (
        f'A line on an arc or a ring cannot share its size. Choose "{SIZINGS[""]}" for '
        f'"{ONE_SIZE}".'
    ),
    "no such line": "That line is not there any more. Choose another one.",
    "ornament on ring": (
        f'That line is a ring, and no ornament stands with a ring. Choose another line, or "'
        f'{ADD_BORDER}".'
    ),
    "drawing or motif": "Choose a drawing.",
    "joined letters": (
        "The letters of this font connect, and spreading them breaks their joins. Leave them as "
        "they are, or choose another font."
    ),
}


def told(error: InputError) -> str:
    """Say what a deed refuses, with the names of this page for what its layout holds."""
    if not isinstance(error, WrongValue):
        return str(error)
    part, _, rest = error.key.partition(".")
    if part not in _PARTS:
        return str(error)
    number, _, key = rest.partition(".")
    called, labels = _PARTS[part]
    why = _RULES.get(error.rule, error.why)
    label = labels.get(key, "")
    return f"{called} {number}, {label}: {why}" if label else f"{called} {number}: {why}"
