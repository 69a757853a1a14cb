"""Packets of the example jobs as really planned: complete, in time, and nothing over anything else."""

from __future__ import annotations

import io
import re
from functools import cache

import pypdf
import pytest
from tests.planned_jobs import example, long_job

from sillwright.drawing import Mark, MarkKind, overlapping_texts, plan_drawings, sheet
from sillwright.job import Job
from sillwright.packet import packet_pdf
from sillwright.plan import Plan, plan

EXAMPLES = ("farmhouse", "bungalow", "block", "villa", "stucco")


@cache
def planned(name: str) -> tuple[Job, Plan]:
    job = long_job(12) if name == "twelve" else example(name)
    return job, plan(job)


@pytest.mark.parametrize("name", [*EXAMPLES, "twelve"])
def test_drawings_of_a_planned_job_have_no_words_over_words_and_fit_their_sheet(name: str) -> None:
    for key, scene in plan_drawings(*planned(name)).items():
        assert [pair for pair in overlapping_texts(scene) if pair != ("station", "station")] == [], key
        assert key == "story-pole" or sheet(scene).width <= 9.5, key


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_act_of_a_planned_job_is_numbered_on_its_elevation(name: str) -> None:
    job, made = planned(name)
    scene = plan_drawings(job, made)["elevation"]
    numbers = [int(m.text) for m in scene.marks if isinstance(m, Mark) and m.kind is MarkKind.BALLOON]
    assert sorted(numbers) == sorted(act.number for act in made.setting.acts)


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_packet_of_a_planned_job_names_its_suspects_first(name: str) -> None:
    job, made = planned(name)
    pdf = packet_pdf(job, made)
    text = pypdf.PdfReader(io.BytesIO(pdf)).pages[0].extract_text().replace("\u200b", "")
    first = re.sub(r"\s+", "", text)
    for suspect in made.survey.suspects:
        assert suspect.path in first
    for knock in made.survey.disturbed:
        assert knock.after_path in first
