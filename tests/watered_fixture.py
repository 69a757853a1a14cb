"""A hand-made water plan, invented: one of everything that it can hold."""

from __future__ import annotations

from sillwright.flashing import (
    Assumed,
    LeftOut,
    WaterAct,
    WaterCorner,
    WaterCut,
    WaterLap,
    WaterMaterial,
    WaterPart,
    WaterPiece,
    WaterPlace,
    WaterPlan,
    WaterStanding,
    WaterStep,
)

WATER = WaterPlan(
    scheme="strips over the fin",
    scheme_words="The wrap is on first; strips go over the fins.",
    scheme_watch="The sill fin stays open below.",
    head=0.5575,
    pressure_psf=2.9,
    head_said="least water test of a window of class R",
    head_source="a standard, invented here",
    openings=("A",),
    left_out=(LeftOut(opening="B", reason="its head was not read", advice="Tape a height in it."),),
    assumed=(Assumed(key="water.back_dam", text='a back dam of 1"'),),
    pieces=(
        WaterPiece(
            id="piece.A.pan",
            name="A.pan",
            number=1,
            words="pan of A",
            kind="pan",
            opening="A",
            roll="roll A",
            family="butyl tape",
            parts=(
                WaterPart(
                    name="sill", facet="A.sill", u=(30.0, 66.5), v=(0.0, 4.5), bonded=True, held_until=""
                ),
                WaterPart(
                    name="left", facet="A.left", u=(0.0, 4.5), v=(4.0, 10.0), bonded=True, held_until=""
                ),
            ),
        ),
        WaterPiece(
            id="piece.A.strip.left",
            name="A.strip.left",
            number=2,
            words="left jamb strip of A",
            kind="strip",
            opening="A",
            roll="roll B",
            family="butyl tape",
            parts=(
                WaterPart(
                    name="strip", facet="wall", u=(24.0, 30.0), v=(0.0, 60.0), bonded=True, held_until="A.pan"
                ),
            ),
        ),
    ),
    acts=(
        WaterAct(number=1, do="lay", piece="A.pan", part="", words="lay the pan of A", wrong=()),
        WaterAct(
            number=2,
            do="lay",
            piece="A.strip.left",
            part="",
            words="lay the left jamb strip of A",
            wrong=("If the left jamb strip goes on before the pan of A: water runs behind the pan.",),
        ),
    ),
    places=(
        WaterPlace(
            id="water.A.left",
            place="A.left",
            words="left jack of A",
            opening="A",
            by_weight="sheds",
            at_head="held by bond",
            head_to_wet=0.25,
            head_to_open=1.5,
            bond=0.5,
            way="From the left sill corner of A, under the left jamb strip of A (0.50 in of bond), "
            "onto the left jack of A.",
            steps=(
                WaterStep(
                    facet="wall",
                    over="pan of A",
                    under="left jamb strip of A",
                    bond=0.5,
                    points=((30.0, 0.0, 4.0), (30.0, 0.0, 4.5)),
                ),
            ),
        ),
        WaterPlace(
            id="water.A.sill",
            place="A.sill",
            words="rough sill of A",
            opening="A",
            by_weight="sheds",
            at_head="sheds",
            head_to_wet=None,
            head_to_open=None,
            bond=None,
            way="",
            steps=(),
        ),
    ),
    laps=(
        WaterLap(
            id="lap.A.strip.left.A.pan.up",
            upper="A.strip.left",
            lower="A.pan",
            where="wall",
            opening="A",
            goes="up",
            lap=4.0,
            bond=4.0,
            joint="jamb_over_pan",
            required=None,
            said="ask the maker: the least lap of the jamb strip over the pan; no published number was found",
            source="",
            result="ask the maker",
            points=((27.0, 0.0, 0.0), (27.0, 0.0, 4.0)),
        ),
    ),
    cuts=(
        WaterCut(
            id="cutting.A.pan",
            piece="A.pan",
            roll="roll A",
            make="folded",
            along=48.5,
            across=11.0,
            strips=1,
            folds=6,
            slits=2,
            stretch_pct=None,
            fits=True,
            said="",
        ),
    ),
    materials=(
        WaterMaterial(
            roll="roll A",
            family="butyl tape",
            pieces=1,
            length=48.5,
            width=12.0,
            area_sqft=4.04,
            on_hand=None,
            result="not counted",
        ),
    ),
    corners=(
        WaterCorner(
            id="water.corner.A.sill.left",
            words="left sill corner of A",
            angle_deg=450.0,
            held_by=("corner patch, left sill corner of A",),
        ),
    ),
    standing=(
        WaterStanding(id="water.standing.A.sill", words="rough sill of A", toward="the room", depth=0.125),
    ),
    worst="held by bond",
)
