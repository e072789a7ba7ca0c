"""A fuse on each of some blocks that lie side by side: between its post and where they join."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import partial

from model.survey import Survey
from rules.fixing import together, with_fields
from rules.new_device import class_words, suitable_fuse
from rules.profiles import Profile
from rules.rule import Fix
from rules.wording import named


def fused_blocks(survey: Survey, profile: Profile, batteries: Sequence[str]) -> Fix:
    """Return the fix that fuses each block, by the cheapest class that breaks the fault there.

    What a block may carry is its maker's to say: the rating is left to the owner.
    """
    post = survey.graph.number[f"{batteries[0]}.+"]
    fuse = suitable_fuse(survey, post, 0.0, math.inf, profile)
    sort = "" if fuse is None else f"{class_words(fuse)} "
    title = (f"Fit a {sort}fuse on each block of {named(survey.diagram, batteries)}, rated as its "
             "maker says")
    return Fix(title, "choice", together(survey.diagram, title, *(
        partial(with_fields, title=title, item=item, block_fuses="each") for item in batteries)))
