"""Hand-made heights, ledger and checks, invented: one of everything that they can hold."""

from __future__ import annotations

from sillwright.inspection import (
    DeckFrame,
    EngineerInput,
    EngineerSheet,
    EngineerValue,
    FramingValue,
    Height,
    HeightConflict,
    Heights,
    HeightStep,
    InspectionRow,
    LedgerFastener,
    LedgerPlan,
    OpeningAbove,
    SectionShape,
)
from sillwright.inspection.model import BandPlace, KeptClear, LagScrew


def _height(name: str, z: float | None, opening: str = "") -> Height:
    return Height(
        id=f"height.{name.replace(' ', '-')}{f'.{opening}' if opening else ''}",
        name=name,
        opening=opening,
        text=f"{name} as drawn",
        z=z,
        worst=0.125 if z is not None else None,
        rss=0.09 if z is not None else None,
        sd=0.03 if z is not None else None,
        least=None if z is None else z - 0.5,
        most=None,
        how="open" if z is None else "chosen",
    )


HEIGHTS = Heights(
    openings=(
        OpeningAbove(opening="A", door=True, step_down=4.625),
        OpeningAbove(opening="B", door=False, step_down=None),
    ),
    levels=(
        _height("ledger bottom", -9.0),
        _height("ledger top", 0.25),
        _height("walking surface", 1.25),
        _height("unit bottom", 4.5, "A"),
        _height("threshold", 5.875, "A"),
        _height("unit bottom", 4.5, "B"),
        _height("grade", None),
    ),
    steps=(
        HeightStep(
            id="height.step.step-down.A",
            name="step down",
            opening="A",
            text="step down from the threshold",
            lower="height.walking-surface",
            upper="height.threshold.A",
            size=4.625,
            worst=0.25,
            rss=0.2,
            least=0.0,
            most=7.75,
            holds="at worst",
            source="IRC 2018, R311.3.2",
        ),
    ),
    demands=(),
    conflicts=(
        HeightConflict(
            openings=("A",),
            texts=("ledger 9 1/4", "band joist 7 1/4"),
            short=0.25,
            sources=("IRC 2018, R507.9.1.3(2)",),
        ),
    ),
    assumed=("depth of the joists: taken as that of the ledger",),
    shapes=(
        SectionShape(
            ref="height.step.ledger",
            opening="",
            kind="ledger",
            points=((-1.5, -9.0), (0.0, -9.0), (0.0, 0.25), (-1.5, 0.25)),
        ),
        SectionShape(
            ref="height.step.unit.A",
            opening="A",
            kind="unit",
            points=((0.0, 4.5), (4.5, 4.5), (4.5, 51.5), (0.0, 51.5)),
        ),
    ),
)

LEDGER = LedgerPlan(
    left=20.0,
    right=80.0,
    top=0.25,
    bottom=-9.0,
    size="2x10",
    fastener="lag",
    spacing=15.0,
    spacing_source="IRC Table R507.9.1.3(1)",
    spacing_row="joist span (ft) 12",
    from_memory=True,
    lag=LagScrew(length=4.0, tip=0.3125, penetration=1.5, source="NDS 2018 12.1.4.6"),
    greatest_gap=14.5,
    least_count=5,
    fasteners=tuple(
        LedgerFastener(
            id=f"ledger.{n + 1}",
            number=n + 1,
            from_left=4.0 + 13.0 * n,
            x=24.0 + 13.0 * n,
            row="low" if n % 2 == 0 else "high",
            z=-6.5 if n % 2 == 0 else -3.0,
            below_top=6.75 if n % 2 == 0 else 3.25,
        )
        for n in range(5)
    ),
    joists=(0.75, 16.0, 32.0, 48.0, 59.25),
    joist_top=0.25,
    joist_depth=9.25,
    band=(BandPlace(x=20.0, bottom=-9.5, top=-0.25), BandPlace(x=80.0, bottom=-9.6, top=-0.35)),
    studs=((28.0, 31.0), (66.0, 69.0)),
    kept_clear=(KeptClear(what="hose bib", left=44.0, right=46.0, bottom=-4.0, top=None),),
    ties=(16.0, 48.0),
    assumed=("live load: 40 psf",),
)

FRAME = DeckFrame(
    length=60.0,
    span=132.0,
    joist_overhang=12.0,
    beam_overhang=0.0,
    joists=LEDGER.joists,
    posts=(2.75, 57.25),
    post_side=5.5,
    joist_words='2x10 at 16"',
    beam_words="2-2x10",
    assumed=("joists 16 in on centre",),
)

FRAMING = (
    FramingValue(
        id="framing.joist",
        what="span of joists 2x10",
        value='132"',
        asked='at most 156"',
        met=True,
        source="IRC 2018 Table R507.6",
        row="size 2x10, spacing 16",
        from_memory=True,
    ),
)

ENGINEER = (
    EngineerSheet(
        id="calc.ledger",
        subject="ledger on 1/2 in bolts",
        answer='At most 4 1/8" on centre; mode II governs',
        refused="",
        values=(
            EngineerValue(
                id="calc.ledger.mode-II",
                what="mode II",
                number=136.0,
                unit="lbf",
                text="136 lbf",
                limit=None,
                limit_text="",
                use=None,
                used="",
                met=True,
                governs=True,
                formula="P / Rd",
                inputs=(EngineerInput(name="Rd", text="4.5"),),
                source="AWC TR 12 Table 1-1 (from memory)",
                from_memory=True,
            ),
        ),
        taken=("wet",),
        note="for your engineer",
    ),
)

ROWS = (
    InspectionRow(
        id="finding.ledger.flashing",
        place="ledger",
        what="The ledger has no flashing.",
        value="",
        limit="",
        source="IRC 2018 R703.4",
        result="not met",
        severity="watch",
        answer="fix answered by inspector, 2026-03-14",
        from_memory=False,
    ),
    InspectionRow(
        id="check.ledger.top_edge.ledger",
        place="ledger",
        what="top row to the ledger's top edge",
        value='3 1/4"',
        limit='at least 2"',
        source="IRC 2018, Table R507.9.1.3(2)",
        result="met",
        severity=None,
        answer="",
        from_memory=False,
    ),
)
