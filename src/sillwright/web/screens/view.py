"""What every screen is made from."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any, TypedDict

from sillwright.drawing import Figures, Scene, plan_drawings
from sillwright.findings import Finding
from sillwright.job import Job
from sillwright.plan import Plan
from sillwright.store import State
from sillwright.web.blocks import (
    Block,
    ConflictBlock,
    FindingBlock,
    NextLine,
    Said,
    VersionLine,
    finding_block,
)
from sillwright.web.drawings import Drawing, drawing
from sillwright.web.planning import Planned

HOMES = {
    "suspect": "measure",
    "disturbed": "measure",
    "laser": "measure",
    "open": "measure",
    "unchecked": "measure",
    "global_test": "measure",
    "heights": "heights",
    "water": "water",
    "lap": "water",
    "pair": "water",
    "cutting": "water",
    "material": "water",
    "ledger": "deck",
    "deck": "deck",
    "framing": "deck",
    "openings": "proof",
    "check": "proof",
}
"""The screen of a finding by the second word of its id; all others are matters of setting."""


class Filled(TypedDict, total=False):
    """What a screen's function gives."""

    svg: list[Drawing]
    blocks: list[Block]
    next: list[NextLine]
    places: dict[str, Any]
    readings: dict[str, str]
    setups: list[dict[str, Any]]
    wall: dict[str, Any]
    checked: dict[str, Any]
    gain: dict[str, Any]


@dataclass(frozen=True)
class View:
    """A job as it stands, its plan, and the names of those who entered things."""

    state: State
    planned: Planned
    names: Mapping[str, str]
    """Names of devices by id."""

    @property
    def job(self) -> Job:
        """Return the job."""
        return self.state.document

    @property
    def plan(self) -> Plan | None:
        """Return the plan, None where there is none."""
        return self.planned.plan

    @cached_property
    def figures(self) -> Figures:
        """Return how lengths read."""
        return Figures(self.job.units)

    @cached_property
    def scenes(self) -> Mapping[str, Scene]:
        """Return every drawing of the plan by name."""
        return {} if self.plan is None else plan_drawings(self.job, self.plan)

    def drawn(self, *starts: str) -> list[Drawing]:
        """Return the drawings whose names start so, in that order; true-scale doubles left out."""
        return [
            drawing(name, scene)
            for start in starts
            for name, scene in self.scenes.items()
            if name.startswith(start) and not name.endswith("-true")
        ]

    def why(self, ident: str) -> str:
        """Return an id if it can be asked about, else nothing."""
        return ident if ident in self.planned.idents else ""

    def findings(self, screen: str) -> list[Block]:
        """Return the findings that belong to a screen."""
        found = () if self.plan is None else self.plan.findings
        return [self.finding(each) for each in found if home(each) == screen]

    def finding(self, finding: Finding) -> FindingBlock:
        """Return one finding."""
        block = finding_block(finding)
        return block.model_copy(update={"why": self.why(finding.id)})

    def conflicts(self) -> list[Block]:
        """Return every reading of which two versions stand against each other."""
        labels = {reading.id: filed.label for reading, filed in self.state.filed()}
        return [
            ConflictBlock(
                reading_id=reading.id,
                label=labels.get(reading.id, " ".join(reading.cells.values())),
                versions=[
                    VersionLine(
                        event=version.event,
                        at=version.at,
                        device=self.name(version.device),
                        values=None if version.values is None else dict(version.values),
                        in_use=n == 0,
                    )
                    for n, version in enumerate(reading.heads)
                ],
            )
            for reading in self.state.conflicts()
        ]

    def name(self, device: str) -> str:
        """Return a device's name."""
        return self.names.get(device, device[:8])

    def said(self, kind: Any, entries: Iterable[Mapping[str, Any]]) -> list[Block]:
        """Return entries of one kind as blocks."""
        known = set(Said.model_fields) - {"kind", "device"}
        return [
            Said(
                kind=kind,
                device=self.name(entry["device"]),
                **{key: value for key, value in entry.items() if key in known and value is not None},
            )
            for entry in entries
        ]


def home(finding: Finding) -> str:
    """Return the screen that a finding belongs to."""
    words = finding.id.split(".")
    word = words[1] if words[0] == "finding" and len(words) > 1 else words[0]
    return HOMES.get(word, "set")
