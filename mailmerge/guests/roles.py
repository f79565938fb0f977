"""Roles that are known as such: what people play and do, in the languages that lists come in.

They settle which of two spellings is the slip, and that a word is no name. A role that is not here
is as good as any other. Common practice, from memory.
"""

from __future__ import annotations

import re
from collections.abc import Container, Mapping

from mailmerge.guests.names import plain

_PLAYED = (
    "violin viola viol cello celli basso violoncello bass contrabass double_bass flute piccolo "
    "oboe clarinet bassoon contrabassoon cor_anglais english_horn horn french_horn trumpet cornet "
    "trombone tuba euphonium "
    "timpani percussion drums harp piano organ celesta harpsichord guitar saxophone "
    "recorder fiddle banjo mandolin accordion soprano alto tenor baritone mezzo mezzo-soprano",
    "violine geige viola bratsche cello kontrabass flöte querflöte oboe klarinette fagott "
    "kontrafagott englischhorn horn waldhorn trompete posaune tuba pauke pauken schlagzeug "
    "schlagwerk harfe klavier orgel cembalo gitarre saxophon blockflöte sopran alt tenor bariton",
    "violon alto violoncelle contrebasse flûte hautbois clarinette basson contrebasson cor "
    "cor_anglais trompette trombone tuba timbales percussions harpe piano orgue clavecin guitare",
    "violín viola violonchelo contrabajo flauta oboe clarinete fagot trompa trompeta trombón tuba "
    "timbales percusión arpa piano órgano guitarra",
    "violino viola violoncello contrabbasso flauto oboe clarinetto fagotto corno tromba trombone "
    "tuba timpani percussioni arpa pianoforte organo chitarra",
    "violino viola violoncelo contrabaixo flauta oboé oboe clarineta clarinete fagote fagot trompa "
    "trompete trombone tuba tímpanos percussão harpa piano órgão",
    "viool altviool cello contrabas fluit hobo klarinet fagot hoorn trompet trombone tuba pauken "
    "slagwerk harp piano orgel gitaar",
    "violin fiol viola altfiol cello kontrabas kontrabass flöjt oboe klarinett fagott horn "
    "valthorn trumpet trombon basun tuba pukor slagverk harpa piano",
    "fiolin bratsj cello kontrabass fløyte obo klarinett fagott horn trompet trombone tuba pauker "
    "slagverk harpe piano",
    "violin bratsch cello kontrabas fløjte obo klarinet fagot horn trompet basun trombone tuba "
    "pauker slagtøj harpe klaver",
    "skrzypce altówka wiolonczela kontrabas flet obój klarnet fagot róg waltornia trąbka puzon "
    "tuba kotły perkusja harfa fortepian",
    "housle viola violoncello kontrabas flétna hoboj klarinet fagot lesní_roh trubka trombon "
    "pozoun tuba tympány harfa klavír",
    "husle viola violončelo kontrabas flauta hoboj klarinet fagot lesný_roh trúbka trombón tuba "
    "tympany harfa klavír",
    "violina viola violončelo kontrabas flauta oboa klarinet fagot rog truba trombon tuba "
    "timpani udaraljke harfa klavir",
    "vioară violă violoncel contrabas flaut oboi clarinet fagot corn trompetă trombon tubă timpane "
    "percuție harpă pian",
    "viulu alttoviulu sello kontrabasso huilu oboe klarinetti fagotti käyrätorvi trumpetti pasuuna "
    "tuuba patarummut harppu piano",
    "hegedű brácsa mélyhegedű cselló gordonka nagybőgő fuvola oboa klarinét fagott kürt trombita "
    "harsona tuba üstdob hárfa zongora",
    "keman viyola viyolonsel çello kontrbas flüt obua klarnet fagot korno trompet trombon tuba "
    "timpani arp piyano",
    "скрипка альт виолончель контрабас флейта гобой кларнет фагот валторна труба тромбон туба "
    "литавры ударные арфа орган",
    "скрипка альт віолончель контрабас флейта гобой кларнет фагот валторна труба тромбон туба "
    "литаври ударні арфа",
    "цигулка виола виолончело чело контрабас флейта обой кларинет фагот валдхорна тромпет тромбон "
    "туба тимпани арфа",
    "βιολί βιόλα τσέλο βιολοντσέλο κοντραμπάσο φλάουτο όμποε κλαρινέτο φαγκότο κόρνο τρομπέτα "
    "τρομπόνι τούμπα άρπα",
)  # fmt: skip
"""Each language by itself; common practice, from memory."""
_LANGUAGES = tuple(
    frozenset(plain(word.replace("_", " ")) for word in line.split()) for line in _PLAYED
)
PLAYED = frozenset().union(*_LANGUAGES)
"""Instruments and voices."""

SECTIONS = frozenset(
    plain(word.replace("_", " "))
    for line in (
        "strings brass woodwind woodwinds winds percussion rhythm reeds low_brass high_strings "
        "low_strings upper_strings choir chorus crew committee board",
        "streicher bläser holzbläser blechbläser holz blech schlagwerk chor vorstand "
        "cordes vents bois cuivres chœur cuerdas vientos maderas metales coro archi fiati legni "
        "ottoni strijkers blazers houtblazers koperblazers koper hout koor cordas sopros madeiras "
        "metais stråkar blåsare bleckblås träblås strykere blåsere messing treblås kor kör",
        "smyczki drewno blacha chór smyčce dechy žestě sbor jouset puhaltimet vasket kuoro "
        "vonósok fúvósok kórus yaylılar üflemeliler koro струнные духовые медные хор έγχορδα "
        "πνευστά χάλκινα χορωδία stygininkai pučiamieji stīgas pūtēji keelpillid puhkpillid coarde "
        "suflători alămuri sláčiky dychy godala pihala gudači puhači струнні духові وتريات نفخيات "
        "弦乐 管乐 铜管 木管 弦楽 金管 打楽器 현악 관악 금관 목관 เครื่องสาย เครื่องเป่า",
    )
    for word in line.split()
)
"""What groups of players are called, as a heading above them has it. From memory."""


def in_another_language(count: Mapping[str, int]) -> frozenset[str]:
    """Return those of a list's roles that are instruments of another language than nearly all.

    Viool, Fagot and Klarinet among English ones. What a language has too is none of another one,
    nor is a word that only tells players apart.

    Parameters
    ----------
    count
        The roles in plain words, and how many guests have each.
    """
    home = _spoken(count)
    own = sum(count[role] for role in home & count.keys())
    words_of_home = {word for role in home for word in role.split()} | _SHARED
    odd = frozenset(role for role in count if _is_foreign(role, words_of_home))
    is_settled = len(home & count.keys()) >= _FEWEST_OF_ONE
    return (
        odd
        if is_settled and sum(count[role] for role in odd) <= _FEW_OF_OTHERS * own
        else frozenset()
    )


def _spoken(count: Mapping[str, int]) -> frozenset[str]:
    """Return the instruments of every language in which hardly fewer roles are than in the best."""
    shares = [sum(count[role] for role in known & count.keys()) for known in _LANGUAGES]
    least = _HARDLY_FEWER * max(shares)
    near = (known for known, many in zip(_LANGUAGES, shares, strict=True) if many >= least)
    return frozenset().union(*near)


def _is_foreign(role: str, known: Container[str]) -> bool:
    """Whether one word of a role is played elsewhere, and no word is known at home."""
    words = role.split()
    return any(word in PLAYED and word not in RANKS for word in words) and not any(
        word in known for word in words
    )


_SHARED = frozenset(
    word
    for line in (
        "viola cello violoncello oboe tuba piano horn piccolo celesta bass basso tenor soprano "
        "sopran",
        "alto alt bariton baritone baryton mezzo trombone timpani percussion euphonium cornet",
        "saxophone saxophon contrabass cor corno",
    )
    for word in line.split()
)
"""What many languages say alike."""
_HARDLY_FEWER = 0.9
_FEWEST_OF_ONE = 4
_FEW_OF_OTHERS = 0.2
"""A list has a language if it names so many instruments in it, and has few of another one."""


_WRITTEN = frozenset(word.replace("_", " ") for line in _PLAYED for word in line.split())


def is_written(role: str) -> bool:
    """Whether an instrument is written with its accents: Flüt is a flute, Flut is none."""
    return role.casefold() in _WRITTEN


def of_the_language(count: Mapping[str, int]) -> frozenset[str]:
    """Return the instruments as the language has them in which most roles of a list are.

    Trompet is a trumpet in Dutch, and a slip among English ones.
    """
    return max(_LANGUAGES, key=lambda known: sum(count[role] for role in known & count.keys()))


_DONE = (
    "conductor soloist accompanist leader concertmaster violinist violist cellist bassist flautist "
    "flutist oboist clarinettist clarinetist bassoonist hornist trumpeter trombonist percussionist "
    "timpanist harpist pianist organist singer composer arranger librarian treasurer secretary "
    "chairman chairwoman president patron sponsor manager producer marshal steward usher "
    "dirigent dirigentin solist solistin konzertmeister konzertmeisterin geiger geigerin bratscher "
    "bratschistin cellistin flötist flötistin korrepetitor korrepetitorin chef_d’orchestre "
    "soliste violoniste altiste violoncelliste flûtiste corniste trompettiste director directora "
    "solista violinista violonchelista flautista direttore maestro_sostituto regente maestrina "
    "dirigentka dyrygent dyrygentka sólista karnagy şef solist дирижёр солист солистка"
)  # fmt: skip
DONE = frozenset(plain(word.replace("_", " ")) for word in _DONE.split())
"""What people do there."""

OFFICES = frozenset(
    plain(word)
    for line in (
        "captain colonel sergeant lieutenant professor doctor rabbi reverend maestro maestra",
        "sister doktor docteur dottore dottoressa professora professore kapitän capitaine",
    )
    for word in line.split()
)
"""What somebody is in a club, a school or a parish, and what they are called by before a name."""

KNOWN = PLAYED | DONE
_WORDS = frozenset(word for role in KNOWN for word in role.split())

_ENDINGS = (("s", ""), ("n", ""), ("en", ""), ("i", "o"), ("i", "a"), ("i", "e"))


def is_role(text: str) -> bool:
    """Whether a text is nothing but a role: what is played or done, with its number or rank."""
    if plain(text) in KNOWN:
        return True
    words = [plain(word) for word in re.split(r"[\s,/&+()]+", text) if word]
    return any(is_played(word) or word in _WORDS for word in words) and all(
        is_played(word) or word in _WORDS or word in RANKS or re.fullmatch(r"\d{1,2}\.?", word)
        for word in words
    )


def is_played(word: str) -> bool:
    """Whether a plain word is an instrument or a voice, or several of them: violins, Geigen."""
    return word in PLAYED or any(
        len(word) > 4 and word.endswith(ending) and word[: -len(ending)] + one in PLAYED
        for ending, one in _ENDINGS
    )


RANKS = frozenset(
    plain(word)
    for line in (
        "i ii iii iv v vi first second third fourth fifth 1st 2nd 3rd 4th principal co- "
        "principal solo leader co-leader sub-principal associate assistant deputy lead section "
        "tutti desk player part chair stand high low bass contrabass piccolo alto tenor soprano "
        "baritone flugelhorn doubling in bb eb major minor natural baroque modern chief guest "
        "stage players section-leader number technician da di de la du del of the",
        "erste erster erstes zweite zweiter zweites dritte dritter vierte stimmführer "
        "stimmführerin vorspieler vorspielerin konzertmeister konzertmeisterin stellvertretend "
        "stellvertretender stellvertretende pult wechsel und mit es fis as des satz flügelhorn "
        "hoch tief",
        "premier première deuxième second seconde troisième quatrième chef co-soliste pupitre "
        "et en ut si mi fa sol primero primera segundo segunda tercero tercera cuarto principal "
        "ayudante concertino atril y en primo prima secondo seconda terzo terza spalla "
        "concertino fila e",
        "eerste tweede derde vierde plaatsvervangend aanvoerder lessenaar en primeiro primeira "
        "segunda terceiro terceira chefe naipe första andra tredje fjärde stämledare och første "
        "anden andet tredje stemmeleder og pierwszy pierwsze drugi drugie trzeci prowadzący "
        "ensimmäinen toinen kolmas äänenjohtaja první druhý třetí vedoucí első második harmadik "
        "szólamvezető birinci ikinci üçüncü grup şefi первый первая вторая второй третий солист "
        "концертмейстер группы πρώτο δεύτερο τρίτο κορυφαίος",
        "marimba xylophone glockenspiel vibraphone cymbals snare drum tam-tam gong triangle "
        "bells keyboard keyboards synthesizer synth ukulele lute theorbo viol gamba tuba wagner "
        "clarinet horn trumpet amore caccia damore anglais contra d'amore",
    )
    for word in line.split()
)
"""What tells players of one instrument apart, or doubles it. Common practice, from memory."""
