"""A bank as its page shows it: the items that meet some conditions, with figures, and what they can be narrowed by."""

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from barwright.bank.views import View
from barwright.engrave.font import DEFAULT
from barwright.pages import items_shown
from barwright.tasks.bank.forms import bank_forms
from barwright.tasks.bank.show import matching, note_of, show
from barwright.tasks.own_wording import bank_wording
from barwright.tasks.shown.desk_words import USUAL

MOST = 12  # items on a page
MOST_COUNTED = 3_000  # items of which the values to narrow by are counted
MOST_VALUES = 24
MONTH = len("2026-01")
# What `--where` knows, in the order of the page, and what an item has of it.
FACETS: dict[str, Callable[[View], Iterable[str]]] = {
    "review": lambda view: [view.state],
    "ask": lambda view: [view.ask],
    "meter": lambda view: [view.meter],
    "element": lambda view: view.elements,
    "measures": lambda view: [str(view.measures)],
    "misreading": lambda view: view.misreadings,
    "quiz": lambda view: view.named("usage", "title") | view.named("source", "title"),
    "section": lambda view: view.named("usage", "section"),
    "used": lambda view: {date[:MONTH] for date in view.named("usage", "date") if date},
    "tag": lambda view: view.named("tag", "tag"),
    "source": lambda view: view.named("source", "by"),
}


@dataclass(frozen=True, slots=True)
class Facet:
    """One thing to narrow by: its key, and each value with the condition for it and how many items have it."""

    key: str
    values: tuple[tuple[str, str, int], ...]


@dataclass(frozen=True, slots=True)
class ItemShown:
    """One item of a bank: its id, state and figure, what was said of it, and who had it.

    `share`: of how many that were `asked` the answer was right; empty where no results are known.
    """

    ident: str
    state: str
    html: str
    reviews: tuple[tuple[str, str, str], ...]
    sources: tuple[str, ...]
    uses: tuple[str, ...]
    tags: tuple[str, ...]
    share: str
    asked: int


@dataclass(frozen=True, slots=True)
class BankShown:
    """A page of a bank. `faults` are those of lines that cannot be read; `counted` tells whether all items were."""

    name: str
    total: int
    states: tuple[tuple[str, int], ...]
    items: tuple[ItemShown, ...]
    facets: tuple[Facet, ...]
    counted: bool
    faults: tuple[str, ...]
    first: int
    most: int

    @property
    def counts(self) -> tuple[tuple[str, str], ...]:
        """How many items are in each state, as it is written."""
        return tuple((state, f"{count:,}") for state, count in self.states)


def bank_shown(bank: Path, where: Sequence[str], *, first: int = 0, code: str = USUAL) -> BankShown:
    """The items of a bank from the `first` on (from 0), in the words of a language.

    BankError for a condition that is not understood.
    """
    listing, faults = show(bank, where=where, most=first + MOST)
    with matching(bank, where) as (views, _):
        facets, counted = _facets(views)
    items = tuple(_items(bank, listing.views[first:], code))
    return BankShown(
        bank.name, listing.total, tuple(listing.states.items()), items, facets, counted, faults, first, MOST
    )


def _facets(views: Iterator[View]) -> tuple[tuple[Facet, ...], bool]:
    counts: dict[str, Counter[str]] = {key: Counter() for key in FACETS}
    for seen, view in enumerate(views):
        if seen == MOST_COUNTED:
            return _sorted(counts), False
        for key, values in FACETS.items():
            counts[key].update(set(values(view)))
    return _sorted(counts), True


def _sorted(counts: dict[str, Counter[str]]) -> tuple[Facet, ...]:
    return tuple(
        Facet(key, tuple((value, f"{key}={value}", n) for value, n in tally.most_common(MOST_VALUES)))
        for key, tally in counts.items()
        if tally
    )


def _items(bank: Path, views: Sequence[View], code: str) -> Iterator[ItemShown]:
    said = bank_wording(bank, code)
    for form in bank_forms(bank.stem, views, language=code, music_font=DEFAULT, wording=said):
        for view, html in zip(form.views, items_shown(form.worded, form.pictures), strict=True):
            note = note_of(view)
            went = view.went
            yield ItemShown(
                note.ident,
                note.state,
                html,
                note.reviews,
                note.sources,
                note.uses,
                note.tags,
                f"{went.share:.0%}" if went is not None else "",
                went.asked if went is not None else 0,
            )
