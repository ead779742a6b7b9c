"""Items, entries and lines for the tests of banks: a few items of every ask, made once."""

from functools import cache
from itertools import islice
from random import Random

from barwright.asks import ASKS
from barwright.bank.entries import HEADER, Entry, format_entry
from barwright.bank.model import (
    Review,
    Source,
    Tag,
    Usage,
)
from barwright.bank.records import entry_of, record_of
from barwright.forms.item_making import made_item
from barwright.forms.judging import Tally
from barwright.items.item import Item
from items.demo import BEGINNERS, SECOND_YEAR, plan
from made_once import value_once

EACH = 4
Record = Source | Usage | Review | Tag


@cache
def demo_items() -> tuple[Item, ...]:
    """Up to four items of every ask for beginners, and as many for a second year; all different, sorted by id."""
    return value_once("demo items", _made_items)


def _made_items() -> tuple[Item, ...]:
    found = {}
    for elements in (BEGINNERS, SECOND_YEAR):
        for ask in ASKS:
            a_plan = plan(elements, ask, measures=ASKS[ask].measures)
            questions = islice(a_plan.ask.listed(a_plan.space), 0, 400, 7)
            made = (made_item(a_plan, q, fewer=1, tally=Tally(), rng=Random(q.text)) for q in questions)
            found.update({item.id: item for item in islice((item for item in made if item is not None), EACH)})
    return tuple(found[ident] for ident in sorted(found))


def usage(section: str, *, date: str = "2025-09-12", form: str = "f0123456789abcdef") -> Record:
    """A record of use."""
    return record_of("usage", by="Ms. Alder", date=date, form=form, section=section, title="Check 1")


def review(verdict: str, *, text: str = "", by: str = "Mr. Birch") -> Record:
    """A record of review."""
    return record_of("review", by=by, date="2025-09-20", text=text, verdict=verdict)


def demo_entries() -> list[Entry]:
    """An entry for every demo item, each with a use, every third with a tag, every fourth approved; sorted."""
    entries = []
    for number, item in enumerate(demo_items()):
        records = [usage(f"Period {number % 3 + 1}")]
        records += [record_of("tag", tag="MU:Pr4.2.4b")] if number % 3 == 0 else []
        records += [review("approve", text='says "which" well')] if number % 4 == 0 else []
        entries.append(entry_of(item, records))
    return entries


def bank_text(entries: list[Entry]) -> str:
    """A bank file of these entries."""
    return "".join(f"{line}\n" for line in (HEADER, *map(format_entry, entries)))


def items_of_ask(ask: str) -> list[Item]:
    """The demo items of an ask, which are some at least."""
    found = [item for item in demo_items() if item.ask == ask]
    assert found, ask
    return found


def item_of_ask(ask: str) -> Item:
    """The first demo item of an ask."""
    return items_of_ask(ask)[0]
