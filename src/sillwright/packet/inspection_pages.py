"""The findings sheet for the inspector: finding, value, limit, source, answer; and what the checks met."""

from __future__ import annotations

from sillwright.inspection import FramingValue, InspectionRow
from sillwright.packet.blocks import STAMPS, Block, Heading, Page, Table, Words
from sillwright.packet.sheets import Sheets, left, sentence

NOT_READ = "from memory, not read"
"""What stands beside every number that nobody read in the printed table."""
_AIRY = 5
"""Rows of a table below a drawing, up to which its lines may stand well apart."""
_ORDER = {"stop": 0, "fix": 1, "watch": 2, None: 3}


def findings_sheet(sheets: Sheets) -> Page | None:
    """Return the sheet for the inspector; None where nothing was checked."""
    plan = sheets.plan
    if not plan.inspection:
        return None
    open_ = [row for row in plan.inspection if row.severity is not None]
    met = [row for row in plan.inspection if row.severity is None]
    code = sheets.job.code
    book = f"Model residential code {code.edition}" + (
        f", with local amendments ({code.amendments})" if code.amendments else ""
    )
    blocks: list[Block] = [
        Words(text=f"{book}. Local code and the inspector decide over anything printed here.", style="note")
    ]
    if open_:
        rows = sorted(open_, key=lambda row: _ORDER[row.severity])
        blocks += [Heading(text="To do, to ask, to know"), _open(rows)]
    if met:
        blocks += [Heading(text="Checked and met"), _met(met)]
    return Page(
        title="Findings for the inspector",
        subtitle="Each finding with what was found, the limit, where it comes from, and its answer.",
        blocks=tuple(blocks),
        landscape=True,
    )


def place_words(place: str) -> str:
    """Return a place of the plan as people say it: `height.ledger-top` is the ledger top."""
    words = place.removeprefix("height.").removeprefix("step.").replace("-", " ")
    return " at ".join(words.split(".", 1)) if words != place else words


def source_words(source: str, *, from_memory: bool) -> str:
    """Return a source, with a plain word where its number was not read in print."""
    said = from_memory and "from memory" not in source
    return f"{source}; {NOT_READ}" if said else source


def _open(rows: list[InspectionRow]) -> Table:
    """Return what is open; found and limit have columns where any finding has them."""
    told = any(row.value or row.limit for row in rows)
    columns = (
        left("", style="strong"),
        left("place", width=1.1),
        left("finding", width=5 if told else 6.4),
        *((left("found", width=1), left("limit", width=1.4)) if told else ()),
        left("source", width=2.2),
        left("answer", width=1.6),
    )
    cells = tuple(
        (
            STAMPS[row.severity or "watch"],
            place_words(row.place),
            sentence(row.what),
            *((row.value, row.limit) if told else ()),
            source_words(row.source, from_memory=row.from_memory),
            row.answer,
        )
        for row in rows
    )
    marked = frozenset(n for n, row in enumerate(rows) if row.severity == "stop")
    return Table(columns=columns, rows=cells, marked=marked, size=8.5, pad=3.2)


def _met(rows: list[InspectionRow]) -> Table:
    columns = (
        left("", style="strong"),
        left("place", width=1.1),
        left("checked", width=3.2),
        left("found", width=1.3),
        left("limit", width=2),
        left("source", width=2.6),
    )
    cells = tuple(
        (
            row.result,
            place_words(row.place),
            row.what,
            row.value,
            row.limit,
            source_words(row.source, from_memory=row.from_memory),
        )
        for row in rows
    )
    return Table(columns=columns, rows=cells, size=8.5, pad=3)


def framing_table(values: tuple[FramingValue, ...]) -> Table:
    """Return what the span tables say, with the row used."""
    columns = (
        left("what", width=1.9),
        left("found", width=2),
        left("limit"),
        left("table and row", width=4.6),
    )
    cells = tuple(
        (
            value.what,
            value.value,
            value.asked,
            source_words(f"{value.source}: {value.row}", from_memory=value.from_memory),
        )
        for value in values
    )
    marked = frozenset(n for n, value in enumerate(values) if not value.met)
    size, pad = (8.5, 3.0) if len(values) <= _AIRY else (8.5, 2.0)
    return Table(columns=columns, rows=cells, marked=marked, size=size, pad=pad)
