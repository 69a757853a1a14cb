"""What a screen is made of, besides drawings: plain blocks, each of a kind that the page can show."""

from __future__ import annotations

from typing import Any, Literal

from pydantic import BaseModel, Field

from sillwright.findings import Finding, Severity
from sillwright.web.drawings import Drawing
from sillwright.web.faults import ToldFault


class Heading(BaseModel):
    """A heading inside a screen."""

    kind: Literal["heading"] = "heading"
    text: str


class Words(BaseModel):
    """A paragraph."""

    kind: Literal["words"] = "words"
    text: str
    style: Literal["plain", "note", "lead", "strong"] = "plain"


class FindingBlock(BaseModel):
    """A finding of the plan."""

    kind: Literal["finding"] = "finding"
    id: str
    severity: Severity
    text: str
    advice: str
    source: str
    place: str
    value: str
    limit: str
    answer: str
    why: str


class Card(BaseModel):
    """One figure with its name."""

    kind: Literal["card"] = "card"
    title: str
    value: str
    note: str = ""
    why: str = ""
    ref: str = ""


class Cell(BaseModel):
    """One cell of a table; `why` is the id that explains it."""

    text: str
    why: str = ""


class TableRow(BaseModel):
    """One row of a table."""

    cells: list[Cell]
    ref: str = ""
    marked: bool = False


class Column(BaseModel):
    """One column of a table."""

    head: str
    align: Literal["left", "right", "center"] = "left"
    style: Literal["plain", "ring", "strong"] = "plain"


class Table(BaseModel):
    """Rows under heads."""

    kind: Literal["table"] = "table"
    title: str = ""
    columns: list[Column]
    rows: list[TableRow]
    note: str = ""


class ActLine(BaseModel):
    """One thing to do."""

    act: str
    number: str
    what: str
    opening: str
    text: str
    place: str
    ref: str
    why: str
    state: Literal["open", "done", "changed"]
    done_at: str = ""
    done_text: str = ""
    blocked_by: list[str] = Field(default_factory=list)


class Acts(BaseModel):
    """Things to do, in order."""

    kind: Literal["acts"] = "acts"
    title: str = ""
    acts: list[ActLine]


class HoldBlock(BaseModel):
    """A point where the work waits until somebody has looked."""

    kind: Literal["hold"] = "hold"
    hold: str
    title: str
    text: str
    source: str
    photo: bool
    state: Literal["open", "ticked", "overridden"]
    reason: str = ""
    at: str = ""
    device: str = ""
    blocks: list[str] = Field(default_factory=list)


class VersionLine(BaseModel):
    """What one event says of a reading."""

    event: str
    at: str
    device: str
    values: dict[str, str] | None
    in_use: bool


class ConflictBlock(BaseModel):
    """Two versions of one reading that stand against each other."""

    kind: Literal["conflict"] = "conflict"
    reading_id: str
    label: str
    versions: list[VersionLine]


class Said(BaseModel):
    """A note, a photo, a signature, a word on the weather, as it was entered."""

    kind: Literal["note", "photo", "sign", "weather"]
    event: str
    at: str
    device: str
    place: str = ""
    text: str = ""
    photo: str = ""
    step: str = ""
    name: str = ""
    role: str = ""
    what: str = ""


class Work(BaseModel):
    """A button that starts long work."""

    kind: Literal["work"] = "work"
    work: str
    title: str
    text: str


class Step(BaseModel):
    """One step of a sequence that is shown one at a time."""

    kind: Literal["step"] = "step"
    act: str
    title: str
    lines: list[str]
    svg: str = ""
    why: str = ""
    photo: bool = False


Block = Heading | Words | FindingBlock | Card | Table | Acts | HoldBlock | ConflictBlock | Said | Work | Step


class NextLine(BaseModel):
    """Something worth doing next on a screen."""

    text: str
    place: str = ""
    why: str = ""
    reduction: float | None = None


class Screen(BaseModel):
    """One screen of a job."""

    screen: str
    title: str
    seq: int
    plan: str | None
    units: str
    faults: list[ToldFault]
    svg: list[Drawing] = Field(default_factory=list)
    blocks: list[Block] = Field(default_factory=list)
    next: list[NextLine] = Field(default_factory=list)
    places: dict[str, Any] | None = None
    readings: dict[str, str] | None = None
    setups: list[dict[str, Any]] | None = None
    wall: dict[str, Any] | None = None
    checked: dict[str, Any] | None = None
    gain: dict[str, Any] | None = None


def finding_block(finding: Finding) -> FindingBlock:
    """Return a finding as a block."""
    return FindingBlock(
        id=finding.id,
        severity=finding.severity,
        text=finding.message,
        advice=finding.advice,
        source=finding.source,
        place=finding.place,
        value=finding.value,
        limit=finding.limit,
        answer=finding.answer,
        why=finding.id,
    )


def column(head: str, align: Literal["left", "right", "center"] = "left", *, style: Any = "plain") -> Column:
    """Return a column."""
    return Column(head=head, align=align, style=style)


def cell(text: str, why: str = "") -> Cell:
    """Return a cell."""
    return Cell(text=text, why=why)
