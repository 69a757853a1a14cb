from __future__ import annotations

import dataclasses
import math

import pytest

from sillwright.errors import BadInput
from sillwright.opening import OpeningFacts


@pytest.mark.parametrize(
    ("facts", "said"),
    [
        ({"header_span": 0}, "header_span: the width between the jack studs: it cannot be 0"),
        ({"ground_snow_psf": -5}, "ground_snow_psf: the ground snow load: -5 is less than 0"),
        ({"u_factor": math.nan}, "nan is no number to go by"),
        ({"net_clear_width": math.inf}, "inf is no number to go by"),
        ({"drops": ((0.0, math.nan),)}, "drops: how far it drops"),
        ({"kind": "hatch"}, "'hatch' is not known. Known: door, window."),
        ({"room": "attic"}, "Known: sleeping, basement, habitable attic, other."),
        ({"guard_place": "roof"}, "Known: level, stair side, stair triangle."),
        ({"pane_place_to_door": "near"}, "'near' is not known."),
        ({"header": "2x10"}, "'2x10' cannot be read. Write it as 2-2x10."),
        ({"header": "0-2x10"}, "cannot be read"),
    ],
)
def test_a_fact_that_cannot_be_is_refused_with_what_to_do(facts: dict[str, object], said: str) -> None:
    with pytest.raises(BadInput) as refusal:
        OpeningFacts(**facts)  # type: ignore[arg-type]
    assert said in str(refusal.value)


def test_all_faulty_facts_are_told_at_once() -> None:
    with pytest.raises(BadInput) as refusal:
        OpeningFacts(header_span=0, ground_snow_psf=-1)
    assert [fault.where for fault in refusal.value.faults] == ["header_span", "ground_snow_psf"]


def test_a_sill_may_lie_below_the_ground_and_a_landing_above_the_threshold() -> None:
    facts = OpeningFacts(sill_above_ground=-30, drop_outside=-0.25, ground_snow_psf=0)
    assert facts.sill_above_ground == -30


def test_nothing_is_known_unless_stated_and_every_fact_has_its_words() -> None:
    for field in dataclasses.fields(OpeningFacts):
        assert getattr(OpeningFacts(), field.name) is None
        assert field.metadata["said"], field.name
