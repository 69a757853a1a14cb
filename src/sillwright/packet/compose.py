"""Pages to PDF or pictures: one template, one font from a package, no system fonts, no clock."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Any, Literal

import font_source_sans_pro
import typst

from sillwright.drawing import Mark, MarkKind, Role, Scene, to_svg
from sillwright.errors import OutputError
from sillwright.packet.blocks import Page, page_data

Paper = Literal["letter", "a4"]
PAPER_NAMES: dict[Paper, str] = {"letter": "us-letter", "a4": "a4"}
PAPER_SIZES: dict[Paper, tuple[float, float]] = {"letter": (8.5, 11.0), "a4": (210 / 25.4, 297 / 25.4)}
"""Width and height upright [in]. Letter: 8 1/2 x 11 in; A4: ISO 216 (from memory)."""
MARGIN_X, MARGIN_TOP, MARGIN_BOTTOM = 0.72, 0.62, 1.02
"""As in the template [in]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Packet:
    """Pages with what stands in every title block."""

    title: str
    wall: str
    fingerprint: str
    invented: bool
    paper: Paper
    pages: tuple[Page, ...]


def to_pdf(packet: Packet) -> bytes:
    """Return the packet as PDF; the same packet gives the same bytes.

    Raises: OutputError: the page maker refused it
    """
    return _single(_compile(packet, format="pdf", timestamp=0, pdf_standards=["ua-1"]))


def to_images(packet: Packet, *, ppi: float = 80.0) -> tuple[bytes, ...]:
    """Return every page as PNG, to look at.

    Raises: OutputError: the page maker refused it
    """
    made = _compile(packet, format="png", ppi=ppi)
    return (made,) if isinstance(made, bytes) else tuple(made)


def _single(made: bytes | Sequence[bytes]) -> bytes:
    return made if isinstance(made, bytes) else b"".join(made)


def _compile(packet: Packet, **options: Any) -> bytes | Sequence[bytes]:
    try:
        compiler = typst.Compiler(
            _template(),
            font_paths=_fonts(),
            ignore_system_fonts=True,
            sys_inputs={"packet": packet_json(packet)},
        )
        made = compiler.compile(**options)
    except typst.TypstError as error:
        hints = " ".join([*error.hints, "This is a fault of Sillwright, not of the job."])
        raise OutputError(
            f"packet of {packet.title!r}: the pages could not be set: {error.message}. {hints}"
        ) from error
    if made is None:
        raise OutputError(f"packet of {packet.title!r}: the page maker gave nothing back")
    return made


@cache
def _template() -> bytes:
    return files("sillwright.packet").joinpath("template.typ").read_bytes()


@cache
def _fonts() -> typst.Fonts:
    """Return the fonts, kept: reading them takes longer than setting the pages."""
    folder = Path(str(font_source_sans_pro.__file__)).parent / "files"
    return typst.Fonts(include_system_fonts=False, include_embedded_fonts=False, font_paths=[folder])


def packet_json(packet: Packet) -> str:
    """Return what the template reads."""
    return json.dumps(
        {
            "title": packet.title,
            "short_title": _short(packet.title, 150),
            "wall": _short(packet.wall, 120),
            "fingerprint": packet.fingerprint,
            "invented": packet.invented,
            "paper": PAPER_NAMES[packet.paper],
            "stamps": _stamps(),
            "pages": [page_data(page) for page in packet.pages],
        },
        ensure_ascii=False,
        sort_keys=True,
    )


@cache
def _stamps() -> dict[str, str]:
    return {
        kind.value.upper(): to_svg(_stamp(kind)) for kind in (MarkKind.STOP, MarkKind.FIX, MarkKind.WATCH)
    }


def _stamp(kind: MarkKind) -> Scene:
    mark = Mark((0.0, 0.0), kind, role=Role.STAMP, size=0.24)
    return Scene((mark,), title=f"stamp {kind.value}", alt=kind.value.upper(), margin=0.04)


def _short(text: str, most: int) -> str:
    """Return a text, or its start with an ellipsis: title blocks have two lines, the cover has it all."""
    return text if len(text) <= most else text[: most - 1].rstrip() + "…"
