"""Every drawing of a plan, by name."""

from __future__ import annotations

from sillwright.drawing.deck_section import deck_section, whole_section
from sillwright.drawing.elevation import elevation
from sillwright.drawing.framing_plan import framing_plan
from sillwright.drawing.ledger_elevation import ledger_elevations
from sillwright.drawing.plane import wall_plane
from sillwright.drawing.scene import Scene
from sillwright.drawing.sill_line import sill_line, sill_line_true, stretches_of
from sillwright.drawing.story_pole import story_pole
from sillwright.drawing.wall import part_of
from sillwright.job import Job
from sillwright.plan import Plan

CROWDED = 0.018
"""Paper inches to a job inch below which an elevation is drawn again in parts: about 1:50."""
_OPENINGS_A_PART = 5


_MANY = 3
_PLANE, _PLANE_OF_MANY = 3.3, 1.95
"""Height of the drawing of a unit's plane; of many units it is lower, so that three stand on a page [in]."""


def plan_drawings(job: Job, plan: Plan) -> dict[str, Scene]:
    """Return the drawings of a plan by name.

    `elevation` (and `elevation-part-1` ... of a long wall), `sill-line-<row>` with `sill-line-<row>-true`
    (a long row has `sill-line-<row>-part-1` ...), `wall-plane-<opening>`, `section-<opening>` and
    `whole-section-<opening>` of each above a deck, `ledger` (a long one `ledger-part-1` ...), `framing`,
    `story-pole`. Rows count from 1.
    """
    drawings: dict[str, Scene] = {}
    if plan.survey.openings:
        drawings |= _elevations(plan)
    for number, row in enumerate(plan.setting.rows, start=1):
        groups = stretches_of(plan, row)
        for part, names in enumerate(groups, start=1):
            key = f"sill-line-{number}" + (f"-part-{part}" if len(groups) > 1 else "")
            stretched = sill_line(job, plan, row, names)
            if stretched is not None:
                drawings |= {key: stretched, f"{key}-true": sill_line_true(job, plan, row, stretched, names)}
    tall = _PLANE if len(plan.setting.units) < _MANY else _PLANE_OF_MANY
    for unit in plan.setting.units:
        plane = wall_plane(plan, unit.opening, height=tall)
        if plane is not None:
            drawings[f"wall-plane-{unit.opening}"] = plane
    return drawings | _deck(plan) | {"story-pole": story_pole(plan)}


def _deck(plan: Plan) -> dict[str, Scene]:
    """Return what there is of sections, ledger and framing."""
    above = [each.opening for each in plan.heights.openings] if plan.heights is not None else []
    views = {
        **{f"section-{name}": deck_section(plan, name) for name in above},
        **{f"whole-section-{name}": whole_section(plan, name) for name in above},
        **ledger_elevations(plan),
        "framing": framing_plan(plan),
    }
    return {name: scene for name, scene in views.items() if scene is not None}


def _elevations(plan: Plan) -> dict[str, Scene]:
    whole = {"elevation": elevation(plan)}
    names = [shape.name for shape in sorted(plan.survey.openings, key=lambda shape: shape.left)]
    if whole["elevation"].scale_x >= CROWDED or len(names) < 2:
        return whole
    count = -(-len(names) // _OPENINGS_A_PART)
    each = -(-len(names) // count)
    parts = [tuple(names[start : start + each]) for start in range(0, len(names), each)]
    if len(parts) < 2:
        return whole
    return whole | {
        f"elevation-part-{n}": elevation(part_of(plan, part)) for n, part in enumerate(parts, start=1)
    }
