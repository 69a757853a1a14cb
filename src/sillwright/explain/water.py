"""Why a place stays dry or not, why a lap is enough or not, why a piece lies where it does."""

from __future__ import annotations

from functools import partial

from sillwright.explain.model import Case, Entry, Explanation, Given, Index
from sillwright.explain.words import both, tape
from sillwright.flashing import (
    WaterCorner,
    WaterCut,
    WaterLap,
    WaterMaterial,
    WaterPiece,
    WaterPlace,
    WaterPlan,
    WaterStanding,
)
from sillwright.lengths import Unit

METHOD = "way of water between the layers of the wall; docs/water.md"
VERDICTS = {
    "sheds": "No way leads there: by its weight alone none, and none up to the head of water.",
    "held by bond": "A way leads there, and bond is all that closes it: so well as it was stuck, it holds.",
    "open": "A way leads there that crosses no bond: a leak that waits for rain.",
}
ANGLES = (
    "360 degrees lie flat; with less, sheet folds over itself and stays whole; with more, a flat sheet must "
    "be slit, and the slit ends at the point."
)


def water_entries(case: Case) -> Index:
    """Return what can be asked about the water plan."""
    water, index = case.plan.water, Index()
    if water is None:
        return index
    index["water"] = Entry("water", partial(_water, case, water))
    for place in water.places:
        index[place.id] = Entry("water place", partial(_place, case, water, place))
    for corner in water.corners:
        index[corner.id] = Entry("water corner", partial(_corner, water, corner))
    for face in water.standing:
        index[face.id] = Entry("standing water", partial(_standing, case, face))
    for piece in water.pieces:
        index[piece.id] = Entry("piece", partial(_piece, case, water, piece))
    for lap in water.laps:
        index[lap.id] = Entry("lap", partial(_lap, case, lap))
    for cut in water.cuts:
        index[cut.id] = Entry("cutting", partial(_cutting, case, water, cut))
    for material in water.materials:
        index[f"material.{material.roll}"] = Entry("material", partial(_material, case, water, material))
    return index


def _water(case: Case, water: WaterPlan) -> Explanation:
    unit = case.plan.units
    answer = [water.scheme_words, *([f"Watch: {water.scheme_watch}"] if water.scheme_watch else [])]
    answer += [f"{each.opening} is left out: {each.reason}." for each in water.left_out]
    given = [
        Given(name="head of water", value=both(water.head, unit)),
        Given(name="pressure", value=f"{water.pressure_psf:.3g} psf: {water.head_said}"),
        *(Given(name=f"taken, as {each.key} does not say it", value=each.text) for each in water.assumed),
    ]
    worst = [each.id for each in water.places if each.at_head == water.worst]
    return Explanation(
        ident="water",
        title=f"Water: {water.scheme}; at the worst place {water.worst}",
        answer=tuple(answer),
        formula="head h = p / (ρ g): the height of water that the pressure of wind holds up",
        given=tuple(given),
        source=water.head_source,
        see=tuple(worst[:3]),
    )


def _place(case: Case, water: WaterPlan, place: WaterPlace) -> Explanation:
    unit = case.plan.units
    answer = [VERDICTS[place.at_head], *([f"The weakest way: {place.way}"] if place.way else [])]
    given = [
        Given(name="by its weight alone", value=place.by_weight),
        Given(name="at the head of water", value=f"{place.at_head}, {tape(water.head, unit)}", ident="water"),
    ]
    for name, value in (
        ("least head at which it no longer sheds", place.head_to_wet),
        ("least head at which it is open", place.head_to_open),
        ("least bond on any way", place.bond),
    ):
        given.append(Given(name=name, value="none" if value is None else both(value, unit)))
    names = {each.words: each.id for each in water.pieces}
    passed = dict.fromkeys(name for step in place.steps for name in (step.over, step.under) if name)
    return Explanation(
        ident=place.id,
        title=f"{place.words[:1].upper()}{place.words[1:]}: {place.at_head}",
        answer=tuple(answer),
        formula="of all ways between the layers: first the least head, then the least inches of bond",
        given=tuple(given),
        source=METHOD,
        see=tuple(names[each] for each in passed if each in names),
    )


def _corner(water: WaterPlan, corner: WaterCorner) -> Explanation:
    held = ", ".join(corner.held_by) or "none: a pinhole, unless something lies over it"
    names = {each.words: each.id for each in water.pieces}
    return Explanation(
        ident=corner.id,
        title=f"{corner.words[:1].upper()}{corner.words[1:]}: {corner.angle_deg:.1f} degrees",
        answer=(ANGLES,),
        formula="sum of the angles of the faces that meet at the point",
        given=(Given(name="pieces that hold it inside them", value=held),),
        source="R. Descartes, angular defect of a corner; docs/water.md",
        see=tuple(names[each] for each in corner.held_by if each in names),
    )


def _standing(case: Case, face: WaterStanding) -> Explanation:
    return Explanation(
        ident=face.id,
        title=f"The {face.words} falls toward {face.toward}",
        answer=("Water that gets there stays there, and finds every hole.",),
        formula="depth = height of the outer edge − height of the inner edge",
        given=(Given(name="depth", value=both(face.depth, case.plan.units)),),
        source=METHOD,
    )


def _piece(case: Case, water: WaterPlan, piece: WaterPiece) -> Explanation:
    unit = case.plan.units
    parts = tuple(
        Given(name=part.name, value=f"on {part.facet}, {_span(part.u, unit)} × {_span(part.v, unit)}")
        for part in piece.parts
    )
    held = sorted({part.held_until for part in piece.parts} - {""})
    answer = [f"Number {piece.number} of {len(water.pieces)} in the order of work: {piece.kind}."]
    answer += [f"A part of it is held up until {until} is on." for until in held]
    laps = [each.id for each in water.laps if piece.name in (each.upper, each.lower)]
    return Explanation(
        ident=piece.id,
        title=f"{piece.words[:1].upper()}{piece.words[1:]}, of {piece.roll} ({piece.family})",
        answer=tuple(answer),
        formula="",
        given=parts,
        source=f"scheme: {water.scheme}; sizes and own pieces: [water] of the job file",
        see=("water", *laps[:4]),
    )


def _span(span: tuple[float, float], unit: Unit) -> str:
    return f"{tape(span[0], unit)} to {tape(span[1], unit)}"


def _lap(case: Case, lap: WaterLap) -> Explanation:
    unit = case.plan.units
    asked = "nobody's number is at hand" if lap.required is None else both(lap.required, unit)
    given = (
        Given(name="lap", value=both(lap.lap, unit)),
        Given(name="of it held by bond", value=both(lap.bond, unit)),
        Given(name="asked", value=asked),
        Given(name="where", value=f"{lap.where}, {lap.goes}"),
    )
    return Explanation(
        ident=lap.id,
        title=f"{lap.upper} over {lap.lower}: {tape(lap.lap, unit)}, {lap.result}",
        answer=(f"{lap.said[:1].upper()}{lap.said[1:]}.".replace("..", "."),),
        formula="least way from the edge of the upper piece to the edge of the lower one, between the two",
        given=given,
        source=lap.source or "looked for, not found; docs/materials.md",
        see=(f"piece.{lap.upper}", f"piece.{lap.lower}"),
    )


def _cutting(case: Case, water: WaterPlan, cut: WaterCut) -> Explanation:
    unit = case.plan.units
    words = {piece.name: piece.words for piece in water.pieces}
    strips = f", joined of {cut.strips} widths" if cut.strips > 1 else ""
    given = [Given(name="along the roll", value=both(cut.along, unit))]
    given.append(Given(name="across it", value=both(cut.across, unit)))
    given.append(Given(name="folds, slits", value=f"{cut.folds}, {cut.slits}"))
    if cut.stretch_pct is not None:
        given.append(Given(name="grows longer round the corner by", value=f"{cut.stretch_pct:.0f}%"))
    return Explanation(
        ident=cut.id,
        title=f"Cut for the {words[cut.piece]}: {tape(cut.along, unit)} × {tape(cut.across, unit)}{strips}",
        answer=(f"{cut.make[:1].upper()}{cut.make[1:]}.", *((f"It {cut.said}.",) if cut.said else ())),
        formula="faces turned into one plane about the edges they share; least rectangle round them",
        given=tuple(given),
        source="flat patterns; docs/water.md",
        see=(f"piece.{cut.piece}", f"material.{cut.roll}"),
    )


def _material(case: Case, water: WaterPlan, material: WaterMaterial) -> Explanation:
    unit = case.plan.units
    given = [Given(name="pieces", value=str(material.pieces))]
    for name, value in (
        ("length along the roll", material.length),
        ("width", material.width),
        ("on hand", material.on_hand),
    ):
        if value is not None:
            given.append(Given(name=name, value=both(value, unit)))
    given.append(Given(name="area", value=f"{material.area_sqft:.1f} ft2"))
    of = [each.id for each in water.cuts if each.roll == material.roll]
    return Explanation(
        ident=f"material.{material.roll}",
        title=f"{material.roll} ({material.family}): {material.result}",
        answer=("Sum of the cut sizes, before waste.",),
        formula="length = Σ length of each cut × widths it is joined from",
        given=tuple(given),
        source="flat patterns; docs/water.md",
        see=tuple(of[:4]),
    )
