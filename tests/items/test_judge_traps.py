"""The judge against hand-built items: every trap is refused for exactly the reasons given, its mended twin accepted."""

from dataclasses import replace

import pytest
from judge_cases import EVERYTHING, KINDS, Case, made, textbook_cases

from barwright.counting.counts import spellings
from barwright.items.item import Answer, Choice, Item
from barwright.judge import REASONS, judged
from barwright.judge.reasons import reason

CASES = textbook_cases()
TYPED = ("write-counts", "count-under-mark")
# These show in no hand-written row: they are about how the item is built, not about what it says.
BUILT = {"wrong-kind", "unsorted-choices", "unnamed-misreading"}


@pytest.mark.parametrize("case", CASES, ids=lambda c: c.line)
def test_a_trap_is_refused_for_these_reasons_and_a_mended_item_accepted(case: Case) -> None:
    assert judged(case.item, case.taught) == case.reasons


def test_every_reason_and_every_ask_has_a_case() -> None:
    shown = {r.partition(":")[0] for c in CASES for r in c.reasons}
    assert shown | BUILT == set(REASONS)
    assert {c.item.ask for c in CASES if not c.reasons} == set(KINDS)


def test_a_reason_is_its_id_and_the_place() -> None:
    assert reason("no-gap", "3/4 h q _") == "no-gap: 3/4 h q _"


def sound_item() -> Item:
    item = made("finish-measure", "3/4 h _", "q", "h, e")
    assert judged(item, EVERYTHING) == ()
    return item


def test_an_answer_of_another_kind_is_refused() -> None:
    item = sound_item()
    odd = Choice(Answer("number", "2"), ("error",))
    choices = tuple(sorted((*item.choices, odd), key=lambda c: c.answer))
    assert judged(replace(item, choices=choices), EVERYTHING) == ("wrong-kind: number '2'",)


def test_choices_out_of_order_are_refused() -> None:
    item = sound_item()
    assert judged(replace(item, choices=item.choices[::-1]), EVERYTHING) == ("unsorted-choices: q, h, e",)


@pytest.mark.parametrize(
    ("named", "told"), [(("",), "none"), (("error", ""), "error, "), (("error", "error"), "error, error")]
)
def test_a_wrong_choice_without_a_name_for_its_error_is_refused(named: tuple[str, ...], told: str) -> None:
    item = sound_item()
    first, *others = item.choices
    choices = (replace(first, misreadings=named), *others)
    assert judged(replace(item, choices=choices), EVERYTHING) == (f"unnamed-misreading: 'e': {told}",)


@pytest.mark.parametrize("text", ["\x1b[31m", "\u202eq", 'it\'s "q"', "\\x00"])
def test_a_text_that_cannot_be_read_is_quoted_as_it_stands(text: str) -> None:
    item = sound_item()
    twice = Choice(Answer(item.choices[0].answer.kind, text), ("error",))
    choices = tuple(sorted((*item.choices, twice, twice), key=lambda c: c.answer))
    reasons = [each for each in judged(replace(item, choices=choices), EVERYTHING) if text in each]
    unread = f"unreadable-answer: '{text}'"
    assert reasons == [unread, unread, f"repeated-answer: '{text}'"]


def test_a_target_that_is_not_asked_for_is_quoted_as_it_stands() -> None:
    target = "\x1bwhole"
    assert judged(replace(sound_item(), target=target), EVERYTHING) == (f"wrong-target: '{target}'",)


def test_who_claps_hears_no_difference_between_a_held_note_and_a_rest_after_it() -> None:
    """Where only onsets count, `q rq` and `h` are one rhythm (setting `equivalence`): never two choices of one item."""
    item = made("all-that-fit", "4/4 h _", "h, q rq", "q, w")
    assert judged(item, EVERYTHING) == ()
    clapped = replace(item, conventions=replace(item.conventions, equivalence="onsets"))
    assert judged(clapped, EVERYTHING) == ("same-meaning: h, q rq",)


def test_what_was_not_taught_is_found_with_everything_else() -> None:
    item = made("finish-measure", "3/4 q. _", "q.", "h, e, q")
    few = replace(EVERYTHING, tokens=frozenset({"h", "q"}), ties=False)
    assert judged(item, EVERYTHING) == ()
    assert judged(item, few) == ("untaught: q. in 3/4 q. _", "untaught: e in e", "untaught: q. in q.")


@pytest.mark.parametrize(
    "case", [c for c in CASES if c.item.ask in ("write-counts", "count-under-mark") and not c.reasons]
)
def test_what_may_be_typed_for_the_key_is_no_wrong_answer_that_is_foreseen(case: Case) -> None:
    conventions = case.item.conventions
    accepted = {s for key in case.item.keys for s in spellings(key.answer.text, conventions)}
    assert accepted.isdisjoint(s for wrong in case.item.wrong for s in spellings(wrong.answer.text, conventions))
