"""A plan as JSON: stable text, the job's unit, and the published schema."""

from __future__ import annotations

import dataclasses
import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from tests.plan_fixture import a_plan

from sillwright.errors import OutOfRange
from sillwright.plan_json import plan_data, plan_schema, plan_schema_text, plan_to_json

SCHEMA = Path(__file__).parents[2] / "docs" / "plan.schema.json"
IN_MM = 25.4
"""NIST SP 811 (2008), app. B.8: 1 in = 25.4 mm exactly."""


def _leaves(data: Any, path: str = "") -> Iterator[tuple[str, Any]]:
    if isinstance(data, dict):
        for key, each in data.items():
            yield from _leaves(each, f"{path}.{key}")
    elif isinstance(data, list):
        for n, each in enumerate(data):
            yield from _leaves(each, f"{path}[{n}]")
    else:
        yield path, data


def test_the_schema_in_docs_is_the_one_the_types_make() -> None:
    assert SCHEMA.read_text(encoding="utf-8") == plan_schema_text(), (
        "run: python -m sillwright.plan_json docs/plan.schema.json"
    )


def test_the_schema_is_a_schema_and_a_plan_keeps_to_it() -> None:
    schema = plan_schema()
    jsonschema.Draft202012Validator.check_schema(schema)
    jsonschema.Draft202012Validator(schema).validate(json.loads(plan_to_json(a_plan())))


@pytest.mark.parametrize("key", ["pads", "suspect_readings", "largest_sizes"])
def test_the_schema_refuses_a_plan_without_its_answers(key: str) -> None:
    data = plan_data(a_plan())
    del data["summary"][key]
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.Draft202012Validator(plan_schema()).validate(data)


def test_every_length_of_the_schema_says_its_unit() -> None:
    pad = plan_schema()["$defs"]["Pad"]["properties"]
    assert pad["front"]["x-unit"] == "units"
    assert "the plan's units" in pad["front"]["description"]
    assert pad["back"]["anyOf"][0]["x-unit"] == "units"
    assert "x-unit" not in plan_schema()["$defs"]["Fit"]["properties"]["probability"]


def test_the_same_plan_gives_the_same_text() -> None:
    assert plan_to_json(a_plan()) == plan_to_json(a_plan())


def test_every_length_is_converted_wherever_it_stands_and_nothing_else_is() -> None:
    inches = dict(_leaves(plan_data(a_plan())))
    metric = dict(_leaves(plan_data(dataclasses.replace(a_plan(), units="mm"))))
    assert inches.keys() == metric.keys()
    changed = {path for path in inches if inches[path] != metric[path]} - {".units"}
    for path in changed:
        assert metric[path] == pytest.approx(inches[path] * IN_MM, abs=0.0006), path
    expected = {
        ".summary.pads[0].front",
        ".setting.pads[2].pieces[1].thin",
        ".setting.order_sizes[0].smallest_tape[1]",
        ".survey.openings[0].wall_thickness.top_left.value",
        ".survey.readings[3].detectable",
        ".summary.unit_positions[0].left_clearance",
        ".heights.shapes[0].points[1][1]",
        ".setting.options[0].terms[1].length",
        ".ledger.joists[1]",
        ".ledger.studs[0][1]",
    }
    assert expected <= changed
    assert not any("probability" in path or "minutes" in path or path[-2:] == ".w" for path in changed)
    assert not any("mm_per_m" in path or "in_per_ft" in path for path in changed)


def test_the_summary_has_the_plain_names() -> None:
    summary = plan_data(a_plan())["summary"]
    assert list(summary) == [
        "suspect_readings",
        "disturbed_setups",
        "low_end_and_high_point",
        "level_lines",
        "pads",
        "planed_runs",
        "unit_positions",
        "probability_of_fit",
        "largest_sizes",
        "conflicts",
        "story_pole_heights",
        "ledger_fasteners",
        "water",
        "measure_next",
    ]
    assert summary["suspect_readings"][0]["path"] == "opening[0].width.middle"
    assert summary["disturbed_setups"][0]["before_path"] == "setup[0].series[3].down"
    assert summary["pads"][2]["front"] == 0.5
    assert summary["pads"][2]["back"] is None
    assert summary["low_end_and_high_point"][0]["high_point"]["z"] == 4.0
    assert summary["probability_of_fit"][0]["probability"] == 0.9986
    assert summary["largest_sizes"][0]["width"] == 35.25
    assert summary["unit_positions"][0]["head_clearance"] is None
    assert [each["name"] for each in summary["story_pole_heights"]][-1] == "grade"
    assert summary["ledger_fasteners"][1] == {
        "id": "ledger.2",
        "number": 2,
        "from_left": 17.0,
        "x": 37.0,
        "row": "high",
        "z": -3.0,
        "below_top": 3.25,
    }


def test_numbers_are_rounded_and_never_minus_nothing() -> None:
    plan = a_plan()
    pad = dataclasses.replace(plan.setting.pads[0], front_miss=-1e-12, sd=1 / 3)
    setting = dataclasses.replace(plan.setting, pads=(pad,))
    text = plan_to_json(dataclasses.replace(plan, setting=setting))
    data = json.loads(text)["setting"]["pads"][0]
    assert data["sd"] == 0.333333
    assert data["front_miss"] == 0.0
    assert not re.search(r"-0\.0\b(?!\d)", text)


@pytest.mark.parametrize("bad", [float("nan"), float("inf")])
def test_a_number_that_is_not_finite_is_refused(bad: float) -> None:
    plan = a_plan()
    pad = dataclasses.replace(plan.setting.pads[0], front=bad)
    setting = dataclasses.replace(plan.setting, pads=(pad,))
    with pytest.raises(OutOfRange, match="not finite"):
        plan_to_json(dataclasses.replace(plan, setting=setting))


def test_names_that_are_not_ascii_stay_readable() -> None:
    assert "Fenêtre" in plan_to_json(dataclasses.replace(a_plan(), title="Fenêtre"))
