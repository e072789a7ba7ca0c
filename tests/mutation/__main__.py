"""Run mutants: `python -m tests.mutation [RULE ...]`, all rules without arguments.

Prints the survivors, and for each rule how many mutants its cases tell apart.
"""

from __future__ import annotations

import sys

from rules.book import book
from tests.mutation.score import scores, told


def main(slugs: list[str]) -> int:
    chosen = [rule for rule in book() if not slugs or rule.record.slug in slugs
              or rule.record.number in slugs]
    found = scores(chosen)
    print(told(found))
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
