"""The job as checked, frozen data: what was asked, measured and chosen.

All lengths are inches after validation. In the file a bare number is in the job's own unit and text is
trade notation; `sillwright.job.document` supplies the unit through the validation context.
Axes, seen from outside: x to the right along the wall from the wall mark, y inward from the sheathing
face, z up from the datum mark.
"""

from __future__ import annotations

import math
from typing import Annotated, Any, Literal

from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    Strict,
    ValidationInfo,
    WithJsonSchema,
    model_validator,
)
from pydantic_core import PydanticCustomError

from sillwright.errors import BadInput
from sillwright.lengths import Unit as LengthUnit
from sillwright.lengths import parse

VERSION = 1
READING_KEYS = ("value", "sd", "instrument", "by", "note")
"""Keys of a reading that is written out as a table."""


def _refuse(what: str, advice: str = "") -> PydanticCustomError:
    return PydanticCustomError("plain", "{what}", {"what": what, "advice": advice})


def _unit(info: ValidationInfo) -> LengthUnit:
    context = info.context or {}
    unit: LengthUnit = context.get("unit", "in")
    return unit


def _said(value: Any, info: ValidationInfo, kind: str) -> tuple[float, float]:
    """Return value and spread of a length as it was written [in]."""
    unit = _unit(info)
    example = "27 3/8" if unit == "in" else "695"
    if isinstance(value, bool) or not isinstance(value, str | int | float):
        raise _refuse(f"expected a {kind} such as {example}.")
    if not isinstance(value, str) and not abs(value) < 1e6:
        raise _refuse(f"{str(value)[:20]} is not a {kind}.", f"Expected one such as {example}.")
    try:
        said = parse(value, unit=unit)
    except BadInput as error:
        raise _refuse(error.faults[0].what, error.faults[0].advice) from None
    if not math.isfinite(said.value):
        raise _refuse(f"{value[:20]!r} is not a {kind}.", f"Expected one such as {example}.")
    return said.value, said.spread


def _length(value: Any, info: ValidationInfo) -> float:
    return _said(value, info, "length")[0]


Length = Annotated[float, BeforeValidator(_length), WithJsonSchema({"type": ["string", "number"]})]
"""A length in inches; in the file, trade notation or a number in the job's unit."""

Number = Annotated[float, Strict()]
Whole = Annotated[int, Strict()]
YesNo = Annotated[bool, Strict()]


class Model(BaseModel):
    """Frozen, closed to unknown keys."""

    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False)


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
                raise _refuse(f"unknown key '{key}'.", f"Known here: {', '.join(READING_KEYS)}.")
        if "value" not in table:
            raise _refuse("the key 'value' is missing.", "A reading written as a table needs its value.")
        value, spread = _said(table["value"], info, "reading")
        return {**table, "value": value, "spread": spread, "text": str(table["value"])}


def _many(value: Any) -> Any:
    return tuple(value) if isinstance(value, list | tuple) else (value,)


def _some(readings: tuple[Reading, ...]) -> tuple[Reading, ...]:
    if not readings:
        raise _refuse("the list of readings is empty.", "Leave the key out if nothing was read.")
    return readings


def _positive(reading: Reading) -> Reading:
    if reading.value <= 0:
        raise _refuse(f"must be more than 0, found {reading.text}.", "Read it again.")
    return reading


Readings = Annotated[tuple[Reading, ...], BeforeValidator(_many), AfterValidator(_some)]
"""One reading, or a list of readings of the same thing."""

Sizes = Annotated[
    tuple[Annotated[Reading, AfterValidator(_positive)], ...], BeforeValidator(_many), AfterValidator(_some)
]
"""Readings of a size: more than 0."""


def _one_unit(model: Model, *pairs: tuple[str, str]) -> None:
    """Refuse a quantity that is given in two units."""
    for one, other in pairs:
        if getattr(model, one) is not None and getattr(model, other) is not None:
            raise _refuse(f"both {one} and {other} are given.", "Keep one of the two.")


def _in_order(model: Model, *pairs: tuple[str, str]) -> None:
    """Refuse limits that stand the wrong way round."""
    for low, high in pairs:
        least, most = getattr(model, low), getattr(model, high)
        if least is not None and most is not None and least > most:
            raise _refuse(f"{low} is more than {high}.", "Swap them, or correct one.")


class Site(Model):
    """Where the wall stands."""

    place: str = ""
    exposure: str = ""
    rain: str = ""
    design_wind_mph: Number | None = Field(default=None, gt=0)
    design_wind_m_s: Number | None = Field(default=None, gt=0)
    ground_snow_psf: Number | None = Field(default=None, ge=0)
    ground_snow_kPa: Number | None = Field(default=None, ge=0)  # noqa: N815
    year_built: Whole | None = Field(default=None, ge=1500, le=2200)


class Forecast(Model):
    """One day of the forecast the carpenter has."""

    day: Whole
    low_F: Number | None = None  # noqa: N815
    high_F: Number | None = None  # noqa: N815
    low_C: Number | None = None  # noqa: N815
    high_C: Number | None = None  # noqa: N815
    rain_chance: Number = Field(ge=0, le=1)
    wind_mph: Number | None = Field(default=None, ge=0)
    wind_kmh: Number | None = Field(default=None, ge=0)


class Deck(Model):
    """What is wished of the deck below."""

    threshold_above_unit_bottom: Length | None = None
    step_down: Length | None = None
    decking_thickness: Length | None = None
    ledger_depth: Length | None = None
    joist_span_ft: Number | None = Field(default=None, gt=0)
    live_load_psf: Number | None = Field(default=None, gt=0)
    band_joist_depth: Length | None = None
    note: str = ""


class StringOffset(Model):
    """Gap from the string to the sheathing at one place along the wall."""

    x: Length
    gap: Readings


class WallString(Model):
    """A string along the wall, held clear of the sheathing at both ends."""

    height: Length
    """Of the string above the sills it passes [in]."""
    clear: Length
    """Distance it was held off the sheathing at both ends [in]."""
    offsets: tuple[StringOffset, ...]
    note: str = ""


class Wall(Model):
    """The wall as a whole."""

    mark: str = ""
    note: str = ""
    string: WallString | None = None


class Row(Model):
    """Openings meant to share one sill line."""

    openings: tuple[str, ...] = Field(min_length=1)
    step: Literal["never", "allowed"] = "never"


class HeadLine(Model):
    """Units whose tops should stand at one height."""

    openings: tuple[str, ...] = Field(min_length=2)
    within: Length


class Size(Model):
    """A frame size that can be ordered."""

    width: Length = Field(gt=0)
    height: Length = Field(gt=0)


class UnitToSet(Model):
    """A window or door to be set in an opening."""

    opening: str
    kind: str
    frame_width: Length = Field(gt=0)
    frame_height: Length = Field(gt=0)
    jamb_depth: Length | None = None
    weight_lb: Number | None = Field(default=None, gt=0)
    weight_kg: Number | None = Field(default=None, gt=0)
    ordered: YesNo = True
    least_side_clearance: Length = Field(ge=0)
    most_side_clearance: Length | None = None
    least_head_clearance: Length = Field(ge=0)
    most_head_clearance: Length | None = None
    largest_out_of_plane: Length = Field(gt=0)
    mulls: tuple[Length, ...] = ()
    """Centres of mulls, from the unit's left edge [in]."""
    bearing_spacing: Length | None = None
    """Largest distance between pads [in]; without it, by kind."""
    threshold: YesNo | None = None
    """Is it walked over; without it, by kind."""
    sizes: tuple[Size, ...] = ()
    """Frame sizes on offer; without it, steps of `size_step`."""
    size_step: Length | None = None


class Shim(Model):
    """One kind of shim on hand: flat, or tapering from `thickness` at one edge to `thin` at the other."""

    thickness: Length = Field(gt=0)
    thin: Length | None = None
    """Thickness of a tapered shim at its thin edge [in]."""
    count: Whole | None = Field(default=None, ge=0)
    """How many are on hand; without it, enough."""

    @model_validator(mode="before")
    @classmethod
    def _from_file(cls, raw: Any) -> Any:
        return raw if isinstance(raw, dict) else {"thickness": raw}


class SlopedStrip(Model):
    """The long wedge that makes a sill fall outward."""

    thick: Length = Field(gt=0)
    thin: Length = Field(ge=0)
    stock_length: Length | None = None


class Kit(Model):
    """Stock of shims and strips, and what may be cut away."""

    shims: tuple[Shim, ...] = Field(min_length=1)
    shim_width: Length = Field(gt=0)
    planing_max: Length = Field(default=0.0, ge=0)
    trim_max: Length = Field(default=0.0, ge=0)
    """How much may be trimmed off a jack stud's face [in]; 0: none."""
    largest_pad: Length = Field(default=1.5, gt=0)
    stack_above_line: Length = Field(default=0.0, ge=0)
    """From the level line (tops of the pads) to the underside of the unit [in]."""
    sloped_strip: SlopedStrip | None = None


class Tolerances(Model):
    """How true is true enough."""

    pad: Length = Field(default=1 / 32, gt=0)
    """How far a pad's top may miss the line [in]."""
    level_over_unit: Length = Field(default=1 / 16, gt=0)
    """How far a unit's pads may differ when shot again [in]."""
    plumb: Length = Field(default=1 / 8, gt=0)
    """How far a unit's face may be out of plumb over its height [in]."""
    fit_probability: Number = Field(default=0.99, gt=0.5, lt=1)


class ReadingSd(Model):
    """Standard deviation of each kind of reading [in]; without it, from the instrument."""

    laser: Length | None = Field(default=None)
    width: Length | None = None
    height: Length | None = None
    diagonal: Length | None = None
    plumb: Length | None = None
    run: Length | None = None
    string: Length | None = None
    thickness: Length | None = None


class Assumptions(Model):
    """What is taken of old framing where nothing was read: standard deviations, common practice, no source.

    They enter the adjustment as readings of their own kind, are listed with it, and can be changed here.
    """

    jack_bow: Length = Field(default=3 / 16, gt=0)
    """Middle of a jack off the line of its ends [in]."""
    sill_bow: Length = Field(default=3 / 16, gt=0)
    """A sill off the straight between neighbours 32 in apart [in]."""
    head_sag: Length = Field(default=1 / 4, gt=0)
    """A head off the straight between neighbours 64 in apart [in]."""
    cross_fall: Length = Field(default=3 / 32, gt=0)
    """Front-to-back fall at one place off the mean of its opening [in]."""
    wall_flat: Length = Field(default=1 / 4, gt=0)
    """Sheathing off the plane of the wall at one opening [in]."""
    thickness: Length = Field(default=1 / 4, gt=0)
    """Wall thickness at one corner off the mean of its opening [in]."""


class Instrument(Model):
    """A tape, level or laser."""

    name: str
    kind: Literal["tape", "laser", "level", "string"]
    graduation: Length | None = None
    sd: Length | None = None
    tilt_mm_per_m: Number = Field(default=0.3, ge=0)
    """Bound of a laser's error of level as its maker states it [mm/m]."""
    note: str = ""


class Shot(Model):
    """One reading down from the beam, in the order it was taken."""

    mark: str | None = None
    sill: str | None = None
    head: str | None = None
    pad: Whole | None = None
    """Number of the pad shot again after setting."""
    point: str | None = None
    """Anything else: floor, band joist, picture rail."""
    x: Length | None = None
    edge: Literal["outer", "inner"] = "outer"
    down: Readings

    @model_validator(mode="after")
    def _one_target(self) -> Shot:
        named = [key for key in ("mark", "sill", "head", "pad", "point") if getattr(self, key) is not None]
        if len(named) != 1:
            raise ValueError("a shot names exactly one of mark, sill, head, pad, point")
        return self


class SetUp(Model):
    """A laser standing in one place, and all that was shot from there, in order."""

    name: str
    x: Length
    """Where it stood along the wall [in]."""
    instrument: str | None = None
    turned: YesNo | None = None
    """Turned round against the first set-up of the same instrument; unsaid: which way it faced is not known."""
    note: str = ""
    series: tuple[Shot, ...] = Field(min_length=1)


class Mark(Model):
    """A nail or pencil mark that set-ups are tied to; the first one is the datum, z = 0."""

    name: str
    x: Length
    z: Length | None = None
    """Known height [in]."""


class Three(Model):
    """Readings at bottom, middle, top."""

    bottom: Readings | None = None
    middle: Readings | None = None
    top: Readings | None = None


class Across(Model):
    """Readings at left, centre, right."""

    left: Readings | None = None
    centre: Readings | None = None
    right: Readings | None = None


class Diagonals(Model):
    """Corner to corner at the sheathing face."""

    bottom_left_to_top_right: Readings | None = None
    bottom_right_to_top_left: Readings | None = None


class Lean(Model):
    """How far one jack is off plumb over a height."""

    over_height: Length = Field(gt=0)
    top_leans_right: Readings | None = None
    top_leans_in: Readings | None = None


class Leans(Model):
    """Both jacks."""

    left: Lean | None = None
    right: Lean | None = None


class PlumbLine(Model):
    """Gap from one hanging line to a jack at several heights above the sill."""

    at: tuple[Length, ...] = Field(min_length=2)
    gap: tuple[Readings, ...]

    @model_validator(mode="after")
    def _same_length(self) -> PlumbLine:
        if len(self.at) != len(self.gap):
            raise ValueError(f"{len(self.at)} heights but {len(self.gap)} gaps")
        return self


class PlumbLines(Model):
    """A hanging line beside each jack, inside the opening."""

    left: PlumbLine | None = None
    right: PlumbLine | None = None


class Corners(Model):
    """Readings at the four corners."""

    top_left: Readings | None = None
    top_right: Readings | None = None
    bottom_left: Readings | None = None
    bottom_right: Readings | None = None


class Opening(Model):
    """A rough opening and what was taped in it."""

    name: str
    near: Length = 2.0
    """How far from the corners the outer of three widths and heights were taken [in]."""
    left_jack_x: Readings | None = None
    right_jack_x: Readings | None = None
    width: Three = Three()
    width_inner: Three = Three()
    height: Across = Across()
    height_inner: Across = Across()
    diagonal: Diagonals = Diagonals()
    plumb: Leans = Leans()
    plumb_line: PlumbLines = PlumbLines()
    string_gap: Readings | None = None
    wall_thickness: Corners = Corners()
    note: str = ""


class Job(Model):
    """Everything in a job file."""

    sillwright: Literal[1]
    units: LengthUnit = "in"
    title: str
    note: str = ""
    invented: YesNo = False
    """Demonstration data, made up."""
    site: Site = Site()
    forecast: tuple[Forecast, ...] = ()
    wall: Wall = Wall()
    deck: Deck | None = None
    kit: Kit
    tolerances: Tolerances = Tolerances()
    reading_sd: ReadingSd = ReadingSd()
    assume: Assumptions = Assumptions()
    row: tuple[Row, ...] = ()
    head_line: tuple[HeadLine, ...] = ()
    unit: tuple[UnitToSet, ...] = ()
    instrument: tuple[Instrument, ...] = ()
    mark: tuple[Mark, ...] = ()
    setup: tuple[SetUp, ...] = ()
    opening: tuple[Opening, ...] = ()
    reshoot: tuple[SetUp, ...] = ()
    """Set-ups shot again after the pads were fixed."""
