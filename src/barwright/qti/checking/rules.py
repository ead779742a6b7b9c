"""Every rule of the check by its id, which never changes: scripts hold it."""

from barwright.qti.checking.explanations_items import ITEM_RULES
from barwright.qti.checking.explanations_package import PACKAGE_RULES
from barwright.qti.checking.findings import Rule

RULES: dict[str, Rule] = {**PACKAGE_RULES, **ITEM_RULES}
