"""What a text in a cell really is: a date, a number, an error value, a formula, a merge field.

A text file holds everything as text: what a spreadsheet made of a name is told by its shape.
"""

from __future__ import annotations

import re

from mailmerge.guests.tables import Kind

_MONTHS = """
    május
    jan january januar janvier janv januari enero ene gennaio gen janeiro ledna leden ocak stycznia
    styczeń tammikuuta
    feb february februar février févr fév febrero febbraio fevereiro fev februari únor února luty
    lutego şubat helmikuuta
    mar march märz mrz mär mars marzo março maart mrt marts března březen marca marzec mart
    maaliskuuta
    apr april avril avr abril abr aprile aprilis dubna duben kwietnia kwiecień nisan huhtikuuta
    may mai mayo maggio mag maio mei maj května květen maja mayıs toukokuuta
    jun june juni juin junio giugno giu junho června červen czerwca czerwiec haziran kesäkuuta
    jul july juli juillet juil julio luglio lug julho července červenec lipca lipiec temmuz
    heinäkuuta
    aug august août agosto ago augustus augusti srpna srpen sierpnia sierpień ağustos elokuuta
    sep sept september septembre septiembre settembre set setembro září września wrzesień eylül
    syyskuuta
    oct october oktober okt octobre octubre ottobre ott outubro out října říjen października
    październik ekim lokakuuta
    nov november novembre noviembre novembro listopadu listopad listopada kasım marraskuuta
    dec december dezember dez décembre déc diciembre dic dicembre dezembro desember des prosince
    prosinec grudnia grudzień aralık joulukuuta
    января янв січня ιανουαρίου ιαν janvāris sausio január
    февраля фев лютого φεβρουαρίου φεβ februāris vasario február
    марта мар березня μαρτίου μαρ kovo március
    апреля апр квітня απριλίου απρ aprīlis balandžio április
    мая травня μαΐου μαι maijs gegužės május
    июня червня ιουνίου ιουν jūnijs birželio június
    июля липня ιουλίου ιουλ jūlijs liepos július
    августа авг серпня αυγούστου αυγ augusts rugpjūčio augusztus
    сентября сен вересня σεπτεμβρίου σεπ septembris rugsėjo szeptember
    октября окт жовтня οκτωβρίου οκτ oktobris spalio október
    ноября листопада νοεμβρίου νοε novembris lapkričio
    декабря дек грудня δεκεμβρίου δεκ decembris gruodžio"""
_DAYS = """
    mon monday tue tues tuesday wed wednesday thu thur thurs thursday fri friday sat saturday sun
    sunday mo montag di dienstag mi mittwoch do donnerstag fr freitag sa samstag so sonntag lun
    lundi mar mardi mer mercredi jeu jeudi ven vendredi sam samedi dim dimanche lunes martes
    miércoles jueves viernes sábado domingo lunedì martedì mercoledì giovedì venerdì sabato domenica
    maandag dinsdag woensdag donderdag vrijdag zaterdag zondag segunda terça quarta quinta sexta
    sábado måndag tisdag onsdag torsdag fredag lördag söndag mandag tirsdag lørdag søndag"""
"""Months and days as people write them in dates. Common practice, from memory."""

_TRUTHS = """
    TRUE FALSE true false WAHR FALSCH VRAI FAUX VERDADERO FALSO VERDADEIRO VERO WAAR ONWAAR SANT
    FALSKT SANN USANN SAND FALSK TOSI EPÄTOSI PRAWDA FAŁSZ PRAVDA NEPRAVDA IGAZ HAMIS DOĞRU YANLIŞ
    ИСТИНА ЛОЖЬ"""
"""Truth values as spreadsheets write them in the languages of their users. From memory."""


def _any_of(words: str) -> str:
    return f"(?:{'|'.join(map(re.escape, words.split()))})"


_YEAR = r"(?:\d{4}|['’]?\d\d)"
_MONTH = rf"(?:de\s)?{_any_of(_MONTHS)}\.?"
_DAY = r"\d{1,2}(?:st|nd|rd|th|er|\.)?"
_WEEKDAY = rf"(?:{_any_of(_DAYS)}\.?,?\s)?"
_TIME = r"\d{1,2}:\d\d(?::\d\d(?:\.\d+)?)?\s?(?:[ap]\.?m\.?)?"
_DATES = (
    rf"\d{{4}}([-./])\d{{1,2}}\1\d{{1,2}}(?:[T ]{_TIME}Z?)?",
    rf"\d{{1,2}}([./-])\d{{1,2}}\2(?:\d{{4}}|\d\d)?(?: {_TIME})?",
    r"\d{1,2}[/-]\d{1,2}",
    r"(?:1[89]|2[01])\d\d[-./](?:0?[1-9]|1[0-2])|(?:0?[1-9]|1[0-2])[-./](?:1[89]|2[01])\d\d",
    r"\d{4}-?W\d\d(?:-?[1-7])?|(?:KW|CW|WK|Q|H)\s?\d{1,2}[-/ ]+(?:\d{4}|\d\d)",
    r"\d{4}[-/ ]?Q[1-4]",
    _TIME,
    r"\d{1,2}\s?[h.]\s?\d\d\s?(?:h|uhr)|\d{1,2}\s?(?:uhr|o['’]clock|[ap]\.?m\.?)|\d{1,2}h\d\d",
    rf"{_WEEKDAY}{_DAY}(?:\sof)?[-./ ]?\s?{_MONTH}(?:[-./, ]\s?(?:de\s)?{_YEAR})?",
    rf"{_WEEKDAY}{_MONTH}[-./ ]?\s?{_DAY}(?:,?\s{_YEAR})?",
    rf"{_MONTH}[-./ ]\s?{_YEAR}",
    r"(?:\d{4}年)?\d{1,2}月(?:\d{1,2}日)?|(?:\d{4}년\s?)?\d{1,2}월(?:\s?\d{1,2}일)?",
    rf"\d{{4}}\.?\s{_MONTH}\s{_DAY}",
)
_DIGITS = r"(?:\d[\d ',.]*|[.,]\d+)"
_MONEY = r"(?:[$€£¥₹₺₽₩₴₪]|(?:EUR|USD|GBP|CHF|SEK|NOK|DKK|PLN|CZK|HUF|kr\.?|zł|Kč|Ft)(?![^\W\d]))"
_NUMBERS = (
    rf"[-+−]?\s?{_DIGITS}(?:[eE][-+]?\d+)?\s*[%‰]?|\({_DIGITS}\)|0x[0-9a-fA-F]+",
    r"\{?[0-9a-fA-F]{8}-(?:[0-9a-fA-F]{4}-){3}[0-9a-fA-F]{12}\}?",
    rf"[-+]?\s*{_MONEY}\s*[-+]?{_DIGITS}-?",
    rf"[-+]?{_DIGITS}-?\s*{_MONEY}",
)
_ERRORS = (
    r"#[¡¿]?[^\W\d_][^\s#]{0,20}[!?]",  # #REF!, #WERT!, #¡REF!, #NOMBRE?, #DIV/0!
    r"#[^\W\d_]{1,2}/[^\W\d_]{1,2}|#(?:NV|ND|YOK|BRAK)",
    r"#{2,}|Err:\d+",
    r"#[A-Z]+_[A-Z_]+[!?]?|#(?:BUSY|BLOCKED|CALC|CONNECT|ERROR|EXTERNAL|FIELD|NAME|NULL|NUM|PYTHON|"
    r"REF|SPILL|UNKNOWN|VALUE|WERT|VALEUR)",
    r"\[object \w+\]",
)
_NOTHING = r"NULL|NaN|NAN|<(?:NA|NULL|null|None|nil|NaN|empty)>|\((?:null|NULL|nil)\)|\\N"
"""What programs write for nothing, bare or between brackets."""
_FORMULAS = (r"=.+", r"[@+]\$?[A-Z]{1,3}\$?\d+\b.*", r"@[A-Z]+\(.*")
_FIELD = (
    r"(?:\$?\{+[^{}]+\}+|<<[^<>]+>>|«\w+»|%+\w+%+|@@?[^\W\d][\w ]*@@?|\$[a-zA-Z_][\w ]*\$?"
    r"|##?[^\W\d]\w*##?|\[\[[^\[\]]+\]\]|__\w+__|<%[^<>]*%>|\*\|\w+\|\*)"
)
"""A merge field of another program that nobody has filled: {name}, <<Name>>, «Name»."""


def _pattern(*shapes: str, flags: re.RegexFlag = re.NOFLAG) -> re.Pattern[str]:
    return re.compile("|".join(shapes), flags)


_KINDS: tuple[tuple[Kind, re.Pattern[str]], ...] = (
    (Kind.ERROR, _pattern(*_ERRORS)),
    (Kind.TRUTH, _pattern(_any_of(_TRUTHS))),
    (Kind.NOTHING, _pattern(_NOTHING)),
    (Kind.FORMULA, _pattern(*_FORMULAS)),
    (Kind.FIELD, _pattern(rf"{_FIELD}(?:[ ,]*{_FIELD})*")),
    (Kind.DATE, _pattern(*_DATES, flags=re.IGNORECASE)),
    (Kind.NUMBER, _pattern(*_NUMBERS)),
)


_SIGNS = re.compile(r"[^\w\s]|\d|_")
"""One of these is in whatever is not a text, but for single words."""
_WORDS = frozenset((*_TRUTHS.split(), "NULL", "NaN", "NAN"))


def kind_of(text: str) -> Kind:
    """Return what a spreadsheet would take a text for, as it was typed or exported.

    Dates and numbers come out of a text file as text, errors and truth values in capitals. What a
    person can bear is none of them: True, Null, May.
    """
    text = text.strip()
    if not _SIGNS.search(text) and text not in _WORDS:
        return Kind.TEXT  # as nearly all names are: quickly told
    return next((kind for kind, pattern in _KINDS if pattern.fullmatch(text)), Kind.TEXT)
