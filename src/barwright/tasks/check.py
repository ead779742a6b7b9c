"""The task `check`: examine packages, whoever made them, and tell what would go wrong on import."""

from collections.abc import Sequence
from pathlib import Path

from barwright.check.rules import (
    Report,
    checked,
    failed,
    report_lines,
    reports_json,
    summary_line,
)

__all__ = ["check", "failed", "told"]


def check(packages: Sequence[Path]) -> tuple[Report, ...]:
    """A report for each package: a zip, its folder, or one document. What is in them raises nothing."""
    return tuple(checked(package) for package in packages)


def told(reports: Sequence[Report], *, as_json: bool = False) -> tuple[str, ...]:
    """The lines to print: reports to read, with a sum if there are several, or JSON."""
    if as_json:
        return (reports_json(reports),)
    lines = [line for report in reports for line in report_lines(report)]
    return (*lines, summary_line(reports)) if len(reports) > 1 else tuple(lines)
