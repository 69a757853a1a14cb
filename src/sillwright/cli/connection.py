"""`sillwright connection`: what the fasteners of any connection carry by calculation, in words."""

from __future__ import annotations

from collections.abc import Iterator

from sillwright.cli.asked import ConnectionAsked
from sillwright.cli.calculated import calculated
from sillwright.cli.connection_case import (
    DURATION,
    MOISTURE,
    SHEAR,
    SPECIES,
    STEEL,
    by_option,
    read_connection,
)
from sillwright.cli.say import Words, say
from sillwright.errors import OutOfRange
from sillwright.inspection import quantity, told
from sillwright.lengths import show
from sillwright.structure import NOTE, Connection, Joined, connection_sheet, wood

WHO = (
    "Local code, the building department and a licensed engineer come before this. It is arithmetic for your "
    "engineer, no permission to build."
)


def connection_alone(asked: ConnectionAsked) -> None:
    """Say what each fastener of a connection carries, or refuse.

    Raises:  BadInput: every option that cannot be used; OutOfRange: outside what the equations hold for
    """
    try:
        case = read_connection(asked)
        with by_option():
            sheet = connection_sheet(case)
    except OutOfRange as error:
        raise OutOfRange(f"The connection is {error}.") from None
    joint, shear = case.joint, asked.shear or SHEAR
    say(
        [
            Words(f"Connection: {_fastener(joint, asked)} in {shear} shear", "title"),
            Words(WHO),
            Words(f"{_member(joint.side, asked)}.", lead="Side member"),
            Words(f"{_member(joint.main, asked)}.", lead="Main member"),
            Words(""),
            Words(f"By calculation, {NOTE}", "heading"),
            *calculated(told(sheet, ident="calc.connection", units=asked.units, taken=tuple(_unsaid(asked)))),
        ]
    )


def _fastener(joint: Connection, asked: ConnectionAsked) -> str:
    kind = joint.dowel.kind
    if kind == "wood screw":
        name = f"No. {asked.diameter.strip().lstrip('#nNoO. ')} {kind}"
    else:
        name = f"{_length(joint.dowel.nominal, asked)} {kind}"
    long = f", {_length(joint.length, asked)} long," if joint.length else ""
    return f"{joint.count} {name}s in a row{long}" if joint.count > 1 else f"{name}{long}"


def _member(member: Joined, asked: ConnectionAsked) -> str:
    thick = _length(member.thickness, asked)
    if member.gravity is None:
        return f"{thick} of steel"
    name = f"{wood(member.species)}, " if member.species else ""
    turned = f"load at {member.angle_deg:g} degrees to its grain"
    return f"{thick} of {name}specific gravity {member.gravity:g}, {turned}"


def _length(length: float, asked: ConnectionAsked) -> str:
    """Return a length [in] as on the tape, or, off its marks or in metric, as the values below have it."""
    if asked.units == "in" and (length * 16.0).is_integer():
        return show(length, mark=True)
    return quantity(length, "in", units=asked.units)


def _unsaid(asked: ConnectionAsked) -> Iterator[str]:
    """Yield what was taken where nothing was said."""
    members = (
        ("main", asked.main_species, asked.main_angle),
        ("side", asked.side_species, asked.side_angle),
    )
    texts = [f"{name} member of {SPECIES}" for name, species, _ in members if species is None]
    texts += [
        f"load across the grain of the {name} member"
        for name, species, angle in members
        if angle is None and species != STEEL
    ]
    for said, text in (
        (asked.shear, f"{SHEAR} shear"),
        (asked.duration, f"load of {DURATION.replace('-', ' ')}"),
        (asked.moisture, f"{MOISTURE} in service"),
        (asked.count, "one fastener in the row"),
        (asked.gap, "members that touch"),
    ):
        if said is None:
            texts.append(text)
    if texts:
        yield f"where nothing was said: {', '.join(texts)}"
