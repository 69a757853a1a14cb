"""Kinds of number in a result, so that one place can turn them into the job's unit."""

from __future__ import annotations

from typing import Annotated

Inches = Annotated[float, "length"]
"""A length or a height, inches inside, written in the job's unit at the edge."""
