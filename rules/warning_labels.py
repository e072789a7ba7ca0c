"""Labels that warn: words on a part, beside what stands there already."""

from __future__ import annotations

from model.survey import Survey
from rules.fixing import with_fields
from rules.rule import Fix
from rules.wording import named


def labelling(survey: Survey, item: str, words: str) -> Fix:
    """Return the fix that puts words on a part, after those of a label that is there."""
    before = survey.diagram.components[item].warning_text
    title = f"Label {named(survey.diagram, [item])} \"{words}\""
    return Fix(title, "choice", with_fields(
        survey.diagram, title, item, warning_text=f"{before}. {words}" if before else words))
