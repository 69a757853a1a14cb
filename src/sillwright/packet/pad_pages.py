"""The shim schedule by pad number, what stock it takes, and what to cut."""

from __future__ import annotations

from sillwright.packet.blocks import Block, Column, Heading, Page, Table, Words
from sillwright.packet.sheets import Sheets, left, right, ring, sentence
from sillwright.setting.model import Cut, Pad, PlanedRun

_NUMBERS = (
    "front, back: thickness at the outer and inner edge of the sill. top ±: of the finished pad's height."
)


def schedule_page(sheets: Sheets) -> Page:
    """Return every pad with its make-up, the planed runs, and the stock they use."""
    setting = sheets.plan.setting
    blocks: list[Block] = []
    if setting.planed:
        blocks += [Heading(text="Plane first"), _planed(sheets, setting.planed)]
    if setting.pads:
        columns = (
            ring("pad"),
            left("opening", style="strong"),
            right("from mark"),
            left("under"),
            right("front"),
            right("back"),
            left("make-up, from the stock", width=1),
            right("top ±"),
        )
        rows = tuple(_pad_row(sheets, pad) for pad in sorted(setting.pads, key=lambda pad: pad.number))
        pad = _AIRY if len(rows) <= _FEW else _CLOSE
        blocks += [Heading(text="Pads by number"), Table(columns=columns, rows=rows, note=_NUMBERS, pad=pad)]
        blocks += [Heading(text="Stock"), _stock(sheets)]
    else:
        blocks.append(
            Words(text="No pads: there is no level line yet, or every sill stands on it.", style="lead")
        )
    return Page(title="Shim schedule", subtitle=sheets.units_note, blocks=tuple(blocks))


_FEW = 18
_AIRY, _CLOSE = 4.2, 1.8
"""Over and under the words of a row [pt]: so many pads are set close, so that their stock has room."""
_UNDER = {"jamb": "jamb", "mull": "mull", "spacing": "between"}


def _pad_row(sheets: Sheets, pad: Pad) -> tuple[str, ...]:
    figures = sheets.figures
    return (
        str(pad.number),
        pad.opening,
        figures.place(pad.x),
        _UNDER[pad.why],
        figures.fine(pad.front),
        "not shot" if pad.back is None else figures.fine(pad.back),
        pad.make_up or "no shims",
        figures.band(pad.sd),
    )


def _planed(sheets: Sheets, runs: tuple[PlanedRun, ...]) -> Table:
    figures = sheets.figures
    columns = (
        ring("act"),
        left("opening", style="strong"),
        left("edge"),
        right("from"),
        right("to"),
        right("deepest"),
        right("there at"),
        left("", width=1),
    )
    rows = tuple(
        (
            str(run.number),
            run.opening,
            run.edge,
            figures.place(run.start),
            figures.place(run.end),
            figures.fine(run.deepest),
            figures.place(run.deepest_x),
            "",
        )
        for run in runs
    )
    return Table(
        columns=columns, rows=rows, note="Down to the level line, fading out to nothing at both ends."
    )


def _stock(sheets: Sheets) -> Table:
    figures = sheets.figures
    columns = (left("shim"), right("needed"), right("on hand"), left("", width=1))
    rows: list[tuple[str, ...]] = []
    short: set[int] = set()
    for use in sheets.plan.setting.stock:
        name = figures.fine(use.thickness)
        if use.thin is not None:
            name = f"{name} tapering to {figures.fine(use.thin)}"
        missing = use.on_hand is not None and use.needed > use.on_hand
        if missing:
            short.add(len(rows))
        hand = "not counted" if use.on_hand is None else str(use.on_hand)
        rows.append((name, str(use.needed), hand, "not enough" if missing else ""))
    return Table(columns=columns, rows=tuple(rows), marked=frozenset(short))


def cut_page(sheets: Sheets) -> Page | None:
    """Return the cut list for pads and sloped strips; None when nothing is to be cut."""
    cuts = sheets.plan.setting.cuts
    if not cuts:
        return None
    columns = (
        Column(head="done", style="write"),
        left("what", style="strong"),
        left("opening"),
        right("count"),
        right("length"),
        right("width"),
        right("thick"),
        right("thin edge"),
        left("note", width=1),
    )
    rows = tuple(_cut_row(sheets, one) for one in cuts)
    note = "Mark every shim with its pad's number as you cut it. – : cut to what is found at the wall."
    return Page(
        title="Cut list",
        subtitle=sheets.units_note,
        blocks=(Table(columns=columns, rows=rows, note=note, pad=6),),
    )


def _cut_row(sheets: Sheets, one: Cut) -> tuple[str, ...]:
    figures = sheets.figures
    sizes = (one.length, one.width, one.thick, one.thin)
    told = tuple("–" if size is None else figures.fine(size) for size in sizes)
    return ("", one.what, one.opening, str(one.count), *told, sentence(one.note))
