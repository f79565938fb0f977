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

_YES, _POLITE = frozenset(_YES_WORDS.split()), frozenset(_POLITE_WORDS.split())
_NOTHING = frozenset(each.strip() for each in _NOTHING_WORDS.strip().replace("\n", "|").split("|"))
_DASHES = frozenset("-–—−./")


def is_yes(tick: str) -> bool:
    """Whether what stands in a cell is a yes, in any language of the pack, and nothing else."""
    found = set(re.findall(r"[^\s,.!،؛]+", tick.casefold()))
    return bool(found & _YES) and found <= _YES | _POLITE


def is_nothing(remark: str) -> bool:
    """Whether what stands under What to change, beside a yes, wants nothing changed."""
    said = " ".join(remark.casefold().split())
    is_dash = bool(said) and _DASHES.issuperset(said.replace(" ", "")) and len(said) <= 3
    return is_dash or said.rstrip(".! ") in _NOTHING
