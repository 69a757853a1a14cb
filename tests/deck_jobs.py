"""Example jobs with more said of their decks: invented; one in inches with all there is, one metric."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from sillwright.job import Job, read_job
from sillwright.plan import Plan, plan

EXAMPLES = Path(__file__).parents[1] / "examples"
BUNGALOW = (EXAMPLES / "bungalow-slider-and-fixed-lites.toml").read_text(encoding="utf-8")
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
