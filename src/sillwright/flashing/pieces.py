"""The pieces of a dressed opening, one function each: what is cut, where it is folded, what stays open."""

from __future__ import annotations

from dataclasses import dataclass, field

from sillwright.flashing.lay import LEAST, cut_to_wall, sheet_of
from sillwright.flashing.lay import field as field_of
from sillwright.flashing.practice import PanMake, Rolls, SetUnit, Sizes
from sillwright.water import WALL, Join, Kind, Panel, RoughOpening, Seam, Sheet, Span, Stock, WallFace


@dataclass(slots=True)
class Cutting:
    """A piece while it is being laid out: panels that fell away take their seams with them."""

    wall: WallFace
    own: RoughOpening | None
    panels: dict[str, Panel] = field(default_factory=dict)
    seams: list[Seam] = field(default_factory=list)

    def on_wall(self, name: str, u: Span, v: Span, *, bonded: bool = True) -> Cutting:
        """Add a panel on the wall, cut to what is there."""
        rect = cut_to_wall(self.wall, self.own, (u, v))
        if rect is not None:
            self.panels[name] = Panel(name=name, facet=WALL, u=rect[0], v=rect[1], bonded=bonded)
        return self

    def on(self, name: str, facet: str, u: Span, v: Span, *, bonded: bool = True) -> Cutting:
        """Add a panel on another facet."""
        if u[1] - u[0] > LEAST and v[1] - v[0] > LEAST:
            self.panels[name] = Panel(name=name, facet=facet, u=u, v=v, bonded=bonded)
        return self

    def join(self, one: str, *others: str, how: Join = Join.FOLD) -> Cutting:
        """Join a panel to others."""
        self.seams += [Seam(one, other, how) for other in others]
        return self

    def sheet(self, name: str, words: str, kind: Kind, stock: Stock) -> Sheet | None:
        """Return the piece; None: nothing of it is left."""
        if not self.panels:
            return None
        seams = tuple(each for each in self.seams if {each.one, each.other} <= set(self.panels))
        opening = self.own.name if self.own else None
        panels = tuple(self.panels.values())
        return Sheet(
            name=name,
            words=words,
            kind=kind,
            stock=stock,
            panels=panels,
            seams=seams,
            laid=0,
            opening=opening,
        )


SIDES = ("left", "right")
PAST = 2.0
"""How far the sheets at a ledger run past its ends, inches."""


def beside(opening: RoughOpening, side: str, near: float, far: float) -> Span:
    """Return the span on the wall from `near` to `far` inches away from a jamb."""
    x = opening.x[0] if side == "left" else opening.x[1]
    return (x - far, x - near) if side == "left" else (x + near, x + far)


def within(opening: RoughOpening, side: str, width: float) -> Span:
    """Return the first inches of the sill or head at a jamb."""
    return (opening.x[0], opening.x[0] + width) if side == "left" else (opening.x[1] - width, opening.x[1])


def apron(opening: RoughOpening, roll: Stock) -> float:
    """Return how much of the pan's roll is left to hang down the wall, inches."""
    width = roll.width if roll.width is not None else opening.depth + opening.dam + 4.0
    return width - opening.depth - opening.dam


def corner_patch(
    wall: WallFace, own: RoughOpening, side: str, part: str, sizes: Sizes, rolls: Rolls
) -> Sheet | None:
    """Return a stretching patch round the weather-side corner of a sill or head.

    The angles there add up to more than 360 degrees: no flat sheet covers the point.
    """
    p, n = sizes.patch, own.name
    at_sill = part == "sill"
    z = own.z[0] if at_sill else own.z[1]
    out, into = ((z - p, z), (z, z + p)) if at_sill else ((z, z + p), (z - p, z))
    cut = Cutting(wall, own)
    cut.on(part, f"{n}.{part}", within(own, side, p), (0.0, min(p, own.depth)))
    cut.on(side, f"{n}.{side}", (0.0, min(p, own.depth)), into)
    cut.on_wall("past", within(own, side, p), out)
    cut.on_wall("corner", beside(own, side, 0.0, p), out)
    cut.on_wall("beside", beside(own, side, 0.0, p), into)
    cut.join("corner", "past", "beside").join(part, "past").join(side, "beside").join(
        part, side, how=Join.FORMED
    )
    words = f"corner patch, {side} {part} corner of {n}"
    return cut.sheet(f"{n}.patch.{part}.{side}", words, Kind.PATCH, rolls.patch)


def pan(wall: WallFace, own: RoughOpening, make: PanMake, sizes: Sizes, rolls: Rolls) -> Sheet | None:
    """Return the pan: sill, up the back dam and the jambs, down the wall.

    Cut and patched, it is slit at both front corners, and its upturns fold out on the wall.
    """
    n, depth = own.name, own.depth
    metal = make is PanMake.FORMED
    stock = rolls.metal if metal else rolls.pan
    hang, up = apron(own, stock), own.z[0] + sizes.upturn
    bonded = not metal
    cut = Cutting(wall, own)
    cut.on("sill", f"{n}.sill", own.x, (0.0, depth), bonded=bonded)
    cut.on_wall("apron", own.x, (own.z[0] - hang, own.z[0]), bonded=bonded)
    cut.join("sill", "apron")
    if own.dam > 0:
        cut.on("dam", f"{n}.dam", own.x, (own.z[0], own.z[0] + own.dam), bonded=bonded)
        cut.join("sill", "dam")
    how = Join.FORMED if metal else Join.FOLD
    for side in SIDES:
        cut.on(side, f"{n}.{side}", (0.0, depth), (own.z[0], up), bonded=bonded)
        cut.on_wall(f"{side} wing", beside(own, side, 0.0, hang), (own.z[0], up), bonded=bonded)
        cut.join(side, "sill", f"{side} wing", how=how)
        cut.join(side, "dam", how=Join.FORMED if metal else Join.PLEAT)
        if make is not PanMake.PATCHED:
            cut.on_wall(
                f"{side} ear", beside(own, side, 0.0, hang), (own.z[0] - hang, own.z[0]), bonded=bonded
            )
            cut.join(f"{side} ear", "apron", f"{side} wing", how=Join.FORMED)
    return cut.sheet(f"{n}.pan", f"pan of {n}", Kind.METAL if metal else Kind.PAN, stock)


def unit(wall: WallFace, own: RoughOpening, set_unit: SetUnit, sizes: Sizes) -> Sheet | None:
    """Return the unit: fins bedded at head and sides, open at the sill, sealed to the room all round."""
    n, fin = own.name, set_unit.fin
    back = min(own.front + set_unit.depth, own.depth)
    seal = back - sizes.bead
    cut = Cutting(wall, own)
    for part, along in (("sill", own.x), ("head", own.x)):
        cut.on(part, f"{n}.{part}", along, (own.front, seal), bonded=False)
        cut.on(f"{part} seal", f"{n}.{part}", along, (seal, back))
        cut.join(part, f"{part} seal")
    for side in SIDES:
        cut.on(side, f"{n}.{side}", (own.front, seal), own.z, bonded=False)
        cut.on(f"{side} seal", f"{n}.{side}", (seal, back), own.z)
        cut.join(side, f"{side} seal", "sill", "head").join(f"{side} seal", "sill seal", "head seal")
    if fin is not None:
        _fins(cut, own, fin)
    else:
        _outer_beads(cut, own, sizes)
    return cut.sheet(f"{n}.unit", f"unit of {n}", Kind.UNIT, Stock(name="unit", family="rigid PVC"))


def _fins(cut: Cutting, own: RoughOpening, fin: float) -> None:
    (x0, x1), (z0, z1) = own.x, own.z
    cut.on_wall("sill fin", own.x, (z0 - fin, z0), bonded=False)
    cut.on_wall("head fin", (x0 - fin, x1 + fin), (z1, z1 + fin))
    cut.join("sill fin", "sill").join("head fin", "head")
    for side in SIDES:
        cut.on_wall(f"{side} fin", beside(own, side, 0.0, fin), (z0 - fin, z1))
        cut.join(f"{side} fin", side, "sill fin", "head fin")


def _outer_beads(cut: Cutting, own: RoughOpening, sizes: Sizes) -> None:
    """Turn the front of the joint into a bead at the head and the jambs; the sill stays open to drain."""
    n, (front, bead) = own.name, (own.front, own.front + sizes.bead)
    for part in ("head", *SIDES):
        whole = cut.panels[part]
        along_v = part == "head"
        depth = whole.v if along_v else whole.u
        rest = (bead, depth[1])
        span = (whole.u, rest) if along_v else (rest, whole.v)
        cut.panels[part] = Panel(name=part, facet=whole.facet, u=span[0], v=span[1], bonded=False)
        strip = (whole.u, (front, bead)) if along_v else ((front, bead), whole.v)
        cut.on(f"{part} bead", f"{n}.{part}", *strip)
        cut.join(part, f"{part} bead")
    cut.join("head bead", "left bead", "right bead").join("sill", "left bead", "right bead")


def jamb_strip(
    wall: WallFace,
    own: RoughOpening,
    side: str,
    low: float,
    sizes: Sizes,
    rolls: Rolls,
    *,
    fold_in: float = 0.0,
) -> Sheet | None:
    """Return a strip down a jamb, from above the head to `low`; under a fin it is folded into the opening."""
    n = own.name
    width = rolls.strip.width if rolls.strip.width is not None else sizes.strip
    out = min(sizes.strip, width - fold_in)
    cut = Cutting(wall, own).on_wall("strip", beside(own, side, 0.0, out), (low, own.z[1] + sizes.above_fin))
    if fold_in > 0:
        cut.on("fold", f"{n}.{side}", (0.0, min(fold_in, own.depth)), own.z).join("strip", "fold")
    return cut.sheet(f"{n}.strip.{side}", f"{side} jamb strip of {n}", Kind.STRIP, rolls.strip)


def head_strip(wall: WallFace, own: RoughOpening, sizes: Sizes, rolls: Rolls) -> Sheet | None:
    """Return the strip over the head: over the fin and over the tops of the jamb strips."""
    reach = sizes.strip + sizes.beyond
    cut = Cutting(wall, own).on_wall(
        "strip", (own.x[0] - reach, own.x[1] + reach), (own.z[1], own.z[1] + sizes.head_strip)
    )
    return cut.sheet(f"{own.name}.strip.head", f"head strip of {own.name}", Kind.STRIP, rolls.strip)


def lining(wall: WallFace, own: RoughOpening, side: str, sizes: Sizes, rolls: Rolls) -> Sheet | None:
    """Return the lining of a jamb or of the head: full depth of the opening, and out on the wall."""
    n, k, depth = own.name, sizes.lining, own.depth
    cut = Cutting(wall, own)
    if side == "head":
        cut.on("head", f"{n}.head", own.x, (0.0, depth))
        cut.on_wall("wall", (own.x[0] - k, own.x[1] + k), (own.z[1], own.z[1] + k)).join("head", "wall")
        for end in SIDES:
            cut.on(end, f"{n}.{end}", (0.0, depth), (own.z[1] - 2.0, own.z[1])).join("head", end)
    else:
        cut.on(side, f"{n}.{side}", (0.0, depth), (own.z[0] + 1.0, own.z[1]))
        cut.on_wall("wall", beside(own, side, 0.0, k), (own.z[0] + 1.0, own.z[1])).join(side, "wall")
    words = f"head lining of {n}" if side == "head" else f"{side} jamb lining of {n}"
    return cut.sheet(f"{n}.lining.{side}", words, Kind.STRIP, rolls.pan)


def nosing(wall: WallFace, own: RoughOpening, rolls: Rolls) -> Sheet | None:
    """Return the metal nosing before a unit that stands back: sill to drip, with end dams."""
    n, front = own.name, own.front
    cut = Cutting(wall, own)
    cut.on("sill", f"{n}.sill", own.x, (0.0, front), bonded=False)
    cut.on_wall("leg", own.x, (own.z[0] - 1.0, own.z[0]), bonded=False).join("sill", "leg")
    for side in SIDES:
        cut.on(side, f"{n}.{side}", (0.0, front), (own.z[0], own.z[0] + 1.0), bonded=False)
        cut.join("sill", side, how=Join.FORMED)
    return cut.sheet(f"{n}.nosing", f"sill nosing of {n}", Kind.METAL, rolls.metal)


def ledger_pieces(wall: WallFace, sizes: Sizes, rolls: Rolls) -> list[Sheet]:
    """Return what keeps a ledger's wall dry: backing sheet, the board, its end patches, the ledger sheet."""
    board = wall.ledger
    if board is None:
        return []
    (x0, x1), (z0, z1), t = board.x, board.z, board.thickness
    low = z1 - min(sizes.ledger_down, z1 - z0)
    past = (max(x0 - PAST, wall.x[0]), min(x1 + PAST, wall.x[1]))
    holes = [(each.x, each.z) for each in wall.openings]
    behind, joined = sheet_of(WALL, "sheet", field_of((past, (z0 - 1.0, z1 + PAST)), holes), bonded=True)
    backing = Sheet(
        name="ledger.backing",
        words="backing sheet behind the ledger",
        kind=Kind.BACKING,
        stock=rolls.backing,
        panels=tuple(behind),
        seams=tuple(joined),
        laid=0,
    )
    body = Sheet(
        name="ledger",
        words="ledger",
        kind=Kind.MOUNT,
        stock=Stock(name="ledger", family="copper-treated wood"),
        panels=(Panel(name="board", facet=WALL, u=board.x, v=board.z, bonded=False),),
        laid=0,
    )
    cut = Cutting(wall, None)
    upturn, joined = sheet_of(
        WALL, "up", field_of((past, (z1, min(z1 + sizes.ledger_up, wall.z[1]))), holes), bonded=True
    )
    cut.panels |= {panel.name: panel for panel in upturn}
    cut.seams += joined
    cut.on("top", "ledger.top", board.x, (0.0, t)).on("face", "ledger.face", board.x, (low, z1))
    cut.join("top", "face", *(panel.name for panel in upturn if panel.v[0] == z1))
    for side in SIDES:
        cut.on(side, f"ledger.{side}", (0.0, t), (low, z1))
        cut.join("top", side).join("face", side, how=Join.PLEAT)
    sheet = cut.sheet("ledger.sheet", "ledger sheet", Kind.LEDGER_SHEET, rolls.ledger)
    ends = [ledger_end_patch(wall, side, rolls) for side in SIDES]
    return [backing, body, *(each for each in (*ends, sheet) if each)]


def ledger_end_patch(wall: WallFace, side: str, rolls: Rolls) -> Sheet | None:
    """Return the stretching patch at an upper end of the ledger, where wall, top and end meet."""
    board = wall.ledger
    if board is None:
        return None
    x = board.x[0] if side == "left" else board.x[1]
    z, t, p = board.z[1], board.thickness, PAST
    inner = (x, x + p) if side == "left" else (x - p, x)
    outer = (x - p, x) if side == "left" else (x, x + p)
    top = min((each.z[0] for each in wall.openings if _over(each, board.x)), default=wall.z[1])
    up = (z, min(z + p, top))
    cut = Cutting(wall, None)
    cut.on("top", "ledger.top", inner, (0.0, t)).on("end", f"ledger.{side}", (0.0, t), (z - p, z))
    cut.on("face", "ledger.face", inner, (z - p, z))
    for name, u, v in (("above", inner, up), ("corner", outer, up), ("past", outer, (z - p, z))):
        cut.on(name, WALL, u, v)
    cut.join("top", "above", "face").join("corner", "above", "past").join("end", "past")
    cut.join("top", "end", how=Join.FORMED).join("face", "end", how=Join.FORMED)
    words = f"ledger end patch, {side}"
    return cut.sheet(f"ledger.patch.{side}", words, Kind.PATCH, rolls.patch)


def _over(opening: RoughOpening, span: Span) -> bool:
    return opening.x[0] < span[1] and span[0] < opening.x[1]
