"""A connection as it was typed, read into what `structure` asks."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass

from sillwright.cli.asked import ConnectionAsked
from sillwright.cli.quantities import Options, inches, lbf, millimetres
from sillwright.errors import BadInput, Fault
from sillwright.structure import (
    Connection,
    ConnectionCase,
    Dowel,
    Joined,
    bolt,
    gravity,
    lag_screw,
    section,
    wood_screw,
)

STEEL = "steel"
SPECIES, ANGLE, DURATION, MOISTURE, SHEAR = "spruce-pine-fir", 90.0, "ten-years-live", "wet", "single"
"""Taken where nothing was said."""
MOST = 100
"""Fasteners in a row."""
_NOMINAL = re.compile(r"\d+x\d+")
_NUMBER = re.compile(r"[+-]?(?:\d+\.?\d*|\.\d+)")
_GAUGE = re.compile(r"(?:#|no\.?)?\s*(\d+)", re.IGNORECASE)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Member:
    """A member as it was typed, read; nan where a fault is kept."""

    thickness: float
    width: float | None
    gravity: float | None
    species: str
    angle_deg: float
    end: float | None
    edge: float | None


class _Reader:
    """Reads the options, with every fault kept."""

    def __init__(self, asked: ConnectionAsked) -> None:
        self.options = Options()
        self._length = millimetres if asked.units == "mm" else inches

    def length(self, option: str, text: str, *, zero: bool = False) -> float:
        return self.options.take(self._length, option, text, above=0.0, zero=zero)

    def if_said(self, option: str, text: str | None, *, zero: bool = False) -> float | None:
        return None if text is None else self.length(option, text, zero=zero)

    def force(self, option: str, text: str | None) -> float | None:
        return None if text is None else self.options.take(lbf, option, text, above=0.0, zero=False)

    def member(
        self,
        name: str,
        *,
        size: str,
        species: str | None,
        angle: float | None,
        width: str | None,
        end: str | None,
        edge: str | None,
    ) -> _Member:
        thickness, broad = self._size(f"--{name}", size)
        wide = self.if_said(f"--{name}-width", width)
        said = species or SPECIES
        of = (
            None
            if said == STEEL
            else self.options.take(_gravity, f"--{name}-species", said, above=0.0, zero=False)
        )
        if of is None and (angle, end, edge) != (None, None, None):
            what = "grain, ends and edges of steel are not asked here."
            self.options.fault(f"--{name}-species", what, f"Leave out --{name}-angle, -end and -edge.")
        turned = ANGLE if angle is None else angle
        if not 0.0 <= turned <= 90.0:
            self.options.fault(f"--{name}-angle", f"{turned:g} cannot be used.", "Give degrees, 0 to 90.")
        return _Member(
            thickness=thickness,
            width=broad if wide is None else wide,
            gravity=of,
            species="" if of is None or _number(said) else said.replace("-", "_"),
            angle_deg=turned,
            end=self.if_said(f"--{name}-end", end),
            edge=self.if_said(f"--{name}-edge", edge),
        )

    def _size(self, option: str, text: str) -> tuple[float, float | None]:
        """Return thickness, and the width that a nominal size has."""
        if not _NOMINAL.fullmatch(text):
            return self.length(option, text), None
        try:
            found = section(text)
        except BadInput as error:
            self.options.faults += [Fault(option, each.what, each.advice) for each in error.faults]
            return math.nan, None
        return found.breadth, found.depth

    def diameter(self, asked: ConnectionAsked) -> float:
        """Return the diameter of a bolt or lag screw [in], or the gauge of a wood screw."""
        if asked.fastener != "wood-screw":
            return self.length("--diameter", asked.diameter)
        found = _GAUGE.fullmatch(asked.diameter.strip())
        if found is None:
            what = f"'{asked.diameter}' is not the gauge of a wood screw."
            self.options.fault("--diameter", what, "Write a whole number, such as 10.")
            return math.nan
        return float(found[1])

    def together(self, asked: ConnectionAsked) -> None:
        """Keep the faults of options that do not go with each other."""
        count = 1 if asked.count is None else asked.count
        if not 1 <= count <= MOST:
            self.options.fault("--count", f"{count} cannot be used.", f"Give 1 to {MOST}.")
        if asked.spacing is not None and count == 1:
            self.options.fault("--spacing", "one fastener has no neighbour.", "Give --count as well.")
        if asked.spacing is None and count > 1:
            self.options.fault("--spacing", "a row of several has one.", "Say how far apart they are.")
        if asked.fastener == "bolt" and asked.length is not None:
            self.options.fault("--length", "a bolt goes through all members.", "Leave it out.")
        if asked.fastener != "bolt" and asked.length is None:
            self.options.fault("--length", "a screw has one.", "Give it from head to tip.")


def read_connection(asked: ConnectionAsked) -> ConnectionCase:
    """Return what was typed, read.

    Raises:  BadInput: every option that cannot be used; OutOfRange: a fastener that the standard lacks
    """
    read = _Reader(asked)
    diameter = read.diameter(asked)
    length = read.if_said("--length", asked.length)
    main = read.member(
        "main",
        size=asked.main,
        species=asked.main_species,
        angle=asked.main_angle,
        width=asked.main_width,
        end=asked.main_end,
        edge=asked.main_edge,
    )
    side = read.member(
        "side",
        size=asked.side,
        species=asked.side_species,
        angle=asked.side_angle,
        width=asked.side_width,
        end=asked.side_end,
        edge=asked.side_edge,
    )
    spacing = read.if_said("--spacing", asked.spacing)
    gap = read.if_said("--gap", asked.gap, zero=True)
    load, pull = read.force("--load", asked.load), read.force("--pull", asked.pull)
    read.together(asked)
    read.options.done()
    with by_option():
        return ConnectionCase(
            joint=Connection(
                dowel=_DOWELS[asked.fastener](diameter),
                main=_joined(main, asked),
                side=_joined(side, asked),
                double=asked.shear == "double",
                length=length,
                gap=gap or 0.0,
                count=1 if asked.count is None else asked.count,
                spacing=spacing,
                duration=(asked.duration or DURATION).replace("-", "_"),
                wet=(asked.moisture or MOISTURE) == "wet",
            ),
            load_lbf=load,
            pull_lbf=pull,
        )


_DOWELS: dict[str, Callable[[float], Dowel]] = {
    "bolt": bolt,
    "lag-screw": lag_screw,
    "wood-screw": lambda gauge: wood_screw(f"{gauge:g}"),
}


def _joined(member: _Member, asked: ConnectionAsked) -> Joined:
    return Joined(
        thickness=member.thickness,
        gravity=member.gravity,
        species=member.species,
        angle_deg=member.angle_deg,
        width=member.width,
        end=member.end,
        edge=member.edge,
        toward_end=asked.toward_end,
    )


def _number(text: str) -> bool:
    return _NUMBER.fullmatch(text) is not None


def _gravity(text: str) -> float:
    """Return a specific gravity, given as such or by a species.

    Raises:  BadInput: species not known
    """
    if _number(text):
        return float(text)
    try:
        return gravity(text.replace("-", "_"))
    except BadInput as error:
        faults = (
            Fault("", each.what.replace("_", "-"), each.advice.replace("_", "-")) for each in error.faults
        )
        raise BadInput(*faults) from None


@contextmanager
def by_option() -> Iterator[None]:
    """Name a fault of the calculation by the option that mends it."""
    try:
        yield
    except BadInput as error:
        raise BadInput(
            *(Fault(f"--{each.where.replace('_', '-')}", each.what, each.advice) for each in error.faults)
        ) from None
