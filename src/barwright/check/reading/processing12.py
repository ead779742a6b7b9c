"""What a QTI 1.2 item makes of an answer: its conditions made into plain functions once, and carried out in order.

Sources: QTI 1.2.1 content models; `continue` defaults to No, `setvar` to Set, `case` to No. `other` is read as "any
answer", which with `continue` comes to the same as "any answer not met so far" in the customary patterns.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction

from lxml import etree

from barwright.check.reading.model import CannotCarryOut
from barwright.check.reading.numbers import bounded, number
from barwright.check.reading.texts import local

SCORE = "SCORE"
Answers = Mapping[str, tuple[str, ...]]  # response ident -> what was given
Test = Callable[[Answers], bool]
Step = Callable[[Fraction], Fraction]


@dataclass(frozen=True, slots=True)
class Condition:
    """One condition: when it holds, how it changes the score, what feedback it shows, whether the next is tried."""

    holds: Test
    steps: tuple[Step, ...]
    shows: tuple[str, ...]
    goes_on: bool


@dataclass(frozen=True, slots=True)
class Program:
    """The processing of one item: the score at the start and the conditions of each `resprocessing`."""

    start: Fraction
    parts: tuple[tuple[Condition, ...], ...]


def program12(item: etree._Element) -> Program:
    """The processing of an item; CannotCarryOut for durations, areas, extensions, and scores that are no numbers."""
    name = score_name(item)
    processings = list(item.iterchildren("{*}resprocessing"))
    parts = tuple(
        tuple(_condition(c, name) for c in processing.iterchildren("{*}respcondition")) for processing in processings
    )
    return Program(sum((_start(p, name) for p in processings), Fraction(0)), parts)


def processed(program: Program, answers: Answers) -> tuple[Fraction, tuple[str, ...]]:
    """Score, and idents of the feedback shown, for what was given; OverflowError for a score of absurd size."""
    score = program.start
    shown: list[str] = []
    for conditions in program.parts:
        for condition in conditions:
            if condition.holds(answers):
                for step in condition.steps:
                    score = bounded(step(score))
                shown += condition.shows
                if not condition.goes_on:
                    break
    return score, tuple(dict.fromkeys(shown))


def score_name(item: etree._Element) -> str:
    """The variable that holds the score: SCORE, or the first declared if there is none of that name."""
    names = [d.get("varname", SCORE) for d in item.iterfind("{*}resprocessing/{*}outcomes/{*}decvar")]
    return SCORE if SCORE in names or not names else names[0]


def typed_values(item: etree._Element, response: str) -> tuple[str, ...]:
    """Every text that a typed answer is compared with, in order, without those that must not occur."""
    found: dict[str, None] = {}
    for test in item.iter("{*}varequal", "{*}varsubstring"):
        if test.get("respident") == response and not _negated(test):
            found.setdefault(test.text or "")
    return tuple(found)


def scoring_sets(item: etree._Element, response: str) -> tuple[tuple[str, ...], ...]:
    """For each condition that sets a score: the labels that it wants, without those that must not be picked."""
    found: dict[tuple[str, ...], None] = {}
    for condition in item.iterfind("{*}resprocessing/{*}respcondition"):
        if condition.find("{*}setvar") is None:
            continue
        tests = [t for t in condition.iter("{*}varequal", "{*}varsubset") if t.get("respident") == response]
        found.setdefault(tuple((t.text or "").strip() for t in tests if not _negated(t)))
    return tuple(found)


def _negated(test: etree._Element) -> bool:
    return any(local(a) == "not" for a in test.iterancestors())


def _start(processing: etree._Element, name: str) -> Fraction:
    for declared in processing.iterfind("{*}outcomes/{*}decvar"):
        if declared.get("varname", SCORE) == name:
            return number(declared.get("defaultval")) or Fraction(0)
    return Fraction(0)


def _condition(element: etree._Element, name: str) -> Condition:
    """Tests side by side are an implied `and`; a condition without any never holds."""
    tests = [_test(t) for v in element.iterchildren("{*}conditionvar") for t in v.iterchildren("*")]
    steps = tuple(_step(s) for s in element.iterchildren("{*}setvar") if s.get("varname", SCORE) == name)
    shows = tuple(d.get("linkrefid", "") for d in element.iterchildren("{*}displayfeedback"))
    holds = _all(tests) if tests else _never
    return Condition(holds, steps, shows, element.get("continue", "No") == "Yes")


def _step(setvar: etree._Element) -> Step:
    value, action = number(setvar.text), setvar.get("action", "Set")
    if value is None:
        raise CannotCarryOut(f"a score of {(setvar.text or '').strip()[:20]!r}")
    if action == "Divide" and value == 0:
        raise CannotCarryOut("a score divided by 0")
    steps: dict[str, Step] = {
        "Set": lambda _score: value,
        "Add": lambda score: score + value,
        "Subtract": lambda score: score - value,
        "Multiply": lambda score: score * value,
        "Divide": lambda score: score / value,
    }
    if action not in steps:
        raise CannotCarryOut(f"the action {action[:20]!r} of setvar")
    return steps[action]


def _all(tests: list[Test]) -> Test:
    return tests[0] if len(tests) == 1 else lambda answers: all(t(answers) for t in tests)


def _never(_answers: Answers) -> bool:
    return False


def _test(element: etree._Element) -> Test:
    name = local(element)
    if name in ("and", "or", "not"):
        inner = [_test(t) for t in element.iterchildren("*")]
        joined: dict[str, Test] = {
            "and": lambda answers: all(t(answers) for t in inner),
            "or": lambda answers: any(t(answers) for t in inner),
            "not": lambda answers: not all(t(answers) for t in inner),
        }
        return joined[name]
    if name == "other":
        return lambda _answers: True
    ident = element.get("respident", "")
    if name == "unanswered":
        return lambda answers: not answers.get(ident)
    if name not in TESTS:
        raise CannotCarryOut(f"the test {name[:20]!r}")
    found, at = TESTS[name](element), number(element.get("index"))
    if at is None:
        return lambda answers: found(answers.get(ident, ()))
    nth = slice(int(at) - 1, int(at)) if at >= 1 else slice(0)
    return lambda answers: found(answers.get(ident, ())[nth])


Given = Callable[[tuple[str, ...]], bool]


def _plain(element: etree._Element) -> Callable[[str], str]:
    """How texts are made alike before they are compared."""
    return str.strip if element.get("case", "No") == "Yes" else _folded


def _folded(text: str) -> str:
    return text.strip().casefold()


def _equal(element: etree._Element) -> Given:
    plain = _plain(element)
    wanted = plain(element.text or "")
    return lambda given: wanted in map(plain, given)


def _part(element: etree._Element) -> Given:
    plain = _plain(element)
    wanted = plain(element.text or "")
    return lambda given: any(wanted in plain(g) for g in given)


def _subset(element: etree._Element) -> Given:
    named = frozenset(_folded(w) for w in (element.text or "").split(","))
    if element.get("setmatch", "Exact") == "Partial":
        return lambda given: not named.isdisjoint(map(_folded, given))
    return lambda given: named.issubset(map(_folded, given))


def _compared(holds: Callable[[Fraction, Fraction], bool]) -> Callable[[etree._Element], Given]:
    def test(element: etree._Element) -> Given:
        bound = number(element.text)
        if bound is None:
            raise CannotCarryOut(f"the bound {(element.text or '').strip()[:20]!r}")
        return lambda given: any(n is not None and holds(n, bound) for n in map(number, given))

    return test


TESTS: dict[str, Callable[[etree._Element], Given]] = {
    "varequal": _equal,
    "varsubstring": _part,
    "varsubset": _subset,
    "varlt": _compared(lambda a, b: a < b),
    "varlte": _compared(lambda a, b: a <= b),
    "vargt": _compared(lambda a, b: a > b),
    "vargte": _compared(lambda a, b: a >= b),
}
