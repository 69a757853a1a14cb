"""Print how long all checks of a wall take [ms of processor time], the best of several runs."""

from __future__ import annotations

import time
from dataclasses import replace

from tests.opening.walls import DOOR, WINDOW

from sillwright.opening import OpeningFacts, check_opening
from sillwright.rules import rule_book

WALL = (*(replace(WINDOW, header_span=200.0 + n) for n in range(6)), DOOR, OpeningFacts())
"""Eight openings, six of them with headers that the table must be searched for in vain."""


def main() -> None:
    """Print the time."""
    book, took = rule_book("2018"), []
    for _ in range(10):
        start = time.process_time()
        for n, facts in enumerate(WALL):
            check_opening(facts, book, place=f"{n}")
        took.append(time.process_time() - start)
    print(f"{1000 * min(took):.2f}")  # noqa: T201 - that is what it is for


if __name__ == "__main__":
    main()
