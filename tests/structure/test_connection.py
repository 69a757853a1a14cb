"""Any connection put together: laws of its distances, row, screws and pull, and what it refuses."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.errors import BadInput, OutOfRange
from sillwright.structure import (
    Connection,
    ConnectionCase,
    Joined,
    LedgerJoint,
    bolt,
    combined,
    connection_sheet,
    connection_value,
    joint_value,
    lag_screw,
    wood_screw,
)

FIR = Joined(thickness=1.5, gravity=0.5, species="douglas_fir_larch")
POST = replace(FIR, thickness=3.5, angle_deg=0.0, width=3.5)
PLATE = Joined(thickness=0.25, gravity=None, width=3.0)
BOLT = Connection(dowel=bolt(0.5), main=POST, side=FIR)
LAG = Connection(dowel=lag_screw(0.5), main=replace(POST, angle_deg=90.0), side=FIR, length=5.0)
SCREW = Connection(dowel=wood_screw("10"), main=POST, side=replace(FIR, thickness=0.75), length=3.0)


@given(st.booleans(), st.floats(2.0, 12.0), st.floats(0.0, 1.0))
def test_a_ledger_as_any_connection_carries_the_same(wet: bool, end: float, gap: float) -> None:
    ledger = joint_value(
        LedgerJoint(
            dowel=bolt(0.5),
            ledger_species="douglas_fir_larch",
            backing_species="douglas_fir_larch",
            gap=gap,
            wet=wet,
            end=end,
        )
    )
    any_ = connection_value(
        Connection(dowel=bolt(0.5), main=FIR, side=replace(FIR, end=end), gap=gap, wet=wet)
    )
    assert any_.adjusted_lbf == pytest.approx(ledger.adjusted_lbf)
    assert any_.reference == ledger.reference


# NDS 2018 Table 12.5.1A, from memory: full and least distances in diameters; a 1/2 in bolt
@pytest.mark.parametrize(
    ("post", "end", "factor"),
    [
        (POST, 3.5, 1.0),
        (POST, 1.75, 0.5),
        (replace(POST, toward_end=False), 1.75, 0.875),
        (replace(POST, toward_end=False), 2.0, 1.0),
        (replace(POST, species="red_oak", gravity=0.67), 1.75, 0.7),
        (replace(POST, angle_deg=90.0), 1.75, 0.875),
        (replace(POST, angle_deg=45.0), 1.75, 0.5),
    ],
)
def test_the_end_of_a_member_takes_its_share_off(post: Joined, end: float, factor: float) -> None:
    near = connection_value(replace(BOLT, main=replace(post, end=end)))
    far = connection_value(replace(BOLT, main=post))
    assert near.geometry == pytest.approx(factor)
    assert near.adjusted_lbf == pytest.approx(far.adjusted_lbf * factor)


def test_the_least_distance_of_all_governs() -> None:
    joint = replace(BOLT, side=replace(FIR, end=1.5), count=2, spacing=1.75)
    found = connection_value(joint)
    # across the grain 4 D, in the row 4 D (NDS 2018 Tables 12.5.1A, B, from memory): 0.75 and 0.875
    assert found.geometry == pytest.approx(0.75)
    assert {each.key for each in found.places if each.said} == {"side-end", "spacing"}


@given(st.integers(1, 12), st.floats(2.0, 8.0), st.booleans(), st.booleans())
def test_more_in_a_row_bring_less_each(count: int, spacing: float, steel: bool, double: bool) -> None:
    side = PLATE if steel else replace(FIR, angle_deg=0.0, width=5.5)
    joint = replace(BOLT, side=side, double=double, spacing=spacing)
    few, many = (connection_value(replace(joint, count=n)) for n in (count, count + 1))
    assert many.group <= few.group <= 1.0
    assert many.adjusted_lbf <= few.adjusted_lbf * (1 + 1e-9)


@given(st.floats(3.9, 6.0), st.floats(0.0, 2.0))
def test_a_longer_screw_never_carries_less_nor_holds_less(length: float, more: float) -> None:
    short, long = (
        connection_sheet(ConnectionCase(joint=replace(LAG, length=each))) for each in (length, length + more)
    )
    assert long.value("z").value >= short.value("z").value * (1 - 1e-9)
    assert short.value("penetration").value == pytest.approx(min(length - 1.5 - 0.3125, 3.5))


def test_a_screw_in_double_shear_holds_in_the_far_member() -> None:
    middle = replace(SCREW, main=FIR, side=FIR, double=True, length=4.5)
    # 4-1/2 less two of 1-1/2 less a tip of 0.38 in; at least 6 D = 1.14 (NDS 2018 12.1.5.6)
    sheet = connection_sheet(ConnectionCase(joint=replace(middle, length=4.52)))
    assert sheet.value("penetration").value == pytest.approx(1.14)
    assert not [each for each in sheet.values if each.key.startswith("withdrawal")]
    with pytest.raises(OutOfRange, match=r"needs 1.14 in of hold in the far side member and has 1.12 in"):
        connection_value(middle)


def test_shear_and_pull_together_are_used_by_the_standards_equation() -> None:
    case = ConnectionCase(joint=LAG, load_lbf=100.0, pull_lbf=150.0)
    sheet = connection_sheet(case)
    pull, shear = sheet.value("withdrawal").value, sheet.value("z").value
    assert sheet.value("combined").use == pytest.approx(
        combined(pull, z_adjusted_lbf=shear, lateral_lbf=100.0, pull_lbf=150.0)
    )
    assert sheet.value("load").use == pytest.approx(100.0 / shear)
    assert sheet.verdict.endswith("%: too much") == (sheet.value("combined").use > 1.0)  # type: ignore[operator]
    heavy = connection_sheet(replace(case, load_lbf=1000.0))
    assert heavy.verdict.endswith(": too much")


def test_thin_screws_have_no_factor_for_distances_or_rows() -> None:
    near = replace(SCREW.main, end=0.5, edge=0.2)
    found = connection_value(replace(SCREW, main=near, count=5, spacing=1.0))
    assert (found.places, found.group, found.geometry) == ((), 1.0, 1.0)


@pytest.mark.parametrize(
    ("joint", "said"),
    [
        (replace(BOLT, main=PLATE, side=PLATE), "between steel members"),
        (replace(BOLT, side=replace(PLATE, thickness=0.3)), "0.3 in is not between 0.036 and 0.25 in"),
        (replace(BOLT, side=replace(PLATE, thickness=0.02)), "0.02 in is not between 0.036 and 0.25 in"),
        (replace(BOLT, double=True, gap=0.5), "a gap of 0.5 in is more than the 0"),
        (replace(LAG, main=PLATE), "the main member is of steel"),
        (replace(LAG, length=3.0), "needs 2 in of hold in the main member and has 1.1875 in"),
        (replace(LAG, length=1.0), "has 0 in"),
        (replace(BOLT, side=replace(FIR, edge=1.9)), "a loaded edge of 1.9 in is less than 4 D, 2 in"),
        (replace(BOLT, main=replace(POST, edge=0.7)), "beside the load of 0.7 in is less than 1.5 D"),
        (replace(BOLT, main=replace(POST, end=1.7)), "of 1.7 in is less than 3.5 D, 1.75 in"),
        (replace(BOLT, count=2, spacing=1.4), "spacing in row of 1.4 in is less than 3 D"),
        (replace(BOLT, main=replace(POST, angle_deg=30.0), count=2, spacing=3.0), "not at 30"),
        # NDS 2018 12.5.1.3, from memory
        (replace(BOLT, count=3, spacing=2.6), "a row of 5.2 in across the grain is more than the 5 in"),
        (replace(BOLT, main=replace(POST, gravity=0.3)), "0.3 is not between 0.31 and 0.73"),
    ],
)
def test_what_the_equations_do_not_hold_for_is_refused_with_its_bound(joint: Connection, said: str) -> None:
    with pytest.raises(OutOfRange) as refusal:
        connection_value(joint)
    assert "needs an engineer" in str(refusal.value)
    assert said in str(refusal.value)


@pytest.mark.parametrize(
    ("joint", "said"),
    [
        (BOLT, "the pull on a bolt"),
        (replace(SCREW, main=FIR, side=FIR, double=True, length=6.0), "not for double shear"),
    ],
)
def test_pull_is_refused_where_it_is_not_held(joint: Connection, said: str) -> None:
    with pytest.raises(OutOfRange, match=said):
        connection_sheet(ConnectionCase(joint=joint, pull_lbf=10.0))


@pytest.mark.parametrize(
    ("joint", "where"),
    [
        (replace(BOLT, main=replace(POST, width=None), count=2, spacing=3.0), "main_width"),
        (replace(BOLT, side=replace(FIR, species=""), count=2, spacing=3.0), "side_species"),
        (replace(BOLT, side=replace(FIR, species="red_oak"), count=2, spacing=3.0), "side_species"),
    ],
)
def test_what_group_action_needs_is_asked_for(joint: Connection, where: str) -> None:
    with pytest.raises(BadInput) as error:
        connection_value(joint)
    assert [fault.where for fault in error.value.faults] == [where]


def test_what_cannot_be_is_refused() -> None:
    for wrong in ({"count": 0}, {"count": 2}, {"gap": -1.0}, {"spacing": 0.0}):
        with pytest.raises(BadInput):
            replace(BOLT, **wrong)
    with pytest.raises(BadInput, match="a screw has one"):
        replace(LAG, length=None)
    with pytest.raises(BadInput, match="load: 0 cannot be used"):
        ConnectionCase(joint=BOLT, load_lbf=0.0)
