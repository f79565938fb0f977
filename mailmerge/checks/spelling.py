"""Findings about names and roles as text: doubtful, but perhaps right, so never changed."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from functools import lru_cache

from fontTools import unicodedata as scripts

from mailmerge.checks import words
from mailmerge.checks.naming import (
    NOBODYS,
    TIMES,
    check_name,
    has_somebodys_word,
    is_called_by_a_word,
    is_nothing,
    read_otherwise,
)
from mailmerge.findings import Finding, Severity
from mailmerge.guests import Guest
from mailmerge.guests.codepages import decoded
from mailmerge.guests.columns import is_heading_of
from mailmerge.guests.exchanged import is_family_first, is_usual_first, is_usual_last
from mailmerge.guests.languages import tag_of
from mailmerge.guests.names import initials, is_title, part, plain, titled
from mailmerge.guests.roles import OFFICES

_script = lru_cache(4096)(scripts.script)

_OF_NAMES = frozenset(("name", "first", "last"))
_E_MAIL = re.compile(r"\S+@\S+\.\S+")
_WEB = re.compile(
    r"https?:|www\.|\S\.(?:com|org|net|info|edu|eu|de|at|ch|fr|es|it|nl|be|pt|pl|cz|sk|hu|ro|se|no|"
    r"dk|fi|tr|ru|gr|ie|co|uk|us|au|ca)(?:/|\b(?!\.?\s*\S))",
    re.IGNORECASE,
)
_HOST = re.compile(
    r"(?<![@\w])[a-z0-9][a-z0-9-]{2,}(?:\.[a-z0-9-]+)*\.(?:[a-z]{2,}/\S*|(?:example|online|app|dev|io|tv|"
    r"music|art|band|events|shop|site|xyz|club|live|page|link|world|biz|blog|cloud|email|team)\b(?!\.?\s*\S))"
)
"""An address of the web without its http, typed small."""
_TELEPHONE = re.compile(r"(?:\+|\b00?)[1-9](?:[\s()./-]*\d){5,}|\b\(?\d{3}\)?[-. ]\d{3,4}[-. ]?\d*")
"""A number with its country or its area in front, or in threes and fours."""
_IN_BRACKETS = re.compile(r"^(?P<name>.*\S)\s*[(\[{](?P<role>[^)\]}]+)[)\]}]\s*$")
_AFTER_DASH = re.compile(r"^(?P<name>.*\S)\s+[-–—/|:]\s+(?P<role>\S.*)$")
_COMPATIBLE = re.compile(
    "[\u0250-\u0252\u0261\u0262\u026a\u0274\u0280\u028f\u0299\u029c\u2c6d\uff21-\uff5a\ufb00-\ufb06\u2460-\u24ff\U0001d400-\U0001d7ff]"
)
"""Letters of another width, ligatures, and signs of phonetics: no alphabet has them."""
_WORDS = re.compile(r"[^\W\d_]+")
_NAME_SIGNS = frozenset(" -'’‘`.,·&‐‑ʼʻ־״׳()[]{}/|:–—@+\"“”„")
_SUFFIX = re.compile(r",\s*(jr|sr|[ivx]+|phd|md)\.?$", re.IGNORECASE)
_INITIALS = 3
"""Capitals up to this many letters are taken for initials: JJ, MTB."""


def check_spelling(guest: Guest, engraved: frozenset[str]) -> list[Finding]:
    """Return the suggestions about the guest's engraved texts."""
    troubled = {each.field for each in guest.troubles if each.kind not in _BESIDE_THE_TEXT}
    found: list[Finding] = []
    if "role" in engraved and _is_address(guest.fields["role"]):
        found.append(
            _warning("form-of-address", "role", words.form_of_address(guest.fields["role"]))
        )
    if engraved & _OF_NAMES and not troubled & _OF_NAMES:
        language = _language(guest)
        doubts = list(check_name(without_role(guest.name), language))
        found += doubts
        # What only may be a remark may be a name that was typed small, too.
        sure = NOBODYS - {"reads-as-remark"}
        if not any(f.code in sure or f.severity is Severity.STOP for f in doubts):
            found += _name(guest.name, language)
            found += _lines(guest)
            found += _parts(guest, engraved)
    found += _controls(guest, engraved)
    if "role" in engraved and "role" not in troubled:
        found += _role(guest.fields["role"])
    if (written := guest.fields.get("language", "")) and not _language(guest):
        found.append(_warning("language-unclear", "language", words.language_unclear(written)))
    for field in sorted(engraved & set(guest.fields) - troubled):
        found += _any_text(field, guest.fields[field])
    return _once(found)


_BESIDE_THE_TEXT = ("comment", "merged", "shown")
"""Troubles that leave a text as it is, so that it is judged as any other."""


_NO_ROLES = frozenset(
    (
        "n/a", "n/k", "k/a", "na", "n.a", "n. a", "none", "nil", "null", "tba", "tbc", "tbd",
        "to be confirmed", "to be announced", "unknown", "not known", "no role", "no", "yes",
        "x", "xx", "xxx", "?", "??", "???", "-", "--", "–", "—", "0", "1", "true", "false",
        "same", "same as above", "ditto", "see above", "as above", "idem", "blank", "empty",
        "test", "role", "see notes", "see note", "unbekannt", "offen", "keine", "k.a", "k. a",
        "siehe oben", "wie oben", "folgt", "inconnu", "néant", "aucun", "à définir",
        "à confirmer", "desconocido", "ninguno", "por confirmar", "por definir", "sconosciuto",
        "nessuno", "da definire", "onbekend", "geen", "nog te bepalen", "desconhecido", "nenhum",
        "okänd", "ingen", "ukjent", "ukendt", "brak", "neznámý", "nieznany", "tuntematon", "yok",
        "нет", "no idea", "as last year", "egal", "nichts", "ohne", "rien", "sans", "nada",
        "sin", "niente", "senza", "niets", "inget", "nic", "bez", "ei ole", "κανένα", "nul",
        "undecided", "pending", "boş", "leer", "leeg", "tbs", "n.n", "nn", "n. n", "n.b",
        "weiß nicht", "weiss nicht", "n.v.t", "nvt", "entf", "entfällt", "any", "anything",
        "whatever", "either", "s.o", "s. o", "dto", "dito", "sans objet", "s.o.", "no aplica",
        "n.d", "nd", "nvt.", "ej aktuellt", "nie dotyczy", "není", "не применимо", "-/-", "./.",
        "nan", "n/v", "nv", "#n/a", "none yet", "not given", "not stated", "no answer", "k/a",
        "missing", "fehlt", "fehlend", "manquant", "manquante", "falta", "manca", "mancante",
        "ontbreekt", "saknas", "mangler", "puuttuu", "chybí", "hiányzik", "eksik", "отсутствует",
        "volgt", "folgt", "suit", "follows", "sigue", "segue", "følger", "följer", "various",
        "diverse", "several", "mixed", "other", "others", "misc", "verschiedene", "sonstige",
        "divers", "autre", "varios", "otro", "vari", "altro", "diversen", "overig", "outro",
        "olika", "andre", "andra", "różne", "inne", "různé", "jiné", "muu", "egyéb", "diğer",
        "žádný", "žádná", "žádné", "żaden", "żadna", "žiadny", "žiadna", "keiner", "keines",
        "ningún", "ninguna", "aucune", "nessuna", "nenhuma", "nimic", "niciunul", "nijedan",
        "ništa", "nič", "semmi", "hiçbiri", "ei mikään", "ei mitään", "ingenting", "intet",
        "ikke noe", "niekas", "neviens", "mitte midagi", "ничего", "никакой", "τίποτα",
        "разное", "другое", "διάφορα", "άλλο", "multiple", "all", "alle", "tutti quanti",
        "later", "später", "spater", "plus tard", "más tarde", "más adelante", "più tardi",
        "senere", "senare", "myöhemmin", "później", "później podam", "později", "később", "sonra",
        "позже", "αργότερα", "mais tarde", "depois", "y", "n", "ja", "nein", "oui", "non", "sí",
        "si", "sì", "nee", "nej", "nei", "sim", "não", "tak", "nie", "ano", "ne", "igen", "nem",
        "evet", "hayır", "kyllä", "да", "ναι", "όχι", "да", "open", "vacant", "unassigned",
    )
)  # fmt: skip
"""What stands in a role's place where there is none. Common practice, from memory."""
_REMARK = re.compile(
    r".*[(\[{].*(?:,|\S+\s+\S+\s+\S+|\b(?:new|old|broke|broken|late|maybe|ask|check|sorry|please|"
    r"was|is|not|no)\b).*[)\]}].*",
    re.IGNORECASE,
)
"""A role with something in brackets that is no part of it."""


_SENTENCE = frozenset(
    (
        "paid", "unpaid", "vegan", "vegetarian", "cup", "mug", "idk", "dunno",
        "not", "yet", "don't", "doesn't", "know", "unclear", "unsure", "sure", "please", "ask",
        "check", "maybe", "perhaps", "sorry", "cancelled", "unklar", "nicht", "noch", "weiß",
        "bitte", "vielleicht", "fragen", "pas", "encore", "sais", "peut-être", "vérifier", "aún",
        "todavía", "quizás", "preguntar", "ancora", "forse", "chiedere", "nog", "niet", "geen",
        "misschien", "vragen", "ikke", "vet", "kanskje", "inte", "nie", "wiem", "może", "nevím",
        "ainda", "talvez", "não", "değil", "belli", "не", "знаю", "уточнить", "δεν", "ξέρω",
        "i", "think", "believe", "guess", "was", "were", "now", "used", "coming", "comes",
        "leaves", "arrives", "arriving", "leaving", "only", "friday", "saturday", "sunday",
        "monday", "tuesday", "wednesday", "thursday", "today", "tomorrow", "moved", "will",
        "glaube", "war", "jetzt", "kommt", "nur", "était", "maintenant", "seulement", "era",
        "ahora", "adesso",
        "tbc", "tbd", "tba", "or", "oder", "eller", "lub", "nebo", "или", "ή",
        "call", "phone", "email", "e-mail", "mail", "see", "siehe", "voir",
        "anrufen", "appeler", "llamar", "bellen", "left-handed", "right-handed", "left-hander",
        "lefty", "lefthanded", "linkshänder", "linkshänderin", "gaucher", "gauchère", "zurdo",
        "zurda", "mancino", "mancina", "linkshandig", "vänsterhänt", "tell", "confirm", "until",
        "because", "she", "he", "they", "wants", "would", "text", "whatsapp", "contact",
    )
)  # fmt: skip
"""Words that are in remarks and in no role. Common practice, from memory."""
_NONE = re.compile(
    r"(?:keine?|aucune?|ninguna?|nessuna?|geen|ingen|inga|brak|bez|ei|нет|без|unknown|sans|ohne|sin|"
    r"senza|zonder|uten|utan|uden|no)(?: [^\W\d].*)?|.* yok|to ?do"
    r"|(?:left|right)(?:[- ]hand(?:ed|er)?)?|links|rechts|gauche|droite|zurd[oa]|mancin[oa]|same .*"
)
_ALSO_PLAYED = frozenset(("voice", "voix", "voz", "voce", "stimme", "stemme", "voces", "stämma"))
"""Headings that somebody's role may be called, too."""
_ADDRESS = re.compile(r"\S@\S+\.|https?:|www\.")
_SEE = re.compile(r"(?:see|siehe|voir|ver|vedi|zie|se|patrz|viz|katso|lásd|bkz|см)\.? \S.*")
_ENDING = re.compile(r".*[?!*…;:,|#\\]|.*[?!].*")
_TO_FILL = re.compile(
    r"(?:insert|enter|type|add|choose|select|pick|fill in|give|name) (?:your |the |a )?"
    r"(?:role|part|instrument|section|name|text|here|title).*"
    r"|(?:(?:bitte )?(?:rolle|instrument|stimme) (?:eintragen|eingeben|angeben))"
    r"|(?:(?:indiquer|saisir|indicar|inserire|vul|ange|wpisz|zadejte|kirjoita|írja) .*)"
    r"|.*\b(?:goes )?here|your .*|my .*"
)
"""What a form says of what belongs there."""
_CALLED_SO = frozenset(
    (
        "pan",
        "pán",
        "don",
        "doña",
        "dona",
        "dom",
        "bay",
        "bayan",
        "bey",
        "hanım",
        "sig",
        "mag",
        "hon",
    )
)
"""Forms of address that are names elsewhere, and in no case a role."""


def _language(guest: Guest) -> str:
    """Return the tag of a guest's language; ``""`` where the list has none, or none that is."""
    written = guest.fields.get("language", "")
    try:
        return tag_of(written) if written else ""
    except ValueError:
        return ""


def without_role(name: str) -> str:
    """Return a name without what stands in brackets or after a dash, which is said by itself."""
    match = _IN_BRACKETS.match(name) or _AFTER_DASH.match(name)
    return match["name"] if match and any(map(str.isalnum, match["name"])) else name


def _warning(code: str, field: str, said: words.Said) -> Finding:
    return Finding(code, Severity.WARNING, field, *said)


def _stop(code: str, said: words.Said) -> Finding:
    return Finding(code, Severity.STOP, "name", *said)


def _once(found: list[Finding]) -> list[Finding]:
    """Leave out what the first name repeats of the whole one."""
    whole = {finding.code for finding in found if finding.field == "name"}
    return [f for f in found if f.field not in ("first", "last") or f.code not in whole]


def _name(name: str, language: str) -> Iterator[Finding]:
    letters = [char for char in name if char.isalpha()]
    # Georgian has capitals only for whole lines (Unicode, Mtavruli): no name is typed with them.
    cased = [c for c in letters if c.lower() != c.upper() and _script(c) != "Geor"]
    if len(cased) > _INITIALS and all(char.isupper() for char in cased):
        yield _warning("all-capitals", "name", words.all_capitals(name, titled(name, language)))
    elif len(cased) > 1 and all(char.islower() for char in cased):
        yield _warning("all-lower-case", "name", words.all_lower_case(name, titled(name, language)))
    if _E_MAIL.search(name):
        yield _stop("e-mail", words.e_mail(name))
    elif _WEB.search(name) or _HOST.search(name):
        yield _stop("web-address", words.web_address(name))
    elif _TELEPHONE.search(name):
        yield _stop("telephone", words.telephone(name))
    elif any(char.isdigit() for char in name):
        severity = Severity.WARNING if has_somebodys_word(name) else Severity.STOP
        yield Finding("digits", severity, "name", *words.digits(name))
    if match := _IN_BRACKETS.match(name) or _AFTER_DASH.match(name):
        yield _warning("role-in-name", "name", words.role_in_name(match["role"], match["name"]))
    if re.search(r"\S,\s*\S", name) and not _SUFFIX.search(name):
        last, _, first = name.partition(",")
        turned = f"{first.strip()} {last.strip()}"
        yield _warning("comma-in-name", "name", words.comma_in_name(name, turned))


def _lines(guest: Guest) -> Iterator[Finding]:
    """Yield that a cell has two names, one on each line: two whole ones, or two first names."""
    for change in guest.changes:
        rows = [row.split() for row in change.before.splitlines() if row.strip()]
        are_whole = all(len(row) > 1 for row in rows)
        are_firsts = all(len(row) == 1 and is_usual_first(plain(row[0])) for row in rows) and not (
            rows and is_usual_last(plain(rows[-1][0]))
        )
        if change.field == "name" and len(rows) > 1 and (are_whole or are_firsts):
            yield _warning("several-people", "name", words.several_people(guest.name))


_CONTROLS = re.compile("[\x80-\x84\x86-\x9f]")
"""They show nothing, and are letters in the pages of DOS and of other systems."""


def _controls(guest: Guest, engraved: frozenset[str]) -> Iterator[Finding]:
    """Yield that signs were cleaned away that are letters in another code page."""
    fields = engraved | (_OF_NAMES if engraved & _OF_NAMES else frozenset())
    for change in guest.changes:
        before = change.before
        if change.field in fields and change.kind == "invisible" and _CONTROLS.search(before):
            meant = read_otherwise(before)
            said = words.wrong_code_page(before, meant) if meant else words.controls_alone(before)
            yield _warning("wrong-code-page", change.field, said)


def _parts(guest: Guest, engraved: frozenset[str]) -> Iterator[Finding]:
    """Yield what is not sure about the first name or the initials, where they are engraved."""
    parted = part(guest.name)
    first = guest.fields["first"]
    doubt = parted.doubt or ("title" if any(map(is_title, first.split()[:1])) else "")
    if not doubt and first == parted.first and is_called_by_a_word(guest.name):
        doubt = "perhaps-title"
    if not doubt and first == parted.first and is_family_first(first, parted.last):
        doubt = "family-first"
    if "first" in engraved and doubt:
        yield _warning("first-unsure", "first", words.first_unsure(guest.name, first, doubt))
    if "initials" in engraved and doubt not in ("", "initial", "family-first", "double"):
        letters = initials(guest.name, _language(guest))
        yield _warning("initials-unsure", "name", words.initials_unsure(guest.name, letters))


def _is_address(role: str) -> bool:
    """Whether a role is only how somebody is addressed: Mrs., Frau; a captain is one by office."""
    if plain(role) in OFFICES:
        return False
    return is_title(role) or role.casefold().strip(" .") in _CALLED_SO


_FIRST_OF_PARTS = re.compile(r"(?<=\w)\s+I(?=\s*(?:[,;/(]|$))")
"""The number of a part: Violin I; Horn I, leader. No word of a sentence."""


def _role(role: str) -> Iterator[Finding]:
    low = role.casefold().strip(" .")
    bare = low.strip(" .-–—_/\\|()[]{}<>*#~\"'“”„«»!?")
    uncounted = _FIRST_OF_PARTS.sub("", role).casefold().replace("’", "'")
    said = set(re.findall(r"[^\W\d_]+(?:['-][^\W\d_]+)*", uncounted))
    if (read := decoded(role)) != role:
        said_of = words.written_in_code(role, read)
        yield Finding("wrong-code-page", Severity.STOP, "role", *said_of)
    elif meant := read_otherwise(role):
        yield _warning("wrong-code-page", "role", words.wrong_code_page(role, meant))
    elif (
        {low, low.replace(".", ""), bare} & _NO_ROLES
        or is_nothing(role)
        or (is_heading_of(role, "role") and low not in _ALSO_PLAYED)
        or _TO_FILL.fullmatch(low)
        or _SEE.fullmatch(low)
        or _NONE.fullmatch(low)
    ):
        yield _warning("not-a-role", "role", words.not_a_role(role))
    elif (
        _REMARK.fullmatch(role)
        or said & _SENTENCE
        or _ENDING.fullmatch(role)
        or TIMES.search(low)
        or _ADDRESS.search(low)
    ):
        yield _warning("remark-in-role", "role", words.remark_in_role(role))


def _any_text(field: str, text: str) -> Iterator[Finding]:
    if emoji := [char for char in text if _is_emoji(char)]:
        codes = ", ".join(f"{char} (U+{ord(char):04X})" for char in dict.fromkeys(emoji))
        yield _warning("emoji", field, words.emoji(field, codes))
    alphabets = {_script(char): char for char in text if char.isalpha()}
    mixed = len(alphabets.keys() & {"Latn", "Cyrl", "Grek"}) > 1
    if mixed and not any(_scripts_of(word) > 1 for word in _WORDS.findall(text)):
        listed = " and ".join(sorted(map(scripts.script_name, alphabets)))
        odd = _odd_letters(text, list(alphabets))
        yield _warning("mixed-alphabets", field, words.mixed_alphabets(text, listed, odd))
    for word in _WORDS.findall(text):
        used = dict.fromkeys(
            name for char in word if (name := _script(char)) not in ("Zyyy", "Zinh")
        )
        if len(used) > 1 and not set(used) <= {"Hani", "Hira", "Kana"}:
            listed = " and ".join(scripts.script_name(name) for name in used)
            odd = _odd_letters(word, list(used))
            yield _warning("mixed-alphabets", field, words.mixed_alphabets(word, listed, odd))
    signs = [
        char
        for char in dict.fromkeys(text)
        if unicodedata.category(char)[0] in "PSN"
        and char not in _NAME_SIGNS
        and not char.isdigit()
        and not _is_emoji(char)
    ]
    signs += [char for char in dict.fromkeys(text) if _COMPATIBLE.match(char)]
    if signs and field != "role":
        yield _warning("odd-sign", field, words.odd_sign(field, " ".join(signs)))


def _scripts_of(word: str) -> int:
    return len({_script(char) for char in word} - {"Zyyy", "Zinh"})


def _odd_letters(word: str, used: list[str]) -> str:
    """Return the letters of the rarer alphabet, with code points, to find them by."""
    by_script = {name: [c for c in word if _script(c) == name] for name in used}
    rarer = min(by_script, key=lambda name: len(by_script[name]))
    return ", ".join(f"{char} is U+{ord(char):04X}" for char in dict.fromkeys(by_script[rarer]))


def _is_emoji(char: str) -> bool:
    code = ord(char)
    return 0x1F000 <= code <= 0x1FAFF or (0x2600 <= code <= 0x27BF) or 0xFE00 <= code <= 0xFE0F
