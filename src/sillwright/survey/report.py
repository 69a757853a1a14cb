"""From the adjusted network to what people read: readings, suspects, lasers, shapes."""

from __future__ import annotations

import numpy as np

from sillwright.job import Job
from sillwright.survey.beams import lasers, set_ups
from sillwright.survey.causes import CHECKED
from sillwright.survey.model import GlobalTest, Level, ReadingResult, Survey, WallPlane
from sillwright.survey.observation import Terms
from sillwright.survey.outliers import Solution
from sillwright.survey.shape import not_determined, opening_shape
from sillwright.survey.statistics import LEAST_DOF, global_test, minimal_detectable
from sillwright.survey.suspicion import disturbed, suspects
from sillwright.survey.wall import Wall


def report(job: Job, solution: Solution) -> Survey:
    """Return all that the readings of a job tell about its wall."""
    wall = Wall(solution)
    network, adjustment = solution.network, solution.adjustment
    sd = adjustment.sd()
    shapes = tuple(opening_shape(job, wall, net) for net in network.openings.values())
    return Survey(
        datum=network.datum,
        readings=readings(solution),
        suspects=suspects(job, solution),
        disturbed=disturbed(job, solution),
        lasers=lasers(job, solution),
        setups=set_ups(job, solution),
        marks=tuple(_mark(job, wall, name, index) for name, index in network.marks.items()),
        points=tuple(
            Level(name=name, x=x, z=float(adjustment.x[index]), sd=float(sd[index]))
            for name, x, index in network.points
        ),
        openings=shapes,
        plane=wall_plane(wall),
        global_test=tested(solution),
        critical_w=solution.critical,
        not_determined=not_determined(job, wall, shapes),
    )


def _mark(job: Job, wall: Wall, name: str, index: int | None) -> Level:
    shot = (s.x for setup in job.setup for s in setup.series if s.mark == name and s.x is not None)
    x = next((m.x for m in job.mark if m.name == name), None)
    form: Terms = () if index is None else ((index, 1.0),)
    return Level(name=name, x=next(shot, 0.0) if x is None else x, z=wall.value(form), sd=wall.sd(form))


def readings(solution: Solution) -> tuple[ReadingResult, ...]:
    """Return every reading against the adjusted wall, in the order of the network."""
    adjustment = solution.adjustment
    w, redundancy = adjustment.standardised, adjustment.redundancy
    least = minimal_detectable(
        [o.own_sd for o in solution.network.observations], np.maximum(redundancy, CHECKED)
    )
    found = []
    for i, o in enumerate(solution.network.observations):
        if o.assumed:
            continue
        used = o.status == "used"
        checked = used and redundancy[i] > CHECKED
        residual = float(adjustment.residual[i])
        found.append(
            ReadingResult(
                id=o.id,
                path=o.path,
                label=o.label,
                kind=o.kind,
                opening=o.opening,
                observed=o.read,
                adjusted=o.read + residual,
                residual=residual,
                sd=o.own_sd,
                redundancy=float(redundancy[i]) if used else 1.0,
                w=float(w[i]) if checked else None,
                detectable=float(least[i]) if checked else None,
                status=o.status,
            )
        )
    return tuple(found)


def tested(solution: Solution) -> GlobalTest | None:
    """Test the squared residuals of the readings against chi-square.

    The degrees of freedom are the sum of the readings' redundancy numbers: what assumptions about framing
    contribute is left out on both sides.
    """
    used = np.array([not o.assumed and o.status == "used" for o in solution.network.observations], dtype=bool)
    dof = float(solution.adjustment.redundancy[used].sum())
    if dof < LEAST_DOF:
        return None
    return global_test(float((solution.adjustment.whitened[used] ** 2).sum()), dof)


def wall_plane(wall: Wall) -> WallPlane | None:
    """Return lean and twist of the wall's face: a straight line over x through the leans of its jacks."""
    places: list[float] = []
    forms: list[Terms] = []
    for net in wall.openings.values():
        for at, face in ((net.frame.left, net.left_out), (net.frame.right, net.right_out)):
            if face is not None:
                per_foot = 12.0 / (face.stations[-1] - face.stations[0])
                places.append(at)
                forms.append(((face.unknown[-1], per_foot), (face.unknown[0], -per_foot)))
    if not forms:
        return None
    leans, x = wall.values(forms), np.array(places)
    off = x - x.mean()
    slope = float(off @ leans / (off @ off)) if off @ off > 0 else 0.0
    mean = np.full(len(forms), 1.0 / len(forms))
    variance = float(mean @ wall.covariance(forms) @ mean)
    return WallPlane(
        lean_in_per_ft=float(leans.mean()),
        lean_sd_in_per_ft=variance**0.5,
        twist_in_per_ft=slope * float(x.max() - x.min()),
    )
