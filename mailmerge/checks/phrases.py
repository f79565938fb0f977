"""What people write around the names of a list, as in a letter: greetings, closings, answers.

Common practice in the languages that lists come in, from memory.
"""

from __future__ import annotations

import re

from mailmerge.guests.exchanged import is_borne, is_usual_last
from mailmerge.guests.names import plain

_GREETINGS = frozenset(
    plain(word)
    for line in (
        "dear hello hey hallo liebe lieber liebes lieben geehrte geehrter chère chers chères "
        "bonjour bonsoir hola querido querida queridos estimado estimada ciao buongiorno "
        "gentilissima gentilissimo egregio spettabile geachte goedendag kære kjære hej "
        "hejsan kedves tisztelt vážený vážená ahoj szanowny szanowna szanowni cześć drogi droga "
        "merhaba sevgili prezado prezada hyvä rakas arvoisa lugupeetud sveiki gerbiamas "
        "gerbiama poštovani poštovana spoštovani stimate stimată здравствуйте привет дорогой "
        "дорогая уважаемый уважаемая шановний шановна αγαπητέ αγαπητή γεια "
        "亲爱的 親愛的 안녕하세요",
    )
    for word in line.split()
)
_WITH_ACCENT = frozenset(("olá",))
"""Without their accent they are names: Ola Brekke."""
_PERHAPS_GREETINGS = frozenset(
    "hi lieve caro cara cher gentile kära käre milý milá hei beste salut moi oi ola".split()  # noqa: SIM905
)
"""Those that people are called, too: greetings only before a first name, written just so."""


def greets(name: str) -> bool:
    """Whether a name begins as a letter does: Dear Anna, Liebe Ute."""
    first, _, rest = name.casefold().partition(" ")
    first, second = first.strip(",!"), plain(re.split(r"[\s,]", rest.strip())[0])
    if first in _PERHAPS_GREETINGS:
        return is_borne(second, True) and not is_usual_last(second)
    return bool(second) and (plain(first) in _GREETINGS or first in _WITH_ACCENT)


def is_surely_greeting(name: str) -> bool:
    """Whether nobody is called by the word with which a name greets, as by Caro."""
    written = name.casefold().split()[0].strip(",!")
    first = plain(written)
    if written in _WITH_ACCENT:
        return True
    return first in _GREETINGS and not is_borne(first, True) and not is_usual_last(first)


_CLOSINGS = frozenset(
    plain(word)
    for line in (
        "regards greetings thanks thankyou cordialement salutations amitiés saludos saludo "
        "cordialmente atentamente saluti groeten groetjes hälsningar hälsning hilsen hilsner "
        "pozdrawiam pozdrowienia poważaniem pozdravem pozdravy üdvözlettel tisztelettel "
        "terveisin terveiset saygılarımla saygılar selamlar cumprimentos atenciosamente "
        "abraços abrazos grüße grüßen grüsse grüssen mfg xoxo kveðja kveðjur salutări "
        "lugupidamisega tervitades linkėjimai spoštovanjem poštovanjem uważaniem уважением "
        "приветом повагою εκτίμηση χαιρετισμούς",
        "gracias grazie obrigado obrigada bedankt dziękuję dziękujemy dzięki děkuji děkujeme "
        "děkuju köszönöm köszönjük kiitos kiitoksia teşekkürler teşekkür mulțumesc mulțumim "
        "hvala ďakujem ďakujeme aitäh ačiū paldies diolch takk спасибо благодарю дякую ευχαριστώ "
        "ευχαριστούμε",
        "proszę prosím lütfen alstublieft alsjeblieft vänligen vennligst venligst kérem kérjük "
        "молим пожалуйста просьба παρακαλώ palun prašau lūdzu svp potwierdzenie",
    )
    for word in line.split()
)
_CLOSING_PHRASES = re.compile(
    r"\b(?:(?:med|mit|met|with) (?:vriendelijke|freundlichem|venlig|vennlig|vanlig\w*|kind) \w+"
    r"|(?:vriendelijke|hartelijke|beste) groet|(?:best|kind|warm) wishes|por favor|per favore"
    r"|per piacere|s['’ ]il (?:vous|te) plait|ole hyva|va rog(?:em)?|lep pozdrav|see you"
    r"|(?:schone|viele|liebe|beste) gru(?:ss|sse))\b"
)


def closes(name: str) -> bool:
    """Whether a text ends a letter, thanks or asks somebody: Cordiali saluti, Proszę."""
    low = " ".join(plain(name).split())
    found = re.findall(r"[^\W\d_]+", low)
    return any(word in _CLOSINGS for word in found) or bool(_CLOSING_PHRASES.search(low))


ANSWERS = frozenset(
    plain(word)
    for line in (
        "yes no yeah yep nope ja nein nee oui non sí si sì sim não nej nei jo tak nie ano ne igen "
        "nem evet hayır kyllä ei jah jā nē taip áno da nu да нет так ні не ναι όχι はい いいえ "
        "是 否 네 아니요 نعم לא כן có không y n j",
    )
    for word in line.split()
)
"""Yes and no: nobody is called so who gives no other name."""

_WHAT = frozenset(
    plain(word)
    for line in (
        "name names nom prénom nombre apellido apellidos nome cognome sobrenome naam voornaam "
        "achternaam namn förnamn efternamn navn fornavn nimi nimesi imię nazwisko jméno příjmení "
        "név neved isim adınız adınızı soyadı имя фамилия όνομα text texto testo tekst teksti "
        "vorname nachname surname firstname lastname forename",
    )
    for word in line.split()
)
_WHERE = frozenset(
    plain(word)
    for line in (
        "your here goes insert type enter write put fill in please the a first last full guest of "
        "on to cup add my own player member this engrave sample ihr ihren dein deinen hier bitte "
        "eintragen einfügen eingeben gast votre ton ici insérer écrire saisir invité su tu aquí "
        "inserte escriba inserir il tuo suo qui inserisci uw je jouw vul seu insira ditt din här "
        "skriv her twoje wpisz tutaj vaše zde zadejte ide írd tähän kirjoita buraya yazın yazınız "
        "ваше введите здесь εδώ γράψτε το σας",
    )
    for word in line.split()
)


def is_to_be_filled(name: str) -> bool:
    """Whether a text is what a form says where a name is to come: Your Name Here."""
    found = [plain(word) for word in re.findall(r"[^\W\d_]+", name)]
    return len(found) > 1 and not {*found} - _WHAT - _WHERE and bool({*found} & _WHAT)
