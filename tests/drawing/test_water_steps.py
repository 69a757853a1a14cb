"""Step pictures read back: every act has one, shows what a viewer would see, and says what matters."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from xml.etree import ElementTree as ET

import ezdxf
import numpy as np
import pytest
from tests.drawing.dressed_walls import SCHEMES, dressed_wall

from sillwright.drawing import (
    Hatch,
    Mark,
    MarkKind,
    Path,
    Pattern,
    Point,
    Role,
    Scene,
    Text,
    overlapping_texts,
    sheet,
    to_dxf,
    to_svg,
)
from sillwright.drawing.scene import AnyItem, Fill
from sillwright.drawing.water import Paper, Step, acts, step_picture, step_pictures
from sillwright.drawing.water.acts import Standing, standings
from sillwright.drawing.water.paint import Painter
from sillwright.drawing.water.square import squared
from sillwright.drawing.water.view import View
from sillwright.drawing.water.windows import framed
from sillwright.errors import OutOfRange
from sillwright.flashing import PanMake
from sillwright.water import WALL, Dressing, Kind


@pytest.fixture(scope="module", params=SCHEMES)
def steps(request: pytest.FixtureRequest) -> list[Step]:
    return list(step_pictures(SCHEMES[request.param]))


@pytest.fixture(scope="module")
def usual() -> dict[str, Step]:
    return {step.key: step for step in step_pictures(dressed_wall())}


# --- the acts


def test_every_piece_and_every_flap_is_an_act_in_the_order_of_work() -> None:
    for dressing in SCHEMES.values():
        found = acts(dressing)
        assert [act.number for act in found] == list(range(1, len(found) + 1))
        laid = [act.panels[0].laid or act.sheet.laid for act in found]
        assert laid == sorted(laid)
        panels = [(act.sheet.name, panel.name) for act in found for panel in act.panels]
        every = [(each.name, panel.name) for each in dressing.sheets for panel in each.panels]
        assert sorted(panels) == sorted(every)


def test_a_flap_comes_down_after_the_head_strip_and_before_the_tapes_over_its_cuts() -> None:
    order = [act.key for act in acts(dressed_wall())]
    flap = order.index("wrap.upper.flap-1")
    assert order.index("A.strip.head") < flap < order.index("flap.1.tape.left")


def test_an_act_that_does_not_exist_is_refused() -> None:
    with pytest.raises(OutOfRange, match="there are acts 1 to 19, no act 20"):
        step_picture(dressed_wall(), 20)


# --- every picture


def test_every_act_has_one_picture_with_its_number_in_crayon(steps: list[Step]) -> None:
    for number, step in enumerate(steps, 1):
        balloons = [m for m in step.scene.marks if isinstance(m, Mark) and m.kind is MarkKind.BALLOON]
        assert [(each.text, each.role) for each in balloons] == [(str(number), Role.CRAYON)]
        assert step.number == number


def test_pictures_fit_their_paper_and_no_words_overlap(steps: list[Step]) -> None:
    for step in steps:
        assert overlapping_texts(step.scene) == (), step.key
        assert sheet(step.scene).width <= 3.5, step.key
        assert sheet(step.scene).height <= 4.2, step.key


def test_only_the_new_piece_is_hatched_in_its_own_pattern(steps: list[Step]) -> None:
    for step in steps:
        hatched = {mark.ref for mark in step.scene.marks if isinstance(mark, Hatch)}
        assert hatched == {f"piece.{re.sub(r'[.]flap-.*', '', step.key)}"}, step.key
        assert len({mark.pattern for mark in step.scene.marks if isinstance(mark, Hatch)}) == 1


def test_a_pattern_a_material(usual: dict[str, Step]) -> None:
    patterns = {
        key: next(mark.pattern for mark in step.scene.marks if isinstance(mark, Hatch))
        for key, step in usual.items()
    }
    assert patterns["wrap.upper"] is Pattern.WRAP
    assert patterns["A.pan"] is patterns["A.strip.head"] is Pattern.MEMBRANE
    assert patterns["A.patch.sill.left"] is Pattern.STRETCH
    assert patterns["ledger"] is Pattern.WOOD
    metal = {step.key: step for step in step_pictures(dressed_wall(pan=PanMake.FORMED))}["A.pan"]
    assert {mark.pattern for mark in metal.scene.marks if isinstance(mark, Hatch)} == {Pattern.METAL}


def test_a_sentence_tells_what_to_do_and_describes_the_picture(steps: list[Step]) -> None:
    verbs = {"Hang", "Roll", "Set", "Stretch", "Fold", "Lay", "Bring", "Tape", "Run"}
    for step in steps:
        assert step.sentence.split()[0] in verbs
        assert step.sentence.endswith(".")
        assert "!" not in step.sentence
        assert step.scene.alt == step.sentence


# --- what is drawn where


def painter(dressing: Dressing, number: int, *, left: bool, above: bool) -> Painter:
    """The whole wall, nothing drawn short."""
    now = list(standings(squared(dressing)))[number - 1]
    wall = now.dressing.complex.by_name[WALL]
    return Painter(now, View(from_left=left, from_above=above), (wall.u, wall.v))


def filled(marks: list[AnyItem]) -> Iterator[tuple[str, np.ndarray]]:
    for mark in marks:
        if isinstance(mark, Hatch) or (isinstance(mark, Path) and mark.fill is not Fill.NONE):
            yield mark.ref, np.array(mark.points)


def holds(outline: np.ndarray, p: Point) -> bool:
    """Even and odd crossings of a ray to the right; the cut into a hole is crossed twice."""
    a, b = outline, np.roll(outline, -1, axis=0)
    up = (a[:, 1] > p[1]) != (b[:, 1] > p[1])
    with np.errstate(divide="ignore", invalid="ignore"):
        x = a[:, 0] + (p[1] - a[:, 1]) / (b[:, 1] - a[:, 1]) * (b[:, 0] - a[:, 0])
    return bool(np.sum(up & (x > p[0])) % 2)


def met_first(now: Standing, view: View, p: Point, *, around: float) -> set[str]:
    """What a ray through points of the picture meets first, by ray casting: the pieces' refs, none for wood.

    All points within a small square are tried, since layers are drawn a little apart.
    """
    right, up, toward = view._axes()
    return {
        _hit(now, (p[0] + dx) * right + (p[1] + dz) * up, toward)
        for dx in (-around, 0.0, around)
        for dz in (-around, 0.0, around)
    }


def _hit(now: Standing, origin: np.ndarray, toward: np.ndarray) -> str:
    shape = now.dressing.complex
    best, ref = -np.inf, "past"
    for facet in shape.facets:
        mount = next((m for m in shape.mounts if facet.name in m.faces), None)
        if mount is not None and now.mounted(mount.name) is None:
            continue
        a, b, _, d = (np.array(corner) for corner in facet.corners)
        s, t, n = np.linalg.solve(np.column_stack([b - a, d - a, -toward]), origin - a)
        if not (0 < s < 1 and 0 < t < 1) or n <= best:
            continue
        u, v = facet.u[0] + s * (facet.u[1] - facet.u[0]), facet.v[0] + t * (facet.v[1] - facet.v[0])
        if any(x[0] < u < x[1] and z[0] < v < z[1] for x, z in facet.holes):
            continue
        best, ref = n, _top(now, facet.name, u, v) or (f"piece.{mount.name}" if mount else "")
    for opening in ("A", "B"):
        best, ref = _unit(now, opening, origin, toward, best, ref)
    return ref


def _top(now: Standing, facet: str, u: float, v: float) -> str:
    """The ref of the last piece laid over a place."""
    found = ""
    for act, panel in now.laid():
        on = panel.facet == facet and panel.u[0] < u < panel.u[1] and panel.v[0] < v < panel.v[1]
        if on and act.sheet.kind is not Kind.MOUNT and (act.sheet.kind is not Kind.UNIT or facet == WALL):
            found = act.ref
    return found


def _unit(
    now: Standing, opening: str, origin: np.ndarray, toward: np.ndarray, best: float, ref: str
) -> tuple[float, str]:
    """A set unit closes its opening at its front."""
    act = now.unit_on(opening)
    if act is None:
        return best, ref
    front = min(panel.u[0] for panel in act.panels if panel.facet == f"{opening}.left")
    n = (front - origin[1]) / toward[1]
    x, _, z = origin + n * toward
    sill, left = (now.dressing.complex.by_name[f"{opening}.{part}"] for part in ("sill", "left"))
    inside = sill.u[0] < x < sill.u[1] and left.v[0] < z < left.v[1]
    return (n, act.ref) if inside and n > best else (best, ref)


HAIR = (-0.35, 0.0, 0.35)


def painted(shown: list[tuple[str, np.ndarray]], p: Point) -> str:
    """The ref of what is painted last at a place."""
    return next((ref for ref, outline in reversed(shown) if holds(outline, p)), "past")


@pytest.mark.parametrize("scheme", SCHEMES)
@pytest.mark.parametrize(("left", "above"), [(True, True), (False, True), (True, False)])
def test_every_spot_shows_what_a_ray_meets_first(scheme: str, left: bool, above: bool) -> None:
    dressing = SCHEMES[scheme]
    rng = np.random.default_rng(4)
    plain = [now.act.number for now in standings(dressing) if not now.held_up()]
    compared = 0
    for number in (plain[len(plain) // 3], plain[-1]):
        one = painter(dressing, number, left=left, above=above)
        shown = list(filled(list(one.paint())))
        whole = np.array([point for _, outline in shown for point in outline])
        hole = np.array(one.hole("A"))
        spots = [rng.uniform(whole.min(axis=0), whole.max(axis=0), (40, 2))]
        spots += [rng.uniform(corner - 4, corner + 4, (40, 2)) for corner in hole]
        for p in np.concatenate(spots):
            met = met_first(one.now, one.view, (p[0], p[1]), around=0.8)
            if len(met) == 1 and met != {"past"}:
                # layers stand out a little, so that a hair of what lies below shows beside a fold
                seen = {painted(shown, (p[0] + dx, p[1] + dz)) for dx in HAIR for dz in HAIR}
                assert met & seen, p
                compared += 1
    assert compared > 100


def test_what_is_on_is_in_pencil_and_what_comes_later_is_not_there(usual: dict[str, Step]) -> None:
    order = [act.sheet.name for act in acts(dressed_wall())]
    pan = usual["A.pan"]
    drawn = {mark.ref.removeprefix("piece.") for mark in pan.scene.marks if mark.ref.startswith("piece.")}
    assert drawn <= set(order[: pan.number])
    assert {"wrap.upper", "A.patch.sill.left"} <= drawn
    before = [m for m in pan.scene.marks if m.ref == "piece.A.patch.sill.left" and isinstance(m, Path)]
    assert {mark.role for mark in before} == {Role.PENCIL}


def crayon(scene: Scene) -> list[Path]:
    return [mark for mark in scene.marks if isinstance(mark, Path) and mark.role is Role.CRAYON]


def in_picture(dressing: Dressing, number: int, facet: str, *places: Point) -> list[Point]:
    """Where places of a face are in an act's picture, by the picture's own view."""
    now = list(standings(squared(dressing)))[number - 1]
    window, view = framed(now)
    one = Painter(now, view, window)
    return one.points(one.facet(facet), places)


def near(line: Path, place: Point, by: float = 0.6) -> bool:
    return any(np.hypot(x - place[0], y - place[1]) < by for x, y in line.points)


def test_the_slits_of_a_pan_open_at_the_front_corners(usual: dict[str, Step]) -> None:
    pan = usual["A.pan"]
    thick = [mark for mark in crayon(pan.scene) if mark.weight == 0.8]
    corners = in_picture(dressed_wall(), pan.number, WALL, (40.0, 30.0), (76.0, 30.0))
    assert [sum(near(line, corner) for line in thick) for corner in corners] == [2, 2]
    assert len(thick) == 4


def test_the_folds_of_a_pan_are_dashed_along_sill_and_dam(usual: dict[str, Step]) -> None:
    pan = usual["A.pan"]
    dashed = [m for m in pan.scene.marks if isinstance(m, Path) and m.hidden and m.role is Role.NEW]
    for facet, start, end in (("A.sill", (40.0, 0.0), (76.0, 0.0)), ("A.dam", (50.0, 30.0), (76.0, 30.0))):
        _, right = in_picture(dressed_wall(), pan.number, facet, start, end)
        assert any(near(line, right) for line in dashed), facet


def test_the_roller_goes_over_bonded_pieces_only(usual: dict[str, Step]) -> None:
    def arrows(key: str) -> int:
        marks = usual[key].scene.marks
        return sum(isinstance(m, Mark) and m.kind is MarkKind.ARROW for m in marks)

    assert arrows("A.strip.head") == 2
    assert arrows("A.pan") >= 5
    for loose in ("wrap.lower", "wrap.upper", "ledger", "A.unit"):
        assert arrows(loose) == 0


def figures(step: Step) -> set[str]:
    return {mark.text for mark in step.scene.marks if isinstance(mark, Text)}


def test_upturn_hang_and_lap_are_written_as_a_tape_says_them(usual: dict[str, Step]) -> None:
    assert {"6", "5 3/4", "1"} <= figures(usual["A.pan"])
    assert {"6", "4"} <= figures(usual["A.strip.left"])
    assert {"lap 4", "6", "7"} <= figures(usual["A.strip.head"])
    assert "lap 2" in figures(usual["wrap.upper.flap-1"])


def test_a_metric_job_has_millimetres() -> None:
    step = step_picture(dressed_wall(), 10, Paper(units="mm"))
    assert "152" in figures(step)
    assert "152 mm up each jamb" in step.sentence


def test_the_sentence_of_a_pan_has_its_figures(usual: dict[str, Step]) -> None:
    assert usual["A.pan"].sentence == (
        "Fold the pan of A: 5 3/4 in down the wall, 1 in up the back dam, 6 in up each jamb, "
        "6 in out on the wall; slit it at the front corners only; fold it over itself in the back corners; "
        "roll it."
    )


def test_a_unit_is_bedded_where_its_fins_hold_and_dry_where_it_drains(usual: dict[str, Step]) -> None:
    assert (
        "bed the fin at the head and the jambs, leave it dry at the sill to drain" in usual["A.unit"].sentence
    )
    bare = {step.key: step for step in step_pictures(SCHEMES["lined"])}["A.unit"]
    assert "fin" not in bare.sentence


def test_left_and_right_are_mirror_pictures(usual: dict[str, Step]) -> None:
    def across(step: Step) -> np.ndarray:
        points = [p for mark in step.scene.marks if isinstance(mark, Hatch) for p in mark.points]
        found = np.array(points)
        centred: np.ndarray = found - (found.max(axis=0) + found.min(axis=0)) / 2
        return centred

    left, right = across(usual["A.patch.sill.left"]), across(usual["A.patch.sill.right"])
    mirrored = right * (-1, 1)
    assert sorted(map(tuple, left.round(3))) == sorted(map(tuple, mirrored.round(3)))


def test_a_long_wall_is_shown_one_opening_at_a_time() -> None:
    dressing = dressed_wall(openings=3)
    wrap = next(act.number for act in acts(dressing) if act.key == "wrap.upper")
    scenes = [step_picture(dressing, wrap, opening=name).scene for name in "ABC"]
    assert all(sheet(scene).width <= 3.5 for scene in scenes)
    b = next(step for step in step_pictures(dressing) if step.key == "B.pan")
    refs = {mark.ref for mark in b.scene.marks}
    assert "piece.ledger.sheet" in refs
    assert not any(ref.startswith(("piece.A.", "piece.C.")) for ref in refs)


def test_a_caption_is_written_under_the_picture_and_fits() -> None:
    step = step_picture(dressed_wall(), 10, Paper(caption=True))
    lines = [mark.text for mark in step.scene.marks if isinstance(mark, Text) and not mark.bold]
    assert " ".join(lines) == step.sentence
    assert sheet(step.scene).width <= 3.5
    assert overlapping_texts(step.scene) == ()


# --- files


def test_a_tap_finds_the_piece_and_dxf_has_it_too(usual: dict[str, Step]) -> None:
    pan = usual["A.pan"]
    root = ET.fromstring(to_svg(pan.scene))  # noqa: S314  our own document
    refs = {group.attrib.get("data-ref") for group in root.iter()}
    assert {"piece.A.pan", "piece.wrap.upper", "piece.ledger.sheet"} <= refs
    document = ezdxf.read(io.StringIO(to_dxf(pan.scene)))
    assert not document.audit().errors
    data = {
        entity.get_xdata("SILLWRIGHT")[0].value
        for entity in document.modelspace()
        if entity.has_xdata("SILLWRIGHT")
    }
    assert "piece.A.pan" in data
