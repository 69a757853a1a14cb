from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.materials.products import roll

from sillwright.errors import BadInput
from sillwright.materials import JOINTS, check_lap, required_lap, requirement
from sillwright.rules import PLACES, amended, rule_book

MODEL, ONTARIO = rule_book("2018"), rule_book("2018", "canada-ontario")
BONDED = ("pan_over_wrap", "jamb_over_pan", "head_over_jamb", "patch_over_pan", "jamb_over_fin")


@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize("joint", BONDED)
def test_no_number_is_given_where_nobody_has_published_one(joint: str, place: str) -> None:
    found = required_lap(joint, rule_book("2018", place))  # type: ignore[arg-type]
    assert (found.value, found.basis, found.source) == (None, "gap", "")
    assert found.said.startswith("ask the maker: the least lap of the ")
    result = check_lap(joint, 6.0, rule_book("2018", place), place="A")  # type: ignore[arg-type]
    assert (result.status, result.value) == ("not checked", "")
    assert result.finding is not None
    assert result.finding.severity == "watch"
    assert "needs: ask the maker: the least lap of" in result.finding.message


def test_a_number_that_is_missing_is_asked_of_who_can_give_it() -> None:
    assert requirement("lap.jamb_over_pan", MODEL).said.startswith("ask the maker: no published number")
    slope = requirement("sill.slope", MODEL)
    assert (slope.value, slope.basis) == (None, "gap")
    assert slope.said == "ask the building department: no number for us-model-code was read"
    assert requirement("sill.slope", ONTARIO).said == "6 percent: Ontario Building Code 9.27.3.8(4)(b)"


def test_the_pieces_are_named_to_whom_is_asked() -> None:
    found = required_lap("jamb_over_pan", MODEL, upper=roll("strip S"), lower=roll("pan P"))
    assert "(strip S over pan P)" in found.said


def test_the_sheet_of_either_piece_gives_the_number_and_is_named_with_its_date() -> None:
    stated, silent = roll("roll A", least_lap=3.0), roll("roll B")
    for upper, lower in ((stated, silent), (silent, stated), (stated, stated)):
        found = required_lap("jamb_over_pan", MODEL, upper=upper, lower=lower)
        assert (found.value, found.basis) == (3.0, "sheet")
        assert found.source == "product sheet of roll A, dated 2026-03-02, as the job states it"
    short = check_lap("jamb_over_pan", 2.5, MODEL, place="A.left", upper=stated, lower=silent)
    assert short.finding is not None
    assert (short.finding.severity, short.finding.limit) == ("fix", 'at least 3"')
    assert "dated 2026-03-02" in short.finding.source
    assert check_lap("jamb_over_pan", 3.0, MODEL, place="A.left", upper=stated, lower=silent).status == "met"


def test_the_longer_of_two_sheets_counts() -> None:
    upper, lower = roll("roll A", least_lap=3.0), roll("roll B", least_lap=4.0)
    assert required_lap("jamb_over_pan", MODEL, upper=upper, lower=lower).value == 4.0


def test_a_sheet_raises_a_code_and_never_lowers_it() -> None:
    less, more = roll("wrap W", "wall wrap", least_lap=1.0), roll("wrap W", "wall wrap", least_lap=4.0)
    found = required_lap("wrap_horizontal", MODEL, upper=less, lower=less)
    assert (found.value, found.basis, found.source) == (2.0, "code", "IRC 2015 R703.2")
    assert required_lap("wrap_horizontal", MODEL, upper=more).value == 4.0
    result = check_lap("wrap_horizontal", 3.0, MODEL, place="A", upper=more)
    assert result.status == "not met"
    assert "IRC 2015 R703.2; product sheet of wrap W" in result.source


def test_a_sheet_takes_the_place_of_a_guide() -> None:
    assert required_lap("strip_corner", MODEL).basis == "guide"
    found = required_lap("strip_corner", MODEL, upper=roll("roll A", least_lap=4.0))
    assert (found.value, found.basis) == (4.0, "sheet")


def test_laps_printed_in_millimetres_are_held_in_inches() -> None:
    assert required_lap("wrap_over_metal", ONTARIO).value == pytest.approx(50 / 25.4, rel=1e-12)
    assert requirement("lap.metal_over_below", ONTARIO).unit == "in"
    assert required_lap("metal_over_below", MODEL).value is None


def test_a_local_amendment_stands_as_the_code_does() -> None:
    text = 'title = "Town of Example"\n[[limit]]\nid = "lap.jamb_over_pan"\nvalue = 5\n'
    book = amended(MODEL, text, name="town.toml", check_ids=())
    found = required_lap("jamb_over_pan", book, upper=roll("roll A", least_lap=3.0))
    assert (found.value, found.basis) == (5, "local")
    assert found.source == "local amendment: town.toml (Town of Example)"
    result = check_lap("jamb_over_pan", 4.0, book, place="A")
    assert result.status == "not met"
    assert "local amendment: town.toml" in result.source


def test_a_lap_that_nobody_measured_is_not_checked() -> None:
    result = check_lap("wrap_vertical", None, MODEL, place="A")
    assert (result.status, result.why) == ("not checked", "the lap")


@pytest.mark.parametrize("lap", [-0.1, float("nan"), float("inf")])
def test_a_lap_that_cannot_be_is_refused(lap: float) -> None:
    with pytest.raises(BadInput, match="the lap"):
        check_lap("wrap_vertical", lap, MODEL, place="A")


def test_an_unknown_joint_is_refused() -> None:
    with pytest.raises(BadInput, match=r"there is no kind of joint 'pan'\. Known: wrap_horizontal"):
        required_lap("pan", MODEL)  # type: ignore[arg-type]


@given(joint=st.sampled_from(JOINTS), lap=st.floats(0, 20), more=st.floats(0, 20), least=st.floats(0.1, 12))
def test_more_lap_never_worsens_the_answer(joint: str, lap: float, more: float, least: float) -> None:
    strip = roll("roll A", least_lap=least)
    less, further = (
        check_lap(joint, each, ONTARIO, place="A", upper=strip).status  # type: ignore[arg-type]
        for each in (lap, lap + more)
    )
    assert less == "not met" or further == "met"
