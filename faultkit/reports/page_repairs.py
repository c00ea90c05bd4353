"""Finding, repair, bridges and proofs on the page."""

from html import escape

from faultkit.reports.records import EvidenceRow, Fact, FindingPart, ProofRow, RepairPart, Report
from faultkit.reports.tags import facts_list, fine, items, own, row, section, table

PROOFS = (("Result", "15%"), ("Safety function and what is expected", "45%"), ("Seen", "20%"),
          ("Who, when", "20%"))
BRIDGES = (("Where", "50%"), ("Found", "20%"), ("Removed", "30%"))


def findings_section(report: Report) -> str:
    """What each search left, and why."""
    several = len(report.findings) > 1
    return section("Findings" if several else "Finding",
                   "".join(_finding(part, several) for part in report.findings))


def _finding(part: FindingPart, several: bool) -> str:
    head = f"Search {part.search}: {part.headline}" if several else part.headline
    facts = [Fact("Fault" if k == 0 else "", one) for k, one in enumerate(part.causes)]
    made = [f"<h3>{escape(head)}</h3><p>{own(part.says)}</p>", facts_list(facts)]
    made += [f'<div class="warn">{own(one)}</div>' for one in part.warnings]
    made.append(_evidence("Speaks for it", part.speaks_for))
    made.append(_evidence("Speaks against it", part.speaks_against))
    if part.instead:
        title = "It could also be" if part.causes else "Suspected"
        made.append(f"<h3>{title}</h3>" + items(f"{s.says} ({s.chance})" for s in part.instead))
    if part.doubts:
        made.append("<h3>In doubt</h3>" + items(part.doubts))
    if part.notes:
        made.append("<h3>Worth knowing</h3>" + items(part.notes))
    return "".join(made)


def _evidence(title: str, rows: tuple[EvidenceRow, ...]) -> str:
    return f"<h3>{title}</h3>" + items(f"{one.weight}: {one.says}" for one in rows) if rows else ""


def repairs_section(report: Report) -> str:
    """Every repair, with its result."""
    return section("Repair" if len(report.repairs) == 1 else "Repairs",
                   "".join(_repair(part) for part in report.repairs))


def _repair(part: RepairPart) -> str:
    facts = [*part.about]
    if part.repeated:
        before = f"before {part.before}, " if part.before else ""
        healthy = f", healthy {part.healthy}" if part.healthy else ""
        facts.append(Fact("Repeated after it", f"{part.repeated}: {before}after {part.after}"
                                               f"{healthy}"))
    if part.note:
        facts.append(Fact("Note", part.note))
    bad = " bad" if part.result != "cured" else ""
    return (f'<div class="block"><h3>{escape(part.when)} {own(part.says)}: '
            f'<span class="result{bad}">{escape(part.result)}</span></h3>'
            + facts_list(facts) + "".join(fine(f"Caution: {one}") for one in part.cautions)
            + "</div>")


def bridges_section(report: Report) -> str:
    """Bridged safety devices; nothing where none was found."""
    if not report.bridges:
        return ""
    return section("Bridged safety devices", table(BRIDGES, (
        row((own(one.where), escape(one.found), escape(one.removed) or
             '<span class="result bad">STILL BRIDGED</span>')) for one in report.bridges)))


def proofs_section(report: Report) -> str:
    """Every safety function with the last word on it."""
    if not report.proofs:
        return ""
    return section("Proof of the safety functions",
                   table(PROOFS, (_proof(one) for one in report.proofs)))


def _proof(one: ProofRow) -> str:
    bad = "" if one.result == "passed" else " bad"
    made = own(one.who) + fine(one.when) if one.who or one.when else ""
    seen = own(one.seen) + "".join(fine(f"Earlier: {text}") for text in one.earlier)
    return row((f'<span class="result{bad}">{escape(one.result)}</span>',
                own(one.says) + fine(f"Expected: {one.expect}" if one.expect else ""), seen, made))
