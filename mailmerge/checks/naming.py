"""Findings about a name as a name: what no person is called, and what a slip made of one."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import pairwise

from mailmerge.checks import words
from mailmerge.findings import Finding, Severity
from mailmerge.guests.company import plain
from mailmerge.guests.names import TITLES, is_particle, titled

_NOBODY = frozenset(
    plain(word)
    for line in (
        "tba|tbc|tbd|tbn|to be announced|to be confirmed|to be decided|to follow|n/a|n.a.|none|"
        "nobody|no one|nil|unknown|not known|anonymous|total|totals|subtotal|sub-total|"
        "grand total|see above|see below|as above|same as above|same|ditto|idem|dto|blank|empty|"
        "x|xx|xxx|-|--|?|??|???|...|placeholder|asdf|test|tester|test test|name|your name|"
        "name here|first name|last name|surname|thank you|thanks|thank you so much|many thanks|"
        "end|end of list",
        "unbekannt|noch offen|offen|folgt|wird nachgereicht|siehe oben|wie oben|keine|keiner|"
        "niemand|k.a.|k. a.|gesamt|summe|insgesamt|zwischensumme|danke|vielen dank|n.n.|nn",
        "inconnu|inconnue|à confirmer|à définir|à déterminer|à venir|voir ci-dessus|néant|aucun|"
        "personne|merci|total général",
        "desconocido|desconocida|por confirmar|por definir|ver arriba|ninguno|nadie|gracias|vacío",
        "sconosciuto|sconosciuta|da confermare|da definire|vedi sopra|nessuno|totale|grazie|vuoto",
        "onbekend|nog te bepalen|volgt|zie boven|geen|niemand|totaal|bedankt|leeg",
        "desconhecido|desconhecida|a confirmar|a definir|ver acima|nenhum|ninguém|obrigado|vazio",
        "okänd|okänt|se ovan|ingen|totalt|tack|ukjent|se over|takk|ukendt|se ovenfor|i alt|tak",
        "nieznany|nieznana|brak|nikt|razem|suma|dziękuję|neznámý|neznámá|nikdo|celkem|děkuji",
        "tuntematon|ei kukaan|yhteensä|kiitos|ismeretlen|senki|összesen|köszönöm",
        "bilinmiyor|toplam|teşekkürler|неизвестно|итого|всего|спасибо|нет|άγνωστος|σύνολο",
    )
    for word in line.split("|")
)
"""What stands in a name's place where there is nobody. Common practice, from memory."""

_SOMEBODY = frozenset(
    plain(word)
    for line in (
        "guest|guests|plus one|plus 1|partner|companion|child|children|kid|kids|baby|toddler|"
        "infant|teen|adult|family|the family|wife|husband|spouse|mum|mom|dad|mother|father|son|"
        "daughter|sister|brother|friend|friends|colleague|host|spare|spares|extra|extras|reserve|"
        "reserved|backup|replacement|photographer|videographer|dj|band|caterer|driver|staff|crew|"
        "helper|volunteer|vendor|speaker|assistant|usher|waiter|sample|demo|everyone|everybody|all|"
        "team|vip|winner|new player|substitute|sub|strings|brass|woodwind|winds|percussion",
        "gast|gäste|begleitung|begleitperson|kind|kinder|familie|partnerin|ersatz|reserviert|"
        "fotograf|fotografin|musiker|helfer|mutter|vater|freund|freundin|muster|alle|aushilfe",
        "invité|invitée|invités|accompagnant|accompagnante|conjoint|enfant|enfants|famille|réservé|"
        "réserve|photographe|musicien|remplaçant|bébé|tous",
        "invitado|invitada|acompañante|niño|niña|niños|familia|reservado|reserva|fotógrafo|músico|"
        "bebé|todos|pareja",
        "ospite|ospiti|accompagnatore|accompagnatrice|bambino|bambina|famiglia|riservato|riserva|"
        "fotografo|musicista|tutti",
        "kinderen|gereserveerd|fotograaf|begeleider|introducé|allen|reserve",
        "convidado|convidada|acompanhante|criança|família|reservado|fotógrafo|todos",
        "gäst|gjest|gæst|följe|følge|ledsager|barn|familj|reserverad|reservert|reserveret|alla|alle",
        "gość|osoba towarzysząca|dziecko|rodzina|rezerwacja|host|doprovod|dítě|rodina|rezervace",
        "vieras|avec|lapsi|perhe|varattu|valokuvaaja|vendég|kísérő|gyerek|család|fényképész",
        "misafir|çocuk|aile|fotoğrafçı|rezerve|гость|ребёнок|семья|фотограф|καλεσμένος|παιδί",
    )
    for word in line.split("|")
)
"""What stands for somebody whose name is to follow; a cup may say it all the same."""

_OF_SOMEBODY = re.compile(
    r"(?:guest|friend|partner|wife|husband|child|son|daughter|mother|father|mum|mom|dad|plus one|"
    r"gast|begleitung|kind|frau|mann|mutter|vater|freund|freundin|invite|invitee|accompagnant|"
    r"enfant|femme|mari|invitado|invitada|acompanante|hijo|hija|ospite|figlio|figlia|convidado|"
    r"convidada|acompanhante|filho|filha|gast|gjest|gaest|barn)s? (?:of|from|von|vom|der|de|du|des|"
    r"di|del|della|do|da|van|av|af|til|to) \S.*"
)
_NUMBERED = re.compile(
    r"(?:guest|person|player|name|member|child|kid|table|seat|cup|gast|spieler|kind|tisch|platz|"
    r"invite|enfant|invitado|ospite|convidado|gjest|seat|nr|no|number|nummer|item)\.? ?#?\d+"
)
_PLUS = re.compile(r"(?:.*\S\s*)?\+\s*\d+")
_WITH_FAMILY = re.compile(
    r"(?:the |fam\.? |family |familie |famille |familia |famiglia |perhe |rodzina ).*\S"
    r"|.*\S (?:and|&|und|et|y|e|og|och|en) (?:family|familie|famille|familia|famiglia|guest|"
    r"partner|kids|children|kinder|gast|begleitung)|.*\S (?:family|household|familie)"
)
_RULE = re.compile(r"[-–—=*#_~•.]{2,}.*|.*[-–—=*#_~]{2,}|.*[^\W\d_]\s*:|[*#•]\s.+")
"""A line of signs, something between two of them, or what ends in a colon."""

_TOGETHER = re.compile(
    r"\S\s*[&+/;]\s*\S|\S\s+(?i:and|und|et|og|och|ve|plus|sowie|ja|és|oraz|и|και)\s+\S"
)
_TWO_WORDS_TOGETHER = re.compile(r"[^\W\d_]+ [yei] [^\W\d_]+")
_NUMERAL = re.compile(r"[IVX]{1,5}")
_SMALL_NUMERALS = ("ii", "iii", "iv")
_ELIDED = re.compile(r"[a-z]{1,4}['’][A-ZÀ-Þ]?[^A-ZÀ-Þ]*")
"""A small particle that has lost its vowel: d'Aubigny, dell'Acqua."""
_LED = re.compile(
    r"(?:Mc|Mac|O['’]|D['’]|L['’]|De|Di|Du|Da|Del|Della|La|Le|Lo|Van|Von|Vander|Ver|Fitz|Saint|St|"
    r"San|Santa|Al|El|Ben|Abd|Abu|Ní|Nic|Mhic|Ap|Te|Ten|Ter|Dall['’]|Dell['’]|Sant['’])"
    r"[^\W\d_]+(?:[A-Z].*)?"
)
"""Words with a capital inside that names have: McDonald, O'Dea, DeVito, LaRue, VanDyke."""

_WORD = re.compile(r"[^\W\d_](?:[^\W\d_]|['’‘`ʼ\u0300-\u036f])*")
_JOINED = re.compile(r"[^\W\d_]*[a-zß-öø-ÿ]{2,}[A-ZÀ-ÖØ-Þ][^\W\d_]{2,}")
_INSIDE = re.compile(r"[^\W\d_][@$€£!|0-9][^\W\d_]")
_QUOTED = re.compile(r"^[\"“”„«»‘’'`].*[\"“”«»’'`]$")
_NICKNAME = re.compile(r"\S\s+[\"“”„«»‘(][^\"”»’)]+[\"“”«»’)]\s+\S")
_LOOSE = re.compile(r"^[-–—,;.:!@&+*#/\\|>]|[-–—,;:!&+*#/\\|<]$|\s[,;:]|[,;]\s*[,;]")
_EL_FOR_I = re.compile(r"Mc?l(?=[bcdfghjkmnpqrstvwxz])|\bl(?=[bcdfghjkmnpqrstvwxz])|\blan\b|\blo\b")
"""A small l where a capital I belongs: Mclntosh, lngrid, lan."""

_MISREAD = {"þ": "ş", "Þ": "Ş", "ý": "ı", "Ý": "İ", "ð": "ğ", "Ð": "Ğ"}
_TURKISH = re.compile(
    r"(?<=[^\W\d_])þ(?![oóuúr])|\bÞ[aei]|ý[^\W\d_]*ý|ð(?=[ýü])|[oO]ðl[uü]\b"
    r"|[üçÜÇ].*[ýÝþÞðÐ]|[ýÝþÞðÐ].*[üçÜÇ]"
)
"""Turkish read as western: thorns and accents where Icelandic has none. Common practice, from
memory."""


NOBODYS = frozenset(("not-a-name", "heading", "stands-for-somebody"))
"""Findings after which nothing else about a name is worth saying."""


def check_name(name: str, language: str) -> Iterator[Finding]:
    """Yield what is doubtful about a name, the strongest doubt alone where one explains others."""
    low = " ".join(plain(name).split())
    if "@" in name and "." in name.partition("@")[2]:
        return  # an e-mail address, which is said as such
    bare = low.strip(" .:!,;")
    if low in _NOBODY or bare in _NOBODY:
        yield Finding("not-a-name", Severity.STOP, "name", *words.not_a_name(name))
        return
    if _RULE.fullmatch(name.strip()):
        yield Finding("heading", Severity.STOP, "name", *words.heading(name))
        return
    if bare in _SOMEBODY or _OF_SOMEBODY.fullmatch(bare) or _NUMBERED.fullmatch(bare):
        yield _warning("stands-for-somebody", words.stands_for_somebody(name))
        return
    if _PLUS.fullmatch(bare) or _WITH_FAMILY.fullmatch(low) or _is_two(name):
        yield _warning("several-people", words.several_people(name))
        return
    yield from _capitals(name, language)
    yield from _signs(name)
    yield from _slips(name)


def _warning(code: str, said: words.Said) -> Finding:
    return Finding(code, Severity.WARNING, "name", *said)


def _is_two(name: str) -> bool:
    # What follows in small letters is a role or a remark.
    second = next((match[0][-1] for match in _TOGETHER.finditer(name)), "a")
    return not second.islower() or bool(_TWO_WORDS_TOGETHER.fullmatch(name))


def _capitals(name: str, language: str) -> Iterator[Finding]:
    """Yield words with capitals where no one sets them, beside words that are as usual."""
    found = _WORD.findall(name)
    if not any(_is_usual(word) for word in found) and not any(map(_is_jumbled, found)):
        return  # all in capitals or all small: said as a whole
    for at, word in enumerate(found):
        small = word.lower() == word and word.upper() != word
        if small:
            tied = at > 0 and name[name.index(word) - 1] in "-'’"
            odd = len(word) > 1 and not (tied or is_particle(word) or word in _SMALL_NUMERALS)
        else:
            shouted = word.isupper() and len(word) > 3 and not _NUMERAL.fullmatch(word)
            odd = shouted or _is_jumbled(word)
        if odd:
            whole = titled(word.lower(), language)
            yield _warning("odd-capitals", words.odd_capitals(word, whole))


def _is_usual(word: str) -> bool:
    return word[:1].isupper() and word[1:].islower() and len(word) > 1


def _is_jumbled(word: str) -> bool:
    """Whether capitals stand inside a word as nobody writes them: mAREN, MAren, MaREN."""
    if not any(c.isupper() for c in word[1:]) or word.isupper():
        return False
    if _LED.fullmatch(word) or _ELIDED.fullmatch(word):
        return False
    return not _JOINED.fullmatch(word) and not re.fullmatch(r"IJ[a-z]+", word)


def _signs(name: str) -> Iterator[Finding]:
    if _QUOTED.fullmatch(name) or _LOOSE.search(name.strip()) or _INSIDE.search(name):
        yield _warning("stray-sign", words.stray_sign(name))
    elif _NICKNAME.search(name):
        yield _warning("nickname", words.nickname(name))


def _slips(name: str) -> Iterator[Finding]:
    parts = name.split()
    for word in _WORD.findall(name):
        if _JOINED.fullmatch(word) and not _LED.fullmatch(word):
            yield _warning("words-joined", words.words_joined(word))
    plains = [plain(part).strip(".,") for part in parts]
    if any(one == other != "" for one, other in pairwise(plains)):
        yield _warning("word-doubled", words.word_doubled(name))
    if _EL_FOR_I.search(name):
        yield _warning("l-for-i", words.l_for_i(name, _EL_FOR_I.sub(_with_i, name)))
    if _TURKISH.search(name):
        meant = "".join(_MISREAD.get(char, char) for char in name)
        yield _warning("wrong-code-page", words.wrong_code_page(name, meant))
    if parts and all(plain(part).strip(".,") in TITLES for part in parts):
        yield _warning("title-only", words.title_only(name))


def _with_i(match: re.Match[str]) -> str:
    return match[0].replace("l", "I", 1)
