"""A ledger's fasteners and all checks of a wall, each against planning a wall."""

from __future__ import annotations

from dataclasses import replace
from statistics import median

from tests.deck_jobs import full
from tests.opening.walls import DOOR, WINDOW
from tests.structure.test_layout import BAND, LEDGER

from benchmarks.measure import Row, seconds
from benchmarks.whole_plan import EXAMPLE, dry
from sillwright.inspection import inspect_wall
from sillwright.job import load_job
from sillwright.opening import OpeningFacts, check_opening
from sillwright.plan import plan
from sillwright.rules import rule_book
from sillwright.structure import LayoutRequest, hangers, layout

RUNS = 15
LIMIT_S = 0.020
WALL = (*(replace(WINDOW, header_span=200.0 + n) for n in range(6)), DOOR, OpeningFacts())
"""Eight openings, six of them with headers that the table must be searched for in vain."""


def ledger_layout() -> Row:
    """Every fastener of a 40 ft ledger with joists 16 in apart."""
    request = forty_feet()
    return _row("fasteners of a 40 ft ledger", tuple(seconds(lambda: layout(request)) for _ in range(RUNS)))


def forty_feet() -> LayoutRequest:
    """Return the ledger that is measured."""
    return LayoutRequest(
        length=480.0,
        spacing=10.0,
        ledger=LEDGER,
        band=BAND,
        obstacles=hangers([0.75 + 16.0 * k for k in range(30)] + [479.25]),
    )


def wall_checks() -> Row:
    """All checks of eight openings."""
    book = rule_book("2018")

    def every() -> None:
        for n, facts in enumerate(WALL):
            check_opening(facts, book, place=f"{n}")

    every()
    return _row("checks of eight openings", tuple(seconds(every) for _ in range(RUNS)))


def wall_inspection() -> Row:
    """Heights, ledger, framing and every check of a wall with a deck, as a plan has them."""
    job, made = full()
    book = rule_book(job.code.edition)

    def every() -> None:
        inspect_wall(job, made.survey, made.setting, book)

    every()
    return _row("heights, ledger and checks of a wall", tuple(seconds(every) for _ in range(RUNS)))


def _row(name: str, ours: tuple[float, ...]) -> Row:
    job = dry(load_job(EXAMPLE).job)
    plan(job)
    theirs = tuple(seconds(lambda: plan(job)) for _ in range(RUNS))
    verdict = "met" if median(ours) < LIMIT_S else "missed"
    return Row(
        ours=name,
        ours_s=ours,
        theirs="plan of a three-opening wall, without water",
        theirs_s=theirs,
        target=0.5,
        notes=(f"limit {LIMIT_S * 1e3:.0f} ms: {verdict}",),
    )
