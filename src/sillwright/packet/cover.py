"""The first page: what to distrust, what to do, what to know."""

from __future__ import annotations

from sillwright.drawing import chance
from sillwright.packet.blocks import STAMPS, Block, Heading, Page, Stamp, StampWord, Step, Steps, Words
from sillwright.packet.sheets import Sheets, count, listed, sentence
from sillwright.setting.model import Conflict
from sillwright.survey.model import Disturbed, Suspect


def cover(sheets: Sheets) -> Page:
    """Return the cover: suspect readings, knocked lasers and conflicts first."""
    plan = sheets.plan
    trouble = [
        *(_suspect(sheets, suspect) for suspect in plan.survey.suspects),
        *(_disturbed(sheets, knock) for knock in plan.survey.disturbed),
        *(_conflict(sheets, conflict) for conflict in plan.setting.conflicts),
    ]
    trouble += [
        Stamp(word="FIX", text=laser.sentence, source=_source(sheets, laser.id))
        for laser in plan.survey.lasers
        if laser.verdict == "out of true"
    ]
    urgent, to_know = _findings(sheets)
    trouble = sorted([*trouble, *urgent], key=lambda stamp: stamp.word != "STOP")
    blocks: list[Block] = []
    if trouble:
        blocks += [Heading(text="Before you cut anything"), *trouble]
    blocks += [Heading(text="What to do"), Steps(steps=_steps(sheets))]
    blocks += [
        Heading(text="Cautions"),
        *(Words(text=sentence(caution), style="plain") for caution in plan.cautions),
    ]
    if to_know:
        blocks += [Heading(text="What to know"), *to_know]
    names = tuple(shape.name for shape in plan.survey.openings)
    invented = "Invented demonstration data. " if plan.invented else ""
    place = f"{sentence(sheets.job.site.place)} " if sheets.job.site.place else ""
    subtitle = f"{invented}{place}{_openings(names)}. {sheets.units_note}"
    return Page(title=plan.title, subtitle=subtitle, blocks=tuple(blocks), cover=True)


def _openings(names: tuple[str, ...]) -> str:
    if not names:
        return "No openings"
    return f"{'Opening' if len(names) == 1 else 'Openings'} {listed(names)}"


def _source(sheets: Sheets, ident: str) -> str:
    """Return where the finding on something comes from."""
    source = next(
        (finding.source for finding in sheets.plan.findings if finding.id == f"finding.{ident}"), ""
    )
    return f"Source: {source}" if source else ""


def _suspect(sheets: Sheets, suspect: Suspect) -> Stamp:
    """Name the reading, its place in the job file, its probable size, and what it would be."""
    figures = sheets.figures
    size = f"{figures.fine(abs(suspect.error))} {'too much' if suspect.error > 0 else 'too little'}"
    more = [
        sentence(suspect.sentence),
        f"Probably {size}: it would be {figures.fine(suspect.would_be)} {figures.band(suspect.would_be_sd)}. "
        f"In the job file: {suspect.path}.",
    ]
    if suspect.cannot_tell_from:
        more.append(
            "Cannot be told apart from: "
            f"{'; '.join(_named(sheets, one) for one in suspect.cannot_tell_from)}."
        )
    if suspect.against_assumption:
        more.append("Only what is assumed of old framing speaks against it: the framing may really be so.")
    done = "set aside" if suspect.action == "set aside" else "kept in doubt"
    return Stamp(
        word="FIX",
        text=f"Take again: {suspect.label} ({done})",
        more=tuple(text for text in more if text),
        source=_source(sheets, suspect.id),
    )


def _named(sheets: Sheets, ident: str) -> str:
    reading = next((reading for reading in sheets.plan.survey.readings if reading.id == ident), None)
    return f"{reading.label} ({reading.path})" if reading else ident


def _disturbed(sheets: Sheets, knock: Disturbed) -> Stamp:
    figures = sheets.figures
    way = "rose" if knock.rose > 0 else "dropped"
    more = [
        f"Its beam {way} by {figures.fine(abs(knock.rose))} {figures.band(knock.rose_sd)} between "
        f"{knock.after} ({knock.after_path}) and {knock.before} ({knock.before_path}).",
        sentence(knock.sentence),
    ]
    if knock.also_explained_by:
        more.append(
            "Would be explained as well by: "
            f"{'; '.join(_named(sheets, one) for one in knock.also_explained_by)}."
        )
    done = "its later shots were corrected" if knock.action == "corrected" else "its series was refused"
    word: StampWord = "FIX" if knock.action == "corrected" else "STOP"
    return Stamp(
        word=word,
        text=f"Laser knocked: set-up {knock.setup}, {knock.name} ({done})",
        more=tuple(more),
        source=_source(sheets, knock.id),
    )


def _conflict(sheets: Sheets, conflict: Conflict) -> Stamp:
    demands = "; ".join(demand.text for demand in conflict.demands)
    more = (f"These cannot all be had: {demands}.", f"Least change that cures it: {sentence(conflict.cure)}")
    return Stamp(
        word="STOP",
        text=f"No plan meets every demand for {listed(conflict.openings)}",
        more=more,
        source=_source(sheets, conflict.id),
    )


# --- what to do, in a few lines -----------------------------------------------------------------------------


def _steps(sheets: Sheets) -> tuple[Step, ...]:
    lines = (
        _readings_line(sheets),
        _level_line(sheets),
        _pads_line(sheets),
        _check_line(sheets),
        _ledger_line(sheets),
        _water_line(sheets),
        _units_line(sheets),
    )
    told = (line for line in lines if line)
    return tuple(Step(number=str(n), text=text, ring=False) for n, text in enumerate(told, start=1))


def _ledger_line(sheets: Sheets) -> str:
    ledger = sheets.plan.ledger
    if ledger is None or not ledger.fasteners:
        return ""
    many = count(len(ledger.fasteners), "fastener")
    return f"Set the ledger, its top at {sheets.figures.fine(ledger.top)}, on {many} laid out on its sheet."


def _water_line(sheets: Sheets) -> str:
    water = sheets.plan.water
    if water is None:
        return ""
    return (
        f"Keep {listed(water.openings)} dry: {water.scheme}, in the order of the cards; part of it goes on "
        "before the units."
    )


def _readings_line(sheets: Sheets) -> str:
    survey = sheets.plan.survey
    bad = len(survey.suspects) + len(survey.disturbed)
    if bad:
        what = (
            count(bad, "reading or set-up", "readings or set-ups")
            if survey.disturbed
            else count(bad, "reading")
        )
        return f"Take {what} again, as stamped above, type in what it says and print this packet anew."
    if not survey.readings:
        return "Take the readings: nothing was read yet."
    unchecked = sum(reading.redundancy < 0.01 for reading in survey.readings)
    tail = f"; {unchecked} of {len(survey.readings)} have nothing that checks them" if unchecked else ""
    return f"No reading contradicts the others{tail}."


def _level_line(sheets: Sheets) -> str:
    lines = [line for row in sheets.plan.setting.rows for line in row.lines]
    if not lines:
        return "There is no level line yet: settle what is stamped above first."
    told = "; ".join(f"{listed(line.openings)} at {sheets.figures.fine(line.z)}" for line in lines)
    return f"Snap the level line above {sheets.plan.survey.datum}: {told}."


def _pads_line(sheets: Sheets) -> str:
    setting = sheets.plan.setting
    if not setting.pads and not setting.planed:
        return "No pads are planned."
    parts = [f"Plane {count(len(setting.planed), 'run')}"] if setting.planed else []
    pads = f"fix {count(len(setting.pads), 'pad')}, numbered as on the drawings"
    parts.append(pads if parts else pads[0].upper() + pads[1:])
    if setting.trims:
        parts.append(f"trim framing at {count(len(setting.trims), 'place')}")
    return f"{listed(tuple(parts))}."


def _units_line(sheets: Sheets) -> str:
    units = sheets.plan.setting.units
    fits = [(unit.fit.probability, unit.opening) for unit in units if unit.fit]
    if not units:
        return "No units are to be set."
    if not fits:
        return f"Set {count(len(units), 'unit')} at the marks; how surely they fit is not determined."
    least, where = min(fits)
    rest = "" if len(fits) == len(units) else " (some are not determined)"
    return f"Set {count(len(units), 'unit')} at the marks. Least sure to fit: {where}, {chance(least)}{rest}."


def _check_line(sheets: Sheets) -> str:
    if sheets.plan.setting.reshoot:
        return f"Pads shot again: {sentence(sheets.plan.setting.reshoot.sentence)}"
    return "Shoot the pads again before a unit goes in: the form is the last page."


def _findings(sheets: Sheets) -> tuple[list[Stamp], list[Block]]:
    """Return findings that are not told above already: those to act on first, then those to know."""
    plan = sheets.plan
    survey, conflicts = plan.survey, plan.setting.conflicts
    ids = [suspect.id for suspect in survey.suspects] + [knock.id for knock in survey.disturbed]
    ids += [conflict.id for conflict in conflicts]
    ids += [laser.id for laser in survey.lasers if laser.verdict == "out of true"]
    told = {f"finding.{ident}" for ident in ids}
    names = {shape.name for shape in survey.openings}
    urgent: list[Stamp] = []
    found: list[Block] = []
    on_sheet = {row.id for row in plan.inspection}
    kept = [
        each
        for each in plan.findings
        if each.severity == "watch" and (each.id in on_sheet or each.id.startswith("finding.unchecked."))
    ]
    told |= {finding.id for finding in kept}
    for finding in plan.findings:
        if finding.id in told:
            continue
        place = (
            f"{finding.place}: " if finding.place in names and finding.place not in finding.message else ""
        )
        source = f"Source: {finding.source}" if finding.source else ""
        stamp = Stamp(
            word=STAMPS[finding.severity],
            text=f"{place}{sentence(finding.message)}",
            more=(sentence(finding.advice),),
            source=source,
        )
        if finding.severity == "watch":
            found.append(stamp)
        else:
            urgent.append(stamp)
    if kept:
        more = f"{count(len(kept), 'more thing')} to know of heights, deck and code: on the findings sheet."
        found.append(Words(text=more, style="note"))
    return urgent, found
