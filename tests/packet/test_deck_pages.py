"""The deck's pages and the findings sheet read back."""

from __future__ import annotations

import io
import re
from dataclasses import replace
from functools import cache

import pypdf
import pytest
from tests.deck_jobs import full, metric

from sillwright.packet import packet_pdf
from sillwright.packet.inspection_pages import NOT_READ, place_words, source_words
from sillwright.packet.sheets import listed

JOBS = {"inches": full, "millimetres": metric}


@cache
def pages(name: str) -> tuple[str, ...]:
    job, made = JOBS[name]()
    read = pypdf.PdfReader(io.BytesIO(packet_pdf(job, made))).pages
    texts = [page.extract_text().replace("\u200b", "").replace("\xa0", " ") for page in read]
    return tuple(re.sub(r"\s+", " ", text) for text in texts)


def page(name: str, title: str) -> str:
    return next(text for text in pages(name) if text.startswith(title))


def fasteners(name: str) -> str:
    """Return the table of fasteners: a page of its own, or under the ledger's last drawing."""
    return next(text.partition("Ledger fasteners")[2] for text in pages(name) if "Ledger fasteners" in text)


@pytest.mark.parametrize("name", JOBS)
def test_a_deck_has_its_section_ledger_fasteners_framing_and_sheet(name: str) -> None:
    heights = JOBS[name]()[1].heights
    assert heights is not None
    names = [each.opening for each in heights.openings]
    for title in (
        *(f"Section at the sill of {opening}" for opening in names),
        *(f"From footing to head at {each.opening}" for each in heights.openings if each.door),
        f"Heights at {listed(tuple(names))}",
        "The ledger from outside",
        "Deck framing",
        "Findings for the inspector",
    ):
        assert page(name, title)


@pytest.mark.parametrize("name", JOBS)
def test_the_table_of_fasteners_has_every_one_of_them(name: str) -> None:
    _, made = JOBS[name]()
    assert made.ledger is not None
    text = fasteners(name)
    assert len(re.findall(r"\b(?:low|high)\b", text)) == len(made.ledger.fasteners)


def test_numbers_from_memory_say_so_beside_them() -> None:
    text = page("inches", "Deck framing")
    assert "span of the beam 2-2x10" in text
    assert NOT_READ in text


def test_a_source_that_says_it_already_is_not_told_twice() -> None:
    assert source_words("IRC 2018", from_memory=True) == f"IRC 2018; {NOT_READ}"
    assert source_words("IRC 2018 (from memory)", from_memory=True) == "IRC 2018 (from memory)"
    assert source_words("IRC 2018", from_memory=False) == "IRC 2018"


def test_places_on_the_sheet_are_words() -> None:
    assert place_words("height.ledger-top") == "ledger top"
    assert place_words("A") == "A"


def test_page_one_has_stops_and_fixes_and_only_counts_what_else_there_is_to_know() -> None:
    _, made = full()
    first = pages("inches")[0] + pages("inches")[1]
    stop = next(each for each in made.findings if each.id == "finding.framing.beam")
    assert stop.message.split(";")[0][:40] in first
    assert "on the findings sheet" in first
    assert "Not checked for B, C" not in first


def test_the_sheet_tells_what_was_met_with_value_limit_and_source() -> None:
    text = " ".join(page for page in pages("inches") if "Checked and met" in page or "R507.9.1.3(2)" in page)
    assert "low row to the ledger's top edge" in text
    assert "IRC 2018, Table R507.9.1.3(2)" in text


@pytest.mark.parametrize("name", JOBS)
def test_the_engineers_page_has_every_value_with_its_source_and_says_whose_it_is(name: str) -> None:
    _, made = JOBS[name]()
    texts = pages(name)
    first = next(n for n, text in enumerate(texts) if text.startswith("By calculation, for your engineer"))
    last = next(n for n in range(first, len(texts)) if texts[n].startswith("Reading sheet"))
    text = re.sub(r"\s+", " ", " ".join(texts[first:last]))
    assert "no permission to build" in text
    for sheet in made.engineer:
        assert (sheet.answer or sheet.refused)[1:30] in text
        for value in sheet.values:
            assert value.text.split(" (")[0] in text, value.id
    assert "governs" in text


def test_a_plan_with_nothing_calculated_has_no_engineers_page() -> None:
    job, made = full()
    read = pypdf.PdfReader(io.BytesIO(packet_pdf(job, replace(made, engineer=())))).pages
    assert not any("for your engineer" in page.extract_text() for page in read)


@pytest.mark.parametrize("name", JOBS)
def test_the_tip_of_a_lag_screw_is_told_with_the_fasteners(name: str) -> None:
    text = fasteners(name)
    assert "not counting the tapered tip" in text
    assert "which comes out past it" in text


def test_the_framing_page_tells_overhangs_posts_and_the_load_of_a_guard_post() -> None:
    first = next(n for n, text in enumerate(pages("inches")) if text.startswith("Deck framing"))
    text = " ".join(pages("inches")[first : first + 2])
    for words in ("overhang of joists 2x8", "overhang of the beam", "height of posts 6x6", "guard post"):
        assert words in text


def test_where_no_span_is_looked_up_the_framing_page_says_what_to_state() -> None:
    assert "state the species of the joists" in page("millimetres", "Deck framing")
    assert "state the species of the joists" not in page("inches", "Deck framing")
