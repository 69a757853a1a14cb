"""A ledger case in plain terms put to the checks of the deck and of the structure, nothing else."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from sillwright.deck import CHECKS, LedgerFacts
from sillwright.rules import RuleBook, examine
from sillwright.structure import Attachment, LedgerLoad, attachment_findings, fastener_spacing

Given = Mapping[str, Any]
_BACKINGS = {"brick_veneer": "veneer", "house_overhang": "house overhang"}


def ruling(rule: str, given: Given, book: RuleBook) -> bool:
    """Return whether all checks that a case gives the facts for are met."""
    return _RULES[rule](given, book)


def _met(facts: LedgerFacts, book: RuleBook, *, but: tuple[str, ...]) -> bool:
    """Tell whether all checks are met; `but` names the groups that the case gives no facts for."""
    checks = [check for check in CHECKS if check.id not in but]
    found = {result.check.id: result.status for result in examine(checks, facts, book)}
    assert set(found.values()) <= {"met", "not met"}, found
    return set(found.values()) == {"met"}


def _placement(given: Given, book: RuleBook) -> bool:
    facts = LedgerFacts(
        ledger=given["ledger"],
        band=given["band"],
        fastener={"half_inch_bolt": "bolt", "half_inch_lag_screw": "lag"}[given["fastener"]],  # type: ignore[arg-type]
        bolts_at_lag_spacing=False,
        top_edge=given["top_edge_in"],
        low_row=given["bottom_row_to_top_edge_in"],
        bottom_edge=given["bottom_edge_in"],
        end=given["end_in"],
        rows_apart=given["row_spacing_in"],
    )
    no_facts = tuple(check.id for check in CHECKS if check.id.startswith(("band.", "tie.", "joist.")))
    return _met(facts, book, but=no_facts)


def _ties(given: Given, book: RuleBook) -> bool:
    facts = LedgerFacts(
        tie_form=given["detail"], tie_count=given["count"], tie_capacity_lb=given["capacity_each_lb"]
    )
    placed = tuple(check.id for check in CHECKS if not check.id.startswith("tie."))
    return _met(facts, book, but=(*placed, "tie.from_end"))


def _prescriptive(given: Given, book: RuleBook) -> bool:
    load = LedgerLoad(
        joist_span_ft=given.get("joist_span_ft", 10.0),
        fastener="bolt",
        edition=book.edition,
        sheathing=given.get("sheathing_in", 0.5),
        sheathing_kind=given.get("sheathing", "wood panel"),
    )
    backing = given.get("bearing_on", given.get("fixed_to"))
    attachment = Attachment(
        load=load,
        ledger=given["ledger"],
        backing=_BACKINGS[backing] if backing else "2x band joist",
        beams_on_ledger=given.get("girder_hung_from_ledger", False),
        nailed=given.get("attachment") == "toenails",
    )
    if any(finding.severity == "stop" for finding in attachment_findings(attachment)):
        return False
    # a column asked for by name must be the one that the layers between ledger and band allow
    return given.get("column") != "half_inch" or "sheathing 0.5" in fastener_spacing(load).row


_RULES: dict[str, Callable[[Given, RuleBook], bool]] = {
    "ledger_fastener_placement_ok": _placement,
    "ledger_prescriptive_ok": _prescriptive,
    "lateral_ties_ok": _ties,
}
