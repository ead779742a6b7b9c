"""What is wrong with an item whatever standard it is in: its question, its choices, its key and its scores.

Works on the model that is read back; scores come from carrying out the item's own processing for every answer tried.
"""

from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction

from barwright.check.reading.package_model import (
    Answered,
    ReadItem,
    ReadResponse,
    Shown,
)
from barwright.check.reading.texts import said
from barwright.check.rules.findings import Finding, Place
from barwright.check.rules.package_part import MOST_SHOWN, quoted

_WITH_CHOICES = frozenset(("choice", "several", "inline", "order"))
_MACHINE_SCORED = frozenset(("choice", "several", "entry", "inline", "gaps", "order"))


def item_findings(item: ReadItem) -> Iterator[Finding]:
    """What is wrong with an item."""
    if not item.responses:
        yield _found(item, "no-response", "the item has no place to answer")
        return
    if not item.stem.paragraphs and not item.stem.pictures:
        yield _found(item, "empty-stem", "the item has choices but no question")
    for response in item.responses:
        yield from _choices(item, response)
    yield from _keys(item)
    yield from _scores(item)


def _found(item: ReadItem, rule: str, what: str) -> Finding:
    return Finding(rule, Place(item.file, item.line, item.ident[:MOST_SHOWN]), what)


def _choices(item: ReadItem, response: ReadResponse) -> Iterator[Finding]:
    if response.kind not in _WITH_CHOICES:
        return
    if len(response.choices) == 1:
        yield _found(item, "one-choice", f"the only choice is {response.choices[0].ident[:40]!r}")
    seen: dict[tuple[object, ...], str] = {}
    for choice in response.choices:
        if not choice.shown.paragraphs and not choice.shown.pictures:
            yield _found(item, "empty-choice", f"the choice {choice.ident[:40]!r} shows nothing")
            continue
        looks = _looks(choice.shown)
        other = seen.setdefault(looks, choice.ident)
        if other != choice.ident:
            keyed = response.kind in ("choice", "several", "inline")
            differ = keyed and (other in response.keys) != (choice.ident in response.keys)
            what = f"the choices {other[:40]!r} and {choice.ident[:40]!r} look the same"
            yield _found(item, "key-alike" if differ else "choices-alike", what)


def _looks(shown: Shown) -> tuple[object, ...]:
    """What a student sees of a choice: text and pictures, by their bytes where they are there."""
    return (shown.paragraphs, tuple(p.digest or p.path or p.link for p in shown.pictures))


def _keys(item: ReadItem) -> Iterator[Finding]:
    for response in item.responses:
        if response.kind not in _MACHINE_SCORED or (item.untried and not response.keys):
            continue
        if not response.keys:
            yield _found(item, "no-key", f"no answer is right{_of(item, response)}")
        elif response.kind == "choice" and len(response.keys) > 1:
            yield _found(item, "several-keys", f"each of {quoted(response.keys)} counts as right")
    if item.full is not None and item.full <= 0:
        yield _found(item, "worth-nothing", f"the full score is {said(item.full)}")


def _of(item: ReadItem, response: ReadResponse) -> str:
    return f" for {response.ident[:40]!r}" if len(item.responses) > 1 else ""


def _scores(item: ReadItem) -> Iterator[Finding]:
    machine = all(r.kind in _MACHINE_SCORED for r in item.responses)
    if item.untried == "no response processing":
        if machine:
            yield _found(item, "no-scoring", "nothing says what an answer scores")
        return
    if item.untried:
        yield _found(item, "untried", f"the scoring uses {item.untried}, which this check does not carry out")
        return
    if not machine or not item.answers or not all(r.keys for r in item.responses) or item.best <= 0:
        return
    # Scores are mostly the same few numbers, and exact ones are slow to compare: each is looked at once.
    scores = {id(a.score): a.score for a in item.answers}
    full, highest = item.best, max(scores.values())
    if highest > full:
        yield _found(item, "score-too-high", f"an answer scores {said(highest)}, but the maximum is {said(full)}")
        return
    lowest = min(scores.values())
    if lowest < 0:
        yield _found(item, "score-below", f"an answer scores {said(lowest)}")
    judges = [_judge(r) for r in item.responses]
    right: list[Answered] = []
    wrong: list[Answered] = []
    for answered in item.answers:
        fits = all(judge(g) for judge, g in zip(judges, answered.given, strict=True))
        (right if fits else wrong).append(answered)
    if highest < full:
        yield _found(
            item, "full-unreachable", f"the full score is {said(full)}, but the best answer gets {said(highest)}"
        )
    elif full not in (got := {id(a.score): a.score for a in right}).values():
        reached = max(got.values(), default=Fraction(0))
        best = next(_shown(a) for a in item.answers if a.score == full)
        what = f"the right answer gets {said(reached)} of {said(full)}, but {best} gets the full score"
        yield _found(item, "key-scores-too-little", what)
    yield from _wrong_answers(item, wrong, full)


def _wrong_answers(item: ReadItem, wrong: Sequence[Answered], full: Fraction) -> Iterator[Finding]:
    nothing = [a for a in wrong if not any(a.given)]
    if nothing and nothing[0].score > 0:
        yield _found(item, "nothing-scores", f"no answer at all gets {said(nothing[0].score)} of {said(full)}")
    for response in item.responses:
        offered = len(response.choices) * max(1, len(response.slots))
        if response.kind in ("inline", "gaps") and len(response.keys) == offered > 1:
            what = f"every choice gets the full score{_of(item, response)}"
            yield _found(item, "wrong-scores-full", what)
    given = [a for a in wrong if any(a.given)]
    if not given:
        return
    highest = max({id(a.score): a.score for a in given}.values())
    best = next(a for a in given if a.score == highest)
    if best.score >= full:
        yield _found(item, "wrong-scores-full", f"the wrong answer {_shown(best)} gets the full score")
    elif best.score > 0 and [r.kind for r in item.responses] == ["choice"]:
        yield _found(item, "wrong-scores", f"the wrong answer {_shown(best)} gets {said(best.score)} of {said(full)}")


def _shown(answered: Answered) -> str:
    return quoted([g for given in answered.given for g in given])


def _judge(response: ReadResponse) -> Callable[[tuple[str, ...]], bool]:
    """What tells whether a response was answered as its keys have it."""
    keys = frozenset(response.keys)
    if response.kind in ("choice", "inline"):
        return lambda given: len(given) == 1 and given[0] in keys
    if response.kind == "entry":
        folded = frozenset(k.strip().casefold() for k in keys)
        return lambda given: len(given) == 1 and given[0].strip().casefold() in folded
    if response.kind == "order":
        return lambda given: given == response.keys
    if response.kind == "gaps":
        slots = sorted({k.rpartition(" ")[2] for k in keys})
        return lambda given: keys.issuperset(given) and sorted(p.rpartition(" ")[2] for p in given) == slots
    return lambda given: keys == frozenset(given)
