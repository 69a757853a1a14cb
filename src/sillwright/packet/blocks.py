"""What stands on a page: plain blocks of words, tables and drawings, handed to the template as JSON."""

from __future__ import annotations

import base64
import re
from dataclasses import asdict, dataclass, field
from typing import Any, Literal

from sillwright.drawing import Scene, sheet, to_svg
from sillwright.errors import OutputError
from sillwright.findings import Severity

StampWord = Literal["STOP", "FIX", "WATCH"]
ColumnStyle = Literal["plain", "ring", "path", "strong", "write"]
STAMPS: dict[Severity, StampWord] = {"stop": "STOP", "fix": "FIX", "watch": "WATCH"}

_SVG_WIDTH = re.compile(r'<svg[^>]* width="([0-9.]+)in"')
_WITH_UNIT = re.compile(r"(\d) (in|mm|ft|psf)\b")
_MIXED = re.compile(r"(\d) (\d{1,2}/(?:2|4|8|16|32|64))\b")


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """A paragraph."""

    text: str
    style: Literal["plain", "lead", "note", "strong"] = "plain"
    kind: str = "words"


@dataclass(frozen=True, slots=True, kw_only=True)
class Heading:
    """A heading inside a page."""

    text: str
    kind: str = "heading"


@dataclass(frozen=True, slots=True, kw_only=True)
class Stamp:
    """A finding: a stamped word with its frame, what it says, what to do, where that comes from."""

    word: StampWord
    text: str
    more: tuple[str, ...] = ()
    source: str = ""
    kind: str = "stamp"


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One thing to do; in a ring when the number is the one on the drawing."""

    number: str
    text: str
    ring: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Steps:
    """Things to do, in columns."""

    steps: tuple[Step, ...]
    columns: int = 1
    kind: str = "steps"


@dataclass(frozen=True, slots=True, kw_only=True)
class Fact:
    """One large figure with its name."""

    name: str
    value: str
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Facts:
    """Large figures side by side."""

    facts: tuple[Fact, ...]
    kind: str = "facts"


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One column of a table; width 0 takes what its words need, others share the rest."""

    head: str
    align: Literal["left", "right", "center"] = "left"
    width: float = 0
    style: ColumnStyle = "plain"


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """Rows under heads that repeat on every page; a marked row is bold on grey."""

    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]
    marked: frozenset[int] = frozenset()
    note: str = ""
    size: float = 9.5
    pad: float = 4.2
    kind: str = "table"


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """A drawing at its own size."""

    scene: Scene
    caption: str = ""
    indent: float = 0.0
    """From the left edge of the page's blocks [in]."""
    kind: str = "figure"

    @property
    def width(self) -> float:
        """Width on paper, as the drawing's scale has it [in]."""
        return sheet(self.scene).width


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A photo."""

    data: bytes
    media: str
    """Such as `image/webp`."""
    size: tuple[int, int]
    """Width and height in pixels."""
    width: float
    """On paper [in]."""
    alt: str
    caption: str = ""
    kind: str = "figure"

    @property
    def svg(self) -> str:
        """The photo inside a drawing, which is what the template sets."""
        wide, high = self.size
        inside = base64.b64encode(self.data).decode()
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {wide} {high}" width="{self.width}in" '
            f'height="{self.width * high / wide}in">'
            f'<image width="{wide}" height="{high}" href="data:{self.media};base64,{inside}"/></svg>'
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """Blocks side by side."""

    columns: tuple[tuple[Block, ...], ...]
    gap: float = 8
    widths: tuple[float, ...] = ()
    """Of each column [in]; without them, as wide as what stands in it."""
    kind: str = "side"


Block = Words | Heading | Stamp | Steps | Facts | Table | Figure | Picture | Side


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """One subject; runs on over as many sheets as it needs."""

    title: str
    subtitle: str = ""
    blocks: tuple[Block, ...] = field(default=())
    landscape: bool = False
    cover: bool = False


def page_data(page: Page) -> dict[str, Any]:
    """Return a page as the template reads it."""
    return {
        "title": unbroken(page.title),
        "subtitle": unbroken(page.subtitle),
        "landscape": page.landscape,
        "cover": page.cover,
        "blocks": [_block_data(block) for block in page.blocks],
    }


def _block_data(block: Block) -> dict[str, Any]:
    match block:
        case Figure():
            svg = to_svg(block.scene)
            return {
                "kind": block.kind,
                "svg": svg,
                "alt": block.scene.alt,
                "caption": unbroken(block.caption),
                "indent": block.indent,
                "width": _width(svg),
            }
        case Picture():
            return {
                "kind": block.kind,
                "svg": block.svg,
                "alt": block.alt,
                "caption": unbroken(block.caption),
                "indent": 0.0,
                "width": block.width,
            }
        case Side():
            columns = [[_block_data(one) for one in column] for column in block.columns]
            return {"kind": block.kind, "gap": block.gap, "columns": columns, "widths": block.widths}
        case Table():
            flags = ["mark" if n in block.marked else "" for n in range(len(block.rows))]
            data = {key: value for key, value in _plain(asdict(block)).items() if key != "marked"}
            return data | {"flags": flags}
        case _:
            data = _plain(asdict(block))
            return dict(data)


def _width(svg: str) -> float:
    """Return the width that a drawing states [in]: set by it, a page can neither shrink nor stretch it."""
    found = _SVG_WIDTH.search(svg)
    if found is None:
        raise OutputError("packet: a drawing states no width")
    return float(found[1])


def _plain(value: Any) -> Any:
    """Return data with no tuples, and no line break inside a mixed number."""
    match value:
        case str():
            return unbroken(value)
        case dict():
            return {key: _plain(each) for key, each in value.items()}
        case list() | tuple():
            return [_plain(each) for each in value]
        case frozenset():
            return sorted(value)
        case _:
            return value


_JOINED = "\\1\N{NO-BREAK SPACE}\\2"


def unbroken(text: str) -> str:
    """Return a text whose mixed numbers stay on one line, and with their unit: 27 3/8 in."""
    return _WITH_UNIT.sub(_JOINED, _MIXED.sub(_JOINED, text))
