"""Maps of water read back: every place with its verdict in word, shape and hatch; the weakest way."""

from __future__ import annotations

from dataclasses import replace
from xml.etree import ElementTree as ET

import pytest
from tests.drawing.dressed_walls import dressed_wall

from sillwright.drawing import (
    Hatch,
    Mark,
    MarkKind,
    Path,
    Pattern,
    Role,
    Scene,
    Text,
    overlapping_texts,
    sheet,
    to_dxf,
    to_svg,
)
from sillwright.drawing.figures import Figures
from sillwright.drawing.scene import Fill
from sillwright.drawing.water import Paper, Seen, box_map, seen_in_water, wall_map, water_maps
from sillwright.drawing.water.net import opened
from sillwright.drawing.water.seen import of_opening, weakest, worst
from sillwright.drawing.water.verdict_marks import Marker
from sillwright.water import WALL, Design, Dressing, Verdict, judge

HEAD = 0.5


def without(dressing: Dressing, *names: str) -> Dressing:
    return replace(dressing, sheets=tuple(each for each in dressing.sheets if each.name not in names))


DRY = dressed_wall()
LEAKY = without(dressed_wall(openings=2, ledger=False), "A.strip.left", "flap.1.tape.left", "A.pan")


def judged(dressing: Dressing) -> tuple[Seen, ...]:
    return seen_in_water(judge(dressing, Design(head_in_water=HEAD, cell_in=2.0)))


@pytest.fixture(scope="module")
def dry() -> tuple[Seen, ...]:
    return judged(DRY)


@pytest.fixture(scope="module")
def leaky() -> tuple[Seen, ...]:
    return judged(LEAKY)


def place(name: str, verdict: Verdict, bond: float | None = None) -> Seen:
    return Seen(place=name, words=name, verdict=verdict, bond=bond, way=(), sentence="")


# --- verdicts


def test_every_verdict_has_its_own_word_shape_and_hatch() -> None:
    marker = Marker(Figures("in"), 1.0)
    square = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)]
    looks = []
    for verdict in Verdict:
        here = place("A.sill", verdict, 1.5)
        (area,) = marker.area(square, here)
        sign = marker.sign((0.0, 0.0), verdict)
        hatch = area.pattern if isinstance(area, Hatch) else None
        looks.append((hatch, len(sign.points), sign.fill, here.told(Figures("in"))))
    assert [look[0] for look in looks] == [None, Pattern.HELD, Pattern.OPEN]
    assert len({look[1] for look in looks}) == 3
    assert [look[3] for look in looks] == ["sheds", "held 1 1/2", "open"]


def test_the_weakest_place_is_open_before_held_and_of_those_held_the_least() -> None:
    held = [place("a", Verdict.HELD, 2.0), place("b", Verdict.HELD, 0.5), place("c", Verdict.SHEDS)]
    assert weakest(held) == held[1]
    assert weakest([*held, place("d", Verdict.OPEN)]) == place("d", Verdict.OPEN)
    assert weakest(held[2:]) is None
    assert worst(held[2:]) == held[2]
    assert worst([]) is None


def test_an_opening_has_its_returns_its_wall_and_its_room_and_not_those_of_another() -> None:
    names = ["A.sill", "room.A.left", "A.wall.under", "B.sill", "AB.sill", "wall"]
    found = of_opening([place(name, Verdict.SHEDS) for name in names], "A")
    assert [each.place for each in found] == ["A.sill", "room.A.left", "A.wall.under"]


# --- the wall


def areas(scene: Scene) -> dict[str, Hatch | Path]:
    """The first filled mark of each ref."""
    found: dict[str, Hatch | Path] = {}
    for mark in scene.marks:
        whole = isinstance(mark, Path) and mark.fill is Fill.PAPER and mark.closed
        if isinstance(mark, Hatch | Path) and (whole or isinstance(mark, Hatch)):
            found.setdefault(mark.ref.removeprefix("water."), mark)
    return found


def test_every_place_on_the_wall_is_where_the_wall_has_it(leaky: tuple[Seen, ...]) -> None:
    drawn = areas(wall_map(LEAKY, leaky).scene)
    by_place = {each.place: each for each in leaky}
    zones = [zone for zone in LEAKY.complex.by_name[WALL].zones if zone.name in by_place]
    assert len(zones) == 17
    for zone in zones:
        mark = drawn[zone.name]
        xs, zs = zip(*mark.points, strict=True)
        assert (min(xs), max(xs), min(zs), max(zs)) == pytest.approx((*zone.u, *zone.v))
        hatch = mark.pattern if isinstance(mark, Hatch) else None
        wanted = {Verdict.SHEDS: None, Verdict.HELD: Pattern.HELD, Verdict.OPEN: Pattern.OPEN}
        assert hatch is wanted[by_place[zone.name].verdict], zone.name


def test_maps_fit_their_paper_and_no_words_overlap(leaky: tuple[Seen, ...], dry: tuple[Seen, ...]) -> None:
    for dressing, places in ((LEAKY, leaky), (DRY, dry)):
        for paper in (Paper(units="in"), Paper(units="mm")):
            for each in water_maps(dressing, places, paper, head=HEAD):
                assert overlapping_texts(each.scene) == (), each.title
                assert sheet(each.scene).width <= 3.5
                assert sheet(each.scene).height <= 4.2


def test_there_is_a_map_of_the_wall_and_one_of_every_opening(leaky: tuple[Seen, ...]) -> None:
    assert [each.key for each in water_maps(LEAKY, leaky)] == ["wall", "box-A", "box-B"]


def test_an_opening_shows_the_worst_that_it_has(leaky: tuple[Seen, ...]) -> None:
    scene = wall_map(LEAKY, leaky).scene
    low = worst([each for each in of_opening(leaky, "A") if not each.place.startswith("A.wall")])
    assert low is not None
    assert low.verdict is not Verdict.SHEDS
    signs = [m for m in scene.marks if isinstance(m, Path) and m.ref == low.ref]
    assert signs


def test_the_weakest_way_starts_with_a_drop_and_ends_with_an_arrow(leaky: tuple[Seen, ...]) -> None:
    made = wall_map(LEAKY, leaky)
    low = weakest(leaky)
    assert low is not None
    (line,) = [m for m in made.scene.marks if isinstance(m, Path) and m.role is Role.WATER]
    signs = {m.kind: m for m in made.scene.marks if isinstance(m, Mark)}
    assert signs[MarkKind.DROP].at == line.points[0]
    assert signs[MarkKind.ARROW].at == line.points[-1]
    x, _, z = low.way[-1][1][-1]
    assert line.points[-1] == pytest.approx((x, z))
    assert made.sentence == low.sentence
    assert low.sentence in made.scene.alt


def test_a_wall_that_sheds_has_no_arrow_and_says_so() -> None:
    places = [place(zone.name, Verdict.SHEDS) for zone in DRY.complex.by_name[WALL].zones]
    made = wall_map(DRY, places)
    assert not [m for m in made.scene.marks if isinstance(m, Mark)]
    assert made.sentence == ""
    assert "every place sheds" in made.scene.alt
    assert not [m for m in made.scene.marks if isinstance(m, Hatch) and m.ref]


def test_the_legend_has_all_three_verdicts_and_the_head(dry: tuple[Seen, ...]) -> None:
    words = {m.text for m in wall_map(DRY, dry, head=HEAD).scene.marks if isinstance(m, Text) and not m.ref}
    assert {"sheds", "held by bond (in)", "open", "with wind, a head of water of 1/2 in"} <= words


# --- laid flat


def test_faces_still_meet_where_they_share_an_edge() -> None:
    """Wall and sill, wall and head, wall and jambs, sill and dam: the same point from both sides."""
    net = opened(DRY.complex, "A")
    x0, x1, z0, z1 = 40.0, 76.0, 30.0, 80.0
    for x in (x0 + 1, 58.0, x1 - 1):
        assert net.at(WALL, (x, 0.0, z0)) == pytest.approx(net.at("A.sill", (x, 0.0, z0)))
        assert net.at(WALL, (x, 0.0, z1)) == pytest.approx(net.at("A.head", (x, 0.0, z1)))
        assert net.at("A.sill", (x, 5.0, z0)) == pytest.approx(net.at("A.dam", (x, 5.0, z0)))
    for z in (z0 + 1, 55.0, z1 - 1):
        assert net.at(WALL, (x0, 0.0, z)) == pytest.approx(net.at("A.left", (x0, 0.0, z)))
        assert net.at(WALL, (x1, 0.0, z)) == pytest.approx(net.at("A.right", (x1, 0.0, z)))


def test_cells_of_the_net_do_not_overlap_and_hold_their_places() -> None:
    net = opened(DRY.complex, "A")
    cells = list(net.cells("A"))
    for number, (_, _, one) in enumerate(cells):
        assert not any(one.overlaps(other) for _, _, other in cells[number + 1 :])
        assert not one.overlaps(net.room())
    boxes = {name: box for name, _, box in cells}
    x, z = net.at("A.left", (40.0, 2.5, 33.0))
    assert boxes["A.left.foot"].left < x < boxes["A.left.foot"].right
    assert boxes["A.left.foot"].bottom < z < boxes["A.left.foot"].top
    x, z = net.at(WALL, (36.0, 0.0, 84.0))
    assert boxes["A.wall.over.left"].left < x < boxes["A.wall.over.left"].right
    assert boxes["A.wall.over.left"].bottom < z < boxes["A.wall.over.left"].top


def test_every_place_of_an_opening_is_laid_flat_with_its_verdict(leaky: tuple[Seen, ...]) -> None:
    drawn = areas(box_map(LEAKY, "A", leaky).scene)
    own = {each.place for each in of_opening(leaky, "A") if not each.place.startswith("room.")}
    assert own <= set(drawn)
    texts = [m for m in box_map(LEAKY, "A", leaky).scene.marks if isinstance(m, Text)]
    names = {m.text for m in texts}
    assert {"sill", "head", "left jamb", "right jamb", "wall"} <= names


def test_a_way_from_elsewhere_is_drawn_from_where_it_comes_near() -> None:
    net = opened(DRY.complex, "A")
    steps = [
        ("B.sill", [(100.0, 2.0, 30.0)]),
        (WALL, [(90.0, 0.0, 50.0), (80.0, 0.0, 50.0)]),
        ("A.right", [(76.0, 1.0, 50.0)]),
    ]
    assert net.way("A", steps) == [net.at(WALL, (80.0, 0.0, 50.0)), net.at("A.right", (76.0, 1.0, 50.0))]


def test_a_tap_on_a_place_finds_its_verdict(dry: tuple[Seen, ...]) -> None:
    root = ET.fromstring(to_svg(box_map(DRY, "A", dry).scene))  # noqa: S314  our own document
    refs = {group.attrib.get("data-ref") for group in root.iter()}
    assert {"water.A.sill", "water.A.left.foot", "water.A.wall.over"} <= refs
    assert "water.A.sill" in to_dxf(box_map(DRY, "A", dry).scene)
