"""Kinds of values that every table of a job file is made of: lengths, numbers, closed frozen tables."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Strict,
    ValidationInfo,
    WithJsonSchema,
)
from pydantic_core import PydanticCustomError

from sillwright.errors import BadInput
from sillwright.lengths import Unit as LengthUnit
from sillwright.lengths import parse


def refuse(what: str, advice: str = "") -> PydanticCustomError:
    """Return a refusal in the carpenter's words."""
    return PydanticCustomError("plain", "{what}", {"what": what, "advice": advice})


def _unit(info: ValidationInfo) -> LengthUnit:
    context = info.context or {}
    unit: LengthUnit = context.get("unit", "in")
    return unit


def said(value: Any, info: ValidationInfo, kind: str) -> tuple[float, float]:
    """Return value and spread of a length as it was written [in]."""
    unit = _unit(info)
    example = "27 3/8" if unit == "in" else "695"
    if isinstance(value, bool) or not isinstance(value, str | int | float):
        what = {"kind": kind, "example": example, "given": value}
        raise PydanticCustomError("no_length", "expected a {kind} such as {example}", what)
    try:
        read = parse(value, unit=unit)
    except BadInput as error:
        raise refuse(error.faults[0].what, error.faults[0].advice) from None
    return read.value, read.spread


def _length(value: Any, info: ValidationInfo) -> float:
    return said(value, info, "length")[0]


Length = Annotated[float, BeforeValidator(_length), WithJsonSchema({"type": ["string", "number"]})]
"""A length in inches; in the file, trade notation or a number in the job's unit."""

Number = Annotated[float, Strict()]
Whole = Annotated[int, Strict()]
YesNo = Annotated[bool, Strict()]


class Model(BaseModel):
    """Frozen, closed to unknown keys."""

    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False)


def one_unit(model: Model, *pairs: tuple[str, str]) -> None:
    """Refuse a quantity that is given in two units."""
    for one, other in pairs:
        if getattr(model, one) is not None and getattr(model, other) is not None:
            raise refuse(f"both {one} and {other} are given.", "Keep one of the two.")


def in_order(model: Model, *pairs: tuple[str, str]) -> None:
    """Refuse limits that stand the wrong way round."""
    for low, high in pairs:
        least, most = getattr(model, low), getattr(model, high)
        if least is not None and most is not None and least > most:
            raise refuse(f"{low} is more than {high}.", "Swap them, or correct one.")
