"""Which materials may touch: what is published on two families, and what a product's own sheet says.

The statement on the narrowest families counts; of two as narrow, the more cautious. Where there is none the
answer is to ask both makers (AAMA 713 is the test of a sealant with a flashing), never a guess.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal, cast, get_args

from sillwright.findings import Finding, Severity
from sillwright.materials.families import Family, family, rows
from sillwright.materials.product import Product
from sillwright.rules import Row

Word = Literal[
    "accepted", "test", "ask", "ask about primer", "primer", "isolate", "avoid unless tested", "avoid"
]
CAUTION: tuple[Word, ...] = get_args(Word)
"""From the least cautious to the most."""
SEVERITY: dict[str, Severity] = {
    "test": "watch",
    "ask": "watch",
    "ask about primer": "watch",
    "primer": "fix",
    "isolate": "fix",
    "avoid unless tested": "fix",
    "avoid": "stop",
}
ADVICE = {
    "test": "Try both on a scrap and look after a week, or have both makers say so in writing.",
    "ask": "Ask both makers in writing, or take both from one system.",
    "ask about primer": "Look at the product sheet: does it ask for a primer on this?",
    "primer": "Prime as the maker says, and let it dry.",
    "isolate": "Keep them apart with a coating or sealant that does not conduct.",
    "avoid unless tested": "Take another material, or have both makers say in writing that it was tested.",
    "avoid": "Take another material, or put something between that both makers accept.",
}
ANYTHING = "anything"
_OF_ANY = "CC-039"
"""The statement on any two products."""
_BUILT = {"wood", "board", "masonry"}
"""Kinds that a building is made of: nothing is asked about these among each other."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PairVerdict:
    """What is known of two families in contact."""

    verdict: Word
    said: str
    """As the source puts it."""
    why: str
    source: str
    status: str
    """read, second-hand, memory (in whole or in part), or gap: looked for, not found."""
    row: str
    """Id of the statement."""

    @property
    def specific(self) -> bool:
        """Tell whether a statement names these two, or groups of theirs."""
        return self.row != _OF_ANY


@dataclass(frozen=True, slots=True, kw_only=True)
class Touch:
    """Two products that touch somewhere."""

    a: Product
    b: Product
    where: str
    """Place of the plan."""


def compatible(family_a: str, family_b: str) -> PairVerdict:
    """Return what is published on two families in contact, whichever way round.

    Raises:  BadInput: no such family
    """
    one, other = family(family_a), family(family_b)
    if one == other and one.kind == "metal":
        why = "one metal, so nothing dissimilar"
        return PairVerdict(
            verdict="accepted", said="the same metal", why=why, source=_sources(), status="read", row=""
        )
    found = [(score, row) for row in rows("pairs") if (score := _fits(row, one, other)) is not None]
    narrowest = max(score for score, _ in found)
    return max(
        (_verdict(row) for score, row in found if score == narrowest),
        key=lambda each: CAUTION.index(each.verdict),
    )


def check_touching(touches: Iterable[Touch]) -> tuple[Finding, ...]:
    """Return what is wrong with materials in contact, one finding for each pair of products.

    Nothing is asked of one product with itself, of parts of one system, or of wood, boards and masonry among
    each other. A sheet's word stands before a published test, question or primer, never before an avoid.
    """
    places: dict[tuple[str, str], list[Touch]] = {}
    for touch in touches:
        if not _known_together(touch.a, touch.b):
            a, b = sorted((touch.a.name, touch.b.name))
            places.setdefault((a, b), []).append(touch)
    found = (_finding(same) for same in places.values())
    return tuple(each for each in found if each is not None)


def _known_together(a: Product, b: Product) -> bool:
    if a.name == b.name or (a.system and a.system == b.system):
        return True
    return {a.of.kind, b.of.kind} <= _BUILT


def _fits(row: Row, one: Family, other: Family) -> int | None:
    """Return how narrowly a statement names the two: 2 for a family, 1 for its group, 0 for anything."""
    first, second = row.texts["family_a"], row.texts["family_b"]
    if first == second and one == other:  # a statement on unlike members of one group
        return 0 if first == ANYTHING else None
    both = ((_names(first, one), _names(second, other)), (_names(first, other), _names(second, one)))
    sums = [a + b for a, b in both if a is not None and b is not None]
    return max(sums, default=None)


def _names(stated: str, of: Family) -> int | None:
    if stated == ANYTHING:
        return 0
    return (2 if stated == of.name else 1) if stated in of.groups else None


def _verdict(row: Row) -> PairVerdict:
    texts = row.texts
    return PairVerdict(
        verdict=cast("Word", texts["verdict"]),
        said=texts["said"],
        why=texts["why"],
        source=texts["source"] or "looked for, not found",
        status=texts["status"],
        row=row.keys["id"],
    )


def _sources() -> str:
    return next(row.texts["source"] for row in rows("pairs") if row.keys["id"] == "CC-035")


def _finding(touches: list[Touch]) -> Finding | None:
    a, b = touches[0].a, touches[0].b
    verdict = _by_sheet(a, b, compatible(a.family, b.family))
    if verdict.verdict == "accepted":
        return None
    where = tuple(dict.fromkeys(touch.where for touch in touches if touch.where))
    at = f" at the {', the '.join(where)}" if where else ""
    return Finding(
        id=f"finding.pair.{'.'.join(sorted((a.name, b.name)))}",
        severity=SEVERITY[verdict.verdict],
        message=f"{_named(a)} touches {_named(b)}{at}: {_told(verdict)}",
        advice=ADVICE[verdict.verdict],
        source=_source(verdict),
        place=where[0] if len(where) == 1 else "",
        value=f"{a.family} on {b.family}",
        limit=verdict.verdict,
    )


def _told(verdict: PairVerdict) -> str:
    """Return what a statement says and why; where there is none on the two, the advice says whom to ask."""
    if verdict.row and not verdict.specific:
        return "no published statement on the two was found."
    return f"{verdict.said}. {_sentence(verdict.why)}"


def _by_sheet(a: Product, b: Product, published: PairVerdict) -> PairVerdict:
    """Return the verdict with the word of the products' own sheets."""
    for one, other in ((a, b), (b, a)):
        if other.family in one.refuses:
            return _sheet(one, "avoid", "its sheet refuses it", f"the sheet refuses {other.family}")
    for one, other in ((a, b), (b, a)):
        if one.primer_on is not None and other.family in one.primer_on:
            said = one.primer or f"primer on {other.family}"
            return _sheet(one, "primer", said, "the sheet asks for it")
    if published.verdict in {"avoid", "avoid unless tested", "isolate"}:
        return published
    for one, other in ((a, b), (b, a)):
        told_of_primer = one.primer_on is not None and "primer" in published.verdict
        if other.family in one.accepts or told_of_primer:
            return _sheet(one, "accepted", "accepted", f"the sheet accepts {other.family}")
    return published


def _sheet(of: Product, verdict: Word, said: str, why: str) -> PairVerdict:
    return PairVerdict(verdict=verdict, said=said, why=why, source=of.said, status="sheet", row="")


def _source(verdict: PairVerdict) -> str:
    how = {"second-hand": "read second-hand", "memory": "in part or in whole from memory: look it up"}
    remark = how.get(verdict.status, "")
    return f"{verdict.source} ({remark})" if remark else verdict.source


def _named(product: Product) -> str:
    return product.name if product.name == product.family else f"{product.name} ({product.family})"


def _sentence(why: str) -> str:
    return f"{why[0].upper()}{why[1:]}."
