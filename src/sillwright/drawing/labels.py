"""Where labels go so that none lies on another: columns and rows beside what they name, with leaders."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from sillwright.drawing.page import sheet, spread, trade_scales
from sillwright.drawing.scene import Anchor, AnyItem, Path, Point, Role, Scene, Text
from sillwright.drawing.shapes import text_width
from sillwright.errors import OutOfRange

TYPE = 0.11
"""Ordinary type on a drawing [paper inches]: 8 points."""
LEADER = 0.5
"""Weight of a leader, of its role's line weight."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """Words for a place; `size` in paper inches."""

    at: Point
    text: str
    role: Role = Role.NOTE
    bold: bool = False
    ref: str = ""


def spread_within(positions: Sequence[float], gap: float, *, low: float, high: float) -> tuple[float, ...]:
    """Return positions at least `gap` apart and inside low to high, moved little; order kept.

    Where they cannot all stand inside, they keep their gap and run over the far end.
    """
    placed = list(spread(positions, gap))
    order = sorted(range(len(placed)), key=lambda index: (placed[index], index))
    for rank, index in enumerate(reversed(order)):
        placed[index] = min(placed[index], high - rank * gap)
    for rank, index in enumerate(order):
        placed[index] = max(placed[index], low + rank * gap)
    return tuple(placed)


def column(labels: Sequence[Label], *, x: float, scale: Point, to_left: bool = False) -> list[AnyItem]:
    """Return labels one under another at `x`, each with a leader from its place.

    Args:    x: of the near end of the words [job inches]; scale: paper inches to a job inch, across and up
    """
    sx, sy = scale
    heights = spread([label.at[1] * sy for label in labels], TYPE * 1.5)
    sign = -1.0 if to_left else 1.0
    items: list[AnyItem] = []
    for label, height in zip(labels, heights, strict=True):
        knee = (x - sign * 0.05 / sx, height / sy)
        turn = (x - sign * 0.2 / sx, label.at[1])
        items.append(Path((label.at, turn, knee), role=Role.NOTE, weight=LEADER))
        items.append(
            Text(
                (x, height / sy),
                label.text,
                anchor=Anchor.E if to_left else Anchor.W,
                size=TYPE,
                role=label.role,
                bold=label.bold,
                ref=label.ref,
            )
        )
    return items


def widest(labels: Sequence[str], size: float = TYPE) -> float:
    """Return the width of the widest of some words [paper inches]; 0 for none."""
    return max((text_width(text, size) for text in labels), default=0.0)


def cut(text: str, width: float, size: float) -> str:
    """Return a text, or as much of it as a width of paper holds, with an ellipsis; empty when too little."""
    if text_width(text, size) <= width:
        return text
    words = text.split()
    while words and text_width(" ".join(words) + " …", size) > width:
        words.pop()
    return " ".join(words).rstrip(",;") + " …" if words else ""


def at_largest(
    build: Callable[[float], Scene], *, span: Point, width: float, height: float, metric: bool
) -> Scene:
    """Return a scene built at the largest trade scale at which its sheet, words and all, fits a box.

    Args:    build: from paper inches to a job inch; span: across and up, to start from [job inches];
             width, height: of the box [paper inches]
    Raises:  OutOfRange: not even the smallest scale fits
    """
    for scale in trade_scales(metric=metric):
        if span[0] * scale > width or span[1] * scale > height:
            continue
        scene = build(scale)
        box = sheet(scene)
        if box.width <= width and box.height <= height:
            return scene
    raise OutOfRange(
        f"drawing: {span[0]:g} x {span[1]:g} in of wall do not fit {width:g} x {height:g} in of paper"
    )
