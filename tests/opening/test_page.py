"""The page of rules is up to date, and what it shows a reader to write works."""

from __future__ import annotations

import re
import tomllib

from tests.opening import page

from sillwright.rules import Answer, amended, rule_book


def test_the_page_of_rules_is_up_to_date() -> None:
    assert page.PAGE.read_text(encoding="utf-8") == page.page(), "stale: run python -m tests.opening.page"


def test_the_amendment_shown_can_be_laid_over_the_book() -> None:
    ids = [check.id for check in page.CHECKS]
    book = amended(rule_book("2018"), _blocks()[0], name="example.toml", check_ids=ids)
    assert book.limits["escape.sill"].value == 48
    assert list(book.struck) == ["fall.low_sill"]


def test_the_answer_shown_is_an_answer() -> None:
    (raw,) = tomllib.loads(_blocks()[1])["answer"]
    assert Answer(**raw).value == '102"'


def _blocks() -> list[str]:
    return re.findall(r"```toml\n(.*?)```", page.PAGE.read_text(encoding="utf-8"), re.DOTALL)
