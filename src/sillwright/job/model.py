"""The job as checked, frozen data: what was asked, measured and chosen.

All lengths are inches after validation. In the file a bare number is in the job's own unit and text is
trade notation; `sillwright.job.document` supplies the unit through the validation context.
Axes, seen from outside: x to the right along the wall from the wall mark, y inward from the sheathing
face, z up from the datum mark.
"""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import AfterValidator, BeforeValidator, Field, ValidationInfo, model_validator

from sillwright.job.deck import Deck
from sillwright.job.facts import Pane, UnitFacts
from sillwright.job.rulings import Answer, Code
from sillwright.job.values import Length, Model, Number, Whole, YesNo, in_order, one_unit, refuse, said
from sillwright.job.water import Family, Water
from sillwright.lengths import Unit as LengthUnit

VERSION = 1
READING_KEYS = ("value", "sd", "instrument", "by", "note")
"""Keys of a reading that is written out as a table."""


class Reading(Model):
    """One number read off a tape, level or laser, as it was said and in inches.

    In the file: `"27 3/8 strong"`, `695`, or `{ value = "27 3/8", sd = 0.03, note = "second person" }`.
    """

    value: float
    """What the reading says [in], qualifier included."""
    spread: float = 0.0
    """Standard deviation that the qualifier adds [in]."""
    text: str
    """As written."""
    sd: Length | None = Field(default=None, gt=0)
    """Standard deviation stated for this reading; without it, that of its kind."""
    instrument: str | None = None
    """Name of the instrument it was read with, as in `[[instrument]]`."""
    by: str = ""
    """Who read it."""
    note: str = ""
    """Anything worth keeping beside it."""

    @model_validator(mode="before")
    @classmethod
    def _from_file(cls, raw: Any, info: ValidationInfo) -> Any:
        table = raw if isinstance(raw, dict) else {"value": raw}
        if info.context is None and "text" in table:  # already a checked reading
            return table
        for key in ("text", "spread"):
            if key in table:
                raise refuse(f"unknown key '{key}'.", f"Known here: {', '.join(READING_KEYS)}.")
        if "value" not in table:
            raise refuse("the key 'value' is missing.", "A reading written as a table needs its value.")
        value, spread = said(table["value"], info, "reading")
        return {**table, "value": value, "spread": spread, "text": str(table["value"])}


def _many(value: Any) -> Any:
    return tuple(value) if isinstance(value, list | tuple) else (value,)


def _some(readings: tuple[Reading, ...]) -> tuple[Reading, ...]:
    if not readings:
        raise refuse("the list of readings is empty.", "Leave the key out if nothing was read.")
    return readings


def _positive(reading: Reading) -> Reading:
    if reading.value <= 0:
        raise refuse(f"must be more than 0, found {reading.text}.", "Read it again.")
    return reading


Readings = Annotated[tuple[Reading, ...], BeforeValidator(_many), AfterValidator(_some)]
"""One reading, or a list of readings of the same thing."""

Sizes = Annotated[
    tuple[Annotated[Reading, AfterValidator(_positive)], ...], BeforeValidator(_many), AfterValidator(_some)
]
"""Readings of a size: more than 0."""


class Site(Model):
    """Where the wall stands."""

    place: str = ""
    """Town or valley, as you would say it."""
    exposure: str = ""
    """Open shore, farmland, suburb: in your own words."""
    rain: str = ""
    """How much, and how it comes: in your own words."""
    design_wind_mph: Number | None = Field(default=None, gt=0)
    """Design wind speed from the building department [mph]."""
    design_wind_m_s: Number | None = Field(default=None, gt=0)
    """The same in metres a second [m/s]; give one of the two."""
    ground_snow_psf: Number | None = Field(default=None, ge=0)
    """Ground snow load [lbf/ft2]."""
    ground_snow_kPa: Number | None = Field(default=None, ge=0)  # noqa: N815
    """The same in kilopascals [kPa]; give one of the two."""
    year_built: Whole | None = Field(default=None, ge=1500, le=2200)
    """Year the house was built."""
    climate_zone: str | None = None
    """Climate zone of the energy code: 5A, 4C."""
    high_or_windborne: YesNo | None = None
    """Above 4,000 ft, or in a region of wind-borne debris."""

    @model_validator(mode="after")
    def _once(self) -> Site:
        one_unit(self, ("design_wind_mph", "design_wind_m_s"), ("ground_snow_psf", "ground_snow_kPa"))
        return self


class Forecast(Model):
    """One day of the forecast the carpenter has."""

    day: Whole
    """1 for the first day of work, and so on."""
    low_F: Number | None = None  # noqa: N815
    """Lowest temperature [F]."""
    high_F: Number | None = None  # noqa: N815
    """Highest temperature [F]."""
    low_C: Number | None = None  # noqa: N815
    """Lowest temperature [C]."""
    high_C: Number | None = None  # noqa: N815
    """Highest temperature [C]."""
    rain_chance: Number = Field(ge=0, le=1)
    """Chance of rain, 0 to 1."""
    wind_mph: Number | None = Field(default=None, ge=0)
    """Wind [mph]."""
    wind_kmh: Number | None = Field(default=None, ge=0)
    """Wind [km/h]."""

    @model_validator(mode="after")
    def _sound(self) -> Forecast:
        one_unit(self, ("low_F", "low_C"), ("high_F", "high_C"), ("wind_mph", "wind_kmh"))
        in_order(self, ("low_F", "high_F"), ("low_C", "high_C"))
        return self


class StringOffset(Model):
    """Gap from the string to the sheathing at one place along the wall."""

    x: Length
    """Along the wall, from the wall mark."""
    gap: Readings
    """From the string to the sheathing."""


class WallString(Model):
    """A string along the wall, held clear of the sheathing at both ends."""

    height: Length
    """Of the string above the sills it passes."""
    clear: Length
    """Distance it was held off the sheathing at both ends."""
    offsets: tuple[StringOffset, ...]
    """Each place where the gap was read."""
    note: str = ""
    """Anything worth keeping beside it."""


class Wall(Model):
    """The wall as a whole."""

    mark: str = ""
    """What the wall mark is, from which x is taped: a nail, a pencil line."""
    note: str = ""
    """Anything worth keeping beside it."""
    string: WallString | None = None
    """A string along the wall, if there was one."""


class Row(Model):
    """Openings meant to share one sill line."""

    openings: tuple[str, ...] = Field(min_length=1)
    """Their names."""
    step: Literal["never", "allowed"] = "never"
    """May the line be stepped if one line for all cannot be had?"""


class HeadLine(Model):
    """Units whose tops should stand at one height."""

    openings: tuple[str, ...] = Field(min_length=2)
    """Their names."""
    within: Length = Field(ge=0)
    """How far their tops may differ."""


class Size(Model):
    """A frame size that can be ordered."""

    width: Length = Field(gt=0)
    """Outside width of the frame."""
    height: Length = Field(gt=0)
    """Outside height of the frame."""


class UnitToSet(Model):
    """A window or door to be set in an opening."""

    opening: str
    """Name of the opening it goes into."""
    kind: str
    """What it is, in your own words: casement, hinged left; sliding patio door."""
    frame_width: Length = Field(gt=0)
    """Outside width of the frame."""
    frame_height: Length = Field(gt=0)
    """Outside height of the frame."""
    jamb_depth: Length | None = Field(default=None, gt=0)
    """Depth of the jamb."""
    frame_depth: Length | None = Field(default=None, gt=0)
    """Depth of the frame from its outer face, or from the fin, to the room; without it, that of the jamb."""
    fin: Length | None = Field(default=None, ge=0)
    """Width of its fin, out from the frame; 0: it has none."""
    frame_family: Family | None = None
    """What its frame is made of: rigid PVC, aluminum, wood."""
    set_back: Length = Field(default=0.0, ge=0)
    """How far it stands back from the face of the sheathing."""
    weight_lb: Number | None = Field(default=None, gt=0)
    """Weight [lb]."""
    weight_kg: Number | None = Field(default=None, gt=0)
    """Weight [kg]; give one of the two."""
    ordered: YesNo = True
    """false while the size can still be changed."""
    least_side_clearance: Length = Field(ge=0)
    """Least room at each side."""
    most_side_clearance: Length | None = None
    """Most room at each side."""
    least_head_clearance: Length = Field(ge=0)
    """Least room above the frame."""
    most_head_clearance: Length | None = None
    """Most room above the frame."""
    largest_out_of_plane: Length = Field(gt=0)
    """How far one corner of the frame may stand out of the plane of the other three."""
    mulls: tuple[Length, ...] = ()
    """Centres of mulls, from the unit's left edge."""
    bearing_spacing: Length | None = Field(default=None, gt=0)
    """Largest distance between pads; without it, by kind."""
    threshold: YesNo | None = None
    """Is it walked over; without it, by kind."""
    threshold_above_unit_bottom: Length | None = Field(default=None, ge=0)
    """Top of its threshold above its underside; without it, that of the deck."""
    nosing: Length | None = Field(default=None, gt=0)
    """How far a nosing hangs below its underside, outside; the decking stays below that."""
    sizes: tuple[Size, ...] = ()
    """Frame sizes on offer; without it, steps of `size_step`."""
    size_step: Length | None = Field(default=None, gt=0)
    """Steps in which a frame can be ordered."""
    swing: Literal["in", "out", "slides"] | None = None
    """Which way a door's leaf goes; without it, by the words of its kind."""
    facts: UnitFacts | None = None
    """What the code checks of the opening ask for; what is left out is told as not checked."""
    pane: tuple[Pane, ...] = ()
    """Each pane of glass, where the safety of glass is to be checked."""

    @model_validator(mode="after")
    def _sound(self) -> UnitToSet:
        one_unit(self, ("weight_lb", "weight_kg"))
        in_order(
            self,
            ("least_side_clearance", "most_side_clearance"),
            ("least_head_clearance", "most_head_clearance"),
        )
        if any(not 0 < mull < self.frame_width for mull in self.mulls):
            raise refuse(
                "a mull lies outside the frame.",
                "Mulls are taped from the unit's left edge to their centres.",
            )
        return self


class Shim(Model):
    """One kind of shim on hand: flat, or tapering from `thickness` at one edge to `thin` at the other.

    In the file: `"1/8"` for a flat one, or `{ thickness = "3/8", thin = "1/32", count = 40 }`.
    """

    thickness: Length = Field(gt=0)
    """Thickness, of a tapered one at its thick edge."""
    thin: Length | None = Field(default=None, ge=0)
    """Thickness of a tapered shim at its thin edge."""
    count: Whole | None = Field(default=None, ge=0)
    """How many are on hand; without it, enough."""

    @model_validator(mode="before")
    @classmethod
    def _from_file(cls, raw: Any) -> Any:
        return raw if isinstance(raw, dict) else {"thickness": raw}

    @model_validator(mode="after")
    def _sound(self) -> Shim:
        in_order(self, ("thin", "thickness"))
        return self


class SlopedStrip(Model):
    """The long wedge that makes a sill fall outward."""

    thick: Length = Field(gt=0)
    """Thickness at the room side."""
    thin: Length = Field(ge=0)
    """Thickness at the outside."""
    stock_length: Length | None = Field(default=None, gt=0)
    """Length it is sold in."""

    @model_validator(mode="after")
    def _sound(self) -> SlopedStrip:
        in_order(self, ("thin", "thick"))
        return self


class StackLayer(Model):
    """Something that lies on the pads under the units."""

    what: Literal["sub-sill", "pan", "membrane", "gasket", "sealant bed"]
    """What it is; each once."""
    thickness: Length = Field(gt=0)
    """How thick, with the unit on it."""


class Kit(Model):
    """Stock of shims and strips, and what may be cut away."""

    shims: tuple[Shim, ...] = Field(min_length=1)
    """Each kind of shim on hand."""
    shim_width: Length = Field(gt=0)
    """Width of a shim, along the sill."""
    planing_max: Length = Field(default=0.0, ge=0)
    """How much may be planed off a high place of the sill."""
    trim_max: Length = Field(default=0.0, ge=0)
    """How much may be trimmed off a jack stud's face; 0: none."""
    largest_pad: Length = Field(default=1.5, gt=0)
    """Tallest stack of shims you would trust."""
    stack_above_line: Length = Field(default=0.0, ge=0)
    """From the level line (tops of the pads) to the underside of the unit."""
    sloped_strip: SlopedStrip | None = None
    """The sloped strip, if one is used."""
    layer: tuple[StackLayer, ...] = ()
    """What else lies on the pads, from below up, where it is to be told apart on the story pole."""

    @model_validator(mode="after")
    def _sound(self) -> Kit:
        names = [each.what for each in self.layer]
        if twice := {name for name in names if names.count(name) > 1}:
            raise refuse(f"{min(twice)} is stated twice.", "Add the two up.")
        told = sum(each.thickness for each in self.layer)
        told += self.sloped_strip.thick if self.layer and self.sloped_strip is not None else 0.0
        if told > self.stack_above_line + 1e-6:  # a sum of decimals
            raise refuse(
                "strip and layers together are thicker than stack_above_line.",
                "State all that lies between pads and unit in stack_above_line.",
            )
        return self


class Tolerances(Model):
    """How true is true enough."""

    pad: Length = Field(default=1 / 32, gt=0)
    """How far a pad's top may miss the line."""
    level_over_unit: Length = Field(default=1 / 16, gt=0)
    """How far a unit's pads may differ when shot again."""
    plumb: Length = Field(default=1 / 8, gt=0)
    """How far a unit's face may be out of plumb over its height."""
    fit_probability: Number = Field(default=0.99, gt=0.5, lt=1)
    """How sure you want to be that a unit goes in."""


class ReadingSd(Model):
    """Standard deviation of each kind of reading; without it, from the instrument.

    About two readings in three lie within one standard deviation of the truth.
    """

    laser: Length | None = Field(default=None, gt=0)
    """Laser, down from the beam."""
    width: Length | None = Field(default=None, gt=0)
    """Widths."""
    height: Length | None = Field(default=None, gt=0)
    """Heights."""
    diagonal: Length | None = Field(default=None, gt=0)
    """Diagonals."""
    plumb: Length | None = Field(default=None, gt=0)
    """Leans of the jacks, and gaps from a hanging line."""
    run: Length | None = Field(default=None, gt=0)
    """Running tape from the wall mark."""
    string: Length | None = Field(default=None, gt=0)
    """Gaps between strings, and from a string to the wall."""
    thickness: Length | None = Field(default=None, gt=0)
    """Wall thickness."""


class Assumptions(Model):
    """What is taken of old framing where nothing was read: standard deviations, common practice, no source.

    They enter the adjustment as readings of their own kind, are listed with it, and can be changed here.
    """

    jack_bow: Length = Field(default=1 / 8, gt=0)
    """Middle of a jack off the line of its ends."""
    plumb: Length = Field(default=1 / 2, gt=0)
    """A jack out of plumb over its height, sideways or in and out [in]."""
    sill_bow: Length = Field(default=3 / 16, gt=0)
    """A sill off the straight between neighbours 32 in apart."""
    head_sag: Length = Field(default=1 / 4, gt=0)
    """A head off the straight between neighbours 64 in apart."""
    cross_fall: Length = Field(default=3 / 32, gt=0)
    """Front-to-back fall at one place off the mean of its opening."""
    wall_flat: Length = Field(default=1 / 2, gt=0)
    """Sheathing off the plane of the wall at one opening."""
    thickness: Length = Field(default=1 / 4, gt=0)
    """Wall thickness at one corner off the mean of its opening."""


class Instrument(Model):
    """A tape, level or laser."""

    name: str
    """What you call it."""
    kind: Literal["tape", "laser", "level", "string"]
    """What it is."""
    graduation: Length | None = Field(default=None, gt=0)
    """Smallest division you read it to."""
    sd: Length | None = Field(default=None, gt=0)
    """Standard deviation of one reading with it."""
    tilt_mm_per_m: Number = Field(default=0.3, ge=0)
    """Bound of a laser's error of level as its maker states it [mm/m]."""
    note: str = ""
    """Anything worth keeping beside it."""


class Shot(Model):
    """One reading down from the beam, in the order it was taken."""

    mark: str | None = None
    """Name of the mark shot."""
    sill: str | None = None
    """Name of the opening whose rough sill was shot."""
    head: str | None = None
    """Name of the opening whose head was shot, on its underside."""
    pad: Whole | None = Field(default=None, ge=1)
    """Number of the pad shot again after setting."""
    point: str | None = None
    """Anything else: floor, band joist, picture rail."""
    x: Length | None = None
    """Along the wall, from the wall mark; a mark's own x holds without it."""
    edge: Literal["outer", "inner"] = "outer"
    """At the sheathing face, or at the room side."""
    down: Readings
    """From the beam down to the point; negative when the point is above the beam."""

    @model_validator(mode="after")
    def _one_target(self) -> Shot:
        named = [key for key in ("mark", "sill", "head", "pad", "point") if getattr(self, key) is not None]
        if len(named) != 1:
            what = "a shot names one of mark, sill, head, pad, point"
            raise refuse(
                f"{what}; found {' and '.join(named) or 'none'}.", "Keep one." if named else "Add it."
            )
        if self.x is None and named[0] in ("sill", "head"):
            raise refuse(f"a shot on a {named[0]} needs its x.", "Say where along the wall it was taken.")
        return self


class SetUp(Model):
    """A laser standing in one place, and all that was shot from there, in order."""

    name: str
    """What you call this set-up."""
    x: Length
    """Where the laser stood along the wall."""
    instrument: str | None = None
    """Name of the laser, as in `[[instrument]]`."""
    turned: YesNo | None = None
    """Turned round against the first set-up of the same instrument.

    Unsaid: which way it faced is not known.
    """
    note: str = ""
    """Anything worth keeping beside it."""
    series: tuple[Shot, ...] = Field(min_length=1)
    """All shots, in the order they were taken."""


class Mark(Model):
    """A nail or pencil mark that set-ups are tied to; the first one is the datum, z = 0."""

    name: str
    """What you call it."""
    x: Length
    """Along the wall, from the wall mark."""
    z: Length | None = None
    """Known height above the datum."""


class Three(Model):
    """Readings at bottom, middle, top."""

    bottom: Sizes | None = None
    """Just above the sill."""
    middle: Sizes | None = None
    """At mid height."""
    top: Sizes | None = None
    """Just below the head."""


class Across(Model):
    """Readings at left, centre, right."""

    left: Sizes | None = None
    """Beside the left jack."""
    centre: Sizes | None = None
    """Half way between the jacks."""
    right: Sizes | None = None
    """Beside the right jack."""


class Diagonals(Model):
    """Corner to corner at the sheathing face."""

    bottom_left_to_top_right: Sizes | None = None
    """Rising to the right, seen from outside."""
    bottom_right_to_top_left: Sizes | None = None
    """Rising to the left, seen from outside."""


class Lean(Model):
    """How far one jack is off plumb over a height."""

    over_height: Length = Field(gt=0)
    """Height between the two ends of the level or plumb line."""
    top_leans_right: Readings | None = None
    """Positive when the top stands further right than the bottom, seen from outside."""
    top_leans_in: Readings | None = None
    """Positive when the top stands further into the house."""


class Leans(Model):
    """Both jacks."""

    left: Lean | None = None
    """The left jack, seen from outside."""
    right: Lean | None = None
    """The right jack, seen from outside."""


class PlumbLine(Model):
    """Gap from one hanging line to a jack at several heights above the sill."""

    at: tuple[Length, ...] = Field(min_length=1)
    """Heights above the sill, going up; two at least tell anything."""
    gap: tuple[Readings, ...]
    """Gap from the line to the jack at each of these heights."""

    @model_validator(mode="after")
    def _sound(self) -> PlumbLine:
        if len(self.at) != len(self.gap):
            raise refuse(f"{len(self.at)} heights but {len(self.gap)} gaps.", "Give one gap for each height.")
        if any(upper <= lower for lower, upper in zip(self.at, self.at[1:], strict=False)):
            raise refuse("the heights in 'at' do not go up.", "List them from the sill up, with their gaps.")
        return self


class PlumbLines(Model):
    """A hanging line beside each jack, inside the opening."""

    left: PlumbLine | None = None
    """Beside the left jack, seen from outside."""
    right: PlumbLine | None = None
    """Beside the right jack, seen from outside."""


class Corners(Model):
    """Readings at the four corners."""

    top_left: Sizes | None = None
    """Seen from outside."""
    top_right: Sizes | None = None
    """Seen from outside."""
    bottom_left: Sizes | None = None
    """Seen from outside."""
    bottom_right: Sizes | None = None
    """Seen from outside."""


class Opening(Model):
    """A rough opening and what was taped in it."""

    name: str
    """What you call it: A, B, W1."""
    near: Length = Field(default=2.0, ge=0)
    """How far from the corners the outer of three widths and heights were taken."""
    left_jack_x: Readings | None = None
    """Running tape from the wall mark to the left jack's face at the sill."""
    right_jack_x: Readings | None = None
    """Running tape from the wall mark to the right jack's face at the sill."""
    width: Three = Three()
    """Between the jacks at the sheathing face."""
    width_inner: Three = Three()
    """Between the jacks at the room side."""
    height: Across = Across()
    """From rough sill to head at the sheathing face."""
    height_inner: Across = Across()
    """From rough sill to head at the room side."""
    diagonal: Diagonals = Diagonals()
    """Corner to corner at the sheathing face."""
    plumb: Leans = Leans()
    """How far each jack is off plumb."""
    plumb_line: PlumbLines = PlumbLines()
    """Gaps from a hanging line to each jack."""
    string_gap: Readings | None = None
    """Gap between two strings corner to corner, at the sheathing face where they cross.

    Positive when the string from bottom left to top right lies further in.
    """
    wall_thickness: Corners = Corners()
    """Sheathing face to the face of the finished wall inside."""
    note: str = ""
    """Anything worth keeping beside it."""


class Job(Model):
    """Everything in a job file."""

    sillwright: Literal[1]
    """Version of the form of this file: 1."""
    units: LengthUnit = "in"
    """Unit of every bare number that is a length: "in" or "mm"."""
    title: str
    """What the job is."""
    note: str = ""
    """Anything worth keeping with the job."""
    invented: YesNo = False
    """Demonstration data, made up."""
    site: Site = Site()
    """Where the wall stands."""
    forecast: tuple[Forecast, ...] = ()
    """One entry for each day of the forecast."""
    code: Code = Code()
    """Edition of the model code, place, and local amendments."""
    wall: Wall = Wall()
    """The wall as a whole."""
    deck: Deck | None = None
    """The deck below, if there is to be one."""
    water: Water = Water()
    """How the openings are kept dry."""
    kit: Kit
    """Stock of shims and strips, and what may be cut away."""
    tolerances: Tolerances = Tolerances()
    """How true is true enough."""
    reading_sd: ReadingSd = ReadingSd()
    """How far off a reading of each kind may be."""
    assume: Assumptions = Assumptions()
    """What is taken of old framing where nothing was read."""
    row: tuple[Row, ...] = ()
    """Each group of openings that shares one sill line."""
    head_line: tuple[HeadLine, ...] = ()
    """Each group of units whose tops should line up."""
    unit: tuple[UnitToSet, ...] = ()
    """Each window or door to be set."""
    instrument: tuple[Instrument, ...] = ()
    """Each tape, level or laser that readings name."""
    mark: tuple[Mark, ...] = ()
    """Each mark that set-ups are tied to; the first is the datum, z = 0."""
    setup: tuple[SetUp, ...] = ()
    """Each place where the laser stood."""
    opening: tuple[Opening, ...] = ()
    """Each rough opening."""
    reshoot: tuple[SetUp, ...] = ()
    """Set-ups shot again after the pads were fixed."""
    answer: tuple[Answer, ...] = ()
    """Each answer to a finding: who settled it, when, on what paper."""
