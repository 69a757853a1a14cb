"""Prescriptive ledger: fastener spacing from the code table, distances, lateral ties.

Source: IRC 2018 and 2021 R507.9; the tables name their own readings.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sillwright.rules import Row as RuleRow
from sillwright.rules import RuleBook, rule_book
from sillwright.rules import Table as RuleTable
from sillwright.structure.given import need_not_negative, need_one_of, need_positive
from sillwright.structure.tables import Cell, cell, load_table, named, next_up, refuse, select

EDITIONS = ("2018", "2021")
FASTENERS = ("lag", "bolt")
BANDS = ("2x band joist", "1 in engineered rim", "1-1/8 in engineered rim")
LEDGERS = ("2x8", "2x10", "2x12")
"""At least a 2x8 (R507.9.1.1)."""
WOOD_SHEATHING = ("wood panel", "lumber")
SOFT_SHEATHING = ("gypsum", "fiberboard", "foam")
MAX_WASHERS = 0.5
MODEL_LIVE_PSF = 40.0
MAX_GAP_LAG = 0.5

TIE_FORMS = ("interior", "exterior")
READ = "2018"
"""Edition in which distances and ties were read."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LedgerLoad:
    """What hangs on a ledger, and through what it is fastened."""

    joist_span_ft: float
    fastener: str
    """lag or bolt, 1/2 in."""
    edition: str = "2018"
    live_psf: float = MODEL_LIVE_PSF
    ground_snow_psf: float = 0.0
    band: str = "2x band joist"
    sheathing: float = 0.5
    """Between ledger and band [in]."""
    sheathing_kind: str = "wood panel"
    washers: float = 0.0
    """Stacked washers beside the sheathing [in]."""

    def __post_init__(self) -> None:
        need_one_of(EDITIONS, edition=self.edition)
        need_one_of(FASTENERS, fastener=self.fastener)
        need_one_of(BANDS, band=self.band)
        need_one_of((*WOOD_SHEATHING, *SOFT_SHEATHING, "none"), sheathing_kind=self.sheathing_kind)
        need_positive(joist_span_ft=self.joist_span_ft, live_psf=self.live_psf)
        need_not_negative(
            ground_snow_psf=self.ground_snow_psf, sheathing=self.sheathing, washers=self.washers
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Distances:
    """Least and greatest distances of fasteners in one member [in]."""

    top_edge: float
    bottom_edge: float
    end_least: float
    end_most: float
    rows_least: float
    rows_most: float
    low_row_from_top: float = 0.0
    """Ledger only: the low row at least this far under the top edge."""
    source: str = ""


def fastener_spacing(load: LedgerLoad, *, book: RuleBook | None = None) -> Cell:
    """Return the greatest on-centre spacing of 1/2 in fasteners along a ledger [in], with the row used.

    Args: book: edition with its amendments; none: the model code of the load's edition
    Raises: OutOfRange: outside the table, naming the bound that was passed
    Source: IRC Table R507.9.1.3(1); engineered rims: Wisconsin SPS 320-325 appendix B, Table 6
    """
    if load.band != BANDS[0]:
        return _rim_spacing(load)
    table = (book or rule_book(load.edition)).tables["ledger_spacing"]
    cells = [_spacing(table, load, edition, kind, psf) for edition, kind, psf in _governing(table, load)]
    return min(cells, key=lambda found: found.value)


def _governing(table: RuleTable, load: LedgerLoad) -> Iterator[tuple[str, str, float]]:
    """Yield edition, kind and amount of the live load and, where it counts, of the snow; the less rules."""
    most = max(row.at["load_psf"] for row in table.rows if _is(row, load.edition, "live"))
    yield (load.edition if load.live_psf <= most else "local"), "live", load.live_psf
    if load.ground_snow_psf > MODEL_LIVE_PSF:
        if not any(_is(row, load.edition, "ground snow") for row in table.rows):
            raise refuse(
                f"ground snow of {load.ground_snow_psf:g} psf is more than the 40 psf of the 2018 table; "
                "the 2021 table has rows to 70 psf"
            )
        yield load.edition, "ground snow", load.ground_snow_psf


def _is(row: RuleRow, edition: str, kind: str) -> bool:
    return (row.keys["edition"], row.keys["load_kind"]) == (edition, kind)


def _spacing(table: RuleTable, load: LedgerLoad, edition: str, kind: str, psf: float) -> Cell:
    """Return what a table has for one load: in 2021 on a straight line between spans, else the next one."""
    keys = {
        "edition": edition,
        "load_kind": kind,
        "fastener": load.fastener,
        "sheathing": f"{_column(load):.1f}",
    }
    held = sorted({row.at["joist_span_ft"] for row in table.index.get(tuple(keys.values()), ())})
    longer = next((span for span in held if span >= load.joist_span_ft), load.joist_span_ft)
    span = load.joist_span_ft if edition == "2021" else longer
    found = table.find(keys, {"load_psf": psf, "joist_span_ft": span})
    between = held[0] < span < longer
    spans = f"{_below(held, span):g} and {longer:g}, on a straight line between" if between else f"{longer:g}"
    words = {**keys, "load_psf": f"{found.at['load_psf']:g}", "joist_span_ft": spans}
    source = table.header["local"] if edition == "local" else table.source
    return Cell(
        value=found.number("spacing"),
        source="; ".join(filter(None, (source, found.origin))),
        row=named(words, _ROW),
        # that the code allows the straight line is from memory
        status="memory" if between else found.texts["status"] or "read",
    )


_ROW = ("edition", "load_kind", "load_psf", "fastener", "sheathing", "joist_span_ft")


def _below(held: list[float], span: float) -> float:
    return max(each for each in held if each < span)


def _column(load: LedgerLoad) -> float:
    """Return the sheathing column of the table that holds for what lies between ledger and band [in]."""
    gap, wood = load.sheathing + load.washers, load.sheathing_kind in (*WOOD_SHEATHING, "none")
    if load.washers > MAX_WASHERS:
        raise refuse(
            f"washers of {load.washers:g} in are more than the {MAX_WASHERS:g} in the footnote allows"
        )
    if load.washers and not wood:
        raise refuse(f"washers may not be stacked beside {load.sheathing_kind} (footnote of the table)")
    if gap <= MAX_GAP_LAG and wood and not load.washers:
        return 0.5
    if load.fastener == "lag":
        kind = "" if wood else f" of {load.sheathing_kind}"
        raise refuse(
            f"{gap:g} in{kind} between ledger and band: lag screws need at most 1/2 in of wood panel "
            "or lumber, no washers"
        )
    if gap > 1.0:
        raise refuse(f"{gap:g} in between ledger and band is more than 1 in")
    return 1.0


def _rim_spacing(load: LedgerLoad) -> Cell:
    table = load_table("ledger_rim")
    if load.live_psf > MODEL_LIVE_PSF or load.ground_snow_psf > MODEL_LIVE_PSF:
        most = max(load.live_psf, load.ground_snow_psf)
        raise refuse(f"a load of {most:g} psf is more than the 40 psf of {table.source}")
    if _column(load) > MAX_GAP_LAG:
        raise refuse(
            "an engineered rim has a value only behind at most 1/2 in of wood sheathing, without washers"
        )
    rows = select(table, band=load.band, fastener=load.fastener)
    return cell(
        table,
        next_up(table, rows, "joist_span_ft", load.joist_span_ft)[0],
        "spacing",
        "band",
        "fastener",
        "joist_span_ft",
    )


def distances(
    member: str, *, size: str = "2x10", reduced: bool = False, book: RuleBook | None = None
) -> Distances:
    """Return where fasteners may stand in a ledger or band joist.

    Args: member: `ledger` or `band_joist`; size: of the ledger; reduced: a 2x8 ledger with lag screws, or
        with bolts at the lag screw spacing, lets the low row rise; book: edition with its amendments; none:
        the model code of 2018
    Raises: BadInput: member or ledger size not known (a ledger is at least a 2x8)
    Source: IRC 2018 Table R507.9.1.3(2)
    """
    need_one_of(("ledger", "band_joist"), member=member)
    book = book or rule_book(READ)
    names = dict.fromkeys(("end_least", "end_most", "rows_least", "rows_most"), "ledger")
    names |= dict.fromkeys(("top_edge", "bottom_edge"), "band" if member == "band_joist" else "ledger")
    limits = {name: book.limits[f"{edge}.{name}"] for name, edge in names.items()}
    if member == "ledger":
        need_one_of(LEDGERS, size=size)
        reduced_row = "_lag" if reduced and size == "2x8" else ""
        limits["low_row_from_top"] = book.limits[f"ledger.low_row_{size}{reduced_row}"]
    code = f"IRC {book.edition} {rule_book(READ).limits['ledger.top_edge'].section}"
    local = dict.fromkeys(limit.origin for limit in limits.values() if limit.origin)
    values = {name: limit.value for name, limit in limits.items()}
    return Distances(**values, source="; ".join((code, *local)))


def lateral_ties(
    form: str, *, length: float, joists: tuple[float, ...], book: RuleBook | None = None
) -> tuple[float, ...]:
    """Return where the lateral ties go along a ledger, each at a deck joist [in from its left end].

    Two (interior) or four (exterior); the outer ones within 24 in of the ends, the others as evenly as the
    joists allow.

    Raises: OutOfRange: no joist within 24 in of an end, or fewer joists than ties
    Source: IRC 2018 R507.9.2; the 24 in as reported of the hearings
    """
    need_one_of(TIE_FORMS, form=form)
    need_positive(length=length)
    limits = (book or rule_book(READ)).limits
    count, near = round(limits[f"tie.{form}_count"].value), limits["tie.from_end"].value
    at = sorted(set(joists))
    if len(at) < count:
        raise refuse(f"{len(at)} joists cannot take {count} ties")
    if at[0] > near or at[-1] < length - near:
        raise refuse(f"no joist within {near:g} in of an end of the ledger to tie to")
    left = max(x for x in at if x <= near)
    right = min(x for x in at if x >= length - near)
    if sum(left <= x <= right for x in at) < count:  # a short ledger, or few joists
        left, right = at[0], at[-1]
    chosen, rest = [left, right], [x for x in at if left < x < right]
    for k in range(1, count - 1):
        target = left + (right - left) * k / (count - 1)
        chosen.append(min((x for x in rest if x not in chosen), key=lambda x: abs(x - target)))
    return tuple(sorted(chosen))
