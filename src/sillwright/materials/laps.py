"""Laps of one piece over another: what is asked of each kind of joint, and whether a lap has it.

For most joints between bonded pieces nobody has published a number. There the product sheet of the pieces
counts, and without one the answer is whom to ask.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Literal, get_args

from sillwright.errors import BadInput, Fault
from sillwright.lengths import Unit
from sillwright.materials.limits import GAP, SHEET, Requirement, of_limit
from sillwright.materials.product import Product
from sillwright.rules import (
    Case,
    Check,
    FactMissing,
    Limit,
    Result,
    RuleBook,
    Source,
    Verdict,
    check_stated,
    examine,
    in_inches,
    said,
)

Joint = Literal[
    "wrap_horizontal",
    "wrap_vertical",
    "strip_corner",
    "pan_over_wrap",
    "jamb_over_pan",
    "head_over_jamb",
    "flap_over_head",
    "patch_over_pan",
    "jamb_over_fin",
    "head_over_fin",
    "wrap_over_metal",
    "metal_over_below",
]
JOINTS: tuple[Joint, ...] = get_args(Joint)
WORDS: dict[Joint, str] = {
    "wrap_horizontal": "upper sheet of wrap over the lower one",
    "wrap_vertical": "sheets of wrap at a vertical joint",
    "strip_corner": "strips over each other at a corner",
    "pan_over_wrap": "pan over the wrap below",
    "jamb_over_pan": "jamb strip over the pan",
    "head_over_jamb": "head strip over the jamb strip",
    "flap_over_head": "wrap flap over the head flashing",
    "patch_over_pan": "corner patch over the pan",
    "jamb_over_fin": "jamb strip over the fin",
    "head_over_fin": "head strip over the fin",
    "wrap_over_metal": "wrap over the upstand of the metal flashing",
    "metal_over_below": "metal flashing over what is below it",
}
_FIRM = {"code", "standard", "local"}
"""Bases that a product sheet may go beyond, not below."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LapFacts:
    """One lap, and what the sheets of its two pieces ask for."""

    lap: float | None = said("the lap")
    sheet_lap: float | None = said("the least lap of the product sheets", sign="over 0")
    sheet_said: str | None = said("the product sheet")
    pieces: str | None = said("the pieces")

    def __post_init__(self) -> None:
        check_stated(self)


def required_lap(
    joint: Joint,
    book: RuleBook,
    *,
    upper: Product | None = None,
    lower: Product | None = None,
    units: Unit = "in",
) -> Requirement:
    """Return the lap that a joint needs [in], by the place's rule and the sheets of its two pieces.

    A rule of code, standard or local amendment is raised by a sheet, never lowered; a guide's number gives
    way to the sheet's.
    """
    rule = _rule(joint)
    limit = book.limits.get(rule)
    sheet = _of_sheet(_facts(upper, lower), rule)
    counts = _counts(in_inches(limit) if limit else None, sheet)
    if counts is not None:
        return of_limit(counts, units)
    text = _ask(joint, _pieces(upper, lower))
    return Requirement(
        rule=rule, value=None, unit="in", said=text, source="", basis=GAP, note=book.unset[rule].note
    )


def check_lap(
    joint: Joint,
    lap: float | None,
    book: RuleBook,
    *,
    place: str,
    upper: Product | None = None,
    lower: Product | None = None,
    units: Unit = "in",
) -> Result:
    """Return what a lap comes to: met, not met, or not checked where nobody's number is at hand.

    Args:    lap: [in], at least 0; None: not known
    Raises:  BadInput: a lap below 0 or not finite
    """
    _rule(joint)
    facts = replace(_facts(upper, lower), lap=lap)
    check = next(each for each in CHECKS if each.id == f"lap.{joint}")
    return examine([check], facts, book, place=place, units=units)[0]


def _rule(joint: Joint) -> str:
    if joint not in JOINTS:
        raise BadInput(
            Fault("joint", f"there is no kind of joint {joint!r}.", f"Known: {', '.join(JOINTS)}.")
        )
    return f"lap.{joint}"


def _facts(upper: Product | None, lower: Product | None) -> LapFacts:
    stated = [each for each in (upper, lower) if each is not None and each.least_lap is not None]
    longest = max(stated, key=lambda each: each.least_lap or 0.0, default=None)
    return LapFacts(
        sheet_lap=longest.least_lap if longest else None,
        sheet_said=longest.said if longest else None,
        pieces=_pieces(upper, lower),
    )


def _pieces(upper: Product | None, lower: Product | None) -> str:
    return " over ".join(each.name for each in (upper, lower) if each is not None)


def _of_sheet(facts: LapFacts, rule: str) -> Limit | None:
    if facts.sheet_lap is None:
        return None
    return Limit(
        id=rule,
        value=facts.sheet_lap,
        unit="in",
        section="",
        from_memory=False,
        cited=facts.sheet_said or "",
        basis=SHEET,
    )


def _counts(limit: Limit | None, sheet: Limit | None) -> Limit | None:
    """Return which of a rule and a sheet counts."""
    if limit is None or sheet is None:
        return limit or sheet
    firm = limit.basis in _FIRM or limit.origin
    return limit if firm and limit.value >= sheet.value else sheet


def _ask(joint: Joint, pieces: str) -> str:
    of = f" ({pieces})" if pieces else ""
    return f"ask the maker: the least lap of {_article(joint)}{of}; no published number was found"


def _article(joint: Joint) -> str:
    plural = WORDS[joint].startswith(("strips", "sheets"))
    return WORDS[joint] if plural else f"the {WORDS[joint]}"


def _judged(joint: Joint) -> Callable[[Case], Verdict]:
    rule = f"lap.{joint}"

    def judge(case: Case) -> Verdict:
        facts = LapFacts(sheet_lap=case.if_known("sheet_lap"), sheet_said=case.if_known("sheet_said"))
        limit = case.limit(rule) if case.sets(rule) else None
        sheet = _of_sheet(facts, rule)
        if sheet is not None:
            case.used.append(sheet)
        counts = _counts(limit, sheet)
        if counts is None:
            raise FactMissing(_ask(joint, case.if_known("pieces") or ""))
        return case.reaches(case.number("lap"), counts)

    return judge


def _check(joint: Joint) -> Check:
    wrap = joint in {"wrap_horizontal", "wrap_vertical", "wrap_over_metal", "metal_over_below"}
    return Check(
        id=f"lap.{joint}",
        title=f"lap of {_article(joint)}",
        source=Source(title="", has_editions=False),
        facts=("lap", "sheet_lap", "sheet_said", "pieces"),
        limits=(f"lap.{joint}",),
        severity="fix",
        message=f"The lap of {_article(joint)} at {{place}} is {{value}}; it must be {{limit}}.",
        advice="Lay it again with the lap, or put a further piece over it that has it.",
        decides="building department" if wrap else "the maker of the piece",
        mark="lap",
        judge=_judged(joint),
    )


CHECKS = tuple(map(_check, JOINTS))
