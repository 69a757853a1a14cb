"""The table store of the structure package: headers, lookups, refusals; and each table's own order."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import pytest

import sillwright.structure
from sillwright.errors import OutOfRange
from sillwright.structure.tables import Row, cell, load_table, next_up, select

NAMES = sorted(path.stem for path in (Path(sillwright.structure.__file__).parent / "data").glob("*.csv"))
RIM = load_table("ledger_rim")
LAG = select(RIM, band="1-1/8 in engineered rim", fastener="lag")


@pytest.mark.parametrize("name", NAMES)
def test_every_table_says_where_it_comes_from_and_which_rows_nobody_saw(name: str) -> None:
    table = load_table(name)
    assert table.source
    assert table.scope
    assert {row["status"] for row in table.rows if "status" in row} <= {"read", "memory"}
    keys = {row["read_in"] for row in table.rows if "read_in" in row}
    assert all(key in table.read for key in keys), keys


@pytest.mark.parametrize("name", NAMES)
def test_no_table_holds_a_place_twice(name: str) -> None:
    values = {"spacing", "span", "cantilever", "value", "jacks", "side", "diameter", "thickness", "height"}
    values |= {"joist_spacing", "status", "read_in"} - ({"spacing"} if name == "deck_joists" else set())
    if name in {"lag_screws", "wood_screws"}:
        values -= {"diameter"}
    if name == "deck_joists":
        values -= {"spacing"}
    places = [tuple(v for k, v in row.items() if k not in values) for row in load_table(name).rows]
    assert len(places) == len(set(places))


@pytest.mark.parametrize(
    ("name", "along", "value", "growing"),
    [
        ("ledger_rim", "joist_span_ft", "spacing", False),
        ("deck_joists", "spacing", "span", False),
        ("deck_beams", "joist_span_ft", "span", False),
        ("footings_by_area", "area_sqft", "side", True),
        ("headers_single", "width_ft", "span", False),
        ("headers_single", "snow_psf", "span", False),
    ],
)
def test_more_load_never_asks_for_less(name: str, along: str, value: str, growing: bool) -> None:
    columns: tuple[str, ...] = (
        "edition",
        "load_kind",
        "load_psf",
        "fastener",
        "sheathing",
        "band",
        "species",
        "size",
        "beam",
    )
    columns += ("soil_psf", "header", "snow_psf", "width_ft")
    groups: dict[tuple[str, ...], list[Row]] = {}
    for row in load_table(name).rows:
        key = tuple(row[c] for c in columns if c in row and c != along)
        groups.setdefault(key, []).append(row)
    for rows in groups.values():
        rows.sort(key=lambda row: float(row[along]))
        for a, b in pairwise(rows):
            assert (
                (float(a[value]) <= float(b[value])) if growing else (float(a[value]) >= float(b[value]))
            ), (a, b)


def test_a_value_is_told_with_its_row_and_whether_it_was_read() -> None:
    row = next_up(RIM, LAG, "joist_span_ft", 12.0)[0]
    found = cell(RIM, row, "spacing", "joist_span_ft")
    assert (found.value, found.row, found.status) == (14.0, "joist span (ft) 12", "read")
    assert "appendix B, Table 6" in found.source


@pytest.mark.parametrize(("span", "row"), [(0.1, "6"), (6.0, "6"), (6.01, "8"), (12.0, "12"), (17.99, "18")])
def test_between_rows_the_next_one_up_is_taken(span: float, row: str) -> None:
    assert next_up(RIM, LAG, "joist_span_ft", span)[0]["joist_span_ft"] == row


def test_past_the_last_row_there_is_no_value() -> None:
    with pytest.raises(
        OutOfRange, match=r"needs an engineer; joist span \(ft\) 18.1 is more than 18, the last"
    ):
        next_up(RIM, LAG, "joist_span_ft", 18.1)


def test_a_word_that_is_not_in_a_table_is_refused_with_those_that_are() -> None:
    with pytest.raises(OutOfRange, match=r"fastener nail is not in Wisconsin .* it has bolt, lag"):
        select(RIM, fastener="nail")


def test_a_cell_that_is_not_held_is_refused_and_not_read_as_nothing() -> None:
    table = load_table("deck_joists")
    row = next(row for row in table.rows if not row["cantilever"])
    with pytest.raises(OutOfRange, match=r"the cantilever at .* is not held of edition 2018: IRC"):
        cell(table, row, "cantilever", "size", "spacing")


def test_a_file_without_its_header_is_a_fault_of_ours(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    (tmp_path / "data").mkdir()
    (tmp_path / "data" / "bare.csv").write_text("# source: x\na,b\n1,2\n")
    monkeypatch.setattr("sillwright.structure.tables.files", lambda _: tmp_path)
    with pytest.raises(ValueError, match="table bare: the header lacks scope, units, read, between rows"):
        load_table("bare")


def test_a_row_with_a_cell_too_few_is_a_fault_of_ours(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    (tmp_path / "data").mkdir()
    head = "# source: x\n# scope: x\n# units: x\n# read: x\n# between rows: x\n"
    (tmp_path / "data" / "short.csv").write_text(head + "a,b\n1\n")
    monkeypatch.setattr("sillwright.structure.tables.files", lambda _: tmp_path)
    with pytest.raises(ValueError, match="too many or too few cells"):
        load_table("short")
