"""Water: the order of work as cards, where water can get, the laps with what is asked of them."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import islice
from typing import TypeVar

from sillwright.drawing.water import Paper as CardPaper
from sillwright.drawing.water import SectionPicture, WaterMap
from sillwright.drawing.water_plan import Card, plan_maps, plan_sections, water_cards
from sillwright.flashing import WaterPlace, WaterPlan, least_of_each
from sillwright.lengths import from_unit
from sillwright.packet.blocks import Block, Column, Figure, Heading, Page, Side, Table, Words
from sillwright.packet.height_pages import assumed
from sillwright.packet.sheets import Sheets, count, left, listed, right, room, sentence

_CARDS_ACROSS, _CARDS_DOWN = 2, 3
_CARD_GAP = 0.22
"""Between cards [in]."""
_CARD_WORDS, _CARD_TITLE = 0.8, 0.27
"""Height of what stands over and under a card's picture, and of its title alone [in]."""
_UPRIGHT = 0.62
"""Share of a card's width that a picture takes which has its words beside it."""
_BESIDE = 0.12
"""Between a picture and the words beside it [in]."""
_TITLE, _WAY = 0.3, 0.7
"""Height of a section's title, and of the words under a map [in]."""
_MAP_HEIGHT = 3.2
"""Of the map of the wall [in]."""
_MOST_OPENINGS = 5
"""Openings in one table of verdicts."""
Item = TypeVar("Item")
_WORDS = {"sheds": "sheds", "held by bond": "held", "open": "OPEN"}


def water_pages(sheets: Sheets) -> list[Page]:
    """Return the pages of the water plan; none without one."""
    water = sheets.plan.water
    if water is None:
        return []
    pages = [*_card_pages(sheets), *_section_pages(sheets, water)]
    pages += [_verdict_page(sheets, water), *_map_pages(sheets)]
    return [*pages, _cut_page(sheets, water)]


# --- order of work ------------------------------------------------------------------------------------------


def _card_pages(sheets: Sheets) -> Iterator[Page]:
    width, height = room(sheets.paper)
    wide = (width - _CARD_GAP * (_CARDS_ACROSS - 1)) / _CARDS_ACROSS
    high = height / _CARDS_DOWN - _CARD_GAP
    lying = CardPaper(units=sheets.plan.units, width=wide, height=high - _CARD_WORDS)
    upright = CardPaper(units=sheets.plan.units, width=_UPRIGHT * wide, height=high - _CARD_TITLE)
    cards = list(_paired(water_cards(sheets.job, sheets.plan, lying, upright)))
    groups = list(_chunks(cards, _CARDS_ACROSS * _CARDS_DOWN))
    for n, group in enumerate(groups, start=1):
        title = "Keep it dry: order of work" + (f", sheet {n} of {len(groups)}" if len(groups) > 1 else "")
        rows = (
            _row(sheets, tuple(_card(card, wide) for card in row)) for row in _chunks(group, _CARDS_ACROSS)
        )
        yield Page(title=title, subtitle=_subtitle(sheets), blocks=tuple(rows))


def _subtitle(sheets: Sheets) -> str:
    water = sheets.plan.water
    name = sentence(water.scheme) if water is not None else ""
    like = "like steps share a card, drawn at the first opening; of two tapes, the left one"
    return f"{name} Numbers give the order; {like}."


def _chunks(items: Iterable[Item], size: int) -> Iterator[tuple[Item, ...]]:
    left_over = iter(items)
    while group := tuple(islice(left_over, size)):
        yield group


_SIDED = ("Tape ", "Double-faced tape ")


def _paired(cards: Iterable[Card]) -> Iterator[Card]:
    """Yield cards, those of tapes that differ by left and right alone as one, with the left one's picture."""
    waiting: Card | None = None
    for card in cards:
        if waiting is not None and waiting.step.title == card.step.title.replace(" right ", " left "):
            numbers = tuple(sorted((*waiting.numbers, *card.numbers)))
            step = waiting.step
            both = replace(step, title=_both(step.title), sentence=_both(step.sentence))
            yield replace(waiting, numbers=numbers, step=both)
            waiting = None
            continue
        if waiting is not None:
            yield waiting
        waiting = card if card.step.title.startswith(_SIDED) else None
        if waiting is None:
            yield card
    if waiting is not None:
        yield waiting


def _both(text: str) -> str:
    return text.replace(" left ", " left and right ", 1)


def _card(card: Card, wide: float) -> tuple[Block, ...]:
    """Return a card: its sentence under a picture that takes the width, beside one that does not."""
    numbers = ", ".join(str(number) for number in card.numbers)
    title = card.step.title
    if card.openings and f" of {card.openings[0]}" in title:
        title = f"{title.replace(f' of {card.openings[0]}', '')}: {listed(card.openings)}"
    head = Words(text=f"{numbers}  {title}", style="strong")
    picture, told = Figure(scene=card.step.scene), Words(text=card.step.sentence)
    if picture.width > _UPRIGHT * wide:
        return head, picture, told
    widths = picture.width, wide - picture.width - _BESIDE
    return head, Side(columns=((picture,), (told,)), gap=_BESIDE * 72, widths=widths)


# --- sections -----------------------------------------------------------------------------------------------


def _section_pages(sheets: Sheets, water: WaterPlan) -> Iterator[Page]:
    """Yield the sections at the first opening, at the first above a ledger, and at the ledger."""
    shown = {water.openings[0], *_above_ledger(sheets, water)}
    quarter = _quarter(sheets, _TITLE)
    pictures = [
        each
        for each in plan_sections(sheets.job, sheets.plan, quarter)
        if each.opening in shown or each.opening is None
    ]
    note = "Layers drawn apart, from the wood outward; other openings are alike but for their sizes."
    for group in _chunks(pictures, 4):
        blocks: Iterable[Block] = (
            _row(sheets, tuple(_section(each) for each in row)) for row in _chunks(group, 2)
        )
        if len(group) == 1 and group[0].opening is None:
            width, height = room(sheets.paper)
            whole = replace(quarter, width=width, height=height - _TITLE)
            blocks = _section(plan_sections(sheets.job, sheets.plan, whole)[-1])
        yield Page(title="Sections, layer by layer", subtitle=note, blocks=tuple(blocks))


def _section(picture: SectionPicture) -> tuple[Block, ...]:
    return (Words(text=picture.title, style="strong"), Figure(scene=picture.scene))


def _above_ledger(sheets: Sheets, water: WaterPlan) -> tuple[str, ...]:
    ledger = sheets.plan.ledger
    if ledger is None:
        return ()
    over = (
        unit.opening
        for unit in sheets.plan.setting.units
        if unit.opening in water.openings and unit.left < ledger.right and ledger.left < unit.right
    )
    return tuple(islice(over, 1))


def _quarter(sheets: Sheets, words: float) -> CardPaper:
    """Return the paper of a picture of which four stand on a page, with words of that height [in]."""
    width, height = room(sheets.paper)
    wide, high = (width - _CARD_GAP) / 2, (height - _CARD_GAP) / 2
    return CardPaper(units=sheets.plan.units, width=wide, height=high - words)


def _row(sheets: Sheets, columns: tuple[tuple[Block, ...], ...]) -> Side:
    wide = (room(sheets.paper)[0] - _CARD_GAP * (_CARDS_ACROSS - 1)) / _CARDS_ACROSS
    return Side(columns=columns, gap=_CARD_GAP * 72, widths=(wide,) * _CARDS_ACROSS)


# --- maps ---------------------------------------------------------------------------------------------------


def _map_pages(sheets: Sheets) -> Iterator[Page]:
    boxes = [each for each in plan_maps(sheets.job, sheets.plan, _quarter(sheets, _WAY)) if each.opening]
    note = "Each opening opened like a box: room in the middle, sill, jambs and head round it, then the wall."
    for group in _chunks(boxes, 4):
        rows = (_row(sheets, tuple(_box(each) for each in row)) for row in _chunks(group, 2))
        yield Page(title="Where water can get, laid flat", subtitle=note, blocks=tuple(rows))


def _box(found: WaterMap) -> tuple[Block, ...]:
    way = f"Weakest way: {found.sentence}" if found.sentence else "Everything sheds."
    return (Figure(scene=found.scene), Words(text=way, style="note"))


def _wall_map(sheets: Sheets) -> Figure:
    width, _ = room(sheets.paper)
    paper = CardPaper(units=sheets.plan.units, width=width, height=_MAP_HEIGHT)
    return Figure(scene=plan_maps(sheets.job, sheets.plan, paper)[0].scene)


# --- verdicts -----------------------------------------------------------------------------------------------


def _verdict_page(sheets: Sheets, water: WaterPlan) -> Page:
    figures = sheets.figures
    head = f"{figures.fine(water.head)} {figures.mark}"
    blocks: list[Block] = [
        Words(text=water.scheme_words),
        Words(
            text=f"Held against a head of water of {head}, {water.pressure_psf:.3g} psf: {water.head_said} "
            f"({water.head_source}).",
            style="note",
        ),
        *assumed(tuple(each.text for each in water.assumed)),
        *(
            Words(text=f"No water plan for {each.opening}: {each.reason}. {each.advice}", style="note")
            for each in water.left_out
        ),
    ]
    blocks.append(_wall_map(sheets))
    blocks += [_verdicts(sheets, water, names) for names in _groups(water.openings)]
    others = [each for each in water.places if each.opening not in water.openings]
    if others:
        told = "; ".join(f"{each.words}: {_cell(sheets, each)}" for each in others)
        blocks.append(Words(text=sentence(told)))
    return Page(title="Where water can get", subtitle=sheets.units_note, blocks=tuple(blocks))


def _groups(names: tuple[str, ...]) -> Iterator[tuple[str, ...]]:
    for start in range(0, len(names), _MOST_OPENINGS):
        yield names[start : start + _MOST_OPENINGS]


def _verdicts(sheets: Sheets, water: WaterPlan, names: tuple[str, ...]) -> Table:
    """Return one row for each place of an opening, one column for each opening."""
    rows: dict[str, dict[str, WaterPlace]] = {}
    words: dict[str, str] = {}
    for place in water.places:
        if place.opening in names:
            key = place.place.replace(place.opening, "", 1)
            rows.setdefault(key, {})[place.opening] = place
            words.setdefault(key, _without(place))
    columns: list[Column] = [left("place", width=1.4, style="strong")]
    columns += [left(name, width=1) for name in names]
    cells = [(words[key], *(_cell(sheets, found.get(name)) for name in names)) for key, found in rows.items()]
    marked = frozenset(
        n for n, found in enumerate(rows.values()) if any(each.at_head == "open" for each in found.values())
    )
    note = "held: a way leads there, closed by so much bond alone. opens: the head at which one is open."
    return Table(columns=tuple(columns), rows=tuple(cells), marked=marked, note=note, size=8.5, pad=2.2)


def _without(place: WaterPlace) -> str:
    """Return the words of a place without the opening's name."""
    text = place.words.replace(f" of {place.opening}", "", 1)
    return text.removesuffix(f" {place.opening}")


def _cell(sheets: Sheets, place: WaterPlace | None) -> str:
    if place is None:
        return "–"
    figures = sheets.figures
    text = _WORDS[place.at_head]
    if place.at_head == "held by bond" and place.bond is not None:
        text += f" {figures.place(place.bond)}"
    if place.at_head != "open" and place.head_to_open is not None:
        text += f", opens {figures.place(place.head_to_open)}"
    return text


# --- cuts ---------------------------------------------------------------------------------------------------


def _cut_page(sheets: Sheets, water: WaterPlan) -> Page:
    columns = (
        right("count"),
        left("piece", width=3, style="strong"),
        left("at"),
        left("of"),
        left("cut"),
        left("what to make"),
        left(""),
    )
    table = Table(columns=columns, rows=tuple(_cut_rows(sheets, water)), size=8.5, pad=2.6)
    blocks = (
        table,
        Heading(text="How much of each"),
        _material_table(sheets, water),
        Heading(text="Laps, the least of each kind of joint"),
        _lap_table(sheets, water),
    )
    note = (
        "Least rectangle round each piece, rounded up to 1/8 in or 5 mm; along the roll first. "
        "Ask the maker: no number for that lap was found, the product sheet has it."
    )
    return Page(title="Cut and lap for the water", subtitle=note, blocks=blocks)


def _cut_rows(sheets: Sheets, water: WaterPlan) -> Iterator[tuple[str, ...]]:
    """Yield what to cut: one row for like pieces of like size at several openings."""
    pieces = {piece.name: piece for piece in water.pieces}
    alike: dict[tuple[str, ...], list[str]] = {}
    for cut in water.cuts:
        piece = pieces[cut.piece]
        words = piece.words.replace(f" of {piece.opening}", "", 1) if piece.opening else piece.words
        marks = [count(cut.folds, "fold") if cut.folds else "", count(cut.slits, "slit") if cut.slits else ""]
        if cut.stretch_pct is not None:
            marks = [f"stretch {cut.stretch_pct:.0f} %"]
        size = sheets.figures.size(_up(sheets, cut.along), _up(sheets, cut.across))
        joined = f", of {cut.strips} widths" if cut.strips > 1 else ""
        told = "" if cut.fits else "see findings"
        key = (words, cut.roll, f"{size}{joined}", ", ".join(filter(None, marks)), told)
        alike.setdefault(key, []).append(piece.opening)
    for (words, roll, size, marked, told), openings in alike.items():
        yield (str(len(openings)), words, ", ".join(filter(None, openings)), roll, size, marked, told)


def _up(sheets: Sheets, length: float) -> float:
    """Return a length rounded up to what a knife is set to [in]."""
    step = from_unit(5.0, "mm") if sheets.plan.units == "mm" else 1 / 8
    return math.ceil(length / step - 1e-6) * step


def _material_table(sheets: Sheets, water: WaterPlan) -> Table:
    figures = sheets.figures
    columns = (
        left("stock", width=1.4, style="strong"),
        left("family", width=1),
        right("pieces"),
        right("length"),
        right("width"),
        right("area, ft²"),
        left("on hand"),
    )
    rows = tuple(
        (
            each.roll,
            each.family,
            str(each.pieces),
            "–" if each.length is None else figures.place(each.length),
            "–" if each.width is None else figures.place(_up(sheets, each.width)),
            f"{each.area_sqft:.1f}",
            "not said" if each.on_hand is None else f"{figures.place(each.on_hand)}, {each.result}",
        )
        for each in water.materials
    )
    marked = frozenset(n for n, each in enumerate(water.materials) if each.result == "not enough")
    note = "Before waste. Width: of the roll, or of the widest piece where the job does not say it."
    return Table(columns=columns, rows=rows, marked=marked, note=note, size=8.5, pad=2.6)


# --- laps ---------------------------------------------------------------------------------------------------


def _lap_table(sheets: Sheets, water: WaterPlan) -> Table:
    figures = sheets.figures
    words = {piece.name: piece.words for piece in water.pieces}
    rows = sorted(least_of_each(water.laps), key=lambda lap: (lap.result != "not met", lap.joint))
    sourced = any(lap.source for lap in rows)
    cells = tuple(
        (
            f"{words[lap.upper]} over {words[lap.lower]}",
            lap.where,
            lap.goes,
            figures.place(lap.lap),
            "–" if lap.required is None else figures.place(lap.required),
            lap.result,
            *((lap.source,) if sourced else ()),
        )
        for lap in rows
    )
    columns = (
        left("lap", width=2, style="strong"),
        left("on", width=0.8),
        left("measured"),
        right("lap"),
        right("asked"),
        left("result"),
        *((left("source", width=1.3),) if sourced else ()),
    )
    marked = frozenset(n for n, lap in enumerate(rows) if lap.result == "not met")
    return Table(columns=columns, rows=cells, marked=marked, size=8.5, pad=2.4)
