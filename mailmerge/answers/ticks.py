"""What people write into a cell that asks whether something is right."""

from __future__ import annotations

import re

_YES_WORDS = """
    yes y ok okay right correct true x 1 ✓ ✔ ☑ 👍 good fine
    ja j richtig stimmt korrekt
    oui d'accord juste exact correcte vrai
    sí si correcto correcta bien vale
    tak dobrze zgadza poprawne poprawnie
    ydy ydi ie iawn cywir
    نعم صح صحيح صحيحة موافق تمام
    sim da"""

_POLITE_WORDS = """
    please thanks thank you all very bitte danke alles so sehr merci s'il vous plaît tout très
    por favor gracias todo muy proszę dziękuję dziękujemy wszystko diolch plîs popeth
    شكرا شكراً من فضلك كله"""
"""What may stand beside a yes and takes nothing away from it."""

_NOTHING_WORDS = """
    none|nothing|nothing at all|n/a|n.a|na|nil|no change|no changes|no change needed
    no changes needed|0|no|keine|keins|nichts|keine änderung|keine änderungen|aucun|aucune|rien
    aucun changement|aucune modification|nada|ninguno|ninguna|ningún cambio|sin cambios|brak|nic
    bez zmian|dim|dim byd|dim newid|لا شيء|لا تغيير|بدون تغيير
    ok|okay|all ok|all okay|all good|yes|✓|✔|☑|👍|ja|alles ok|alles gut|passt|oui|sí|tak|نعم"""
"""What stands under What to change where nothing is to be changed.

A cross, a single letter, "right" and "correct" are none of them: there they may be wishes.
"""

_ALL_RIGHT_SENTENCES = """
    everything is right|everything's right|everything right|everything is correct|everything correct
    everything's correct|everything is fine|everything's fine|everything is good|everything is ok
    everything is okay|everything ok|everything is perfect|everything looks right
    everything looks good|all is right|all is correct|all is well|all is good|all is fine|all good
    all correct|all fine|all ok|all okay|all right|all are right|all are correct|all perfect
    they are all right|they are all correct|they are all fine|all of them are right
    all of them are correct|alles richtig|alles ist richtig|es ist alles richtig|alles stimmt
    es stimmt alles|alles korrekt|alles ist korrekt|alles gut|alles in ordnung
    alles ist in ordnung|es ist alles in ordnung|alles passt|es passt alles|alles perfekt|alles ok
    alles bestens|tout est juste|tout est correct|tout est bon|tout est bien|tout est exact
    tout est parfait|tout est en ordre|tout va bien|tout bon|tout correct|tout est ok
    todo está bien|todo bien|todo correcto|todo es correcto|todo está correcto|está todo bien
    todo perfecto|todo en orden|todo está en orden|wszystko się zgadza|wszystko w porządku
    wszystko jest w porządku|wszystko dobrze|wszystko jest dobrze|wszystko poprawnie
    wszystko jest poprawne|wszystko ok|mae popeth yn iawn|popeth yn iawn|mae popeth yn gywir
    popeth yn gywir|mae popeth yn berffaith|كل شيء صحيح|كل شيء على ما يرام|كل شيء تمام
    الكل صحيح|كلها صحيحة|جميعها صحيحة|كله صحيح"""
"""What says, in a whole sentence, that everything is right; it may be meant of more than a row."""

_RIGHT_SENTENCES = """
    that is right|that's right|this is right|it is right|it's right|is right|that is correct
    that's correct|this is correct|it is correct|it's correct|is correct|looks right|looks good
    das ist richtig|das stimmt|stimmt so|passt so|passt|sieht gut aus|in ordnung
    c'est juste|c'est correct|c'est bon|c'est exact|c'est bien|c'est parfait
    está bien|está correcto|es correcto|zgadza się|jest dobrze|w porządku|jest poprawnie
    mae'n iawn|mae'n gywir|mae hynny'n iawn|mae hwn yn iawn|هذا صحيح|على ما يرام"""
"""What says so of one cup. A question in the same words has its sign, and is none of these."""

_YES, _POLITE = frozenset(_YES_WORDS.split()), frozenset(_POLITE_WORDS.split())
_NOTHING, _ALL_RIGHT, _RIGHT = (
    frozenset(each.strip() for each in told.strip().replace("\n", "|").split("|"))
    for told in (_NOTHING_WORDS, _ALL_RIGHT_SENTENCES, _RIGHT_SENTENCES)
)
_DASHES = frozenset("-–—−./")


def is_yes(tick: str) -> bool:
    """Whether what stands in a cell is a yes, in any language of the pack, and nothing else."""
    found = set(re.findall(r"[^\s,.!،؛]+", tick.casefold()))
    is_of_words = bool(found & _YES) and found <= _YES | _POLITE
    return is_of_words or is_all_right(tick) or _sentence(tick) in _RIGHT


def is_all_right(text: str) -> bool:
    """Whether a text says that everything is right, in any language of the pack."""
    return _sentence(text) in _ALL_RIGHT


def _sentence(text: str) -> str:
    return " ".join(text.casefold().replace("’", "'").split()).rstrip(".! ")


def is_nothing(remark: str) -> bool:
    """Whether what stands under What to change, beside a yes, wants nothing changed."""
    said = " ".join(remark.casefold().split())
    if is_all_right(remark):
        return True
    is_dash = bool(said) and _DASHES.issuperset(said.replace(" ", "")) and len(said) <= 3
    return is_dash or said.rstrip(".! ") in _NOTHING
