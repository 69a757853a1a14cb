"""Why a reading is trusted, doubted or set aside; what the laser did; what to measure next."""

from __future__ import annotations

from functools import partial

from sillwright.explain.model import Case, Entry, Explanation, Given, Index
from sillwright.explain.words import TWO_SIDED_95, above, both, exact, slope
from sillwright.survey.model import (
    Disturbed,
    LaserCheck,
    Level,
    NextReading,
    ReadingResult,
    SetUpResult,
    Suspect,
)

SNOOPING = "data snooping, W. Baarda, A testing procedure for use in geodetic networks, 1968"
ADJUSTMENT = "weighted least squares over all readings of the job; docs/method.md"
GUM = "JCGM 100:2008 (GUM), 5.1: how standard deviations add up"


def reading_entries(case: Case) -> Index:
    """Return what can be asked about readings, lasers, marks and readings to come."""
    survey, index = case.plan.survey, Index()
    for reading in survey.readings:
        index[reading.id] = Entry("reading", partial(_reading, case, reading))
    for suspect in survey.suspects:
        index[suspect.id] = Entry("suspect", partial(_suspect, case, suspect))
    for disturbed in survey.disturbed:
        index[disturbed.id] = Entry("disturbed", partial(_disturbed, case, disturbed))
    for laser in survey.lasers:
        index[laser.id] = Entry("laser", partial(_laser, case, laser))
    for setup in survey.setups:
        index[f"setup.{setup.number}"] = Entry("setup", partial(_setup, case, setup))
    for mark in survey.marks:
        index[f"mark.{mark.name}"] = Entry("mark", partial(_mark, case, f"mark.{mark.name}", mark))
    for n, point in enumerate(survey.points, 1):
        index[f"point.{n}"] = Entry("point", partial(_mark, case, f"point.{n}", point))
    for n, future in enumerate(case.plan.measure_next, 1):
        index[f"next.{n}"] = Entry("next", partial(_next, case, f"next.{n}", future))
    if survey.global_test is not None:
        index["global_test"] = Entry("global_test", partial(_global, case))
    return index


_USE = {
    "used": "It agrees with the others and is used as read.",
    "doubtful": "It may be wrong; it is kept, but counts for less than the others.",
    "set aside": "It contradicts the others and is not used.",
}


def _trust(case: Case, reading: ReadingResult) -> tuple[str, ...]:
    """Return what is made of a reading, and what error in it would show."""
    knocks = [each for each in case.plan.survey.disturbed if reading.id in each.set_aside]
    if knocks:
        return ("The laser was knocked just before it or just after; which is not known, so it is not used.",)
    if reading.status == "set aside":
        return (_USE[reading.status],)
    if reading.detectable is None:
        return _USE[reading.status], "Nothing checks it: an error in it would not show. Read it twice."
    least = both(reading.detectable, case.plan.units)
    return _USE[reading.status], f"An error of {least} or more in it would show."


def _leads_to(case: Case, reading: ReadingResult) -> tuple[str, ...]:
    survey = case.plan.survey
    suspects = [s.id for s in survey.suspects if reading.id in (s.reading, *s.cannot_tell_from)]
    knocks = [d.id for d in survey.disturbed if reading.id in (*d.set_aside, *d.also_explained_by)]
    return *suspects, *knocks


def _reading(case: Case, reading: ReadingResult) -> Explanation:
    unit = case.plan.units
    checked = [Given(name="redundancy r, share of an error that shows", value=f"{reading.redundancy:.2f}")]
    if reading.w is not None:
        checked += [
            Given(name="w = v / (sd √r)", value=f"{reading.w:.2f}"),
            Given(name="limit of |w|", value=f"{case.plan.survey.critical_w:.2f}"),
        ]
    return Explanation(
        ident=reading.id,
        title=f"{reading.label}: read {both(reading.observed, unit)}",
        answer=_trust(case, reading),
        formula="v = adjusted − read;  w = v / (sd √r);  least error that shows = 4.13 sd / √r",
        given=(
            Given(name="place in the job file", value=reading.path),
            Given(name="read", value=exact(reading.observed, unit, sd=reading.sd)),
            Given(name="adjusted wall says", value=exact(reading.adjusted, unit)),
            Given(name="v", value=exact(reading.residual, unit)),
            *checked,
        ),
        source=f"{ADJUSTMENT}; {SNOOPING}; 4.13 for alpha 0.001 and power 0.80",
        see=_leads_to(case, reading),
    )


def _suspect(case: Case, suspect: Suspect) -> Explanation:
    unit = case.plan.units
    labels = {reading.id: reading.label for reading in case.plan.survey.readings}
    answer = [suspect.sentence]
    if suspect.cannot_tell_from:
        others = ", ".join(labels.get(each, each) for each in suspect.cannot_tell_from)
        answer.append(
            f"It might as well be {others}: the odds between them are under 20 to 1. Take them all again."
        )
    if suspect.against_assumption:
        answer.append("Only what is assumed of old framing speaks against it: the framing may really be so.")
    done = "It is not used." if suspect.action == "set aside" else "It is kept, but counts for little."
    return Explanation(
        ident=suspect.id,
        title=f"{suspect.label}: read {both(suspect.observed, unit)}, suspected",
        answer=(*answer, done),
        formula="T = w²;  probable error = (read − adjusted) / r;  would be = read − probable error",
        given=(
            Given(name="place in the job file", value=suspect.path, ident=suspect.reading),
            Given(name="read", value=exact(suspect.observed, unit)),
            Given(name="probable error", value=both(suspect.error, unit)),
            Given(name="would be", value=both(suspect.would_be, unit, sd=suspect.would_be_sd)),
            Given(name="w", value=f"{suspect.w:.1f} (limit {case.plan.survey.critical_w:.2f})"),
            Given(name="T", value=f"{suspect.w**2:.0f}"),
        ),
        source=SNOOPING,
        see=(suspect.reading, *suspect.cannot_tell_from),
    )


def _disturbed(case: Case, disturbed: Disturbed) -> Explanation:
    unit = case.plan.units
    done = {
        "corrected": "The shots after it are lowered by as much, so they stay in use.",
        "refused": "It cannot be placed well enough: the set-up is not used. Shoot it again.",
    }
    answer = [disturbed.sentence, done[disturbed.action]]
    if disturbed.set_aside:
        answer.append(f"Shots that may lie on either side are not used: {', '.join(disturbed.set_aside)}.")
    if disturbed.also_explained_by:
        answer.append(
            f"One wrong reading would explain it as well: {', '.join(disturbed.also_explained_by)}."
        )
    return Explanation(
        ident=disturbed.id,
        title=f"Set-up {disturbed.setup} ({disturbed.name}) was disturbed",
        answer=tuple(answer),
        formula="for each gap between shots: rise = c'b / c'Mc, T = (c'b)² / c'Mc; the largest T leads",
        given=(
            Given(name="last shot before", value=f"{disturbed.after} ({disturbed.after_path})"),
            Given(name="first shot after", value=f"{disturbed.before} ({disturbed.before_path})"),
            Given(name="the beam rose", value=both(disturbed.rose, unit, sd=disturbed.rose_sd)),
        ),
        source=f"{SNOOPING}, with a step in place of one reading",
        see=(f"setup.{disturbed.setup}", *disturbed.also_explained_by),
    )


def _laser(case: Case, laser: LaserCheck) -> Explanation:
    unit = case.plan.units
    numbers = ", ".join(str(number) for number in laser.setups)
    return Explanation(
        ident=laser.id,
        title=f"Laser of set-up {numbers}: {laser.verdict}",
        answer=(laser.sentence,),
        formula="error over the distance, from marks shot from both ends or with the laser turned round",
        given=(
            Given(name="beam slopes", value=slope(laser.slope_mm_per_m, unit, sd=laser.slope_sd_mm_per_m)),
            Given(name="its maker states at most", value=slope(laser.stated_mm_per_m, unit)),
        ),
        source="two-peg test, common practice of levelling; a stated bound taken as rectangular, GUM 4.3.7",
        see=tuple(f"setup.{number}" for number in laser.setups),
    )


def _setup(case: Case, setup: SetUpResult) -> Explanation:
    unit, prefix, datum = case.plan.units, f"setup{setup.number}.", case.plan.survey.datum
    shots = [reading for reading in case.plan.survey.readings if reading.id.startswith(prefix)]
    unused = sum(reading.status != "used" for reading in shots)
    knocked = [each for each in case.plan.survey.disturbed if each.setup == setup.number]
    answer = [f"{len(shots)} shots, {unused} of them doubted or set aside."]
    answer += [each.sentence for each in knocked]
    return Explanation(
        ident=f"setup.{setup.number}",
        title=f"Set-up {setup.number} ({setup.name}): beam {above(setup.height, unit, datum)}",
        answer=tuple(answer),
        formula="down = beam + slope × (x − where the laser stood) − height of the point, all shots at once",
        given=(
            Given(name="height of the beam", value=exact(setup.height, unit, sd=setup.height_sd)),
            Given(
                name="slope of the beam", value=slope(setup.slope_mm_per_m, unit, sd=setup.slope_sd_mm_per_m)
            ),
        ),
        source=ADJUSTMENT,
        see=tuple(each.id for each in knocked),
    )


def _mark(case: Case, ident: str, level: Level) -> Explanation:
    unit = case.plan.units
    datum = level.name == case.plan.survey.datum
    answer = "Heights count from here." if datum else f"Its height counts from {case.plan.survey.datum}."
    return Explanation(
        ident=ident,
        title=f"{level.name}: {above(level.z, unit, case.plan.survey.datum)}",
        answer=(answer,),
        formula="height = beam − down, over all set-ups that shot it",
        given=(
            Given(name="along the wall, x", value=exact(level.x, unit)),
            Given(name="height", value=exact(level.z, unit, sd=level.sd)),
        ),
        source=ADJUSTMENT,
    )


def _next(case: Case, ident: str, future: NextReading) -> Explanation:
    unit, share = case.plan.units, f"{100 * future.reduction:.0f}%"
    return Explanation(
        ident=ident,
        title=f"Measure next: {future.label}",
        answer=(f"The decision: {future.decision}. It takes {share} of the uncertainty away.",),
        formula="reduction = 1 − sd with it / sd now",
        given=(
            Given(name="uncertainty now", value=f"± {exact(TWO_SIDED_95 * future.sd_now, unit)}"),
            Given(name="with this reading", value=f"± {exact(TWO_SIDED_95 * future.sd_then, unit)}"),
        ),
        source=f"{GUM}; the reading is added to the adjustment with the usual standard deviation of its kind",
    )


def _global(case: Case) -> Explanation:
    test = case.plan.survey.global_test
    assert test is not None  # noqa: S101  the index has it only then
    fits = "The readings fit together as well as their standard deviations say."
    not_so = (
        "The readings do not fit together as well as their standard deviations say: look at the suspects."
    )
    return Explanation(
        ident="global_test",
        title="Do the readings fit together",
        answer=(fits if test.passed else not_so,),
        formula="sum of (v / sd)² over all readings, against chi-squared",
        given=(
            Given(name="sum", value=f"{test.statistic:.1f}"),
            Given(name="degrees of freedom", value=f"{test.dof:.1f}"),
            Given(name="limit", value=f"{test.limit:.1f}"),
        ),
        source=f"global test of the adjustment; {SNOOPING}",
    )
