"""Two printed sheets out of the record: for the owner at the handover, and for the inspector."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Literal

from sillwright.drawing import Figures, chance, plan_drawings
from sillwright.errors import BadInput
from sillwright.inspection import InspectionRow
from sillwright.job import Job
from sillwright.packet import (
    STAMPS,
    USUAL_PAPER,
    Block,
    Column,
    Figure,
    Heading,
    Packet,
    Page,
    Picture,
    Side,
    Table,
    Words,
    source_words,
)
from sillwright.plan import Plan
from sillwright.store import Entry, State
from sillwright.web.holds import WATER, act_keys, holds_of, passed
from sillwright.wording import fault, say

PHOTO_WIDTH = 3.35
"""Of a photo on paper, two in a row [in]."""
_TALLEST = 4.2


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """A photo as it goes on a sheet."""

    file: Path
    size: tuple[int, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class Papers:
    """What the sheets are made from."""

    job: Job
    made: Plan | None
    """The plan, if there is one."""
    state: State
    names: Mapping[str, str]
    """Of devices."""
    photos: Mapping[str, Shown]

    @property
    def plan(self) -> Plan:
        """Return the plan.

        Raises:  BadInput: there is none
        """
        if self.made is None:
            raise BadInput(fault("work_fault.no_plan"))
        return self.made

    @property
    def figures(self) -> Figures:
        """Return how lengths read."""
        return Figures(self.job.units)


def handover(papers: Papers) -> Packet:
    """Return the sheet for the owner: what was set where, what was seen, who signed, how to keep it dry."""
    blocks: list[Block] = [
        Words(text=say("handover.lead"), style="lead"),
        *_elevation(papers),
        Heading(text=say("handover.units")),
        _units(papers),
        *_care(),
        *_pictures(papers),
        *_signatures(papers, lines=2),
    ]
    pages = (Page(title=say("handover.title"), subtitle=_subtitle(papers), blocks=tuple(blocks)),)
    return _packet(papers, pages)


def record(papers: Papers) -> Packet:
    """Return the sheet for the inspector: findings, hold points, what was done, photos, the record's hash."""
    findings = Page(
        title=say("record.title"),
        subtitle=_subtitle(papers),
        blocks=(
            Words(text=say("record.lead"), style="note"),
            Heading(text=say("record.findings")),
            _findings(papers),
            Heading(text=say("record.holds")),
            _holds(papers),
            *_conflicts(papers),
        ),
        landscape=True,
    )
    done = Page(
        title=say("record.done_title"),
        subtitle=_subtitle(papers),
        blocks=(
            Heading(text=say("record.acts")),
            _acts(papers),
            *_notes(papers),
            *_signatures(papers, lines=3),
            Heading(text=say("record.chain")),
            Words(text=say("record.chain_words", seq=papers.state.seq, head=papers.state.head)),
        ),
    )
    photos = Page(
        title=say("record.photos"), subtitle=_subtitle(papers), blocks=tuple(_pictures(papers, heading=False))
    )
    return _packet(papers, (findings, done, *([photos] if papers.photos else [])))


def _packet(papers: Papers, pages: tuple[Page, ...]) -> Packet:
    return Packet(
        title=papers.plan.title,
        wall=say("handover.wall", openings=", ".join(each.name for each in papers.job.opening)),
        fingerprint=papers.plan.fingerprint,
        invented=papers.plan.invented,
        paper=USUAL_PAPER[papers.plan.units],
        pages=pages,
    )


def _subtitle(papers: Papers) -> str:
    place = f"{papers.job.site.place}. " if papers.job.site.place else ""
    invented = f"{say('handover.invented')} " if papers.plan.invented else ""
    return f"{invented}{place}{papers.plan.title}"


def _column(name: str, *, width: float = 0, align: Literal["left", "right"] = "left") -> Column:
    return Column(head=say(f"column.{name}"), width=width, align=align)


def _elevation(papers: Papers) -> list[Block]:
    scene = plan_drawings(papers.job, papers.plan).get("elevation")
    return [] if scene is None else [Figure(scene=scene)]


def _units(papers: Papers) -> Table:
    figures = papers.figures
    rows = []
    done = papers.state.acts
    for key, act in act_keys(papers.plan).items():
        if act.kind != "set":
            continue
        unit = next(each for each in papers.plan.setting.units if each.opening == act.opening)
        fits = "" if unit.fit is None else chance(unit.fit.probability)
        when = _when(done[key]) if key in done else say("handover.not_ticked")
        rows.append((act.opening, unit.kind, figures.size(unit.width, unit.height), fits, when))
    columns = (
        _column("opening"),
        _column("unit", width=1),
        _column("frame", align="right"),
        _column("fits", align="right"),
        _column("set", width=1),
    )
    return Table(columns=columns, rows=tuple(rows))


def _care() -> list[Block]:
    lines = [say(f"handover.care_{n}") for n in range(1, 6)]
    return [Heading(text=say("handover.care")), *(Words(text=line) for line in lines)]


def _findings(papers: Papers) -> Table:
    rows: list[tuple[str, ...]] = [_inspected(row) for row in papers.plan.inspection]
    names = ("place", "finding", "found", "limit", "source", "answer")
    widths = (1.0, 4.0, 1.0, 1.4, 2.2, 1.6)
    listed = {row.id for row in papers.plan.inspection}
    rows += [
        (STAMPS[each.severity], each.place, each.message, each.value, each.limit, each.source, each.answer)
        for each in papers.plan.findings
        if each.id not in listed
    ]
    columns = (
        Column(head="", style="strong"),
        *(_column(name, width=width) for name, width in zip(names, widths, strict=True)),
    )
    marked = frozenset(n for n, row in enumerate(rows) if row[0] == "STOP" and not row[-1])
    return Table(columns=columns, rows=tuple(rows), marked=marked, size=8.5, pad=3.2)


def _inspected(row: InspectionRow) -> tuple[str, ...]:
    word = STAMPS[row.severity] if row.severity else row.result
    source = source_words(row.source, from_memory=row.from_memory)
    return (word, row.place, row.what, row.value, row.limit, source, row.answer)


def _holds(papers: Papers) -> Table:
    rows: list[tuple[str, ...]] = []
    open_: set[int] = set()
    for hold in holds_of(papers.job, papers.plan):
        entry = passed(hold, papers.state, papers.plan)
        if entry is None:
            open_.add(len(rows))
        told = say("record.open") if entry is None else say(f"record.{entry['how']}")
        reason = "" if entry is None else entry["reason"]
        rows.append((hold.title, told, reason, *_whom(papers, entry)))
    names = (("hold", 2.0), ("state", 0), ("reason", 2.0), ("at", 0), ("by", 0))
    columns = tuple(_column(name, width=width) for name, width in names)
    return Table(columns=columns, rows=tuple(rows), marked=frozenset(open_), size=9)


def _whom(papers: Papers, entry: Entry | None) -> tuple[str, str]:
    if entry is None or not entry["device"]:
        return "", ""
    return _when(entry), papers.names.get(entry["device"], entry["device"][:8])


def _when(entry: Mapping[str, Any]) -> str:
    """Return the time of an entry as its clock had it: to the minute, with a plain blank."""
    return str(entry["at"])[:16].replace("T", " ")


def _conflicts(papers: Papers) -> list[Block]:
    open_ = papers.state.conflicts()
    if not open_:
        return []
    told = "; ".join(
        say(
            "record.conflict",
            reading=" ".join(reading.cells.get(key, "") for key in ("opening", "place")).strip()
            or reading.kind,
            values=", ".join(
                say("record.taken_out") if head.values is None else head.values["value"]
                for head in reading.heads
            ),
        )
        for reading in open_
    )
    return [Heading(text=say("record.conflicts")), Words(text=told)]


def _acts(papers: Papers) -> Table:
    known = act_keys(papers.plan)
    rows = []
    for key, act in known.items():
        entry = papers.state.acts.get(key)
        changed = entry is not None and entry["text"] not in ("", act.text)
        done_as = say("record.done_as", text=entry["text"]) if changed and entry is not None else ""
        rows.append((str(act.number), act.opening, act.text, done_as, *_whom(papers, entry)))
    for key, entry in papers.state.acts.items():
        if key not in known:
            lost = "" if key.startswith(WATER) else say("record.not_in_plan")
            rows.append(("", "", entry["text"] or key, lost, *_whom(papers, entry)))
    columns = (
        Column(head="", style="ring"),
        _column("opening"),
        _column("act", width=2.4),
        _column("done_as", width=1.4),
        _column("at"),
        _column("by"),
    )
    return Table(columns=columns, rows=tuple(rows), size=9)


def _notes(papers: Papers) -> list[Block]:
    entries = [
        *((note["at"], note["place"], note["text"], note) for note in papers.state.notes),
        *((note["at"], say("record.weather"), note["text"], note) for note in papers.state.weather),
    ]
    rows = tuple(
        (_when(entry), place, text, _whom(papers, entry)[1])
        for _, place, text, entry in sorted(entries, key=lambda each: each[0])
    )
    if not rows:
        return []
    columns = (_column("at"), _column("place"), _column("note", width=1), _column("by"))
    return [Heading(text=say("record.notes")), Table(columns=columns, rows=rows, size=9)]


def _signatures(papers: Papers, *, lines: int) -> list[Block]:
    """Return who signed on the screen, and lines to sign on paper."""
    rows = [(sign["name"], sign["role"], sign["what"], _when(sign)) for sign in papers.state.signs]
    rows += [("", "", "", "")] * lines
    columns = tuple(
        Column(head=say(f"column.{name}"), style="write", width=width)
        for name, width in (("name", 1.4), ("role", 1), ("what", 1.4), ("at", 1))
    )
    return [Heading(text=say("record.signatures")), Table(columns=columns, rows=tuple(rows), pad=7)]


def _pictures(papers: Papers, *, heading: bool = True) -> list[Block]:
    shown: list[Picture] = []
    for entry in papers.state.photos:
        photo = papers.photos.get(entry["photo"])
        if photo is None:
            continue
        words = " · ".join(each for each in (entry["place"], entry["step"], _when(entry)) if each)
        wide, high = photo.size
        shown.append(
            Picture(
                data=photo.file.read_bytes(),
                media="image/webp",
                size=photo.size,
                width=min(PHOTO_WIDTH, _TALLEST * wide / high),
                alt=words,
                caption=words,
            )
        )
    rows = [
        Side(columns=tuple((picture,) for picture in shown[n : n + 2]), gap=12)
        for n in range(0, len(shown), 2)
    ]
    return [Heading(text=say("record.photos")), *rows] if rows and heading else [*rows]
