"""What the commands that need no job are asked: options as typed, with their help. Loads nothing else."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Literal

from cyclopts import Parameter

Edition = Literal["2018", "2021"]
CodePlace = Literal["us-model-code", "florida", "canada-ontario"]
Fastener = Literal["lag", "bolt"]
LedgerSize = Literal["2x8", "2x10", "2x12"]
Backing = Literal[
    "2x-band-joist",
    "1-in-engineered-rim",
    "1-1/8-in-engineered-rim",
    "solid-blocking",
    "4x-beam-edge",
    "veneer",
    "hollow-block",
    "concrete",
    "house-overhang",
    "i-joist-without-rim",
    "not-seen",
    "rotten-band-joist",
]
Sheathing = Literal["wood-panel", "lumber", "gypsum", "fiberboard", "foam", "none"]
Ties = Literal["interior", "exterior"]
Supports = Literal["roof", "roof-and-center-bearing-floor", "roof-and-clear-span-floor"]
Joiner = Literal["bolt", "lag-screw", "wood-screw"]
Shear = Literal["single", "double"]
Duration = Literal[
    "permanent", "ten-years-live", "two-months-snow", "seven-days-construction", "ten-minutes-wind"
]
Moisture = Literal["wet", "dry"]
Units = Literal["in", "mm"]
Species = Literal["douglas-fir-larch", "hem-fir", "southern-pine", "spruce-pine-fir"]


@dataclass(frozen=True, slots=True, kw_only=True)
class LedgerAsked:
    """Options of `sillwright ledger`."""

    joist_span: Annotated[str, Parameter(help="Span of the deck joists: 11, 11 ft, 11' 6\".")]
    length: Annotated[str | None, Parameter(help="Length of the ledger, to lay it out: 14 ft.")] = None
    fastener: Annotated[Fastener, Parameter(help="1/2 in lag screws or bolts.")] = "lag"
    live: Annotated[str, Parameter(help="Live load of the deck in psf.")] = "40"
    snow: Annotated[str, Parameter(help="Ground snow in psf.")] = "0"
    edition: Annotated[Edition, Parameter(help="Edition of the model code.")] = "2018"
    amendments: Annotated[
        Path | None, Parameter(help="Local amendments to lay over it; docs/rules.md shows how to write them.")
    ] = None
    ledger: Annotated[LedgerSize, Parameter(help="Size of the ledger.")] = "2x10"
    band: Annotated[Backing, Parameter(help="What is behind the wall.")] = "2x-band-joist"
    band_depth: Annotated[
        str | None, Parameter(help="Depth of the band joist; 9 1/4 without it, an engineered rim 9 1/2.")
    ] = None
    band_drop: Annotated[
        str, Parameter(help="The band joist's top below the ledger's top.", allow_leading_hyphen=True)
    ] = "0"
    sheathing: Annotated[
        str | None, Parameter(help="Thickness between ledger and band joist; 1/2 without it.")
    ] = None
    sheathing_kind: Annotated[Sheathing, Parameter(help="What it is of.")] = "wood-panel"
    washers: Annotated[str, Parameter(help="Thickness of stacked washers beside it.")] = "0"
    joist_spacing: Annotated[str, Parameter(help="Between joists, in inches.")] = "16"
    obstacle: Annotated[
        tuple[str, ...],
        Parameter(
            help="To keep clear of, from the ledger's left end: 30..34 or 30..34:hose bib. Can be repeated.",
            negative=(),
            show_default=False,
        ),
    ] = ()
    ties: Annotated[Ties, Parameter(help="Lateral ties: two of 1,500 lbf or four of 750 lbf.")] = "interior"
    calculate: Annotated[
        bool, Parameter(help="Add the spacing by the yield-limit equations, for your engineer.", negative=())
    ] = False
    species: Annotated[Species, Parameter(help="Of both timbers, for --calculate.")] = "spruce-pine-fir"


@dataclass(frozen=True, slots=True, kw_only=True)
class HeaderAsked:
    """Options of `sillwright header`."""

    span: Annotated[str, Parameter(help="Between the jack studs: 6, 6 ft, 5' 10\".")]
    width: Annotated[str, Parameter(help="Width of the building square to the ridge, in feet.")]
    snow: Annotated[str, Parameter(help="Ground snow in psf.")]
    supports: Annotated[Supports, Parameter(help="What stands on the wall.")] = "roof"
    edition: Annotated[Edition, Parameter(help="Edition of the model code.")] = "2018"
    amendments: Annotated[
        Path | None, Parameter(help="Local amendments to lay over it; docs/rules.md shows how to write them.")
    ] = None
    top_braced: Annotated[bool, Parameter(help="Its top edge is held; not so under cripples.")] = True
    calculate: Annotated[
        bool, Parameter(help="Add the least header by calculation, for your engineer.", negative=())
    ] = False
    species: Annotated[Species, Parameter(help="Of the header, No. 2, for --calculate.")] = "spruce-pine-fir"


@dataclass(frozen=True, slots=True, kw_only=True)
class ConnectionAsked:
    """Options of `sillwright connection`; what is None was not said, and what is taken then is printed."""

    fastener: Annotated[Joiner, Parameter(help="What joins them.")]
    diameter: Annotated[str, Parameter(help="1/2, 12 mm; a wood screw by its gauge: 10.")]
    main: Annotated[
        str,
        Parameter(help="Main member, which holds the point or lies in the middle: 4x4, or its thickness."),
    ]
    side: Annotated[str, Parameter(help="Side member, on each side in double shear: 2x10, or its thickness.")]
    length: Annotated[str | None, Parameter(help="Of a screw, head to tip.")] = None
    shear: Annotated[Shear | None, Parameter(help="Planes of shear; single without it.")] = None
    main_species: Annotated[
        str | None, Parameter(help="A species, or a specific gravity; spruce-pine-fir without it.")
    ] = None
    side_species: Annotated[str | None, Parameter(help="The same; steel for a plate.")] = None
    main_angle: Annotated[
        float | None, Parameter(help="Load to grain in degrees, 0 along it; 90, across it, without it.")
    ] = None
    side_angle: Annotated[float | None, Parameter(help="The same in the side member.")] = None
    main_end: Annotated[
        str | None, Parameter(help="From a fastener to the member's end; enough without it.")
    ] = None
    main_edge: Annotated[
        str | None,
        Parameter(help="To its edge, the one toward which it bears; enough without it."),
    ] = None
    side_end: Annotated[str | None, Parameter(help="The same in the side member.")] = None
    side_edge: Annotated[str | None, Parameter(help="The same in the side member.")] = None
    main_width: Annotated[
        str | None, Parameter(help="Width across the load, for a row; that of a 4x4 is known.")
    ] = None
    side_width: Annotated[str | None, Parameter(help="The same of the side member.")] = None
    toward_end: Annotated[
        bool, Parameter(help="Members loaded along the grain bear toward their end, which asks more.")
    ] = True
    count: Annotated[int | None, Parameter(help="Fasteners in a row along the load; one without it.")] = None
    spacing: Annotated[str | None, Parameter(help="Between them.")] = None
    gap: Annotated[str | None, Parameter(help="Sheathing or air between the members; none without it.")] = (
        None
    )
    duration: Annotated[
        Duration | None, Parameter(help="Of the shortest load in it; ten years without it.")
    ] = None
    moisture: Annotated[Moisture | None, Parameter(help="In service; wet without it.")] = None
    load: Annotated[str | None, Parameter(help="On each fastener, across it: 300, 300 lbf, 1.3 kN.")] = None
    pull: Annotated[str | None, Parameter(help="On each screw, along it.")] = None
    units: Annotated[Units, Parameter(help="Of bare lengths; with mm, metric values beside.")] = "in"
