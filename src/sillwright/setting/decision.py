"""The decision at hand: the one thing about the wall on which the plan is least sure."""

from __future__ import annotations

from sillwright.job import Job
from sillwright.lengths import from_unit
from sillwright.setting.bearing import bearings
from sillwright.setting.fit import governing_form
from sillwright.setting.model import Setting
from sillwright.setting.room import meeting
from sillwright.survey import Profile, Terms, Wall, plus

SURE = 0.999
"""Probability of fit above which fit is not the question any more."""


def decision(job: Job, wall: Wall, setting: Setting) -> tuple[Terms, str]:
    """Return the linear form on which the decision rests, and the decision in words.

    The unit least sure to fit, by the room most likely to lack; if all fit surely, the level of the widest.
    """
    doubtful = [u for u in setting.units if u.fit is not None and u.fit.probability < SURE]
    if doubtful:
        position = min(doubtful, key=lambda u: u.fit.probability if u.fit else 1.0)
        asked = next(u for u in job.unit if u.opening == position.opening)
        unit = asked.model_copy(update={"frame_width": position.width, "frame_height": position.height})
        borne = bearings(wall, job.kit, unit, grid=from_unit(10, "mm") if job.units == "mm" else 0.5)
        line = position.bottom - job.kit.stack_above_line
        form, what = governing_form(meeting(wall, borne), job.kit, borne, line=line)
        return form, f"does {position.opening} fit: {what}"
    if setting.units:
        widest = max(setting.units, key=lambda u: u.width)
        sill = wall.openings[widest.opening].sill
        return _ends(sill, widest.left, widest.right), f"is {widest.opening} level end to end"
    known = next((net for net in wall.openings.values() if net.level_known), None)
    if known is None:
        return (), ""
    return _ends(
        known.sill, known.sill.stations[0], known.sill.stations[-1]
    ), f"how far off level {known.name} is"


def _ends(sill: Profile, left: float, right: float) -> Terms:
    return plus((1.0, sill.at(right)), (-1.0, sill.at(left)))
