"""JSON in one and only one way to write it, so that a hash over it means something.

Source: RFC 8785, JSON Canonicalization Scheme (JCS), sections 3.2.2 (strings, numbers) and 3.2.3 (order)
"""

from __future__ import annotations

import hashlib
import json
import math
from decimal import Decimal
from typing import Any

from sillwright.errors import OutOfRange

MOST = 2**53 - 1
"""Largest whole number that every reader of JSON keeps exact. RFC 8785, section 3.1 (I-JSON, RFC 7493)."""


def canonical(value: Any) -> str:
    """Return plain data as canonical JSON text; encode it as UTF-8 to hash it.

    Raises:  OutOfRange: a number that JSON cannot hold, a lone surrogate, or anything that is not plain data
    """
    if value is None or isinstance(value, bool):
        return {None: "null", True: "true", False: "false"}[value]
    if isinstance(value, str):
        return _string(value)
    if isinstance(value, int):
        if abs(value) > MOST:
            raise OutOfRange(f"{value}: whole numbers go up to {MOST}.")
        return str(value)
    if isinstance(value, float):
        return _number(value)
    if isinstance(value, list | tuple):
        return f"[{','.join(canonical(each) for each in value)}]"
    if isinstance(value, dict):
        pairs = sorted(value.items(), key=lambda pair: _order(pair[0]))
        return f"{{{','.join(f'{_string(key)}:{canonical(each)}' for key, each in pairs)}}}"
    raise OutOfRange(f"{type(value).__name__} is not plain data.")


def _order(key: str) -> bytes:
    """Keys go by their UTF-16 code units."""
    return key.encode("utf-16-be", "surrogatepass")


def _string(text: str) -> str:
    try:
        text.encode()
    except UnicodeEncodeError:
        raise OutOfRange("half of a character cannot be written.") from None
    return json.dumps(text, ensure_ascii=False)


def _number(value: float) -> str:
    """Return a double as ECMAScript writes it: the fewest digits that read back; 1e21 and 1e-7."""
    if not math.isfinite(value):
        raise OutOfRange(f"{value} is not a number that JSON can hold.")
    if value == 0.0:
        return "0"
    sign, digits, exponent = Decimal(repr(value)).normalize().as_tuple()
    said = "".join(map(str, digits))
    point = len(said) + int(exponent)  # where the decimal point stands, from the first digit
    minus = "-" * sign
    if len(said) <= point <= 21:
        return f"{minus}{said}{'0' * (point - len(said))}"
    if 0 < point <= 21:
        return f"{minus}{said[:point]}.{said[point:]}"
    if -6 < point <= 0:
        return f"{minus}0.{'0' * -point}{said}"
    tail = f".{said[1:]}" if len(said) > 1 else ""
    return f"{minus}{said[0]}{tail}e{point - 1:+d}"


def digest(text: str) -> str:
    """Return the SHA-256 of a text's UTF-8 bytes in hexadecimal. Source: FIPS 180-4."""
    return hashlib.sha256(text.encode()).hexdigest()
