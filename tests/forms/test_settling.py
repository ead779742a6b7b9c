"""Wrong choices that are taken for all items of a form at once: what each adds, and what comes of it."""

from collections import Counter

from barwright.asks.ask import Question
from barwright.blueprint.parsing import read_blueprint
from barwright.forms.assembly import made_forms
from barwright.forms.length_ranks import ranks_of
from barwright.forms.parallel import first_variants
from barwright.forms.seeing import seen_answer
from barwright.guesser import SeenItem, seen_choice
from barwright.guesser.shares import NAMED, NAMES, shares_of
from barwright.items.item import Answer
from barwright.rhythm.text import parse_excerpt
from items.demo import BEGINNERS, blueprint_text, plan


def seen(*texts: str) -> SeenItem:
    """The first is right."""
    return SeenItem("finish-measure", tuple(seen_choice("symbols", text) for text in texts), frozenset({0}), True)


def test_an_item_and_its_mirror_add_nothing_together() -> None:
    """Of three choices the shortest is right in one, the longest in another, and the middle in the third."""
    one, other, middle = (
        shares_of(seen("q", "h", "h.")),
        shares_of(seen("h.", "q", "h")),
        shares_of(seen("h", "q", "h.")),
    )
    assert one["wins", "shortest"] == other["wins", "longest"] == NAMED * 40
    assert one["wins", "longest"] == other["wins", "shortest"] == NAMED * -20
    assert one["above", "longest"] == -other["above", "longest"] < 0
    for name in NAMES:
        assert sum(each.get(name, 0) for each in (one, other, middle)) == 0, name


def test_where_all_choices_are_alike_in_something_it_adds_nothing() -> None:
    found = shares_of(seen("q", "h", "w"))
    assert not {name for name in found if name[1] in ("most rests", "fewest rests", "most notes")}


def test_which_ranks_a_right_answer_can_have_goes_by_what_is_shorter_and_longer() -> None:
    """Of whole, half and quarter notes nothing is shorter than a quarter; beside a half there are both."""
    part = plan(BEGINNERS, "finish-measure")
    short = Question(parse_excerpt("4/4 h q _"), (Answer("symbols", "q"),))
    longer = Question(parse_excerpt("4/4 h _"), (Answer("symbols", "h"),))
    assert ranks_of(part, short) == {0}
    assert max(ranks_of(part, longer)) >= 1


def test_the_shortest_is_not_right_in_most_items_of_beginners() -> None:
    text = blueprint_text(BEGINNERS, "finish-measure", items=8)
    (made,) = made_forms(read_blueprint(text, "test.toml")[0])
    ranks: Counter[bool] = Counter()
    for item in first_variants(made.form):
        sizes = [seen_answer(c.answer).size for c in item.choices]
        ranks[seen_answer(item.keys[0].answer).size == min(sizes)] += 1
    assert ranks[True] <= 5
