"""Twenty rules drawn anew at every run: each of their mutants is told apart by a case, or stands
among the survivors with the reason why it cannot be.
"""

from __future__ import annotations

import random

from rules.book import book, find
from tests.mutation.score import reasons, scores, told

DRAWN = 20


def test_no_mutant_of_twenty_rules_survives_without_a_reason():
    found = scores(random.SystemRandom().sample(book(), DRAWN))
    assert not [name for one in found for name in one.survivors], told(found)


def test_every_excuse_is_of_a_rule_and_says_why():
    for slug, excused in reasons().items():
        assert find(slug) is not None, slug
        for name, reason in excused.items():
            assert len(reason) > 15, (slug, name)
