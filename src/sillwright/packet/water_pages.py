"""Water: the order of work as cards, where water can get, the laps with what is asked of them."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice

from sillwright.drawing.water import Paper as CardPaper
from sillwright.drawing.water_plan import Card, water_cards
from sillwright.flashing import WaterLap, WaterPlace, WaterPlan
from sillwright.packet.blocks import Block, Column, Figure, Heading, Page, Side, Table, Words
from sillwright.packet.height_pages import assumed
from sillwright.packet.sheets import Sheets, left, listed, right, room, sentence

_CARDS_ACROSS, _CARDS_DOWN = 2, 3
_CARD_GAP = 0.22
"""Between cards [in]."""
_CARD_WORDS = 0.8
"""Height of what stands over and under a card's picture [in]."""
_MOST_OPENINGS = 5
"""Openings in one table of verdicts."""
_WORDS = {"sheds": "sheds", "held by bond": "held", "open": "OPEN"}


def water_pages(sheets: Sheets) -> list[Page]:
    """Return the pages of the water plan; none without one."""
    water = sheets.plan.water
    if water is None:
        return []
    pages = [*_card_pages(sheets), _verdict_page(sheets, water)]
    if water.laps:
        pages.append(_lap_page(sheets, water))
    return pages


# --- order of work ------------------------------------------------------------------------------------------


def _card_pages(sheets: Sheets) -> Iterator[Page]:
    width, height = room(sheets.paper)
    wide = (width - _CARD_GAP * (_CARDS_ACROSS - 1)) / _CARDS_ACROSS
    high = height / _CARDS_DOWN - _CARD_WORDS - _CARD_GAP
    cards = water_cards(sheets.job, sheets.plan, CardPaper(units=sheets.plan.units, width=wide, height=high))
    groups = list(_chunks(cards, _CARDS_ACROSS * _CARDS_DOWN))
    for n, group in enumerate(groups, start=1):
        title = "Keep it dry: order of work" + (f", sheet {n} of {len(groups)}" if len(groups) > 1 else "")
        rows = (
            Side(
                columns=tuple(_card(card) for card in row), gap=_CARD_GAP * 72, widths=(wide,) * _CARDS_ACROSS
            )
            for row in _chunks(group, _CARDS_ACROSS)
        )
        yield Page(title=title, subtitle=_subtitle(sheets), blocks=tuple(rows))


def _subtitle(sheets: Sheets) -> str:
    water = sheets.plan.water
    name = sentence(water.scheme) if water is not None else ""
    return f"{name} Numbers give the order; like steps share a card, drawn at the first opening."


def _chunks(items: tuple[Card, ...], size: int) -> Iterator[tuple[Card, ...]]:
    left_over = iter(items)
    while group := tuple(islice(left_over, size)):
        yield group


def _card(card: Card) -> tuple[Block, ...]:
    numbers = ", ".join(str(number) for number in card.numbers)
    title = card.step.title
    if card.openings:
        title = f"{title.replace(f' of {card.openings[0]}', '')}: {listed(card.openings)}"
    return (
        Words(text=f"{numbers}  {title}", style="strong"),
        Figure(scene=card.step.scene),
        Words(text=card.step.sentence),
    )


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
    blocks += [_verdicts(sheets, water, names) for names in _groups(water.openings)]
    ledger = [each for each in water.places if each.opening not in water.openings]
    if ledger:
        blocks += [Heading(text="Elsewhere on the wall"), _others(sheets, ledger)]
    ways = _weakest(water)
    if ways:
        blocks += [Heading(text="Weakest ways of water")]
        blocks += [Words(text=f"{name}: {way}") for name, way in ways]
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


def _others(sheets: Sheets, places: list[WaterPlace]) -> Table:
    columns = (left("place", width=1.4, style="strong"), left("verdict", width=2))
    rows = tuple((each.words, _cell(sheets, each)) for each in places)
    return Table(columns=columns, rows=rows, size=8.5, pad=2.2)


def _weakest(water: WaterPlan) -> list[tuple[str, str]]:
    rank = {"open": 0, "held by bond": 1, "sheds": 2}
    found = []
    for name in (*water.openings, "ledger"):
        own = [each for each in water.places if each.opening == name and each.way and each.at_head != "sheds"]
        if own:
            worst = min(own, key=lambda each: (rank[each.at_head], each.bond or 0.0))
            found.append((name, worst.way))
    return found


# --- laps ---------------------------------------------------------------------------------------------------


def _lap_page(sheets: Sheets, water: WaterPlan) -> Page:
    figures = sheets.figures
    words = {piece.name: piece.words for piece in water.pieces}
    rows = sorted(_least(water), key=lambda lap: (lap.result != "not met", lap.joint))
    cells = tuple(
        (
            f"{words[lap.upper]} over {words[lap.lower]}",
            f"{lap.where}, {lap.goes}",
            figures.place(lap.lap),
            "–" if lap.required is None else figures.place(lap.required),
            lap.result,
            lap.source,
        )
        for lap in rows
    )
    columns = (
        left("lap", width=2, style="strong"),
        left("where", width=1),
        right("lap"),
        right("asked"),
        left("result"),
        left("source", width=1.3),
    )
    note = (
        "The least lap of each kind of joint. Ask the maker: no number was found, the product sheet has it."
    )
    marked = frozenset(n for n, lap in enumerate(rows) if lap.result == "not met")
    table = Table(columns=columns, rows=cells, marked=marked, note=note, size=8.5, pad=3)
    return Page(title="Laps", subtitle=sheets.units_note, blocks=(table,))


def _least(water: WaterPlan) -> list[WaterLap]:
    """Return the least lap of each kind of joint; where water runs in at an edge, what covers it counts."""
    least: dict[tuple[str, str], WaterLap] = {}
    for lap in water.laps:
        key = lap.joint, lap.goes
        if lap.joint and lap.goes != "down" and (key not in least or lap.lap < least[key].lap):
            least[key] = lap
    return list(least.values())
