"""A made-up sill with every mark that a scene knows: no real house, figures invented."""

from __future__ import annotations

from sillwright.drawing import (
    Along,
    Anchor,
    AnyItem,
    Band,
    Dim,
    Fill,
    Hatch,
    Mark,
    MarkKind,
    Path,
    Pattern,
    Role,
    Scene,
    Text,
    inch_ruler,
    millimetre_ruler,
)

STATIONS = ((0.0, 0.0), (12.0, 0.125), (24.0, 0.3125), (36.3125, 0.1875), (48.0, 0.4375), (60.0, 0.5))
LINE = 0.625


def sample_scene() -> Scene:
    """Return a sill line with heights drawn 12 times."""
    marks = (*_wall(), *_acts(), *_readings(), *_water(), *_findings(), *_dimensions())
    return Scene(
        marks,
        title="Sample sill",
        alt="A sill that rises to the right, with pads under a level line.",
        scale_x=1 / 8,
        scale_y=12 / 8,
    )


def _wall() -> tuple[AnyItem, ...]:
    sill = ((-6, -0.8), (66, -0.8), (66, 0.5), *reversed(STATIONS), (-6, 0))
    return (
        Path(sill, closed=True, fill=Fill.TINT),
        Path(((-6, -0.45), (66, -0.45)), hidden=True, weight=0.7),
        Band(((0, LINE - 0.03), (60, LINE - 0.02), (60, LINE + 0.02), (0, LINE + 0.03))),
        Path(((-6, LINE), (66, LINE)), role=Role.CHALK, ref="line"),
        Mark((63, LINE), MarkKind.LEVEL, role=Role.CHALK, text="+5/8", size=0.22),
        Text((66, LINE), "level line", anchor=Anchor.W, nudge=(0.06, 0), role=Role.CHALK),
    )


def _acts() -> tuple[AnyItem, ...]:
    acts: list[AnyItem] = []
    for number, pattern in enumerate(Pattern, start=1):
        station = (number - 1) % (len(STATIONS) - 1)
        x = STATIONS[station][0] + (4.5 if number <= station + 1 else 0.5)
        (x0, z0), (x1, z1) = STATIONS[station], STATIONS[station + 1]
        low, high = (z0 + (z1 - z0) * (at - x0) / (x1 - x0) for at in (x, x + 3))
        acts.append(Hatch(((x, low), (x + 3, high), (x + 3, LINE), (x, LINE)), pattern, ref=f"pad-{number}"))
        acts.append(Path(((x + 1.5, LINE), (x + 1.5, 0.85)), role=Role.CRAYON, weight=0.4))
        acts.append(Mark((x + 1.5, 0.93), MarkKind.BALLOON, text=str(number), role=Role.CRAYON))
    return (
        *acts,
        Path(((30.5, 0.22), (35.5, 0.17)), role=Role.CRAYON, nudge=(0, -0.08), ref="act-12"),
        Mark((33, 0.2), MarkKind.BALLOON, text="12", role=Role.CRAYON, nudge=(0, -0.3)),
    )


def _readings() -> tuple[AnyItem, ...]:
    return tuple(
        Mark(at, MarkKind.STATION, role=Role.PENCIL, ref=f"reading-{number}", text=str(number), size=0.2)
        for number, at in enumerate(STATIONS)
    )


def _water() -> tuple[AnyItem, ...]:
    return (
        Path(((4, 1.35), (12, 1.32), (20, 1.2)), role=Role.WATER),
        Mark((20, 1.2), MarkKind.ARROW, role=Role.WATER, angle=-10, size=0.16),
        Mark((4, 1.35), MarkKind.DROP, role=Role.WATER, nudge=(-0.12, 0)),
    )


def _findings() -> tuple[AnyItem, ...]:
    return (
        Mark((28, 1.35), MarkKind.STOP, role=Role.STAMP, text="1", ref="finding-1"),
        Mark((40, 1.35), MarkKind.FIX, role=Role.STAMP, text="2"),
        Mark((52, 1.35), MarkKind.WATCH, role=Role.STAMP),
    )


def _dimensions() -> tuple[AnyItem, ...]:
    foot = -0.8
    return (
        Dim((0, foot), (36.3125, foot), -0.3, "36 5/16", along=Along.X, ref="d1"),
        Dim((36.3125, foot), (60, foot), -0.3, "23 11/16", along=Along.X),
        Dim((0, foot), (60, foot), -0.6, "60", along=Along.X),
        Dim((-6, 0), (-6, LINE), 0.3, "5/8", along=Along.Z),
        Dim((66, 0.5), (66, foot), 0.3, "1 19/64", along=Along.Z),
        Dim((-6, foot), (0, foot), -0.3, "6"),
        Dim((-6, foot), (-5.25, foot), -0.6, "3/4"),
        Dim((63, foot), (66, foot), -0.3, "3"),
        Text((30, 1.6), "Sill D1, seen from outside", anchor=Anchor.S, size=0.19, bold=True),
        inch_ruler((0, -1.75)),
        millimetre_ruler((36, -1.75)),
    )
