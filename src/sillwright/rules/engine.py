"""Runs checks over facts: every check comes to something, and what it comes to is said."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Any

from sillwright.findings import Finding, Severity
from sillwright.lengths import Unit
from sillwright.rules.book import Limit, RuleBook
from sillwright.rules.case import Case, FactMissing, in_inches
from sillwright.rules.model import Check, Listed, Result, Status, Verdict
from sillwright.rules.table import OutsideTable, Row, Table

FROM_MEMORY = "from memory: look it up in the print"


def run(
    checks: Iterable[Check], facts: Any, book: RuleBook, *, place: str = "", units: Unit = "in"
) -> tuple[Finding, ...]:
    """Return what the checks find at one place, in the order of the checks.

    A check that lacks a fact gives a finding that names it; one that runs off its table a stop.

    Args:  facts: a dataclass whose fields are made by `said`; None is unknown
           place: what the findings belong to, an id of the plan; units: to show lengths in
    """
    results = examine(checks, facts, book, place=place, units=units)
    return tuple(result.finding for result in results if result.finding is not None)


def examine(
    checks: Iterable[Check], facts: Any, book: RuleBook, *, place: str = "", units: Unit = "in"
) -> tuple[Result, ...]:
    """Return what each check came to, those that are met and those that do not apply among them."""
    return tuple(_judge(check, Case(check, facts, book, units=units), place) for check in checks)


def gathered(results: Iterable[Result]) -> tuple[Finding, ...]:
    """Return the findings of results, with the checks of one group that only lack facts told in one.

    A group is what stands before the first dot of a check's id. Stops and fixes stay each by itself.
    """
    found: list[Finding] = []
    lacking: dict[tuple[str, str], list[Result]] = {}
    for result in results:
        if result.finding is None:
            continue
        if result.status == "not checked" and result.finding.severity == "watch":
            lacking.setdefault((result.check.id.partition(".")[0], result.place), []).append(result)
        else:
            found.append(result.finding)
    return (*found, *(_together(group, same) for (group, _), same in lacking.items()))


def _together(group: str, results: list[Result]) -> Finding:
    first = results[0].finding
    assert first is not None  # noqa: S101 - the caller has looked
    place = results[0].place
    titles = ", ".join(result.check.title for result in results)
    words = dict.fromkeys(word for result in results for word in result.why.split("; "))
    return replace(
        first,
        id=f"finding.{group}.unchecked{f'.{place}' if place else ''}",
        message=f"Not checked{_at(place)}: {titles}; needs: {'; '.join(words)}.",
        source="; ".join(dict.fromkeys(result.source for result in results)),
    )


def catalogue(checks: Sequence[Check], book: RuleBook) -> tuple[Listed, ...]:
    """Return the list of checks for a reader, each with its source and limits in this edition.

    Raises:  ValueError: two checks share an id
    """
    ids = [check.id for check in checks]
    if twice := sorted({each for each in ids if ids.count(each) > 1}):
        raise ValueError(f"two checks share an id: {', '.join(twice)}")
    return tuple(_listed(check, book) for check in checks)


def _listed(check: Check, book: RuleBook) -> Listed:
    texts = [_limit_text(name, book) for name in check.limits]
    texts += [
        f"{book.tables[name].source}{_bracketed(_remark(book.tables[name], book))}" for name in check.tables
    ]
    if check.id in book.struck:
        texts.append(book.struck[check.id])
    return Listed(
        id=check.id,
        title=check.title,
        source=_own_source(check, book),
        edition=book.edition if check.source.has_editions else "",
        severity=check.severity,
        limits=tuple(texts),
        decides=check.decides,
    )


_NOTHING = Verdict(met=False)


def _judge(check: Check, case: Case, place: str) -> Result:
    if check.id in case.book.struck:
        return _result(check, case, place, "struck out", why=case.book.struck[check.id])
    try:
        verdict = check.judge(case)
    except FactMissing as lack:
        return _not_checked(check, case, place, "; ".join(lack.words))
    except OutsideTable as refusal:
        return _outside(check, case, place, str(refusal))
    if verdict is None:
        return _not_applied(check, case, place)
    if verdict.met:
        return _result(check, case, place, "met", verdict=verdict)
    return _not_met(check, case, place, verdict)


def _result(
    check: Check,
    case: Case,
    place: str,
    status: Status,
    *,
    verdict: Verdict = _NOTHING,
    why: str = "",
    told: tuple[Severity, str, str] | None = None,
) -> Result:
    """Return the result; where something is told (severity, message, advice), with its finding."""
    source = _source(check, case)
    finding = None
    if told is not None:
        finding = Finding(
            id=f"finding.{check.id}.{place}" if place else f"finding.{check.id}",
            severity=told[0],
            message=told[1],
            advice=told[2],
            source=source,
            place=place,
            value=verdict.value,
            limit=verdict.limit,
            mark=check.mark,
        )
    return Result(
        check=check,
        place=place,
        status=status,
        source=source,
        value=verdict.value,
        limit=verdict.limit,
        why=why,
        finding=finding,
    )


def _not_applied(check: Check, case: Case, place: str) -> Result:
    """Return the result of a check that does not apply: with what was found, where nobody set a number."""
    open_ = [case.book.unset[name] for name in check.limits if name in case.book.unset]
    if len(open_) < max(len(check.limits), 1):
        return _result(check, case, place, "does not apply")
    found = case.if_known(check.facts[0]) if len(check.facts) == 1 else None
    value = ""
    if isinstance(found, float | int) and not isinstance(found, bool):
        value = case.quantity(found, in_inches(open_[0]).unit)
    return _result(
        check, case, place, "does not apply", verdict=replace(_NOTHING, value=value), why=open_[0].note
    )


def _not_met(check: Check, case: Case, place: str, verdict: Verdict) -> Result:
    message = check.message.format(value=verdict.value, limit=verdict.limit, place=place or "this opening")
    message = f"{message} {verdict.detail}" if verdict.detail else message
    advice = f"{check.advice} Who decides: {check.decides}."
    told = (check.severity, message, advice)
    return _result(check, case, place, "not met", verdict=verdict, told=told)


def _not_checked(check: Check, case: Case, place: str, needs: str) -> Result:
    severity: Severity = "stop" if check.pressing and case.if_known(check.pressing) else "watch"
    message = f"Not checked: {check.title}{_at(place)}; needs: {needs}."
    advice = "State what is missing in the job, or have it looked at on site."
    return _result(check, case, place, "not checked", why=needs, told=(severity, message, advice))


def _outside(check: Check, case: Case, place: str, refusal: str) -> Result:
    message = f"{check.title[0].upper()}{check.title[1:]}{_at(place)}: {refusal}."
    advice = "An engineer decides; keep the letter with the job."
    return _result(check, case, place, "outside table", why=refusal, told=("stop", message, advice))


def _at(place: str) -> str:
    return f" at {place}" if place else ""


def _source(check: Check, case: Case) -> str:
    """Return the check's source, with what was looked up on the way: sections, amendments, doubts."""
    parts = [said] if (said := check.source.said(case.book.edition)) else []
    parts += [told for name in check.tables if (told := _remark(case.book.tables[name], case.book))]
    parts += [told for each in case.used if (told := _told_of(each))]
    if any(_remembered(each) for each in case.used):
        parts.append(FROM_MEMORY)
    return "; ".join(dict.fromkeys(parts)) or _own_source(check, case.book)


def _told_of(used: Limit | Row) -> str:
    return used.origin or (used.cited if isinstance(used, Limit) else "")


def _own_source(check: Check, book: RuleBook) -> str:
    """Return the source that a check names, or the sources of its limits where it leaves it to them."""
    limits = (book.limits[name] for name in check.limits if name in book.limits)
    cited = dict.fromkeys(told for each in limits if (told := _told_of(each)))
    open_ = dict.fromkeys(book.unset[name].note for name in check.limits if name in book.unset)
    return check.source.said(book.edition) or "; ".join(cited or open_)


def _limit_text(name: str, book: RuleBook) -> str:
    if name not in book.limits:
        return f"{name}: no number"
    limit = book.limits[name]
    value = "required" if (limit.unit, limit.value) == ("rule", 1.0) else f"{limit.value:g} {limit.unit}"
    return f"{name} = {value}{_bracketed(_remark(limit))}"


def _remembered(used: Limit | Row) -> bool:
    if used.origin:
        return False
    return used.from_memory if isinstance(used, Limit) else used.texts.get("status") == "memory"


def _remark(of: Limit | Table, book: RuleBook | None = None) -> str:
    """Return what a reader must know of a number's origin."""
    if isinstance(of, Limit):
        remark = of.origin or (FROM_MEMORY if of.from_memory else "")
    else:
        editions = of.header.get("editions", "").split(",")
        told = dict(_pair(each) for each in editions if each.strip())
        remark = told.get(book.edition if book else "", "")
        remark = "" if remark == "as printed" else remark
    return remark


def _bracketed(remark: str) -> str:
    return f" ({remark})" if remark else ""


def _pair(text: str) -> tuple[str, str]:
    edition, _, remark = text.partition("=")
    return edition.strip(), remark.strip()
