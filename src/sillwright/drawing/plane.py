"""One opening's plane: the unit from outside with what each corner needs, and a section at each jack.

In the sections, in and out is stretched: left is outside, the plumb chalk line stands at the sheathing's
foot, the wall's face is pencil, the unit's plane is new.
"""

from __future__ import annotations

from collections.abc import Sequence

from sillwright.drawing.figures import Figures
from sillwright.drawing.labels import TYPE, at_largest
from sillwright.drawing.observed import height_at
from sillwright.drawing.scene import Anchor, AnyItem, Fill, Path, Role, Scene, Text
from sillwright.drawing.wall import outline, unit_in
from sillwright.plan import Plan
from sillwright.setting.model import Corner, UnitPosition
from sillwright.survey.model import OpeningShape, Station

_STRETCHES = (40, 30, 25, 20, 16, 12, 10, 8, 6, 5, 4, 3, 2, 1)
_SECTION = 0.55
"""Paper for the deepest lean in a section [paper inches]."""
_ASIDE = 1.45
"""Paper between the unit and a section's plumb line [paper inches]."""


def wall_plane(plan: Plan, opening: str, *, height: float, width: float = 6.6) -> Scene | None:
    """Return the drawing of an opening's plane; None where no corner of its unit is determined."""
    unit = unit_in(plan, opening)
    shape = next((shape for shape in plan.survey.openings if shape.name == opening), None)
    if unit is None or shape is None or not any(_known(corner) for corner in unit.corners):
        return None
    return at_largest(
        lambda scale: _scene(plan, unit, shape, scale),
        span=(unit.right - unit.left, unit.top - unit.bottom),
        width=width,
        height=height,
        metric=plan.units == "mm",
    )


def _scene(plan: Plan, unit: UnitPosition, shape: OpeningShape, scale: float) -> Scene:
    leans = [abs(s.value) for s in (*shape.left_face, *shape.right_face)]
    leans += [abs(corner.fur_out or 0.0) + max(leans, default=0.0) for corner in unit.corners]
    stretch = next((n for n in _STRETCHES if max(leans) * scale * n <= _SECTION), 1)
    figures = Figures(plan.units)
    marks: list[AnyItem] = [
        Path(outline(shape), closed=True, fill=Fill.TINT),
        Path(_frame(unit), closed=True, fill=Fill.PAPER, role=Role.NEW, weight=0.7, ref=unit.id),
        Text(_middle(unit), unit.opening, anchor=Anchor.C, size=0.2, bold=True),
    ]
    for corner in unit.corners:
        marks += _corner(unit, corner, figures)
    for left, stations in ((True, shape.left_face), (False, shape.right_face)):
        if len(stations) > 1:
            marks += _section(unit, shape, stations, left=left, scale=scale, stretch=stretch)
    return Scene(
        tuple(marks),
        title=f"Plane of the unit in {unit.opening}",
        alt=f"The unit in {unit.opening} from outside with packing and jamb extension at each corner, and "
        f"sections at both jacks with in and out stretched {stretch:g} times.",
        scale_x=scale,
        scale_y=scale,
        metric=plan.units == "mm",
    )


def section_stretch(scene: Scene) -> str:
    """Return how far in and out is stretched in the sections, as the drawing's description says it."""
    return scene.alt.rpartition("stretched ")[2].removesuffix(".")


def _known(corner: Corner) -> bool:
    return corner.fur_out is not None or corner.extension is not None


def _frame(unit: UnitPosition) -> tuple[tuple[float, float], ...]:
    return (
        (unit.left, unit.bottom),
        (unit.right, unit.bottom),
        (unit.right, unit.top),
        (unit.left, unit.top),
    )


def _middle(unit: UnitPosition) -> tuple[float, float]:
    return ((unit.left + unit.right) / 2, (unit.bottom + unit.top) / 2)


def _corner(unit: UnitPosition, corner: Corner, figures: Figures) -> list[AnyItem]:
    """Two lines beside a corner of the unit: packing outside, extension inside."""
    top, left = corner.corner.startswith("top"), corner.corner.endswith("left")
    at = (unit.left if left else unit.right, unit.top if top else unit.bottom)
    band = f" {figures.band(corner.sd)}" if corner.sd else ""
    fur = "packing –" if corner.fur_out is None else f"packing {figures.fine(corner.fur_out)}"
    extension = "ext. –" if corner.extension is None else f"ext. {figures.fine(corner.extension)}{band}"
    first = -0.06 if top else 0.24
    aside = -0.14 if left else 0.14
    anchor = Anchor.E if left else Anchor.W
    return [
        Text(
            at,
            words,
            anchor=anchor,
            nudge=(aside, first - 0.17 * row),
            size=TYPE,
            bold=row == 0,
            role=role,
            ref=unit.id,
        )
        for row, (words, role) in enumerate(((fur, Role.CRAYON), (extension, Role.NOTE)))
    ]


def _section(
    unit: UnitPosition,
    shape: OpeningShape,
    stations: Sequence[Station],
    *,
    left: bool,
    scale: float,
    stretch: float,
) -> list[AnyItem]:
    """The wall's face and the unit's plane at one jack, in and out along the paper, outside at the left."""
    aside = (_ASIDE + _SECTION / 2) / scale
    x0 = unit.left - aside - _SECTION / 2 / scale if left else unit.right + aside
    foot = height_at(shape.sill_outer, shape.left if left else shape.right) if shape.sill_outer else 0.0
    base = stations[0].value
    face = tuple((x0 + (s.value - base) * stretch, foot + s.at) for s in stations)
    low, high = unit.bottom - 0.1 / scale, unit.top + 0.1 / scale
    marks: list[AnyItem] = [
        Path(((x0, low), (x0, high)), role=Role.CHALK),
        Path(face, weight=0.8),
        Text((x0, low), f"{'left' if left else 'right'} jack", anchor=Anchor.N, nudge=(0, -0.06), size=0.1),
        Text((x0, high), "plumb", anchor=Anchor.S, nudge=(0, 0.04), size=0.1, role=Role.CHALK),
    ]
    side = "left" if left else "right"
    packing: dict[str, float | None] = {corner.corner: corner.fur_out for corner in unit.corners}
    ends = [(packing.get(f"{end}_{side}"), z) for end, z in (("bottom", unit.bottom), ("top", unit.top))]
    points = [
        (x0 + (height_at(tuple(stations), z - foot) - base - fur) * stretch, z)
        for fur, z in ends
        if fur is not None
    ]
    if len(points) == 2:
        marks.append(Path(tuple(points), role=Role.NEW, weight=1.2))
    return marks
