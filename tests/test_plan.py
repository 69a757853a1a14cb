from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from sillwright.job import load_job
from sillwright.plan import fingerprint, plan
from sillwright.plan_json import plan_to_json

EXAMPLES = sorted((Path(__file__).parent.parent / "examples").glob("*.toml"))
PROGRAM = (
    "import sys; from sillwright.job import load_job; from sillwright.plan import plan; "
    "from sillwright.plan_json import plan_to_json; "
    "sys.stdout.write(plan_to_json(plan(load_job(sys.argv[1]).job)))"
)


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda path: path.stem)
def test_the_same_job_gives_the_same_plan_byte_for_byte(example: Path) -> None:
    job = load_job(example).job
    assert plan_to_json(plan(job)) == plan_to_json(plan(job))


def test_another_process_with_another_hash_seed_gives_the_same_bytes() -> None:
    outputs = {
        subprocess.run(  # noqa: S603
            [sys.executable, "-c", PROGRAM, str(EXAMPLES[0])],
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            check=True,
        ).stdout
        for seed in ("1", "2")
    }
    assert len(outputs) == 1


def test_a_changed_reading_changes_the_fingerprint() -> None:
    job = load_job(EXAMPLES[0]).job
    assert fingerprint(job) == fingerprint(job.model_copy())
    assert fingerprint(job) != fingerprint(job.model_copy(update={"title": job.title + " again"}))


@pytest.mark.parametrize(
    ("example", "path"),
    [
        ("bungalow-slider-and-fixed-lites", "setup[0].series[24].down"),
        ("villa-stacking-slider-mm", "opening[0].width.middle"),
        ("stucco-bungalow-tilt-turn-mm", "opening[0].diagonal.bottom_left_to_top_right"),
    ],
)
def test_the_gross_mistake_of_an_example_is_named_alone_with_its_place(example: str, path: str) -> None:
    planned = plan(load_job(next(e for e in EXAMPLES if e.stem == example)).job)
    assert [suspect.path for suspect in planned.survey.suspects] == [path]
    assert any(path in finding.advice for finding in planned.findings)


@pytest.mark.parametrize("example", ["farmhouse-three-casements", "block-ranch-outswing-pair"])
def test_good_readings_are_not_accused(example: str) -> None:
    planned = plan(load_job(next(e for e in EXAMPLES if e.stem == example)).job)
    assert planned.survey.suspects == ()
    assert planned.survey.disturbed == ()


def test_the_knocked_set_up_is_found_between_two_stations() -> None:
    planned = plan(load_job(next(e for e in EXAMPLES if e.stem.startswith("stucco"))).job)
    (knock,) = planned.survey.disturbed
    assert knock.setup == 1
    assert (knock.after_path, knock.before_path) == ("setup[0].series[6].down", "setup[0].series[7].down")
    closing = (1551 - 1546) / 25.4  # the first mark was read again at the end
    assert abs(knock.rose - closing) < 1.96 * knock.rose_sd + 0.03


def test_a_laser_turned_round_shows_that_it_is_out_of_true() -> None:
    planned = plan(load_job(next(e for e in EXAMPLES if e.stem.startswith("farmhouse"))).job)
    (laser,) = planned.survey.lasers
    assert laser.verdict == "out of true"
    assert laser.slope_mm_per_m == pytest.approx(1.15, abs=0.15)
