from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.materials.products import roll

from sillwright.errors import BadInput
from sillwright.findings import Finding
from sillwright.materials import Touch, check_touching, compatible, families, family
from sillwright.materials.families import rows
from sillwright.materials.pairs import ADVICE, CAUTION, SEVERITY

NAMES = st.sampled_from([each.name for each in families()])
GROUPS = {group for each in families() for group in each.groups} | {"anything"}


@given(NAMES, NAMES)
def test_a_pair_has_one_verdict_whichever_way_round(a: str, b: str) -> None:
    assert compatible(a, b) == compatible(b, a)


def test_every_statement_names_families_or_groups_that_exist_and_a_known_verdict() -> None:
    for row in rows("pairs"):
        texts = row.texts
        assert {texts["family_a"], texts["family_b"]} <= GROUPS, row.keys["id"]
        assert texts["verdict"] in CAUTION
        assert texts["status"] in {"read", "second-hand", "memory", "gap"}
        assert texts["why"]
        assert texts["said"]
        assert texts["status"] == "gap" or texts["source"]


def test_every_statement_decides_some_pair() -> None:
    names = [each.name for each in families()]
    decided = {compatible(a, b).row for a in names for b in names}
    overruled = {"CC-016"}  # as narrow and as cautious as the statement on any tape
    assert {row.keys["id"] for row in rows("pairs")} - overruled <= decided


def test_a_pair_that_nobody_speaks_of_is_asked_about() -> None:
    found = compatible("wall wrap", "polyurethane sealant")
    assert (found.verdict, found.row) == ("ask", "CC-039")
    assert found.why.startswith("no published statement: ask both makers")


def test_the_narrower_statement_counts() -> None:
    assert compatible("silicone sealant", "rubberized asphalt tape").row == "CC-003"  # not curing sealants
    assert compatible("acetoxy silicone sealant", "rubberized asphalt tape").row == "CC-027"
    assert compatible("butyl tape", "solvent-bearing sealant").row == "CC-010"
    assert compatible("butyl tape", "rough or dusty wood").row == "CC-012"
    assert compatible("bare copper", "aluminum").row == "CC-032"  # not any two metals


def test_of_two_statements_as_narrow_the_more_cautious_counts() -> None:
    # acrylic tape sticks to most surfaces; makers of tapes differ on primer for OSB
    assert compatible("acrylic tape", "OSB").verdict == "ask about primer"
    assert compatible("acrylic tape", "wood").verdict == "accepted"


@pytest.mark.parametrize(
    ("a", "b"),
    [
        ("rubberized asphalt tape", "butyl tape"),
        ("butyl tape", "silicone sealant"),
        ("butyl tape", "flexible PVC"),
        ("flexible PVC", "STPE sealant"),
        ("EPDM", "polyurethane sealant"),
    ],
)
def test_what_was_looked_for_and_not_found_is_tested_and_says_so(a: str, b: str) -> None:
    found = compatible(a, b)
    assert (found.verdict, found.status) == ("test", "gap")


def test_one_metal_is_not_dissimilar_from_itself_but_two_are() -> None:
    assert compatible("aluminum", "aluminum").verdict == "accepted"
    assert compatible("aluminum", "stainless steel").verdict == "isolate"
    assert compatible("butyl tape", "butyl tape").verdict == "ask"


def test_an_unknown_family_is_refused() -> None:
    with pytest.raises(BadInput):
        compatible("butyl tape", "glue")


def _found(a_family: str, b_family: str) -> Finding | None:
    found = check_touching([Touch(a=roll("one", a_family), b=roll("two", b_family), where="A.sill")])
    return found[0] if found else None


@pytest.mark.parametrize(
    ("a", "b", "severity"),
    [
        ("rubberized asphalt tape", "flexible PVC", "stop"),
        ("rubberized asphalt tape", "polyurethane sealant", "fix"),
        ("stainless steel", "aluminum", "fix"),
        ("silicone sealant", "wood", "fix"),
        ("rubberized asphalt tape", "EPDM", "watch"),
        ("rubberized asphalt tape", "OSB", "watch"),
        ("wall wrap", "polyurethane sealant", "watch"),
        ("butyl tape", "EPDM", None),
    ],
)
def test_the_verdict_sets_the_severity(a: str, b: str, severity: str | None) -> None:
    found = _found(a, b)
    assert (found.severity if found else None) == severity
    if found:
        assert found.place == "A.sill"
        assert found.source
        assert found.id == "finding.pair.one.two"


def test_every_verdict_has_a_severity_and_advice_but_acceptance() -> None:
    assert {*SEVERITY} == {*ADVICE} == {*CAUTION} - {"accepted"}


def test_a_pair_is_told_once_with_all_its_places() -> None:
    tape, bead = roll("roll R", "rubberized asphalt tape"), roll("bead S", "silicone sealant")
    touches = [Touch(a=tape, b=bead, where="A.sill"), Touch(a=bead, b=tape, where="B.sill")]
    (found,) = check_touching([*touches, touches[0]])
    assert "at the A.sill, the B.sill: avoid unless tested" in found.message
    assert found.place == ""
    assert found.id == "finding.pair.bead S.roll R"


def test_nothing_is_asked_of_a_product_with_itself_of_one_system_or_of_wood_on_boards() -> None:
    tape = roll("roll R", "rubberized asphalt tape")
    bead = roll("bead S", "silicone sealant", system="S")
    other = roll("roll S", "rubberized asphalt tape", system="S")
    wood, board = roll("stud", "wood"), roll("sheathing", "OSB")
    pairs = ((tape, tape), (bead, other), (wood, board))
    assert check_touching([Touch(a=a, b=b, where="A") for a, b in pairs]) == ()
    assert check_touching([Touch(a=bead, b=tape, where="A")]) != ()


def test_a_sheet_that_accepts_settles_a_test_and_a_question_but_no_avoid() -> None:
    epdm, pvc, bead = roll("E", "EPDM"), roll("P", "flexible PVC"), roll("bead", "polyurethane sealant")
    tape = roll("roll R", "rubberized asphalt tape", accepts=("EPDM", "flexible PVC", "polyurethane sealant"))
    assert check_touching([Touch(a=epdm, b=tape, where="A")]) == ()
    assert check_touching([Touch(a=tape, b=pvc, where="A")])[0].severity == "stop"
    assert check_touching([Touch(a=tape, b=bead, where="A")])[0].severity == "fix"


def test_a_sheet_that_refuses_stops_and_is_named_with_its_date() -> None:
    tape, epdm = roll("roll A", "butyl tape", refuses=("EPDM",)), roll("E", "EPDM", accepts=("butyl tape",))
    (found,) = check_touching([Touch(a=epdm, b=tape, where="A")])
    assert found.severity == "stop"
    assert found.source == "product sheet of roll A, dated 2026-03-02, as the job states it"


def test_a_sheet_settles_the_question_of_primer_either_way() -> None:
    board = roll("sheathing", "OSB")
    wants = roll("roll A", "acrylic tape", primer_on=("OSB",), primer="primer P on OSB")
    (found,) = check_touching([Touch(a=wants, b=board, where="A")])
    assert (found.severity, "primer P on OSB" in found.message) == ("fix", True)
    for primer_on in ((), ("concrete or masonry",)):
        never = roll("roll A", "acrylic tape", primer_on=primer_on)
        assert check_touching([Touch(a=never, b=board, where="A")]) == ()
    told = roll("roll A", "butyl tape", primer_on=())
    assert check_touching([Touch(a=told, b=roll("B", "concrete or masonry"), where="A")]) == ()
    assert check_touching([Touch(a=told, b=roll("E", "silicone sealant"), where="A")])[0].limit == "test"


def test_what_rests_on_memory_says_so() -> None:
    found = _found("acetoxy silicone sealant", "bare copper")
    assert found is not None
    assert found.source.endswith("(in part or in whole from memory: look it up)")


def test_kinds_are_the_ones_the_program_knows() -> None:
    assert {family(name).kind for name in ("OSB", "wood", "concrete or masonry")} == {
        "board",
        "wood",
        "masonry",
    }
