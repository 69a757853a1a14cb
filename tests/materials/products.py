"""Invented products to try the checks on."""

from __future__ import annotations

import datetime
from typing import Any

from sillwright.materials import Product

READ = datetime.date(2026, 3, 2)


def roll(name: str = "roll A", family: str = "butyl tape", **stated: Any) -> Product:
    """Return a product; with figures, of a sheet of 2026-03-02."""
    dated = {"sheet_date": READ} if set(stated) - {"system"} else {}
    return Product(name=name, family=family, **(dated | stated))
