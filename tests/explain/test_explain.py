"""Answers to "why": every id has one, its sums are right, and wrong ids are put right."""

from __future__ import annotations

import dataclasses
import re
from functools import cache
from pathlib import Path

import pytest
from scipy.special import ndtr
from tests.deck_jobs import full, metric
from tests.plan_fixture import a_job, a_plan

from sillwright.errors import BadInput
from sillwright.explain import KINDS, Explanation, explain, idents
from sillwright.explain.sill import between
from sillwright.explain.words import both, chance_above, exact, percent, slope, tape
from sillwright.job import Job, load_job
from sillwright.plan import Plan, plan
from sillwright.survey.model import Station

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))


@cache
def _planned(path: Path) -> tuple[Job, Plan]:
    job = load_job(path).job
    return job, plan(job)


def _given(explanation: Explanation) -> dict[str, str]:
    return {each.name: each.value for each in explanation.given}


def _number(text: str) -> float:
    found = re.search(r"-?\d+\.\d+", text)
    assert found is not None, text
    return float(found[0])


def _sound(explanation: Explanation) -> None:
    assert explanation.title
    assert explanation.answer or explanation.given
    assert explanation.source
    text = " ".join(
        [explanation.title, *explanation.answer, explanation.formula, *_given(explanation).values()]
    )
    assert "None" not in text
    assert "nan" not in text.split()


@pytest.mark.parametrize("ident", idents(a_job(), a_plan()))
def test_every_id_of_a_plan_has_an_answer(ident: str) -> None:
    _sound(explain(a_job(), a_plan(), ident))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_every_id_of_every_example_has_an_answer_that_leads_on_to_others(path: Path) -> None:
    job, planned = _planned(path)
    known = idents(job, planned)
    for ident in known:
        explanation = explain(job, planned, ident)
        _sound(explanation)
        assert set(explanation.see) <= set(known)


def test_one_of_each_kind_can_be_asked_about() -> None:
    kinds = set(idents(a_job(), a_plan()).values())
    assert kinds == set(KINDS) - {"point"}


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_what_a_pad_shows_adds_up(path: Path) -> None:
    job, planned = _planned(path)
    for pad in planned.setting.pads:
        shown = _given(explain(job, planned, pad.id))
        wanted, thick, off = (
            _number(shown[key]) for key in ("line − sill, front", "pad, front", "top off the line, front")
        )
        digit = 0.0015 if job.units == "in" else 0.15
        assert thick - wanted == pytest.approx(off, abs=digit)
        planed = any(r.opening == pad.opening and r.start <= pad.x <= r.end for r in planned.setting.planed)
        if not planed and pad.front > 0:  # bare wood may stand proud by a hair
            sum_shown = _number(shown["line"]) - _number(shown["sill, front"])
            assert sum_shown == pytest.approx(wanted, abs=digit), pad.id


def test_a_pad_says_line_less_sill_and_what_it_is_made_of() -> None:
    explanation = explain(a_job(), a_plan(), "pad.3")
    shown = _given(explanation)
    assert shown["line"] == "4.000 in"
    assert shown["sill, front"].startswith("3.500 ± 0.039 in")
    assert shown["line − sill, front"] == "0.500 in"
    assert "Made of: 1/4 through, 3/8 wedge." in explanation.answer
    assert "line.1" in explanation.see


def test_the_line_says_what_it_costs_and_what_else_could_be_done() -> None:
    shown = _given(explain(a_job(), a_plan(), "line.1"))
    assert shown["pads"] == "3 × 4 min = 12.0 min"
    assert shown["instead"].startswith("Plane the hump at 48 by 1/8")
    other = explain(a_job(), a_plan(), "option.2")
    assert "It costs 8 min more than the way chosen." in other.answer


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_the_parts_of_every_way_add_up_to_its_minutes(path: Path) -> None:
    job, planned = _planned(path)
    for option in planned.setting.options:
        shown = _given(explain(job, planned, option.id))
        parts = [
            float(value.split("= ")[1].removesuffix(" min")) for value in shown.values() if " × " in value
        ]
        assert parts
        assert sum(parts) == pytest.approx(_number(shown["together"]), abs=0.06 * (len(option.terms) + 1))
        for value in shown.values():
            if " × " in value and " in × " in value:
                times = [float(each.split()[0]) for each in value.split(" = ")[0].split(" × ")]
                assert times[0] * times[1] == pytest.approx(_number(value.split("= ")[1]), rel=0.01, abs=0.2)


def test_a_reading_that_is_set_aside_says_so_and_leads_to_the_suspicion() -> None:
    explanation = explain(a_job(), a_plan(), "A.width.middle")
    assert "It contradicts the others and is not used." in explanation.answer
    assert explanation.see == ("suspect.1",)
    assert _given(explanation)["place in the job file"] == "opening[0].width.middle"


def test_a_shot_beside_a_knock_is_not_blamed() -> None:
    planned = a_plan()
    knock = dataclasses.replace(planned.survey.disturbed[0], set_aside=("setup1.3",))
    survey = dataclasses.replace(planned.survey, disturbed=(knock,))
    explanation = explain(a_job(), dataclasses.replace(planned, survey=survey), "setup1.3")
    assert explanation.answer[0].startswith("The laser was knocked just before it or just after")
    assert explanation.see == ("disturbed.1",)


def test_a_finding_says_what_was_found_against_which_limit_and_who_answered_it() -> None:
    shown = _given(explain(a_job(), a_plan(), "finding.1"))
    assert shown == {
        "found": '37 1/8"',
        "limit": '36 1/8"',
        "place": "A.width.middle",
        "answered": "taped again on Tuesday: 36 1/8.",
    }


def test_a_lean_is_told_by_the_foot_or_by_the_metre() -> None:
    """1 in in 12 in is 1000 / 12 mm in a metre."""
    planned = a_plan()
    assert planned.survey.plane is not None
    plane = dataclasses.replace(planned.survey.plane, lean_in_per_ft=1.0, lean_sd_in_per_ft=0.0)
    survey = dataclasses.replace(planned.survey, plane=plane)
    planned = dataclasses.replace(planned, survey=survey)
    assert _given(explain(a_job(), planned, "plane"))["lean"].startswith("1.000 ± 0.000 in in each foot")
    metric = dataclasses.replace(planned, units="mm")
    assert _given(explain(a_job(), metric, "plane"))["lean"].startswith("83.3 ± 0.0 mm in each metre")


def test_a_reading_that_nothing_checks_says_so() -> None:
    planned = a_plan()
    lone = dataclasses.replace(planned.survey.readings[0], redundancy=0.0, w=None, detectable=None)
    survey = dataclasses.replace(planned.survey, readings=(lone,))
    explanation = explain(a_job(), dataclasses.replace(planned, survey=survey), lone.id)
    assert any("Nothing checks it" in answer for answer in explanation.answer)


def test_fit_gives_the_chance_of_each_side() -> None:
    shown = _given(explain(a_job(), a_plan(), "fit.A"))
    assert shown["right: chance of enough room"].startswith("99.9%")  # 3 sd: 0.998 650, normal table
    assert "head of A" in " ".join(explain(a_job(), a_plan(), "fit.A").answer)


@pytest.mark.parametrize(
    ("asked", "answered"), [("6", "act.6"), ("PAD.3", "pad.3"), (" unit.a ", "unit.A"), ("A", "opening.A")]
)
def test_ids_are_found_as_people_type_them(asked: str, answered: str) -> None:
    assert explain(a_job(), a_plan(), asked).ident == answered


@pytest.mark.parametrize(
    ("asked", "near"), [("pad.33", "pad.3"), ("A.width.midle", "A.width.middle"), ("unit.B", "unit.A")]
)
def test_a_wrong_id_is_answered_with_the_nearest(asked: str, near: str) -> None:
    with pytest.raises(BadInput) as caught:
        explain(a_job(), a_plan(), asked)
    message = str(caught.value)
    assert f"nothing called '{asked}'" in message
    assert near in message
    assert "by kind" not in message


@pytest.mark.parametrize("asked", ["", "zzz", "9" * 500, "²", "\x1b[31mzzzzzz"])
def test_nonsense_is_refused_with_the_kinds(asked: str) -> None:
    with pytest.raises(BadInput, match=r"It has, by kind: pad \(pad.1\), .*suspect \(suspect.1\)"):
        explain(a_job(), a_plan(), asked)


def test_a_metric_plan_is_explained_in_millimetres() -> None:
    explanation = explain(a_job(), dataclasses.replace(a_plan(), units="mm"), "pad.3")
    assert _given(explanation)["line"] == "101.6 mm"
    assert " in" not in " ".join(_given(explanation).values()).replace("of the job file", "")


def test_a_sill_is_straight_between_its_stations() -> None:
    stations = tuple(
        Station(at=at, value=value, sd=0.1, measured=True) for at, value in ((0.0, 1.0), (10.0, 2.0))
    )
    assert between((), 5.0) is None
    assert between(stations[:1], 5.0) == (1.0, 0.1)
    assert between(stations, 2.5) == (1.25, 0.1)
    assert between(stations, 12.0) == pytest.approx((2.2, 0.1))
    assert between(stations, -5.0) == pytest.approx((0.5, 0.1))


@pytest.mark.parametrize("z", [-4.0, -1.0, 0.0, 0.5, 3.0])
def test_the_chance_of_room_is_the_normal_distribution(z: float) -> None:
    """Reference library: scipy.special.ndtr."""
    assert chance_above(0.25, mean=0.25 + 0.04 * z, sd=0.04) == pytest.approx(ndtr(z), rel=1e-12)


def test_without_uncertainty_there_is_room_or_there_is_none() -> None:
    assert chance_above(0.25, mean=0.25, sd=0.0) == 1.0
    assert chance_above(0.25, mean=0.2, sd=0.0) == 0.0


@pytest.mark.parametrize(
    ("share", "text"),
    [
        (1.0, "over 99.999%"),
        (0.99995, "99.995%"),
        (0.9995, "99.950%"),
        (0.99, "99.0%"),
        (0.5, "50.0%"),
        (0.0, "under 0.1%"),
    ],
)
def test_a_chance_is_never_rounded_to_certainty(share: float, text: str) -> None:
    assert percent(share) == text


def test_lengths_show_on_the_tape_and_in_decimals() -> None:
    assert tape(0.40625, "in") == "13/32"
    assert tape(5.0, "mm") == "127 mm"
    assert both(0.40625, "in", sd=0.02) == "13/32 (0.406 ± 0.039 in)"
    assert both(0.40625, "mm") == "10.3 mm"
    assert exact(-0.0001, "in") == "0.000 in"
    assert slope(1.0, "in", sd=0.1) == "1.00 ± 0.20 mm/m, 0.240 in over 20 ft"
    assert slope(0.3, "mm") == "0.30 mm/m, 1.5 mm in 5 m"


def test_a_height_shows_the_pieces_that_touch_it_and_a_fastener_its_neighbours() -> None:
    job, made = full()
    top = _given(explain(job, made, "height.ledger-top"))
    assert "ledger, above ledger bottom" in top
    assert _number(top["ledger, above ledger bottom"]) == pytest.approx(9.25)
    second = _given(explain(job, made, "ledger.2"))
    assert made.ledger is not None
    gap = made.ledger.fasteners[1].from_left - made.ledger.fasteners[0].from_left
    assert _number(second["to the one on the left"]) == pytest.approx(gap, abs=0.001)


def test_a_number_from_memory_says_so_in_its_answer() -> None:
    job, made = full()
    assert "from memory, not read" in explain(job, made, "framing.beam").answer[0]


def test_a_value_of_the_calculation_shows_formula_inputs_source_and_whose_it_is() -> None:
    job, made = full()
    sheet = explain(job, made, "calc.joist")
    assert "for your engineer" in sheet.title
    assert sheet.see == ("calc.joist.bending",)
    bending = explain(job, made, "calc.joist.bending")
    assert bending.formula == "fb = w L² / 8 / S"
    assert [each.name for each in bending.given][:2] == ["w", "L"]
    assert bending.source == "NDS 2018 3.3 to 3.10"
    assert any("for your engineer: no permission to build" in text for text in bending.answer)
    assert "It governs." in bending.answer
    refused = explain(job, made, "calc.ledger")
    assert "no value; outside this table: needs an engineer" in refused.title


def test_the_ledger_says_that_the_tip_of_its_screws_is_not_counted() -> None:
    job, made = full()
    found = explain(job, made, "ledger")
    assert any("tapered tip" in text and "not counted" in text for text in found.answer)
    assert "penetration without the tip" in [each.name for each in found.given]


def test_every_id_of_a_deck_has_an_answer() -> None:
    for job, made in (full(), metric()):
        known = idents(job, made)
        for ident in known:
            _sound(explain(job, made, ident))
            assert set(explain(job, made, ident).see) <= set(known)
