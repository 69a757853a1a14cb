"""The paper that a picture of water may take."""

from __future__ import annotations

from dataclasses import dataclass

from sillwright.lengths import Unit


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """What a picture may take: as wide as a phone's screen, or half a letter page [paper in]."""

    units: Unit = "in"
    width: float = 3.5
    height: float = 4.2
    caption: bool = False
    """Is the sentence written under the picture?"""


PHONE = Paper()
