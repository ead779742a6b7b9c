"""One item of every ask, made by hand, and a form of them all."""

from barwright.asks import ASKS
from barwright.items.form import Form, FormItem
from barwright.items.item import Answer, Choice, Item
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.text import parse_excerpt

USUAL = Conventions()


def made(
    ask: str,
    excerpt: str,
    keys: list[str],
    wrong: dict[str, str],
    *,
    conventions: Conventions = USUAL,
    target: str = "",
) -> Item:
    """The item; `wrong` maps each wrong answer to its misreading."""
    kind = ASKS[ask].answer
    choices = [Choice(Answer(kind, k)) for k in keys] + [Choice(Answer(kind, w), (m,)) for w, m in wrong.items()]
    shown = parse_excerpt(excerpt, full=ask not in ("does-it-fit", "shortest-first"))
    return Item(ask, shown, conventions, tuple(sorted(choices, key=lambda c: c.answer)), target)


SAMPLES = (
    made("finish-measure", "3/4 h _", ["q"],
         {"h": "every-measure-has-four-beats", "w": "names-are-parts-of-a-beat", "e": "one-beat-too-many-counted"}),
    made("finish-measure-with-two", "4/4 h _", ["q rq"],
         {"h q": "one-beat-too-few-counted", "h rh": "every-symbol-is-one-beat", "q h": "filled-head-lasts-longer"}),
    made("beats-left", "4/4 h rq _", ["1"], {"2": "rests-take-no-time", "3": "every-symbol-is-one-beat"}),
    made("all-that-fit", "3/4 q _", ["h", "q rq"],
         {"h.": "every-measure-has-four-beats", "q": "one-beat-too-many-counted"}),
    made("drag-into-the-blank", "4/4 q _ q", ["h"],
         {"q": "neighbor-copied", "h.": "one-beat-too-few-counted", "w": "measure-taken-as-empty"}),
    made("shortest-first", "4/4 h | q q q | rq", ["rq < h < q q q"],
         {"h < rq < q q q": "quarter-means-four-beats", "rq < q q q < h": "whole-and-half-note-swapped"}),
    made("counts-for-rhythm", "3/4 h rq | q rq q", ["1-2 (3) | 1 (2) 3"],
         {"1-2 (3) | 4 (5) 6": "counting-goes-on-over-the-barline", "1 (2) | 1 (2) 3": "notes-numbered-in-order",
          "1-2 () | 1 () 2": "count-waits-during-rests"}),
    made("rhythm-for-counts", "3/4 q rq q", ["q rq q"],
         {"q q rq": "count-waits-during-rests", "q rh": "every-rest-is-one-beat", "q q q": "rests-take-no-time"}),
    made("count-under-mark", "3/4 h q | q *rq q", ["(2)"],
         {"(5)": "counting-goes-on-over-the-barline", "(3)": "notes-numbered-in-order"}),
    made("write-counts", "4/4 h rq q", ["1-2 (3) 4"], {"1 (2) 3": "notes-numbered-in-order"}),
    made("count-under-each", "4/4 h rq q | q q h", ["1-2 (3) 4 | 1 2 3-4"],
         {"1-2 (3) 4 | 5 6 7-8": "counting-goes-on-over-the-barline", "2 (1) 1 | 1 1 2": "lengths-written-as-counts",
          "1-2 3 4 | 1 2 3-4": "rest-counts-without-parentheses"}),
    made("time-signature-for-rhythm", "3/4 h q", ["3/4"],
         {"2/4": "top-number-counts-the-notes", "4/4": "four-four-taken-for-granted"}),
    made("rhythm-for-time-signature", "3/4 h q", ["h q"],
         {"h h": "every-measure-has-four-beats", "q h q": "top-number-counts-the-notes"}),
    made("does-it-fit", "3/4 w", ["fits-not 4 3"],
         {"fits 3 3": "names-are-parts-of-the-measure", "fits 4 4": "every-measure-has-four-beats",
          "fits 2 3": "whole-and-half-note-swapped"}),
    made("what-the-numbers-say", "3/4 h q", ["how-many 3"],
         {"how-many 4": "every-measure-has-four-beats", "how-many 2": "steps-between-the-beats-counted",
          "gets-beat 4": "jobs-of-the-numbers-mixed-up"}, target="top"),
)  # fmt: skip


def placed(item: Item, number: int = 1, *, points: int = 1) -> FormItem:
    """The item in its place, choices in their own order."""
    return FormItem(item, tuple(range(len(item.choices))), points, number)


def form_of(*items: Item, title: str = "Rhythm check", section: str = "Period 1") -> Form:
    """A form of these items in English."""
    places = tuple(placed(item, number) for number, item in enumerate(items, 1))
    return Form(title, section, "en-US", True, True, places, "f1")
