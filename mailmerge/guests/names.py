"""What one may do with somebody's name: capitals, initials, shorter forms, places to break it.

Rules of many languages and usages; none of them is ever certain, so whatever follows from here is
shown on the proof and confirmed by its owner.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from functools import lru_cache
from itertools import combinations
from typing import Literal, NamedTuple

_PARTICLES = frozenset(
    (
        "a", "aan", "ab", "abu", "af", "al", "an", "ap", "auch", "auf", "aus", "av", "bar", "bat",
        "ben", "bij", "bin", "bint", "binte", "binti", "bte", "d", "da", "dal", "dalla", "das",
        "de", "degli", "dei", "del", "dela", "delas", "della", "delle", "delos", "dels", "den",
        "der", "des", "di", "die", "do", "dos", "du", "e", "el", "ferch", "fitz", "i", "ibn",
        "im", "in", "la", "las", "le", "les", "lo", "los", "lu", "mac", "mc", "mhic", "na", "ní",
        "ni", "nic", "ó", "onder", "op", "o", "ou", "over", "pour", "s", "saint", "san", "santa",
        "st", "sainte", "t", "te", "ten", "ter", "thoe", "thor", "tot", "ua", "ud", "uí", "ui",
        "ka", "kwa", "wa", "uit", "ul", "umm", "und",
        "van", "vande", "vanden", "vander", "vd", "verch", "vom",
        "von", "y", "zu", "zum", "zur", "à",
    )
)  # fmt: skip
"""Words that belong to the word after them: van der Heijden, de la Cruz, bin Rashid, Ní Bhriain.

Common practice of the languages concerned, without one source.
"""

_CAPITAL_PARTICLES = frozenset(
    ("a", "bar", "bat", "ben", "fitz", "mac", "mc", "mhic", "ní", "ni", "nic", "ó", "o", "saint",
     "sainte", "san", "santa", "st", "thor", "uí", "ui", "ua")
)  # fmt: skip
"""Those of them that are written with a capital."""

SUFFIXES = frozenset(
    ("jr", "sr", "jnr", "snr", "jun", "sen", "junior", "senior", "filho", "neto", "fils", "père",
     "pere", "phd", "md", "esq", "obe", "mbe", "i", "ii", "iii", "iv", "v", "vi")
)  # fmt: skip
"""Words that belong to the word before them."""

_BREAK = re.compile(r"(?<=\S) (?=\S)|(?<=\w[-‐])(?=\w)")

_MOST_BREAKS = 12
"""Places for a break that are looked at; longer texts are tried at the ones nearest the middle."""

_TIED = frozenset(("mac", "mc", "st", "saint", "sainte", "san", "santa", "o"))
"""Particles that stay with the next word even where they stand first."""

PLAIN_LETTERS = {
    "ß": "ss", "æ": "ae", "œ": "oe", "ø": "o", "đ": "d", "ð": "d", "þ": "th", "ł": "l", "ı": "i",
    "ħ": "h", "ŋ": "n", "ə": "e", "ة": "ه", "ى": "ي",
}  # fmt: skip


@lru_cache(maxsize=1024)
def plain(text: str) -> str:
    """Return a text in small letters without accents, as people type it who have no others."""
    if text.isascii():
        return text.lower()
    letters = "".join(PLAIN_LETTERS.get(char, char) for char in text.casefold())
    decomposed = unicodedata.normalize("NFKD", letters)
    return "".join(char for char in decomposed if not unicodedata.combining(char))


TITLES = frozenset(
    plain(word)
    for line in (
        "dr|prof|doctor|doktor|professor|mr|mrs|ms|mx|miss|mister|messrs|sir|madam|ma'am|dame|lady|lord|"
        "rev|reverend|capt|captain|colonel|sergeant|lieutenant|col.|sgt|lt.|hon.|rabbi|ph.d|"
        "sister|uncle|aunt|auntie|maestro|maestra|tante|onkel|schwester|bruder|tonton|"
        "tío|zio|sœur|frère",
        "herr|herrn|frau|fräulein|frl|hr|fr.|dr.in|mag.|ing.|dipl|dipl.-ing|priv.-doz",
        "monsieur|madame|mademoiselle|mme|mlle|mm.|mmes|maître|docteur",
        "señor|señora|señorita|sr.|sra|srta|srs|sres|senhor|senhora|profa",
        "signor|signora|signore|signorina|sig.|sig.ra|sig.na|sigg|dott|dott.ssa|dottor|dottoressa|"
        "avv|arch.|geom.|prof.ssa|egr.|gent.ma|dottssa|sigra",
        "dhr|mevr|mw|meneer|mevrouw|drs|ir.|fru|fröken|frk|frøken",
        "pan.|pani|mgr|inż|dr.hab|paní|slečna|judr|mudr|phdr|rndr|bc.|özv|herra|rouva|neiti|sayın|"
        "คุณ|นาย|นางสาว|السيد|السيدة|גברת|先生|女士|小姐|g-đa|gđa|doamna|domnul|"
        "г-н|г-жа|господин|госпожа|проф|д-р|доктор|κος|κυρία|κύριος|δρ|shri|shrimati|smt",
    )
    for word in line.split("|")
)
"""Forms of address of many languages, plain and without the full stop at their end.

Where one stands with its full stop, it is one only with it: Sr. and Fr. are other things too, and
Pan is a name. Common practice, from memory.
"""


_SMALL_TITLES = frozenset(("pan", "pán", "don", "bay", "hon", "col", "ing", "sig", "mag", "ir"))
"""Those that are names with a capital."""

OF_NOBLES = frozenset(
    plain(word)
    for line in (
        "baron baroness baronet count countess viscount viscountess marquess marchioness duchess "
        "princess squire laird chief master dom haji hajji hajjah hajah datuk dato dato' tunku "
        "tengku encik cik tuan puan imam mullah sheikh sheik shaikh maulana swami pandit ustad "
        "ustaz sardar sri khun",
        "graf gräfin freiherr freifrau freiin baronin baronesse fürst fürstin prinz prinzessin "
        "herzog herzogin erzherzog ritter edler junker burggraf markgraf landgraf",
        "comte comtesse vicomte vicomtesse marquise duc duchesse chevalier abbé princesse conde "
        "condesa marqués marquesa duque duquesa infante infanta vizconde barón baronesa fray "
        "conte contessa marchese marchesa duca duchessa barone baronessa principe principessa "
        "cavaliere visconde barão frei graaf gravin jonkheer jonkvrouw jhr jkvr hertog prins "
        "prinses greve grevinne grevinde grevinna friherre fyrste hertig hrabia hrabina książę "
        "księżna hrabě hraběnka kníže kněžna gróf grófnő báró bárónő herceg граф графиня князь "
        "княгиня барон баронесса κόμης δούκας",
    )
    for word in line.split()
)
"""What nobles and the clergy are called before their first name, in several languages.

Those that many have as a first name are left out: Earl, Duke, Prince. Common practice, from memory.
"""

_PERHAPS_TITLES = frozenset(
    ("pan", "pán", "don", "doña", "dona", "bay", "bayan", "father", "brother", "mother", "major",
     "general", "judge", "m.", "pastor", "padre", "hon", "fra", "suor", "sor", *OF_NOBLES)
)  # fmt: skip
"""Those that a first name may follow: with a capital, nobody knows which of the two it is."""

_PERHAPS_PLAIN = frozenset(plain(word).rstrip(".") for word in _PERHAPS_TITLES - {"m."})
_OF_DEGREES = frozenset(
    ("med", "jur", "phil", "rer", "nat", "h.c", "hc", "theol", "habil", "dent", "vet", "oec", "pol",
     "techn", "iur", "agr", "mult", "e.h", "sc", "oecon", "forest", "mont", "paed", "hum", "univ",
     "em")
)  # fmt: skip
"""What follows Dr., small and with a full stop: Dr. med., Dr. rer. nat., Dr. h.c."""


def _bare(word: str) -> str:
    """Return a word in small letters without the signs at its ends."""
    return word.casefold().strip(".,'’‘-‐")


@lru_cache(maxsize=8192)
def is_title(word: str) -> bool:
    """Whether a word of a name is a form of address: Dr., Frau, Sig.ra, Dr.med."""
    low = plain(word).strip(",'’‘-‐")
    first, stop, rest = low.partition(".")
    return bool(
        low in TITLES
        or low.rstrip(".") in TITLES
        or word in _SMALL_TITLES
        or (word.endswith(".") and word.rstrip(".") in _OF_DEGREES)
        or (stop and rest and first in TITLES and len(rest.rstrip(".")) > 1)
    )


def is_particle(word: str) -> bool:
    """Whether a word of a name belongs to the word after it.

    A single letter does where it is typed small and without a full stop; else it is an initial.
    """
    bare = _bare(word)
    if len(bare) == 1 and not word.endswith(("'", "’")):
        return bare == word.strip("'’") and bare in _PARTICLES
    return bare in _PARTICLES or word.endswith(("'", "’"))


@lru_cache(maxsize=8192)  # a text is broken again at every change of its layout
def break_places(text: str) -> tuple[tuple[int, int], ...]:
    """Return where a text may be parted: (end of the row, start of the next), from the left.

    At blanks and after hyphens; never after a particle or a form of address, never before a
    suffix such as Jr., never inside a word.
    """
    places = []
    for match in _BREAK.finditer(text):
        before = text[: match.start()].split()[-1] if match.start() else ""
        at_blank = match.start() < match.end()
        if at_blank and is_title(before):
            continue
        if is_particle(before) and not (at_blank and _may_be_first(text, match.start(), before)):
            continue
        if at_blank and _is_suffix(text[match.end() :].split()[0]):
            continue
        places.append((match.start(), match.end()))
    return tuple(places)


def _may_be_first(text: str, end: int, word: str) -> bool:
    """Whether a particle may be somebody's first name: Van Morrison, Al Gore."""
    stands_first = text[:end].strip() == word and word[:1].isupper()
    return stands_first and _bare(word) not in _TIED


def _is_suffix(word: str) -> bool:
    return _bare(word) in SUFFIXES and not is_particle(word)


def broken(text: str, rows: int) -> Iterator[tuple[str, ...]]:
    """Yield every way to part a text into so many rows; see :func:`break_places`."""
    places = break_places(text)
    if len(places) > _MOST_BREAKS:
        middle = len(text) / 2
        places = tuple(sorted(sorted(places, key=lambda p: abs(p[0] - middle))[:_MOST_BREAKS]))
    for chosen in combinations(places, rows - 1):
        starts = [0, *(start for _, start in chosen)]
        ends = [*(end for end, _ in chosen), len(text)]
        yield tuple(text[start:end] for start, end in zip(starts, ends, strict=True))


def words_of(name: str) -> list[str]:
    """Return the parts of a name, each with the particles before it and the suffix after it."""
    parts: list[str] = []
    start = 0
    for end, following in break_places(name):
        if end < following:  # hyphens part no names
            parts.append(name[start:end])
            start = following
    return [*parts, name[start:]] if name else []


def shorter(name: str) -> Iterator[tuple[str, str]]:
    """Yield shorter forms that the owner of a name might accept: (in words, the form)."""
    words = words_of(name)
    if len(words) > 2:
        plural = "s" if len(words) > 3 else ""
        yield f"without the middle name{plural}", f"{words[0]} {words[-1]}"
    if len(words) > 1:
        parted = part(name)
        yield "with an initial", f"{_first_letter(parted.first)}. {words[-1]}"
        if not parted.doubt:
            yield "as the first name alone", parted.first


Doubt = Literal[
    "",
    "title",
    "perhaps-title",
    "several",
    "family",
    "initial",
    "particle",
    "family-first",
    "double",
]
"""Why it is not sure which of a name's words is the first name."""


class Parted(NamedTuple):
    """A name in two parts, and why that may be wrong."""

    first: str
    last: str
    doubt: Doubt = ""


def turned(name: str) -> str:
    """Return a name that is written last name first, with a comma, the other way round."""
    before, comma, after = name.partition(",")
    words = after.split()
    if not comma or "," in after or not words or all(_bare(word) in SUFFIXES for word in words):
        return name
    return f"{after.strip()} {before.strip()}"


@lru_cache(maxsize=1024)
def part(name: str) -> Parted:
    """Return the first name and the rest, without forms of address.

    Where it is not sure which word is the first name, the first part is what a cup would say then
    (the whole name, or its first word), and the doubt says why.
    """
    words = turned(name).split()
    own = list(words)
    while own and is_title(own[0]):
        own.pop(0)
    if any(_JOINER.fullmatch(word) for word in words) or _JOINED_BY_SIGN.search(name):
        return Parted(name, "", "several")
    if _FAMILY.match(name) or (len(words) > 1 and plain(words[-1]) in _FAMILY_WORDS):
        return Parted(name, "", "family")
    if len(own) < len(words) and (len(own) < 2 or is_particle(own[0])):
        return Parted(name, "", "title")
    if len(own) < 2:
        return Parted(" ".join(own), "")
    first, *rest = words_of(" ".join(own))
    if not rest or own[0].casefold() in _NO_FIRST or _is_led_small(first):
        return Parted(name, "", "particle")
    if len(own) > 2 and (plain(own[0]).rstrip(".") in _PERHAPS_PLAIN or own[0] == "M."):
        return Parted(first, " ".join(rest), "perhaps-title")
    if _is_family_in_front(own):
        return Parted(first, " ".join(rest), "family-first")
    if len(rest) > 1 and is_double(own[0], own[1]):
        return Parted(first, " ".join(rest), "double")
    return Parted(first, " ".join(rest), "initial" if _is_initial(first, name) else "")


def _is_initial(first: str, name: str) -> bool:
    is_shouted = name.isupper() and len(first) > 1 and "." not in first
    return bool(_INITIAL.fullmatch(first)) and not is_shouted


def _is_led_small(first: str) -> bool:
    """Whether a small particle stands before what would be the first name: de la Cruz Maria."""
    return " " in first and first[:1].islower() and is_particle(first.split()[0])


_JOINER = re.compile(r"[&+/]|and|und|et|og|och|ve|oraz|и|και|plus", re.IGNORECASE)
_JOINED_BY_SIGN = re.compile(r"\S\s*[&+/;]\s*\S")
_FAMILY_WORDS = frozenset(
    ("family", "familie", "famille", "familia", "famiglia", "perhe", "rodzina", "rodina", "familj",
     "ailesi", "csalad", "household", "familien")
)  # fmt: skip
_FAMILY = re.compile(rf"(?:the|team|fam\.?|{'|'.join(sorted(_FAMILY_WORDS))})\s", re.IGNORECASE)
_INITIAL = re.compile(r"(?:[^\W\d_]\.?-?){1,3}(?<=[.])|[A-ZÀ-ÞΑ-ΩА-Я]{1,3}|[Ā-Ž]")
"""J., J.R. and JR; without a full stop only capitals, beside a name that has small letters."""

_NO_FIRST = frozenset(
    ("el", "la", "le", "los", "las", "les", "de", "der", "die", "den", "von", "vom", "zu", "zum",
     "zur", "ter", "del", "della", "dos", "das", "des", "dal", "the")
)  # fmt: skip
"""Particles that are nobody's first name: El Greco, La Rosa."""

_FAMILY_FIRST = frozenset(("thị", "văn"))
"""Vietnamese middle names, before which the family's name stands."""

_IN_FRONT = frozenset(
    word
    for line in (
        "kim lee yi park pak choi choe jung jeong chung kang cho yoon yun jang lim im han oh seo "
        "shin kwon hwang ahn an song hong yang bae baek yoo ryu nam noh ha",
        "li wang zhang chen yang zhao huang zhou wu xu sun hu zhu gao lin guo ma luo deng feng xie "
        "tang cao peng zeng xiao tian dong pan yuan cai jiang wei chan wong cheung leung lau",
        "nguyễn trần lê phạm hoàng huỳnh phan vũ võ đặng bùi đỗ hồ ngô dương lý nguyen tran pham",
    )
    for word in line.split()
)
"""Families of Korea, China and Vietnam, whose names stand in front. From memory."""
_SYLLABLES = re.compile(r"[A-Z][a-z]{1,5}-[A-Za-z][a-z]{1,5}")
_TONED = re.compile("[ạ-ỹđơưăâêôĐƠƯĂÂÊÔ]")


def _is_family_in_front(own: list[str]) -> bool:
    """Whether a name has its family in front: Kim Min-jun, Nguyễn Thị Lan, Trần Minh Anh."""
    if own[1].casefold() in _FAMILY_FIRST and len(own) > 2:
        return True
    if own[0].casefold() not in _IN_FRONT:
        return False
    is_of_vietnam = len(own) > 2 and bool(_TONED.search(" ".join(own)))
    is_of_korea = len(own) == 2 and bool(_SYLLABLES.fullmatch(own[1]))
    return is_of_vietnam or (is_of_korea and not is_double(*own[1].split("-")))  # Lee Jean-Luc


_DOUBLES = {
    plain(first): frozenset(map(plain, seconds.split()))
    for firsts, seconds in (
        (
            "maría maria mari",
            "josé jose luisa teresa elena isabel pilar dolores carmen mercedes ángeles jesús "
            "rosa grazia antonietta pia cristina fernanda eugenia victoria paz inés clara "
            "joão eduarda luiza helena rita lúcia magdalena soledad",
        ),
        (
            "josé jose",
            "luis maría antonio manuel miguel ángel ramón carlos ignacio javier francisco "
            "antónio carlos eduardo alberto joaquín vicente pedro rafael",
        ),
        (
            "juan",
            "carlos josé antonio manuel luis pablo ramón francisco ignacio miguel diego "
            "jesús andrés cruz camilo sebastián",
        ),
        (
            "luis luís luiz",
            "miguel alberto fernando enrique carlos ángel alfonso felipe filipe eduardo "
            "henrique gustavo",
        ),
        (
            "ana",
            "maría isabel belén luisa rosa paula cristina beatriz lúcia clara carolina rita "
            "sofia teresa luiza julia",
        ),
        ("miguel", "ángel"),
        ("francisco", "javier josé"),
        ("rosa", "maría maria"),
        ("victor víctor", "manuel hugo"),
        ("marco marcos", "antonio"),
        ("carlos", "alberto eduardo manuel enrique henrique andrés"),
        ("jesús", "maría manuel"),
        ("jorge", "luis"),
        ("joão", "pedro paulo carlos miguel luís gabriel vitor"),
        ("pedro", "henrique miguel pablo"),
        ("paulo", "césar sérgio roberto jorge henrique"),
        (
            "jean",
            "pierre paul claude luc marc michel jacques françois louis marie baptiste "
            "philippe christophe yves noël sébastien charles bernard daniel rené guy robert "
            "andré",
        ),
        (
            "marie",
            "claude christine thérèse france pierre louise hélène laure noëlle josée ange "
            "paule jeanne anne odile madeleine françoise luise theres helene antoinette",
        ),
        (
            "anne",
            "marie sophie laure claire charlotte cécile lise mette lene grete fleur kathrin "
            "katrin catherine",
        ),
        ("pierre", "yves alain louis henri emmanuel marie antoine"),
        ("paul", "henri émile andré"),
        ("charles", "henri antoine édouard"),
        ("louis", "philippe"),
        (
            "hans",
            "peter jürgen georg joachim werner dieter josef christian günter günther martin "
            "ulrich otto heinrich jakob rudolf henrik jørgen petter olav",
        ),
        (
            "karl carl",
            "heinz josef ludwig friedrich otto theodor august ernst johan gustaf erik ove "
            "anders philipp maria",
        ),
        ("klaus claus", "peter dieter jürgen"),
        ("franz", "josef xaver ferdinand"),
        ("wolf", "dieter"),
        ("heinz", "peter dieter georg werner jürgen josef"),
        ("eva", "maria lena marie"),
        (
            "anna",
            "maria lena katharina sophie sofia lisa luise carin karin greta mae rita paola "
            "chiara laura marie klara",
        ),
        ("ann", "kathrin katrin sofie kristin charlotte marie christin britt mari"),
        ("johann", "sebastian peter georg jakob"),
        ("gian", "luca carlo paolo marco franco piero maria battista"),
        ("pier", "paolo luigi giorgio francesco giuseppe antonio"),
        ("carlo", "alberto maria"),
        ("lars", "erik göran olof gunnar peter"),
        ("per", "erik olof arne olav"),
        ("sven", "erik olof olov"),
        ("jan", "erik olof willem peter pieter kees hendrik petter åke arne"),
        ("ole", "gunnar kristian johnny martin petter"),
        ("odd", "arne"),
        ("tor", "arne erik"),
        ("jens", "peter christian petter"),
        ("pieter", "jan bas"),
        ("dirk gert henk evert klaas", "jan"),
        ("mary", "ann anne jane beth lou kate jo ellen pat sue"),
        ("billy jim", "bob joe ray"),
        ("betty", "lou ann jo sue"),
        ("peggy", "sue ann"),
        ("sarah emma", "jane"),
        ("jo lee ruth", "ann anne"),
        ("john", "paul"),
        ("mehmet", "ali emin can"),
        ("ali", "rıza"),
        ("mustafa", "kemal"),
        ("fatma ayşe", "nur gül"),
        (
            "abdul abdel abd",
            "rahman aziz karim malik hamid salam kader qadir rahim latif ghani majid wahab",
        ),
    )
    for first in firsts.split()
}
"""First names with those that often follow as their second half, written apart. From memory."""


def is_double(first: str, second: str) -> bool:
    """Whether two words before a last name are often one first name: Jean Pierre, Ana Belén."""
    return plain(second) in _DOUBLES.get(plain(first), ())


def clusters(text: str) -> list[str]:
    """Return the letters of a text as people see them, with their marks (UAX #29)."""
    if max(text, default="") < "\u0300" and "\r\n" not in text:
        return list(text)  # up to there nothing else joins
    # Loading the tables takes longer than starting the program, and few calls need them.
    from uniseg.graphemecluster import grapheme_clusters

    return [str(cluster) for cluster in grapheme_clusters(text)]


def initials(name: str, language: str = "", most: int = 3) -> str:
    """Return the initials of a name, ``most`` at the most: of its first parts and its last one.

    Particles written small, forms of address and suffixes have none.
    """
    found = []
    for each in words_of(turned(name)):
        words = each.split()
        own = [
            word
            for word in words
            if not (is_particle(word) and word.strip("'’")[:1].islower()) and not is_title(word)
        ]
        named = next((word for word in own or words if any(c.isalpha() for c in word)), "")
        if named:
            found.append(upper(_first_letter(named, language), language))
    return "".join([*found[: most - 1], *found[-1:]] if len(found) > most else found)


def _first_letter(text: str, language: str = "") -> str:
    """Return the first letter as its owner sees it; IJ is one in Dutch."""
    at = next((at for at, char in enumerate(text) if char.isalpha()), 0)
    if _in(language, "nl") and text[at : at + 2].casefold() == "ij":
        return text[at : at + 2]
    return next(iter(clusters(text[at:])), "")


_DOTTED = ("tr", "az")
"""Languages with a dotted and a dotless i (Unicode, SpecialCasing.txt)."""

_ON_GREEK = re.compile("([\u0370-\u03ff]\u0308?)\u0301")
"""A Greek letter with its tonos, in form NFD."""


def _in(language: str, *known: str) -> bool:
    return language.replace("_", "-").split("-")[0].lower() in known


def upper(text: str, language: str = "") -> str:
    """Return a text in capitals as its language writes them.

    Turkish and Azeri keep the dot of i (SpecialCasing.txt); ß becomes SS (the same); Greek
    capitals lose the tonos but keep the dialytika (CLDR, el-Upper), in any language, because
    nobody else writes Greek letters.
    """
    if _in(language, *_DOTTED):
        text = text.replace("i", "İ").replace("ı", "I")
    raised = text.upper()
    return (
        _without_tonos(raised) if any("\u0370" <= char <= "\u03ff" for char in raised) else raised
    )


def _without_tonos(text: str) -> str:
    return unicodedata.normalize("NFC", _ON_GREEK.sub(r"\1", unicodedata.normalize("NFD", text)))


def _lower(text: str, language: str) -> str:
    if _in(language, *_DOTTED):
        text = text.replace("İ", "i").replace("I", "ı")
    # A dot above that lower() leaves behind belongs to no language but those two.
    return text.lower().replace("i̇", "i")


_WORD = re.compile(r"[^\W\d_]+(?:['’‘`ʼʻ]?[^\W\d_\u0300]|[\u0300-\u036f])*")
"""Letters with the apostrophes and marks inside."""

_TIES = ("'", "’", "-", "(", ")")
"""Signs that tie a single letter to something else."""

_NUMERAL = re.compile(r"(?:I{1,3}|IV|VI{0,3}|IX)")
_SMALL_NUMERAL = re.compile(r"ii|iii|iv")
_ABBREVIATIONS = {"PHD": "PhD", "MD": "MD", "DJ": "DJ"}
_BEFORE_APOSTROPHE = frozenset(("o", "d", "l", "m", "n", "dell", "dall", "all", "sant"))
"""What takes a capital before an apostrophe and after it: O'Dea, D'Angelo, Dell'Acqua."""


def titled(text: str, language: str = "") -> str:
    """Return a text with a capital at the start of each name, where nobody has set them.

    A word with a capital in it was typed on purpose and stays: McAllister, d'Arcy. Only a text
    that is all in capitals is taken down first; what follows Mc and O' then gets its capital back.
    Particles after the first word stay or become small.
    """
    cased = [char for char in text if char.lower() != char.upper()]
    shouted = len(cased) > 1 and all(char.isupper() for char in cased)

    def of_word(match: re.Match[str]) -> str:
        word = match[0]
        if not shouted and any(char.isupper() for char in word):
            return word
        before, after = text[: match.start()], text[match.end() : match.end() + 1]
        return _titled_word(word, before, after, shouted, language)

    return _WORD.sub(of_word, text)


def _titled_word(word: str, before: str, after: str, shouted: bool, language: str) -> str:
    small = _lower(word, language)
    if shouted and before and _NUMERAL.fullmatch(word):
        return word
    if before and _SMALL_NUMERAL.fullmatch(small):
        return small.upper()
    if shouted and word in _ABBREVIATIONS:
        return _ABBREVIATIONS[word]
    led, apostrophe, rest = re.match(r"([^'’]*)(['’]?)(.*)", small).groups()  # type: ignore[union-attr]
    if apostrophe and led in _BEFORE_APOSTROPHE:
        return _capital(led, language) + apostrophe + _capital(rest, language)
    alone = after in (" ", "'", "’") and before.endswith((" ", "-"))
    if alone and small in _PARTICLES and small not in _CAPITAL_PARTICLES:
        return small
    if not shouted and len(word) == 1 and (before[-1:] in _TIES or after in _TIES):
        return word  # the 's of 's Gravensande, a part of a form of address
    if shouted and re.fullmatch(r"mc[^\W\d_]{3,}", small):
        return "Mc" + _capital(small[2:], language)
    if _in(language, "nl") and small.startswith("ij"):
        return "IJ" + small[2:]
    return _capital(small, language)


def _capital(small: str, language: str) -> str:
    """Return a word in small letters with its first letter as a capital."""
    if small.startswith("i") and _in(language, *_DOTTED):
        return "İ" + small[1:]
    return small[:1].title() + small[1:]


_MISREAD = {"þ": "ş", "Þ": "Ş", "ý": "ı", "Ý": "İ", "ð": "ğ", "Ð": "Ğ"}
_NOT_TURKISH = re.compile("[áéíóúæěščřžůťďÁÉÍÓÚÆĚŠČŘŽŮŤĎ]")
_TURKISH = re.compile(
    r"[ýÝþÞðÐ].*[zqw]|[zqw].*[ýÝþÞðÐ]|(?<!l)ýn\b|(?<=[^\W\d_])þ(?![oóuúr])|\bÞ(?!angb|eng[ie]|ekl|eba\b|elm|e[oó]|ea\b|iðr)[aei]|ý[^\W\d_]*ý|"
    r"ð(?=[ýü])|[oO]ðl[uü]\b|[oO]ðan\b|ð[çt]|(?<![GglL][uo]|[Aa]u|[NnRr]i|ei|lö|or)ð[bm]|"
    r"\bÝ(?:[bcçfghklnpsştvz]|rem|rfan|dil|dris)"
    r"|[üçÜÇ].*[ýÝþÞðÐ]|[ýÝþÞðÐ].*[üçÜÇ]"
)
"""Turkish read as western: thorns and accents where Icelandic has none. Common practice, from
memory."""


def read_as_icelandic(name: str, surely: bool = True) -> str:
    """Return what a name was if its Turkish letters were read in another code page; else ``""``.

    Without ``surely`` any of these letters will do, as beside others of which it is sure.
    """
    if _NOT_TURKISH.search(name):
        return ""
    meant = "".join(_MISREAD.get(char, char) for char in name)
    return meant if meant != name and (not surely or _TURKISH.search(name)) else ""


_TURKISH_LETTERS = frozenset("ıİğĞşŞ")


def is_dotted(text: str) -> bool:
    """Whether a text is Turkish or Azeri by its letters, which tell a dotted i from another."""
    return not _TURKISH_LETTERS.isdisjoint(text)


_DEVICES = frozenset(
    ["con", "prn", "aux", "nul", *(f"{kind}{n}" for kind in ("com", "lpt") for n in range(10))]
)
"""What Windows takes for a device, whatever comes after a point (Microsoft, "Naming Files, Paths,
and Namespaces")."""


def slug(name: str, otherwise: str = "guest") -> str:
    """Return a name in the letters a to z, digits and hyphens, at most 40 of them.

    ``Zoë O'Hara`` gives ``zoe-ohara``; a name without any such letter gives ``guest``, and one
    that Windows keeps for a device (``con``) is no file's name alone: ``con-guest``.
    """
    lowered = "".join(PLAIN_LETTERS.get(char, char) for char in name.lower())
    plain = unicodedata.normalize("NFKD", lowered).encode("ascii", "ignore").decode()
    words = re.findall(r"[a-z0-9]+", re.sub(r"['`]", "", plain))
    found = "-".join(words)[:40].strip("-")
    return f"{found}-{otherwise}" if found in _DEVICES else found or otherwise


def fold(name: str) -> str:
    """Return a name without case, accents and blanks, for telling whether two are the same."""
    if name.isascii():
        return "".join(name.lower().split())
    decomposed = unicodedata.normalize("NFKD", name.casefold())
    return "".join(c for c in decomposed if not unicodedata.combining(c) and not c.isspace())
