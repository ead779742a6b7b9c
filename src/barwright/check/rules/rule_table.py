"""Every rule of the check by its id, which never changes: scripts hold it."""

from barwright.check.rules.explanations_items import ITEM_RULES
from barwright.check.rules.explanations_package import PACKAGE_RULES
from barwright.check.rules.findings import Rule

RULES: dict[str, Rule] = {**PACKAGE_RULES, **ITEM_RULES}
