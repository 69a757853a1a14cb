"""Words on a terminal: narrow or wide, in colour or not, and never steered by what is in a file."""

from __future__ import annotations

import dataclasses

import pytest
from tests.plan_fixture import JOB_TEXT, a_job, a_plan

from sillwright.cli.say import Words, printable, say, wrapped
from sillwright.cli.summary import explained, summary
from sillwright.explain import explain
from sillwright.job import Document, read_document
from sillwright.plan import Plan

LONG = Words("a finding that goes on " * 8, "fix", "FIX", 2)


def _document() -> Document:
    return read_document(JOB_TEXT)


def _said(plan: Plan) -> list[str]:
    return [
        f"{words.lead}  {words.text}" if words.lead else words.text for words in summary(plan, _document())
    ]


@pytest.mark.parametrize("width", [24, 40, 80, 200])
def test_no_line_is_wider_than_the_terminal(width: int) -> None:
    for words in [LONG, *summary(a_plan(), _document())]:
        for line in wrapped(words, width):
            assert len(line) <= width


def test_a_terminal_of_no_width_still_gets_words() -> None:
    assert all(len(line) <= 24 for line in wrapped(LONG, 1))


def test_a_paragraph_hangs_below_its_first_word() -> None:
    first, second, *_ = wrapped(LONG, 80)
    assert first.startswith("  FIX  a finding")
    assert second.startswith("       ")


def test_signs_that_would_steer_a_terminal_are_left_out() -> None:
    assert printable("a\x1b[31mb\r\nc\u202ed") == "a [31mb  c d"
    assert printable("27 ⅜ é ″") == "27 ⅜ é ″"


@pytest.mark.parametrize(
    ("environment", "coloured"),
    [
        ({"FORCE_COLOR": "1", "TERM": "xterm"}, True),
        ({"FORCE_COLOR": "1", "TERM": "xterm", "NO_COLOR": "1"}, False),
        ({}, False),
    ],
)
def test_colour_is_for_terminals_that_want_it(
    environment: dict[str, str],
    coloured: bool,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    for name in ("FORCE_COLOR", "NO_COLOR", "TERM"):
        monkeypatch.delenv(name, raising=False)
    for name, value in environment.items():
        monkeypatch.setenv(name, value)
    say([Words("the line is level", "fix", "FIX", 2)])
    said = capsys.readouterr().out
    assert ("\x1b[1;33m" in said or "\x1b[33m" in said) == coloured
    assert "the line is level" in said


def test_suspects_come_before_findings_and_are_told_once() -> None:
    said = _said(a_plan())
    text = "\n".join(said)
    assert text.index("Readings to take again") < text.index("Findings") < text.index("Level line")
    assert text.count("A: width, middle reads 37 1/8; the rest of the wall says 36 1/8.") == 1
    line = JOB_TEXT[: JOB_TEXT.index("width = {")].count("\n") + 1
    assert f"[line {line}, opening[0].width.middle]" in text


def test_every_part_of_the_plan_is_told() -> None:
    text = "\n".join(_said(a_plan()))
    for part in (
        "Low end: A at 64. High point: A at 48, 1/2 higher. (row.1)",
        "Level line of A: 4 above M1; undersides of the units 4 1/2 above M1. ",
        "3 pads, 0 to 1/2 at the front. (line.1)",
        "Instead: Plane the hump at 48 by 1/8 and save one pad. (option.2)",
        "Plane A, outer edge, from 44 to 52: 1/16 at 48. (run.1)",
        "Trim the left jack of A by 1/8. (trim.1)",
        "STOP  A: one line for the row; no pad over 1/8. Least change: Allow pads of 1/2. (conflict.1)",
        "room left 1/2, right 13/32, head not determined; fits with 99.9%, but not known: head of A.",
        "A: 35 1/4 × 47 fits with 99.4% (99.0% asked). (order.A)",
        "Pads shot again: correct",
        "Add 1/16 at the front of pad 3. (reshoot.3.outer)",
        "Measure next, to decide: whether the unit of A fits",
        "A: height, centre: takes 80% of the uncertainty away. (next.1)",
        "Old paint may hold lead: test before you sand.",
        "Take it again. Answered: taped again on Tuesday: 36 1/8. (finding.1)",
        "Invented demonstration data.",
    ):
        assert part in text


def test_a_plan_without_trouble_says_so() -> None:
    plan = a_plan()
    survey = dataclasses.replace(plan.survey, suspects=(), disturbed=())
    text = "\n".join(_said(dataclasses.replace(plan, survey=survey, findings=())))
    assert "Readings: none contradicts the others" in text
    assert "Findings" not in text


def test_what_is_not_determined_is_said_and_not_invented() -> None:
    plan = a_plan()
    unit = dataclasses.replace(plan.setting.units[0], fit=None, position_known=False, left_clearance=None)
    order = dataclasses.replace(plan.setting.order_sizes[0], largest=None)
    setting = dataclasses.replace(plan.setting, units=(unit,), order_sizes=(order,))
    text = "\n".join(_said(dataclasses.replace(plan, setting=setting)))
    assert "(no jack was taped from the wall mark)" in text
    assert "room left not determined" in text
    assert "fit not determined" in text
    assert "none on offer fits with 99.0%, or it is not determined." in text


def test_whole_millimetres_are_told_without_decimals() -> None:
    text = "\n".join(_said(dataclasses.replace(a_plan(), units="mm")))
    assert "101.6 mm above M1" in text  # 4 in
    assert ".0 mm" not in text


def test_an_explanation_says_where_in_the_file_a_reading_stands() -> None:
    explanation = explain(a_job(), a_plan(), "A.width.middle")
    text = "\n".join(words.text for words in explained(explanation, _document()))
    line = JOB_TEXT[: JOB_TEXT.index("width = {")].count("\n") + 1
    assert f"place in the job file: opening[0].width.middle (line {line})" in text
    assert "Formula" in text
    assert "See also: suspect.1" in text
