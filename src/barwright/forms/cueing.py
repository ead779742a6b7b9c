"""Whether one item of a form answers another, or asks the same again (item-writing rule: no cueing between items)."""

from barwright.asks import ASKS
from barwright.asks.ask import Question
from barwright.rhythm.text import format_measures, format_symbols

# Asks whose figure shows full measures under their time signature.
_SIGNATURE_SHOWN = frozenset(
    {"counts-for-rhythm", "count-under-mark", "write-counts", "count-under-each", "what-the-numbers-say"}
)
_SIGNATURE_ASKED = frozenset({"time-signature-for-rhythm", "rhythm-for-time-signature"})


def traces(ask_id: str, question: Question) -> tuple[frozenset[str], frozenset[str]]:
    """What the question shows or settles, and what it must not meet elsewhere in the form; two sets of plain texts.

    Two questions may stand in one form unless one of them settles what the other must not meet.
    """
    ask = ASKS[ask_id]
    meter = question.excerpt.meter
    measures = {f"{meter} {format_symbols(m)}" for m in question.excerpt.measures}
    same = {f"same {ask_id} {question.text}"}
    settles, guards = set(same), set(same)
    if ask.family == "measure-completion":
        blank = {f"blank {question.text}"}
        settles |= blank
        guards |= blank
    if ask.family == "count-labeling":
        same = {f"counting {meter} {format_measures(question.excerpt.measures)}"}
        same |= {f"row {k.text}" for k in question.keys if ask_id != "count-under-mark"}
        settles |= same
        guards |= same
        counted = {f"counted {m}" for m in measures}  # a row that stands under a question counts its rhythm
        settles |= counted if ask_id == "rhythm-for-counts" else set()
        guards |= counted if ask_id != "rhythm-for-counts" else set()
    if ask_id in _SIGNATURE_SHOWN:
        settles |= {f"signature {m}" for m in measures}
        guards |= {f"asked {m}" for m in measures}
    if ask_id in _SIGNATURE_ASKED:
        settles |= {f"asked {m}" for m in measures}
        guards |= {f"signature {m}" for m in measures}
    if ask_id == "what-the-numbers-say":
        idea = {f"number {question.target} of {meter}"}
        settles |= idea
        guards |= idea
    return frozenset(settles), frozenset(guards)
