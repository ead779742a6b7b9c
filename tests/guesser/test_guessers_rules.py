"""What guessers see and score, rule by rule, each worked by hand on paper (common practice: folk rules)."""

import pytest

from barwright.guesser import HABITS, STRATEGIES, Ledger, Moments, Past, SeenItem, seen_choice, winnings
from barwright.guesser.moments import differences, features_of
from barwright.guesser.seen import COUNTED
from barwright.guesser.shares import shares_of
from barwright.guesser.strategies import OF_PLACE, TRAITS, Scores, distance, option_scores, traits_of
from barwright.guesser.winnings import won
from barwright.rhythm.values import TICKS


def item(ask: str, kind: str, *texts: str, key: int = 0, one_length: bool = False) -> SeenItem:
    choices = tuple(seen_choice(kind, text) for text in texts)
    return SeenItem(ask, choices, frozenset({key}), one_length)


def scored(strategy: str, seen: SeenItem, past: Past | None = None) -> list[int]:
    """What the habit behind a strategy gives each choice."""
    found: list[Scores] = [habit(seen, past or Past()) for habit, *names in HABITS if strategy in names]
    (scores,) = found
    return list(scores)


def counts(kind: str, text: str) -> dict[str, int]:
    """How many there are of each thing in a choice; those of which there is none left out."""
    return {what: n for what, n in zip(COUNTED, seen_choice(kind, text).counts, strict=True) if n}


@pytest.mark.parametrize(
    ("kind", "text", "wanted"),
    [
        ("measures", "q. re | h~ h", {"symbols": 4, "notes": 3, "rests": 1, "dots": 1, "ties": 1, "kinds": 4}),
        ("row", "1-2 (3) & | R 2", {
            "symbols": 5, "notes": 3, "rests": 2, "parentheses": 1, "hyphens": 1, "ands": 1, "numbers": 8, "kinds": 5,
        }),
        ("meter", "6/8", {"symbols": 2, "notes": 2, "numbers": 14, "kinds": 2}),
    ],
)  # fmt: skip
def test_what_is_counted_in_a_choice(kind: str, text: str, wanted: dict[str, int]) -> None:
    assert counts(kind, text) == wanted


def test_only_a_time_signature_is_read_as_two_numbers() -> None:
    assert seen_choice("meter", "3/4").tokens == ("3", "4")
    assert seen_choice("number", "3/2").tokens == ("3/2",)


@pytest.mark.parametrize(
    ("kind", "text", "ticks"),
    [("measures", "q q | h", TICKS), ("meter", "6/8", TICKS * 3 // 4), ("meter", "3/2", TICKS * 3 // 2),
     ("row", "1 2 3", None)],
)  # fmt: skip
def test_a_rhythm_and_a_meter_have_a_length(kind: str, text: str, ticks: int | None) -> None:
    assert seen_choice(kind, text).length == ticks


def test_what_is_no_rhythm_is_as_long_as_it_has_symbols() -> None:
    assert seen_choice("row", "1-2 (3) 4").size == 3
    assert seen_choice("row", "1 1 2").size == 3


def test_nothing_is_said_of_lengths_where_it_is_not() -> None:
    assert not SeenItem("x", (seen_choice("symbols", "h"),), frozenset({0})).one_length


def test_without_one_length_each_choice_is_an_answer() -> None:
    assert item("finish-measure", "symbols", "h", "q", "rq").options == ((0,), (1,), (2,))


def test_where_every_length_is_shared_each_choice_is_an_answer_again() -> None:
    seen = item("finish-measure", "symbols", "h", "rh", "q", "rq", one_length=True)
    assert seen.options == ((0,), (1,), (2,), (3,))


def test_right_is_the_option_of_exactly_the_keys() -> None:
    four = [seen_choice("symbols", text) for text in ("w", "q", "q q", "h")]
    assert SeenItem("all-that-fit", tuple(four), frozenset({2, 3}), one_length=True).right == 2
    assert SeenItem("all-that-fit", tuple(four), frozenset({2}), one_length=True).right is None
    assert item("finish-measure", "symbols", "h", "rh", "q", key=0, one_length=True).right is None


def test_nobody_wins_an_item_whose_key_cannot_be_right() -> None:
    seen = item("finish-measure", "symbols", "h", "rh", "q", "w", key=0, one_length=True)
    assert set(won(seen, Past())) == {0}


def test_the_middle_is_half_way_between_the_two_middle_lengths_and_one_length_of_three() -> None:
    # Eighths 1, 2, 4, 8: the middle is 3; of 2, 4, 8 it is 4. Scores are minus twice the distance.
    eighth = TICKS // 8
    assert scored("middle length", item("x", "symbols", "w", "h", "q", "e")) == [-eighth * n for n in (10, 2, 2, 4)]
    assert scored("middle length", item("x", "symbols", "w", "h", "q")) == [-eighth * n for n in (8, 0, 4)]


def test_likeness_is_minus_the_edits_to_all_others_in_tokens_or_letters() -> None:
    seen = item("x", "row", "1 2", "1 23", "4 5")
    assert scored("most like the others", seen) == [-3, -3, -4]
    assert scored("most like the others by letters", seen) == [-3, -4, -5]


def test_tokens_are_counted_in_their_place_and_anywhere_on_average() -> None:
    seen = item("x", "row", "1 2", "1 3", "2")
    # In place: 1 stands first in two choices, 2 second in one, 3 in one, 2 first in one.
    assert [n / 720720 for n in scored("shares most words", seen)] == [1.5, 1.5, 1]
    # Anywhere: 1 in two, 2 in two, 3 in one.
    assert [n / 720720 for n in scored("number named most", seen)] == [2, 1.5, 2]
    assert scored("shares most words", item("x", "row", "", "1")) == [0, 720720]


def test_means_of_any_usual_number_of_tokens_stay_whole() -> None:
    assert [n for n in range(1, 17) if 720720 % n] == []
    seen = item("x", "row", " ".join("1" for _ in range(13)), "2")
    assert scored("shares most words", seen) == [720720, 720720]


def test_the_traits_that_are_remembered() -> None:
    first, second, third, fourth = traits_of(item("x", "symbols", "h", "q q", "w", "e"))
    assert dict(first) == {
        "text": "h", "first word": ("h",), "place": 0, "rank": (3, 1), "shared": 2, "length": TICKS // 2, "likeness": 0,
    }  # fmt: skip
    assert (dict(second)["rank"], dict(second)["likeness"]) == ((3, 1), 1)
    assert (dict(third)["rank"], dict(third)["shared"], dict(third)["likeness"]) == ((3, 2), 1, 0)
    assert (dict(fourth)["rank"], dict(fourth)["place"]) == ((3, 0), 3)
    assert [name for name, _ in first] == list(TRAITS)
    words, *_ = traits_of(item("x", "row", "1 2 3", "2"))
    assert dict(words)["first word"] == ("1",)


def test_a_rate_is_how_often_of_as_often_as_met_and_once_more() -> None:
    past = Past()
    for key in (0, 0, 1):
        past.add(item("x", "symbols", "q", "h", key=key))
    seen = item("x", "symbols", "q", "h", "w")
    assert scored("text right before", seen, past) == [2, 1, 0]
    assert scored("text right at the best rate", seen, past) == [2 * 720720 // 4, 720720 // 4, 0]


def test_strategies_by_place_are_those_of_the_order_only() -> None:
    assert {
        "first", "last", "place right before", "place never right before", "place right at the best rate",
        "place right at the worst rate",
    } == OF_PLACE  # fmt: skip
    assert set(STRATEGIES) > OF_PLACE


def test_the_score_of_an_option_is_its_choices_or_their_mean() -> None:
    choices = tuple(seen_choice("symbols", text) for text in ("h", "q", "q q", "h."))
    several = SeenItem("all-that-fit", choices, frozenset({0, 2}), one_length=True)
    assert option_scores(several, [5, 7, 2, 1]) == [7 * 720720 // 2, 7 * 720720, 720720]
    shared = item("finish-measure", "symbols", "rh", "h", "q", "e", key=2, one_length=True)
    assert option_scores(shared, [5, 7, 2, 1]) == [2, 1]
    assert option_scores(item("x", "symbols", "h", "q"), [5, 7]) == [5, 7]


@pytest.mark.parametrize(
    ("one", "other", "edits"),
    [("a", "b", 1), ("a", "", 1), ("a b c d", "a x c d", 1), ("a b c", "b c d", 2), ("k i t t e n", "s i t t i n g", 3),
     ("", "", 0), ("", "a b c", 3), ("a", "a", 0), ("a b c d e f", "f a b c d e", 2), ("b b", "a b b b", 2),
     ("a a a", "a", 2), ("a b", "c d e", 3), ("b a", "a", 1), ("x a b c", "a b c", 1)],
)  # fmt: skip
def test_edits_by_hand(one: str, other: str, edits: int) -> None:
    assert distance(tuple(one.split()), tuple(other.split())) == edits
    assert distance(tuple(other.split()), tuple(one.split())) == edits


def test_a_form_is_remembered_item_by_item() -> None:
    met = item("x", "symbols", "q", "h", "w", key=1)
    again = item("x", "symbols", "e", "h", "w", key=1)
    ledger = winnings([met, again])
    # The first is a toss-up of three (20 of 60 parts), the second is known.
    assert ledger.asks["x"].won[STRATEGIES.index("text right before")] == 80
    assert ledger.whole.chance == 40


def test_features_are_counts_size_text_and_tokens() -> None:
    assert dict(features_of(seen_choice("symbols", "q q re"))) == {
        ("count", "symbols"): 3, ("count", "notes"): 2, ("count", "rests"): 1, ("count", "kinds"): 2,
        ("size", TICKS * 5 // 8): 1, ("text", "q q re"): 1, ("token", "q"): 2, ("token", "re"): 1,
    }  # fmt: skip
    assert dict(features_of(seen_choice("row", "1 2 4")))["count", "numbers"] == 1  # 7 in fours
    assert ("count", "numbers") not in dict(features_of(seen_choice("row", "1 2")))  # 3 is less than four
    assert dict(features_of(seen_choice("row", "1 3")))["count", "numbers"] == 1  # 4 is not


def test_differences_are_in_sixtieths_of_the_right_answer_less_the_mean() -> None:
    found = differences(item("x", "symbols", "q", "rq", "q q"))
    # Rests: 0 less 1/3; notes: 1 less (1 + 0 + 2)/3; symbols: 1 less 4/3.
    assert found["count", "rests"] == -20
    assert found["count", "notes"] == 0
    assert found["count", "symbols"] == -20
    assert found["size", TICKS // 2] == -20


def test_of_several_right_choices_each_counts_its_part() -> None:
    choices = tuple(seen_choice("symbols", text) for text in ("h", "q", "q q"))
    found = differences(SeenItem("all-that-fit", choices, frozenset({0, 2}), one_length=True))
    # Right: one h of two choices, less half of it; one q and two of two choices.
    assert (found["token", "h"], found["token", "q"]) == (15, 0)


def test_more_and_less_than_the_middle_and_any_two_of_them() -> None:
    found = differences(item("x", "row", "1 2", "1 2 3", "1 2 3 4"))
    symbols, numbers = COUNTED.index("symbols"), COUNTED.index("numbers")
    assert found["more or less", (symbols, -1)] == 40
    assert found["more or less", (symbols, 1)] == -20
    assert ("more or less", (symbols, 0)) not in found
    assert found["both", ((symbols, -1), (numbers, -1))] == 40
    five = differences(item("x", "row", "1", "1 2 3", "1 2 3 4", "1 2 3 4 5", "1 2 3 4 5 6"))
    assert five["more or less", (symbols, -1)] == 60 - 2 * 12, "below the third of five"
    even = differences(item("x", "row", "1 2", "1 2 3", "1 2 3 4", "1 2 3 4 5"))
    # Between three and four symbols lies the middle: two have less, and two have more.
    assert even["more or less", (symbols, -1)] == 30
    assert even["more or less", (symbols, 1)] == -30


def test_nothing_is_learned_of_an_item_that_has_no_answer() -> None:
    assert differences(item("finish-measure", "symbols", "h", "rh", "q", "w", one_length=True)) == {}


def test_sums_grow_by_what_is_added() -> None:
    moments, seen = Moments(), item("x", "symbols", "q q", "h", key=0)
    first = moments.would_add(seen)
    assert first == sum(d * d for d in differences(seen).values())
    moments.add(seen)
    # Twice the sums are four times the squares: three more of them.
    assert moments.would_add(seen) == 3 * first
    moments.add(seen)
    assert moments.would_add(seen) == 5 * first
    assert moments.sums["token", "q"] == 120


def test_what_is_taken_back_is_as_if_it_had_never_been() -> None:
    first, second = item("x", "symbols", "q", "h", "w", key=1), item("x", "symbols", "h", "e", "w", key=0)
    ledger, moments = Ledger(), Moments()
    for each in (first, second):
        brought = ledger.brought_by(each)
        ledger.add(each)
        moments.add(each)
    ledger.take_back(second, brought)
    moments.take_back(second)
    alone, learnt = winnings([first]), Moments()
    learnt.add(first)
    assert ledger.asks == alone.asks
    assert {feature: n for feature, n in moments.sums.items() if n} == {f: n for f, n in learnt.sums.items() if n}
    # What was right in it is forgotten as well: h was right once, and met once.
    assert ledger.with_next(second) == alone.with_next(second)
    past = Past()
    past.add(first)
    past.add(second)
    past.take_back(second)
    assert (past.right["text", "h"], past.met["text", "h"], past.met["text", "e"]) == (1, 1, 0)


def test_looking_ahead_at_an_item_of_a_new_ask_is_that_item_alone() -> None:
    ledger = Ledger()
    ledger.add(item("x", "symbols", "q", "h"))
    assert ledger.with_next(item("y", "symbols", "q", "h")).items == 1


def shared(seen: SeenItem, of: tuple[str, str]) -> dict[tuple[str, object], int]:
    """What an item adds to the sums that are named for a habit."""
    return {name: parts for name, parts in shares_of(seen).items() if name[1] in of}


@pytest.mark.parametrize(
    ("key", "longest", "shortest", "above", "beside"),
    [
        # A toss-up wins 15 parts of 60. The whole note is the longest: 45 more, and 15 less for the shortest; counted
        # three times. One of four is longest, two are shortest: by 45 more and 30 less at the end than the mean. Above
        # 3, 2, 0, 0 others, on average 5/4: 7/4 more, of four choices, rounded down. As long as 1, 1, 2, 2: 1/2 less.
        (0, (135, 45), (-45, -30), 26, -8),
        (1, (-45, -15), (-45, -30), 11, -8),
        # The shortest is one of two: a toss-up between them wins 30.
        (2, (-45, -15), (45, 30), -19, 7),
    ],
)
def test_what_an_item_adds_for_those_who_go_by_length(
    key: int, longest: tuple[int, int], shortest: tuple[int, int], above: int, beside: int
) -> None:
    seen = item("finish-measure", "symbols", "w", "h", "q", "e e", key=key)
    assert shared(seen, ("longest", "shortest")) == {
        ("wins", "longest"): longest[0],
        ("at the end", "longest"): longest[1],
        ("wins", "shortest"): shortest[0],
        ("at the end", "shortest"): shortest[1],
        ("above", "longest"): above,
        ("beside", "longest"): beside,
    }


def test_what_an_item_does_not_add_is_left_out() -> None:
    # No choice has a rest, so that whoever counts rests is at chance, and so is a learner.
    seen = item("finish-measure", "symbols", "w", "h", "q", "e e")
    assert not shared(seen, ("most rests", "fewest rests", "rests"))
    assert 0 not in shares_of(seen).values()


def test_an_item_of_which_no_option_is_right_adds_nothing() -> None:
    assert shares_of(item("finish-measure", "symbols", "q", "e e", "h", one_length=True)) == {}
    assert shares_of(item("finish-measure", "symbols", "q", "e e", "h", "w", one_length=True)) == {}


def test_a_toss_up_among_all_choices_or_all_answers_adds_nothing_and_others_do() -> None:
    # All of one length: by likeness and by words they differ.
    alike = shares_of(item("x", "symbols", "q rq", "q re re", "e e q"))
    assert ("wins", "longest") not in alike
    assert ("wins", "most like the others") in alike
    assert ("wins", "number named least") in alike
    # Two lengths, each of a rest and no rest: by rests nobody can choose between them, by symbols one is more common.
    choices = tuple(seen_choice("symbols", text) for text in ("h", "rh", "rq", "e e"))
    several = shares_of(SeenItem("all-that-fit", choices, frozenset({0, 1}), one_length=True))
    assert ("wins", "most rests") not in several
    assert ("wins", "common number of symbols") in several
