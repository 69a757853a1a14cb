from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.job.documents import SMALL

from sillwright.errors import BadInput
from sillwright.job import merge_csv, read_job
from sillwright.job.csv_readings import CSV_COLUMNS, KINDS
from sillwright.job.model import Job, Reading

JOB = (
    SMALL
    + """
[[mark]]
name = "M1"
x = 2

[[setup]]
name = "lawn"
x = 20
series = [
  { sill = "A", x = 36, down = "26 3/16" }, # wet
]

[wall.string]
height = 40
clear = 2
offsets = []
"""
)
HEADER = "setup,setup_x,turned,order,kind,opening,place,edge,x,at_height,value,sd,instrument,by,note\n"


def row(**cells: Any) -> str:
    return ",".join(str(cells.get(column, "")) for column in CSV_COLUMNS) + "\n"


def merged(*rows: str) -> Job:
    return read_job(merge_csv(JOB, HEADER + "".join(rows)))


def told(*rows: str, job: str = JOB) -> list[str]:
    with pytest.raises(BadInput) as caught:
        merge_csv(job, HEADER + "".join(rows))
    return [str(fault) for fault in caught.value.faults]


def texts(readings: tuple[Reading, ...] | None) -> list[str]:
    return [reading.text for reading in readings or ()]


RISING_RIGHT, RISING_LEFT = "bottom_left_to_top_right", "bottom_right_to_top_left"
TAPED: list[tuple[dict[str, Any], Any]] = [
    ({"kind": "jack", "place": "left"}, lambda o: o.left_jack_x),
    ({"kind": "jack", "place": "right"}, lambda o: o.right_jack_x),
    ({"kind": "width", "place": "bottom"}, lambda o: o.width.bottom),
    ({"kind": "width", "place": "top", "edge": "inner"}, lambda o: o.width_inner.top),
    ({"kind": "height", "place": "centre"}, lambda o: o.height.centre),
    ({"kind": "height", "place": "left", "edge": "inner"}, lambda o: o.height_inner.left),
    (
        {"kind": "diagonal", "place": "bottom_left_to_top_right"},
        lambda o: o.diagonal.bottom_left_to_top_right,
    ),
    (
        {"kind": "diagonal", "place": "bottom_right_to_top_left"},
        lambda o: o.diagonal.bottom_right_to_top_left,
    ),
    ({"kind": "lean_right", "place": "left", "at_height": 44}, lambda o: o.plumb.left.top_leans_right),
    ({"kind": "lean_in", "place": "right", "at_height": 44}, lambda o: o.plumb.right.top_leans_in),
    ({"kind": "string_gap"}, lambda o: o.string_gap),
    ({"kind": "thickness", "place": "bottom_left"}, lambda o: o.wall_thickness.bottom_left),
]


@pytest.mark.parametrize(("cells", "where"), TAPED)
def test_a_taped_reading_goes_to_its_place(cells: dict[str, Any], where: Any) -> None:
    job = merged(row(opening="A", value="3/8 strong", by="Ann", sd="1/32", note="dry", **cells))
    (reading,) = where(job.opening[0])
    assert (reading.text, reading.by, reading.sd, reading.note) == ("3/8 strong", "Ann", 1 / 32, "dry")


@pytest.mark.parametrize(("cells", "where"), TAPED)
def test_a_place_read_before_gets_one_more_reading(cells: dict[str, Any], where: Any) -> None:
    job = merged(*(row(opening="A", value=value, **cells) for value in (1, 2, "3")))
    assert texts(where(job.opening[0])) == ["1", "2", "3"]


def test_a_reading_in_the_file_stays_in_front() -> None:
    job = merged(row(kind="width", opening="A", place="middle", value="36 1/4"))
    assert texts(job.opening[0].width.middle) == ["36 3/16", "36 1/4"]


def test_both_leans_of_a_jack_share_their_height() -> None:
    rows = [
        row(kind=kind, opening="A", place="left", at_height="44 1/2", value="1/16")
        for kind in ("lean_in", "lean_right")
    ]
    lean = merged(*rows).opening[0].plumb.left
    assert lean is not None
    assert lean.over_height == 44.5
    assert (texts(lean.top_leans_in), texts(lean.top_leans_right)) == (["1/16"], ["1/16"])
    other = row(kind="lean_in", opening="A", place="left", at_height=40, value="1/16")
    assert told(*rows, other) == [
        "line 4, column 'at_height': the leans of this jack are over another height already. "
        "Take both leans of a jack over one height."
    ]


def test_a_plumb_line_goes_up_from_the_sill() -> None:
    heights = [30, 10, 20, 10]
    rows = [
        row(kind="plumb_line", opening="A", place="left", at_height=height, value=value)
        for height, value in zip(heights, "3124", strict=True)
    ]
    first = merge_csv(JOB, HEADER + "".join(rows[:2]))
    line = read_job(merge_csv(first, HEADER + "".join(rows[2:]))).opening[0].plumb_line.left
    assert line is not None
    assert list(line.at) == [10, 20, 30]
    assert [texts(gap) for gap in line.gap] == [["1", "4"], ["2"], ["3"]]


def test_shots_join_their_set_up_in_order() -> None:
    job = merged(
        row(setup="lawn", order=2, kind="head", opening="A", x=40, edge="inner", value="-30 1/4"),
        row(setup="lawn", order=1, kind="mark", place="M1", value="30 1/8"),
        row(setup="lawn", order=3, kind="point", place="floor, wet", x=3, value=40).replace(
            "floor, wet", '"floor, wet"'
        ),
    )
    first, *added = job.setup[0].series
    assert first.sill == "A"
    assert [(shot.mark, shot.head, shot.point, shot.x, shot.edge) for shot in added] == [
        ("M1", None, None, None, "outer"),
        (None, "A", None, 40, "inner"),
        (None, None, "floor, wet", 3, "outer"),
    ]


def test_a_new_set_up_stands_where_it_is_said() -> None:
    job = merged(
        row(setup="porch", kind="sill", opening="A", x=36, value="27"),
        row(setup="porch", setup_x="90 1/2", turned="Yes", kind="mark", place="M2", x=99, value="31"),
    )
    assert [setup.name for setup in job.setup] == ["lawn", "porch"]
    assert (job.setup[1].x, job.setup[1].turned, len(job.setup[1].series)) == (90.5, True, 2)


def test_pads_make_a_set_up_of_the_reshoot() -> None:
    job = merged(
        row(setup="again", setup_x=50, kind="mark", place="M1", value=30),
        row(setup="again", kind="pad", place=1, x=36, value="26 1/16"),
    )
    assert [setup.name for setup in job.reshoot] == ["again"]
    assert job.reshoot[0].series[1].pad == 1


def test_the_string_along_the_wall_takes_its_gaps() -> None:
    job = merged(row(kind="wall_string", x=0, value=2), row(kind="wall_string", x=40, value="1 7/8"))
    assert job.wall.string is not None
    assert [(offset.x, texts(offset.gap)) for offset in job.wall.string.offsets] == [
        (0, ["2"]),
        (40, ["1 7/8"]),
    ]


def test_every_kind_has_been_merged_here() -> None:
    taped = {cells["kind"] for cells, _ in TAPED}
    assert taped | {"plumb_line", "mark", "head", "point", "sill", "pad", "wall_string"} == set(KINDS)


def test_everything_else_in_the_file_stays_as_it_was() -> None:
    text = merge_csv(JOB, HEADER + row(setup="lawn", kind="sill", opening="A", x=70, value=26))
    added = '  { sill = "A", x = 70, down = 26 },\n'
    assert text == JOB.replace("# wet\n", "# wet\n" + added)


def test_names_that_the_job_does_not_have_are_told_with_bad_cells() -> None:
    assert told(
        row(kind="width", opening="AA", place="middle", value="1/3"),
        row(setup="lawn", kind="mark", place="M9", value=1),
        row(setup="new", kind="sill", opening="A", x=1, value=1),
        row(kind="string_gap", opening="A", value=1, instrument="tape"),
    ) == [
        "line 2, column 'value': '1/3' is not a tape reading: at character 3, '3'. "
        "Tapes divide by 2, 4, 8, 16, 32 or 64; did you mean 5/16?",
        "line 2, column 'opening': the job has no opening 'AA'. Did you mean 'A'?",
        "line 3, column 'place': nothing says where mark 'M9' is. "
        "Give its x, or add its [[mark]] to the job file first.",
        "line 4, column 'setup_x': set-up 'new' is new, and nothing says where the laser stood. "
        "Give it in one of its rows.",
        "line 5, column 'instrument': the job has no instrument 'tape'. "
        "Add its [[instrument]] to the job file first.",
    ]


def test_a_set_up_that_moved_and_a_size_below_nothing_are_refused() -> None:
    assert told(
        row(setup="lawn", setup_x=30, kind="sill", opening="A", x=36, value=26),
        row(kind="width", opening="A", place="top", value="-3"),
    ) == [
        "line 2, column 'setup_x': set-up 'lawn' stood elsewhere before. Give a new set-up its own name.",
        "line 3, column 'value': must be more than 0, found -3. Read it again.",
    ]


def test_a_gap_from_no_string_is_refused() -> None:
    assert told(row(kind="wall_string", x=0, value=2), job=SMALL) == [
        "line 2, column 'kind': the job has no string along the wall. "
        "Add [wall.string] with its height and clear, and offsets = []."
    ]


cells = st.fixed_dictionaries(
    {"kind": st.sampled_from(sorted(KINDS)), "value": st.sampled_from(["1", "3/8", "-2", "x", ""])},
    optional={
        "opening": st.sampled_from(["A", "B"]),
        "place": st.sampled_from(["left", "right", "middle", "top", "M1", "1", "top_left"]),
        "setup": st.sampled_from(["lawn", "porch", "]"]),
        "setup_x": st.sampled_from(["20", "30"]),
        "x": st.sampled_from(["1", "30"]),
        "at_height": st.sampled_from(["10", "20"]),
        "edge": st.sampled_from(["inner", "outer"]),
        "note": st.sampled_from(['"# ]"', "wet"]),
    },
)


@settings(max_examples=80, deadline=None)
@given(st.lists(cells, max_size=5))
def test_any_rows_are_added_or_refused(rows: list[dict[str, str]]) -> None:
    text = HEADER + "".join(row(**each) for each in rows)
    try:
        result = merge_csv(JOB, text)
    except BadInput as error:
        told_of = [fault.where for fault in error.faults]
    else:
        told_of = []
        assert read_job(result)
    assert all(told_of)
