"""How the openings are kept dry, as a job states it: scheme, rolls, sizes, and pieces of one's own.

Names of schemes, choices and sizes are those of `flashing`; a test holds the two together. Families of
materials are those of `materials`.
"""

from __future__ import annotations

import datetime
from typing import Annotated, Literal

from pydantic import AfterValidator, Field, Strict, model_validator

from sillwright.errors import BadInput
from sillwright.job.values import Length, Model, Number, Whole, YesNo, in_order, one_unit, refuse
from sillwright.materials import PerformanceClass, Product, family

SchemeName = Literal[
    "strips over the fin",
    "strips under the fin",
    "wrap after the unit",
    "strips under the fin, wrap after",
    "sheathing face",
    "wrap in courses",
    "stretched pan",
    "formed pan",
    "lined opening",
    "recessed unit",
    "own pieces",
    "none",
]
WrapWhen = Literal["before the unit", "after the unit", "in courses", "sheathing face"]
PanMake = Literal["cut and patched", "stretched", "formed with end dams"]
UnitSet = Literal["fin, strips over it", "fin, strips under it", "no fin, opening lined"]
Use = Literal["pan", "patch", "strip", "ledger", "backing", "wrap", "tape", "metal"]
PieceKind = Literal[
    "water-resistive sheathing face",
    "wall wrap",
    "backing sheet",
    "corner patch",
    "pan",
    "strip",
    "ledger sheet",
    "metal",
    "bead",
    "tape",
]
Extent = tuple[Length, Length]


def _known(name: str) -> str:
    try:
        return family(name).name
    except BadInput as error:
        raise refuse(error.faults[0].what, error.faults[0].advice) from None


Family = Annotated[str, AfterValidator(_known)]


class Roll(Model):
    """A roll on hand, or other stock that pieces are cut from; its figures are those of its product sheet."""

    name: str = Field(min_length=1)
    """What you call it: roll A."""
    use: tuple[Use, ...] = ()
    """What is cut from it; without it, only the pieces of `[[water.sheet]]` that name it."""
    family: Family
    """What it is made of: butyl tape, wall wrap, aluminum."""
    width: Length | None = Field(default=None, gt=0)
    """Width of the roll; without it, as wide as a piece needs."""
    length: Length | None = Field(default=None, gt=0)
    """Length of a whole roll."""
    count: Whole | None = Field(default=None, ge=0)
    """How many are on hand; without it, enough."""
    thickness: Length = Field(default=0.0, ge=0)
    """Thickness of the sheet."""
    stretches: YesNo = False
    """Does it stretch round a corner without a cut?"""
    self_seals: YesNo | None = None
    """Does it close round a fastener, by its sheet; unsaid counts as no."""
    sheet_date: Annotated[datetime.date, Strict()] | None = None
    """Date of its product sheet, without quotes; needed with any figure of the sheet."""
    system: str = ""
    """What its maker sells as one system; parts of one are not asked about each other."""
    least_lap: Length | None = Field(default=None, gt=0)
    """Least lap that the sheet asks for."""
    least_F: Number | None = None  # noqa: N815
    """Lowest temperature at which it may go on [F]."""
    least_C: Number | None = None  # noqa: N815
    """The same [C]; give one of the two."""
    most_F: Number | None = None  # noqa: N815
    """Highest temperature at which it may go on [F]."""
    most_C: Number | None = None  # noqa: N815
    """The same [C]; give one of the two."""
    primer_on: tuple[Family, ...] | None = None
    """Families that the sheet wants primed; an empty list: none."""
    primer: str = ""
    """What the sheet says of primer."""
    accepts: tuple[Family, ...] = ()
    """Families that the sheet says it may touch."""
    refuses: tuple[Family, ...] = ()
    """Families that the sheet says it must not touch."""

    @model_validator(mode="after")
    def _sound(self) -> Roll:
        one_unit(self, ("least_F", "least_C"), ("most_F", "most_C"))
        try:
            self.product()
        except BadInput as error:
            raise refuse(error.faults[0].what, error.faults[0].advice) from None
        return self

    def product(self) -> Product:
        """Return it as the checks of materials take it."""
        return Product(
            name=self.name,
            family=self.family,
            sheet_date=self.sheet_date,
            system=self.system,
            least_lap=self.least_lap,
            least_f=_fahrenheit(self.least_F, self.least_C),
            most_f=_fahrenheit(self.most_F, self.most_C),
            primer_on=self.primer_on,
            primer=self.primer,
            self_seals=self.self_seals,
            accepts=self.accepts,
            refuses=self.refuses,
        )


def _fahrenheit(degrees_f: float | None, degrees_c: float | None) -> float | None:
    return degrees_f if degrees_c is None else degrees_c * 9.0 / 5.0 + 32.0


class WaterSizes(Model):
    """How far the pieces reach; widths of rolls limit them, laps that codes ask for are checked apart."""

    upturn: Length = Field(default=6.0, gt=0)
    """Of the pan at the jambs."""
    strip: Length = Field(default=6.0, gt=0)
    """Width of a jamb strip on the wall."""
    above_fin: Length = Field(default=4.0, ge=0)
    """How far a jamb strip runs above the fin at the head."""
    head_strip: Length = Field(default=6.0, gt=0)
    """Height of the head strip."""
    beyond: Length = Field(default=1.0, ge=0)
    """How far the head strip runs past the jamb strips."""
    patch: Length = Field(default=3.0, gt=0)
    """Of a corner patch, each way from the corner."""
    lining: Length = Field(default=4.0, gt=0)
    """Of the lining of an opening, out on the wall."""
    fold_in: Length = Field(default=2.0, ge=0)
    """Of a jamb strip under the fin, into the opening."""
    tape: Length = Field(default=2.0, gt=0)
    """Of a tape, each way from the cut that it covers."""
    ledger_up: Length = Field(default=4.0, gt=0)
    """Of the ledger sheet, up the wall."""
    ledger_down: Length = Field(default=2.0, gt=0)
    """Of the ledger sheet, down the face of the ledger."""
    course_lap: Length = Field(default=4.0, gt=0)
    """Of one course of wrap over the one below."""
    bead: Length = Field(default=0.375, gt=0)
    """Width of a bead."""


class FlashingFacts(Model):
    """What is known of the flashing beyond its pieces; what is left out is told as not checked."""

    to_standard: YesNo | None = None
    """Whether the flashing is to AAMA 711, 712 or 714."""
    reaches_outside: YesNo | None = None
    """Whether it reaches the wall's face, or a wrap that drains."""
    wrap_cut: Literal["modified I", "X", "other"] | None = None
    """How the wrap is cut at the openings."""
    head_flap_cut: Length | None = Field(default=None, ge=0)
    """Length of the head flap's diagonal cuts."""
    sill_strip_loose: Length | None = Field(default=None, ge=0)
    """How far a sill strip is left loose at its lower edge and ends."""
    sill_strip_length: Length | None = Field(default=None, ge=0)
    """Length of a sill strip."""
    eave_above_trim: Length | None = Field(default=None, ge=0)
    """Height of the eave above the top of the trim."""
    eave_overhang: Length | None = Field(default=None, ge=0)
    """Overhang of the eave."""
    sheltered: YesNo | None = None
    """Whether a porch or overhang keeps rain off, or there is little rain."""
    drip_offset: Length | None = Field(default=None, ge=0)
    """How far the drip of a flashing stands out from the face below."""
    concealed_flashing: YesNo | None = None
    """Whether there is a concealed flashing under the sill."""
    sill_above_grade: Length | None = None
    """Height of the sill above the ground."""
    sill_drip_out: Length | None = Field(default=None, ge=0)
    """How far the sill's drip stands out from the wall."""
    self_flashing_sill: YesNo | None = None
    """Whether the unit's sill is its own flashing."""
    self_flashing_drip: Length | None = Field(default=None, ge=0)
    """How far that sill's drip stands out from the cladding below."""
    pan_past_below: Length | None = Field(default=None, ge=0)
    """How far the pan reaches out past what is below it."""
    sealant_class: Number | None = Field(default=None, gt=0)
    """Class of the sealant by ASTM C920."""
    sealant_grade_ns: YesNo | None = None
    """Whether the sealant is of Grade NS by ASTM C920."""
    sealant_aama_800: YesNo | None = None
    """Whether the sealant is to AAMA 800."""
    framing_mc_pct: Number | None = Field(default=None, ge=0, lt=200)
    """Moisture of the framing in percent of dry weight."""


class PiecePanel(Model):
    """The part of a piece that lies on one face: a change of one that is there, or a new one."""

    name: str = Field(min_length=1)
    """What it is called in its piece."""
    facet: str | None = None
    """Face that it lies on: wall, A.sill, A.left, ledger.top; needed for a new one."""
    u: Extent | None = None
    """From and to along the first axis of the face: x, or the depth of the opening on a jamb."""
    v: Extent | None = None
    """From and to along the second: height, or the depth of the opening on sill and head."""
    bonded: YesNo | None = None
    """Does it hold to what lies below it?"""
    held_until: str | None = None
    """Piece after which it comes down; a flap is held up until then."""
    leave_out: YesNo = False
    """Cut this part away."""


class PieceSeam(Model):
    """Two parts of a piece that are one along the edge that they share."""

    one: str
    """Name of a part."""
    other: str
    """Name of the other."""
    join: Literal["fold", "pleat", "formed"] = "fold"
    """Creased or flat; folded over itself; stretched, soldered or moulded."""


class PieceEdit(Model):
    """A change of a piece of the scheme, or a piece of your own; `sillwright water` lists the names."""

    name: str = Field(min_length=1)
    """Name of the piece: A.pan, A.strip.left, ledger.sheet; a new name for a piece of your own."""
    leave_out: YesNo = False
    """Do without it."""
    after: str | None = None
    """Piece that it goes on right after."""
    before: str | None = None
    """Piece that it goes on right before."""
    roll: str | None = None
    """Roll that it is cut from."""
    bonded: YesNo | None = None
    """Does all of it hold to what lies below?"""
    kind: PieceKind | None = None
    """What it is; needed for a piece of your own, and only for one."""
    words: str = ""
    """What people call it; without it, its name."""
    opening: str | None = None
    """Opening that a piece of your own belongs to."""
    panel: tuple[PiecePanel, ...] = ()
    """Each part that is changed or new."""
    seam: tuple[PieceSeam, ...] = ()
    """Each edge along which new parts hang together."""

    @model_validator(mode="after")
    def _sound(self) -> PieceEdit:
        if self.after is not None and self.before is not None:
            raise refuse("both after and before are given.", "Keep one of the two.")
        if self.name in (self.after, self.before):
            raise refuse("a piece cannot go on after itself.", "Name another piece.")
        return self


class Water(Model):
    """How the openings are kept dry: what is not stated is taken as the plan lists it."""

    scheme: SchemeName | None = None
    """How the wall is dressed; without it, strips over the fin, or a lined opening where no unit has a fin.

    `own pieces`: nothing but those of `[[water.sheet]]`; `none`: no water plan.
    """
    wrap: WrapWhen | None = None
    """When the wrap goes on, if not as the scheme has it."""
    pan: PanMake | None = None
    """How the pan gets round the front corners of the sill, if not as the scheme has it."""
    unit: UnitSet | None = None
    """How the unit meets the wall, if not as the scheme has it."""
    head: Length | None = Field(default=None, ge=0)
    """Head of water to stand; without any of these, that of the least water test of a window of class R."""
    pressure_psf: Number | None = Field(default=None, ge=0)
    """Pressure that drives water [lbf/ft2]: water test of the unit, or wind in rain."""
    pressure_Pa: Number | None = Field(default=None, ge=0)  # noqa: N815
    """The same in pascals [Pa]."""
    wind_mph: Number | None = Field(default=None, ge=0)
    """Speed of the wind that comes with rain [mph]."""
    wind_km_h: Number | None = Field(default=None, ge=0)
    """The same [km/h]."""
    performance_class: PerformanceClass | None = None
    """Performance class on the unit's label; with its design pressure."""
    design_pressure_psf: Number | None = Field(default=None, gt=0)
    """Design pressure on the unit's label [lbf/ft2]; its water test is a share of it."""
    sill_slope_pct: Number | None = Field(default=None, ge=-50, le=50)
    """Fall of the sill outward [%]; without it, as read, and with the sloped strip where one is used."""
    back_dam: Length | None = Field(default=None, ge=0)
    """Height of the back dam; 0: none. Without it, 1 in."""
    wall_pieces: tuple[Annotated[Length, Field(ge=0)], ...] = ()
    """Thickness of each piece of the wall: sheathing, studs, board; without it, the wall as it was read."""
    sheathing: Family | None = None
    """What the face of the wall is that pieces stick to: OSB, plywood, gypsum sheathing."""
    wall_left: Length | None = None
    """Left end of the wall, from the wall mark; without it, well past the pieces."""
    wall_right: Length | None = None
    """Right end of the wall."""
    fasteners_sealed: YesNo | None = None
    """Is each fastener of the ledger bedded in sealant? Unsaid counts as no."""
    sizes: WaterSizes = WaterSizes()
    """How far the pieces reach."""
    facts: FlashingFacts | None = None
    """What the checks of flashing ask for besides."""
    roll: tuple[Roll, ...] = ()
    """Each roll on hand."""
    sheet: tuple[PieceEdit, ...] = ()
    """Each piece that is changed or your own."""
    order: tuple[str, ...] = ()
    """Names of pieces in the order you lay them; they change places among themselves, others keep theirs."""
    note: str = ""
    """Anything worth keeping beside it."""

    @model_validator(mode="after")
    def _sound(self) -> Water:
        in_order(self, ("wall_left", "wall_right"))
        self._one_head()
        _once("roll", [each.name for each in self.roll])
        _once("piece", [each.name for each in self.sheet])
        _once("piece in the order", list(self.order))
        used = [use for each in self.roll for use in each.use]
        twice = next((use for use in used if used.count(use) > 1), None)
        if twice is not None:
            raise refuse(f"two rolls are to be used for {twice}.", "Name it in the use of one of them.")
        return self

    def _one_head(self) -> None:
        ways = ("head", "pressure_psf", "pressure_Pa", "wind_mph", "wind_km_h", "performance_class")
        given = [each for each in ways if getattr(self, each) is not None]
        if len(given) > 1:
            raise refuse(f"both {given[0]} and {given[1]} are given.", "Keep one of them.")
        if (self.performance_class is None) != (self.design_pressure_psf is None):
            what = "of performance_class and design_pressure_psf one is given and not the other."
            raise refuse(what, "Both stand on the unit's label.")


def _once(noun: str, names: list[str]) -> None:
    twice = next((name for name in names if names.count(name) > 1), None)
    if twice is not None:
        raise refuse(f"the {noun} '{twice}' is there twice.", "Give each its own name, or keep one.")
