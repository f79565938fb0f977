"""What all rows of a list together tell about one of them: who is in it twice, what is no guest.

A list of a party is small. Beyond :data:`MOST` guests only names that are the same are found, so
that memory does not grow with the list.
"""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from itertools import combinations, pairwise
from typing import NamedTuple

from rapidfuzz.distance import OSA

from mailmerge.guests.codepages import misread, page_of, read_as, read_in
from mailmerge.guests.exchanged import is_rather_first, is_surely_turned, is_usual_first, leaning
from mailmerge.guests.forms import groups_of, sounded
from mailmerge.guests.names import SUFFIXES, TITLES, is_particle, is_title, plain, read_as_icelandic
from mailmerge.guests.roles import (
    KNOWN,
    RANKS,
    SECTIONS,
    in_another_language,
    is_written,
    of_the_language,
)

MOST = 5_000
"""Guests of a list that are compared with each other."""


class Remark(NamedTuple):
    """What other rows say about one."""

    kind: str
    """``same``, ``alike``, ``one-word``, ``turned``, ``split``, ``name-signs``, ``role-signs``,
    ``role-alike``, ``role-foreign``, ``role-missing``, ``role-none``, ``role-within``,
    ``role-goes-on``, ``name-is-role``,
    ``letter``, ``heading``, ``foreign``, ``code-page`` or ``page-of-list``."""
    rows: tuple[int, ...] = ()
    other: str = ""
    own: str = ""
    """The row's own text, where the other one is not enough to tell it."""


_APOSTROPHES = re.compile("['’‘`ʼʻ´′]")
_OF_INDIA = (
    "\u0900-\u0963\u0966-\u0dff\u0f18-\u0fbc\u1000-\u1049\u1050-\u109f\u1780-\u17d3\u1a00-\u1ac0"
    "\u1b00-\u1b59\u1b80-\u1bf3\u1c00-\u1c37\ua8e0-\ua8f1\ua900-\ua92d\uaa00-\uaadf\uabc0-\uabed"
    "\u0e31-\u0e3a\u0e47-\u0e4e\u0eb1-\u0ebc\u0ec8-\u0ece"
)
"""What is no letter in Brahmic scripts and belongs to one: their blocks, without stops."""
_LETTERS = re.compile(rf"(?:[^\W_]|[\u0300-\u036f\u200c\u200d{_OF_INDIA}])+")
_LETTERS_ALONE = re.compile(r"[^\W\d_]")
_SIGNS = (r"(?<=\w)['’‘ʼ`´](?=\w)", r"(?<=\w)[-‐‑–—](?=\w)", r"(?<=\s)[-–—](?=\s)")
"""Apostrophes, hyphens and dashes."""
_UNPARTED = re.compile(
    "[\u0e00-\u0eff\u1000-\u109f\u1780-\u17ff\u3040-\u30ff\u3400-\u9fff\uac00-\ud7af]"
)
"""Letters of scripts that set no blank within a name: Thai to Khmer, Kana, Han, Hangul."""


def _parts_its_words(name: str) -> bool:
    return bool(name) and not _UNPARTED.search(name)


def parts_of(name: str) -> tuple[str, ...]:
    """Return the words of a name, plain, the first name first, without titles and suffixes."""
    text = _SAINT.sub("st", _APOSTROPHES.sub("", plain(name)))
    before, comma, after = text.partition(",")
    found = _LETTERS.findall(text)
    if comma and "," not in after and set(_LETTERS.findall(after)) - SUFFIXES:
        found = [*_LETTERS.findall(after), *_LETTERS.findall(before)]
    # Jun is a first name, too, and an initial may be one of the numerals: C. V. Raman.
    own = list(found)
    while len(own) > 1 and own[-1] in SUFFIXES:
        own.pop()
    if len(own) == 1 and len(found) == 2 and found[1] in _LASTS_TOO:
        own = found
    # Somebody's last name may be a form of address, too: Gregory Lord.
    if len(own) > 2 and is_title(next(iter(text.split()), "")):
        # A short form with a sign in it is several of these words: г-н, g-đa.
        own = own[len(_LETTERS.findall(text.split()[0])) :] or own
    while own and own[0] in TITLES:
        own.pop(0)
    while len(own) > 2 and own[-1] in TITLES:
        own.pop()
    return tuple(own or found)


_SAINT = re.compile(r"\b(?:st|saint)\b\.?[ -](?=[^\W\d_])")
"""St. John is one last name, and no John."""

_LASTS_TOO = frozenset(("neto", "filho", "fils", "pere", "jun", "sen", "senior", "junior"))
"""Suffixes that are also somebody's only last name: Brian Neto."""


@dataclass
class Company:
    """The guests of a list, as far as they say something about each other."""

    names: list[tuple[int, str, str]] = field(default_factory=list)
    """Row, name and role of each guest, up to :data:`MOST` of them."""
    is_whole: bool = True

    def add(self, row: int, name: str, role: str) -> None:
        """Take a guest in."""
        if len(self.names) < MOST:
            self.names.append((row, name, role))
        else:
            self.is_whole = False

    def remarks(self) -> dict[int, list[Remark]]:
        """Return what is to be said of each row; nothing of most of them."""
        if not self.is_whole:
            return {}
        found: dict[int, list[Remark]] = defaultdict(list)
        names = {row: name for row, name, _ in self.names}
        for row, remark in (
            *self._alike(), *self._split(), *self._of_roles(), *self._of_words(),
            *self._of_signs(), *self._foreign(), *self._code_page(),
        ):  # fmt: skip
            if not any(_says(one, remark, names[row]) for one in found[row]):
                found[row].append(remark)
        return {row: said for row, said in found.items() if said}

    def _alike(self) -> Iterator[tuple[int, Remark]]:
        """Yield who may be the same person, written otherwise."""
        people = [(row, name, parts_of(name)) for row, name, _ in self.names if name]
        pairs = {*_same_words(people), *_short_forms(people), *_slips(people), *_shorter(people)}
        pairs = {pair for pair in pairs if not _are_two(*(people[at][2] for at in pair))}
        beside: dict[int, list[int]] = defaultdict(list)
        for one, other in sorted(pairs):
            beside[one].append(other)
            beside[other].append(one)
        for at, others in beside.items():
            row, name, _ = people[at]
            alike = [people[other] for other in others if people[other][1] != name]
            if alike:
                yield row, Remark("alike", tuple(other for other, _, _ in alike), alike[0][1])

    def _of_words(self) -> Iterator[tuple[int, Remark]]:
        """Yield who has one word for a name where others have two, or the two turned around."""
        roles = Counter(role.casefold() for _, _, role in self.names if role)
        own = [
            (row, name, words)
            for row, name, role in self.names
            if (words := parts_of(name))  # signs alone are no name
            and _parts_its_words(name)
            and name.casefold() not in roles
            and (role or not _is_heading(name, roles))
        ]
        full = [words for _, name, words in own if not _is_shortened(words, name)]
        if not _nearly_all(len(full), len(own), _NEARLY_ALL):
            return
        surely = {row for row, name, words in own if _is_surely_turned(name, words)}
        if len(surely) > max(1, _FEW_TURNED * len(full)):
            surely = set()  # it is how the list writes them
        firsts = Counter(words[0] for words in full)
        lasts = Counter(words[-1] for words in full)
        for row, name, words in own:
            if len(name) == 1:
                yield row, Remark("letter", own=name)
            elif _is_shortened(words, name):
                yield row, Remark("one-word")
            else:
                first, last = words[0], words[-1]
                is_like_no_other = firsts[first] == lasts[last] == 1 and first not in {*_LEAD, last}
                is_of_others = bool(lasts[first]) and (firsts[last] or _is_last_first(name))
                if (is_like_no_other and is_of_others) or row in surely:
                    yield row, Remark("turned")

    def _split(self) -> Iterator[tuple[int, Remark]]:
        """Yield whose first and last name stand in the columns of name and role.

        They are one word each, the role is nobody else's and no known one, and the census says that
        the two of several rows are a first and a last name; or else all other rows have whole names
        and share their roles.
        """
        count = Counter(role.casefold() for _, _, role in self.names if role)
        split = [
            (row, name, role)
            for row, name, role in self.names
            if name and role and count[role.casefold()] == 1 and _is_one_word(name)
            and _is_one_word(role) and plain(role) not in KNOWN and role[:1].isupper()
        ]  # fmt: skip
        if len(split) < 2:
            return
        leanings = [leaning(name, role) for _, name, role in split]
        are_names = sum(each >= _LEANS for each in leanings) >= max(2, _HALF * len(split))
        rows = {row for row, _, _ in split}
        others = [(name, role) for row, name, role in self.names if row not in rows]
        usual = [" " in name and count[role.casefold()] > 1 for name, role in others]
        if are_names or _nearly_all(sum(usual), len(others), _NEARLY_ALL):
            for row, name, role in split:
                yield row, Remark("split", (), f"{name} {role}")

    def _of_signs(self) -> Iterator[tuple[int, Remark]]:
        """Yield who has another apostrophe, hyphen or dash than most of the list."""
        for kinds in _SIGNS:
            used: dict[str, list[tuple[int, str]]] = defaultdict(list)
            for row, name, role in self.names:
                for kind, text in (("name-signs", name), ("role-signs", role)):
                    for sign in dict.fromkeys(re.findall(kinds, text)):
                        used[sign].append((row, kind))
            if len(used) > 1:
                usual = max(used, key=lambda sign: (len(used[sign]), sign))
                rows = tuple(dict.fromkeys(row for row, _ in used[usual]))
                for sign in used.keys() - {usual}:
                    is_most = len(rows) > len(used[sign])
                    beside = () if is_most else rows[:_NAMED]
                    yield from ((row, Remark(kind, beside, usual)) for row, kind in used[sign])

    def _of_roles(self) -> Iterator[tuple[int, Remark]]:
        count = Counter(role.casefold() for _, _, role in self.names if role)
        slips = _slips_of_roles(count, {role.casefold(): role for _, _, role in self.names})
        spelled = Counter(role for _, _, role in self.names if role)
        usual: dict[str, str] = {}
        for role in sorted(spelled, key=lambda role: (-spelled[role], role not in _usual(role))):
            usual.setdefault(_key(role), role)
        foreign = in_another_language(_plain_count(count))
        filled = sum(count.values())
        in_roles = Counter(word for role in count for word in set(_LETTERS.findall(plain(role))))
        lettered = sum(many for role, many in count.items() if _LETTERS_ALONE.search(role))
        for row, name, role in self.names:
            low = role.casefold()
            if role and not _LETTERS_ALONE.search(role) and lettered >= _MOST_OF * filled:
                yield row, Remark("role-none", (), role)
            if not role and _nearly_all(filled, len(self.names), _MOST_OF):
                is_heading = bool(name) and _is_heading(name, count)
                yield row, Remark("heading", own=name) if is_heading else Remark("role-missing")
            elif role and (
                meant := slips.get(low)
                or _other_than(role, usual[_key(role)])
                or _parted_from_number(role, count)
            ):
                yield row, Remark("role-alike", (), meant)
            elif role and (base := _goes_on(role, count, in_roles)):
                yield row, Remark("role-goes-on", (), base, role)
            elif role and _plain_role(role) in foreign:
                yield row, Remark("role-foreign", (), role)
            words = parts_of(name)
            is_led = len(words) > 2 and is_particle(words[-2])  # Vincent Van Horn
            ends = words[:1] if is_led else (*words[:1], *words[-1:])
            if len(words) > 2 and any(count[word] >= 2 for word in ends):
                yield row, Remark("role-within", (), name)
            if name and role and low != name.casefold() and _is_role(name, role, count):
                yield row, Remark("name-is-role", (), name)

    def _foreign(self) -> Iterator[tuple[int, Remark]]:
        """Yield words of letters that only look Latin, in a list of Latin names."""
        latin = sum("a" <= plain(name)[:1] <= "z" for _, name, _ in self.names)
        if not _nearly_all(latin, len(self.names), _MOST_OF):
            return
        for row, name, role in self.names:
            for text in (name, role):
                if odd := [word for word in _LETTERS.findall(text) if _LOOKS_LATIN.fullmatch(word)]:
                    yield row, Remark("foreign", (), " ".join(odd))

    def _code_page(self) -> Iterator[tuple[int, Remark]]:
        """Yield names that are only sure to be read in the wrong page because others are.

        Where most of what reads otherwise in a page is names there, the list was written in it.
        """
        names = [(row, name) for row, name, _ in self.names if not name.isascii()]
        if page := page_of([name for _, name in names]):
            for row, name in names:
                if meant := read_as(name, page):
                    yield row, Remark("page-of-list", (), meant, page)
            return
        if any(read_as_icelandic(name) for _, name in names):
            for row, name in names:
                meant = read_as_icelandic(name, surely=False)
                if meant and not read_as_icelandic(name):
                    yield row, Remark("code-page", (), meant)
        sure = {row: reading.page for row, name in names if (reading := misread(name))}
        pages = [page for page, many in Counter(sure.values()).most_common() if many > 1]
        for row, name in names if pages else ():
            meant = next(filter(None, (read_in(name, page) for page in pages)), "")
            if meant and row not in sure:
                yield row, Remark("code-page", (), meant)


_LEAD = frozenset(
    word
    for line in (
        "li wang zhang liu chen yang zhao huang zhou wu xu sun hu zhu gao lin he guo ma luo",
        "song tang deng feng cao peng zeng xiao tian dong pan yuan cai jiang yu du ye cheng wei",
        "su lu ding ren shen yao lo chan wong lam leung cheung lau ng ho kim lee park choi jung",
        "kang cho yoon jang lim han shin seo kwon hwang ahn nguyen tran le pham hoang phan vu",
        "vo dang bui do ngo duong ly nagy kovacs toth szabo horvath varga kiss molnar nemeth",
        "farkas szucs balogh papp takacs juhasz lakatos meszaros olah fekete hegedus",
    )
    for word in line.split()
)
"""Last names that stand in front in their own languages, so that nobody has turned them.

Common practice in Chinese, Korean, Vietnamese and Hungarian, from memory.
"""


def _is_shortened(words: tuple[str, ...], name: str) -> bool:
    """Whether a name is one word, or one beside an initial: Wanda, Wanda T., W. Thorsby.

    Å and Ö are whole last names, of a letter that is no initial as it stands there.
    """
    has_initial = len(words) == 2 and 1 in map(len, words)
    if len(words) > 2 and len(words[0]) > 1 and all(len(word) == 1 for word in words[1:]):
        return True  # Orlov I. P.
    return len(words) == 1 or (has_initial and name[-2:] not in (" Å", " Ö", " Ø", " Æ", " Ä"))


_FEW_TURNED = 0.15


def _is_surely_turned(name: str, words: tuple[str, ...]) -> bool:
    """Whether a name of two words is last name first, as names alone tell: Schmidt Anja."""
    is_of_two = len(words) == 2 and len(name.split()) == 2 and "," not in name
    return is_of_two and words[0] not in _LEAD and is_surely_turned(*words)


def _is_last_first(name: str) -> bool:
    """Whether of a name's first and last word rather the last one is a first name.

    Of a double one, each half: Anna-Maria, not Moss-Eddy.
    """
    last = _LETTERS.findall(plain(name.split()[-1]))
    return all(map(is_rather_first, last)) and not is_rather_first(parts_of(name)[0])


_LEANS = 2.0
"""So far a row of two names leans toward first and last name; see :func:`exchanged.leaning`."""
_HALF = 0.4

_SAID_BY = {
    "alike": ("one-word", "turned", "name-signs"),
    "split": ("one-word", "name-is-role", "role-alike"),
    "name-is-role": ("one-word",),
}
"""What comes of the same cause as that a name is like another one, or is in two columns."""


def _says(one: Remark, remark: Remark, name: str) -> bool:
    """Whether a remark says what another one would: of signs only beside the same letters."""
    is_said = remark.kind in _SAID_BY.get(one.kind, ())
    is_of_signs = remark.kind == "name-signs"
    return is_said and (not is_of_signs or parts_of(one.other) == parts_of(name))


_NAMED = 3
_MOST_OF = 0.75
_NEARLY_ALL = 0.8


def _nearly_all(some: int, of: int, share: float) -> bool:
    """Whether some of a list's rows are nearly all: this share, and all but one in a short list."""
    return some >= 2 and (some >= share * of or some == of - 1)


_LOOKS_LATIN = re.compile("[АВЕЅІЈКМНОРСТУХаеѕіјорсухԁһԛԝΑΒΕΖΗΙΚΜΝΟΡΤΥΧονυ]{2,}")
"""Cyrillic and Greek letters that look like Latin ones (Unicode confusables, from memory)."""

_PLURAL = ("s", "es", "n", "en", "e", "er")


def _key(role: str) -> str:
    """Return the letters of a role, without case, accents, signs and blanks.

    A blank before a number stays: it is part of what is counted.
    """
    return re.sub(r"(?<=[a-z]) (?=[a-z]{2})", "", " ".join(_LETTERS.findall(plain(role))))


def _plain_role(role: str) -> str:
    """Return the words of a role, plain, with a blank between them."""
    return " ".join(_LETTERS.findall(_APOSTROPHES.sub("", plain(role))))


def _plain_count(count: Mapping[str, int]) -> Counter[str]:
    found: Counter[str] = Counter()
    for role, many in count.items():
        found[_plain_role(role)] += many
    return found


def _usual(role: str) -> tuple[str, ...]:
    """Return a role as it is usually written: its first letter large, or each word's, or none."""
    return role.capitalize(), role.title(), role.lower()


_NUMBER_JOINED = re.compile(r"([^\W\d_]{3,})(\d{1,2})")


def _parted_from_number(role: str, count: Mapping[str, int]) -> str:
    """Return a role with a blank before its number, where no other role lacks it: Violin1."""
    match = _NUMBER_JOINED.fullmatch(role)
    joined = sum(many for other, many in count.items() if _NUMBER_JOINED.fullmatch(other))
    if not match or joined > 1:
        return ""
    is_known = count[match[1].casefold()] or plain(match[1]) in KNOWN
    return f"{match[1]} {match[2]}" if is_known else ""


def _goes_on(role: str, count: Mapping[str, int], in_roles: Mapping[str, int]) -> str:
    """Return the role of others, or the known one, after which a role goes on with a remark.

    What follows is one if half of its words are in no other role, and tell no players of one
    instrument apart. Beside a role that nobody else has, a sign must part them, or capitals.
    """
    for base, sign, rest in _bases(role):
        low = base.casefold()
        is_parted = bool(sign.strip()) or (rest.isupper() and len(rest) > 2 and not role.isupper())
        if not (count[low] or (is_parted and plain(base) in KNOWN)):
            continue
        found = _LETTERS.findall(plain(rest))
        unknown = [word for word in found if in_roles[word] < 2 and not _tells_apart(word)]
        if unknown and len(unknown) >= len(found) / 2:
            return base
    return ""


def _bases(role: str) -> Iterator[tuple[str, str, str]]:
    """Yield a role parted at each sign or blank: what stands before, the sign, what follows."""
    for match in _SIGN.finditer(role):
        if role[: match.start()] and role[match.end() :]:
            yield role[: match.start()], match[0], role[match.end() :]


_SIGN = re.compile(r"\s*[,;:/|(\[]\s*|\s+[-–—]+\s*|\s+")


def _tells_apart(word: str) -> bool:
    """Whether a word stands in roles: an instrument, a part's number or key, a rank."""
    return len(word) < 2 or word.isdigit() or word in KNOWN or word in RANKS


def _is_one_word(text: str) -> bool:
    return " " not in text and text.replace("-", "").replace("'", "").replace("’", "").isalpha()


def _other_than(role: str, usual: str) -> str:
    return usual if role != usual else ""


def _is_role(name: str, role: str, count: Mapping[str, int]) -> bool:
    """Whether a name is a role: of others, or a known one beside somebody's name."""
    low = name.casefold()
    return count[low] >= 2 or (
        (count[low] > 0 or plain(name) in KNOWN)
        and len(parts_of(role)) > 1
        and not any(word in KNOWN for word in parts_of(role))
        and count[role.casefold()] == 1
    )


_EL_FOR_I = re.compile(r"(?<=\S )[lI]*l[lI]*$")
"""A small l in the place of the numeral I: Violin l."""


def _slips_of_roles(count: Mapping[str, int], written: Mapping[str, str]) -> dict[str, str]:
    """Return the roles that are slips of others, each with what it may be meant for.

    The slip is the one that is no known role, or else the rarer one; of two unknown ones that are
    as rare, it may be either.
    """
    found: dict[str, str] = {}
    for role in count:
        spelled = written[role]
        if _EL_FOR_I.search(spelled):
            found[role] = _EL_FOR_I.sub(lambda match: match[0].replace("l", "I"), spelled)
        elif meant := _meant_by_keys(role, count) or _written_short(role, count):
            found[role] = written.get(meant, meant)
    texts = [(role, _plain_role(role)) for role in count]
    home = of_the_language({text: count[role] for role, text in texts})
    for at, beside in _a_letter_apart([text for _, text in texts]):
        for (role, one), (other, two) in ((texts[at], texts[beside]), (texts[beside], texts[at])):
            is_foreign = one not in home and two in home and count[role] < count[other]
            is_slip = _is_slip_for(one, two, count[role], count[other]) or (
                is_foreign and (_is_slip(one, two) or (not is_written(role) and _is_near(one, two)))
            )
            if one != two and is_slip:
                found.setdefault(role, written[other])
    return found


_BESIDE_LETTERS = re.compile(r"(?<=[^\W\d_])[013458@$|](?=[^\W\d_])")


def _meant_by_keys(role: str, count: Mapping[str, int]) -> str:
    """Return the role that one with a figure inside a word is meant for: Vi0lin; else ``""``."""
    for signs in (_KEYS_ALIKE, {**_KEYS_ALIKE, "1": "l"}):
        meant = _with_letters(role, signs)
        if meant != role and (meant in count or plain(meant) in KNOWN):
            return meant
    return ""


def _with_letters(role: str, signs: Mapping[str, str]) -> str:
    return _BESIDE_LETTERS.sub(lambda match: signs[match[0]], role)


_KEYS_ALIKE = {"0": "o", "1": "i", "3": "e", "4": "a", "5": "s", "8": "b", "@": "a", "$": "s",
               "|": "l"}  # fmt: skip
"""Figures and signs that look like letters, or lie beside them."""


def _written_short(role: str, count: Mapping[str, int]) -> str:
    """Return the only role of several others whose letters in a row a short form is: Hrn, Vln.

    It has no vowel and begins as the role does; where the list writes several so, it is its way.
    """
    short = plain(role).strip(" .")
    if not (2 <= len(short) <= _SHORTEST and short.isalpha() and not set(short) & set("aeiouy")):
        return ""
    if short in KNOWN or count[role] > 1:
        return ""
    whole = [
        other
        for other, many in count.items()
        if many > 1 and plain(other) in KNOWN and _has_in_a_row(plain(other), short)
    ]
    return whole[0] if len(whole) == 1 else ""


def _has_in_a_row(text: str, letters: str) -> bool:
    """Whether letters stand in a text one after another, the first of them at its start."""
    rest = iter(text)
    return text[:1] == letters[:1] and all(letter in rest for letter in letters)


def _is_slip_for(role: str, other: str, many: int, others: int) -> bool:
    """Whether a role is a slip of another one, as often as they stand in the list."""
    unlike = _unlike(role, other)
    if {role, unlike[0]} & KNOWN:
        return many * _FEWER <= others and _is_slip(role, other)
    if {other, unlike[1]} & KNOWN and _is_near(*unlike):
        return True
    return many <= others and (_is_slip(role, other) or _is_plural(*unlike))


def _unlike(one: str, other: str) -> tuple[str, str]:
    """Return the one word in which two texts differ, of each; both whole if it is not one."""
    words, others = one.split(), other.split()
    if len(words) == len(others):
        unlike = [(a, b) for a, b in zip(words, others, strict=True) if a != b]
        if len(unlike) == 1:
            return unlike[0]
    return one, other


_FEWER = 3
"""A known role is a slip of another one where it stands in the list this many times less."""


def _is_near(word: str, other: str) -> bool:
    """Whether an unknown word is a letter away from a known role, at its end, too."""
    return (
        min(len(word), len(other)) >= _SHORTEST
        and word.isalpha()
        and OSA.distance(word, other) == 1
        and word[1:] != other[1:]
    )


def _is_plural(word: str, other: str) -> bool:
    """Whether a word is another one in the plural: Cellos beside Cello."""
    return word == other + "s" and len(other) >= _SHORTEST


def _is_heading(name: str, roles: Mapping[str, int]) -> bool:
    """Whether a name without a role heads those who follow: a role, several of it, or a section."""
    found = re.search(r"[^\W\d_](?:.*[^\W\d_])?", name)
    word = found[0].casefold() if found else ""
    return plain(word) in SECTIONS or any(
        word == role or word in {role + ending for ending in _PLURAL}
        for role, many in roles.items() if many > 1
    )  # fmt: skip


def _same_words(people: list[tuple[int, str, tuple[str, ...]]]) -> Iterator[tuple[int, int]]:
    """Yield pairs with the same words, in any order, or run together."""
    found: dict[tuple[str, ...] | str, list[int]] = defaultdict(list)
    for at, (_, _, words) in enumerate(people):
        if words:
            found[tuple(sorted(words))].append(at)
            found[_written_out("".join(words))].append(at)
            found[tuple(map(_once_each, words))].append(at)
            found["~", *map(sounded, words)].append(at)
            own = [word for word in words if not is_particle(word)]
            if len(own) > 1:
                found["", *own].append(at)  # Jan vd Berg, Jan van der Berg
    for group in found.values():
        yield from _pairs(group)


_WRITTEN_OUT = (("dj", "d"), ("ae", "a"), ("oe", "o"), ("ue", "u"), ("aa", "a"), ("th", "t"))


def _written_out(text: str) -> str:
    """Return a plain text as it is where ä is not written ae, nor đ dj, nor þ th."""
    for two, one in _WRITTEN_OUT:
        text = text.replace(two, one)
    return text


_DOUBLED = re.compile(r"(.)\1+")
_SAINTS = {"saint": "st", "sainte": "ste", "sankt": "st", "mount": "mt", "fort": "ft"}


def _once_each(word: str) -> str:
    """Return a word without doubled letters, and a short form for what has one: Ana, St. John."""
    return _SAINTS.get(word, _DOUBLED.sub(r"\1", word))


def _short_forms(people: list[tuple[int, str, tuple[str, ...]]]) -> Iterator[tuple[int, int]]:
    """Yield pairs with the same last name whose first names are forms of one name."""
    found: dict[tuple[object, ...], list[int]] = defaultdict(list)
    for at, (_, _, words) in enumerate(people):
        if len(words) > 1:
            for number in groups_of(words[0]):
                found[number, *words[1:]].append(at)
    for group in found.values():
        yield from _pairs(group)


def _shorter(people: list[tuple[int, str, tuple[str, ...]]]) -> Iterator[tuple[int, int]]:
    """Yield pairs of which one is the other shortened: J. Hale, Hale, Seb Hale for Sebastian."""
    by_rest: dict[tuple[str, ...], list[int]] = defaultdict(list)
    alone: dict[tuple[str, ...], int] = {}
    for at, (_, _, words) in enumerate(people):
        if len(words) > 1:
            by_rest[words[1:]].append(at)
        alone.setdefault(words, at)
    for group in by_rest.values():
        for one, other in _pairs(group):
            if _is_short_for(people[one][2][0], people[other][2][0]):
                yield one, other
    for at, (_, _, words) in enumerate(people):
        if len(words) > 1:
            parts = {words[:1], words[-1:], words[1:], (*words[:-1], words[-1][0])}
            # Without a middle name or the second of two last names: Anna Conti, Sigrid Holm.
            parts |= {words[:n] + words[n + 1 :] for n in range(1, len(words)) if len(words) > 2}
            parts |= {
                (*words[:n], words[n][0], *words[n + 1 :])
                for n in range(1, len(words) - 1)
                if len(words[n]) > 1
            }  # with the initial of a middle name
            yield from ((at, alone[part]) for part in parts if part in alone)


def _is_short_for(one: str, other: str) -> bool:
    """Whether one of two first names is the other's initial, its start, or its start as a pet.

    What only makes a man's name a woman's is no pet: Dan and Danielle, Carl and Carlotta are two.
    """
    short, long = sorted((one, other), key=len)
    if len(short) == 1:
        return long.startswith(short) and len(long) > 1
    if not long.startswith(short) and is_usual_first(short):
        return False  # Rose is no pet name of Rosalind
    stems = {short, *(short.removesuffix(ending) for ending in _PET_ENDINGS)}
    stem = max((stem for stem in stems if long.startswith(stem)), key=len, default="")
    rest = long[len(stem) :]
    is_womans = rest in _WOMEN_S_ENDINGS or rest.endswith(("elle", "ella", "ette", "etta"))
    return len(stem) >= 3 and len(rest) >= 2 and not is_womans


_PET_ENDINGS = ("ie", "y", "i", "e", "o", "a", "l", "chen", "ka", "ya", "ek", "uś", "us")
_WOMEN_S_ENDINGS = frozenset(
    ("ia", "ina", "ine", "ette", "etta", "elle", "ella", "ela", "ena", "otta", "otte", "ice",
     "icia", "anna", "anne", "lyn", "lynn", "isa", "ita", "osa", "ovna", "dis", "son", "jan",
     "marie", "maria")
)  # fmt: skip


def _slips(people: list[tuple[int, str, tuple[str, ...]]]) -> Iterator[tuple[int, int]]:
    """Yield pairs that a slip of the keyboard makes out of each other.

    Two texts that are one letter apart have a text in common that each gives without one of its
    letters.
    """
    texts = [" ".join(words) for _, _, words in people]
    for pair in _a_letter_apart(texts):
        one, other = (texts[at] for at in pair)
        if _is_slip(one, other) or _is_cut_short(one, other) or _is_mistyped_end(one, other):
            yield pair


def _are_two(words: tuple[str, ...], others: tuple[str, ...]) -> bool:
    """Whether the one word in which two names differ is known as two people's first names."""
    return frozenset(_unlike(" ".join(words), " ".join(others))) in _APART


_APART = frozenset(
    frozenset(pair)
    for line in (
        "mary marie|"
        "rajesh rakesh ramesh|rajiv ranjiv|mahesh manesh|suresh naresh|sunil sushil|anita amita|"
        "kavita kabita|sarita savita|sunita sumita|geeta meeta|rohit mohit",
        "maria marta maura|marina martina|mariam miriam|carla clara|carlo carlos|marco mario|"
        "paolo pablo|elena helena|daria maria|jana lana|karin karen|kirsten kerstin|helge helga|"
        "aylin ayten|aysel aysen|selin selim|burak burat|"
        "minh linh|thanh thinh|hung hong|akiko ayako|yuko yoko|keiko reiko|haruka haruna|"
        "jiwon siwon|minji minju|andrea andrej|stefan stefana",
    )
    for names in line.split("|")
    for pair in combinations(names.split(), 2)
)
"""First names a letter or two apart that are two people's. Common practice, from memory."""


def _is_cut_short(one: str, other: str) -> bool:
    """Whether two people with the same first name are alike but for their last one's last letter.

    One of a gender has one of its forms: Anna is Kowalska and never Kowalsk.
    """
    (first, _, last), (other_first, _, other_last) = one.partition(" "), other.partition(" ")
    short, long = sorted((last, other_last), key=len)
    is_same = first == other_first and len(first) > 1 and len(short) >= _SHORTEST_LAST
    return is_same and long[:-1] == short


_SHORTEST_LAST = 3


def _is_mistyped_end(one: str, other: str) -> bool:
    """Whether two people with the same first name have last ones with one odd letter at an end.

    At the start it lies beside the other one on the keyboard; at the end neither is a vowel, which
    tells a gender: Lopes and Lopez, Kowalski and Kowalska.
    """
    (first, _, last), (other_first, _, other_last) = one.partition(" "), other.partition(" ")
    if first != other_first or len(last) != len(other_last) or len(last) <= _SHORTEST:
        return False
    if last[1:] == other_last[1:]:
        return _lie_beside(last[0], other_last[0])
    return last[:-1] == other_last[:-1] and not {last[-1], other_last[-1]} & {*"aeiouyаеиоуыюя"}


_ROWS_OF_KEYS = ("qwertyuiop", "asdfghjkl", " zxcvbnm", "йцукенгшщзх", "фывапролджэ", "ячсмитьбю")


def _lie_beside(one: str, other: str) -> bool:
    """Whether two letters are neighbours in a row of the keyboard."""
    return any(one + other in row or other + one in row for row in _ROWS_OF_KEYS)


def _a_letter_apart(texts: list[str]) -> Iterator[tuple[int, int]]:
    """Yield pairs of texts that may be one letter apart; some more than once."""
    found: dict[str, list[int]] = defaultdict(list)
    for at, text in enumerate(texts):
        for shorter in {text, *(text[:n] + text[n + 1 :] for n in range(len(text)))}:
            found[shorter].append(at)
    for group in found.values():
        yield from _pairs(group)


def _is_slip(one: str, other: str) -> bool:
    """Whether two texts differ by one letter, two exchanged or one moved, within one long word.

    Not at its end, where languages put gender, number and case: Paul and Paula, Kowalski and
    Kowalska, Violin and Violins; nor at its start, where names differ: Barry and Larry. A figure,
    and a word of up to three letters, is no slip.
    """
    words, others = one.split(), other.split()
    if len(words) != len(others) or one == other:
        return False
    unlike = [(a, b) for a, b in zip(words, others, strict=True) if a != b]
    if len(unlike) != 1:
        return False
    a, b = unlike[0]
    if min(len(a), len(b)) < _SHORTEST or not (a.isalpha() and b.isalpha()):
        return False
    is_moved = sorted(a) == sorted(b) and min(len(a), len(b)) > _SHORTEST
    if OSA.distance(a, b) > (2 if is_moved else 1):
        return False
    if a.startswith(b) or b.startswith(a):
        return _is_doubled_end(*sorted((a, b), key=len))
    if a.endswith(b) or b.endswith(a):
        return False
    return a[:-1] != b[:-1] and a[1:] != b[1:]


def _is_doubled_end(short: str, long: str) -> bool:
    """Whether a word's last letter is typed twice: no language makes a case or a gender so."""
    return long == short + short[-1]


_SHORTEST = 4


def _pairs(group: Iterable[int]) -> Iterator[tuple[int, int]]:
    """Yield neighbours of a group: a dozen of one name are told of by their neighbours alone."""
    group = sorted(set(group))
    if len(group) <= 12:
        yield from ((a, b) for n, a in enumerate(group) for b in group[n + 1 :])
    else:
        yield from pairwise(group)
