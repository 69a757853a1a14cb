"""The lap table of a dressed wall: every lap against what code, guide or product sheet asks for."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import cast

from sillwright.findings import Finding
from sillwright.flashing.plan_model import WaterLap
from sillwright.lengths import Unit, show
from sillwright.materials import JOINTS, Joint, Product, check_lap, required_lap
from sillwright.materials.laps import WORDS
from sillwright.rules import RuleBook
from sillwright.water import Dressing, Sheet
from sillwright.water.laps import LapRow, laps

FINEST = 1 / 64
"""No tape tells a lap finer [in]: what lacks less is not short."""
UNASKED = "no table of least laps has such a joint"


@dataclass(frozen=True, slots=True, kw_only=True)
class Known:
    """What laps are held against."""

    products: Mapping[str, Product]
    """By the name of the stock."""
    book: RuleBook
    units: Unit


@lru_cache(maxsize=4)
def _laps(dressing: Dressing) -> tuple[LapRow, ...]:
    """Return the laps of a dressed wall, kept: plan, packet and pictures ask one after the other."""
    return laps(dressing)


def lap_table(dressing: Dressing, known: Known) -> tuple[tuple[WaterLap, ...], tuple[Finding, ...]]:
    """Return every lap with what is asked of it, and what is found too short or unknown."""
    sheets = {sheet.name: sheet for sheet in dressing.sheets}
    found = _laps(dressing)
    names = _numbered([f"lap.{row.upper}.{row.lower}.{row.way.value}" for row in found])
    rows = [_lap(name, row, sheets, known) for name, row in zip(names, found, strict=True)]
    short = [finding for _, finding in rows if finding is not None]
    table = tuple(row for row, _ in rows)
    return table, (*short, *_to_ask(table, known.units))


def _numbered(names: list[str]) -> list[str]:
    """Return names that differ: the second of a kind ends in 2."""
    seen: Counter[str] = Counter()
    found = []
    for name in names:
        seen[name] += 1
        found.append(name if seen[name] == 1 else f"{name}.{seen[name]}")
    return found


def _lap(
    ident: str, row: LapRow, sheets: Mapping[str, Sheet], known: Known
) -> tuple[WaterLap, Finding | None]:
    upper, lower = (known.products.get(sheets[name].stock.name) for name in (row.upper, row.lower))
    joint, required, said, source, result = "", None, UNASKED, "", "no such joint"
    finding = None
    if row.joint in JOINTS and not row.between:
        joint = row.joint
        asked = required_lap(joint, known.book, upper=upper, lower=lower, units=known.units)
        required, said, source = asked.value, asked.said, asked.source
        taped = round(row.inches / FINEST) * FINEST
        checked = check_lap(
            joint, taped, known.book, place=ident, upper=upper, lower=lower, units=known.units
        )
        result = {"met": "met", "not met": "not met"}.get(checked.status, "ask the maker")
        if checked.finding is not None and result == "not met":
            where = f"({sheets[row.upper].words} over {sheets[row.lower].words}, on the {row.place})"
            told = checked.finding.message.replace(f"at {ident}", where, 1)
            finding = replace(checked.finding, message=told)
    lap = WaterLap(
        id=ident,
        upper=row.upper,
        lower=row.lower,
        where=row.place,
        opening=row.opening or "",
        goes=row.way.value,
        lap=row.inches,
        bond=row.bond_in,
        joint=joint,
        required=required,
        said=said,
        source=source,
        result=result,  # type: ignore[arg-type]
        points=row.points,
    )
    return lap, finding


def least_of_each(table: Iterable[WaterLap]) -> list[WaterLap]:
    """Return the least lap of each kind of joint and way, with the same joints of other openings left out.

    Where a piece ends uphill on a lower one, water runs in: what lies over that edge counts, not the lap.
    """
    least: dict[tuple[str, str], WaterLap] = {}
    for lap in table:
        key = lap.joint, lap.goes
        if lap.joint and lap.goes != "down" and (key not in least or lap.lap < least[key].lap):
            least[key] = lap
    return list(least.values())


def _to_ask(table: tuple[WaterLap, ...], units: Unit) -> Iterator[Finding]:
    """Say once for which joints nobody's number is at hand."""
    asked: dict[str, list[WaterLap]] = {}
    for lap in table:
        if lap.result == "ask the maker":
            asked.setdefault(WORDS[cast("Joint", lap.joint)], []).append(lap)
    if asked:
        said = (
            f"{words} (here {show(min(each.lap for each in laps), unit=units, mark=True)} at least)"
            for words, laps in asked.items()
        )
        yield Finding(
            id="finding.lap.ask",
            severity="watch",
            message=f"Ask the maker for the least lap of: {'; '.join(said)}. No published number was found.",
            advice="State least_lap and sheet_date of its [[water.roll]], by its product sheet.",
            source="looked for, not found; docs/materials.md",
        )
