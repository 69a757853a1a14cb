from __future__ import annotations

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from tests.rules.tables import TEXT

from sillwright.errors import OutOfRange, SillwrightError
from sillwright.rules import OutsideTable, Row, TableFault, load_table, read_table
from sillwright.rules.book import TABLES

TABLE = read_table("made up.csv", TEXT)


def _find(snow_psf: float, width_ft: float, kind: str = "roof") -> Row:
    return TABLE.find({"kind": kind}, {"snow_psf": snow_psf, "width_ft": width_ft})


def test_a_row_is_found_as_it_stands() -> None:
    row = _find(50, 24)
    assert (row.values, row.texts) == ({"span": 60.0, "studs": 2.0}, {"status": "memory"})


def test_between_rows_a_linear_axis_is_interpolated_and_steps_take_the_worse_row() -> None:
    row = _find(50, 15)
    assert row.values == {"span": 90 - (90 - 60) / 4, "studs": 2.0}


def test_between_rows_a_stepped_axis_takes_the_next_row_up() -> None:
    assert _find(31, 12).values == _find(50, 12).values


def test_between_a_row_read_and_one_from_memory_the_value_is_from_memory() -> None:
    told = [_find(50, width).texts["status"] for width in (12, 18, 24, 30, 36)]
    assert told == ["read", "memory", "memory", "memory", "read"]


def test_below_the_least_row_that_row_is_taken() -> None:
    assert _find(0, 0).values == _find(30, 12).values


@pytest.mark.parametrize(
    ("snow_psf", "width_ft", "said"),
    [
        (50.01, 12, "snow 50.01 psf is more than 50 psf, its greatest"),
        (50, 36.5, "width 36.5 ft is more than 36 ft, its greatest"),
        (30, 36, "width 36 ft is more than 24 ft, its greatest"),
        (-1, 12, "snow -1 psf is less than 0 psf"),
        (50, math.nan, "width nan ft is less than 0 ft"),
        (math.inf, 12, "snow inf psf is more than 50 psf"),
    ],
)
def test_beyond_a_bound_the_table_refuses_and_names_it(snow_psf: float, width_ft: float, said: str) -> None:
    with pytest.raises(OutsideTable) as refusal:
        _find(snow_psf, width_ft)
    assert str(refusal.value).startswith("outside this table: needs an engineer. Nowhere 1, Table 2: ")
    assert said in str(refusal.value)


def test_a_key_that_has_no_row_is_refused_with_those_that_have() -> None:
    with pytest.raises(OutsideTable, match=r"it has no kind 'attic'; it has roof, floor"):
        _find(50, 24, "attic")


def test_a_refusal_is_of_the_one_family_of_errors() -> None:
    assert issubclass(OutsideTable, OutOfRange)
    assert issubclass(OutsideTable, SillwrightError)


def test_no_requirement_is_no_number() -> None:
    row = _find(50, 24, "floor")
    assert row.values["studs"] is None
    with pytest.raises(OutsideTable, match="no requirement for studs"):
        row.number("studs")


def test_between_a_value_and_no_requirement_the_value_stands() -> None:
    text = TEXT.replace("roof,50,24,60,2", "roof,50,24,60,NR")
    row = read_table("made up.csv", text).find({"kind": "roof"}, {"snow_psf": 50, "width_ft": 15})
    assert row.values["studs"] == 1.0


def test_notes_of_the_header_are_kept_together() -> None:
    assert TABLE.header["note"] == "first second"
    assert TABLE.source == "Nowhere 1, Table 2"


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("# scope: tests\n", "", "the header does not say scope"),
        ("# scope: tests", "# scope", "is not `# key: value`"),
        ("kind,snow_psf,width_ft,span", "kind,width_ft,snow_psf,span", "the columns are"),
        ("span = in, ", "", "units are given for"),
        ("span = in", "span = in, weight = lb", "units are given for"),
        ("snow_psf next", "snow_psf nearest", "'snow_psf nearest' in the header"),
        ("span falls linear", "span falls", "'span falls' in the header"),
        ("roof,30,24,80", "roof,30,24,eighty", "row 2: could not convert"),
        ("roof,30,24,80", "roof,30,24,nan", "row 2: 'nan' is not a finite number"),
        ("roof,30,24,80,2,read", "roof,30,24,80,2", "row 2: the row has more or fewer entries"),
        ("roof,30,24,80,2,read", "roof,30,24,80,2,read,more", "row 2: the row has more or fewer entries"),
        ("roof,30,24,80,2", "roof,30,12,80,2", "there are two rows for ('roof', 30.0, 12.0)"),
        (
            "roof,50,36,40",
            "roof,50,36,70",
            "span should fall as width_ft goes up, but goes from 60 at 24 to 70 at 36 (roof)",
        ),
        ("roof,50,12,90", "roof,50,12,110", "span should fall as snow_psf goes up"),
        ("roof,50,36,40,3", "roof,50,36,40,1", "studs should rise as width_ft goes up"),
    ],
)
def test_a_table_that_is_not_what_its_header_says_is_refused(old: str, new: str, said: str) -> None:
    assert old in TEXT
    with pytest.raises(TableFault) as fault:
        read_table("made up.csv", TEXT.replace(old, new))
    assert str(fault.value).startswith("made up.csv")
    assert said in str(fault.value)


@pytest.mark.parametrize("name", TABLES)
def test_every_table_of_the_package_is_sound_and_says_what_was_read(name: str) -> None:
    table = load_table(name)
    assert table.rows
    assert {row.texts["status"] for row in table.rows} <= {"read", "memory"}


HEADERS = load_table("headers")
SUPPORTS = sorted(set(HEADERS.known("supports")))
SIZES = sorted(set(HEADERS.known("header")))


@given(
    supports=st.sampled_from(SUPPORTS),
    header=st.sampled_from(SIZES),
    snow=st.tuples(st.floats(0, 80), st.floats(0, 80)).map(sorted),
    width=st.tuples(st.floats(0, 40), st.floats(0, 40)).map(sorted),
)
def test_more_load_never_lets_a_header_go_further_nor_on_fewer_jack_studs(
    supports: str, header: str, snow: list[float], width: list[float]
) -> None:
    keys = {"edition": "2018", "supports": supports, "header": header}
    try:
        more = HEADERS.find(keys, {"ground_snow_psf": snow[1], "building_width_ft": width[1]})
    except OutsideTable:
        return
    less = HEADERS.find(keys, {"ground_snow_psf": snow[0], "building_width_ft": width[0]})
    # under a floor, 30 psf holds only the widest column, which narrower buildings take: safe, but shorter
    assume(supports == "roof_ceiling" or less.at["ground_snow_psf"] > 30)
    assert less.number("span") >= more.number("span") - 1e-9
    assert less.number("jack_studs") <= more.number("jack_studs")


@given(share=st.floats(0, 1), gap=st.sampled_from([(12, 24), (24, 36)]))
def test_an_interpolated_span_lies_on_the_line_between_its_columns(
    share: float, gap: tuple[int, int]
) -> None:
    keys = {"edition": "2018", "supports": "roof_ceiling", "header": "2-2x10"}
    low, high = (
        HEADERS.find(keys, {"ground_snow_psf": 50, "building_width_ft": w}).number("span") for w in gap
    )
    at = {"ground_snow_psf": 50.0, "building_width_ft": gap[0] + share * (gap[1] - gap[0])}
    assert HEADERS.find(keys, at).number("span") == pytest.approx(low + share * (high - low), abs=1e-9)
