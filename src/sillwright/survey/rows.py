"""Writes observations into a network: readings as they were taken, assumptions as what they are."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from sillwright.job import Job, Reading, Readings
from sillwright.survey.instruments import reading_sd
from sillwright.survey.network import Network, Verdicts
from sillwright.survey.observation import Diagonal, Observation, Profile, Terms, Unknowns

LEVEL_SD = 1.0
"""A sill or head from end to end, off level [in]: so loose that any reading overrules it."""
SET_ASIDE_SD = 1e4
"""A reading set aside keeps its row with a standard deviation that takes all its weight [in]."""
UNTIED_SD = 1000.0
"""Height of what nothing ties to the datum [in]: so loose that it moves nothing that is tied."""
STATED_SD = 1e-4
"""What holds by definition: the datum, the known height of a mark [in]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """What was taken, under which names, and where."""

    readings: Readings | None
    path: str
    """Place in the job file."""
    id: str
    kind: str
    label: str
    opening: str | None = None
    setup: int | None = None
    order: int = -1
    x: float | None = None
    extra_sd: float = 0.0
    """Standard deviation that the place adds to the reading's own [in]."""
    offset: float = 0.0
    """Added to what was read [in]."""


def weighed(reading: Observation, verdicts: Verdicts) -> Observation:
    """Return a reading with the weight that the verdicts leave it."""
    if reading.id in verdicts.excluded:
        return replace(reading, sd=SET_ASIDE_SD, status="set aside")
    wide = verdicts.widened.get(reading.id, 0.0)
    return replace(reading, sd=wide, status="doubtful") if wide > reading.own_sd else reading


@dataclass(slots=True)
class Rows:
    """A network in the making."""

    job: Job
    verdicts: Verdicts
    network: Network

    @property
    def unknowns(self) -> Unknowns:
        """Return the unknowns so far."""
        return self.network.unknowns

    def read(self, taken: Taken, terms: Terms | Diagonal) -> None:
        """Add each reading of one thing, under the verdicts on it."""
        for reading, path, ident in each(taken.readings, taken.path, taken.id):
            own = reading_sd(self.job, kind=taken.kind, reading=reading)
            if taken.extra_sd:
                own = (own**2 + taken.extra_sd**2) ** 0.5
            observation = Observation(
                id=ident,
                path=path,
                label=taken.label,
                kind=taken.kind,
                value=reading.value + taken.offset,
                sd=own,
                own_sd=own,
                terms=terms,
                opening=taken.opening,
                setup=taken.setup,
                order=taken.order,
                x=taken.x,
                offset=taken.offset,
            )
            self.network.observations.append(weighed(observation, self.verdicts))

    def assume(
        self,
        name: str,
        what: str,
        terms: Terms,
        *,
        sd: float,
        value: float = 0.0,
        opening: str | None = None,
        loose: float = 0.0,
    ) -> None:
        """Add one assumption; `what` says it in words, `loose` is a larger sd where it is not believed."""
        self.network.observations.append(
            Observation(
                id=f"assumed.{name}",
                path=what,
                label=what,
                kind="assumption",
                value=value,
                sd=max(sd, loose),
                own_sd=sd,
                terms=terms,
                opening=opening,
                assumed=True,
            )
        )

    def straight(
        self, profile: Profile, name: str, what: str, *, sd: float, span: float, opening: str
    ) -> None:
        """Assume a profile straight: `sd` off the chord of neighbours `span` apart, in proportion."""
        for form, place, own_span in profile.bends():
            self.assume(f"{name}@{place:.2f}", what, form, sd=sd * own_span / span, opening=opening)

    def level(self, profile: Profile, name: str, what: str, *, opening: str) -> None:
        """Assume a profile roughly level from end to end."""
        if len(profile.unknown) > 1:
            form = ((profile.unknown[-1], 1.0), (profile.unknown[0], -1.0))
            self.assume(name, what, form, sd=LEVEL_SD, opening=opening)

    def behind(self, front: Profile, name: str, what: str, *, opening: str) -> Profile:
        """Return the inner edge of a sill or head: the outer one less one fall for the opening, irregular."""
        fall = self.unknowns.add((name, "fall"), 0.0)
        start = self.unknowns.start
        inner = tuple(
            self.unknowns.add((name, "inner", x), start[k])
            for x, k in zip(front.stations, front.unknown, strict=True)
        )
        for x, out, back in zip(front.stations, front.unknown, inner, strict=True):
            form = ((out, 1.0), (back, -1.0), (fall, -1.0))
            self.assume(f"{name}_fall@{x:.2f}", what, form, sd=self.job.assume.cross_fall, opening=opening)
        self.assume(f"{name}_fall", what, ((fall, 1.0),), sd=LEVEL_SD, opening=opening)
        return Profile(front.stations, inner)


def each(readings: Readings | None, path: str, ident: str) -> Iterator[tuple[Reading, str, str]]:
    """Yield (reading, place in the job file, id) for one reading or each of a list."""
    if readings is None:
        return
    if len(readings) == 1:
        yield readings[0], path, ident
        return
    for k, reading in enumerate(readings):
        yield reading, f"{path}[{k}]", f"{ident}.{k + 1}"
