"""The counting rules that every question about counts prints: the class's conventions, as far as the item shows them.

Rules are picked by what can be seen (excerpt and choices), never by the key, so that a rule gives nothing away.
"""

from fractions import Fraction
from functools import cache

from barwright.items.families import ASKS
from barwright.items.model import Item
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.measure import length_of
from barwright.rhythm.meter import THREE_EIGHT, TWO_TWO, Meter
from barwright.wording.language import Language
from barwright.wording.scene import Scene, answer_symbols

# Counting systems whose labels hold the number of the beat, so that counts start again after a barline.
NUMBERED = ("numbers", "eastman")


def beats_rule(meter: Meter, conventions: Conventions) -> str:
    """Id of the rule that says which note gets a number (2/2, 3/8, compound meters are taught in two ways).

    >>> from barwright.rhythm.meter import parse_meter
    >>> beats_rule(parse_meter("6/8"), Conventions())
    'beats.compound'
    """
    if meter.kind == "compound":
        return {"beat": "beats.compound", "beat_and_a": "beats.compound-and"}.get(conventions.compound, "beats.eighths")
    if meter is THREE_EIGHT and conventions.three_eight == "in_one":
        return "beats.in-one"
    if meter.bottom == 8:
        return "beats.eighths"
    if meter is TWO_TWO:
        return "beats.in-two" if conventions.cut_time == "in_two" else "beats.in-four"
    return "system.numbers"


@cache
def counted_length(meter: Meter, conventions: Conventions) -> Fraction:
    """Length in whole notes of what gets one number, or one & where every half beat is written out."""
    rule = beats_rule(meter, conventions)
    number = {"beats.eighths": Fraction(1, 8), "beats.in-four": Fraction(1, 4)}.get(rule, min(meter.felt_beats))
    return number / 2 if conventions.held == "subdivisions" else number


def _rows_to_pick(item: Item) -> str:
    """All rows on offer, label by label too; none where the row is typed, since foreseen answers are not seen."""
    picked = ASKS[item.ask].interaction in ("texts", "inline")
    return " ".join(c.answer.text for c in item.choices) if picked else ""


def rule_ids(item: Item) -> tuple[str, ...]:
    """Ids of the rules to print, in counting.toml, in reading order."""
    house, meter = item.conventions, item.excerpt.meter
    symbols = answer_symbols(item).union(*item.excerpt.measures)
    rows = _rows_to_pick(item)
    once = counted_length(meter, house)
    numbers = house.counting == "numbers"
    wanted = {
        beats_rule(meter, house) if numbers else f"system.{house.counting}": True,
        f"triplet.{house.triplet}": numbers and any(s.value is not None and s.value.triplet for s in symbols),
        f"held.{house.held}": numbers and ("-" in rows or any(s.tied or length_of(s, meter) > once for s in symbols)),
        f"rests.{house.rest_counts}": "(" in rows or any(s.silent for s in symbols),
        "barline.again": house.counting in NUMBERED and len(item.excerpt.measures) > 1,
    }
    return tuple(ident for ident, is_wanted in wanted.items() if is_wanted)


def counting_rules(item: Item, scene: Scene, words: Language) -> str:
    """The rules as one paragraph."""
    return " ".join(words.text("counting", ident, scene) for ident in rule_ids(item))
