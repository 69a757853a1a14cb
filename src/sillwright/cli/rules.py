"""`sillwright rules`: every check with its source, limits and severity, in words."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby
from pathlib import Path

from sillwright.cli.also_listed import also_listed
from sillwright.cli.amendments import CHECKS, book_by
from sillwright.cli.say import Words, say
from sillwright.rules import Listed, RuleBook, catalogue

SUBJECTS = {
    "header": "Header of a widened opening",
    "escape": "Emergency escape",
    "fall": "Falls from a low sill",
    "glass": "Safety glazing",
    "door": "Egress door",
    "landing": "Landing",
    "threshold": "Threshold",
    "stair": "Stair",
    "guard": "Guard",
    "energy": "Energy",
    "fire": "Fire separation",
    "paint": "Old paint",
    "wall": "In the wall",
    "ledger": "Ledger as laid out",
    "band": "Band joist as laid out",
    "tie": "Lateral ties",
    "joist": "Joists in their hangers",
    "flashing": "Flashing",
    "strip": "Strips round the opening",
    "wrap": "Wrap at the opening",
    "bead": "Beads that must stay open",
    "pan": "Pan",
    "sill": "Sill",
    "dam": "Dams",
    "head": "Over the head",
    "sealant": "Sealant",
    "wood": "Wet wood",
    "lap": "Laps",
    "stick": "Will it stick",
}


def list_rules(edition: str, place: str, amendments: Path | None) -> None:
    """Say every check.

    Raises:  BadInput: every fault of the amendments
    """
    say(list(_words(book_by(edition, amendments, place=place))))


def _words(book: RuleBook) -> Iterator[Words]:
    listed, also = catalogue(CHECKS, book), also_listed(book)
    title = f"Checks of the {book.edition} edition, water by {book.place}: {len(listed) + len(also)}"
    yield Words(title, "title")
    yield from laid_over(book)
    yield Words(
        "STOP: do not go on, ask who decides. FIX: act before the next step. WATCH: know this. From memory: "
        "nobody read it in the print, look it up."
    )
    for subject, group in groupby(listed, key=lambda each: each.id.partition(".")[0]):
        yield from _group(SUBJECTS[subject], group, book)
    for title, group in groupby(also, key=_title):
        yield from _group(title, group, book)
    yield Words("")
    yield Words(
        "Amendments change limits, rows and checks by their ids; what is said of hanging a ledger and "
        "of deck framing stands by its own source. Local code, the building department and a licensed "
        "engineer come first."
    )


_TITLES = {"heights": "Heights of a wall and its deck", "framing": "Deck framing"}


def laid_over(book: RuleBook) -> Iterator[Words]:
    """Yield the local amendments of a book."""
    for each in book.amendments:
        yield Words(f"With {each}.", lead="LOCAL")


def _title(each: Listed) -> str:
    return _TITLES.get(each.id.partition(".")[0], "Hanging a ledger")


def _group(title: str, group: Iterator[Listed], book: RuleBook) -> Iterator[Words]:
    yield Words("")
    yield Words(title, "heading")
    for each in group:
        struck = "not applied: " if each.id in book.struck else ""
        texts = (*each.limits, *_local_rows(each.id, book))
        limits = f" Limits: {'; '.join(texts)}." if texts else ""
        text = f"{each.id}: {struck}{each.title}. Source: {each.source}.{limits}"
        yield Words(text, each.severity, each.severity.upper(), 2)


def _local_rows(ident: str, book: RuleBook) -> Iterator[str]:
    """Yield where a local amendment has put rows into the tables of a check."""
    tables = {check.id: check.tables for check in CHECKS} | {"ledger.table": ("ledger_spacing",)}
    for name in tables.get(ident, ()):
        origins = dict.fromkeys(row.origin for row in book.tables[name].rows if row.origin)
        yield from (f"rows by {origin}" for origin in origins)
