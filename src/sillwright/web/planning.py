"""Plans of jobs as they stand, made once for each content and kept for a while."""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass, replace

from sillwright.deck import CHECKS as LEDGER_CHECKS
from sillwright.drawing.water import PHONE, WaterMap
from sillwright.drawing.water_plan import Told, plan_maps, told_acts
from sillwright.errors import BadInput, Fault, SillwrightError
from sillwright.explain import Explanation, explain, idents
from sillwright.job import Job
from sillwright.materials import CHECKS as WATER_CHECKS
from sillwright.opening import CHECKS as OPENING_CHECKS
from sillwright.plan import Plan, fingerprint, plan
from sillwright.rules import RuleBook, amended, rule_book
from sillwright.store import State
from sillwright.survey import Preview, Wall, cleanse, preview
from sillwright.web.faults import faults_of
from sillwright.wording import fault

_KEPT = 24


@dataclass(frozen=True, slots=True, kw_only=True)
class WaterShown:
    """Pictures of water: each act, and the maps."""

    acts: tuple[Told, ...]
    maps: tuple[WaterMap, ...]


@dataclass(slots=True, kw_only=True)
class Planned:
    """A job with its plan, or with why there is none."""

    job: Job
    plan: Plan | None
    faults: tuple[Fault, ...]
    _preview: Preview | None = None
    _whys: dict[str, Explanation] | None = None
    _idents: dict[str, str] | None = None
    _water: WaterShown | None = None

    @property
    def fingerprint(self) -> str | None:
        """Return the plan's short name."""
        return None if self.plan is None else self.plan.fingerprint

    @property
    def idents(self) -> dict[str, str]:
        """Return the kind of every id of the plan that can be asked about."""
        if self._idents is None:
            self._idents = {} if self.plan is None else idents(self.job, self.plan)
        return self._idents

    def preview(self) -> Preview | None:
        """Return how the drawing moves by a reading, worked out when it is first asked for."""
        if self._preview is None and self.plan is not None and self.plan.survey.readings:
            self._preview = preview(self.job, Wall(cleanse(self.job)))
        return self._preview

    def water(self) -> WaterShown | None:
        """Return the pictures of the plan's water, drawn when first asked for; None: no water plan."""
        if self._water is None and self.plan is not None and self.plan.water is not None:
            paper = replace(PHONE, units=self.job.units)
            self._water = WaterShown(
                acts=told_acts(self.job, self.plan, paper), maps=plan_maps(self.job, self.plan, paper)
            )
        return self._water

    def whys(self) -> dict[str, Explanation]:
        """Return every answer to "why?" of the plan."""
        if self._whys is None:
            self._whys = {ident: self.why(ident) for ident in self.idents}
        return self._whys

    def why(self, ident: str) -> Explanation:
        """Return why a number is what it is.

        Raises:  BadInput: there is no such id, or no plan
        """
        if self.plan is None:
            raise BadInput(*self.faults)
        return explain(self.job, self.plan, ident)


class Planner:
    """Makes plans one at a time; asking for a job that has not changed costs nothing.

    The paths of water take longer than all the rest together: what needs none of them has a plan without.
    """

    def __init__(self) -> None:
        self._whole, self._dry = _Plans(_planned), _Plans(_planned_dry)

    def of(self, state: State) -> Planned:
        """Return the plan of a job as it stands."""
        return self._whole.of(state)

    def dry(self, state: State) -> Planned:
        """Return the plan of a job as it stands, without the water in it."""
        return self._whole.known(state) or self._dry.of(state)

    def known(self, state: State) -> Planned | None:
        """Return the plan of a job as it stands, if it was made already."""
        return self._whole.known(state) or self._dry.known(state)


class _Plans:
    """Plans of one kind, the last ones kept."""

    def __init__(self, make: Callable[[State], Planned]) -> None:
        self._make = make
        self._turn = threading.Lock()
        self._kept: OrderedDict[str, Planned] = OrderedDict()

    def of(self, state: State) -> Planned:
        key = content(state)
        with self._turn:
            found = self._kept.get(key)
            if found is None:
                found = self._kept[key] = self._make(state)
            self._kept.move_to_end(key)
            while len(self._kept) > _KEPT:
                self._kept.popitem(last=False)
            return found

    def known(self, state: State) -> Planned | None:
        return self._kept.get(content(state))


def content(state: State) -> str:
    """Return a name of all that a plan is made from."""
    return repr((state.text, sorted(state.amendments.items())))


def _planned(state: State) -> Planned:
    return _made(state, plan)


def _planned_dry(state: State) -> Planned:
    return _made(state, _dry)


def _dry(job: Job, book: RuleBook) -> Plan:
    """Return the plan of a job that leaves the water to somebody else, under the name of the whole plan."""
    water = job.water.model_copy(update={"scheme": "none"})
    made = plan(job.model_copy(update={"water": water}), book)
    return replace(made, fingerprint=fingerprint(job, book))


def _made(state: State, make: Callable[[Job, RuleBook], Plan]) -> Planned:
    job = state.document
    try:
        if not job.opening:
            return Planned(job=job, plan=None, faults=(fault("plan.no_opening", "opening"),))
        return Planned(job=job, plan=make(job, book_of(state)), faults=())
    except SillwrightError as error:
        return Planned(job=job, plan=None, faults=faults_of(error))


def book_of(state: State) -> RuleBook:
    """Return what a job is judged by, with the local amendments that stand in its record.

    Raises:  BadInput: the amendments it names were never sent, or have faults
    """
    code = state.document.code
    book = rule_book(code.edition, code.place)
    if not code.amendments:
        return book
    text = state.amendments.get(code.amendments)
    if text is None:
        raise BadInput(fault("plan.no_amendments", "code.amendments", name=code.amendments))
    checks = [check.id for check in (*OPENING_CHECKS, *LEDGER_CHECKS, *WATER_CHECKS)]
    return amended(book, text, name=code.amendments, check_ids=checks)
