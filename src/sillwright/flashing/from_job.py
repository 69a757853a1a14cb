"""From a job, its adjusted wall and its setting plan to a wall to be dressed.

What a job does not say and matters is listed with what was taken; an opening whose shape the readings do not
settle is left out with the reason.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from sillwright.flashing.assumed import Assumed
from sillwright.flashing.geometry import LeftOut, assumed_of_shape, rough_opening
from sillwright.flashing.on_hand import OnHand, fitted, on_hand
from sillwright.flashing.practice import PanMake, Rolls, Scheme, SetUnit, Sizes, ToDress, UnitSet, WrapWhen
from sillwright.flashing.schemes import OWN, USUAL, USUAL_WITHOUT_FIN, scheme_card
from sillwright.inspection import LedgerPlan
from sillwright.job import Job, UnitToSet
from sillwright.lengths import show
from sillwright.setting import Setting
from sillwright.setting.model import UnitPosition
from sillwright.survey import Survey
from sillwright.water import Fastener, LedgerBoard, RoughOpening, Span, WallFace

FIN, FRAME_DEPTH = 1.375, 3.25
"""Taken of a unit where a job does not say it [in]: common practice, no source."""
LEAST_FIN = 0.25
"""A fin that is taken reaches at least so far over the wall [in]."""
ROUND = 16.0
"""How much of the wall round openings and ledger is looked at [in]."""
LEAST_ON_WALL = 1.0
"""Least of a pan's roll that must be left to hang down the wall [in]: common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FromJob:
    """A wall to be dressed, with what was taken and left out on the way."""

    to_dress: ToDress | None
    """None: no opening can be dressed."""
    scheme: Scheme
    own_only: bool
    """Nothing goes on but the pieces that the job lists."""
    stock: OnHand
    assumed: tuple[Assumed, ...]
    left_out: tuple[LeftOut, ...]


def from_job(job: Job, survey: Survey, setting: Setting, ledger: LedgerPlan | None) -> FromJob:
    """Return the wall of a job as it is to be dressed."""
    scheme = chosen_scheme(job)
    stock = on_hand(job.water, scheme.wrap)
    sizes = Sizes(**job.water.sizes.model_dump())
    thickness = job.deck.ledger_thickness if job.deck is not None else 0.0
    sizes, short = fitted(sizes, stock.rolls, thickness=thickness, units=job.units)
    openings, units, left_out = _openings(job, survey, setting, scheme, stock.rolls, ledger)
    names = {each.name for each in openings}
    shapes = [each for each in survey.openings if each.name in names]
    assumed = [*_of_units(job, scheme, names), *assumed_of_shape(job, shapes), *short]
    to_dress = None
    if openings:
        board = _board(job, ledger, openings)
        to_dress = ToDress(
            wall=_wall(job, openings, board, sizes),
            units=tuple(units),
            scheme=scheme,
            rolls=stock.rolls,
            sizes=replace(sizes, above_fin=sizes.above_fin + max(each.fin or 0.0 for each in units)),
            ledger_fasteners=_fasteners(job, ledger) if board is not None else (),
        )
        if board is not None and job.water.fasteners_sealed is None:
            text = "fasteners of the ledger that are not bedded in sealant"
            assumed.append(Assumed(key="water.fasteners_sealed", text=text))
    return FromJob(
        to_dress=to_dress,
        scheme=scheme,
        own_only=job.water.scheme == OWN,
        stock=stock,
        assumed=tuple(assumed),
        left_out=tuple(left_out),
    )


# --- the scheme


def chosen_scheme(job: Job) -> Scheme:
    """Return the scheme that a job names, with its own choices; without a name, the usual one."""
    water = job.water
    fins = [each.fin for each in job.unit]
    usual = USUAL_WITHOUT_FIN if fins and all(fin == 0 for fin in fins) else USUAL
    name = usual if water.scheme is None or water.scheme == OWN else water.scheme
    scheme = scheme_card(name).scheme
    changed = replace(
        scheme,
        wrap=WrapWhen(water.wrap) if water.wrap is not None else scheme.wrap,
        pan=PanMake(water.pan) if water.pan is not None else scheme.pan,
        unit=UnitSet(water.unit) if water.unit is not None else scheme.unit,
    )
    if water.scheme == OWN:
        return replace(changed, name=OWN, words="Only the pieces that the job lists.")
    return changed if changed == scheme else _named(changed, scheme.name)


def _named(scheme: Scheme, name: str) -> Scheme:
    words = f"{name}, with choices of the job: wrap {scheme.wrap}; pan {scheme.pan}; {scheme.unit}"
    return replace(scheme, name=f"{name}, changed", words=f"{words[:1].upper()}{words[1:]}.")


# --- openings and units


def _openings(
    job: Job,
    survey: Survey,
    setting: Setting,
    scheme: Scheme,
    rolls: Rolls,
    ledger: LedgerPlan | None,
) -> tuple[list[RoughOpening], list[SetUnit], list[LeftOut]]:
    alone = len(survey.openings) == 1 and ledger is None
    openings, units, left_out = [], [], []
    for shape in sorted(survey.openings, key=lambda each: each.left):
        unit = next((each for each in job.unit if each.opening == shape.name), None)
        position = next((each for each in setting.units if each.opening == shape.name), None)
        if unit is None or position is None:
            why = "no unit is to be set in it" if unit is None else "nothing settles where its unit stands"
            advice = "Add its [[unit]]." if unit is None else "See what its heights still need."
            left_out.append(LeftOut(opening=shape.name, reason=why, advice=advice))
            continue
        own = rough_opening(job, shape, set_back=unit.set_back, alone=alone)
        if isinstance(own, RoughOpening):
            own = _checked(job, unit, position, own, rolls, ledger)
        if isinstance(own, LeftOut):
            left_out.append(own)
            continue
        openings.append(own)
        units.append(_set_unit(unit, position, own, scheme))
    return openings, units, left_out


def _checked(
    job: Job,
    unit: UnitToSet,
    position: UnitPosition,
    own: RoughOpening,
    rolls: Rolls,
    ledger: LedgerPlan | None,
) -> RoughOpening | LeftOut:
    """Return the opening, if its pieces can be laid there at all."""

    def out(reason: str, advice: str) -> LeftOut:
        return LeftOut(opening=own.name, reason=reason, advice=advice)

    width, needed = rolls.pan.width, own.depth + own.dam + LEAST_ON_WALL
    if width is not None and width < needed:
        what = show(needed, unit=job.units, graduation=1 / 8, mark=True)
        return out(
            "the roll for the pan is too narrow for sill, back dam and an apron",
            f"It takes {what}: name a wider roll, or lay the pan of two pieces of your own.",
        )
    if unit.fin and fin_on_wall(unit.fin, position, own) <= 0:
        return out("the fin of its unit does not reach the wall all round", "See its clearances and pads.")
    if ledger is not None and job.deck is not None:
        over = own.x[0] < ledger.right and ledger.left < own.x[1]
        if over and min(z for _, z in own.corners) <= ledger.top:
            return out("the top of the ledger is not below its sill", "See the heights: lower the ledger.")
    ends = (job.water.wall_left, job.water.wall_right)
    if (ends[0] is not None and own.x[0] <= ends[0]) or (ends[1] is not None and own.x[1] >= ends[1]):
        return out("it reaches to the end of the wall", "Have the corner of the house detailed.")
    return own


def fin_on_wall(fin: float, position: UnitPosition, own: RoughOpening) -> float:
    """Return how far a fin surely reaches over the wall, past the gap round the frame [in]."""
    (xa, za), (xb, zb), (xc, zc), (xd, zd) = own.corners
    gaps = (
        position.left - min(xa, xd),
        max(xb, xc) - position.right,
        position.bottom - min(za, zb),
        max(zc, zd) - position.top,
    )
    return fin - max(gaps)


def _set_unit(unit: UnitToSet, position: UnitPosition, own: RoughOpening, scheme: Scheme) -> SetUnit:
    fin = None
    if unit.fin:
        fin = fin_on_wall(unit.fin, position, own)
    elif unit.fin is None and scheme.unit is not UnitSet.LINED:
        fin = max(fin_on_wall(FIN, position, own), LEAST_FIN)
    return SetUnit(
        opening=unit.opening,
        fin=fin,
        depth=unit.frame_depth or unit.jamb_depth or FRAME_DEPTH,
        mulls=tuple(position.left + mull for mull in unit.mulls),
    )


def _of_units(job: Job, scheme: Scheme, names: Iterable[str]) -> list[Assumed]:
    units = [each for each in job.unit if each.opening in names]
    found = []
    unsaid = [each.opening for each in units if each.fin is None]
    if unsaid and scheme.unit is UnitSet.LINED:
        found.append(Assumed(key="unit.fin", text=f"units without fins: {', '.join(unsaid)}"))
    elif unsaid:
        fin = show(FIN, unit=job.units, mark=True)
        found.append(Assumed(key="unit.fin", text=f"fins of {fin} round the frames: {', '.join(unsaid)}"))
    bare = [each.opening for each in units if each.frame_depth is None and each.jamb_depth is None]
    if bare:
        deep = show(FRAME_DEPTH, unit=job.units, mark=True)
        found.append(Assumed(key="unit.frame_depth", text=f"frames {deep} deep: {', '.join(bare)}"))
    elif any(each.frame_depth is None for each in units):
        found.append(Assumed(key="unit.frame_depth", text="frames as deep as their jambs"))
    return found


# --- the wall


def _board(job: Job, ledger: LedgerPlan | None, openings: list[RoughOpening]) -> LedgerBoard | None:
    if ledger is None or job.deck is None:
        return None
    crossed = [each for each in openings if ledger.bottom < each.z[1] and each.z[0] < ledger.top]
    if any(each.x[0] < ledger.right and ledger.left < each.x[1] for each in crossed):
        return None
    return LedgerBoard(
        x=(ledger.left, ledger.right), z=(ledger.bottom, ledger.top), thickness=job.deck.ledger_thickness
    )


def _wall(job: Job, openings: list[RoughOpening], board: LedgerBoard | None, sizes: Sizes) -> WallFace:
    xs = [x for each in openings for x in each.x] + list(board.x if board else ())
    zs = [z for each in openings for z in each.z] + list(board.z if board else ())
    left, right = min(xs) - ROUND, max(xs) + ROUND
    low, high = min(zs) - ROUND, max(zs) + sizes.head_strip + ROUND
    said = job.water.wall_left, job.water.wall_right
    ends: Span = (left if said[0] is None else said[0], right if said[1] is None else said[1])
    return WallFace(x=ends, z=(low, high), openings=tuple(openings), ledger=board)


def _fasteners(job: Job, ledger: LedgerPlan | None) -> tuple[Fastener, ...]:
    if ledger is None:
        return ()
    return tuple(
        Fastener(
            name=each.id,
            words=f"fastener {each.number} of the ledger",
            facet="ledger.face",
            u=each.x,
            v=each.z,
            laid=0,
            through="ledger",
            sealed=bool(job.water.fasteners_sealed),
        )
        for each in ledger.fasteners
    )
