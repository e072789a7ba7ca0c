"""The papers that are about to be printed, as far as the rules about papers judge them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Papers:
    """A set of sheets that is being printed.

    `lists` says for each sheet in the set which ids it lists; `digests` is for every sheet that the
    program can print of this diagram, in the set or not, a short digest of what it would say.
    """

    lists: Mapping[str, frozenset[str]] = field(default_factory=dict)
    digests: Mapping[str, str] = field(default_factory=dict)
