"""What was found wrong, in a carpenter's words: suspect readings and knocked lasers."""

from __future__ import annotations

import numpy as np

from sillwright.job import Job
from sillwright.lengths import Unit, show
from sillwright.survey.doubt import Alternative, Contradiction
from sillwright.survey.model import Disturbed, Suspect
from sillwright.survey.network import Knock
from sillwright.survey.observation import Observation
from sillwright.survey.outliers import Solution

GRADUATIONS: dict[Unit, tuple[float, ...]] = {"in": (1 / 16, 1 / 32, 1 / 64), "mm": (1.0, 0.5, 0.1)}
"""From coarse to fine: two lengths are shown by the first that tells them apart."""
MOSTLY_ASSUMED = 0.5
"""Share of the evidence below which only assumptions about framing speak against a reading."""
COUNT = {2: "Two", 3: "Three", 4: "Four"}


def suspects(job: Job, solution: Solution) -> tuple[Suspect, ...]:
    """Return the readings that contradict the others, strongest contradiction first.

    A reading that would explain a knock as well is among them.
    """
    rows = {o.id: i for i, o in enumerate(solution.network.observations)}
    found: list[Suspect] = []
    for contradiction in solution.contradictions:
        for accused in contradiction.explanations:
            if accused.reading is not None:
                row = rows[accused.reading.id]
                found.append(_suspect(job.units, solution, contradiction, accused, row, len(found) + 1))
    return tuple(found)


def _suspect(
    unit: Unit, solution: Solution, contradiction: Contradiction, accused: Alternative, row: int, number: int
) -> Suspect:
    own = solution.network.observations[row]
    alone = len(contradiction.explanations) == 1
    if alone:
        would_be = own.read + float(solution.adjustment.residual[row])
        would_sd = _predicted_sd(solution, row)
    else:
        would_be, would_sd = own.read - accused.size, abs(accused.size) / max(accused.w, 1e-9)
    others = [a for a in contradiction.explanations if a is not accused]
    return Suspect(
        id=f"suspect.{number}",
        reading=own.id,
        path=own.path,
        label=own.label,
        observed=own.read,
        error=own.read - would_be,
        would_be=would_be,
        would_be_sd=would_sd,
        w=accused.w,
        cannot_tell_from=tuple(a.reading.id for a in others if a.reading is not None),
        against_assumption=accused.evidence < MOSTLY_ASSUMED,
        action="set aside" if alone else "kept in doubt",
        sentence=_sentence(unit, solution, contradiction, accused, would_be),
    )


def _sentence(
    unit: Unit, solution: Solution, contradiction: Contradiction, accused: Alternative, would_be: float
) -> str:
    own = accused.reading
    assert own is not None  # noqa: S101 (callers pass readings only)
    said, sure = both(own.read, would_be, unit=unit)
    if len(contradiction.explanations) == 1:
        if accused.evidence < MOSTLY_ASSUMED:
            return (
                f"{own.label} reads {said}; framing as straight as assumed would make it {sure}. "
                "Look whether it is really so, then take it again."
            )
        return f"{own.label} reads {said}; the other readings say {sure}. Take it again."
    others = [_named(solution, a) for a in contradiction.explanations if a is not accused]
    if contradiction.wrong > 1:
        many = COUNT.get(contradiction.wrong, str(contradiction.wrong))
        return (
            f"{many} of these are wrong and the rest cannot say which: {own.label}, {', '.join(others)}. "
            f"This one reads {said}, and would be {sure} if it is among them. Take them all again."
        )
    return (
        f"{own.label} reads {said}, and would be {sure} if it is the wrong one. "
        f"It may as well be: {', or '.join(others)}. Take them all again."
    )


def _named(solution: Solution, alternative: Alternative) -> str:
    if alternative.reading is not None:
        return alternative.reading.label
    if alternative.knock is not None:
        after, before = _around(solution, alternative.knock)
        return f"a knock to set-up {alternative.knock.setup + 1} between {_shot(after)} and {_shot(before)}"
    return f"a laser out of true in set-up {' and '.join(str(s + 1) for s in alternative.laser)}"


def both(one: float, other: float, *, unit: Unit) -> tuple[str, str]:
    """Return two lengths as read off a tape, to a graduation that tells them apart if any does."""
    for graduation in GRADUATIONS[unit]:
        pair = tuple(show(x, unit=unit, graduation=graduation, mark=True) for x in (one, other))
        if pair[0] != pair[1]:
            break
    return pair[0], pair[1]


def _predicted_sd(solution: Solution, row: int) -> float:
    """Return the standard deviation of what the wall says a reading should be [in]."""
    a = solution.adjustment.design[row] * solution.network.observations[row].sd
    return float(np.sqrt(max(a @ solution.adjustment.cofactor @ a, 0.0)))


def disturbed(job: Job, solution: Solution) -> tuple[Disturbed, ...]:
    """Return the set-ups that were knocked, and what was done about it."""
    knocked = [(c, c.knock) for c in solution.contradictions]
    return tuple(
        _disturbed(job, solution, c, knock, number)
        for number, (c, knock) in enumerate([(c, k) for c, k in knocked if k is not None], start=1)
    )


def _around(solution: Solution, knock: Knock) -> tuple[Observation, Observation]:
    """Return the last shot before a knock and the first after it."""
    series = [o for o in solution.network.observations if o.setup == knock.setup]
    series.sort(key=lambda o: o.order)
    return (
        next(o for o in reversed(series) if o.order <= knock.after),
        next(o for o in series if o.order > knock.after),
    )


def _shot(shot: Observation) -> str:
    return f"shot {shot.order + 1}"


def _disturbed(
    job: Job, solution: Solution, contradiction: Contradiction, knock: Knock, number: int
) -> Disturbed:
    adjustment, after_before = solution.adjustment, _around(solution, knock)
    series = [o for o in solution.network.observations if o.setup == knock.setup]
    aside = tuple(o.id for o in series if o.order in contradiction.bracket and o.status == "set aside")
    jump, _ = solution.network.jumps[knock]
    refused = len(aside) > len(series) / 2
    return Disturbed(
        id=f"disturbed.{number}",
        setup=knock.setup + 1,
        name=job.setup[knock.setup].name,
        path=f"setup[{knock.setup}]",
        after=after_before[0].label,
        before=after_before[1].label,
        after_path=after_before[0].path,
        before_path=after_before[1].path,
        rose=float(adjustment.x[jump]),
        rose_sd=float(adjustment.sd()[jump]),
        set_aside=aside,
        also_explained_by=tuple(a.reading.id for a in contradiction.explanations if a.reading is not None),
        action="refused" if refused else "corrected",
        sentence=_knock_sentence(job, solution, contradiction, knock, aside, refused=refused),
    )


def _knock_sentence(
    job: Job,
    solution: Solution,
    contradiction: Contradiction,
    knock: Knock,
    aside: tuple[str, ...],
    *,
    refused: bool,
) -> str:
    after, before = _around(solution, knock)
    rose = float(solution.adjustment.x[solution.network.jumps[knock][0]])
    sure = "was" if all(a.knock for a in contradiction.explanations) else "may have been"
    amount = show(abs(rose), unit=job.units, mark=True)
    text = (
        f"Set-up {knock.setup + 1} ({job.setup[knock.setup].name}) {sure} knocked between {_shot(after)} "
        f"({_object(after)}) and {_shot(before)} ({_object(before)}): the beam "
        f"{'rose' if rose > 0 else 'sank'} by about {amount}{' and tilted' if knock.tilted else ''}."
    )
    readings = [a.reading.label for a in contradiction.explanations if a.reading is not None]
    if readings:
        text += f" Or only one reading is wrong: {', or '.join(readings)}."
    if refused:
        return text + " Where it happened cannot be told closely enough: shoot this set-up again."
    if aside:
        shots = "one shot" if len(aside) == 1 else f"{len(aside)} shots"
        return text + f" As {shots} may lie on either side, they are left out; later ones are corrected."
    return text + " The later shots are corrected for it."


def _object(shot: Observation) -> str:
    return shot.label.split(": ", 1)[-1]
