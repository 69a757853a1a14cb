"""Blank forms: what to read before planning, and pads to shoot again after fixing."""

from __future__ import annotations

from sillwright.drawing import READING_PLACES, reading_form
from sillwright.job import Job
from sillwright.lengths import Unit
from sillwright.packet.blocks import Block, Column, Heading, Page, Table, Words
from sillwright.packet.compose import Paper
from sillwright.packet.sheets import UNIT_WORDS, Sheets, centred, left, listed, right, ring

_EDGES = "Outer: at the sheathing; inner: at the room side."
_WRITE = "write"
_LASER_ROWS = 22
_OPENINGS = 3
"""Openings on one sheet."""


def _blank(head: str, width: float = 1) -> Column:
    return Column(head=head, style="write", width=width)


def reshoot_page(sheets: Sheets) -> Page | None:
    """Return the form to shoot the pads again; None without pads."""
    pads = sheets.plan.setting.pads
    if not pads:
        return None
    figures = sheets.figures
    columns = (
        ring("pad"),
        left("opening", style="strong"),
        right("from mark"),
        right("front"),
        right("back"),
        _blank("down, outer edge"),
        _blank("down, inner edge"),
        _blank("note", 0.8),
    )
    rows = tuple(
        (
            str(pad.number),
            pad.opening,
            figures.place(pad.x),
            figures.fine(pad.front),
            "–" if pad.back is None else figures.fine(pad.back),
            "",
            "",
            "",
        )
        for pad in sorted(pads, key=lambda pad: pad.number)
    )
    names = [mark.name for mark in sheets.plan.survey.marks] or [sheets.plan.survey.datum]
    marks = Table(
        columns=(
            left("mark", style="strong"),
            _blank("down, before the pads"),
            _blank("down, after the pads"),
        ),
        rows=tuple((name, "", "") for name in names),
        pad=6.5,
    )
    blocks: list[Block] = [
        Words(
            text="Shoot the marks, then every pad's top, then the marks again. Write what the "
            "tape says; change nothing."
        ),
        Heading(text="Laser set-up at ________ from the wall mark, turned round: yes / no"),
        marks,
        Heading(text="Pads, with planned thickness"),
        Table(columns=columns, rows=rows, pad=5),
    ]
    return Page(title="Shoot the pads again", subtitle=sheets.units_note, blocks=tuple(blocks))


def form_pages(job: Job | None, units: Unit, paper: Paper) -> tuple[Page, ...]:
    """Return the blank reading form: what to read, the laser sheet, and a sheet for each opening."""
    names = (
        [opening.name for opening in job.opening] if job is not None and job.opening else ["____"] * _OPENINGS
    )
    sheets = [names[start : start + _OPENINGS] for start in range(0, len(names), _OPENINGS)]
    return (_where(units, paper), _laser(job, units), *(_openings(group, units) for group in sheets))


def _where(units: Unit, paper: Paper) -> Page:
    legend = Table(
        columns=(left("at", style="strong"), left("read", width=1)), rows=tuple(READING_PLACES), size=9, pad=3
    )
    blocks: tuple[Block, ...] = (
        centred(reading_form(), paper),
        legend,
        Words(
            text="Seen from outside. Say strong or shy where the edge lies off a mark. A second "
            "person reading doubtful places costs a minute."
        ),
    )
    return Page(title="Where to read", subtitle=f"Write {UNIT_WORDS[units]}.", blocks=blocks)


def _laser(job: Job | None, units: Unit) -> Page:
    marks = [mark.name for mark in job.mark] if job is not None else []
    first = [("", f"mark {name}", "", "", "") for name in marks or ["____"] * _OPENINGS]
    rows = (*first, *[("", "", "", "", "")] * (_LASER_ROWS - 2 * len(first)), *first)
    columns = (
        _blank("time", 0.4),
        _blank("mark, or sill / head of opening", 1.6),
        _blank("x from the wall mark"),
        _blank("outer / inner", 0.7),
        _blank("down from the beam"),
    )
    blocks: tuple[Block, ...] = (
        Words(
            text="One sheet for each set-up. Shoot the marks first and last; write shots in the "
            "order you take them: a knock shows only there."
        ),
        Heading(
            text="Set-up ______   laser ____________   stands at ________ from the "
            "wall mark   turned: yes / no"
        ),
        Table(columns=columns, rows=rows, pad=5.6),
    )
    return Page(
        title="Laser sheet",
        subtitle=f"Write {UNIT_WORDS[units]}; above the beam is a minus. {_EDGES}",
        blocks=blocks,
    )


def _openings(names: list[str], units: Unit) -> Page:
    blocks: list[Block] = []
    for name in names:
        blocks += [Heading(text=f"Opening {name}"), *_tapes()]
    title = f"Tape sheet for {listed(tuple(names))}" if "____" not in names else "Tape sheet"
    return Page(title=title, subtitle=f"Write {UNIT_WORDS[units]}. {_EDGES}", blocks=tuple(blocks))


def _tapes() -> list[Block]:
    three = Table(
        columns=(left(""), _blank("bottom / left"), _blank("middle / centre"), _blank("top / right")),
        rows=(
            ("width, outer", "", "", ""),
            ("height, outer", "", "", ""),
            ("width, inner", "", "", ""),
            ("height, inner", "", "", ""),
        ),
        pad=5.4,
    )
    rest = Table(
        columns=(
            left(""),
            _blank("left"),
            _blank("right"),
            left(""),
            _blank("D1, T1 / T2"),
            _blank("D2, T3 / T4"),
        ),
        rows=(
            ("jack from wall mark (X)", "", "", "diagonals", "", ""),
            ("top leans right (P)", "", "", "thickness, top", "", ""),
            ("top leans in (P)", "", "", "thickness, bottom", "", ""),
            ("over height (P)", "", "", "string gap (S)", "", ""),
        ),
        pad=5.4,
        size=9,
    )
    return [three, rest]
