"""A plan as JSON for other programs, and the JSON Schema it keeps to.

One walk over the types: every `Inches` is written in the job's unit, wherever it stands. The same plan gives
the same bytes: keys keep the order of the fields, numbers are rounded to what anybody can use.
"""

from __future__ import annotations

import ast
import dataclasses
import inspect
import json
import math
import sys
import types
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Annotated, Any, Literal, Union, get_args, get_origin, get_type_hints

from sillwright.errors import OutOfRange
from sillwright.lengths import Unit, to_unit
from sillwright.plan import PLAN_VERSION, Plan
from sillwright.plan_summary import Summary, summarise

LENGTH_DECIMALS: dict[Unit, int] = {"in": 6, "mm": 3}
"""A thousandth of a millimetre is far below any reading."""
DECIMALS = 6
_DIALECT = "https://json-schema.org/draft/2020-12/schema"
_LENGTH = {"type": "number", "description": "a length in the plan's units", "x-unit": "units"}
_PLAIN: dict[Any, dict[str, Any]] = {
    str: {"type": "string"},
    bool: {"type": "boolean"},
    int: {"type": "integer"},
    float: {"type": "number"},
    type(None): {"type": "null"},
}


def plan_to_json(plan: Plan) -> str:
    """Return a plan as JSON text: `summary` under plain names first, then all of the plan.

    Raises:  OutOfRange: a number of the plan is not finite
    """
    return json.dumps(plan_data(plan), indent=1, ensure_ascii=False, allow_nan=False) + "\n"


def plan_data(plan: Plan) -> dict[str, Any]:
    """Return what `plan_to_json` writes, as plain data."""
    whole: dict[str, Any] = _plain(plan, Plan, unit=plan.units)
    head = {key: whole.pop(key) for key in ("plan_version", "title", "units", "fingerprint", "invented")}
    return {**head, "summary": _plain(summarise(plan), Summary, unit=plan.units), **whole}


@cache
def _hints(kind: type) -> dict[str, Any]:
    return get_type_hints(kind, include_extras=True)


def _is_length(hint: Any) -> bool:
    return get_origin(hint) is Annotated and hint.__metadata__ == ("length",)


def _without_none(hint: Any) -> Any:
    """Return an optional type without its None; a union of more is not used in plans."""
    if get_origin(hint) not in (Union, types.UnionType):
        return hint
    rest = [each for each in get_args(hint) if each is not type(None)]
    if len(rest) != 1:
        raise TypeError(f"a plan's field is one type or None, not {hint}")
    return rest[0]


def _plain(value: Any, hint: Any, *, unit: Unit) -> Any:
    if value is None:
        return None
    hint = _without_none(hint)
    if _is_length(hint):
        return _number(to_unit(value, unit), LENGTH_DECIMALS[unit])
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        hints = _hints(type(value))
        return {
            each.name: _plain(getattr(value, each.name), hints[each.name], unit=unit)
            for each in dataclasses.fields(value)
        }
    if isinstance(value, tuple):
        return [
            _plain(each, own, unit=unit) for each, own in zip(value, _items(hint, len(value)), strict=True)
        ]
    if isinstance(value, dict):
        own = get_args(hint)[1]
        return {key: _plain(value[key], own, unit=unit) for key in sorted(value)}
    return _number(value, DECIMALS) if isinstance(value, float) and hint is float else value


def _items(hint: Any, count: int) -> tuple[Any, ...]:
    args = get_args(hint)
    return (args[0],) * count if len(args) == 2 and args[1] is Ellipsis else args


def _number(value: float, decimals: int) -> float:
    if not math.isfinite(value):
        raise OutOfRange(f"a number of the plan is not finite: {value}; report it with the job file")
    return round(float(value), decimals) + 0.0  # adding zero turns -0.0 into 0.0


def plan_schema() -> dict[str, Any]:
    """Return the JSON Schema (2020-12) of `plan_to_json`, made from the types."""
    definitions: dict[str, Any] = {}
    whole = _object(Plan, definitions)
    whole["properties"]["plan_version"] = {"const": PLAN_VERSION}
    whole["properties"]["summary"] = _schema(Summary, definitions)
    whole["required"].append("summary")
    return {
        "$schema": _DIALECT,
        "title": "Sillwright plan",
        **whole,
        "$defs": dict(sorted(definitions.items())),
    }


def _schema(hint: Any, definitions: dict[str, Any]) -> dict[str, Any]:
    if _is_length(hint):
        return dict(_LENGTH)
    if hint in _PLAIN:
        return dict(_PLAIN[hint])
    if dataclasses.is_dataclass(hint) and isinstance(hint, type):
        if hint.__name__ not in definitions:
            definitions[hint.__name__] = {}  # a place held, should a type ever hold itself
            definitions[hint.__name__] = _object(hint, definitions)
        return {"$ref": f"#/$defs/{hint.__name__}"}
    origin, args = get_origin(hint), get_args(hint)
    makers: dict[Any, Callable[[], dict[str, Any]]] = {
        Literal: lambda: {"enum": list(args)},
        Union: lambda: {"anyOf": [_schema(each, definitions) for each in args]},
        types.UnionType: lambda: {"anyOf": [_schema(each, definitions) for each in args]},
        dict: lambda: {"type": "object", "additionalProperties": _schema(args[1], definitions)},
        tuple: lambda: _array(args, definitions),
    }
    return makers[origin]()


def _array(args: tuple[Any, ...], definitions: dict[str, Any]) -> dict[str, Any]:
    if len(args) == 2 and args[1] is Ellipsis:
        return {"type": "array", "items": _schema(args[0], definitions)}
    items = [_schema(each, definitions) for each in args]
    return {"type": "array", "prefixItems": items, "items": False, "minItems": len(args)}


def _object(kind: type, definitions: dict[str, Any]) -> dict[str, Any]:
    hints, said = _hints(kind), _field_docs(kind)
    names = [each.name for each in dataclasses.fields(kind)]
    properties = {name: _schema(hints[name], definitions) for name in names}
    for name, text in said.items():
        kept = properties[name].get("description")
        properties[name]["description"] = f"{text} ({kept})" if kept else text
    about = (inspect.getdoc(kind) or "").strip()
    return {
        "type": "object",
        "description": about,
        "properties": properties,
        "required": names,
        "additionalProperties": False,
    }


def _field_docs(kind: type) -> dict[str, str]:
    """Return what stands below each field of a class."""
    (node,) = ast.parse(inspect.cleandoc(inspect.getsource(kind))).body
    assert isinstance(node, ast.ClassDef)  # noqa: S101  what getsource gives for a class
    found = {}
    for statement, after in zip(node.body, node.body[1:], strict=False):
        if not (isinstance(statement, ast.AnnAssign) and isinstance(statement.target, ast.Name)):
            continue
        if isinstance(after, ast.Expr) and isinstance(after.value, ast.Constant):
            found[statement.target.id] = " ".join(str(after.value.value).split())
    return found


def plan_schema_text() -> str:
    """Return the schema as the text of `docs/plan.schema.json`."""
    return json.dumps(plan_schema(), indent=1, ensure_ascii=False) + "\n"


if __name__ == "__main__":
    Path(sys.argv[1]).write_text(plan_schema_text(), encoding="utf-8")
