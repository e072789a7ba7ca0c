"""The pictures of Help: made from the rules' cases, and true to them."""

from __future__ import annotations

import pytest

from app.drawing.help_pictures import help_pictures
from model.storage import loads
from rules.book import find
from rules.engine import check
from tests.rules.pictures import FOLDER, PICTURED, pictures

MADE = dict(pictures())


def test_the_shipped_pictures_are_not_stale():
    shipped = {path.stem: path.read_text("utf-8") for path in FOLDER.glob("*.loom")}
    assert shipped == MADE, "run python -m tests.rules.pictures"
    assert len(MADE) == 2 * len(PICTURED) == 40


@pytest.mark.parametrize("number", PICTURED)
def test_the_check_speaks_on_the_one_and_is_quiet_on_the_other(number):
    rule = find(number)
    slug = rule.record.slug
    wrong, right = (check(loads(MADE[f"{slug}-{which}"]), rules=(rule,))
                    for which in ("wrong", "right"))
    assert wrong.findings and not right.findings
    first, second = help_pictures(rule)
    assert first.marks and second.marks and first.marks != second.marks
