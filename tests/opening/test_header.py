from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from tests.opening.walls import WINDOW

from sillwright.findings import Finding
from sillwright.opening import CHECKS
from sillwright.rules import Result, amended, examine, rule_book

HEADER_CHECKS = [check for check in CHECKS if check.id.startswith("header.")]
BOOK = rule_book("2018")


def _results(**changed: Any) -> dict[str, Result]:
    results = examine(HEADER_CHECKS, replace(WINDOW, **changed), BOOK, place="A")
    return {result.check.id.removeprefix("header."): result for result in results}


def _finding(name: str, **changed: Any) -> Finding:
    finding = _results(**changed)[name].finding
    assert finding is not None
    return finding


def test_an_opening_that_is_not_widened_asks_nothing_of_the_header() -> None:
    results = _results(widened=False, ground_snow_psf=None, header=None)
    assert {result.status for result in results.values()} == {"does not apply"}


def test_a_wall_that_bears_nothing_asks_nothing_of_the_header() -> None:
    assert {result.status for result in _results(bearing_wall=False).values()} == {"does not apply"}


@pytest.mark.parametrize(("span", "status"), [(71, "met"), (71.0625, "not met")])
def test_a_header_goes_as_far_as_the_table_says(span: float, status: str) -> None:
    # IRC 2018, Table R602.7(1): 2-2x10, roof and ceiling, 50 psf, 24 ft: 5-11
    assert _results(header_span=span)["span"].status == status


def test_a_short_header_is_a_stop_that_names_the_least_that_goes_far_enough() -> None:
    # same table and column: 2-2x12 goes 6-11 on 2 jack studs
    finding = _finding("span", header_span=80.0)
    assert finding.severity == "stop"
    assert (finding.value, finding.limit) == ('80"', 'at most 71" with 2-2x10')
    assert (
        'The least in the table is 2-2x12 with 2 jack studs at each end; it goes to 83".' in finding.message
    )


def test_a_header_that_nobody_named_is_a_stop_with_the_least_that_would_do() -> None:
    # same table: 2-2x6 goes 3-11 on 1 jack stud
    finding = _finding("span", header=None, header_span=47.0)
    assert finding.severity == "stop"
    assert "The least in the table is 2-2x6 with 1 jack stud at each end" in finding.message


def test_an_unbraced_top_edge_shortens_deep_headers_only() -> None:
    # IRC 2018, Table R602.7(1), footnote: 2x8, 2x10, 2x12 times 0.70
    assert _results(header_top_braced=False, header="2-2x6", header_span=47.0)["span"].status == "met"
    assert _results(header_top_braced=False)["span"].limit == 'at most 49 45/64" with 2-2x10'


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"building_width_ft": 37.0}, "building width 37 ft is more than 36 ft"),
        ({"ground_snow_psf": 71.0}, "ground snow 71 psf is more than 70 psf"),
        ({"floors_above": 2}, "two or more floors"),
        ({"floors_above": 1, "floor_center_bearing": False}, "ground snow 50 psf is more than 30 psf"),
        ({"header": "4-2x12"}, "it has no header '4-2x12'"),
        ({"header_no2": False}, "It holds for No. 2 fir-larch"),
    ],
)
def test_outside_the_table_header_and_jack_studs_are_for_an_engineer(
    changed: dict[str, Any], said: str
) -> None:
    for result in _results(**changed).values():
        assert result.status == "outside table"
        assert result.finding is not None
        assert result.finding.severity == "stop"
        assert "needs an engineer" in result.finding.message
        assert said in result.finding.message


@pytest.mark.parametrize(
    ("changed", "said"),
    [({"ground_snow_psf": 71.0}, "more than 70 psf"), ({"building_width_ft": 36.5}, "more than 36 ft")],
)
def test_no_header_is_suggested_outside_the_table(changed: dict[str, Any], said: str) -> None:
    result = _results(header=None, **changed)["span"]
    assert result.status == "outside table"
    assert said in result.why


def test_an_opening_wider_than_any_header_reaches_is_for_an_engineer() -> None:
    finding = _finding("span", header_span=120.0)
    assert '120" is more than 104", the span of 3-2x12, the longest here' in finding.message


@pytest.mark.parametrize("missing", ["ground_snow_psf", "building_width_ft", "floors_above", "header_no2"])
def test_a_widened_opening_with_a_fact_missing_is_a_stop(missing: str) -> None:
    for result in _results(**{missing: None}).values():
        assert result.status == "not checked"
        assert result.finding is not None
        assert result.finding.severity == "stop"


def test_too_few_jack_studs_are_a_stop() -> None:
    finding = _finding("jack_studs", jack_studs=1)
    assert finding.severity == "stop"
    assert finding.message == "Jack studs at each end at A: 1; the table asks for at least 2 under 2-2x10."


def test_cells_that_nobody_read_say_so_in_the_source() -> None:
    # the 30 psf column is from memory
    finding = _finding("span", header_span=100.0, ground_snow_psf=30.0)
    assert "from memory" in finding.source
    assert "from memory" not in _finding("span", header_span=80.0).source


def test_the_2021_edition_whose_table_nobody_read_is_refused_and_says_so() -> None:
    for result in examine(HEADER_CHECKS, WINDOW, rule_book("2021"), place="A"):
        assert (result.status, result.finding and result.finding.severity) == ("outside table", "stop")
        assert "IRC 2018, Table R602.7(1): it has no edition '2021'; it has 2018" in result.why
        assert "not held here" in result.source


def test_an_amended_row_holds_where_the_edition_has_none() -> None:
    row = (
        '[[row]]\ntable = "headers"\nsupports = "roof_ceiling"\nheader = "2-2x10"\nground_snow_psf = 50\n'
        "building_width_ft = 24\nspan = 70\njack_studs = 2\n"
    )
    book = amended(rule_book("2021"), f'title = "Town"\n{row}', name="town.toml", check_ids=())
    result = examine(HEADER_CHECKS, replace(WINDOW, header_span=70.0), book, place="A")[0]
    assert (result.status, result.limit) == ("met", 'at most 70" with 2-2x10')
    assert "local amendment: town.toml (Town)" in result.source
