"""Why a value of the calculation for your engineer is what it is."""

from __future__ import annotations

from functools import partial

from sillwright.explain.model import Case, Entry, Explanation, Given, Index
from sillwright.inspection import EngineerSheet, EngineerValue

KIND = "calculation"


def engineer_entries(case: Case) -> Index:
    """Return what can be asked about ledger, headers and framing by calculation."""
    index = Index()
    for sheet in case.plan.engineer:
        index[sheet.id] = Entry(KIND, partial(_sheet, sheet))
        for value in sheet.values:
            index[value.id] = Entry(KIND, partial(_value, sheet, value))
    return index


def _sheet(sheet: EngineerSheet) -> Explanation:
    said = sheet.answer if not sheet.refused else f"no value; {sheet.refused}"
    taken = (f"Taken: {'; '.join(sheet.taken)}.",) if sheet.taken else ()
    return Explanation(
        ident=sheet.id,
        title=f"{_capital(sheet.subject)}, {sheet.note}: {said}",
        answer=(_caution(sheet), *taken),
        formula="",
        given=tuple(Given(name=each.what, value=each.text, ident=each.id) for each in sheet.values),
        source="; ".join(dict.fromkeys(each.source for each in sheet.values)) or "nothing was calculated",
        see=tuple(each.id for each in sheet.values if each.governs),
    )


def _value(sheet: EngineerSheet, value: EngineerValue) -> Explanation:
    answer = [_caution(sheet)]
    if value.governs:
        answer.append("It governs.")
    if value.limit_text:
        used = f": {value.used}" if value.used else ""
        answer.append(f"Limit: {value.limit_text}{used}.")
    return Explanation(
        ident=value.id,
        title=f"{_capital(value.what)}: {value.text}",
        answer=tuple(answer),
        formula=value.formula,
        given=tuple(Given(name=each.name, value=each.text) for each in value.inputs),
        source=value.source,
        see=(sheet.id,),
    )


def _caution(sheet: EngineerSheet) -> str:
    return f"It is {sheet.note}: no permission to build, and the code's tables come first."


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
