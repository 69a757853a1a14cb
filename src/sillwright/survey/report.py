"""From the adjusted network to what people read: readings, suspects, lasers, shapes."""

from __future__ import annotations

import numpy as np

from sillwright.job import Job
from sillwright.lengths import Unit, show
from sillwright.survey.instruments import MM_PER_M, laser_tilt_sd
from sillwright.survey.model import (
    Disturbed,
    GlobalTest,
    LaserCheck,
    Level,
    ReadingResult,
    SetUpResult,
    Survey,
    Suspect,
    WallPlane,
)
from sillwright.survey.network import Knock
from sillwright.survey.outliers import Alternative, Contradiction, Solution
from sillwright.survey.shape import not_determined, opening_shape
from sillwright.survey.statistics import chi2_limit, minimal_detectable
from sillwright.survey.wall import Wall

UNCHECKED = 1e-6
"""Redundancy below which nothing checks a reading."""


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
        setups=tuple(
            SetUpResult(
                number=i + 1,
                name=setup.name,
                height=float(adjustment.x[network.heights[i]]),
                height_sd=float(sd[network.heights[i]]),
                slope_mm_per_m=float(adjustment.x[network.tilts[i]]) / MM_PER_M,
                slope_sd_mm_per_m=float(sd[network.tilts[i]]) / MM_PER_M,
            )
            for i, setup in enumerate(job.setup)
        ),
        marks=tuple(_mark(job, wall, name, index) for name, index in network.marks.items()),
        points=tuple(
            Level(name=name, x=x, z=float(adjustment.x[index]), sd=float(sd[index]))
            for name, x, index in network.points
        ),
        openings=shapes,
        plane=wall_plane(wall),
        global_test=global_test(solution),
        critical_w=solution.critical,
        not_determined=not_determined(job, wall, shapes),
    )


def _mark(job: Job, wall: Wall, name: str, index: int | None) -> Level:
    x = next(
        (m.x for m in job.mark if m.name == name),
        next((s.x for setup in job.setup for s in setup.series if s.mark == name and s.x is not None), 0.0),
    )
    form = () if index is None else ((index, 1.0),)
    return Level(name=name, x=x, z=wall.value(form), sd=wall.sd(form))


def readings(solution: Solution) -> tuple[ReadingResult, ...]:
    """Return every reading against the adjusted wall, in the order of the job file."""
    adjustment = solution.adjustment
    w = adjustment.standardised
    found = []
    for i, o in enumerate(solution.network.observations):
        if o.assumed:
            continue
        checked = o.status == "used" and adjustment.redundancy[i] > UNCHECKED
        residual = float(adjustment.residual[i])
        found.append(
            ReadingResult(
                id=o.id,
                path=o.path,
                label=o.label,
                kind=o.kind,
                opening=o.opening,
                observed=o.value,
                adjusted=o.value + residual,
                residual=residual,
                sd=o.own_sd,
                redundancy=float(adjustment.redundancy[i]) if o.status == "used" else 1.0,
                w=float(w[i]) if checked else None,
                detectable=float(minimal_detectable(o.own_sd, adjustment.redundancy[i])) if checked else None,
                status=o.status,
            )
        )
    return tuple(found)


def global_test(solution: Solution) -> GlobalTest | None:
    """Test the squared residuals of the readings against chi-square.

    The degrees of freedom are the sum of the readings' redundancy numbers: what assumptions about framing
    contribute is left out on both sides.
    """
    used = np.array([not o.assumed and o.status == "used" for o in solution.network.observations])
    dof = float(solution.adjustment.redundancy[used].sum())
    if dof < 0.5:
        return None
    statistic = float((solution.adjustment.whitened[used] ** 2).sum())
    limit = chi2_limit(dof, 0.95)
    return GlobalTest(statistic=statistic, dof=dof, limit=limit, passed=statistic <= limit)


def suspects(job: Job, solution: Solution) -> tuple[Suspect, ...]:
    """Return the readings that contradict the others, strongest contradiction first."""
    rows = {o.id: i for i, o in enumerate(solution.network.observations)}
    found: list[Suspect] = []
    for contradiction in solution.contradictions:
        if any(a.knock or a.laser for a in contradiction.explanations):
            continue
        accused = [a for a in contradiction.explanations if a.reading is not None]
        for alternative in accused:
            others = [a for a in accused if a is not alternative]
            number = len(found) + 1
            found.append(_suspect(job.units, solution, rows, alternative, others, number))
    return tuple(found)


def _suspect(
    units: Unit,
    solution: Solution,
    rows: dict[str, int],
    alternative: Alternative,
    others: list[Alternative],
    number: int,
) -> Suspect:
    reading = alternative.reading
    assert reading is not None  # noqa: S101 (callers pass readings only)
    own = solution.network.observations[rows[reading.id]]
    alone = not others
    if alone:
        would_be = own.value + float(solution.adjustment.residual[rows[reading.id]])
        would_sd = _predicted_sd(solution, rows[reading.id])
    else:
        would_be, would_sd = own.value - alternative.size, alternative.size / max(alternative.w, 1e-9)
    error = own.value - would_be
    said, sure = show(own.value, unit=units, mark=True), show(would_be, unit=units, mark=True)
    text = f"{own.label}: reads {said}, the rest says {sure}"
    if others:
        names = ", or ".join(a.reading.label for a in others if a.reading is not None)
        text = f"{own.label} reads {said}; {sure} if this one is wrong. Cannot tell it from: {names}. Take them again."
    elif alternative.evidence < 0.5:
        text += ". Only how straight old framing is speaks against it: look, then take it again."
    else:
        text += ". Take it again."
    return Suspect(
        id=f"suspect.{number}",
        reading=own.id,
        path=own.path,
        label=own.label,
        observed=own.value,
        error=error,
        would_be=would_be,
        would_be_sd=abs(would_sd),
        w=alternative.w,
        cannot_tell_from=tuple(a.reading.id for a in others if a.reading is not None),
        against_assumption=alternative.evidence < 0.5,
        action="set aside" if alone else "kept in doubt",
        sentence=text,
    )


def _predicted_sd(solution: Solution, row: int) -> float:
    """Return the standard deviation of what the wall says a reading should be [in]."""
    a = solution.adjustment.design[row] * solution.network.observations[row].sd
    return float(np.sqrt(max(a @ solution.adjustment.cofactor @ a, 0.0)))


def disturbed(job: Job, solution: Solution) -> tuple[Disturbed, ...]:
    """Return the set-ups that were knocked, and what was done about it."""
    found = []
    for contradiction in solution.contradictions:
        knock = next((a.knock for a in contradiction.explanations if a.knock is not None), None)
        if knock is not None:
            found.append(_disturbed(job, solution, contradiction, knock, len(found) + 1))
    return tuple(found)


def _disturbed(
    job: Job, solution: Solution, contradiction: Contradiction, knock: Knock, number: int
) -> Disturbed:
    observations, adjustment = solution.network.observations, solution.adjustment
    series = sorted((o for o in observations if o.setup == knock.setup), key=lambda o: o.order)
    aside = tuple(o.id for o in series if o.status == "set aside")
    last = max(o.order for o in series)
    after = next(o for o in reversed(series) if o.order <= knock.after)
    before = next(o for o in series if o.order > knock.after)
    jump, _ = solution.network.jumps.get(knock, (-1, None))
    rose = float(adjustment.x[jump]) if jump >= 0 else contradiction.best.size
    rose_sd = float(adjustment.sd()[jump]) if jump >= 0 else 0.0
    refused = len(aside) > (last + 1) / 2
    readings = tuple(a.reading.id for a in contradiction.explanations if a.reading is not None)
    way = "rose" if rose > 0 else "sank"
    amount = show(abs(rose), unit=job.units, mark=True)
    text = (
        f"Set-up {knock.setup + 1} ({job.setup[knock.setup].name}) was disturbed between shot {after.order + 1} and "
        f"shot {before.order + 1}: the beam {way} by about {amount}."
    )
    if refused:
        text += " Where it happened cannot be told closely enough: shoot this set-up again."
    elif aside:
        text += (
            f" Shots that may lie on either side are set aside ({len(aside)}); the later ones are corrected."
        )
    else:
        text += " The later shots are corrected for it."
    return Disturbed(
        id=f"disturbed.{number}",
        setup=knock.setup + 1,
        name=job.setup[knock.setup].name,
        path=f"setup[{knock.setup}]",
        after=after.label,
        before=before.label,
        after_path=after.path,
        before_path=before.path,
        rose=rose,
        rose_sd=rose_sd,
        set_aside=aside,
        also_explained_by=readings,
        action="refused" if refused else "corrected",
        sentence=text,
    )


def lasers(job: Job, solution: Solution) -> tuple[LaserCheck, ...]:
    """Return, for each laser, whether its set-ups show its beam level."""
    found = []
    sd = solution.adjustment.sd()
    for number, group in enumerate(solution.network.lasers, start=1):
        first = group[0][0]
        index = solution.network.tilts[first]
        slope, slope_sd = float(solution.adjustment.x[index]), float(sd[index])
        stated = laser_tilt_sd(job, job.setup[first]) * 3**0.5
        checked = (
            slope_sd < 0.5 * laser_tilt_sd(job, job.setup[first]) or first in solution.verdicts.distrusted
        )
        out = first in solution.verdicts.distrusted or (checked and abs(slope) - 1.96 * slope_sd > stated)
        verdict = "out of true" if out else "within its statement" if checked else "not checked"
        found.append(
            LaserCheck(
                id=f"laser.{number}",
                setups=tuple(i + 1 for i, _ in group),
                slope_mm_per_m=slope / MM_PER_M,
                slope_sd_mm_per_m=slope_sd / MM_PER_M,
                stated_mm_per_m=stated / MM_PER_M,
                verdict=verdict,  # type: ignore[arg-type]
                sentence=_laser_sentence(
                    verdict, slope / MM_PER_M, slope_sd / MM_PER_M, stated / MM_PER_M, group
                ),
            )
        )
    return tuple(found)


def _laser_sentence(
    verdict: str, slope: float, sd: float, stated: float, group: list[tuple[int, float]]
) -> str:
    which = " and ".join(str(i + 1) for i, _ in group)
    if verdict == "not checked":
        return (
            f"Set-up {which}: nothing checks that the beam is level; it is trusted to {stated:.2f} mm per m. "
            "Turn the laser round and shoot both marks again to know."
        )
    if verdict == "out of true":
        return (
            f"The laser of set-up {which} is out of true: its beam climbs {abs(slope):.2f} mm per m "
            f"(± {1.96 * sd:.2f}), its maker states {stated:.2f}. The plan has taken this out; have it mended."
        )
    return f"The laser of set-up {which} is level within {abs(slope) + 1.96 * sd:.2f} mm per m."


def wall_plane(wall: Wall) -> WallPlane | None:
    """Return lean and twist of the wall's face from its jacks, by a straight line over x through their leans."""
    places, forms = [], []
    for net in wall.openings.values():
        for x, face in ((net.frame.left, net.left_out), (net.frame.right, net.right_out)):
            if face is not None:
                low, high = face.stations[0], face.stations[-1]
                per_foot = 12.0 / (high - low)
                places.append(x)
                forms.append(((face.unknown[-1], per_foot), (face.unknown[0], -per_foot)))
    if not forms:
        return None
    leans, x = wall.values(forms), np.array(places)
    slope = float(np.polyfit(x, leans, 1)[0]) if len(x) > 1 else 0.0
    mean = np.full(len(forms), 1.0 / len(forms))
    variance = float(mean @ wall.covariance(forms) @ mean)
    return WallPlane(
        lean_in_per_ft=float(leans.mean()), lean_sd=variance**0.5, twist=slope * float(x.max() - x.min())
    )
