"""The deck from above, to scale: ledger against the wall, joists at their spacing, beam and posts."""

from __future__ import annotations

from collections.abc import Iterable

from sillwright.drawing.figures import Figures
from sillwright.drawing.labels import TYPE, Label, at_largest, column
from sillwright.drawing.scene import Along, AnyItem, Dim, Fill, Path, Point, Role, Scene
from sillwright.inspection import DeckFrame
from sillwright.plan import Plan

_WALL = 6.0
"""How much of the wall's depth is drawn [in]."""


def framing_plan(plan: Plan, *, width: float = 9.3, height: float = 3.7) -> Scene | None:
    """Return the deck's framing from above, the wall at the top; None where its joists are not known."""
    frame = plan.frame
    if frame is None:
        return None
    figures = Figures(plan.units)

    def build(scale: float) -> Scene:
        return Scene(
            tuple(_marks(frame, figures, scale)),
            title="Deck framing from above",
            alt=f"The deck from above: {len(frame.joists)} joists from the ledger to the beam.",
            scale_x=scale,
            scale_y=scale,
            metric=plan.units == "mm",
        )

    span = (frame.length, frame.span + frame.joist_overhang + 2 * _WALL)
    return at_largest(build, span=span, width=width, height=height, metric=plan.units == "mm")


def _box(left: float, right: float, bottom: float, top: float) -> tuple[Point, ...]:
    return ((left, bottom), (right, bottom), (right, top), (left, top))


def _marks(frame: DeckFrame, figures: Figures, scale: float) -> Iterable[AnyItem]:
    """In job inches: x from the ledger's left end, y out from the wall's face, downward on paper."""
    out, tip, half = -frame.span, -frame.span - frame.joist_overhang, frame.post_side / 2
    yield Path(_box(0.0, frame.length, 0.0, _WALL), closed=True, fill=Fill.TINT, role=Role.PENCIL)
    yield Path(_box(0.0, frame.length, -1.5, 0.0), closed=True, role=Role.NEW, ref="ledger")
    for x in frame.joists:
        yield Path(_box(x - 0.75, x + 0.75, tip, -1.5), closed=True, role=Role.NEW, weight=0.6)
    yield Path(_box(0.0, frame.length, tip - 1.5, tip), closed=True, role=Role.NEW, weight=0.6)
    yield Path(
        _box(0.0, frame.length, out - 1.5, out + 1.5), closed=True, role=Role.NEW, hidden=True, weight=1.2
    )
    for x in frame.posts:
        yield Path(_box(x - half, x + half, out - half, out + half), closed=True, fill=Fill.TINT)
    yield from _words(frame, figures, scale)


def _words(frame: DeckFrame, figures: Figures, scale: float) -> Iterable[AnyItem]:
    out = -frame.span
    yield Dim(
        (0.0, _WALL), (frame.length, _WALL), 0.22, figures.place(frame.length), along=Along.X, size=TYPE
    )
    count = len(frame.joists)
    k = max(1, 3 * count // 4 - 1)  # its words clear of the first posts
    a, b = frame.joists[k : k + 2] if count > 3 else (0.0, frame.joists[-1])
    below = out - max(frame.joist_overhang, frame.post_side / 2)
    yield Dim((b, below), (a, below), 0.2, f"{figures.place(b - a)} on centre", along=Along.X, size=TYPE)
    if len(frame.posts) > 1:
        first, second = frame.posts[:2]
        words = f"posts {figures.place(second - first)}"
        yield Dim((second, below), (first, below), 0.5, words, along=Along.X, size=TYPE)
    yield Dim(
        (frame.length, out),
        (frame.length, 0.0),
        -0.25,
        f"span {figures.place(frame.span)}",
        along=Along.Z,
        size=TYPE,
    )
    past_posts = f", past its posts {figures.place(frame.beam_overhang)}" if frame.beam_overhang else ""
    named = [
        Label(at=(0.0, _WALL / 2), text="house"),
        Label(at=(0.0, -frame.span / 2), text=f"joists {frame.joist_words}", bold=True),
        Label(at=(0.0, out), text=f"beam {frame.beam_words}{past_posts}"),
    ]
    if frame.joist_overhang:
        past = f"joists run on {figures.place(frame.joist_overhang)}"
        named.append(Label(at=(0.0, out - frame.joist_overhang), text=past))
    yield from column(named, x=-0.35 / scale, scale=(scale, scale), to_left=True)
