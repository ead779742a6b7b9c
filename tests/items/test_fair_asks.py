"""Asks whose choices told the key: lengths shared in turn, wrong totals that other meters hold, statements that are
right elsewhere, reasons that are said."""

from collections import Counter, defaultdict
from fractions import Fraction
from random import Random

import pytest

from barwright.asks.derivation import way_leads_to
from barwright.asks.statements import verdict_of
from barwright.blueprint.parsing import read_blueprint
from barwright.errors import BlueprintError
from barwright.forms.assembly import made_forms
from barwright.items.item import JOINT, Item
from barwright.rhythm.measure import length_of, total
from barwright.rhythm.meter import parse_meter
from barwright.rhythm.text import parse_measures, parse_symbol, parse_symbols
from barwright.wording.items_in_words import worded_item
from items.demo import BEGINNERS, blueprint_text

EIGHTHS = """
meters = ["2/4", "3/4", "4/4"]
notes = ["whole", "half", "quarter", "eighth"]
rests = ["whole", "half", "quarter", "eighth"]
dots = ["half"]
"""
THIRD_YEAR = """
meters = ["2/4", "3/4", "4/4", "6/8"]
notes = ["whole", "half", "quarter", "eighth", "sixteenth"]
rests = ["half", "quarter", "eighth"]
dots = ["half", "quarter"]
"""
SECTIONS = 'sections = ["A", "B", "C"]\n'


def made(elements: str, ask: str, items: int, more: str = SECTIONS) -> list[Item]:
    """The items of a quiz, form after form."""
    blueprint, _ = read_blueprint(blueprint_text(elements, ask, items=items, more=more), "test.toml")
    return [placed.item for each in made_forms(blueprint) for placed in each.form.items]


def mix(item: Item) -> tuple[int, ...]:
    """How many are right, then how many wrong ones are of one length, counted anew."""
    lengths = (sum(length_of(s, item.excerpt.meter) for s in parse_symbols(c.answer.text)) for c in item.wrong)
    return (len(item.keys), *sorted(Counter(lengths).values(), reverse=True))


def test_of_all_that_fit_one_two_or_three_are_right_and_lengths_are_shared_in_turn() -> None:
    """Of 15 items 2, 6, 3, 2 and 2: whatever lengths are shared, each group is the right one equally often."""
    found = Counter(map(mix, made(EIGHTHS, "all-that-fit", 10)))
    wanted = {(2, 2): 2, (1, 2, 1): 6, (2, 1, 1): 3, (3, 1): 2, (1, 3): 2}
    assert set(found) <= set(wanted)
    for each, share in wanted.items():
        assert abs(found[each] - 30 * share / 15) <= 3, found


def test_sections_tick_as_many() -> None:
    forms = made(EIGHTHS, "all-that-fit", 8)
    right = [sorted(len(item.keys) for item in forms[n : n + 8]) for n in (0, 8, 16)]
    assert right[0] == right[1] == right[2]


def test_wrong_rhythms_last_what_another_taught_meter_holds_and_no_two_alike() -> None:
    held: Counter[str] = Counter()
    capacities = {parse_meter(text).capacity for text in ("2/4", "3/4", "4/4", "6/8")}
    for item in made(THIRD_YEAR, "rhythm-for-time-signature", 8):
        meter = item.excerpt.meter
        lengths = [total(parse_measures(c.answer.text)[0], meter) for c in item.choices]
        assert len(set(lengths)) == len(lengths)
        assert set(lengths) <= capacities
        held[str(meter)] += 1
    assert max(held.values()) - min(held.values()) <= 3, "24 items of four meters"


def test_with_two_lengths_the_rhythm_for_a_time_signature_is_refused() -> None:
    two = EIGHTHS.replace('"2/4", ', "")
    with pytest.raises(BlueprintError) as caught:
        read_blueprint(blueprint_text(two, "rhythm-for-time-signature"), "test.toml")
    assert str(caught.value) == (
        "test.toml, line 11: ask = 'rhythm-for-time-signature' needs 3 time signatures of different length, and 2 are "
        "taught: name more in [elements] meters or take another ask"
    )


@pytest.mark.parametrize("elements", [BEGINNERS, EIGHTHS])
def test_every_statement_about_a_number_is_right_here_and_wrong_there(elements: str) -> None:
    met: dict[bool, set[str]] = defaultdict(set)
    items = made(elements, "what-the-numbers-say", 4)
    for item in items:
        for choice in item.choices:
            met[choice.key].add(choice.answer.text)
        assert len(item.choices) == 4
    assert met[True] == met[False] == {"how-many 2", "how-many 3", "how-many 4", "gets-beat 4"}


def test_who_mixes_up_the_numbers_is_told_of_that_first() -> None:
    """Three of four choices are wrong jobs of the bottom number; two of these only a second error leads to."""
    blueprint, _ = read_blueprint(blueprint_text(EIGHTHS, "what-the-numbers-say", items=6, more=SECTIONS), "test.toml")
    hints = Counter[str]()
    for placed in (placed for each in made_forms(blueprint) for placed in each.form.items):
        worded = worded_item(placed, "en-US")
        for choice, words in zip((placed.item.choices[n] for n in placed.order), worded.choices, strict=True):
            for way in choice.misreadings:
                assert way_leads_to(way, placed.item, choice.answer)
            if choice.misreadings and JOINT in choice.misreadings[0]:
                hints[words.feedback] += 1
    assert set(hints) == {"That is the job of the other number. Now look at the bottom number."}


@pytest.mark.parametrize("elements", [BEGINNERS, EIGHTHS, THIRD_YEAR])
def test_what_a_symbol_is_said_to_last_and_a_measure_to_hold_is_true_of_some(elements: str) -> None:
    """So no symbol lasts 0 or 8 beats, or a part of one that nobody taught."""
    tops = {"4": {2, 3, 4}, "8": {6}}
    tokens = ("w", "h", "q", "e", "s", "h.", "q.") if "dots" in elements else ("w", "h", "q")
    others = 0
    items = made(elements, "does-it-fit", 5)
    for item in items:
        meter = item.excerpt.meter
        lasts = {length_of(parse_symbol(token), meter) / meter.unit for token in tokens}
        for choice in item.wrong:
            said, held = choice.answer.text.split(" ")[1:]
            others += Fraction(said) not in lasts or Fraction(held) not in tops[str(meter.bottom)]
    assert others * 10 <= len(items), "only where an item had no three choices else"


def test_the_verdict_does_not_go_with_the_reason() -> None:
    """Yes and No stand in most items; in half of them or more one number goes with both verdicts."""
    items = made(EIGHTHS, "does-it-fit", 6)
    both = [item for item in items if len({verdict_of(c.answer) for c in item.choices}) == 2]
    assert len(both) * 3 >= len(items) * 2
    crossed = sum(
        any(
            len({verdict_of(c.answer) for c in item.choices if c.answer.text.split(" ")[n] == number}) == 2
            for n in (1, 2)
            for number in {c.answer.text.split(" ")[n] for c in item.choices}
        )
        for item in both
    )
    assert crossed * 2 >= len(both)


def test_symbols_about_as_long_as_a_measure_are_asked_about() -> None:
    """Of 14 questions about symbols that last half a measure or more, and no more than two, two forms take ten."""
    for item in made(EIGHTHS, "does-it-fit", 5, 'sections = ["A", "B"]\n'):
        ratio = length_of(item.excerpt.symbols[0], item.excerpt.meter) / item.excerpt.meter.capacity
        assert Fraction(1, 2) <= ratio <= 2


def test_a_measure_of_four_four_is_also_taken_for_less() -> None:
    """Errors by which 4/4 holds two beats, or three."""
    offered = {
        choice.answer.text.split(" ")[2]
        for item in made(EIGHTHS, "does-it-fit", 6)
        for choice in item.wrong
        if str(item.excerpt.meter) == "4/4"
    }
    assert offered & {"2", "3"}


def test_numbers_of_missing_beats_are_spread() -> None:
    found = Counter(item.keys[0].answer.text for item in made(EIGHTHS, "beats-left", 8))
    assert len(found) >= 5
    assert max(found.values()) * 3 <= sum(found.values())


def test_nobody_is_asked_for_an_eighth_of_a_half_note() -> None:
    elements = EIGHTHS.replace('"2/4", "3/4", "4/4"', '"2/2", "3/2"').replace('"eighth"]', '"eighth", "sixteenth"]')
    for item in made(elements, "beats-left", 4):
        for choice in item.choices:
            assert Fraction(choice.answer.text).denominator <= 2, choice.answer.text


def test_no_single_measure_is_counted_as_several() -> None:
    for item in made(THIRD_YEAR, "what-the-numbers-say", 4, more="seed = 5"):
        assert not any(c.answer.text.startswith("measures") for c in item.choices)


def test_draws_are_those_of_the_seed() -> None:
    more = f"seed = {Random(3).randrange(9)}\n"
    assert made(EIGHTHS, "all-that-fit", 6, more) == made(EIGHTHS, "all-that-fit", 6, more)
