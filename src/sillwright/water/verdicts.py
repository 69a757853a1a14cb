"""Verdicts: for every place that must stay dry, whether water gets there, and what holds it back."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from sillwright.water.bonds import NEVER, Bonds, bonds
from sillwright.water.flow import Flow, flow
from sillwright.water.lattice import Bools, Floats, Ints
from sillwright.water.model import Dressing, Face
from sillwright.water.places import Places, goal_places, places
from sillwright.water.states import States
from sillwright.water.ways import Way, trace_bond, trace_flood

HAIR = 1e-9


class Verdict(StrEnum):
    """What happens at a place."""

    SHEDS = "sheds"
    HELD = "held by bond"
    OPEN = "open"


@dataclass(frozen=True, slots=True, kw_only=True)
class Design:
    """What the wall has to stand."""

    head_in_water: float = 0.0
    """The head of water of the design pressure, inches; 0: no wind, so nothing moves but by its weight."""
    cell_in: float = 0.25
    """Bonds are measured on cells no longer than this."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceVerdict:
    """A place on the wood, or the room behind one."""

    place: str
    words: str
    gravity: Verdict
    """When nothing but its weight moves the water."""
    at_head: Verdict
    """At the design head, with wind."""
    head_to_wet: float | None
    """The least head at which it no longer sheds, inches; None: at none."""
    head_to_open: float | None
    """The least head at which water gets there across no bond; None: at none."""
    bond_in: float | None
    """The least inches of bond on any way at the design head; None: no way."""
    way: Way | None
    """The weakest way."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CornerVerdict:
    """A corner point, and the sheets that hold it inside them."""

    corner: str
    words: str
    angle_deg: float
    held_by: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """A face that should drain but falls toward the room, or to one end."""

    facet: str
    words: str
    toward: str
    depth: float
    """Of the water that stands there, inches."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Water:
    """Where water can reach wood or the room, what holds it back, and how much of it is there."""

    design: Design
    places: tuple[PlaceVerdict, ...]
    corners: tuple[CornerVerdict, ...]
    standing: tuple[Standing, ...]
    nodes: int
    """Of the graph that the bonds were measured on."""

    @property
    def worst(self) -> Verdict:
        """Return the worst verdict at the design head."""
        found = {each.at_head for each in self.places}
        return next((each for each in (Verdict.OPEN, Verdict.HELD) if each in found), Verdict.SHEDS)


def judge(dressing: Dressing, design: Design) -> Water:
    """Return the verdict for every place of a dressed wall.

    Raises:
        BadInput: a sheet would have to pass through another one
    """
    water = flow(dressing)
    named = places(water.states.lattice)
    held = bonds(water, named, design.head_in_water, design.cell_in)
    return Water(
        design=design,
        places=tuple(_place_verdicts(water, held, design)),
        corners=tuple(_corners(water)),
        standing=tuple(_standing(dressing)),
        nodes=held.graph.first_place,
    )


def _place_verdicts(water: Flow, bond: Bonds, design: Design) -> Iterator[PlaceVerdict]:
    """Yield the places in the order of the wall's facets, then the room's."""
    named = bond.places
    at = goal_places(water.states, water.goals.source, water.goals.goal, named)
    free, wet = water.flood(free=True)[0], water.flood(free=False)[0]
    falls_free, falls = water.falls(free=True), water.falls(free=False)
    bare = _bare(water.states, named)
    for number in sorted(set(at.tolist()) | _dry(water.states, named)):
        rows = np.flatnonzero(at == number)
        name, words = named.name(number), named.said(number)
        if number in bare:
            yield _in_the_rain(name, words)
            continue
        if not len(rows):
            yield _out_of_reach(name, words)
            continue
        to_open, to_wet = _least(free, rows), _least(wet, rows)
        gravity = _gravity(falls_free[rows], falls[rows])
        verdict = _verdict(to_open, to_wet, design.head_in_water) if design.head_in_water > 0 else gravity
        inches = bond.inches(number)
        held = verdict is Verdict.HELD and inches < NEVER
        least = rows[(free if verdict is Verdict.OPEN else wet)[rows].argmin()]
        yield PlaceVerdict(
            place=name,
            words=words,
            gravity=gravity,
            at_head=verdict,
            head_to_wet=to_wet,
            head_to_open=to_open,
            bond_in=inches if held else 0.0 if verdict is Verdict.OPEN else None,
            way=trace_bond(bond, number)
            if held
            else trace_flood(water, int(least), free=verdict is Verdict.OPEN, goal_words=words),
        )


def _bare(states: States, named: Places) -> set[int]:
    """Return the places whose wood lies bare in the rain."""
    return set(named.of_cell[states.cell[states.on_wood & states.open_air]].tolist())


def _dry(states: States, named: Places) -> set[int]:
    """Return the places with wood that must stay dry."""
    return set(named.of_cell[states.cell[states.on_wood]].tolist())


def _out_of_reach(name: str, words: str) -> PlaceVerdict:
    return PlaceVerdict(
        place=name,
        words=words,
        gravity=Verdict.SHEDS,
        at_head=Verdict.SHEDS,
        head_to_wet=None,
        head_to_open=None,
        bond_in=None,
        way=None,
    )


def _in_the_rain(name: str, words: str) -> PlaceVerdict:
    way = Way(start="the open: nothing covers it", steps=(), goal=words, bond_in=0.0, head_in_water=0.0)
    return PlaceVerdict(
        place=name,
        words=words,
        gravity=Verdict.OPEN,
        at_head=Verdict.OPEN,
        head_to_wet=0.0,
        head_to_open=0.0,
        bond_in=0.0,
        way=way,
    )


def _least(values: Floats, rows: Ints) -> float | None:
    least = float(values[rows].min()) if len(rows) else math.inf
    return None if math.isinf(least) else least


def _verdict(to_open: float | None, to_wet: float | None, head: float) -> Verdict:
    if to_open is not None and to_open <= head + HAIR:
        return Verdict.OPEN
    return Verdict.HELD if to_wet is not None and to_wet <= head + HAIR else Verdict.SHEDS


def _gravity(free: Bools, wet: Bools) -> Verdict:
    return Verdict.OPEN if free.any() else Verdict.HELD if wet.any() else Verdict.SHEDS


def _corners(water: Flow) -> Iterator[CornerVerdict]:
    lattice = water.states.lattice
    for corner in lattice.dressing.complex.corners:
        yield CornerVerdict(
            corner=corner.name,
            words=corner.words,
            angle_deg=corner.angle_deg,
            held_by=tuple(each.sheet.words for each in water.states.at_corners[corner.name] if each.whole),
        )


def _standing(dressing: Dressing) -> Iterator[Standing]:
    """Yield the lying faces that fall to the room: what stands there before it runs out again."""
    for facet in dressing.complex.facets:
        if facet.face is not Face.LYING:
            continue
        (_, _, a), (_, _, b), (_, _, c), (_, _, d) = facet.corners
        fall = max(a - d, b - c)
        if fall > HAIR:
            toward = "the wall" if facet.name.startswith("ledger") else "the room"
            yield Standing(facet=facet.name, words=facet.words, toward=toward, depth=fall)
