"""Boats in which any few answers come together at least once: a covering array of some strength.

A fault seldom hangs on more than two or three conditions at once. Kuhn, Wallace and Gallo counted
them for the faults of several programs and found one or two mostly, and never more than six
(Software Fault Interactions and Implications for Software Testing, IEEE Transactions on Software
Engineering 30(6), 2004; NIST SP 800-142 builds on it). An array of strength t misses no fault that
t answers make, and is small.

What is not asked is settled, so only what some settled boat holds is wanted. The answers that
settle one another are drawn together, so that every boat that is looked at is settled.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from app.new_boat.answers import Answers
from tests.app.new_boat.combinations import AXES, BOUND, FREE, boat_with, settled_answers

Numbers = NDArray[np.int64]  # boats by axes: which of its axis' values each answer is
NAMES = BOUND + FREE
COUNTS = np.array([len(AXES[name]) for name in NAMES])
TRIES, ROUNDS = 32, 8


def covering_boats(strength: int, seed: int = 1) -> Iterator[Answers]:
    """Yield settled boats that hold every `strength` answers which any settled boat holds."""
    search = Search(strength, seed)
    while search.wanted.any():
        numbers = search.next_boat()
        yield boat_with(NAMES, tuple(AXES[name][number]
                                for name, number in zip(NAMES, numbers, strict=True)))


class Search:
    """The greedy that looks for the next boat, and what is still wanted.

    Each choice of axes has a stretch of cells, one for every tuple of their answers: a number of
    mixed radix that begins at the choice's first cell.
    """

    def __init__(self, strength: int, seed: int) -> None:
        self.random = np.random.default_rng(seed)
        self.settled = _settled_numbers()
        self.axes = np.array(list(itertools.combinations(range(len(NAMES)), strength)))
        radix = np.cumprod(COUNTS[self.axes], axis=1)
        self.radix = np.hstack([np.ones((len(radix), 1), np.int64), radix[:, :-1]])
        self.first = np.concatenate([[0], np.cumsum(radix[:, -1])])
        self.wanted = self._coverable()

    def _coverable(self) -> NDArray[np.bool_]:
        """Return the cells that some settled boat holds."""
        held = np.zeros(self.first[-1], bool)
        for axes, radix, first in zip(self.axes, self.radix, self.first, strict=False):
            bound = axes < len(BOUND)
            cells = np.unique(self.settled[:, axes[bound]] @ radix[bound])
            for axis, step in zip(axes[~bound], radix[~bound], strict=True):
                cells = np.add.outer(cells, step * np.arange(COUNTS[axis])).ravel()
            held[first + cells] = True
        return held

    def next_boat(self) -> Numbers:
        """Return a boat with many wanted tuples, and want those no more.

        Of some boats with one wanted tuple the best is changed here and there while that helps.
        """
        best, most = self._best(self._holding(self._any_wanted()))
        for _ in range(ROUNDS):
            other, gain = self._best(self._changed(best))
            if gain > most:
                best, most = other, gain
        self.wanted[self._cells(best[None])] = False
        return best

    def _any_wanted(self) -> tuple[Numbers, Numbers]:
        """Return the axes and answers of one wanted tuple."""
        cell = int(self.random.choice(np.flatnonzero(self.wanted)))
        choice = int(np.searchsorted(self.first, cell, side="right")) - 1
        axes = self.axes[choice]
        return axes, (cell - self.first[choice]) // self.radix[choice] % COUNTS[axes]

    def _holding(self, wanted: tuple[Numbers, Numbers]) -> Numbers:
        """Return boats at random that hold a tuple."""
        axes, answers = wanted
        boats = self.random.integers(COUNTS, size=(TRIES, len(NAMES)))
        bound = axes < len(BOUND)
        fitting = self.settled[(self.settled[:, axes[bound]] == answers[bound]).all(axis=1)]
        boats[:, :len(BOUND)] = self.random.choice(fitting, TRIES)
        boats[:, axes] = answers
        return boats

    def _changed(self, numbers: Numbers) -> Numbers:
        """Return a boat with one or two of its free answers changed, or some of its bound ones."""
        boats = np.repeat(numbers[None], TRIES, axis=0)
        half = TRIES // 2
        near = np.argsort((self.settled != numbers[:len(BOUND)]).sum(axis=1)
                          + self.random.random(len(self.settled)))
        boats[:half, :len(BOUND)] = self.settled[near[1:half + 1]]
        for row in boats[half // 2:]:
            axis = self.random.integers(len(BOUND), len(NAMES))
            row[axis] = self.random.integers(COUNTS[axis])
        return boats

    def _best(self, boats: Numbers) -> tuple[Numbers, int]:
        gains = self.wanted[self._cells(boats)].sum(axis=1)
        best = int(np.argmax(gains))
        return boats[best], int(gains[best])

    def _cells(self, boats: Numbers) -> Numbers:
        """Return the cell of each boat in each choice of axes."""
        return self.first[:-1] + (boats[:, self.axes] * self.radix).sum(axis=2)


def _settled_numbers() -> Numbers:
    return np.array([[AXES[name].index(value) for name, value in zip(BOUND, values, strict=True)]
                     for values in settled_answers()])
