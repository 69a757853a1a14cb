"""A ledger as it was typed, read into what `structure` asks."""

from __future__ import annotations

from dataclasses import dataclass

from sillwright.cli.amendments import book_by
from sillwright.cli.asked import LedgerAsked
from sillwright.cli.quantities import Options, feet, inches, psf
from sillwright.rules import RuleBook
from sillwright.structure import Attachment, LedgerLoad, Obstacle, section

BANDS = {
    "2x-band-joist": "2x band joist",
    "1-in-engineered-rim": "1 in engineered rim",
    "1-1/8-in-engineered-rim": "1-1/8 in engineered rim",
}
"""Backings that a table holds for, as typed and as the table calls them."""
OTHER_BACKINGS = {
    "solid-blocking": "solid blocking",
    "4x-beam-edge": "4x beam edge",
    "veneer": "veneer",
    "hollow-block": "hollow block",
    "concrete": "concrete",
    "house-overhang": "house overhang",
    "i-joist-without-rim": "I-joist without rim",
    "not-seen": "not seen",
    "rotten-band-joist": "rotten band joist",
}
SAWN = 1.5
THICKNESS = {
    "2x-band-joist": SAWN,
    "1-in-engineered-rim": 1.0,
    "1-1/8-in-engineered-rim": 1.125,
    "solid-blocking": SAWN,
    "4x-beam-edge": 3.5,
}
"""Of the wood that a fastener bears in, where the backing is wood that can be calculated [in]."""
LONGEST_FT = 200.0
"""Of a ledger laid out in one."""
JOIST, FLANGE = 1.5, 1.5
"""Breadth of a joist, and of a hanger's flange beside it; the flange: common practice, no source [in]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """A ledger as it was asked for."""

    load: LedgerLoad
    attachment: Attachment
    length: float | None
    """[in]"""
    depth: float
    band_depth: float
    band_drop: float
    joist_spacing: float
    joists: tuple[float, ...]
    """Centres from the left end [in]."""
    obstacles: tuple[Obstacle, ...]
    asked: LedgerAsked
    book: RuleBook
    """The edition asked for, with its local amendments."""


def read_case(asked: LedgerAsked) -> Case:
    """Return what was typed, read.

    Raises:  BadInput: every option that cannot be used
    """
    options = Options()
    span_ft = options.take(feet, "--joist-span", asked.joist_span, above=0.0, zero=False)
    live = options.take(psf, "--live", asked.live, above=0.0, zero=False)
    snow = options.take(psf, "--snow", asked.snow, above=0.0, zero=True)
    washers = options.take(inches, "--washers", asked.washers, above=0.0, zero=True)
    sheathing = _sheathing(options, asked)
    drop = options.take(inches, "--band-drop", asked.band_drop, zero=True)
    depth_said = asked.band_depth or ("9 1/2" if asked.band.endswith("rim") else "9 1/4")
    band_depth = options.take(inches, "--band-depth", depth_said, above=0.0, zero=False)
    length, spacing = _length(options, asked), _joist_spacing(options, asked)
    obstacles = _obstacles(options, asked, length)
    options.done()
    load = LedgerLoad(
        joist_span_ft=span_ft,
        fastener=asked.fastener,
        edition=asked.edition,
        live_psf=live,
        ground_snow_psf=snow,
        band=BANDS.get(asked.band, BANDS["2x-band-joist"]),
        sheathing=sheathing,
        sheathing_kind=asked.sheathing_kind.replace("-", " "),
        washers=washers,
    )
    return Case(
        load=load,
        attachment=Attachment(
            load=load,
            ledger=asked.ledger,
            backing=(BANDS | OTHER_BACKINGS)[asked.band],
            band_thickness=THICKNESS.get(asked.band, SAWN),
            band_depth=band_depth,
        ),
        length=length,
        depth=section(asked.ledger).depth,
        band_depth=band_depth,
        band_drop=drop,
        joist_spacing=spacing,
        joists=_joists(length, spacing) if length else (),
        obstacles=obstacles,
        asked=asked,
        book=book_by(asked.edition, asked.amendments),
    )


def _sheathing(options: Options, asked: LedgerAsked) -> float:
    none = asked.sheathing_kind == "none"
    text = asked.sheathing or ("0" if none else "1/2")
    thick = options.take(inches, "--sheathing", text, above=0.0, zero=True)
    if none and thick > 0.0:
        options.fault("--sheathing", f"{text} of none cannot be.", "Say what it is of with --sheathing-kind.")
    return thick


def _length(options: Options, asked: LedgerAsked) -> float | None:
    if asked.length is None:
        return None
    length_ft = options.take(feet, "--length", asked.length, above=0.0, zero=False)
    if length_ft > LONGEST_FT:
        what = f"{asked.length} is longer than the {LONGEST_FT:g} ft that are laid out in one."
        options.fault("--length", what, "A bare number is feet; take a long wall in stretches.")
    return length_ft * 12.0


def _joist_spacing(options: Options, asked: LedgerAsked) -> float:
    least = JOIST + 2.0 * FLANGE
    spacing = options.take(inches, "--joist-spacing", asked.joist_spacing, above=0.0, zero=False)
    if spacing < least:
        what = f"{asked.joist_spacing} leaves no room between hangers, which take {least:g} in."
        options.fault("--joist-spacing", what, "Usual are 12, 16 and 24.")
    return spacing


def _obstacles(options: Options, asked: LedgerAsked, length: float | None) -> tuple[Obstacle, ...]:
    if asked.obstacle and length is None:
        options.fault("--obstacle", "without a length nothing is laid out.", "Give --length as well.")
        return ()
    found = (_obstacle(options, text, length or 0.0) for text in asked.obstacle)
    return tuple(each for each in found if each is not None)


def _obstacle(options: Options, text: str, length: float) -> Obstacle | None:
    places, _, what = text.partition(":")
    ends = places.split("..")
    if len(ends) != 2:
        options.fault(
            "--obstacle", f"'{text}' is not a stretch of the ledger.", "Write it from..to, such as 30..34."
        )
        return None
    left, right = (options.take(inches, "--obstacle", end, above=0.0, zero=True) for end in ends)
    if left >= right or left >= length:
        options.fault(
            "--obstacle",
            f"'{text}' is not on the ledger from left to right.",
            f"Give inches from its left end, 0 to {length:g}.",
        )
    if not left < right:
        return None
    return Obstacle(left=left, right=right, what=what.strip() or f"what stands at {places.strip()} in")


def _joists(length: float, spacing: float) -> tuple[float, ...]:
    """Return the joists' centres: one at each end, the others on the spacing from the left end [in]."""
    first, last = JOIST / 2.0, length - JOIST / 2.0
    if last - first < JOIST:
        return ()
    count = int(length // spacing)
    between = (k * spacing for k in range(1, count + 1))
    return (first, *(x for x in between if first + JOIST <= x <= last - JOIST), last)
