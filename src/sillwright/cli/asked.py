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
