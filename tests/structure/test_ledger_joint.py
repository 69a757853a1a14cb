"""A ledger by calculation: its value, what it refuses, and that it never allows more than the code table."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.errors import BadInput, OutOfRange
from sillwright.structure import (
    LedgerJoint,
    LedgerLoad,
    bolt,
    fastener_spacing,
    joint_spacing,
    joint_value,
    lag_screw,
)


def _joint(**changed: object) -> LedgerJoint:
    asked: dict[str, object] = {
        "dowel": bolt(0.5),
        "ledger_species": "douglas_fir_larch",
        "backing_species": "douglas_fir_larch",
        "wet": False,
    }
    return LedgerJoint(**(asked | changed))  # type: ignore[arg-type]


def test_a_half_inch_bolt_in_dry_douglas_fir_has_its_table_value() -> None:
    # NDS 2018 Table 12A, 1/2 in, both across the grain: 220 lbf (from memory), printed to 10
    found = joint_value(_joint())
    assert (round(found.adjusted_lbf, -1), found.mode) == (220.0, "II")
    assert found.note == "for your engineer"


def test_moisture_and_duration_are_taken() -> None:
    dry, wet = joint_value(_joint()), joint_value(_joint(wet=True, duration="two_months_snow"))
    assert wet.adjusted_lbf == pytest.approx(dry.adjusted_lbf * 0.7 * 1.15)
    assert wet.reference == dry.reference


def test_a_near_end_takes_its_share_off_and_sheathing_more() -> None:
    # NDS 2018 Table 12.5.1A: 4 D across the grain for the full value, 2 D least (from memory)
    full = joint_value(_joint(end=2.0)).adjusted_lbf
    assert joint_value(_joint(end=1.5)).adjusted_lbf == pytest.approx(0.75 * full)
    assert joint_value(_joint(end=9.0)).adjusted_lbf == pytest.approx(full)
    gaps = [joint_value(_joint(gap=gap)).adjusted_lbf for gap in (0.0, 0.25, 0.5, 1.0)]
    assert gaps == sorted(gaps, reverse=True)
    assert len(set(gaps)) == 4


@given(st.floats(6.0, 18.0), st.sampled_from(["douglas_fir_larch", "hem_fir", "southern_pine"]))
def test_the_equations_never_allow_more_than_the_tested_table(span: float, species: str) -> None:
    table = fastener_spacing(LedgerLoad(joist_span_ft=span, fastener="bolt", sheathing=0.0)).value
    joint = _joint(ledger_species=species, backing_species=species)
    assert joint_spacing(joint, load_psf=50.0, joist_span_ft=span) <= table


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"end": 0.9}, "end across grain of 0.9 in is less than 2 D, 1 in"),
        ({"free_edge": 0.5}, "an edge away from the load of 0.5 in is less than 1.5 D, 0.75 in"),
        ({"loaded_edge": 1.5}, "a loaded edge of 1.5 in is less than 4 D, 2 in"),
        ({"dowel": lag_screw(0.5)}, "needs 2 in of hold in the main member and has 1.5 in"),
    ],
)
def test_what_the_equations_do_not_know_is_refused(changed: dict[str, object], said: str) -> None:
    with pytest.raises(OutOfRange, match=said):
        joint_value(_joint(**changed))


def test_a_deeper_backing_lets_a_lag_screw_count() -> None:
    found = joint_value(_joint(dowel=lag_screw(0.5), backing_thickness=4.0, ledger_species="hem_fir"))
    assert found.mode in {"IIIs", "IV"}
    assert 150.0 < found.adjusted_lbf < 250.0


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"ledger_species": "pine"}, "species: pine is not known here"),
        ({"backing_thickness": 0.0}, "backing_thickness: 0 cannot be used"),
        ({"gap": -0.1}, "gap: -0.1 cannot be used"),
        ({"duration": "weekend"}, "duration: weekend is not known here"),
    ],
)
def test_what_cannot_be_is_told(changed: dict[str, object], said: str) -> None:
    with pytest.raises(BadInput, match=said):
        joint_value(_joint(**changed))
