from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.errors import BadInput
from sillwright.job.csv_readings import CSV_COLUMNS, KINDS, readings_from_csv

GOOD = "kind,opening,place,value\nwidth,A,middle,36 3/16\n"


def told(text: str) -> list[str]:
    with pytest.raises(BadInput) as caught:
        readings_from_csv(text, unit="in")
    return [str(fault) for fault in caught.value.faults]


def test_a_row_becomes_its_filled_cells() -> None:
    (row,) = readings_from_csv(GOOD, unit="in")
    assert row.line == 2
    assert row.cells == {"kind": "width", "opening": "A", "place": "middle", "value": "36 3/16"}
    assert row["note"] == ""


@pytest.mark.parametrize(
    "text",
    [
        "\ufeff" + GOOD,
        GOOD.replace("\n", "\r\n"),
        GOOD.replace("\n", "\r"),
        GOOD.replace(",", ";"),
        GOOD.replace(",", "\t"),
        GOOD.replace("\nwidth", "\n,,,\n\n\nwidth").replace("kind", "\n\nkind"),
        GOOD.replace("kind,opening", "Kind , OPENING"),
        GOOD.replace("width", " Width ").replace("middle", "Middle"),
        GOOD.replace("36 3/16", '"36 3/16"'),
        GOOD + "\x20\n",
    ],
)
def test_what_a_spreadsheet_does_to_a_file_changes_nothing(text: str) -> None:
    assert [row.cells for row in readings_from_csv(text, unit="in")] == [
        row.cells for row in readings_from_csv(GOOD, unit="in")
    ]


def test_a_decimal_comma_is_understood() -> None:
    (row,) = readings_from_csv("kind;opening;place;value;sd\nwidth;A;middle;920,5;0,8\n", unit="mm")
    assert row["value"] == "920,5"


def test_american_spelling_and_spaces_are_understood() -> None:
    rows = readings_from_csv(
        "kind,opening,place,value,at height\nheight,A,Center,48,\nlean right,A,left,1/16,44\n", unit="in"
    )
    assert [(row["kind"], row["place"]) for row in rows] == [("height", "centre"), ("lean_right", "left")]


def test_the_header_is_checked_first() -> None:
    assert told("kind,opning,place,opening,place\n") == [
        "line 1, header: unknown column 'opning'. Did you mean 'opening'?",
        "line 1, header: column 'place' is there twice. Keep one.",
        "line 1, header: the column 'value' is missing. Add it.",
    ]
    assert told(" \n") == [f"readings: there is no header row. Columns: {', '.join(CSV_COLUMNS)}."]


def test_broken_quotes_are_refused_with_their_line() -> None:
    (message,) = told(GOOD + 'width,"A"b,middle,3\n')
    assert message.startswith("line 3, readings: the row cannot be read: ")
    assert message.endswith("Check its quotes.")


def test_bad_rows_are_told_all_at_once_by_line_and_column() -> None:
    text = (
        "setup,setup_x,turned,order,kind,opening,place,edge,x,at_height,value,sd\n"
        "s,1,,1,sill,A,,outr,36,,26 3/17,\n"
        "s,,perhaps,1,sill,A,,,40,,26,0\n"
        ",,,,widht,A,middle,,,,36,\n"
        ",,,,,A,middle,,,,36,\n"
        ",,,,width,,midle,,7,,,\n"
        ",,,,lean_in,A,left,inner,,,1-Feb,,extra\n"
        "s,,,first,pad,,one,,,,3,\n"
    )
    assert told(text) == [
        "line 2, column 'edge': 'outr' is not known here. Did you mean 'outer'?",
        "line 2, column 'value': '26 3/17' is not a tape reading: at character 6, '17'. "
        "Tapes divide by 2, 4, 8, 16, 32 or 64; did you mean 26 3/16?",
        "line 3, column 'turned': 'perhaps' is not known here. Known here: yes, no.",
        "line 3, column 'sd': must be more than 0, found 0.",
        "line 4, column 'kind': unknown kind 'widht'. Did you mean 'width'?",
        f"line 5, column 'kind': the kind of reading is missing. Known here: {', '.join(KINDS)}.",
        "line 6, column 'opening': it is empty, and a row of kind 'width' needs it. Width between the jacks.",
        "line 6, column 'value': it is empty, and a row of kind 'width' needs it. Width between the jacks.",
        "line 6, column 'x': a row of kind 'width' has no x. Empty it, or change the kind.",
        "line 6, column 'place': 'midle' is not known here. Did you mean 'middle'?",
        "line 7, row: 'extra' stands under no column. Check the separators.",
        "line 7, column 'at_height': it is empty, and a row of kind 'lean_in' needs it. "
        "How far a jack's top stands into the house.",
        "line 7, column 'edge': a row of kind 'lean_in' has no edge. Empty it, or change the kind.",
        "line 7, column 'value': '1-Feb' is not a tape reading: at character 3, 'Feb'. "
        "The spreadsheet made a date of it: set the column to text, and type it again.",
        "line 8, column 'order': expected a whole number, found 'first'.",
        "line 8, column 'place': expected a whole number, found 'one'.",
        "line 3, column 'order': there is already a shot 1 in set-up 's'. "
        "Number the shots of a set-up one by one.",
    ]


@given(st.text())
def test_any_text_is_read_or_refused(text: str) -> None:
    for start in ("", "kind,value\n", "setup;kind;opening;place;value\n"):
        try:
            readings_from_csv(start + text, unit="mm")
        except BadInput as error:
            told_of = error.faults
        else:
            told_of = ()
        assert all(fault.what for fault in told_of)
