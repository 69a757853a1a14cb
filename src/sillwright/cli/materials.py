"""`sillwright materials`: families of materials, and what is published on two of them in contact."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from sillwright.cli.say import Style, Words, say
from sillwright.materials import Family, PairVerdict, compatible, families, family
from sillwright.materials.pairs import ADVICE, SEVERITY

KINDS = {
    "tape": "Tapes",
    "sheet": "Sheets",
    "liquid": "Liquids",
    "sealant": "Sealants",
    "coating": "Coatings",
    "frame": "Frames",
    "metal": "Metals",
    "wood": "Wood",
    "board": "Boards",
    "masonry": "Masonry",
    "surface": "State of the surface",
    "use": "Use",
}
HOW = {"second-hand": "; read second-hand", "memory": "; in part or in whole from memory: look it up"}
WHO = (
    "These are families, not products: what the makers of both say in writing comes before any of this. A "
    "job's own products go by their dated sheets."
)


def about_materials(one: str | None, other: str | None) -> None:
    """Say the families, what is known of one, or what of two in contact.

    Raises:  BadInput: no such family
    """
    if one is None:
        say(list(_listed()))
    elif other is None:
        say(list(_of_one(family(one))))
    else:
        say(list(_of_two(family(one), family(other))))


def _listed() -> Iterator[Words]:
    yield Words(f"Families of materials: {len(families())}", "title")
    for kind, group in groupby(families(), key=lambda each: each.kind):
        yield Words("")
        yield Words(KINDS[kind], "heading")
        for each in group:
            yield Words(f"{each.name}{f': {each.note}' if each.note else ''}", indent=2)
    yield Words("")
    yield Words('Two in contact: sillwright materials "butyl tape" "silicone sealant"')
    yield Words(WHO)


def _of_one(of: Family) -> Iterator[Words]:
    yield Words(f"What is published on {of.name} in contact", "title")
    for each in families():
        verdict = compatible(of.name, each.name)
        if verdict.specific:
            yield _line(verdict, f"with {each.name}: {verdict.said}; {verdict.why}.")
    yield Words(
        "Of all others no statement was found: ask both makers, or take both from one system.", indent=2
    )
    yield Words("")
    yield Words(WHO)


def _of_two(one: Family, other: Family) -> Iterator[Words]:
    verdict = compatible(one.name, other.name)
    yield Words(f"{one.name} and {other.name}", "title")
    yield _line(verdict, f"{verdict.said}: {verdict.why}.")
    yield Words(f"Source: {verdict.source}{HOW.get(verdict.status, '')}.", indent=2)
    if verdict.verdict in ADVICE:
        yield Words(ADVICE[verdict.verdict], indent=2)
    yield Words("")
    yield Words(WHO)


def _line(verdict: PairVerdict, text: str) -> Words:
    severity = SEVERITY.get(verdict.verdict)
    style: Style = severity or "plain"
    return Words(text, style, severity.upper() if severity else "OK", 2)
