"""Every legal one-measure excerpt of whole, half, quarter notes and rests in 2/4, 3/4 and 4/4, in every ask.

Each item must be accepted by the judge, have one defensible answer by a recount in whole beats that shares nothing with
the program, and have only distractors that running their misreading again leads to. The numbers are printed.
"""

from collections import Counter
from random import Random

import pytest

from barwright.asks import ASKS
from barwright.asks.ask import Question
from barwright.asks.derivation import way_leads_to
from barwright.asks.pieces import placing_of
from barwright.blueprint.blueprint import Plan
from barwright.forms.item_making import made_item
from barwright.forms.judging import Tally
from barwright.items.item import Answer, Item
from barwright.judge import judged
from barwright.rhythm.text import format_excerpt
from items.demo import BEGINNERS, plan

# Beats of each token where the quarter note is counted (Open University 3.6); rW lasts the measure (4.4).
BEATS = {"w": 4, "h": 2, "q": 1, "rh": 2, "rq": 1}
METERS = {"2/4": 2, "3/4": 3, "4/4": 4}


def beats(text: str, meter: str) -> int:
    """Beats of some symbols, recounted from the text alone."""
    return sum(METERS[meter] if t == "rW" else BEATS.get(t.strip("*"), 0) for t in text.replace("|", " ").split())


def counted(text: str, meter: str) -> str:
    """The counts of a measure by hand rules: each symbol takes its beats in order; rests go in parentheses."""
    place, labels = 1, []
    for token in text.split():
        count = beats(token, meter)
        label = "-".join(str(n) for n in range(place, place + count))
        labels.append(f"({label})" if token.startswith("r") else label)
        place += count
    return " ".join(labels)


def is_right(item: Item, answer: Answer) -> bool:
    """Whether the answer is right, recounted in whole beats from the printed text."""
    meter, _, body = format_excerpt(item.excerpt).partition(" ")
    room = METERS[meter] - beats(body, meter)
    symbol = body.strip("*")
    rules = {
        "finish-measure": lambda: beats(answer.text, meter) == room,
        "finish-measure-with-two": lambda: beats(answer.text, meter) == room,
        "all-that-fit": lambda: beats(answer.text, meter) == room,
        "drag-into-the-blank": lambda: beats(answer.text, meter) == room,
        "shortest-first": lambda: rises(answer.text, body, meter),
        "beats-left": lambda: answer.text == str(room),
        "counts-for-rhythm": lambda: answer.text == counted(body, meter),
        "write-counts": lambda: answer.text == counted(body, meter),
        "count-under-each": lambda: answer.text == counted(body, meter),
        "count-under-mark": lambda: answer.text == marked_count(body, meter),
        "rhythm-for-counts": lambda: counted(answer.text, meter) == counted(body, meter),
        "time-signature-for-rhythm": lambda: METERS[answer.text] == beats(body, meter),
        "rhythm-for-time-signature": lambda: beats(answer.text, meter) == METERS[meter],
        "does-it-fit": lambda: answer.text == fit(beats(symbol, meter), METERS[meter]),
        "what-the-numbers-say": lambda: answer.text == told(item.target, meter),
    }
    return rules[item.ask]()


def marked_count(body: str, meter: str) -> str:
    tokens = body.split()
    return counted(body.replace("*", ""), meter).split()[next(i for i, t in enumerate(tokens) if t.startswith("*"))]


def rises(text: str, body: str, meter: str) -> bool:
    """Whether the groups of an order are those of the excerpt, each longer than the one before."""
    groups = text.split(" < ")
    lengths = [beats(group, meter) for group in groups]
    return sorted(groups) == body.split(" | ") and lengths == sorted(set(lengths))


def fit(lasts: int, holds: int) -> str:
    return f"{'fits' if lasts <= holds else 'fits-not'} {lasts} {holds}"


def told(target: str, meter: str) -> str:
    """What a number tells where the quarter note gets the beat."""
    return f"how-many {meter[0]}" if target == "top" else "gets-beat 4"


def item_for(a_plan: Plan, question: Question, tally: Tally) -> Item | None:
    return made_item(a_plan, question, fewer=1, tally=tally, rng=Random(question.text))


# How many groups are put in order; and the share of questions that become items, where it is lower than elsewhere: for
# some sets of groups no error leads to another order.
GROUPS = {"shortest-first": (3, 4)}
SHARES = {"shortest-first": 0.8}
SIZES = [(ask, measures) for ask in ASKS for measures in GROUPS.get(ask, (1,))]


@pytest.mark.parametrize(("ask", "measures"), SIZES)
def test_every_item_has_one_defensible_answer_and_derived_distractors(ask: str, measures: int) -> None:
    a_plan, tally = plan(BEGINNERS, ask, measures=measures), Tally()
    questions = list(a_plan.ask.listed(a_plan.space))
    made = [item for q in questions if (item := item_for(a_plan, q, tally)) is not None]
    for item in made:
        assert judged(item, a_plan.space.taught) == ()
        for choice in item.choices:
            assert is_right(item, choice.answer) == choice.key, (format_excerpt(item.excerpt), choice)
            for misreading in choice.misreadings:
                assert way_leads_to(misreading, item, choice.answer), (format_excerpt(item.excerpt), choice)
    full = sum(len(item.choices) >= 4 for item in made)
    print(
        f"\n{ask}, {measures}: {len(questions)} excerpts, {len(made)} items ({full} with three distractors or more); ",
        end="",
    )
    print(f"{tally.judged} judged, refused {dict(tally.refused)}, {tally.short} with too few wrong answers")
    assert len(made) >= SHARES.get(ask, 0.9) * len(questions)


def labels_of_other_classes(body: str, meter: str) -> list[set[str]]:
    """For each symbol the counts of classes that write held beats, or onsets only, in each with a rest as a rest."""
    held = counted(body, meter).split()
    return [{label, f"{'(' * (label[0] == '(')}{label.strip('()')[0]}{')' * (label[0] == '(')}"} for label in held]


def test_no_count_on_offer_under_a_symbol_is_right_there_in_another_class() -> None:
    """Whatever a student puts together from the lists: each count that is not the key's is wrong by itself."""
    a_plan, tally = plan(BEGINNERS, "count-under-each"), Tally()
    seen = lists = 0
    for question in a_plan.ask.listed(a_plan.space):
        item = item_for(a_plan, question, tally)
        if item is None:
            continue
        placing = placing_of(item)
        assert placing is not None
        meter, _, body = format_excerpt(item.excerpt).partition(" ")
        right = counted(body, meter).split()
        assert len(placing.slots) == len(right) >= 2
        for slot in placing.slots:
            texts = [placing.texts[option] for option in slot.options]
            assert 4 <= len(texts) <= 12
            assert right[slot.sound] in texts
            assert set(texts) & labels_of_other_classes(body, meter)[slot.sound] == {right[slot.sound]}
            lists += 1
        seen += 1
    print(f"\ncount-under-each: {seen} items with {lists} lists")
    assert seen > 40


def test_groups_to_be_ordered_differ_in_beats_and_are_never_shown_in_an_order_that_says_something() -> None:
    for count in GROUPS["shortest-first"]:
        a_plan, tally = plan(BEGINNERS, "shortest-first", measures=count), Tally()
        for question in a_plan.ask.listed(a_plan.space):
            item = item_for(a_plan, question, tally)
            if item is not None:
                placing = placing_of(item)
                assert placing is not None
                meter = str(item.excerpt.meter)
                lengths = [beats(text, meter) for text in placing.texts]
                assert len(set(lengths)) == count
                assert lengths != sorted(lengths)
                assert " < ".join(placing.texts) not in {c.answer.text for c in item.choices}


def test_the_excerpts_are_all_there() -> None:
    """Compositions of n into 1 and 2 (Fibonacci, OEIS A000045) are the rests-free measures of halves and quarters."""
    a_plan = plan('\nmeters = ["2/4", "3/4", "4/4"]\nnotes = ["half", "quarter"]\n', "counts-for-rhythm")
    found = Counter(str(q.excerpt.meter) for q in a_plan.ask.listed(a_plan.space))
    assert found == {"2/4": 2, "3/4": 3, "4/4": 5}
