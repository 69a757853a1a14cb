"""Acts and hold points as blocks: what is done, what has changed since, what waits for what."""

from __future__ import annotations

from sillwright.plan import Plan
from sillwright.setting.model import Act
from sillwright.web.blocks import ActLine, Acts, Block, HoldBlock, Words
from sillwright.web.holds import WATER, Hold, act_keys, holds_of, open_before, passed
from sillwright.web.screens.view import View
from sillwright.wording import say

"""What the acts of the water screen begin with."""


def acts_block(view: View, plan: Plan, kinds: tuple[str, ...] = (), *, title: str = "") -> list[Block]:
    """Return the acts of some kinds, or of all, in the order of the plan; none where there are none."""
    holds = holds_of(view.job, plan)
    lines = [
        _line(view, plan, key, act, holds)
        for key, act in act_keys(plan).items()
        if not kinds or act.kind in kinds
    ]
    return [Acts(title=title, acts=lines)] if lines else []


def _line(view: View, plan: Plan, key: str, act: Act, holds: tuple[Hold, ...]) -> ActLine:
    done = view.state.acts.get(key)
    changed = done is not None and done["text"] not in ("", act.text)
    return ActLine(
        act=key,
        number=str(act.number),
        what=act.kind,
        opening=act.opening,
        text=act.text,
        place=view.figures.place(act.x),
        ref=act.ref,
        why=view.why(act.ref) or view.why(f"act.{act.number}"),
        state="open" if done is None else "changed" if changed else "done",
        done_at="" if done is None else done["at"],
        done_text="" if done is None else done["text"],
        blocked_by=[hold.hold for hold in open_before(act.kind, holds, view.state, plan)],
    )


def orphans(view: View, plan: Plan) -> list[Block]:
    """Return what was ticked and is no longer in the plan: nothing that was done is forgotten."""
    known = act_keys(plan)
    lost = [
        entry
        for key, entry in view.state.acts.items()
        if key not in known and not key.startswith(WATER)  # those have their own screen
    ]
    if not lost:
        return []
    told = "; ".join(entry["text"] or entry["act"] for entry in lost)
    return [Words(text=say("set.orphans", acts=told), style="note")]


def hold_block(view: View, plan: Plan, hold: Hold) -> HoldBlock:
    """Return a hold point as it stands."""
    entry = passed(hold, view.state, plan)
    waiting = [key for key, act in act_keys(plan).items() if act.kind in hold.before]
    return HoldBlock(
        hold=hold.hold,
        title=hold.title,
        text=hold.text,
        source=hold.source,
        photo=hold.photo,
        state="open" if entry is None else "overridden" if entry["how"] == "override" else "ticked",
        reason="" if entry is None else entry["reason"],
        at="" if entry is None else entry["at"],
        device="" if entry is None or not entry["device"] else view.name(entry["device"]),
        blocks=waiting,
    )


def hold_blocks(view: View, plan: Plan) -> list[Block]:
    """Return every hold point, in the order of the work."""
    return [hold_block(view, plan, hold) for hold in holds_of(view.job, plan)]
