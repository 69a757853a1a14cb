"""Drawings as a page can show them: looks apart, in one style sheet, since inline styles are forbidden."""

from __future__ import annotations

import re
from functools import cache

from pydantic import BaseModel

from sillwright.drawing import Path, Scene, to_svg

_STYLE = re.compile(r"<style>(.*?)</style>\n?", re.DOTALL)


class Drawing(BaseModel):
    """One drawing of a screen."""

    id: str
    title: str
    alt: str
    svg: str


def drawing(name: str, scene: Scene) -> Drawing:
    """Return a scene for a page, without its style."""
    return Drawing(id=name, title=scene.title, alt=scene.alt, svg=_STYLE.sub("", to_svg(scene), count=1))


@cache
def looks() -> str:
    """Return the style sheet of all drawings."""
    sample = to_svg(Scene((Path(((0.0, 0.0), (1.0, 0.0))),), title="looks", alt="looks"))
    found = _STYLE.search(sample)
    if found is None:
        raise ValueError("a drawing has no style of its own any more")
    return found[1].strip() + "\n"
