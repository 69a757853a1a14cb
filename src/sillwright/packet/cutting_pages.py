"""Cutting patterns: every folded piece flat with its points, slits and corner patches at full size."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import islice

from sillwright.drawing import Scene, scale_words, sheet
from sillwright.drawing.cutting import corners_of, piece_title, pieces_drawn
from sillwright.drawing.cutting_plan import cut_patterns
from sillwright.drawing.full_size import blank_tiles, slit_templates
from sillwright.drawing.water_plan import dressing_of
from sillwright.packet.blocks import Block, Column, Figure, Page, Side, Table, Words
from sillwright.packet.pole_pages import ruler
from sillwright.packet.sheets import UNIT_WORDS, Sheets, listed, right, room, sentence
from sillwright.water.pattern_model import FlatPattern, FlatPiece, Make

_RULER = 0.66
"""Paper that the checking ruler and what is said beside it take [in]."""
_DRAWN = 2.9
"""Most height of a drawn piece [in]."""
_WORDS, _ROW, _COLUMNS = 0.5, 0.165, 4
"""Height of a title with its note, and of a row of points; points side by side [in]."""
_SLITS_ACROSS, _SLITS_DOWN = 2, 2
_EDGE = 0.16
"""Clear paper round what is drawn at full size [in]."""


def cutting_pages(sheets: Sheets) -> list[Page]:
    """Return the cutting patterns of a plan's folded pieces; none without a water plan."""
    return list(
        _pattern_pages(sheets, [each for each in _patterns(sheets) if each.make is not Make.STRETCHED])
    )


def template_pages(sheets: Sheets) -> list[Page]:
    """Return slits and corner patches at full size, with a checking ruler on every sheet."""
    patterns = _patterns(sheets)
    blanks = [each for each in patterns if each.make is Make.STRETCHED]
    return [*_slit_pages(sheets, patterns), *_blank_pages(sheets, blanks)]


def _patterns(sheets: Sheets) -> tuple[FlatPattern, ...]:
    dressing = dressing_of(sheets.job, sheets.plan)
    if dressing is None:
        return ()
    return cut_patterns(dressing, joint_lap=sheets.job.water.sizes.course_lap)


# --- pieces as they lie on the roll


def _pattern_pages(sheets: Sheets, patterns: list[FlatPattern]) -> Iterator[Page]:
    width, height = room(sheets.paper)
    blocks: list[Block] = []
    used, pages = 0.0, list[tuple[Block, ...]]()
    for pattern in patterns:
        scenes = pieces_drawn(pattern, units=sheets.plan.units, width=width, height=_DRAWN)
        for number, (piece, scene) in enumerate(zip(pattern.pieces, scenes, strict=True), 1):
            rows = -(-len(corners_of(piece)) // _COLUMNS) + 1
            needed = sheet(scene).height + _WORDS + rows * _ROW + 0.3
            if blocks and used + needed > height:
                pages.append(tuple(blocks))
                blocks, used = [], 0.0
            blocks += _drawn(sheets, pattern, piece, scene, number)
            used += needed
    if blocks:
        pages.append(tuple(blocks))
    note = (
        f"Seen from the outer side. Points in {UNIT_WORDS[sheets.plan.units]}: along the roll from the left "
        "end, across it from its lower edge. Fold solid lines up toward you, dashed ones down. "
        "Arrows: up on the wall."
    )
    for n, page in enumerate(pages, 1):
        part = f", sheet {n} of {len(pages)}" if len(pages) > 1 else ""
        yield Page(title=f"Cutting patterns{part}", subtitle=note, blocks=page)


def _drawn(
    sheets: Sheets, pattern: FlatPattern, piece: FlatPiece, scene: Scene, number: int
) -> Iterator[Block]:
    yield Words(text=piece_title(pattern, number).removeprefix("Cutting pattern: "), style="strong")
    yield Figure(scene=scene, caption=_caption(pattern, piece, scene))
    yield _points(sheets, piece)


def _caption(pattern: FlatPattern, piece: FlatPiece, scene: Scene) -> str:
    scale = scale_words(scene).replace("heights stretched", "stretched across the roll")
    parts = [f"Scale {scale}."]
    if piece.pleats:
        parts.append("The squares at the room-side corners are folded in as pleats, not cut.")
    if piece.size.shy > 1 / 64:
        parts.append("The roll is a little narrower: the outer edge comes out shy.")
    patched = [patch.words for patch in pattern.patches]
    if patched:
        parts.append(f"Does not hold: {listed(tuple(patched))}. Patch there.")
    return " ".join(parts)


def _points(sheets: Sheets, piece: FlatPiece) -> Table:
    """Return the points to mark, several side by side."""
    place = sheets.figures.place
    cells = [(str(n), place(x), place(y)) for n, (x, y) in enumerate(corners_of(piece), 1)]
    rows = -(-len(cells) // _COLUMNS)
    lines = [
        tuple(cell for column in range(_COLUMNS) for cell in _cell(cells, column * rows + row))
        for row in range(rows)
    ]
    columns: list[Column] = []
    for _ in range(_COLUMNS):
        columns += [right("point", width=1), right("along", width=1), right("across", width=1)]
    return Table(columns=tuple(columns), rows=tuple(lines), size=8.0, pad=1.6)


def _cell(cells: list[tuple[str, str, str]], place: int) -> tuple[str, str, str]:
    return cells[place] if place < len(cells) else ("", "", "")


# --- at full size


def _slit_pages(sheets: Sheets, patterns: Sequence[FlatPattern]) -> Iterator[Page]:
    width, height = room(sheets.paper)
    side = min((width - 0.2) / _SLITS_ACROSS, (height - _RULER) / _SLITS_DOWN - 0.5)
    found = [
        scene
        for pattern in patterns
        if pattern.make is Make.FOLDED
        for scene in slit_templates(pattern, units=sheets.plan.units, side=side)
    ]
    groups = list(_groups(found, _SLITS_ACROSS * _SLITS_DOWN))
    for n, group in enumerate(groups, 1):
        rows = [
            Side(
                columns=tuple((Figure(scene=scene), Words(text=_short(scene.title))) for scene in row), gap=6
            )
            for row in _groups(group, _SLITS_ACROSS)
        ]
        yield _full_size(sheets, "Slits", n, len(groups), rows)


def _short(title: str) -> str:
    return title.removesuffix(", full size")


def _blank_pages(sheets: Sheets, patterns: list[FlatPattern]) -> Iterator[Page]:
    """Yield the corner patches, each kind once for all corners where it comes out alike, right ones too."""
    tiles = []
    for group in _alike(patterns):
        largest = max(group, key=_reach)
        stretch = max((each.percent for piece in largest.pieces for each in piece.stretches), default=0.0)
        upright, lying = (_tiles(sheets, largest, landscape=way) for way in (False, True))
        landscape = len(lying) < len(upright)
        made = lying if landscape else upright
        for n, tile in enumerate(made, 1):
            part = f" Part {n} of {len(made)}: butt at the dashed lines." if len(made) > 1 else ""
            said = f"{_for_which(group, largest)}.{part} Cut at least this; it stretches {stretch:.0f} %."
            tiles.append((tile, said, landscape))
    for n, (tile, said, landscape) in enumerate(tiles, 1):
        blocks: list[Block] = [Words(text=said), Figure(scene=tile)]
        yield replace(_full_size(sheets, "Corner patches", n, len(tiles), blocks), landscape=landscape)


def _tiles(sheets: Sheets, pattern: FlatPattern, *, landscape: bool) -> tuple[Scene, ...]:
    width, height = room(sheets.paper, landscape=landscape)
    paper = width - _EDGE, height - _RULER - 0.6
    return blank_tiles(pattern, units=sheets.plan.units, width=paper[0], height=paper[1])


_ALIKE = 0.5
"""Patches whose cut sizes differ by no more are cut by one template, the largest [in]."""


def _alike(patterns: list[FlatPattern]) -> list[list[FlatPattern]]:
    """Return corner patches in groups: of one kind and nearly one size, whichever hand and opening."""
    groups: dict[str, list[list[FlatPattern]]] = {}
    for pattern in sorted(patterns, key=lambda each: (_reach(each), each.words)):
        kind = re.sub(r"\b(left|right|first)\b| of [A-Z]\w*", "", pattern.words)
        own = groups.setdefault(kind.strip(), [[]])
        if own[-1] and _reach(pattern) - _reach(own[-1][0]) > _ALIKE:
            own.append([])
        own[-1].append(pattern)
    return [group for own in groups.values() for group in own]


def _reach(pattern: FlatPattern) -> float:
    return max(max(piece.size.along, piece.size.across) for piece in pattern.pieces)


def _for_which(group: list[FlatPattern], drawn: FlatPattern) -> str:
    """Return which corners a template serves, and which of them with the paper turned over."""
    hand = "left" if "left" in drawn.words else "right"
    same = [pattern.words for pattern in group if hand in pattern.words]
    turned = [pattern.words for pattern in group if hand not in pattern.words]
    over = f"; turned over: {_at_openings(turned)}" if turned else ""
    return f"{sentence(_at_openings(same)).removesuffix('.')}{over}"


def _at_openings(words: list[str]) -> str:
    """Return pieces in words, those that differ by their opening alone as one."""
    found: dict[str, list[str]] = {}
    for each in words:
        what, of, opening = each.rpartition(" of ")
        found.setdefault(what if of else each, []).extend([opening] if of else [])
    told = [f"{what} of {listed(tuple(sorted(names)))}" if names else what for what, names in found.items()]
    return "; ".join(sorted(told))


def _full_size(sheets: Sheets, title: str, number: int, count: int, blocks: Sequence[Block]) -> Page:
    note = "Full size. Print at 100 %, check the ruler, cut at the lines and mark through the cross."
    part = f", sheet {number} of {count}" if count > 1 else ""
    return Page(
        title=f"{title} at full size{part}", subtitle=note, blocks=(Figure(scene=ruler(sheets.plan)), *blocks)
    )


def _groups(items: list[Scene], size: int) -> Iterator[list[Scene]]:
    left = iter(items)
    while group := list(islice(left, size)):
        yield group
