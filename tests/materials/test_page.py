from __future__ import annotations

from tests.materials import page


def test_the_page_of_materials_is_up_to_date() -> None:
    assert page.PAGE.read_text(encoding="utf-8") == page.page(), "stale: run python -m tests.materials.page"
