"""Seeded trials on the five example walls: mistakes are found, good readings are left in peace."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pytest
from tests.survey.walls import NAMES, changed, example, read_anew

from sillwright.job import Job
from sillwright.survey import Survey, cleanse, report
from sillwright.survey.report import readings

TRIALS = 100
WORLDS = 50
PAIRS = 40


@dataclass(frozen=True)
class Named:
    """For each reading that is named, with how many others it is confused."""

    among: dict[str, int]

    @classmethod
    def of(cls, survey: Survey) -> Named:
        return cls({s.reading: 1 + len(s.cannot_tell_from) for s in survey.suspects})


def surveyed(job: Job) -> Survey:
    return report(job, cleanse(job))


@pytest.mark.parametrize("name", NAMES)
def test_a_gross_error_of_six_times_what_is_detectable_is_laid_to_the_right_reading(name: str) -> None:
    job, rng = example(name), np.random.default_rng(1)
    checked = [(r, r.detectable) for r in readings(cleanse(job)) if r.detectable is not None]
    found: list[int] = []
    for _ in range(TRIALS):
        reading, least = checked[int(rng.integers(len(checked)))]
        error = 6.0 * least * float(rng.choice([-1.0, 1.0]))
        sized = reading.kind not in {"laser", "plumb", "string"}
        value = reading.observed + (abs(error) if sized and reading.observed + error <= 0 else error)
        survey = surveyed(changed(job, {reading.path: value}))
        named = Named.of(survey)
        found.append(named.among.get(reading.id, 0))
        if reading.id in named.among:
            suspect = next(s for s in survey.suspects if s.reading == reading.id)
            assert suspect.path == reading.path
            assert suspect.error == pytest.approx(value - reading.observed, abs=1.2 * least)
    assert sum(n > 0 for n in found) >= 95
    assert max(found) <= 3
    # both ends of a running tape, or a height and its diagonal, cannot be told apart by anyone
    assert sum(n == 1 for n in found) >= 75


@pytest.mark.parametrize("name", NAMES)
def test_walls_read_without_a_mistake_are_hardly_ever_accused(name: str) -> None:
    job, rng = example(name), np.random.default_rng(2)
    accused = 0
    for _ in range(WORLDS):
        survey = surveyed(read_anew(job, rng))
        out = any(laser.verdict == "out of true" for laser in survey.lasers)
        accused += bool(survey.suspects or survey.disturbed or out)
    assert accused <= 0.05 * WORLDS + 2.0


@pytest.mark.parametrize("name", NAMES)
def test_two_mistakes_in_one_opening_are_both_named_in_most_walls(name: str) -> None:
    job, rng = example(name), np.random.default_rng(3)
    both = some = 0
    for _ in range(PAIRS):
        world = read_anew(job, rng)
        checked = [
            r
            for r in readings(cleanse(world))
            if r.opening and r.detectable is not None and r.detectable < 8.0 * r.sd
        ]
        opening = rng.choice(sorted({r.opening or "" for r in checked}))
        own = [r for r in checked if r.opening == opening]
        pair = [own[int(i)] for i in rng.choice(len(own), 2, replace=False)]
        sizes = rng.uniform(8.0, 20.0, 2) * rng.choice([-1.0, 1.0], 2)
        wrong = {r.path: float(r.observed + size * r.sd) for r, size in zip(pair, sizes, strict=True)}
        survey = surveyed(changed(world, wrong))
        named = {*Named.of(survey).among, *(ident for d in survey.disturbed for ident in d.set_aside)}
        hits = sum(r.id in named for r in pair)
        both += hits == 2
        some += hits > 0
    assert both >= 0.7 * PAIRS
    assert some >= 0.85 * PAIRS


def test_the_same_job_gives_the_same_survey() -> None:
    job = example(NAMES[0])
    assert repr(surveyed(job)) == repr(surveyed(job))
