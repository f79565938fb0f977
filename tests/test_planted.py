"""Faults planted in lists are told, and nothing is said of the guests between them."""

from __future__ import annotations

import pytest
from conftest import Samples
from planted import Outcome, outcome, planted

LEAST = 0.98
"""Of the faults of every kind so many must be told."""


@pytest.fixture(scope="module")
def found(tmp_path_factory: pytest.TempPathFactory, samples: Samples) -> Outcome:
    return outcome(planted(20261127, samples(1, 12)), tmp_path_factory.mktemp("planted"))


def test_faults_of_every_kind_are_told(found: Outcome) -> None:
    assert sum(found.planted.values()) > 500
    assert len(found.planted) > 35
    for kind, missed in found.missed.items():
        assert len(missed) <= (1 - LEAST) * found.planted[kind], (kind, missed)


def test_nothing_is_said_of_the_guests_between_them(found: Outcome) -> None:
    assert found.clean > 3000
    assert found.false == []
