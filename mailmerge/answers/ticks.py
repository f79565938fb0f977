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

_YES, _POLITE = frozenset(_YES_WORDS.split()), frozenset(_POLITE_WORDS.split())


def is_yes(tick: str) -> bool:
    """Whether what stands in a cell is a yes, in any language of the pack, and nothing else."""
    found = set(re.findall(r"[^\s,.!،؛]+", tick.casefold()))
    return bool(found & _YES) and found <= _YES | _POLITE
