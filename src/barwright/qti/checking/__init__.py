"""The check of any package before import: where, what, why it matters, how to mend."""

from barwright.qti.checking.checks import checked
from barwright.qti.checking.findings import Finding, Place, Report, Rule
from barwright.qti.checking.layout import failed, report_lines, reports_json, summary_line
from barwright.qti.checking.rules import RULES

__all__ = [
    "RULES",
    "Finding",
    "Place",
    "Report",
    "Rule",
    "checked",
    "failed",
    "report_lines",
    "reports_json",
    "summary_line",
]
