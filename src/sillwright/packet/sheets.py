"""What every page of a packet is made from: job, plan, drawings, paper, and how figures read."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from sillwright.drawing import Figures, Scene, sheet
from sillwright.job import Job
from sillwright.packet.blocks import Column, ColumnStyle, Figure
from sillwright.packet.compose import MARGIN_BOTTOM, MARGIN_TOP, MARGIN_X, PAPER_SIZES, Paper
from sillwright.plan import Plan

UNIT_WORDS = {"in": "inches", "mm": "millimetres"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheets:
    """The material of a packet."""

    job: Job
    plan: Plan
    paper: Paper
    figures: Figures
    drawings: Mapping[str, Scene]

    @property
    def units_note(self) -> str:
        """Say which unit bare numbers are in and where heights and places count from."""
        mark = self.job.wall.mark or "the wall mark"
        datum = self.plan.survey.datum
        return (
            f"All lengths in {UNIT_WORDS[self.plan.units]}; places from {mark}, heights from "
            f"{datum}, seen from outside."
        )


def room(paper: Paper, *, landscape: bool = False) -> tuple[float, float]:
    """Return width and height that a page leaves for its blocks, its title taken off [in]."""
    width, height = PAPER_SIZES[paper]
    if landscape:
        width, height = height, width
    return width - 2 * MARGIN_X, height - MARGIN_TOP - MARGIN_BOTTOM - 0.75


def centred(scene: Scene, paper: Paper, *, landscape: bool = False, caption: str = "") -> Figure:
    """Return a drawing in the middle of the page."""
    width, _ = room(paper, landscape=landscape)
    return Figure(scene=scene, caption=caption, indent=max(0.0, (width - sheet(scene).width) / 2))


def left(head: str, *, width: float = 0, style: ColumnStyle = "plain") -> Column:
    """Return a column of words."""
    return Column(head=head, width=width, style=style)


def right(head: str, *, width: float = 0) -> Column:
    """Return a column of figures."""
    return Column(head=head, align="right", width=width)


def ring(head: str) -> Column:
    """Return a column of ringed numbers, as on the drawing."""
    return Column(head=head, align="center", style="ring")


def sentence(words: str) -> str:
    """Return words with a capital first and a full stop last."""
    text = words.strip()
    if not text:
        return ""
    return text[0].upper() + text[1:] + ("" if text.endswith((".", "?", ":")) else ".")


def listed(names: tuple[str, ...]) -> str:
    """Return names as said: A; A and B; A, B and C."""
    return " and ".join([", ".join(names[:-1]), names[-1]]) if len(names) > 1 else "".join(names)


def count(number: int, noun: str, nouns: str = "") -> str:
    """Return a number with its noun: 1 pad, 3 pads."""
    return f"{number} {noun if number == 1 else nouns or noun + 's'}"
