"""The key is no opinion: of all ways to key the same choices, the judge accepts one at most."""

from dataclasses import replace
from itertools import combinations

from hypothesis import given, settings
from hypothesis import strategies as st
from judge_cases import EVERYTHING, KINDS, Case, made, textbook_cases

from barwright.items.item import Choice, Item
from barwright.judge import judged
from barwright.rhythm.conventions import Conventions
from whole import whole_or_part

ACCEPTED = [c for c in textbook_cases() if not c.reasons]
SYMBOLS = [
    "w",
    "h",
    "h.",
    "q",
    "q.",
    "e",
    "s",
    "rh",
    "rq",
    "re",
    "rq.",
    "rW",
    "q q",
    "q e",
    "e q",
    "e e",
    "q. e",
    "h q",
    "rq rq",
    "q~ q",
]
BLANKS = [
    "2/4 q _",
    "3/4 h _",
    "3/4 q _",
    "4/4 q _ q",
    "4/4 _ h",
    "4/4 q. _",
    "6/8 q. _",
    "2/2 h _",
    "3/8 q _",
    "4/4 _",
]
FIGURES = [
    "h q",
    "q h",
    "q q q",
    "h.",
    "q. q.",
    "e e e e e e",
    "q rq q",
    "rW",
    "q. e q",
    "q e e q",
    "q~ q q",
    "h h",
    "w",
    "q q",
    "h",
    "q. e",
]
METERS = ["2/4", "3/4", "4/4", "2/2", "3/8", "6/8", "9/8", "12/8"]
ROWS = [
    "1 2 3",
    "1-2 3",
    "1 3",
    "1 2-3",
    "1 (2) 3",
    "1 2 & 3",
    "1 & 2 3",
    "1-2-3",
    "1-2 & 3",
    "1 2 3 4",
    "1 la li 2",
    "(1-2-3)",
]
CLAIMS = [f"{kind} {a} {b}" for kind in ("fits", "fits-not") for a in range(5) for b in range(2, 5)]
SAYINGS = [
    *("adds-up 3 4", "adds-up 4 4", "adds-up 6 8", "adds-up 2 4", "stands-for 4", "stands-for 8", "stands-for 2"),
    *("how-many 2", "how-many 3", "how-many 4", "how-many 6", "big-beats 2", "big-beats 6", "kind-of-note"),
    *("notes 2", "notes 3", "notes 4", "measures 1", "measures 3", "lasts 1", "lasts 2", "lasts 3"),
]
ORDERS = [
    *("q < h < w", "h < q < w", "w < h < q", "q < w < h", "q < h < q q", "q < q q < h", "q q < h < q"),
    *("e e < q < rh", "q < e e < rh", "rh < q < e e"),
]
POOLS: dict[str, tuple[list[str], list[str]]] = {
    "finish-measure": (BLANKS, SYMBOLS),
    "finish-measure-with-two": (BLANKS, SYMBOLS),
    "all-that-fit": (BLANKS, SYMBOLS),
    "drag-into-the-blank": (BLANKS, SYMBOLS),
    "shortest-first": (["4/4 h | q | w", "4/4 e e | q | rh", "3/4 h | q | q q"], ORDERS),
    "beats-left": (BLANKS, ["1", "2", "3", "4", "5", "6", "1/2", "3/2", "5/2"]),
    "counts-for-rhythm": ([f"3/4 {f}" for f in FIGURES[:11]], ROWS),
    "write-counts": ([f"3/4 {f}" for f in FIGURES[:11]], ROWS),
    "count-under-each": ([f"3/4 {f}" for f in FIGURES[:11]], ROWS),
    "count-under-mark": (
        ["3/4 *h q", "3/4 q *rh", "6/8 q. *q.", "3/4 q *q q"],
        ["1", "2", "(2)", "1-2", "2-3", "(2-3)", "4-5-6"],
    ),
    "rhythm-for-counts": ([f"3/4 {f}" for f in FIGURES[:11]], FIGURES),
    "time-signature-for-rhythm": ([f"{m} {f}" for m in ("3/4", "6/8") for f in FIGURES[:8]], METERS),
    "rhythm-for-time-signature": ([f"3/4 {f}" for f in FIGURES[:11]], FIGURES),
    "does-it-fit": ([f"{m} {s}" for m in ("2/4", "3/4", "4/4") for s in ("w", "h", "q", "rW", "rw", "rh")], CLAIMS),
    "what-the-numbers-say": (["3/4 h q", "3/4 q rq q", "6/8 q. q.", "2/4 q q", "4/4 h h", "3/4 rW"], SAYINGS),
}


def keyed(item: Item, keys: set[str]) -> Item:
    """The item with these texts keyed and no others; a key that loses its place gets some error's name."""
    choices = tuple(
        Choice(c.answer, () if c.answer.text in keys else c.misreadings or ("an-error",)) for c in item.choices
    )
    return replace(item, choices=choices)


@st.composite
def choice_sets(draw: st.DrawFn) -> Item:
    ask = draw(st.sampled_from(sorted(POOLS)))
    excerpts, answers = POOLS[ask]
    texts = draw(st.lists(st.sampled_from(answers), min_size=3, max_size=5, unique=True))
    target = draw(st.sampled_from(["top", "bottom"])) if ask == "what-the-numbers-say" else ""
    held = draw(st.sampled_from(["beats", "onset_only"]))
    rest = draw(st.sampled_from(["forbid", "allow"]))
    conventions = Conventions(held=held, half_rest_in_3_4=rest)
    return made(ask, draw(st.sampled_from(excerpts)), "", ", ".join(texts), target=target, conventions=conventions)


@settings(max_examples=whole_or_part(600, 150), deadline=None)
@given(choice_sets())
def test_of_all_keyings_of_the_same_choices_at_most_one_is_accepted(item: Item) -> None:
    texts = [c.answer.text for c in item.choices]
    sizes = range(len(texts) + 1)
    keyings = [set(keys) for size in sizes for keys in combinations(texts, size)]
    accepted = [keys for keys in keyings if not judged(keyed(item, keys), EVERYTHING)]
    assert len(accepted) <= 1


@settings(max_examples=whole_or_part(300, 75), deadline=None)
@given(st.sampled_from(ACCEPTED), st.data())
def test_swapping_the_key_with_a_wrong_choice_is_always_refused(case: Case, data: st.DataObject) -> None:
    item = case.item
    key = data.draw(st.sampled_from(item.keys)).answer.text
    wrong = data.draw(st.sampled_from(item.wrong)).answer.text
    keys = {c.answer.text for c in item.keys}
    assert judged(keyed(item, keys), case.taught) == ()
    assert judged(keyed(item, keys - {key} | {wrong}), case.taught)
    assert judged(keyed(item, keys - {key}), case.taught)
    assert judged(keyed(item, keys | {wrong}), case.taught)


def test_every_ask_has_a_pool() -> None:
    assert set(POOLS) == set(KINDS)
