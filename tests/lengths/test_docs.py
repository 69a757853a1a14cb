"""The page on lengths tells the truth: its tables and messages are run."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from sillwright.errors import BadInput
from sillwright.lengths import Unit, parse
from sillwright.lengths.notation import SHY, STRONG

PAGE = (Path(__file__).parent.parent.parent / "docs" / "lengths.md").read_text(encoding="utf-8")
WRITTEN = re.findall(r"^\| `([^`]+)` \| (-?[\d.]+) \| (in|mm|both) \|$", PAGE, re.MULTILINE)
QUALIFIED = re.findall(r"^\| `([^`]+)`[^|]*\|[^|]*\| ([\d./]+) (in|mm) \| ([\d.]+) ", PAGE, re.MULTILINE)
MESSAGES = re.findall(r"^'(.+)' is not a tape reading: .*$", PAGE, re.MULTILINE)
BOTH: tuple[Unit, Unit] = ("in", "mm")


def test_the_page_has_its_tables() -> None:
    assert len(WRITTEN) == PAGE.split("## Strong")[0].count("\n| `")
    assert len(QUALIFIED) == 4
    assert len(MESSAGES) == 3


@pytest.mark.parametrize(("text", "inches", "job"), WRITTEN)
def test_each_written_form_reads_as_the_page_says(text: str, inches: str, job: str) -> None:
    for unit in BOTH:
        if job in (unit, "both"):
            assert parse(text, unit=unit).value == float(inches)


@pytest.mark.parametrize(("text", "offset", "unit", "spread"), QUALIFIED)
def test_each_qualifier_moves_and_spreads_as_the_page_says(
    text: str, offset: str, unit: str, spread: str
) -> None:
    plain, said = parse(text.rpartition(" ")[0]), parse(text)
    inch = 1 / 25.4 if unit == "mm" else 1
    top, _, bottom = offset.partition("/")
    assert abs(said.value - plain.value) == pytest.approx(float(top) / float(bottom or 1) * inch, rel=1e-12)
    half_a_digit = 0.5 * 10 ** -len(spread.partition(".")[2])
    assert said.spread / inch == pytest.approx(float(spread), abs=half_a_digit)


def test_the_page_names_every_qualifier_and_no_other() -> None:
    rows = [row for row in PAGE.splitlines() if "the mark |" in row]
    named = [re.findall(r"`([^`]+)`", row) for row in rows]
    assert named == [list(STRONG), list(SHY)]


@pytest.mark.parametrize("text", MESSAGES)
def test_each_message_reads_as_the_page_says(text: str) -> None:
    with pytest.raises(BadInput) as caught:
        parse(text)
    assert str(caught.value).removeprefix("reading: ") in PAGE.splitlines()
