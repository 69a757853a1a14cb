"""Step pictures: one for every act of dressing a wall, in the order of work."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from sillwright.drawing.figures import Figures
from sillwright.drawing.page import extents, sheet, text_boxes
from sillwright.drawing.scene import Anchor, Mark, MarkKind, Role, Scene, Text
from sillwright.drawing.shapes import text_width
from sillwright.drawing.water.acts import Act, Standing, standings
from sillwright.drawing.water.measures import measures
from sillwright.drawing.water.overlay import Overlay
from sillwright.drawing.water.paint import Painter
from sillwright.drawing.water.paper import PHONE, Paper
from sillwright.drawing.water.sentences import called_flap, sentence
from sillwright.drawing.water.square import squared
from sillwright.drawing.water.tags import Tags
from sillwright.drawing.water.windows import framed
from sillwright.errors import OutOfRange
from sillwright.water import Dressing

_BALLOON = 0.3
_MARGIN = 0.04
_TRIES = 6
_TYPE = 0.125


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One act: what to do, and the picture of it."""

    number: int
    key: str
    """The piece's name, or that of its flap."""
    opening: str | None
    title: str
    sentence: str
    scene: Scene


def step_pictures(dressing: Dressing, paper: Paper = PHONE) -> Iterator[Step]:
    """Yield every act of a dressed wall with its picture, in the order of work."""
    for now in standings(squared(dressing)):
        yield _step(now, paper, None)


def step_picture(
    dressing: Dressing, number: int, paper: Paper = PHONE, *, opening: str | None = None
) -> Step:
    """Return act `number`, from 1, with its picture.

    Args:    opening: where to show a piece that runs along the wall; None: the first opening it is cut at
    Raises:  OutOfRange: there is no such act
    """
    every = list(standings(squared(dressing)))
    if not 1 <= number <= len(every):
        raise OutOfRange(f"drawing: there are acts 1 to {len(every)}, no act {number}")
    return _step(every[number - 1], paper, opening)


def _step(now: Standing, paper: Paper, opening: str | None) -> Step:
    number = now.act.number
    window, view = framed(now, opening)
    painter, figures = Painter(now, view, window), Figures(paper.units)
    title, told = _title(now.act), sentence(now, figures)
    bare = Scene(
        tuple(painter.paint()),
        title=f"Step {number}, {title}",
        alt=told,
        margin=_MARGIN,
        metric=paper.units == "mm",
    )
    box = extents(bare)
    scale = min((paper.width - 2 * _MARGIN) / box.width, (paper.height - 2 * _MARGIN) / box.height)
    for _ in range(_TRIES):
        scene = _dressed(bare, painter, scale, figures)
        if paper.caption:
            scene = _captioned(scene, told, paper.width)
        taken = sheet(scene)
        if taken.width <= paper.width and taken.height <= paper.height:
            break
        scale *= min(paper.width / taken.width, paper.height / taken.height) * 0.995
    return Step(
        number=number, key=now.act.key, opening=now.act.opening, title=title, sentence=told, scene=scene
    )


def _captioned(scene: Scene, told: str, width: float) -> Scene:
    """Return a picture with its sentence under it."""
    box, lines = extents(scene), [""]
    for word in told.split():
        longer = f"{lines[-1]} {word}".strip()
        if lines[-1] and text_width(longer, _TYPE) > width - 4 * _MARGIN:
            lines.append(word)
        else:
            lines[-1] = longer
    foot = (box.left / scene.scale_x, box.bottom / scene.scale_y)
    words = [
        Text(foot, line, anchor=Anchor.NW, nudge=(0.0, -0.08 - 0.17 * row), size=_TYPE)
        for row, line in enumerate(lines)
    ]
    return replace(scene, marks=(*scene.marks, *words))


def _title(act: Act) -> str:
    words = called_flap(act) if act.flap else act.sheet.words
    return words[0].upper() + words[1:]


def _dressed(bare: Scene, painter: Painter, scale: float, figures: Figures) -> Scene:
    """Return a painted act with its marks over it, at a scale."""
    number, over = _number(painter, scale), tuple(Overlay(painter, scale).marks())
    scaled = replace(bare, marks=(*bare.marks, *over, number), scale_x=scale, scale_y=scale)
    taken = [each.box for each in text_boxes(replace(scaled, marks=(*over, number)))]
    tags = Tags(painter, scale, figures).marks(measures(painter.now), taken, extents(scaled))
    return replace(scaled, marks=(*bare.marks, *over, *tags, number))


def _number(painter: Painter, scale: float) -> Mark:
    """Return the act's number in the corner that the slant of the picture leaves free."""
    edge = painter.edge()
    top, reach = max(y for _, y in edge), _BALLOON / 2 / scale
    xs = [x for x, _ in edge]
    rising = painter.view.from_left == painter.view.from_above
    x = min(xs) + reach if rising else max(xs) - reach
    at = (x, top - reach)
    return Mark(at, MarkKind.BALLOON, role=Role.CRAYON, text=str(painter.now.act.number), size=_BALLOON)
