"""A scene refuses what cannot be drawn, and says why."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest

from sillwright.drawing import (
    Along,
    Dim,
    Hatch,
    Mark,
    MarkKind,
    Path,
    Pattern,
    Scene,
    Text,
    inch_ruler,
    millimetre_ruler,
)
from sillwright.errors import OutOfRange

LINE = Path(((0, 0), (1, 0)))
REFUSED: list[tuple[str, Callable[[], object]]] = [
    ("a path needs at least 2 points", lambda: Path(((0, 0),))),
    ("a path needs at least 3 points", lambda: Path(((0, 0), (1, 0)), closed=True)),
    ("a path's weight must be above zero", lambda: Path(((0, 0), (1, 0)), weight=0)),
    ("a hatch's weight must be above zero", lambda: Hatch(((0, 0), (1, 0), (1, 1)), Pattern.PAD, weight=-1)),
    ("a path has a point that is no number", lambda: Path(((0, 0), (math.nan, 0)))),
    ("a hatch needs at least 3 points", lambda: Hatch(((0, 0), (1, 0)), Pattern.WOOD)),
    ("a text needs one line of words", lambda: Text((0, 0), "  ")),
    ("a text needs one line of words", lambda: Text((0, 0), "two\nlines")),
    ("a text's size must be above zero", lambda: Text((0, 0), "sill", size=-0.1)),
    ("a mark has a point that is no number", lambda: Mark((0, math.inf), MarkKind.DROP)),
    ("a balloon needs one line of words", lambda: Mark((0, 0), MarkKind.BALLOON)),
    ("the dimension '0' measures nothing", lambda: Dim((1, 1), (1, 1), 0.3, "0")),
    ("the dimension '0' measures nothing", lambda: Dim((1, 1), (1, 2), 0.3, "0", along=Along.X)),
    ("the dimension '0' measures nothing", lambda: Dim((1, 1), (2, 1), 0.3, "0", along=Along.Z)),
    ("nothing to draw", lambda: Scene((), title="Empty", alt="nothing")),
    ("a drawing's description needs one line", lambda: Scene((LINE,), title="Sill", alt="")),
    ("the scale of heights must be above zero", lambda: Scene((LINE,), title="S", alt="s", scale_y=0)),
    ("the scale along the wall must be above zero", lambda: Scene((LINE,), title="S", alt="s", scale_x=-1)),
    ("a ruler's units must be above zero", lambda: inch_ruler((0, 0), inches=0)),
]


@pytest.mark.parametrize(("words", "make"), REFUSED)
def test_what_cannot_be_drawn_is_refused_with_the_reason(words: str, make: Callable[[], object]) -> None:
    with pytest.raises(OutOfRange, match=words):
        make()


def test_the_inch_ruler_says_its_own_length() -> None:
    ruler = inch_ruler((0, 0))
    assert ruler.length == 4
    assert ruler.text == "this line is 4 in; if not, your printer scaled it"


def test_the_millimetre_ruler_says_its_own_length() -> None:
    """Source: 25.4 mm to the inch, exact (NIST SP 811 (2008), app. B.8)."""
    ruler = millimetre_ruler((0, 0), centimetres=12)
    assert ruler.length * 25.4 == pytest.approx(120, abs=1e-12)
    assert ruler.text.startswith("this line is 120 mm;")
