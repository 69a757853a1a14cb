"""Laws of the survey: moving, mirroring, converting, reordering change nothing; more readings never hurt."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.survey.walls import NAMES, example

from sillwright.job import Job
from sillwright.survey import OpeningNet, Survey, cleanse, report
from sillwright.survey.adjust import Adjustment, adjust
from sillwright.survey.build import build
from sillwright.survey.observation import Equations, Observation

WITHIN = 1e-6
OTHER_SIDE = {"left": "right", "right": "left"}


def surveyed(job: Job) -> Survey:
    return report(job, cleanse(job))


def edited(job: Job, change: Callable[[dict[str, Any]], None]) -> Job:
    raw = job.model_dump()
    change(raw)
    return Job.model_validate(raw)


def shots(raw: dict[str, Any]) -> list[dict[str, Any]]:
    return [shot for setup in raw["setup"] for shot in setup["series"]]


def heights(survey: Survey) -> list[tuple[float, float]]:
    stations = (s for o in survey.openings for s in (*o.sill_outer, *o.sill_inner, *o.head_outer))
    return [(s.value, s.sd) for s in stations]


def jacks(survey: Survey) -> list[tuple[float, float]]:
    return [(s.value, s.sd) for o in survey.openings for s in (*o.left_jack, *o.right_jack)]


def blamed(survey: Survey) -> list[tuple[str, float]]:
    return [(s.reading, s.error) for s in survey.suspects]


def alike(one: list[tuple[float, float]], other: list[tuple[float, float]], *, moved: float = 0.0) -> bool:
    a, b = np.reshape(one, (-1, 2)), np.reshape(other, (-1, 2))
    return a.shape == b.shape and bool(np.all(np.abs(a + np.array([moved, 0.0]) - b) < WITHIN))


@pytest.mark.parametrize("name", NAMES)
def test_a_wall_taped_from_another_mark_is_the_same_wall_moved(name: str) -> None:
    away = 37.25

    def move(raw: dict[str, Any]) -> None:
        for setup in raw["setup"]:
            setup["x"] += away
        for placed in [*shots(raw), *raw["mark"]]:
            placed["x"] = placed["x"] if placed["x"] is None else placed["x"] + away
        for o in raw["opening"]:
            for side in ("left_jack_x", "right_jack_x"):
                for reading in o[side] or ():
                    reading["value"] += away
        for offset in (raw["wall"]["string"] or {"offsets": ()})["offsets"]:
            offset["x"] += away

    job = example(name)
    one, other = surveyed(job), surveyed(edited(job, move))
    assert alike(heights(one), heights(other))
    assert alike(jacks(one), jacks(other), moved=away)
    assert [s for s, _ in blamed(one)] == [s for s, _ in blamed(other)]


@pytest.mark.parametrize("name", NAMES)
def test_a_laser_set_up_higher_shows_the_same_wall(name: str) -> None:
    def raise_beam(raw: dict[str, Any]) -> None:
        for shot in shots(raw):
            for reading in shot["down"]:
                reading["value"] += 5.0625

    job = example(name)
    one, other = surveyed(job), surveyed(edited(job, raise_beam))
    assert alike(heights(one), heights(other))
    assert alike(jacks(one), jacks(other))
    assert other.setups[0].height == pytest.approx(one.setups[0].height + 5.0625, abs=WITHIN)


def mirrored(raw: dict[str, Any]) -> None:
    """Look at the wall from the other side: x becomes -x, left becomes right."""
    for placed in [*raw["setup"], *shots(raw), *raw["mark"]]:
        placed["x"] = placed["x"] if placed["x"] is None else -placed["x"]
    for offset in (raw["wall"]["string"] or {"offsets": ()})["offsets"]:
        offset["x"] = -offset["x"]
    for o in raw["opening"]:
        o["left_jack_x"], o["right_jack_x"] = o["right_jack_x"], o["left_jack_x"]
        for reading in [*(o["left_jack_x"] or ()), *(o["right_jack_x"] or ()), *(o["string_gap"] or ())]:
            reading["value"] = -reading["value"]
        for kind in ("height", "height_inner", "plumb", "plumb_line"):
            o[kind]["left"], o[kind]["right"] = o[kind]["right"], o[kind]["left"]
        for lean in (o["plumb"]["left"], o["plumb"]["right"]):
            for reading in (lean or {}).get("top_leans_right") or ():
                reading["value"] = -reading["value"]
        thick = o["wall_thickness"]
        for row in ("top", "bottom"):
            thick[f"{row}_left"], thick[f"{row}_right"] = thick[f"{row}_right"], thick[f"{row}_left"]
        rising, falling = o["diagonal"]["bottom_left_to_top_right"], o["diagonal"]["bottom_right_to_top_left"]
        o["diagonal"] = {"bottom_left_to_top_right": falling, "bottom_right_to_top_left": rising}


@pytest.mark.parametrize("name", NAMES)
def test_a_mirrored_wall_is_the_same_wall_mirrored(name: str) -> None:
    job = example(name)
    one, other = surveyed(job), surveyed(edited(job, mirrored))
    for a, b in zip(one.openings, other.openings, strict=True):
        for here, there in ((a.sill_outer, b.sill_outer), (a.sill_inner, b.sill_inner)):
            assert alike([(s.value, s.sd) for s in here], [(s.value, s.sd) for s in reversed(there)])
        assert alike([(s.value, s.sd) for s in a.left_jack], [(-s.value, s.sd) for s in b.right_jack])
        assert a.sill_drop == pytest.approx(-b.sill_drop, abs=WITHIN)
        assert a.low_end == (OTHER_SIDE[b.low_end] if b.low_end else None)
    assert [e for _, e in blamed(one)] == pytest.approx([e for _, e in blamed(other)], abs=WITHIN)
    assert [d.rose for d in one.disturbed] == pytest.approx([d.rose for d in other.disturbed], abs=WITHIN)


@pytest.mark.parametrize("name", NAMES)
def test_inches_and_millimetres_show_the_same_wall(name: str) -> None:
    def convert(raw: dict[str, Any]) -> None:
        raw["units"] = "mm" if raw["units"] == "in" else "in"

    job = example(name)
    one, other = surveyed(job), surveyed(edited(job, convert))
    assert heights(one) == heights(other)
    assert jacks(one) == jacks(other)
    assert blamed(one) == blamed(other)


@pytest.mark.parametrize("name", NAMES)
def test_the_order_of_openings_in_the_file_does_not_matter(name: str) -> None:
    def turn(raw: dict[str, Any]) -> None:
        raw["opening"] = tuple(reversed(raw["opening"]))

    job = example(name)
    one, other = surveyed(job), surveyed(edited(job, turn))
    back = replace(other, openings=tuple(reversed(other.openings)))
    assert alike(heights(one), heights(back))
    assert alike(jacks(one), jacks(back))
    assert sorted(s for s, _ in blamed(one)) == sorted(s for s, _ in blamed(other))


def adjusted(observations: tuple[Observation, ...], start: list[float]) -> Adjustment:
    equations = Equations(observations, len(start))
    return adjust(equations, equations.value, sd=equations.sd, start=np.array(start))


@settings(max_examples=60, deadline=None)
@given(data=st.data(), name=st.sampled_from(NAMES), sd=st.floats(0.001, 1.0))
def test_a_consistent_reading_more_never_increases_any_standard_deviation(
    data: st.DataObject, name: str, sd: float
) -> None:
    job = example(name)
    network = build(job, cleanse(job).verdicts)
    before = tuple(network.observations)
    one = adjusted(before, network.unknowns.start)
    index = data.draw(st.sampled_from([i for i, o in enumerate(before) if not o.assumed]))
    value = before[index].value + float(one.residual[index])
    again = replace(before[index], id="again", value=value, sd=sd, own_sd=sd)
    other = adjusted((*before, again), network.unknowns.start)
    assert np.all(other.sd() <= one.sd() + 1e-9)
    assert np.allclose(other.x, one.x, atol=1e-7)


def test_profiles_belong_to_their_opening() -> None:
    nets = build(example(NAMES[0])).openings
    assert all(isinstance(net, OpeningNet) and net.name == name for name, net in nets.items())
