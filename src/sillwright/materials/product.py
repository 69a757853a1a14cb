"""A product as its user names it, with what its own sheet says; a family speaks only where that does not."""

from __future__ import annotations

import datetime
import math
from collections.abc import Iterator
from dataclasses import dataclass

from sillwright.errors import BadInput, Fault
from sillwright.materials.families import Family, family


@dataclass(frozen=True, slots=True, kw_only=True)
class Product:
    """One product. What is None was not looked up, or the sheet does not say."""

    name: str
    """As the job calls it: roll A."""
    family: str
    sheet_date: datetime.date | None = None
    """Of the product sheet that the figures below are from; needed with any of them."""
    system: str = ""
    """What the maker sells as one system; parts of one are not asked about each other."""
    least_lap: float | None = None
    """Least lap over another piece [in]."""
    least_f: float | None = None
    """Lowest temperature of surface and air at which it may be put on [F]."""
    most_f: float | None = None
    """Highest [F]."""
    primer_on: tuple[str, ...] | None = None
    """Families that it wants a primer on; empty: on none."""
    primer: str = ""
    """What the sheet says of primer, in its words."""
    self_seals: bool | None = None
    """Does it close round a fastener; None counts as no."""
    accepts: tuple[str, ...] = ()
    """Families that the sheet says it may touch."""
    refuses: tuple[str, ...] = ()
    """Families that the sheet says it must not touch."""

    def __post_init__(self) -> None:
        faults = tuple(self._faults())
        if faults:
            raise BadInput(*faults)

    @property
    def of(self) -> Family:
        """Return its family."""
        return family(self.family)

    @property
    def said(self) -> str:
        """Return what its figures are quoted as."""
        return f"product sheet of {self.name}, dated {self.sheet_date}, as the job states it"

    def _faults(self) -> Iterator[Fault]:
        if not self.name.strip():
            yield Fault("name", "a product needs a name.", 'Call it as you like: "roll A".')
        if self._states_something() and self.sheet_date is None:
            yield Fault(
                f"{self.name}.sheet_date",
                "figures of a product sheet need the date of the sheet.",
                "Makers change them: copy the date, or the day you read it.",
            )
        for key in ("least_lap", "least_f", "most_f"):
            value = getattr(self, key)
            if value is not None and (not math.isfinite(value) or (key == "least_lap" and value <= 0.0)):
                yield Fault(f"{self.name}.{key}", f"{value} is no figure of a sheet.", "Copy it again.")
        if self.least_f is not None and self.most_f is not None and self.least_f > self.most_f:
            what = f"{self.least_f:g} F at least is more than {self.most_f:g} F at most."
            yield Fault(f"{self.name}.least_f", what, "Copy both again.")
        yield from self._unknown_families()

    def _unknown_families(self) -> Iterator[Fault]:
        for key in ("family", "primer_on", "accepts", "refuses"):
            stated = getattr(self, key)
            for name in (stated,) if isinstance(stated, str) else stated or ():
                try:
                    family(name)
                except BadInput as error:
                    yield from (Fault(f"{self.name}.{key}", each.what, each.advice) for each in error.faults)
        for name in sorted(set(self.accepts) & set(self.refuses)):
            yield Fault(f"{self.name}.accepts", f"'{name}' is both accepted and refused.", "Keep one.")

    def _states_something(self) -> bool:
        figures = (self.least_lap, self.least_f, self.most_f, self.primer_on, self.self_seals)
        return any(each is not None for each in figures) or bool(self.primer or self.accepts or self.refuses)
