"""What a QTI 1.2 item makes of an answer: its conditions made into plain functions once, and carried out in order.

Sources: QTI 1.2.1 content models; `continue` defaults to No, `setvar` to Set, `case` to No. `other` is read as "any
answer", which with `continue` comes to the same as "any answer not met so far" in the customary patterns.
"""

from collections import defaultdict
from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from itertools import chain, groupby
from typing import NamedTuple

from lxml import etree

from barwright.check.reading.package_model import CannotCarryOut
from barwright.check.reading.texts import bounded, local, number
from barwright.check.reading.typed_alike import Sight

SCORE = "SCORE"
Sights = defaultdict[str, Sight]  # what is seen of each response
Step = tuple[Callable[[Fraction, Fraction], Fraction], Fraction]  # what is done to the score, and with what


class Answers:
    """What was given, by response: as it is, without blanks around it, and with its case folded as well.

    Each text is made alike once, however many conditions look at it.
    """

    def __init__(self, given: Mapping[str, tuple[str, ...]]) -> None:
        self._given = given
        self._alike: dict[tuple[str, bool], frozenset[str]] = {}

    def texts(self, ident: str) -> tuple[str, ...]:
        """What was given to a response."""
        return self._given.get(ident, ())

    def alike(self, ident: str, exact: bool) -> frozenset[str]:
        """What was given to a response, ready to be compared with texts that were made alike."""
        texts = self._alike.get((ident, exact))
        if texts is None:
            way = _way(exact)
            texts = self._alike[ident, exact] = frozenset([way(text) for text in self.texts(ident)])
        return texts


class WantedTexts(NamedTuple):
    """Texts of which one must be among what is given to a response; `exact` if case counts."""

    ident: str
    exact: bool
    texts: frozenset[str]


class Test(NamedTuple):
    """When it holds, how many looks it takes to tell, and what it comes to if it is no more than wanted texts."""

    holds: Callable[[Answers], bool]
    looks: int = 1
    wanted: WantedTexts | None = None


class Condition(NamedTuple):
    """One condition: when it holds, how it changes the score, what feedback it shows, whether the next is tried."""

    test: Test
    steps: tuple[Step, ...]
    shows: tuple[str, ...]
    goes_on: bool


@dataclass(frozen=True, slots=True)
class Run:
    """Conditions one after the other which want texts of one response: those that hold are looked up, not tried.

    `by_text` tells for each text the places of the conditions that want it.
    """

    conditions: tuple[Condition, ...]
    ident: str = ""
    exact: bool = False
    by_text: Mapping[str, list[int]] | None = None

    def holding(self, answers: Answers) -> Iterator[Condition]:
        """The conditions that hold, in order."""
        if self.by_text is None:
            yield from (c for c in self.conditions if c.test.holds(answers))
            return
        given = answers.alike(self.ident, self.exact)
        if self.by_text.keys().isdisjoint(given):
            return
        places = [self.by_text[text] for text in given if text in self.by_text]
        for place in places[0] if len(places) == 1 else sorted({p for each in places for p in each}):
            yield self.conditions[place]

    @property
    def looks(self) -> int:
        """How many looks it takes at most to carry it out for one answer."""
        if self.by_text is None:
            return sum(1 + c.test.looks for c in self.conditions)
        return 1 + max(map(len, self.by_text.values()), default=0)


@dataclass(frozen=True, slots=True)
class Program12:
    """The processing of one item: the score at the start and the conditions of each `resprocessing`.

    `sights` tells what they see of each response that they look at.
    """

    start: Fraction
    parts: tuple[tuple[Run, ...], ...]
    sights: Sights

    @property
    def looks(self) -> int:
        """How many looks it takes at most to carry it out for one answer."""
        return sum(run.looks for runs in self.parts for run in runs)

    def alike(self, given: Iterable[tuple[str, tuple[str, ...]]]) -> Hashable:
        """A key, equal for answers that the item cannot tell apart; they are given with the idents of their places."""
        return tuple([(ident, self.sights[ident].of(texts)) for ident, texts in given])


def program12(item: etree._Element) -> Program12:
    """The processing of an item; CannotCarryOut for durations, areas, extensions, and scores that are no numbers."""
    name = score_name(item)
    processings = list(item.iterchildren("{*}resprocessing"))
    sights: Sights = defaultdict(Sight)
    parts = tuple(
        tuple(_runs(_condition(c, name, sights) for c in processing.iterchildren("{*}respcondition")))
        for processing in processings
    )
    return Program12(sum((_start(p, name) for p in processings), Fraction(0)), parts, sights)


def _runs(conditions: Iterable[Condition]) -> Iterator[Run]:
    def kind(condition: Condition) -> tuple[str, bool] | None:
        wanted = condition.test.wanted
        return None if wanted is None else (wanted.ident, wanted.exact)

    for alike, grouped in groupby(conditions, key=kind):
        together = tuple(grouped)
        if alike is None:
            yield Run(together)
            continue
        by_text: dict[str, list[int]] = {}
        for place, condition in enumerate(together):
            for text in condition.test.wanted.texts if condition.test.wanted else ():
                by_text.setdefault(text, []).append(place)
        yield Run(together, *alike, by_text)


def processed(program: Program12, given: Mapping[str, tuple[str, ...]]) -> tuple[Fraction, tuple[str, ...]]:
    """Score, and idents of the feedback shown, for what was given; OverflowError for a score of absurd size."""
    score = program.start
    shown: list[str] = []
    answers = Answers(given)
    for runs in program.parts:
        for condition in chain.from_iterable(run.holding(answers) for run in runs):
            for step, value in condition.steps:
                score = bounded(step(score, value))
            shown += condition.shows
            if not condition.goes_on:
                break
    return score, tuple(dict.fromkeys(shown) if len(shown) > 1 else shown)


def score_name(item: etree._Element) -> str:
    """The variable that holds the score: SCORE, or the first declared if there is none of that name."""
    names = [d.get("varname", SCORE) for d in item.iterfind("{*}resprocessing/{*}outcomes/{*}decvar")]
    return SCORE if SCORE in names or not names else names[0]


def typed_values(item: etree._Element, response: str) -> tuple[str, ...]:
    """Every text that a typed answer is compared with, in order, without those that must not occur."""
    texts: dict[str, None] = {}
    for test in item.iter("{*}varequal", "{*}varsubstring"):
        if test.get("respident") == response and not _negated(test):
            texts.setdefault(test.text or "")
    return tuple(texts)


def scoring_sets(item: etree._Element, response: str) -> tuple[tuple[str, ...], ...]:
    """For each condition that sets a score: the labels that it wants, without those that must not be picked."""
    sets: dict[tuple[str, ...], None] = {}
    for condition in item.iterfind("{*}resprocessing/{*}respcondition"):
        if condition.find("{*}setvar") is None:
            continue
        tests = [t for t in condition.iter("{*}varequal", "{*}varsubset") if t.get("respident") == response]
        sets.setdefault(tuple((t.text or "").strip() for t in tests if not _negated(t)))
    return tuple(sets)


def _negated(test: etree._Element) -> bool:
    return next(test.iterancestors("{*}not"), None) is not None


def _start(processing: etree._Element, name: str) -> Fraction:
    for declared in processing.iterfind("{*}outcomes/{*}decvar"):
        if declared.get("varname", SCORE) == name:
            return number(declared.get("defaultval")) or Fraction(0)
    return Fraction(0)


def _condition(element: etree._Element, name: str, sights: Sights) -> Condition:
    """Tests side by side are an implied `and`; a condition without any never holds."""
    tests = [_test(t, sights) for v in element.iterchildren("{*}conditionvar") for t in v.iterchildren("*")]
    steps = tuple(_step(s) for s in element.iterchildren("{*}setvar") if s.get("varname", SCORE) == name)
    shows = tuple(d.get("linkrefid", "") for d in element.iterchildren("{*}displayfeedback"))
    return Condition(_all(tests) if tests else _NEVER, steps, shows, element.get("continue", "No") == "Yes")


_ACTIONS: Mapping[str, Callable[[Fraction, Fraction], Fraction]] = {
    "Set": lambda _score, value: value,
    "Add": lambda score, value: score + value,
    "Subtract": lambda score, value: score - value,
    "Multiply": lambda score, value: score * value,
    "Divide": lambda score, value: score / value,
}


def _step(setvar: etree._Element) -> Step:
    value, action = number(setvar.text), setvar.get("action", "Set")
    if value is None:
        raise CannotCarryOut(f"a score of {(setvar.text or '').strip()[:20]!r}")
    if action == "Divide" and value == 0:
        raise CannotCarryOut("a score divided by 0")
    if action not in _ACTIONS:
        raise CannotCarryOut(f"the action {action[:20]!r} of setvar")
    return _ACTIONS[action], value


_NEVER = Test(lambda _answers: False)
_ALWAYS = Test(lambda _answers: True)


def _all(tests: list[Test]) -> Test:
    if len(tests) == 1:
        return tests[0]
    return Test(lambda answers: all(t.holds(answers) for t in tests), _looks(tests))


def _any(element: etree._Element, sights: Sights) -> Test:
    """Any of the tests in an `or`; texts wanted of one response are looked up together."""
    together: dict[tuple[str, bool], set[str]] = {}
    others: list[Test] = []
    for each in element.iterchildren("*"):
        if _is_text(each):
            exact = each.get("case", "No") == "Yes"
            text = each.text or ""
            texts = together.setdefault((each.get("respident", ""), exact), set())
            texts.add(text.strip() if exact else _folded(text))
        else:
            others.append(_test(each, sights))
    inner = [*(_among(WantedTexts(*alike, frozenset(texts)), sights) for alike, texts in together.items()), *others]
    return inner[0] if len(inner) == 1 else Test(lambda answers: any(t.holds(answers) for t in inner), _looks(inner))


def _is_text(element: etree._Element) -> bool:
    """Whether a test wants a text, wherever it stands in the answer."""
    return local(element) == "varequal" and number(element.get("index")) is None


def _looks(tests: list[Test]) -> int:
    return 1 + sum(t.looks for t in tests)


def _among(wanted: WantedTexts, sights: Sights) -> Test:
    texts, ident, exact = wanted.texts, wanted.ident, wanted.exact
    sights[ident].looks_up(texts, _way(exact))
    return Test(lambda answers: not texts.isdisjoint(answers.alike(ident, exact)), 1, wanted)


def _test(element: etree._Element, sights: Sights) -> Test:
    name = local(element)
    if name == "or":
        return _any(element, sights)
    if name in ("and", "not"):
        whole = _all([_test(t, sights) for t in element.iterchildren("*")])
        return whole if name == "and" else Test(lambda answers: not whole.holds(answers), whole.looks)
    if name == "other":
        return _ALWAYS
    ident = element.get("respident", "")
    if name == "unanswered":
        return Test(lambda answers: not answers.texts(ident))
    if name not in TESTS:
        raise CannotCarryOut(f"the test {name[:20]!r}")
    if _is_text(element):
        exact = element.get("case", "No") == "Yes"
        return _among(WantedTexts(ident, exact, frozenset((_way(exact)(element.text or ""),))), sights)
    sights[ident].whole = True
    holds, at = TESTS[name](element), number(element.get("index"))
    if at is None:
        return Test(lambda answers: holds(answers.texts(ident)))
    nth = slice(int(at) - 1, int(at)) if at >= 1 else slice(0)
    return Test(lambda answers: holds(answers.texts(ident)[nth]))


HoldsFor = Callable[[tuple[str, ...]], bool]


def _way(exact: bool) -> Callable[[str], str]:
    """How texts are made alike before they are compared."""
    return str.strip if exact else _folded


def _plain(element: etree._Element) -> Callable[[str], str]:
    return _way(element.get("case", "No") == "Yes")


def _folded(text: str) -> str:
    return text.strip().casefold()


def _equal(element: etree._Element) -> HoldsFor:
    plain = _plain(element)
    wanted = plain(element.text or "")
    return lambda given: wanted in map(plain, given)


def _part(element: etree._Element) -> HoldsFor:
    plain = _plain(element)
    wanted = plain(element.text or "")
    return lambda given: any(wanted in plain(g) for g in given)


def _subset(element: etree._Element) -> HoldsFor:
    named = frozenset(_folded(w) for w in (element.text or "").split(","))
    if element.get("setmatch", "Exact") == "Partial":
        return lambda given: not named.isdisjoint(map(_folded, given))
    return lambda given: named.issubset(map(_folded, given))


def _compared(holds: Callable[[Fraction, Fraction], bool]) -> Callable[[etree._Element], HoldsFor]:
    def test(element: etree._Element) -> HoldsFor:
        bound = number(element.text)
        if bound is None:
            raise CannotCarryOut(f"the bound {(element.text or '').strip()[:20]!r}")
        return lambda given: any(n is not None and holds(n, bound) for n in map(number, given))

    return test


TESTS: dict[str, Callable[[etree._Element], HoldsFor]] = {
    "varequal": _equal,
    "varsubstring": _part,
    "varsubset": _subset,
    "varlt": _compared(lambda a, b: a < b),
    "varlte": _compared(lambda a, b: a <= b),
    "vargt": _compared(lambda a, b: a > b),
    "vargte": _compared(lambda a, b: a >= b),
}
