"""In which order a student puts groups of symbols, shortest first: by the lengths that the student believes."""

from fractions import Fraction
from functools import cache

from barwright.misreadings.reading import Misreading, totals, true_reading, whole_notes_of
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.measure import Symbols, total
from barwright.rhythm.meter import Meter

Groups = tuple[Symbols, ...]


@cache
def seeming_length(m: Misreading, group: Symbols, meter: Meter, conventions: Conventions) -> Fraction:
    """Length in whole notes that the student gives to a group printed on its own."""
    reading = m.act(true_reading(Excerpt(meter, (group,)), conventions))
    return total(group, meter) if reading is None else whole_notes_of(totals(reading)[0])


def seeming_order(m: Misreading, groups: Groups, meter: Meter, conventions: Conventions) -> Groups | None:
    """The groups as the student orders them, shortest first.

    None if that is the right order, and where two groups seem equally long: then the student can only guess.

    >>> from barwright.misreadings import MISREADINGS
    >>> from barwright.rhythm.meter import parse_meter
    >>> from barwright.rhythm.text import format_groups, parse_groups
    >>> right = parse_groups("q < h < w")
    >>> wrong = seeming_order(MISREADINGS["filled-head-lasts-longer"], right, parse_meter("4/4"), Conventions())
    >>> format_groups(wrong)
    'h < q < w'
    """
    lengths = {group: seeming_length(m, group, meter, conventions) for group in groups}
    if len(set(lengths.values())) < len(groups):
        return None
    found = tuple(sorted(groups, key=lengths.__getitem__))
    return None if found == tuple(sorted(groups, key=lambda g: total(g, meter))) else found
