"""Proof: what was looked at and by whom, photos, signatures, and the record that holds them."""

from __future__ import annotations

from sillwright.web.blocks import Block, Card, Heading, Work
from sillwright.web.screens.acts import hold_blocks
from sillwright.web.screens.view import Filled, View
from sillwright.wording import say, section


def proof(view: View) -> Filled:
    """Return the screen of proof."""
    blocks: list[Block] = [*view.conflicts()]
    if view.plan is not None:
        blocks += hold_blocks(view, view.plan)
    blocks += view.findings("proof")
    for name, kind, entries in (
        ("photos", "photo", view.state.photos),
        ("signs", "sign", view.state.signs),
        ("notes", "note", view.state.notes),
    ):
        said = view.said(kind, entries)
        blocks += [Heading(text=say(f"proof.{name}")), *said] if said else []
    blocks.append(
        Card(
            title=say("proof.record"),
            value=say("proof.events", count=view.state.seq),
            note=say("proof.head", head=view.state.head),
        )
    )
    blocks += works(planned=view.plan is not None)
    return Filled(blocks=blocks)


def works(*, planned: bool) -> list[Block]:
    """Return the long works that can be started; most need a plan."""
    return [
        Work(work=name, title=say(f"work.{name}.title"), text=say(f"work.{name}.text"))
        for name in section("work")
        if planned or name == "form"
    ]
