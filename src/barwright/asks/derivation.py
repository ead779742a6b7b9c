"""Running a misreading again: whether it leads to an answer on an item's excerpt, asked one by one.

Items are made by listing what all misreadings lead to (`offers`); this asks the other way round, so that banks and
tests can hold each choice against the misreading it names. It is for items that the judge accepts: others may not be
readable.
"""

from barwright.asks import ASKS
from barwright.counting.counts import (
    Row,
    count_labels,
    format_row,
    labelled_events,
    normal_row,
)
from barwright.items.item import Answer, Item
from barwright.misreadings import JOINT, MISREADINGS, Misreading
from barwright.misreadings.answers import (
    believes_full,
    candidates_of,
    claims,
    fills,
    hears,
    missing,
    row,
    seeming_order,
)
from barwright.misreadings.pair_claims import pair_claims
from barwright.misreadings.pair_fillings import pair_candidates_of, pair_fillings
from barwright.misreadings.pairs import Pair, asks_of, pair_named, pair_rows
from barwright.misreadings.read_back import read_back, rhythms_read
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.meter import parse_meter
from barwright.rhythm.text import (
    format_groups,
    parse_groups,
    parse_measures,
    parse_symbols,
)


def way_leads_to(way: str, item: Item, answer: Answer) -> bool:
    """Whether a student who holds what a choice names, one misreading or two at once, gives this answer to the item."""
    exercise = ASKS[item.ask].exercise
    if JOINT not in way:
        return exercise in MISREADINGS[way].exercises and leads_to(MISREADINGS[way], item, answer)
    pair = pair_named(way)
    return pair is not None and exercise in asks_of(pair) and _pair_leads_to(pair, item, answer)


def _pair_leads_to(pair: Pair, item: Item, answer: Answer) -> bool:
    """Whether both together lead to the answer, and neither alone."""
    excerpt, conventions, both = item.excerpt, item.conventions, (pair.first, pair.second)
    if answer.kind == "symbols":
        group = parse_symbols(answer.text)
        single = candidates_of(both, (group,), excerpt.meter, conventions)
        return group in pair_fillings(
            pair_candidates_of(both, (group,), excerpt.meter, conventions), single, excerpt, conventions
        )
    if answer.kind == "claim":
        told = pair_claims(both, excerpt, item.target, conventions) if item.target else ()
        return (pair, answer.text) in told
    if answer.kind == "row":
        texts = (text for each, _, text in pair_rows(both, excerpt, conventions) if each == pair)
        return normal_row(answer.text, conventions) in [normal_row(text, conventions) for text in texts]
    if answer.kind == "measures" and ASKS[item.ask].exercise == "rhythm-for-counts":
        (measure,) = parse_measures(answer.text)
        index = read_back((measure,), excerpt.meter, both, conventions, with_pairs=True)
        return pair.id in rhythms_read(index, count_labels(excerpt, conventions), both, conventions).get(measure, ())
    return False


def leads_to(m: Misreading, item: Item, answer: Answer) -> bool:
    """Whether a student with this misreading gives this answer to this item."""
    excerpt, conventions, exercise = item.excerpt, item.conventions, ASKS[item.ask].exercise

    def normal(counted: Row | None) -> str | None:
        return None if counted is None else normal_row(format_row(counted), conventions)

    if answer.kind == "symbols":
        return fills(m, parse_symbols(answer.text), excerpt, conventions)
    if answer.kind == "number":
        return str(missing(m, excerpt, conventions)) == answer.text
    if answer.kind == "meter":
        read = Excerpt(parse_meter(answer.text), excerpt.measures, excerpt.pickup)
        return believes_full(m, read, conventions)
    if answer.kind == "order":
        order = seeming_order(m, parse_groups(answer.text), excerpt.meter, conventions)
        return order is not None and format_groups(order) == answer.text
    if answer.kind == "claim":
        return answer.text in claims(m, excerpt, item.target, conventions)
    if exercise == "rhythm-for-time-signature":
        return believes_full(m, Excerpt(excerpt.meter, parse_measures(answer.text)), conventions)
    if answer.kind == "measures":
        other = Excerpt(excerpt.meter, parse_measures(answer.text))
        given = count_labels(excerpt, conventions)
        return normal(row(m, other, conventions)) == normal(given) or normal(hears(m, given, conventions)) == normal(
            count_labels(other, conventions)
        )
    if exercise == "count-under-mark":
        assert excerpt.mark is not None
        labels = row(m, Excerpt(excerpt.meter, excerpt.measures, excerpt.pickup), conventions)
        place = [e.index for e, _ in labelled_events(excerpt, conventions)[excerpt.mark[0]]].index(excerpt.mark[1])
        return labels is not None and labels[excerpt.mark[0]][place] == answer.text
    return normal(row(m, excerpt, conventions)) == normal_row(answer.text, conventions)
