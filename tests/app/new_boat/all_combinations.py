"""Judge every boat the questions allow and its sheet, over two processes: `python -m` this module.

    --share 0.01   a hundredth of them, evenly spread
    --strength 4   few of them, in which any four answers come together
"""

from __future__ import annotations

import argparse
import itertools
import os
import sys
import time
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor

from app.new_boat.answers import Answers
from tests.app.new_boat.combinations import every_boat
from tests.app.new_boat.covering import covering_boats
from tests.app.new_boat.judged import clashes, complaints

PROCESSES, CHUNK, TOLD_EVERY = 2, 50, 500


def share_of(share: float) -> Iterator[Answers]:
    """Yield a share of all boats, evenly spread over them."""
    due = 0.0
    for answers in every_boat():
        due += share
        if due >= 1:
            due -= 1
            yield answers


def judge(boats: tuple[Answers, ...]) -> tuple[int, list[str]]:
    """Return how many boats were judged, and the complaints."""
    return len(boats), [
        line for answers in boats for line in (*complaints(answers), *clashes(answers))]


def main() -> int:
    """Judge, print the figure, and return 1 when there was a complaint."""
    options = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    which = options.add_mutually_exclusive_group()
    which.add_argument("--share", type=float, default=1.0)
    which.add_argument("--strength", type=int)
    asked = options.parse_args()
    boats = covering_boats(asked.strength) if asked.strength else share_of(asked.share)
    os.nice(10)
    started, judged, wrong = time.monotonic(), 0, 0
    with ProcessPoolExecutor(PROCESSES) as pool:
        for count, lines in _in_order(pool, _batched(boats)):
            judged += count
            wrong += len(lines)
            print(*lines, sep="\n", end="\n" if lines else "")
            if judged % TOLD_EVERY < count:
                print(f"{judged} boats, {wrong} complaints, "
                      f"{time.monotonic() - started:.0f} s", flush=True)
    print(f"{judged} boats judged, {wrong} complaints, {time.monotonic() - started:.0f} s")
    return 1 if wrong else 0


def _in_order(
    pool: ProcessPoolExecutor, chunks: Iterator[tuple[Answers, ...]]
) -> Iterator[tuple[int, list[str]]]:
    """Yield the answers on chunks as they were given out, a few of them waiting at most."""
    waiting = [pool.submit(judge, chunk) for chunk in itertools.islice(chunks, 2 * PROCESSES)]
    while waiting:
        yield waiting.pop(0).result()
        waiting += [pool.submit(judge, chunk) for chunk in itertools.islice(chunks, 1)]


def _batched(boats: Iterator[Answers]) -> Iterator[tuple[Answers, ...]]:
    while chunk := tuple(itertools.islice(boats, CHUNK)):
        yield chunk


if __name__ == "__main__":
    sys.exit(main())
