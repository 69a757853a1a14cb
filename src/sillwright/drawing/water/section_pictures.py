"""All sections of a dressed wall, each at the largest trade scale that fits its paper."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from sillwright.drawing.figures import Figures
from sillwright.drawing.labels import at_largest
from sillwright.drawing.page import extents, scale_words
from sillwright.drawing.scene import Anchor, Scene, Text
from sillwright.drawing.water.acts import named_holes
from sillwright.drawing.water.paper import PHONE, Paper
from sillwright.drawing.water.section_scene import Drawer, short
from sillwright.drawing.water.sections import Section, ledger_section, sections_of
from sillwright.drawing.water.square import squared
from sillwright.water import Dressing

_TYPE = 0.1


@dataclass(frozen=True, slots=True, kw_only=True)
class SectionPicture:
    """A section of an opening, or of the ledger."""

    key: str
    """`sill`, `head`, `left-jamb`, `right-jamb`; or `ledger`."""
    opening: str | None
    title: str
    scene: Scene


def section_pictures(dressing: Dressing, paper: Paper = PHONE) -> Iterator[SectionPicture]:
    """Yield the sections of every opening from left to right, then the ledger's."""
    square = squared(dressing)
    for opening, _ in named_holes(square):
        for section in sections_of(square, opening):
            yield _picture(square, section, paper)
    ledger = ledger_section(square)
    if ledger is not None:
        yield _picture(square, ledger, paper)


def _picture(dressing: Dressing, section: Section, paper: Paper) -> SectionPicture:
    of = f" of {section.opening}" if section.opening else ""
    title = f"Section at the {section.name}{of}"
    metric = paper.units == "mm"

    def build(scale: float) -> Scene:
        drawer = Drawer(dressing, section, Figures(paper.units), scale)
        order = ", ".join(short(sheet) for sheet in drawer.layers)
        scene = Scene(
            tuple(drawer.marks()),
            title=title,
            alt=f"{title}, layers drawn apart, from the wood outward: {order or 'none'}.",
            scale_x=scale,
            scale_y=scale,
            margin=0.05,
            metric=metric,
        )
        return _noted(scene, plan=section.name.endswith("jamb"))

    xs, ys = zip(*section.wood, strict=True)
    span = max(xs) - min(xs), max(ys) - min(ys)
    scene = at_largest(build, span=span, width=paper.width, height=paper.height, metric=metric)
    return SectionPicture(
        key=section.name.replace(" ", "-"), opening=section.opening, title=title, scene=scene
    )


def _noted(scene: Scene, *, plan: bool) -> Scene:
    """Return a section with its scale under it."""
    box = extents(scene)
    foot = (box.left / scene.scale_x, box.bottom / scene.scale_y)
    side = "below" if plan else "at the left"
    lines = (f"{scale_words(scene)}, outside {side}", "layers drawn apart; strokes: stuck down")
    notes = [
        Text(foot, words, anchor=Anchor.NW, nudge=(0.0, -0.1 - 0.15 * row), size=_TYPE)
        for row, words in enumerate(lines)
    ]
    return replace(scene, marks=(*scene.marks, *notes))
