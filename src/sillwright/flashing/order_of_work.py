"""Every act that dresses the wall in its order, and what is wrong with an order that a job changes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from sillwright.findings import Finding, Severity
from sillwright.flashing.plan_model import WaterAct
from sillwright.water import Dressing
from sillwright.water.acts import Do, Force, acts
from sillwright.water.order import JudgedStep, judge_order

SOURCE = "which way water runs at the edges of two pieces; docs/water.md"
_SEVERITY: dict[Force, Severity] = {Force.WORK: "fix", Force.SHED: "fix", Force.BOND: "watch"}


def order_of_work(dressing: Dressing, *, changed: bool) -> tuple[tuple[WaterAct, ...], tuple[Finding, ...]]:
    """Return the acts of a dressed wall, and what is wrong with their order.

    Args:    changed: the order is not the scheme's own, so it is judged
    """
    steps = acts(dressing)
    judged: dict[str, JudgedStep] = {}
    if changed:
        names = [act.name for act in steps if act.do in (Do.LAY, Do.FOLD_DOWN)]
        judged = {step.name: step for step in judge_order(dressing, names)}
    listed = tuple(
        WaterAct(
            number=number,
            do=str(act.do.value),
            piece=act.sheet,
            part=act.panel or "",
            words=act.words,
            wrong=tuple(each.sentence for each in judged[act.name].wrong) if act.name in judged else (),
        )
        for number, act in enumerate(steps, 1)
    )
    return listed, tuple(_findings(judged.values()))


def _findings(steps: Iterable[JudgedStep]) -> Iterator[Finding]:
    for step in steps:
        for force, severity in _SEVERITY.items():
            said = [each.sentence for each in step.wrong if each.force is force]
            if said:
                yield Finding(
                    id=f"finding.water.order.{step.name.replace(' ', '-')}.{force.value}",
                    severity=severity,
                    message=" ".join(said),
                    advice="Lay it in the order of the scheme, or cover that edge.",
                    source=SOURCE,
                    place=f"piece.{step.name.split(' ')[0]}",
                )
