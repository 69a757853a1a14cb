"""The wall as a network: which unknowns there are, and what each reading says of them.

Unknown are the height and tilt of every laser set-up, the heights of marks and other points, and for every
opening the sill (front and back edge), the head, both jacks at three or more heights, and how far the
jacks stand in or out. Old framing is assumed straight within generous limits (`assume` in the job file);
those assumptions enter as observations of their own, never as facts.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from sillwright.job import Job, Readings, SetUp, Shot
from sillwright.survey.frame import Frame, frame_of
from sillwright.survey.instruments import laser_tilt_sd, reading_sd
from sillwright.survey.observation import Diagonal, Observation, Profile, Terms, Unknowns, merge, plus

STATION_MERGE = 0.75
"""Shots closer than this along a sill are one station [in]."""
LEVEL_SD = 1.0
"""A sill or head from end to end, off level [in]: so loose that any reading overrules it."""
INTERPOLATION = 0.002
"""Standard deviation a place gains for each inch it lies from the nearest station [in/in]."""
SET_ASIDE_SD = 1e4
"""A reading set aside keeps its row with a standard deviation that takes all its weight [in]."""
DISTRUSTED_TILT_SD = 10e-3
"""Standard deviation of the slope of a laser that proved out of true [in/in]."""
TILT_REPEAT = 0.05e-3 / 3**0.5
"""Standard deviation with which a self-levelling laser finds the same tilt again [in/in]; from a bound of
0.05 mm/m, common practice, no source."""


@dataclass(slots=True, kw_only=True)
class OpeningNet:
    """Profiles of one opening; None where nothing was read."""

    name: str
    frame: Frame
    sill: Profile
    sill_inner: Profile | None = None
    head: Profile | None = None
    head_inner: Profile | None = None
    left: Profile | None = None
    right: Profile | None = None
    left_inner: Profile | None = None
    right_inner: Profile | None = None
    left_out: Profile | None = None
    """How far in the left jack stands, by height above the sill (y)."""
    right_out: Profile | None = None
    thickness: dict[str, int] = field(default_factory=dict)
    level_known: bool = True
    position_known: bool = True


@dataclass(slots=True, kw_only=True)
class Network:
    """All unknowns and observations of a wall."""

    unknowns: Unknowns
    observations: list[Observation]
    openings: dict[str, OpeningNet]
    heights: list[int]
    tilts: list[int]
    lasers: list[list[tuple[int, float]]]
    """Set-ups of one laser, with -1 where it was turned round against the first."""
    marks: dict[str, int | None]
    """Index of each mark's height; None for the datum, z = 0."""
    points: list[tuple[str, float, int]]
    jumps: dict[Knock, tuple[int, int | None]]
    """Indexes of each knock's change of height and of slope."""
    datum: str


@dataclass(frozen=True, slots=True)
class Knock:
    """A set-up disturbed between two shots of its series, numbered from 0."""

    setup: int
    after: int
    tilted: bool = False
    """The beam's slope changed too."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdicts:
    """What has been decided about readings so far."""

    excluded: frozenset[str] = frozenset()
    widened: Mapping[str, float] = field(default_factory=dict)
    """Readings kept with a larger standard deviation [in], by id."""
    knocks: tuple[Knock, ...] = ()
    distrusted: frozenset[int] = frozenset()
    """Set-ups of a laser whose stated error of level is not believed."""


def build(job: Job, verdicts: Verdicts = Verdicts()) -> Network:  # noqa: B008 (frozen)
    """Return the network of a job under the verdicts on its readings."""
    builder = _Builder(job, verdicts)
    builder.set_ups()
    for index in range(len(job.opening)):
        builder.opening(index)
    builder.wall_string()
    for index, setup in enumerate(job.setup):
        builder.series(index, setup)
    return builder.network


class _Builder:
    """Writes the observations one kind after the other; the order is that of the job file."""

    def __init__(self, job: Job, verdicts: Verdicts) -> None:
        self.job = job
        self.excluded = verdicts.excluded
        self.widened = verdicts.widened
        self.knocks = verdicts.knocks
        self.distrusted = verdicts.distrusted
        self.unknowns = Unknowns()
        self.network = Network(
            unknowns=self.unknowns,
            observations=[],
            openings={},
            heights=[],
            tilts=[],
            lasers=[],
            marks={},
            points=[],
            jumps={},
            datum=_datum(job),
        )

    # ---- writing rows

    def _read(
        self,
        readings: Readings | None,
        path: str,
        name: str,
        terms: Terms | Diagonal,
        *,
        kind: str,
        label: str,
        extra_sd: float = 0.0,
        offset: float = 0.0,
        opening: str | None = None,
        setup: int | None = None,
        order: int = -1,
        x: float | None = None,
    ) -> None:
        for reading, place, ident in each(readings, path, name):
            own = (reading_sd(self.job, kind=kind, reading=reading) ** 2 + extra_sd**2) ** 0.5
            aside = ident in self.excluded
            sd = SET_ASIDE_SD if aside else max(own, self.widened.get(ident, 0.0))
            self.network.observations.append(
                Observation(
                    id=ident,
                    path=place,
                    label=label,
                    kind=kind,
                    value=reading.value + offset,
                    sd=sd,
                    own_sd=own,
                    status="set aside" if aside else "doubtful" if sd > own else "used",
                    terms=terms,
                    opening=opening,
                    setup=setup,
                    order=order,
                    x=x,
                )
            )

    def _assume(self, name: str, what: str, terms: Terms, *, sd: float, value: float = 0.0, opening: str = "") -> None:
        self.network.observations.append(
            Observation(
                id=f"assumed.{name}",
                path=what,
                label=what,
                kind="assumption",
                value=value,
                sd=sd,
                own_sd=sd,
                terms=terms,
                opening=opening or None,
                assumed=True,
            )
        )

    # ---- lasers

    def set_ups(self) -> None:
        """Add height and tilt of each set-up, with the maker's statement and turned-round relations."""
        net = self.network
        for i, setup in enumerate(self.job.setup):
            first = setup.series[0].down[0].value
            net.heights.append(self.unknowns.add(("height", i), first))
            net.tilts.append(self.unknowns.add(("tilt", i), 0.0))
            what = f"set-up {i + 1}: the beam is level within what its maker states"
            sd = DISTRUSTED_TILT_SD if i in self.distrusted else laser_tilt_sd(self.job, setup)
            self._assume(f"tilt.{i + 1}", what, ((net.tilts[i], 1.0),), sd=sd)
        if net.datum.startswith("beam"):
            self._assume("datum", "heights count from the beam", ((net.heights[0], 1.0),), sd=1e-4)
        for i, setup in enumerate(self.job.setup):
            self._same_laser(i, setup)

    def _same_laser(self, i: int, setup: SetUp) -> None:
        net = self.network
        for group in net.lasers if setup.turned is not None else ():
            first, _ = group[0]
            other = self.job.setup[first]
            if other.instrument == setup.instrument and other.turned is not None:
                sign = 1.0 if other.turned == setup.turned else -1.0
                group.append((i, sign))
                terms = ((net.tilts[i], 1.0), (net.tilts[first], -sign))
                what = f"set-ups {first + 1} and {i + 1}: one laser, one error of level"
                self._assume(f"laser.{first + 1}.{i + 1}", what, terms, sd=TILT_REPEAT)
                return
        net.lasers.append([(i, 1.0)])

    def series(self, i: int, setup: SetUp) -> None:
        """Add the shots of one set-up, in the order they were taken."""
        net = self.network
        for order, shot in enumerate(setup.series):
            x, target, label, opening = self._target(shot, i, order)
            if target is None:
                continue
            beam = self._beam_at(i, order, x - setup.x)
            self._read(
                shot.down,
                f"setup[{i}].series[{order}].down",
                f"setup{i + 1}.{order + 1}",
                plus((1.0, beam), (-1.0, target)),
                kind="laser",
                label=f"set-up {i + 1}, shot {order + 1}: {label}",
                opening=opening,
                setup=i,
                order=order,
                x=x,
            )

    def _beam_at(self, i: int, order: int, away: float) -> Terms:
        net = self.network
        beam: Terms = ((net.heights[i], 1.0), (net.tilts[i], away))
        for knock in self.knocks:
            if knock.setup == i and order > knock.after:
                jump, slope = self._jump(knock)
                beam = plus((1.0, beam), (1.0, ((jump, 1.0),)), (away, ((slope, 1.0),) if slope is not None else ()))
        return beam

    def _jump(self, knock: Knock) -> tuple[int, int | None]:
        jumps = self.network.jumps
        if knock not in jumps:
            name = ("jump", knock.setup, knock.after)
            jump = self.unknowns.add(name, 0.0)
            jumps[knock] = (jump, self.unknowns.add((*name, "slope"), 0.0) if knock.tilted else None)
            self._assume(f"jump.{knock.setup + 1}", f"set-up {knock.setup + 1} moved by inches at most", ((jump, 1.0),), sd=12.0)
            slope = jumps[knock][1]
            if slope is not None:
                self._assume(f"jump_slope.{knock.setup + 1}", "its slope changed little", ((slope, 1.0),), sd=1.0)
        return jumps[knock]

    def _target(self, shot: Shot, i: int, order: int) -> tuple[float, Terms | None, str, str | None]:
        net = self.network
        if shot.mark is not None:
            x = shot.x if shot.x is not None else next(m.x for m in self.job.mark if m.name == shot.mark)
            index = self._mark(shot.mark, i, shot)
            return x, () if index is None else ((index, 1.0),), f"mark {shot.mark}", None
        x = float(shot.x or 0.0)
        if shot.sill is not None:
            own = net.openings[shot.sill]
            profile = own.sill_inner if shot.edge == "inner" and own.sill_inner else own.sill
            return x, _snap(profile, x), f"sill of {shot.sill}, {shot.edge} edge", shot.sill
        if shot.head is not None:
            own = net.openings[shot.head]
            head = own.head_inner if shot.edge == "inner" and own.head_inner else own.head
            return x, None if head is None else head.at(x), f"head of {shot.head}", shot.head
        if shot.point is not None:
            name = ("point", shot.point, x, shot.edge)
            known = name in self.unknowns.index
            index = self.unknowns.add(name, self._beam(i) - shot.down[0].value)
            if not known:
                net.points.append((shot.point, x, index))
            return x, ((index, 1.0),), shot.point, None
        return x, None, f"pad {shot.pad}", None

    def _beam(self, i: int) -> float:
        return self.unknowns.start[self.network.heights[i]]

    def _mark(self, name: str, i: int, shot: Shot) -> int | None:
        net = self.network
        if name not in net.marks:
            known = next((m.z for m in self.job.mark if m.name == name), None)
            if name == net.datum:
                net.marks[name] = None
            else:
                index = self.unknowns.add(("mark", name), self._beam(i) - shot.down[0].value)
                net.marks[name] = index
                if known is not None:
                    self._assume(f"mark.{name}", f"mark {name} stands where stated", ((index, 1.0),), sd=1e-4, value=known)
        return net.marks[name]

    # ---- openings

    def opening(self, index: int) -> None:
        """Add one opening's profiles and taped readings."""
        o = self.job.opening[index]
        shots = [s for setup in self.job.setup for s in setup.series if s.sill == o.name and s.x is not None]
        frame = frame_of(self.job, o, shots, excluded=self.excluded)
        sill = self._sill(o.name, frame, shots)
        net = OpeningNet(name=o.name, frame=frame, sill=sill, level_known=bool(shots))
        self.network.openings[o.name] = net
        self._jacks(index, net)
        self._inner_sill(net, shots, needed=any((o.height_inner.left, o.height_inner.centre, o.height_inner.right)))
        self._head(index, net)
        self._diagonals(index, net)
        self._face(index, net)
        self._thickness(index, net)

    def _sill(self, name: str, frame: Frame, shots: list[Shot]) -> Profile:
        places = [s.x for s in shots if s.x is not None]
        stations = merge(places, within=STATION_MERGE)
        if len(stations) < 2:
            stations = merge([*stations, *frame.across], within=STATION_MERGE)
        z = self._approximate_sill(name)
        profile = Profile(stations, tuple(self.unknowns.add((name, "sill", x), z) for x in stations))
        self._straight(profile, f"{name}.sill", f"sill of {name} straight", sd=self.job.assume.sill_bow, span=32.0, opening=name)
        self._level(profile, f"{name}.sill_level", f"sill of {name} roughly level", opening=name)
        if not shots:
            what = f"sill of {name} was not shot: heights count from its own left end"
            self._assume(f"{name}.datum", what, ((profile.unknown[0], 1.0),), sd=1e-4, opening=name)
        return profile

    def _approximate_sill(self, name: str) -> float:
        for i, setup in enumerate(self.job.setup):
            for shot in setup.series:
                if shot.sill == name:
                    return self._beam(i) - shot.down[0].value
        return 0.0

    def _straight(self, profile: Profile, name: str, what: str, *, sd: float, span: float, opening: str) -> None:
        for form, place, own_span in profile.bends():
            self._assume(f"{name}@{place:.2f}", what, form, sd=sd * own_span / span, opening=opening)

    def _level(self, profile: Profile, name: str, what: str, *, opening: str) -> None:
        if len(profile.unknown) > 1:
            form = ((profile.unknown[-1], 1.0), (profile.unknown[0], -1.0))
            self._assume(name, what, form, sd=LEVEL_SD, opening=opening)

    def _inner_sill(self, net: OpeningNet, shots: list[Shot], *, needed: bool) -> None:
        if not needed and not any(s.edge == "inner" for s in shots):
            return
        net.sill_inner = self._behind(net.sill, f"{net.name}.sill", f"sill of {net.name} falls evenly front to back", net.name)

    def _behind(self, front: Profile, name: str, what: str, opening: str) -> Profile:
        """Return the inner edge of a sill or head: the outer one less one fall for the opening, irregular."""
        fall = self.unknowns.add((name, "fall"), 0.0)
        start = self.unknowns.start
        inner = tuple(
            self.unknowns.add((name, "inner", x), start[k]) for x, k in zip(front.stations, front.unknown, strict=True)
        )
        for x, out, back in zip(front.stations, front.unknown, inner, strict=True):
            form = ((out, 1.0), (back, -1.0), (fall, -1.0))
            self._assume(f"{name}_fall@{x:.2f}", what, form, sd=self.job.assume.cross_fall, opening=opening)
        self._assume(f"{name}_fall", what, ((fall, 1.0),), sd=LEVEL_SD, opening=opening)
        return Profile(front.stations, inner)

    def _jacks(self, index: int, net: OpeningNet) -> None:
        o, frame = self.job.opening[index], net.frame
        path, name = f"opening[{index}]", o.name
        if not frame.has_jacks:
            return
        net.left = self._jack(name, "left", frame.left, o.plumb_line.left.at if o.plumb_line.left else (), frame)
        net.right = self._jack(name, "right", frame.right, o.plumb_line.right.at if o.plumb_line.right else (), frame)
        near, half, far = frame.up
        for where, height in (("bottom", near), ("middle", half), ("top", far)):
            terms = plus((1.0, net.right.at(height)), (-1.0, net.left.at(height)))
            at = f"width, {where}"
            self._read(
                getattr(o.width, where), f"{path}.width.{where}", f"{name}.width.{where}", terms,
                kind="width", label=f"{name}: {at}", opening=name,
            )  # fmt: skip
        self._inner_jacks(index, net)
        for side, profile in (("left", net.left), ("right", net.right)):
            self._read(
                getattr(o, f"{side}_jack_x"), f"{path}.{side}_jack_x", f"{name}.{side}_jack_x", profile.at(0.0),
                kind="run", label=f"{name}: {side} jack from the wall mark", opening=name,
            )  # fmt: skip
            lean = getattr(o.plumb, side)
            if lean is not None:
                terms = plus((1.0, profile.at(frame.top_of(lean.over_height))), (-1.0, profile.at(near)))
                self._read(
                    lean.top_leans_right, f"{path}.plumb.{side}.top_leans_right", f"{name}.plumb.{side}.right", terms,
                    kind="plumb", label=f"{name}: {side} jack, lean to the right", opening=name,
                )  # fmt: skip
            self._plumb_line(index, net, side, profile)
        net.position_known = frame.position_known
        if not frame.position_known:
            what = f"{name}: opening centred on its sill shots, no jack was taped from the wall mark"
            self._assume(f"{name}.position", what, net.left.at(0.0), sd=3.0, value=frame.left, opening=name)

    def _jack(self, name: str, side: str, x: float, extra: tuple[float, ...], frame: Frame) -> Profile:
        stations = frame.stations_up(extra)
        profile = Profile(stations, tuple(self.unknowns.add((name, side, h), x) for h in stations))
        what = f"{side} jack of {name} straight"
        span = stations[-1] - stations[0]
        self._straight(profile, f"{name}.{side}", what, sd=self.job.assume.jack_bow, span=span, opening=name)
        lean = ((profile.unknown[-1], 1.0), (profile.unknown[0], -1.0))
        what = f"{side} jack of {name} roughly plumb"
        self._assume(f"{name}.{side}_plumb", what, lean, sd=self.job.assume.plumb, opening=name)
        return profile

    def _inner_jacks(self, index: int, net: OpeningNet) -> None:
        o, frame, name = self.job.opening[index], net.frame, net.name
        if not any((o.width_inner.bottom, o.width_inner.middle, o.width_inner.top)):
            return
        if net.left is None or net.right is None:
            return
        pair = []
        for side, outer in (("left", net.left), ("right", net.right)):
            x = frame.left if side == "left" else frame.right
            inner = Profile(outer.stations, tuple(self.unknowns.add((name, side, "inner", h), x) for h in outer.stations))
            what = f"{side} jack of {name} square to the wall"
            for h, a, b in zip(outer.stations, outer.unknown, inner.unknown, strict=True):
                form = ((a, 1.0), (b, -1.0))
                self._assume(f"{name}.{side}_square@{h:.2f}", what, form, sd=self.job.assume.jack_bow, opening=name)
            pair.append(inner)
        net.left_inner, net.right_inner = pair
        for where, height in zip(("bottom", "middle", "top"), frame.up, strict=True):
            terms = plus((1.0, net.right_inner.at(height)), (-1.0, net.left_inner.at(height)))
            self._read(
                getattr(o.width_inner, where), f"opening[{index}].width_inner.{where}", f"{name}.width_inner.{where}",
                terms, kind="width", label=f"{name}: width at the room side, {where}", opening=name,
            )  # fmt: skip

    def _plumb_line(self, index: int, net: OpeningNet, side: str, profile: Profile) -> None:
        line = getattr(self.job.opening[index].plumb_line, side)
        if line is None:
            return
        sign = 1.0 if side == "left" else -1.0
        start = self.unknowns.start[profile.unknown[0]] + sign * line.gap[0][0].value
        hanging = ((self.unknowns.add((net.name, side, "plumb line"), start), 1.0),)
        for k, (height, gap) in enumerate(zip(line.at, line.gap, strict=True)):
            terms = plus((sign, hanging), (-sign, profile.at(height)))
            self._read(
                gap, f"opening[{index}].plumb_line.{side}.gap[{k}]", f"{net.name}.plumb_line.{side}.{k + 1}", terms,
                kind="plumb", label=f"{net.name}: plumb line at the {side} jack, gap {k + 1}", opening=net.name,
            )  # fmt: skip

    def _head(self, index: int, net: OpeningNet) -> None:
        o, name = self.job.opening[index], net.name
        shots = [s for setup in self.job.setup for s in setup.series if s.head == name and s.x is not None]
        heights = dict(zip(("left", "centre", "right"), net.frame.across, strict=True))
        taped = [x for where, x in heights.items() if getattr(o.height, where) or getattr(o.height_inner, where)]
        stations = merge([*taped, *(s.x for s in shots if s.x is not None)], within=2.0)
        if not stations:
            return
        z = self.unknowns.start[net.sill.unknown[0]] + net.frame.height
        net.head = Profile(stations, tuple(self.unknowns.add((name, "head", x), z) for x in stations))
        what = f"head of {name} straight"
        self._straight(net.head, f"{name}.head", what, sd=self.job.assume.head_sag, span=64.0, opening=name)
        self._level(net.head, f"{name}.head_level", f"head of {name} roughly level", opening=name)
        inner = any((o.height_inner.left, o.height_inner.centre, o.height_inner.right)) or any(
            s.edge == "inner" for s in shots
        )
        if inner:
            net.head_inner = self._behind(net.head, f"{name}.head", f"head of {name} falls evenly front to back", name)
        for face, head, sill in (("height", net.head, net.sill), ("height_inner", net.head_inner, net.sill_inner)):
            if head is None or sill is None:
                continue
            for where, x in heights.items():
                terms = plus((1.0, head.at(x)), (-1.0, sill.at(x)))
                extra = INTERPOLATION * (head.distance(x) + sill.distance(x))
                side = "" if face == "height" else " at the room side"
                self._read(
                    getattr(getattr(o, face), where), f"opening[{index}].{face}.{where}", f"{name}.{face}.{where}",
                    terms, kind="height", label=f"{name}: height{side}, {where}", extra_sd=extra, opening=name, x=x,
                )  # fmt: skip

    def _diagonals(self, index: int, net: OpeningNet) -> None:
        if net.left is None or net.right is None or net.head is None:
            return
        top, frame = net.frame.height, net.frame
        ends = {
            "bottom_left_to_top_right": (net.left, frame.left, net.right, frame.right, "bottom left to top right"),
            "bottom_right_to_top_left": (net.right, frame.right, net.left, frame.left, "bottom right to top left"),
        }
        for key, (low, x_low, high, x_high, said) in ends.items():
            span = Diagonal(
                dx=plus((1.0, high.at(top)), (-1.0, low.at(0.0))),
                dz=plus((1.0, net.head.at(x_high)), (-1.0, net.sill.at(x_low))),
            )
            self._read(
                getattr(self.job.opening[index].diagonal, key), f"opening[{index}].diagonal.{key}",
                f"{net.name}.diagonal.{key}", span, kind="diagonal", label=f"{net.name}: diagonal, {said}",
                opening=net.name,
            )  # fmt: skip

    def _face(self, index: int, net: OpeningNet) -> None:
        """Add how far the jacks stand in or out: leans across the wall and the crossed strings."""
        o, name, frame = self.job.opening[index], net.name, net.frame
        leans = [getattr(o.plumb, side) for side in ("left", "right")]
        read = o.string_gap is not None or any(lean and lean.top_leans_in for lean in leans)
        if not (read or self.job.wall.string) or not frame.has_jacks:
            return
        near, _, far = frame.up
        assume, path = self.job.assume, f"opening[{index}]"
        pair = []
        for side, lean in zip(("left", "right"), leans, strict=True):
            low, high = (self.unknowns.add((name, side, "out", h), 0.0) for h in (near, far))
            profile = Profile((near, far), (low, high))
            self._assume(
                f"{name}.{side}_flat", f"sheathing at the {side} jack of {name} in the wall's plane", ((low, 1.0),),
                sd=assume.wall_flat, opening=name,
            )  # fmt: skip
            self._assume(
                f"{name}.{side}_plumb_in", f"{side} jack of {name} roughly plumb in and out", ((high, 1.0), (low, -1.0)),
                sd=assume.plumb, opening=name,
            )  # fmt: skip
            if lean is not None:
                terms = plus((1.0, profile.at(frame.top_of(lean.over_height))), (-1.0, profile.at(near)))
                self._read(
                    lean.top_leans_in, f"{path}.plumb.{side}.top_leans_in", f"{name}.plumb.{side}.in", terms,
                    kind="plumb", label=f"{name}: {side} jack, lean into the house", opening=name,
                )  # fmt: skip
            pair.append(profile)
        net.left_out, net.right_out = pair
        crossing = plus(
            (0.5, pair[0].at(0.0)), (0.5, pair[1].at(frame.height)), (-0.5, pair[1].at(0.0)), (-0.5, pair[0].at(frame.height))
        )
        self._read(
            o.string_gap, f"{path}.string_gap", f"{name}.string_gap", crossing,
            kind="string", label=f"{name}: gap of the crossed strings", opening=name,
        )  # fmt: skip

    def _thickness(self, index: int, net: OpeningNet) -> None:
        o, name = self.job.opening[index], net.name
        corners = ("top_left", "top_right", "bottom_left", "bottom_right")
        read = {corner: getattr(o.wall_thickness, corner) for corner in corners}
        values = [r[0].value for r in read.values() if r]
        if not values:
            return
        mean = self.unknowns.add((name, "thickness"), values[0])
        for corner in corners:
            index_of = self.unknowns.add((name, "thickness", corner), values[0])
            net.thickness[corner] = index_of
            what = f"wall at {name} evenly thick"
            form = ((index_of, 1.0), (mean, -1.0))
            self._assume(f"{name}.thickness.{corner}", what, form, sd=self.job.assume.thickness, opening=name)
            self._read(
                read[corner], f"opening[{index}].wall_thickness.{corner}", f"{name}.wall_thickness.{corner}",
                ((index_of, 1.0),), kind="thickness",
                label=f"{name}: wall thickness, {corner.replace('_', ' ')}", opening=name,
            )  # fmt: skip

    def wall_string(self) -> None:
        """Add the string along the wall: it ties the openings' faces to one plane."""
        string = self.job.wall.string
        if string is None:
            return
        for k, offset in enumerate(string.offsets):
            terms = self._face_at(offset.x, string.height)
            self._read(
                offset.gap, f"wall.string.offsets[{k}].gap", f"string.{k + 1}", terms, kind="string",
                label=f"string along the wall, place {k + 1}", offset=-string.clear, x=offset.x,
            )  # fmt: skip

    def _face_at(self, x: float, height: float) -> Terms:
        for net in self.network.openings.values():
            for jack, profile in ((net.frame.left, net.left_out), (net.frame.right, net.right_out)):
                if profile is not None and abs(jack - x) <= 4.0:
                    return profile.at(height)
        index = self.unknowns.add(("wall", x), 0.0)
        what = "sheathing between openings in the wall's plane"
        self._assume(f"wall@{x:.2f}", what, ((index, 1.0),), sd=2.0 * self.job.assume.wall_flat)
        return ((index, 1.0),)


def _snap(profile: Profile, x: float) -> Terms:
    nearest = min(range(len(profile.stations)), key=lambda i: abs(profile.stations[i] - x))
    if abs(profile.stations[nearest] - x) <= STATION_MERGE:
        return ((profile.unknown[nearest], 1.0),)
    return profile.at(x)


def _datum(job: Job) -> str:
    if job.mark:
        return job.mark[0].name
    named = (shot.mark for setup in job.setup for shot in setup.series if shot.mark is not None)
    return next(named, "beam of the first set-up")


def each(readings: Readings | None, path: str, name: str) -> Iterator[tuple]:  # type: ignore[type-arg]
    """Yield (reading, place in the job file, id) for one reading or a list of them."""
    if readings is None:
        return
    single = len(readings) == 1
    for k, reading in enumerate(readings):
        yield reading, path if single else f"{path}[{k}]", name if single else f"{name}.{k + 1}"
