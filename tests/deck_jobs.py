"""Jobs with decks, invented: an example in inches with all there is, a metric one, doors above one deck."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

from tests.scenarios.convert import scenario_text
from tests.setting.walls import Hole, job_of

from sillwright.job import Job, load_job, read_job
from sillwright.plan import Plan, plan

EXAMPLES = Path(__file__).parents[1] / "examples"
BUNGALOW = scenario_text("bungalow-slider-and-fixed-lites")
"""The demo job with no more said of its deck than its scenario says."""
VILLA = (EXAMPLES / "villa-stacking-slider-mm.toml").read_text(encoding="utf-8")

FULL = """\
grade = -34
footing_above_grade = 3
footing_depth = 14
beam = "2-2x10"
beam_span_ft = 8
species = "douglas_fir_larch"
soil_psf = 1500
joist_depth = "7 1/4"
joist_spacing = 16
ties = "exterior"
tie_capacity_lb = 750
flashed = false
obstacle = [{ x = 100, width = 4, what = "hose bib" }]
"""
FACTS = """\
[unit.facts]
required_egress_door = true
landing_width = 100
landing_length = 132
landing_slope_in_per_12 = 0.1
guard = false
stair_outside = false
[[unit.pane]]
safety_glass = true
pane_area_sqft = 22

"""
METRIC = """\
band_joist_depth = 235
joist_span_ft = 9.5
joist_spacing = 400
ties = "interior"
"""


def with_deck(keys: str, *, more: str = "", text: str = BUNGALOW) -> str:
    """Return a job's text with keys added to its deck, and sections at its end."""
    return text.replace("[deck]\n", f"[deck]\n{keys}\n") + more


@cache
def full() -> tuple[Job, Plan]:
    """Return the bungalow with everything said of its deck, and facts of its door."""
    text = with_deck(FULL).replace('step_down                   = "1 1/2"', "step_down = 3")
    second = text.index('[[unit]]\nopening              = "B"')
    job = read_job(text[:second] + FACTS + text[second:])
    return job, plan(job)


@cache
def metric() -> tuple[Job, Plan]:
    """Return the villa with a 235 mm ledger on a 235 mm boundary joist."""
    text = VILLA.replace("ledger_depth                = 190", "ledger_depth = 235")
    job = read_job(with_deck(METRIC, text=text))
    return job, plan(job)


DOOR = {
    "kind": "patio door",
    "frame_width": 36.0,
    "frame_height": 80.0,
    "swing": "slides",
    "threshold_above_unit_bottom": 1.375,
}
LITE = {"kind": "fixed lite", "frame_width": 36.0, "frame_height": 80.0}
TRUE_DECK = {
    "step_down": 2.5,
    "decking_thickness": 1.0,
    "ledger_depth": 9.25,
    "joist_span_ft": 10.0,
    "band_joist_depth": 9.25,
    "grade": -30.0,
}
"""A deck in whole numbers: with a sill at 0 its walking surface comes to -7/8, its ledger's top to -1 7/8."""
ON_THE_SILL = 0.25
"""From the sill at its highest place to the underside of a unit without pads [in]."""


def door_at(name: str, left: float, sill: float, **unit: Any) -> Hole:
    """Return an opening with a door in it, its sill level; `unit`: keys of [[unit]] that differ."""
    return Hole(name=name, left=left, sill=(sill,) * 3, head=sill + 81.0, unit=DOOR | unit)


def above_a_deck(*holes: Hole, band: float = -2.0, **parts: Any) -> Job:
    """Return the job of a wall with a deck below these openings, each in a row of its own.

    Args:    band: top of the band joist, level; parts: tables of the job file, `deck`: keys that differ;
             `points`: name, x and z of whatever else was shot
    """
    right = max(hole.left + hole.width for hole in holes) + 15.5
    points = [("top of band joist", x, band) for x in (0.0, right)]
    return job_of(
        *holes,
        row=[{"openings": [hole.name], "step": "never"} for hole in holes],
        deck=TRUE_DECK | parts.pop("deck", {}),
        points=[*points, *parts.pop("points", ())],
        **parts,
    )


@cache
def two_doors() -> tuple[Job, Plan]:
    """Return a job with the sill of door B half an inch above that of door A."""
    job = above_a_deck(
        door_at("A", 10.0, 0.0),
        door_at("B", 60.0, 0.5),
        points=[("finished floor", 28.0, 0.75), ("finished floor", 78.0, 1.25)],
    )
    return job, plan(job)


@cache
def demo() -> tuple[Job, Plan]:
    """Return the job that `make demo` plans."""
    job = load_job(EXAMPLES / "bungalow-slider-and-fixed-lites.toml").job
    return job, plan(job)
