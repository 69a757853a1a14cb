"""New names and the time, as the record writes them."""

from __future__ import annotations

import datetime
import secrets


def now() -> str:
    """Return the time, UTC."""
    return datetime.datetime.now(datetime.UTC).isoformat(timespec="microseconds").replace("+00:00", "Z")


def new_id() -> str:
    """Return a new 128-bit name in hexadecimal."""
    return secrets.token_hex(16)
