"""Letters that were read in another code page than the one in which they were written.

Programs that export text in the page of their own system, and others that read it in theirs, make
Dvoøák of Dvořák, Wa³êsa of Wałęsa, and Ìîñêâà of Москва. What the bytes were is known: the text
written in the page that it was read in. Read in another one, they may make a likelier name.
"""

from __future__ import annotations

import html
import re
import unicodedata
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from typing import NamedTuple

from mailmerge.guests.names import read_as_icelandic


class Reading(NamedTuple):
    """What a text was, if it was read in the wrong code page."""

    text: str
    page: str
    """In which it was written, as Python calls it."""


Around = tuple[str, str, str, str]
"""Letters seen after a letter that begins a word, before and after one inside, before the last."""


def _table(*rows: str) -> Mapping[str, Around]:
    found = {}
    for row in "".join(rows).split("|"):
        letter, after_first, before, after, before_last = row.split(" ")
        found[letter] = (after_first, before, after, before_last)
    return found


_WESTERN = _table(
    "ß - iuöü beil eiou|à fkrsuv bdghilmnorstuvz bchilmnqrstuv cdegijlmnortuvz|"
    "á bdfgiklmnrstuv abcdefghijklmnoprstuvwyzñú abcdefghijklmnopqrstuvxzíðñþ bcdefhijklmnorstvyzç|"
    "â dln bcdghiklmrstuvz lmntyz l|ã - bdeghijlmoprstvxç eo gmnru|"
    "ä gnqtu bcdefghjklmnprstvwzä cdefghijklmnprstuvyä eijlnpstäö|å bgkls bghklmprt dghklnrv k|"
    "æ bgksv bdfghjklmnprsv bdfghijklmnrstuvðþ v|"
    "ç aeiouıə abdefhiklnoprstuyzçíöüğış abegiklmnorsuyáãçõöüıə aeinoruüı|"
    "è r abcdfghijlmnoprstuvxy bcdglnqrstvxz cmnoprsuvx|"
    "é acdfgiklmnqrtvw abcdfghijklmnoprstuvwyz abcdegiklmnopqrstuvxzð bdhiklmnoprstuvwz|"
    "ê - bcdghilmnortuv clmnqstv tu|ë dmn abcdefghijklmnopqrstuvxzç bcdghjklmnprstvyz iot|"
    "ì - - - lmr|"
    "í abdglmnorstuvñ abcdefghijklmnoprstuvxáðúüþ abcdefghklmnopqrstuvçðóúþ abcdghjklmnprstuvú|"
    "î l ao t knr|ï - aeou abcdeglmnqstw a|ð - aefgioruyáæéíóöúý abdefghijklmnrsuvíóþ aeiruáíóö|"
    "ñ e aeiouáíóú aeiouáó -|ò - bcdegilmnpstvw lmnprst dlt|"
    "ó bdefgiklmrstðþ abcdefghijklmnprstvwyzíðñúþ abcdefghiklmnprstvzðñþ abcdeghijklmnprstvxíú|"
    "ô - acdhlmrstv mnpt -|õ inu bdgjklmnprtvçõ deghiklmnrstuvzõš -|"
    "ö abcghiklmnrsvxzğ abdefghjklmnpqrstuvwyzçöþş abcdefghiklmnprstvwyzßäçðöğ ijknt|"
    "ø deijkrsvy abdefhijklmnrstuv degijklmnrsvy bdjl|ù - - - dflrt|"
    "ú acdgiklmnrstí abcdefghijklmnprstyzíþ abcdefgijklmnoprstuvxzáíðñó dghijlnrstxy|"
    "û - dhlor elmtx -|"
    "ü bghlmnrszç abcdefghijklmnopqrstvwyzçüğş abcdefghijklmnpqrstvyzßçíüğş dglnrs|"
    "ý jmr bcdgklmnrstþ abdgjkmnprstuvð bdglmnrstv|þ aeijoruyóöúý adefgiklmnrstyáæíðó aejríóý -|"
    "š aeiotv aikmnrtuõ aeikmnotu i|ž aeu delo abdeikopu d"
)  # fmt: skip

_EASTERN = _table(
    "á bdgklrsz bcdefghijklmnprstuvwyzčďňřšťž bcdghjklmnprstvzčľňřšž bhklmnprtv|"
    "â - bfghkmprs lmnrsz -|ä - ev nt k|ç - a a -|"
    "é sv bdfghklmnoprstvxz bcdghklmnprstuvzčš hklmnrtvč|"
    "í r bcdfgjklmnprstvzóčřšž abcdfghjklmnoprtvzčšťž klmnrsvčřšž|î n bcmpsvţ lmnr -|"
    "ó acefgpsí bdghijklmnoprstwzż bcdfgijklmnprstwzłśźż abdghiklmnrstvz|ô - bckn prst -|"
    "ö dr bdfgklmrtvyz begklnprsz -|ú jnzž acdghjklmnprstvyzľš bcdfklnprstuvzčš dy|"
    "ü rz dfkmprstz cklnrs -|ý - klnrstv cdklnorszčš bhklmnptv|"
    "ă - bcdfglmnprstvzţț cdglmnprstuzşţț bcdghlnrstzţșț|ą - bdgijlmrtwł bcdgkpstzż -|"
    "ć iouw aeiuš aeimn aei|č aceioruí abdefghijklmnoprtuvwyzáéíúýšž aeijknotuváéíš aeinoá|"
    "ď aou aelž aoá e|đ aeioun aeijklnoruvz abeijkmoru aeijoru|ę - dgijkmprstwzłż bcdgkpstzż -|"
    "ě - bdmnptv cdjklmnprtzšž -|ľ u adeiopuáš agjkosuúš aeá|"
    "ł aouąę abcgikorsuwzó acdegkmnoptuwyąę aeo|ń - aeiouy ks e|ň ao aeikmorsuášž adkouvá aeoá|"
    "ő rsz bdfklmrstyz dhikmnrstz gklnstz|ř eiáí bdehikoptá eioáí aoá|"
    "ś clmprw aeiouóy cklmnptw iouy|"
    "ş aet aeiuă aceio aeo|"
    "š aeiklmoprtuváćľť abdefghijklmnoprtuvwyzáéíúýčěľž aeijklmnopstuáíúćčňť aeiouyáéúý|"
    "ţ eiuă inuă aeiîă u|ť a aeorsíš akoá s|ů - cdnrt mvž dk|ű - bdfhmrstyz cdhjlrsvz r|"
    "ź r adoó admnw d|ż abemuyó adlouyóąę abdeikpyę -|"
    "ž aeinouáď adeijlnoruáíúěů abdeikmnopsuáíčňš aouváí|ș eit aeinu ackmotuă eio|"
    "ț ă aeinoruă aeiă u"
)  # fmt: skip

_BALTIC = _table(
    "ā bdfrz bdefghijklmnoprstuvzļšž bcdfgjklmnrstvzļņž klmt|ą sž rs js -|"
    "č aeiouīū abeinotuy aeiopuvėų -|ē rvģ abfghjklmnprtuvzķž cdjklnrstzģļņ v|"
    "ė gm bdglmnprsvč djlnrs bjlmnprtvž|ę - k s -|ģ ei eoēļ eiu -|"
    "ī pr cdgklmnprstuvzčķž bcdgklmnrstvzņ jmnrv|į g - - -|ķ etī aeiš eiuē -|"
    "ļ e aegikoāē aefklmnrsuāģ -|ņ aeio aiouāēī aeijuš -|"
    "š aeikoruvķ aegikmnoruyū aeijklmnorstuvāų ijņ|ū dl abcdegijklmprtčž bcdgklmnrstzš -|"
    "ų - - - bcdfghijklmnrstvzčš|ž aeiuy adeilouāą abeinopsuyāēėīū -"
)  # fmt: skip
"""Which letters stand beside those that are not in ASCII, in names and other words.

Counted in the first and last names of the package ``faker``, in the names of countries and
languages of CLDR, and in some names from memory: of western languages from Icelandic to
Turkish, of those that Windows-1250 is for, and of Lithuanian and Latvian.
"""

_READ = (("cp1252", _WESTERN), ("cp1250", _EASTERN))
"""The pages in which lists are read that say nothing of theirs."""
_LATIN = (
    ("cp1250", _EASTERN), ("cp1252", _WESTERN), ("cp1257", _BALTIC), ("iso8859-2", _EASTERN),
    ("mac_roman", _WESTERN), ("cp850", _WESTERN), ("cp437", _WESTERN), ("cp852", _EASTERN),
)  # fmt: skip
"""The pages in which they may have been written, the likelier first."""
_DOS = ("mac_roman", "cp850", "cp437", "cp852")
"""Those of them that are rare by now."""
_OTHERS = {
    "cp1251": "оеаинтрслвкмдяуй", "koi8-r": "оеаинтрслвкмдяуй", "cp866": "оеаинтрслвкмдяуй",
    "mac_cyrillic": "оеаинтрслвкмдяуй", "iso8859-5": "оеаинтрслвкмдяуй",
    "cp1253": "αοιετνσηυρκςλίάόέή", "iso8859-7": "αοιετνσηυρκςλίάόέή",
    "cp1255": "ירולאהנמבשתדכםןקע", "cp1256": "المنيردوبحعسة",
}  # fmt: skip
"""Pages of other alphabets, each with the letters that are commonest in it. From memory."""

_EVERYWHERE = frozenset("äéóöü")
"""Letters at one place in Windows-1250, -1252 and -1257, so that each is what was written."""

_QUOTES = "“”„«»‹›…•–—"
_WORD = re.compile(rf"(?![{_QUOTES}])(?:(?![–—][A-ZÀ-Þ])[^\s\-.,()'’‘`´ʻʼ/&])+(?<![{_QUOTES}])")
"""A word without what stands around it; what stands inside is a letter misread.

A dash before a capital parts two names, as a hyphen does.
"""
_SIGN, _FOREIGN, _CAPITAL_INSIDE = 3, 2, 2
_SURELY = 2
"""How strange a sign between letters is, a letter of no language of a page, and mAren."""


def misread(text: str) -> Reading | None:
    """Return what a text was if it was read in the wrong code page; None if it looks right."""
    if text.isascii() or all(map(_is_vietnamese, filter(_has_accents, text.split()))):
        return None
    return _in_another_alphabet(text) or _in_another_page(text)


_SYLLABLE = re.compile(
    "(?:ngh?|ph|th|tr|ch|kh|gh|gi|nh|qu|[bcdghklmnprstvx])?"
    "(?:[aeiouy]|a[iouy]|e[ou]|i[aeu]|ieu|o[aei]|oai|u[aeiouy]|uoi|uye|ye|yeu)"
    "(?:ng|nh|ch|[cmnpt])?"
)
_TONES = re.compile("[àáèéìíòóùúýâêôãõăđĩũơưạ-ỹ]", re.IGNORECASE)


def _has_accents(word: str) -> bool:
    return not word.isascii()


def _is_vietnamese(word: str) -> bool:
    """Whether a word is one syllable as Vietnamese has them: Hùng, Đặng, Kèn."""
    letters = unicodedata.normalize("NFD", word.lower().replace("đ", "d"))
    bare = "".join(char for char in letters if not unicodedata.combining(char))
    is_toned = all(
        char.isascii() or _TONES.match(char) for char in unicodedata.normalize("NFC", word)
    )
    return is_toned and bool(_SYLLABLE.fullmatch(bare))


_CODED = re.compile(
    r"&#?\w{2,8};|&#\d{2,5}\b|(?:=[0-9A-F]{2}){2,}|(?<=\w)=[89A-F][0-9A-F]|(?:%[0-9A-Fa-f]{2})+"
    r"|\\u[0-9a-fA-F]{4}|\\x[0-9a-fA-F]{2}|U\+[0-9A-F]{4}"
)
_HEX = re.compile("[0-9A-Fa-f]{4}|[0-9A-Fa-f]{2}")


def decoded(text: str) -> str:
    """Return a text whose letters were written in code, as mails and web pages do, as it reads.

    ``Fran&ccedil;ois``, ``Ren=C3=A9e``, ``Ren%C3%A9e``, or with a backslash and a number.
    """
    return _CODED.sub(_of_code, text) if _CODED.search(text) else text


def _of_code(match: re.Match[str]) -> str:
    code = match[0]
    if code[0] == "&":
        return html.unescape(code)
    numbers = [int(number, 16) for number in _HEX.findall(code)]
    if code[0] not in "=%":
        return "".join(map(chr, numbers))
    data = bytes(numbers)
    try:
        return data.decode()
    except UnicodeDecodeError:
        return data.decode("cp1252", errors="replace")


def read_in(text: str, page: str) -> str:
    """Return a text as it reads in a page in which others of its list were written; else ``""``.

    It has to read as names do there.
    """
    tables = dict(_LATIN)
    for read, _ in _READ:
        data = _bytes(text, read)
        meant = _decoded(data, page) if data and page in tables else ""
        if meant and meant != text and not _strange(meant, tables[page], text):
            return meant
    return ""


def page_of(names: Iterable[str]) -> str:
    """Return the page in which a list was written that was read as a western one; else ``""``.

    Most of its names that read otherwise there have to be names there and none as they stand.
    """
    names = list(names)
    found = Counter(page for name in names if (page := _page_of_one(name)))
    for page, many in found.most_common(1):
        other = sum(bool(read_as(name, page)) for name in names)
        if many >= _FEWEST_OF_A_LIST and 2 * many >= other:
            return page
    return ""


_FEWEST_OF_A_LIST = 3


def _page_of_one(name: str) -> str:
    """Return the page of one name that is sure to be read in the wrong one; else ``""``."""
    if read_as_icelandic(name):
        return "cp1254"
    reading = misread(name)
    return reading.page if reading and read_as(name, reading.page) == reading.text else ""


def read_as(text: str, page: str) -> str:
    """Return what a text that was read as a western one is in a page; ``""`` if it is the same."""
    data = _bytes(text, "cp1252")
    meant = _decoded(data, page) if data else ""
    return meant if meant != text else ""


def _in_another_page(text: str) -> Reading | None:
    read = [(page, table) for page, table in _READ if _bytes(text, page)]
    if any(not _strange(text, table) for _, table in read):
        return None
    found = [
        (after, Reading(meant, page))
        for was, table in read
        for page, meant_table in _LATIN
        if (meant := _decoded(_bytes(text, was), page)) and meant != text
        and (after := _strange(meant, meant_table, text)) < _strange(text, table, meant)
        and ((not after and page not in _DOS) or after + _SURELY <= _strange(text, table, meant))
    ]  # fmt: skip
    return min(found, key=lambda each: each[0], default=(0, None))[1]


def _bytes(text: str, page: str) -> bytes:
    """Return the bytes of a text; nothing if it has letters that are not in its page."""
    try:
        # What a page leaves open comes out of some programs as the control sign of that number.
        return b"".join(
            bytes([ord(char)]) if "\x80" <= char <= "\x9f" else char.encode(page) for char in text
        )
    except UnicodeEncodeError:
        return b""


def _decoded(data: bytes, page: str) -> str:
    try:
        return unicodedata.normalize("NFC", data.decode(page))
    except UnicodeDecodeError:
        return ""


def _strange(text: str, table: Mapping[str, Around], other: str = "") -> int:
    """Return how strange the letters of a text are: those that another reading has otherwise.

    Signs count wherever they are within a word.
    """
    if len(other or text) != len(text):
        return _SIGN
    return sum(
        _strange_at(match[0], at - match.start(), table)
        for match in _WORD.finditer(text)
        for at in range(*match.span())
        if not text[at].isascii() and not (text[at].isalpha() and other[at : at + 1] == text[at])
    )


def _strange_at(word: str, at: int, table: Mapping[str, Around]) -> int:
    """Return how strange a letter is at its place in a word."""
    char, low = word[at], word.lower()
    if not char.isalpha():
        return _SIGN
    inside = _CAPITAL_INSIDE if at and char.isupper() and not word[at - 1].isupper() else 0
    if low[at] in _EVERYWHERE and len(low) == len(word) > 1:
        return inside
    if len(low) != len(word) or low[at] not in table:
        return inside + _FOREIGN
    after_first, before, after, before_last = table[low[at]]
    if len(word) == 1:
        return int(low != "ó")  # Ó Sé: the only name of one such letter
    if at == 0:
        return inside + (low[1] not in after_first)
    if at == len(word) - 1:
        return inside + (low[at - 1] not in before_last)
    return inside + (low[at - 1] not in before) + (low[at + 1] not in after)


def _in_another_alphabet(text: str) -> Reading | None:
    """Return the likeliest reading in an alphabet without Latin letters.

    No name has words that are all letters with accents, but for those of one or two.
    """
    data = _bytes(text, "cp1252")
    words = _WORD.findall(text)
    if not data or not any(len(word) > 2 for word in words):
        return None
    if any(char.isascii() and char.isalpha() for char in text):
        return None
    found = [(share, Reading(meant, page)) for page, meant, share in _alphabets(data)]
    return max(found, key=lambda each: each[0], default=(0.0, None))[1]


_LEAST_COMMON = 0.5


def _alphabets(data: bytes) -> Iterator[tuple[str, str, float]]:
    """Yield what bytes read in pages of other alphabets, and which share of it is common."""
    for page, common in _OTHERS.items():
        meant = _decoded(data, page)
        found = _WORD.findall(meant)
        letters = "".join(found).lower()
        if found and all(_is_word(word) for word in found):
            share = sum(char in common for char in letters) / len(letters)
            if share >= _LEAST_COMMON:
                yield page, meant, share


def _is_word(word: str) -> bool:
    """Whether a word is letters of one alphabet, none of them a capital but the first, or all."""
    is_of_one = len({unicodedata.name(char, "").split(" ")[0] for char in word}) == 1
    return word.isalpha() and is_of_one and (word[1:] == word[1:].lower() or word.isupper())
