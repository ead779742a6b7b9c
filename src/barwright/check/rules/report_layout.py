"""Reports as lines to read and as JSON for scripts."""

import json
from collections.abc import Iterator, Sequence
from itertools import groupby

from barwright.check.rules.findings import Finding, Place, Report
from barwright.check.rules.rule_table import RULES

_HEADS = {"error": "ERRORS: mend these before you import", "caution": "CAUTIONS: it depends on your platform"}
_MOST_PLACES = 4  # of one rule told one by one; the others are counted


def report_lines(report: Report) -> tuple[str, ...]:
    """A report to read: one line if nothing was found or the package was not read, else a block for each rule."""
    if report.refused:
        return (_printable(f"{report.name}: not read: {report.refused}."),)
    if not report.findings:
        return (_printable(f"{report.name}: nothing found. {_about(report)}."),)
    lines = [f"{report.name}: {_amounts((report,))}. {_about(report)}."]
    for severity, alike in groupby(report.findings, key=lambda f: RULES[f.rule].severity):
        lines += ["", f"  {_HEADS[severity]}"]
        by_rule: dict[str, list[Finding]] = {}
        for finding in alike:
            by_rule.setdefault(finding.rule, []).append(finding)
        for rule, findings in by_rule.items():
            lines += ["", *_block(rule, findings)]
    return (*map(_printable, lines), "")


def reports_json(reports: Sequence[Report]) -> str:
    """Reports for scripts: rule ids and severities never change, texts may."""
    told = {
        "packages": [_plain(r) for r in reports],
        "errors": _count(reports, "error"),
        "cautions": _count(reports, "caution"),
    }
    return json.dumps(told, indent=2, ensure_ascii=True)


def summary_line(reports: Sequence[Report]) -> str:
    """All reports in one line.

    >>> summary_line((Report("a.zip"), Report("b.zip", refused="it is empty")))
    '2 packages: 1 error, no caution.'
    """
    return f"{len(reports)} packages: {_amounts(reports)}."


def failed(reports: Sequence[Report]) -> bool:
    """Whether there is any error."""
    return _count(reports, "error") > 0


def _count(reports: Sequence[Report], severity: str) -> int:
    """Findings of a severity; a package that was not read is one error."""
    count = sum(1 for r in reports for f in r.findings if RULES[f.rule].severity == severity)
    return count + (sum(1 for r in reports if r.refused) if severity == "error" else 0)


def _amounts(reports: Sequence[Report]) -> str:
    return f"{_number(_count(reports, 'error'), 'error')}, {_number(_count(reports, 'caution'), 'caution')}"


def _number(count: int, what: str) -> str:
    return f"{count or 'no'} {what}{'s' if count > 1 else ''}"


def _about(report: Report) -> str:
    """What the package is, so that a teacher sees that the right one was read."""
    parts = (report.standard or "Unknown standard", _number(report.items, "item"), _number(report.pictures, "picture"))
    return ", ".join((*parts, f"links read from {report.links}") if report.links else parts)


def _block(rule: str, findings: Sequence[Finding]) -> Iterator[str]:
    for finding in findings[:_MOST_PLACES]:
        yield f"  * {finding.place}"
        yield f"      {finding.what[:1].upper()}{finding.what[1:]}."
    rest = [f.place for f in findings[_MOST_PLACES:]]
    if rest:
        yield f"  * and in {_number(len(rest), 'more place')}: {_shortly(rest)}"
    yield f"    why   {RULES[rule].why}"
    yield f"    mend  {RULES[rule].mend}"


def _shortly(places: Sequence[Place]) -> str:
    shown = [p.item or (f"{p.file}, line {p.line}" if p.line else p.file) or "the package" for p in places]
    return ", ".join(dict.fromkeys(shown[:12])) + (" ..." if len(shown) > 12 else "")


def _plain(report: Report) -> dict[str, object]:
    return {
        "package": report.name,
        "standard": report.standard,
        "items": report.items,
        "pictures": report.pictures,
        "links": report.links,
        "refused": report.refused,
        "findings": [
            {
                "rule": f.rule,
                "severity": RULES[f.rule].severity,
                "file": f.place.file,
                "line": f.place.line,
                "item": f.place.item,
                "what": f.what,
                "why": RULES[f.rule].why,
                "mend": RULES[f.rule].mend,
            }
            for f in report.findings
        ],
    }


def _printable(line: str) -> str:
    """A line without what could move a terminal's cursor or cannot be written."""
    return "".join(c if c.isprintable() else "?" for c in line)
