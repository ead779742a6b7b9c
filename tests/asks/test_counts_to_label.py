"""Count labeling on small classes: what can be picked label by label, what is marked, drawn, listed and offered."""

from itertools import islice
from random import Random

import pytest

from asks.spaces import excerpt, space
from barwright.asks import ASKS
from barwright.asks.ask import Question, Space, evenly
from barwright.asks.count_labeling import (
    aligned_offers,
    aligned_question,
    drawn_aligned,
    is_aligned,
    listed_aligned,
    lists_all,
)
from barwright.asks.drawn_excerpts import drawn_excerpt
from barwright.items.item import Answer
from barwright.notation.plain import LAWS, Style
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.text import format_excerpt

ANY = space("q", "4/4")
KODALY, R = Conventions(counting="kodaly"), Conventions(rest_counts="R")
NO_SIXTEENTHS = Conventions(compound_16ths="none")


def asked(question: Question | None) -> str:
    """A question in one line: the excerpt and its right answer."""
    return "" if question is None else f"{format_excerpt(question.excerpt)} : {question.keys[0].text}"


def listed(ask: str, a_space: Space) -> list[str]:
    return [asked(question) for question in ASKS[ask].listed(a_space)]


def test_labels_can_be_picked_where_each_is_one_word() -> None:
    assert is_aligned((("1", "2"), ("1-2",)))
    assert not is_aligned((("1", "2"), ("1 2",)))
    assert not is_aligned((("1", "2"), ("()",))), "no word in one measure"


@pytest.mark.parametrize(
    ("text", "conventions", "right"),
    [
        ("4/4 q rq h", None, "1 (2) 3-4"),
        ("4/4 h h", None, "1-2 3-4"),
        ("4/4 w", None, ""),  # one symbol
        ("2/2 h s s s s h", None, ""),  # numbers have no count for sixteenths of a half beat
        ("6/8 e. s e q.", NO_SIXTEENTHS, ""),  # nor this class for those of a compound beat
        # Others begin a tie over the middle of the measure with 2, and could pick `&` for it.
        ("2/4 e q e", None, ""),
        ("3/4 q q q", KODALY, "ta ta ta"),
        ("2/4 e e q", KODALY, ""),  # ta is what others say on the beat
        # Eleven labels, and a silent eighth; a silent sixteenth makes thirteen, and lists too long.
        ("4/4 s s s s q q q | rq q rq q | q rq q rq | q q q e re", None,
         "1 e & a 2 3 4 | (1) 2 (3) 4 | 1 (2) 3 (4) | 1 2 3 4 (&)"),
        ("4/4 s s s s q q q | rq q rq q | q rq q rq | q q q e re | e s rs q q q", None, ""),
    ],
)  # fmt: skip
def test_a_question_has_labels_that_no_other_class_would_pick_elsewhere(
    text: str, conventions: Conventions | None, right: str
) -> None:
    found = asked(aligned_question(excerpt(text), space("q", "4/4", conventions=conventions)))
    assert found == (f"{text} : {right}" if right else "")


def test_where_excerpts_are_not_too_many_all_are_asked_about() -> None:
    small = space("w h q rq", "2/4")
    assert lists_all(small)
    assert listed("count-under-each", small) == ["2/4 q q : 1 2", "2/4 q rq : 1 (2)", "2/4 rq q : (1) 2"]
    large = space("h q e rq", "4/4", measures=2)
    assert not lists_all(large)
    assert lists_all(space("h q e rq", "4/4", measures=2, own="4/4 q q h | h h"))


def test_of_too_many_some_are_listed_and_not_the_first_ones() -> None:
    few = list(islice(listed_aligned(space("h q e rq", "4/4", measures=2)), 20))
    assert len({question.excerpt.measures[0] for question in few}) > 10


def test_where_few_measures_can_be_asked_about_all_lines_of_them_are_listed() -> None:
    # Of 290 measures of this class five have counts; a line of rests alone is none to ask about.
    a_space = space("h e s rW", "2/2", measures=2)
    able = ["h h", "h e e e e", "e e e e h", "e e e e e e e e", "rW"]
    lines = [f"2/2 {one} | {other}" for one in able for other in able]
    assert [line.split(" : ")[0] for line in listed("count-under-each", a_space)] == lines[:-1]


def test_in_a_large_class_measures_that_cannot_be_asked_about_are_exchanged() -> None:
    a_space = space("h e s rW", "2/2", measures=2)
    assert all(drawn_aligned(a_space, Random(seed)) is not None for seed in range(10))
    # Here one of the two measures could be asked about as it is.
    kodaly = space("h q e rq rW", "4/4", measures=2, conventions=KODALY)
    assert asked(aligned_question(drawn_excerpt(kodaly, Random(0)), kodaly)) == ""
    assert asked(drawn_aligned(kodaly, Random(0))) != ""


def test_what_can_be_asked_about_stays_as_it_was_drawn() -> None:
    a_space = space("h q e rq", "4/4", measures=2)
    for seed in range(5):
        question = drawn_aligned(a_space, Random(seed))
        assert question is None or question.excerpt == drawn_excerpt(a_space, Random(seed))


def test_in_a_small_class_a_draw_may_be_in_vain_and_in_one_without_counts_each_is() -> None:
    assert [drawn_aligned(space("h e s", "2/2"), Random(seed)) for seed in range(10)].count(None) in range(5, 11)
    none = space("e. s", "2/2", measures=4)
    assert not lists_all(none)
    assert drawn_aligned(none, Random(1)) is None


def offered(text: str, a_space: Space) -> dict[str, set[str]]:
    question = aligned_question(excerpt(text), a_space)
    assert question is not None
    return {answer.text: set(ids) for answer, ids in aligned_offers(question, a_space, Random(1)).items()}


def test_rows_with_a_word_for_each_symbol_are_offered() -> None:
    # Not `1 2 3 4`, two words under each half, nor `1 3-4`: others write 1 and 3 there.
    assert offered("4/4 h h", space("h q", "4/4")) == {
        "2 2": {"lengths-written-as-counts"},
        "1-2 1-2": {"every-note-counted-from-one", "count-restarts-at-the-half-measure"},
        "1-2 2-3": {"last-held-beat-counted-again"},
        "2 4": {"last-beat-of-each-note-written"},
        "1-2-3 3-4": {"counted-up-to-the-next-note"},
    }
    # `1 R-R` is `1 R` to a class that marks rests by R, as it is printed.
    assert offered("2/4 q rq", space("q rq", "2/4", conventions=R)) == {
        "1-2 R": {"counted-up-to-the-next-note"},
    }


def test_lists_of_labels_are_not_too_long() -> None:
    # Six labels, and six more for who turns the sign of silence around; of seven it would be fourteen.
    a_space = space("q e s rq h", "4/4")
    assert offered("4/4 s s s s e e h", a_space)["(1) (e) (&) (a) (2) (&) (3-4)"] == {"parentheses-around-the-notes"}
    told = offered("4/4 s s s s e e q rq", a_space)
    assert "(1) (e) (&) (a) (2) (&) (3) 4" not in told
    assert told["1 e & a 2 & 3 4"] == {"rest-counts-without-parentheses"}


@pytest.mark.parametrize(
    ("own", "conventions", "marks"),
    [
        ("3/4 h rq", None, ["3/4 *h rq : 1-2", "3/4 h *rq : (3)"]),
        # A sound that is held over the barline could be told with either part of it.
        ("3/4 q q q~ | q h", None, ["3/4 *q q q~ | q h : 1", "3/4 q *q q~ | q h : 2", "3/4 q q q~ | q *h : 2-3"]),
        ("3/4 h.~ | q h", None, ["3/4 h.~ | q *h : 2-3"]),
        ("3/4 q~ q q | q h", None,
         ["3/4 *q~ q q | q h : 1-2", "3/4 q~ q *q | q h : 3", "3/4 q~ q q | *q h : 1", "3/4 q~ q q | q *h : 2-3"]),
        ("6/8 e. s e q.", NO_SIXTEENTHS,
         ["6/8 *e. s e q. : 1", "6/8 e. s *e q. : li", "6/8 e. s e *q. : 2"]),
        # Who counts on through a note that begins where nothing is counted writes -la under it: 1, -la, -li, nothing.
        ("6/8 s e e s q.", Conventions(compound_16ths="none", held="subdivisions"),
         ["6/8 *s e e s q. : 1", "6/8 s e e s *q. : 2-la-li"]),
        ("2/2 h s s s s q", None, []),
    ],
)  # fmt: skip
def test_sounds_and_rests_with_a_count_of_their_own_are_marked(
    own: str, conventions: Conventions | None, marks: list[str]
) -> None:
    a_space = space("w h. h q e. e s q. rq", own.split()[0], ties=True, own=own, conventions=conventions)
    assert listed("count-under-mark", a_space) == marks
    ask = ASKS["count-under-mark"]
    assert {asked(ask.draw(a_space, Random(seed))) for seed in range(40)} == {*marks, *([] if marks else [""])}


def test_rows_and_rhythms_are_asked_about_where_the_class_has_a_count() -> None:
    counted, not_counted = space("h q", "2/2", own="2/2 h h"), space("h s q", "2/2", own="2/2 h s s s s q")
    rows = {"counts-for-rhythm": "1 2", "write-counts": "1 2", "count-under-each": "1 2", "rhythm-for-counts": "h h"}
    for ask, right in rows.items():
        assert listed(ask, counted) == [f"2/2 h h : {right}"] == [asked(ASKS[ask].draw(counted, Random(1)))]
        assert listed(ask, not_counted) == []
        assert ASKS[ask].draw(not_counted, Random(1)) is None


def test_two_measures_are_counted_and_one_is_read() -> None:
    asks = {ask.id: ask for ask in ASKS.values() if ask.family == "count-labeling"}
    assert {name for name, ask in asks.items() if ask.measures == 2} == asks.keys() - {"rhythm-for-counts"}
    assert all(ask.measures in (1, 2) for ask in asks.values())
    whole = {"rhythm", "row", "row-asked", "signature-shown"}
    assert {name: set(ask.cues) for name, ask in asks.items()} == {
        "counts-for-rhythm": whole,
        "write-counts": whole,
        "count-under-each": whole,
        "count-under-mark": whole - {"row"},
        "rhythm-for-counts": {"rhythm", "row", "row-shown"},
    }


def test_wrong_answers_are_those_of_the_exercise() -> None:
    a_space, whole = space("h q rq", "2/4"), Question(excerpt("2/4 q rq"), (Answer("row", "1 (2)"),))
    rows = {
        name: {a.text for a in ASKS[name].offers(whole, a_space, Random(1))}
        for name in ("write-counts", "counts-for-rhythm")
    }
    assert all("1 2" in each and "1 (2)" not in each for each in rows.values())
    marked = Question(excerpt("2/4 q *rq"), (Answer("row", "(2)"),))
    assert "2" in {answer.text for answer in ASKS["count-under-mark"].offers(marked, a_space, Random(1))}
    read = Question(excerpt("2/4 q rq"), (Answer("measures", "q rq"),))
    assert "h" in {answer.text for answer in ASKS["rhythm-for-counts"].offers(read, a_space, Random(1))}
    assert "1 1" in {answer.text for answer in ASKS["counts-for-rhythm"].pairs(whole, a_space)}


@pytest.mark.parametrize(("measures", "even"), [(1, True), (2, False)])
def test_of_single_rhythms_to_pick_each_is_right_as_often_as_another(measures: int, even: bool) -> None:
    """Wrong ones are any, so that the plainest would often be right; lines of measures go on well from each other."""
    style = Style(frozenset({"e e", "e re"}), lifted=frozenset(LAWS) - {"any-pattern"})
    plain = space("h q e re rq", "2/4 4/4", measures=measures, style=style)

    def drawn(a_space: Space) -> list[str]:
        return [asked(ASKS["rhythm-for-counts"].draw(a_space, Random(seed))) for seed in range(60)]

    assert (drawn(plain) == drawn(evenly(plain))) is even
