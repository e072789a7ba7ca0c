"""All least sets that hit what keeps turning up: a minimum hitting set by generated rows.

Knows no diagram. What must be hit is not listed beforehand: it is asked for, one proposal at a
time, so that only the few rows that matter are ever made.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

Choice = frozenset[str]


def least_hitting_sets(
    weights: Mapping[str, int], missed: Callable[[Choice], list[Choice]], stop_at: int,
) -> tuple[tuple[Choice, ...], bool]:
    """Return all choices of least total weight that miss nothing, and whether there are more.

    `missed` is given a choice and returns sets it does not hit, none when it hits all; no such
    set may be empty. Weights are whole and above zero. [1]. Each round solves the rows known so
    far (scipy's `milp`); a choice found is forbidden from then on, with all that contain it.
    """
    rows: list[Choice] = []
    found: list[Choice] = []
    while (choice := _lightest(weights, rows, found)) is not None:
        if found and _weight(weights, choice) > _weight(weights, found[0]):
            break
        more = missed(choice)
        if more:
            rows += more
            continue
        if len(found) == stop_at:
            return tuple(found), True
        found.append(choice)
        if not choice:
            break
    return tuple(found), False


def _weight(weights: Mapping[str, int], choice: Choice) -> int:
    return sum(weights[item] for item in choice)


def _lightest(
    weights: Mapping[str, int], rows: list[Choice], forbidden: list[Choice]
) -> Choice | None:
    """Return the lightest choice that hits every row and holds no forbidden one, or None."""
    if not rows:
        return frozenset()
    import numpy as np
    from scipy.optimize import Bounds, LinearConstraint, milp

    items = sorted(frozenset().union(*rows))
    column = {item: number for number, item in enumerate(items)}
    matrix = np.zeros((len(rows) + len(forbidden), len(items)))
    low = np.full(len(matrix), -np.inf)
    high = np.full(len(matrix), np.inf)
    for number, row in enumerate(rows):
        matrix[number, [column[item] for item in row]] = 1
        low[number] = 1
    for number, choice in enumerate(forbidden, start=len(rows)):
        matrix[number, [column[item] for item in choice]] = 1
        high[number] = len(choice) - 1
    answer = milp(
        np.array([weights[item] for item in items], dtype=float), bounds=Bounds(0, 1),
        integrality=np.ones(len(items)), constraints=LinearConstraint(matrix, low, high))
    if answer.x is None:
        return None
    return frozenset(item for item, taken in zip(items, answer.x, strict=True) if taken > 0.5)
