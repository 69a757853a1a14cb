from __future__ import annotations

import datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.errors import BadInput
from sillwright.findings import Finding, Severity
from sillwright.rules import Answer, apply_answers

DAY = datetime.date(2026, 5, 4)


def _finding(
    ident: str = "finding.header.span.A", severity: Severity = "stop", value: str = '102"'
) -> Finding:
    return Finding(id=ident, severity=severity, message="m", advice="a", source="s", value=value)


def _answer(finding: str = "finding.header.span.A", **more: object) -> Answer:
    data: dict[str, object] = {"finding": finding, "by": "engineer's letter", "date": DAY}
    return Answer(**(data | more))  # type: ignore[arg-type]


def test_an_answered_stop_is_kept_to_watch_with_who_when_and_what() -> None:
    (finding,) = apply_answers([_finding()], [_answer(note="3-2x12", value='102"')])
    assert finding.severity == "watch"
    assert finding.answer == "stop answered by engineer's letter, 2026-05-04, for 102\": 3-2x12"
    assert (finding.id, finding.message) == ("finding.header.span.A", "m")


def test_an_answer_for_one_value_does_not_hold_for_another() -> None:
    (finding,) = apply_answers([_finding(value='120"')], [_answer(value='102"')])
    assert finding.severity == "stop"
    assert finding.answer.startswith("Not settled: the answer by engineer's letter, 2026-05-04, for 102\".")
    assert finding.answer.endswith('The finding is now 120".')


def test_an_answer_that_states_no_value_is_shown_as_such() -> None:
    (finding,) = apply_answers([_finding()], [_answer()])
    assert "for no stated value" in finding.answer


def test_of_two_answers_the_later_counts_and_both_are_shown() -> None:
    later = _answer(by="inspector", date=datetime.date(2026, 6, 1), value='99"')
    (finding,) = apply_answers([_finding()], [later, _answer(value='102"')])
    assert finding.severity == "stop"
    (finding,) = apply_answers([_finding(value='99"')], [later, _answer(value='102"')])
    assert finding.severity == "watch"
    assert finding.answer.index("inspector") < finding.answer.index("engineer")


def test_an_answer_to_nothing_is_said_and_not_dropped() -> None:
    findings = apply_answers([_finding()], [_answer("finding.header.span.B")])
    assert findings[0] == _finding()
    assert findings[1].severity == "watch"
    assert findings[1].message.startswith("An answer to finding.header.span.B answers nothing now")


@pytest.mark.parametrize("key", ["finding", "by"])
def test_an_answer_without_a_finding_or_a_name_is_refused(key: str) -> None:
    with pytest.raises(BadInput, match=rf"answer\.{key}: must not be empty"):
        _answer(**{key: "  "})


@given(
    severities=st.lists(st.sampled_from(["stop", "fix", "watch"]), max_size=6),
    answered=st.sets(st.integers(0, 8)),
)
def test_no_finding_is_lost_and_only_answered_ones_change(
    severities: list[Severity], answered: set[int]
) -> None:
    findings = [_finding(f"f{n}", severity) for n, severity in enumerate(severities)]
    found = apply_answers(findings, [_answer(f"f{n}") for n in answered])
    assert [each.id for each in found[: len(findings)]] == [each.id for each in findings]
    for n, (before, after) in enumerate(zip(findings, found, strict=False)):
        assert (before == after) == (n not in answered)
    assert len(found) == len(findings) + len([n for n in answered if n >= len(findings)])
