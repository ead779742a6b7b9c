"""Whether a student who holds one misreading, or two, gives an answer to an item; worked by hand. Common practice."""

import pytest

from barwright.asks.derivation import way_leads_to
from barwright.items.item import Answer
from forms.made_items import item


def leads(way: str, ask: str, excerpt: str, right: str, answer: str, *, target: str = "") -> bool:
    """Whether the misreading, or both, lead to the answer."""
    made = item(ask, excerpt, right, "", target=target)
    return way_leads_to(way, made, Answer(made.keys[0].answer.kind, answer))


@pytest.mark.parametrize(
    ("way", "ask", "excerpt", "right", "answer", "does"),
    [
        # Without its dot the dotted half is a half: then a half is missing, and not a quarter.
        ("dots-passed-over", "finish-measure", "4/4 h. _", "q", "h", True),
        ("dots-passed-over", "finish-measure", "4/4 h. _", "q", "e", False),
        ("dots-passed-over", "beats-left", "4/4 h. _", "1", "2", True),
        ("dots-passed-over", "beats-left", "4/4 h. _", "1", "3", False),
        # A measure of a dotted half and a quarter is a measure of 3/4 for whoever passes dots over.
        ("dots-passed-over", "time-signature-for-rhythm", "4/4 h. q", "4/4", "3/4", True),
        ("dots-passed-over", "time-signature-for-rhythm", "4/4 h. q", "4/4", "2/4", False),
        ("dots-passed-over", "rhythm-for-time-signature", "3/4 q q q", "q q q", "h. q", True),
        ("dots-passed-over", "rhythm-for-time-signature", "3/4 q q q", "q q q", "h. q q", False),
        # Notes numbered in order: 1 2 3 for a half between two quarters.
        ("notes-numbered-in-order", "write-counts", "4/4 q h q", "1 2-3 4", "1 2 3", True),
        ("notes-numbered-in-order", "write-counts", "4/4 q h q", "1 2-3 4", "1 2 4", False),
        ("notes-numbered-in-order", "count-under-mark", "4/4 q h *q", "4", "3", True),
        ("notes-numbered-in-order", "count-under-mark", "4/4 q h *q", "4", "2", False),
        # Five eighths before six; without dots these are four. Two groups that seem to be of one length have no order.
        ("dots-passed-over", "shortest-first", "4/4 q q q q", "q e e e < q. q.", "q. q. < q e e e", True),
        ("dots-passed-over", "shortest-first", "4/4 q q q q", "q e e e < q. q.", "q e e e < q. q.", False),
        ("dots-passed-over", "shortest-first", "4/4 q q q q", "h < q. q.", "q. q. < h", False),
        ("dots-passed-over", "does-it-fit", "3/4 q.", "fits 3/2 3", "fits 1 3", True),
        ("dots-passed-over", "does-it-fit", "3/4 q.", "fits 3/2 3", "fits 2 3", False),
        # `1 (2) &`: who passes parentheses over hears a note; who writes them for held beats counts `q. e` so.
        ("parentheses-passed-over", "rhythm-for-counts", "2/4 q re e", "q re e", "q e e", True),
        ("parentheses-passed-over", "rhythm-for-counts", "2/4 q re e", "q re e", "q. e", False),
        ("held-beats-in-parentheses", "rhythm-for-counts", "2/4 q re e", "q re e", "q. e", True),
        ("held-beats-in-parentheses", "rhythm-for-counts", "2/4 q re e", "q re e", "q e e", False),
        # A misreading that has no place in the exercise leads nowhere.
        ("notes-numbered-in-order", "finish-measure", "4/4 h. _", "q", "h", False),
        ("names-are-parts-of-the-measure", "time-signature-for-rhythm", "4/4 h. q", "4/4", "3/4", False),
        # Whoever holds it counts this measure as it is: it gives no row of its own.
        ("whole-rest-always-lasts-four-beats", "count-under-mark", "4/4 q h *q", "4", "4", False),
    ],
)
def test_where_one_misreading_leads(way: str, ask: str, excerpt: str, right: str, answer: str, *, does: bool) -> None:
    assert leads(way, ask, excerpt, right, answer) is does


@pytest.mark.parametrize(
    ("way", "ask", "excerpt", "right", "answer", "does"),
    [
        # Two quarters seem to be there, and a half to be missing, which a dotted one seems to be.
        ("rests-take-no-time+dots-passed-over", "finish-measure", "4/4 q rq q. _", "e", "h.", True),
        ("rests-take-no-time+dots-passed-over", "finish-measure", "4/4 q rq q. _", "e", "q.", False),
        # The eighth waits for the second beat, and the half for the third.
        ("dots-passed-over+note-after-a-dot-waits-for-the-beat", "counts-for-rhythm", "4/4 q. e h", "1-2 & 3-4",
         "1 2 3-4", True),
        ("dots-passed-over+note-after-a-dot-waits-for-the-beat", "counts-for-rhythm", "4/4 q. e h", "1-2 & 3-4",
         "1 2 & 3 4", False),
        ("dots-passed-over+parentheses-around-the-notes", "counts-for-rhythm", "4/4 q. e h", "1-2 & 3-4",
         "1 2 3-4", False),
        ("notes-of-a-beat-turned-around+parentheses-around-the-notes", "rhythm-for-counts", "2/4 q re e", "q re e",
         "rq re e", True),
        ("notes-of-a-beat-turned-around+parentheses-around-the-notes", "rhythm-for-counts", "2/4 q re e", "q re e",
         "q e e", False),
        ("rests-take-no-time+dots-passed-over", "beats-left", "4/4 q. rq _", "3/2", "3", False),
        # Nobody takes 4/4 for granted who fills a measure up: nothing but the other misreading would be left.
        ("every-symbol-is-one-beat+four-four-taken-for-granted", "finish-measure", "3/4 q. _", "q.", "h", False),
        # Two at once are told of no figures for a signature.
        ("rests-take-no-time+dots-passed-over", "rhythm-for-time-signature", "3/4 h q | h q", "h q | h q",
         "h. rq | h. rq", False),
    ],
)  # fmt: skip
def test_where_two_lead_that_are_held_at_once(
    way: str, ask: str, excerpt: str, right: str, answer: str, *, does: bool
) -> None:
    assert leads(way, ask, excerpt, right, answer) is does


@pytest.mark.parametrize(
    ("answer", "target", "does"),
    [("notes 6", "bottom", True), ("adds-up 7 8", "bottom", False), ("notes 6", "", False)],
)
def test_where_two_lead_of_what_the_numbers_say(answer: str, target: str, *, does: bool) -> None:
    """Whose numbers have each other's job, and who takes the top one for the number of notes."""
    pair = "top-number-counts-the-notes+jobs-of-the-numbers-mixed-up"
    found = leads(pair, "what-the-numbers-say", "6/8 q e re q", "stands-for 8", answer, target=target)
    assert found is does


def test_an_unknown_pair_leads_nowhere() -> None:
    assert not leads("dots-passed-over+dots-passed-over", "finish-measure", "4/4 h. _", "q", "h")
