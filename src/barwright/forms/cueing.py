"""Whether one item of a form answers another, or asks the same again (item-writing rule: no cueing between items).

Each cue of an ask (`Ask.cues`) is one row: what such a question shows or settles, and what it must not meet elsewhere.
"""

from collections.abc import Callable
from functools import lru_cache

from barwright.asks import ASKS
from barwright.asks.ask import Cue, Question
from barwright.rhythm.text import format_measures, format_symbols

Traces = tuple[set[str], set[str]]
"""What a question settles, and what it guards, as plain texts."""


@lru_cache(maxsize=1 << 12)
def traces(ask_id: str, question: Question) -> tuple[frozenset[str], frozenset[str]]:
    """What the question shows or settles, and what it must not meet elsewhere in the form; two sets of plain texts.

    Two questions may stand in one form unless one of them settles what the other must not meet.
    """
    same = f"same {ask_id} {question.text}"
    settles, guards = {same}, {same}
    for cue in ASKS[ask_id].cues:
        more_settled, more_guarded = CUES[cue](question)
        settles |= more_settled
        guards |= more_guarded
    return frozenset(settles), frozenset(guards)


def _both(texts: set[str]) -> Traces:
    return texts, texts


def _measures(name: str, question: Question) -> set[str]:
    """A text for each measure of the excerpt under its time signature."""
    return {f"{name} {question.excerpt.meter} {format_symbols(m)}" for m in question.excerpt.measures}


def _rhythm(question: Question) -> Traces:
    return _both({f"counting {question.excerpt.meter} {format_measures(question.excerpt.measures)}"})


# A row that stands under a question counts its rhythm; a figure under its time signature tells the signature.
CUES: dict[Cue, Callable[[Question], Traces]] = {
    "blank": lambda question: _both({f"blank {question.text}"}),
    "rhythm": _rhythm,
    "row": lambda question: _both({f"row {key.text}" for key in question.keys}),
    "row-shown": lambda question: (_measures("counted", question), set()),
    "row-asked": lambda question: (set(), _measures("counted", question)),
    "signature-shown": lambda question: (_measures("signature", question), _measures("asked", question)),
    "signature-asked": lambda question: (_measures("asked", question), _measures("signature", question)),
    "number": lambda question: _both({f"number {question.target} of {question.excerpt.meter}"}),
}
