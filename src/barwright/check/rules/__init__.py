"""The check of any package before import: where, what, why it matters, how to mend."""

from barwright.check.rules.checks import checked
from barwright.check.rules.findings import (
    Finding,
    Place,
    Report,
    Rule,
)
from barwright.check.rules.report_layout import (
    failed,
    report_lines,
    reports_json,
    summary_line,
)
from barwright.check.rules.rule_table import RULES

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
