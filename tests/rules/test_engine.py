from __future__ import annotations

import dataclasses
import itertools
from dataclasses import dataclass

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.rules.samples import Facts, check

from sillwright.rules import (
    Case,
    FactMissing,
    OutsideTable,
    Source,
    Verdict,
    catalogue,
    examine,
    gathered,
    rule_book,
    run,
)

BOOK = rule_book("2018")


def test_a_check_that_is_not_met_says_value_limit_source_and_who_decides() -> None:
    (finding,) = run([check()], Facts(opens=True, sill=46.5), BOOK, place="A")
    assert finding.id == "finding.sample.sill.A"
    assert finding.severity == "fix"
    assert finding.message == 'The sill at A is 46 1/2"; at most 44" is allowed.'
    assert finding.advice == "Lower it. Who decides: building department."
    assert finding.source == "IRC 2018, R310.2.2"
    assert (finding.place, finding.mark) == ("A", "sill")
    assert (finding.value, finding.limit) == ('46 1/2"', 'at most 44"')


def test_a_check_that_is_met_gives_no_finding_but_a_result_for_the_inspector() -> None:
    assert run([check()], Facts(opens=True, sill=44), BOOK) == ()
    (result,) = examine([check()], Facts(opens=True, sill=44), BOOK)
    assert (result.status, result.value, result.limit) == ("met", '44"', 'at most 44"')


def test_a_check_that_does_not_apply_gives_no_finding_and_says_so() -> None:
    (result,) = examine([check()], Facts(opens=False), BOOK)
    assert (result.status, result.finding) == ("does not apply", None)


def test_a_missing_fact_is_said_and_never_passed() -> None:
    (finding,) = run([check()], Facts(opens=True), BOOK, place="A")
    assert finding.severity == "watch"
    assert finding.message == "Not checked: height of the sill at A; needs: the height of the sill."


def test_a_missing_fact_is_a_stop_where_the_work_presses() -> None:
    pressing = check(pressing="cut")
    severities = [
        run([pressing], Facts(opens=True, cut=cut), BOOK)[0].severity for cut in (True, False, None)
    ]
    assert severities == ["stop", "watch", "watch"]


def test_a_lookup_beyond_its_table_is_a_stop_that_names_the_bound() -> None:
    def beyond(case: Case) -> Verdict | None:
        case.row("fenestration", {"edition": "2018", "climate_zone": case.word("zone")})
        return None

    (finding,) = run([check(beyond)], Facts(zone="9"), BOOK, place="A")
    assert finding.severity == "stop"
    assert finding.message.startswith("Height of the sill at A: outside this table: needs an engineer.")
    assert "it has no climate zone '9'" in finding.message


def test_the_section_is_that_of_the_edition_and_memory_is_admitted() -> None:
    (finding,) = run([check()], Facts(opens=True, sill=50), rule_book("2021"))
    assert finding.source == "IRC 2021, R310.2.3; from memory: look it up in the print"


def test_a_source_without_editions_stands_as_it_is() -> None:
    assert Source(title="40 CFR 745", section="subpart E", has_editions=False).said("2018") == (
        "40 CFR 745, subpart E"
    )


def test_lengths_are_shown_in_the_units_of_the_job() -> None:
    (finding,) = run([check()], Facts(opens=True, sill=46.5), BOOK, units="mm")
    assert (finding.value, finding.limit) == ("1181.1 mm", "at most 1117.6 mm")


@pytest.mark.parametrize("over", [1e-3, 1e-6])
@pytest.mark.parametrize("units", ["in", "mm"])
def test_a_value_just_over_its_limit_never_reads_the_same_as_the_limit(over: float, units: str) -> None:
    (finding,) = run([check()], Facts(opens=True, sill=44 + over), BOOK, units=units)  # type: ignore[arg-type]
    assert finding.value not in finding.limit


def test_the_last_bits_of_a_sum_pass_no_limit() -> None:
    assert run([check()], Facts(opens=True, sill=44 + 1e-9), BOOK) == ()


def test_a_value_tells_itself_from_its_limit_in_as_few_digits_as_it_takes() -> None:
    (finding,) = run([check()], Facts(opens=True, sill=44.001), BOOK)
    assert finding.value == "44.001 in"


def test_checks_of_one_group_that_lack_facts_are_told_together() -> None:
    other = check(id="sample.other", title="something else")
    apart = check(id="apart", title="another matter")
    findings = gathered(examine([check(), other, apart], Facts(opens=True), BOOK, place="A"))
    assert [finding.id for finding in findings] == [
        "finding.sample.unchecked.A",
        "finding.apart.unchecked.A",
    ]
    assert findings[0].message == (
        "Not checked at A: height of the sill, something else; needs: the height of the sill."
    )


def test_what_is_not_met_or_pressing_is_told_each_by_itself() -> None:
    pressing = check(id="sample.other", pressing="cut")
    facts = Facts(opens=True, cut=True)
    assert [f.id for f in gathered(examine([pressing, check()], facts, BOOK))] == [
        "finding.sample.other",
        "finding.sample.unchecked",
    ]


def test_the_catalogue_lists_every_check_with_its_limits_and_source() -> None:
    (row,) = catalogue([check()], rule_book("2021"))
    assert (row.id, row.source, row.edition) == ("sample.sill", "IRC 2021, R310.2.3", "2021")
    assert row.limits[0] == "escape.sill = 44 in (from memory: look it up in the print)"
    assert row.limits[-1] == "IECC, residential, Table R402.1.2"


def test_two_checks_under_one_id_are_refused() -> None:
    with pytest.raises(ValueError, match=r"share an id: sample\.sill"):
        catalogue([check(), check()], BOOK)


@pytest.mark.parametrize("what", ["fact", "limit", "table"])
def test_a_check_that_asks_for_what_it_does_not_list_is_a_fault_of_the_check(what: str) -> None:
    def asks(case: Case) -> Verdict | None:
        {"fact": case.fact, "limit": case.limit, "table": case.table}[what](
            {"fact": "sill", "limit": "escape.sill", "table": "headers"}[what]
        )
        return None

    unlisted = check(asks, facts=(), limits=(), tables=())
    with pytest.raises(LookupError, match="which it does not list"):
        run([unlisted], Facts(sill=1), BOOK)


@dataclass(frozen=True, slots=True, kw_only=True)
class Three:
    a: bool | None = dataclasses.field(default=None, metadata={"said": "a"})
    b: bool | None = dataclasses.field(default=None, metadata={"said": "b"})
    c: bool | None = dataclasses.field(default=None, metadata={"said": "c"})


@given(known=st.tuples(*[st.sampled_from([True, False, None])] * 3), together=st.sampled_from([all, any]))
def test_joined_conditions_answer_exactly_when_what_is_known_settles_them(
    known: tuple[bool | None, ...], together: type
) -> None:
    case = Case(check(facts=("a", "b", "c")), Three(a=known[0], b=known[1], c=known[2]), BOOK, units="in")
    join = case.every if together is all else case.some
    conditions = [lambda name=name: case.yes(name) for name in "abc"]
    # every way the unknown ones could turn out
    ways = itertools.product(*[[x] if x is not None else [True, False] for x in known])
    answers = {bool(together(way)) for way in ways}
    if len(answers) == 1:
        assert join(*conditions) == answers.pop()
    else:
        with pytest.raises(FactMissing) as lack:
            join(*conditions)
        assert list(lack.value.words) == [n for n, x in zip("abc", known, strict=True) if x is None]


def test_a_table_that_sets_no_requirement_is_no_number_to_compare_with() -> None:
    row = BOOK.tables["fenestration"].find({"edition": "2018", "climate_zone": "6"})
    with pytest.raises(OutsideTable):
        row.number("shgc_max")
