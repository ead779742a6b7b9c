"""Plans for tests: the elements of beginners and of a second year, as a teacher would write them.

Not kept plain, so that tests meet every legal, readable measure.
"""

from barwright.asks import ASKS
from barwright.blueprint.blueprint import Plan, plan_of
from barwright.blueprint.parsing import read_blueprint

BEGINNERS = """
meters = ["2/4", "3/4", "4/4"]
notes = ["whole", "half", "quarter"]
rests = ["whole", "half", "quarter"]
plain = false
"""
SECOND_YEAR = """
meters = ["2/4", "3/4", "4/4", "6/8"]
notes = ["whole", "half", "quarter", "eighth"]
rests = ["half", "quarter", "eighth"]
dots = ["half", "quarter"]
ties = true
syncopation = true
plain = false
"""


def blueprint_text(elements: str, *asks: str, items: int = 1, more: str = "", part: str = "") -> str:
    """A blueprint with one part an ask; `more` stands before the parts, `part` inside each."""
    parts = "".join(
        f'[[part]]\nfamily = "{ASKS[ask].family}"\nask = "{ask}"\nitems = {items}\n{part}\n' for ask in asks
    )
    return f'title = "Test"\n{more}\n[elements]{elements}\n{parts}'


def plan(elements: str, ask: str, *, measures: int = 1, choices: int = 4) -> Plan:
    """The plan of one part."""
    text = blueprint_text(elements, ask, more=f"[quiz]\nchoices = {choices}", part=f"measures = {measures}")
    blueprint, _ = read_blueprint(text, "test.toml")
    return plan_of(blueprint.part[0], blueprint)
