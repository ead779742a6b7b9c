"""What a QTI 2 or 3 item makes of an answer: its response processing made into plain functions once, then carried out.

Sources: QTI 2.2 and 3.0 response processing; the published response processing templates (fixed names RESPONSE, SCORE;
match_correct gives 1 or 0, map_response the mapped sum; the CC2 templates give MAXSCORE and set FEEDBACKBASIC).
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction

from lxml import etree

from barwright.check.reading.declarations2 import ZERO, Declared, declared
from barwright.check.reading.edition_names import (
    attribute,
    children,
    named,
    text_of,
)
from barwright.check.reading.expression_values import (
    NULL,
    OPERATORS,
    Value,
    atom,
    boolean,
    same,
)
from barwright.check.reading.package_model import CannotCarryOut
from barwright.check.reading.texts import number
from barwright.check.reading.typed_alike import Sight

TEMPLATES = ("match_correct", "map_response", "CC2_match", "CC2_match_basic", "CC2_map_response")
MAX_SCORE = "MAXSCORE"
FEEDBACK_BASIC = "FEEDBACKBASIC"
NO_PROCESSING = "no response processing"
_ONE = Value((Fraction(1),))
_TRUE, _FALSE = boolean(True), boolean(False)
_UNKNOWN = Value(("unknown",))
# Variables that every item has without declaring them, and what they are during the first attempt.
_BUILT_IN = {
    "numAttempts": _ONE,
    "num_attempts": _ONE,
    "duration": _ONE,
    "completionStatus": _UNKNOWN,
    "completion_status": _UNKNOWN,
}

Variables = dict[str, Value]
Expression = Callable[[Variables], Value]
Action = Callable[[Variables], None]


class _Exit(Exception):
    """`exitResponse` was met."""


@dataclass(frozen=True, slots=True)
class Program2:
    """The processing of an item: its variables, what is done to them, and how many looks an answer takes at most.

    `sights` tells for responses of texts what the processing sees of one.
    """

    responses: Mapping[str, Declared]
    outcomes: Mapping[str, Declared]
    rules: tuple[Action, ...]
    looks: int
    start: Mapping[str, Value]  # of what is no response
    sights: Mapping[str, Sight]


def program2(item: etree._Element) -> Program2:
    """The processing of an item.

    Raises CannotCarryOut for operators that are not carried out here, unknown variables, unknown templates, and values
    that their base type cannot have.
    """
    responses, outcomes = declared(item, "responseDeclaration"), declared(item, "outcomeDeclaration")
    processing = next(children(item, "responseProcessing"), None)
    if processing is None:
        raise CannotCarryOut(NO_PROCESSING)
    making = _Making(responses, outcomes)
    rules = tuple(making.rule(r) for r in children(processing))
    if not rules:
        rules = (making.template(template_name(processing)),)
    start = _BUILT_IN | {name: d.start for name, d in outcomes.items()}
    return Program2(responses, outcomes, rules, making.looks, start, making.sights)


def template_name(processing: etree._Element) -> str:
    """The short name of the template that is referred to, empty for none."""
    link = attribute(processing, "template") or attribute(processing, "templateLocation")
    return link.rstrip("/").rpartition("/")[2].removesuffix(".xml")


def processed(program: Program2, given: Mapping[str, tuple[str, ...]]) -> Mapping[str, Value]:
    """The outcomes for what was given to each response; OverflowError for numbers of absurd size."""
    variables: Variables = dict(program.start)
    for name, r in program.responses.items():
        variables[name] = Value(tuple(atom(t, r.base_type) for t in given.get(name, ())), r.ordered)
    try:
        for rule in program.rules:
            rule(variables)
    except _Exit:
        pass
    return variables


class _Making:
    """Makes functions of rules and expressions, knowing what is declared."""

    def __init__(self, responses: Mapping[str, Declared], outcomes: Mapping[str, Declared]) -> None:
        self.responses, self.outcomes = responses, outcomes
        self.looks = 0  # taken at most to carry it all out for one answer
        self.sights = {
            ident: Sight()
            for ident, response in responses.items()
            if response.base_type == "string" and ident not in outcomes and ident not in _BUILT_IN
        }

    def template(self, name: str) -> Action:
        """What a published template does."""
        response = self.responses.get("RESPONSE")
        if name not in TEMPLATES or response is None:
            raise CannotCarryOut(f"the template {name[:40]!r}" if name else NO_PROCESSING)
        mapping, correct, cc2 = response.mapping, response.correct, name.startswith("CC2")
        by_map = name.endswith("map_response")
        self._sees_whole("RESPONSE")
        if by_map and mapping is None:
            raise CannotCarryOut("map_response without a mapping")

        def rule(variables: Variables) -> None:
            value = variables["RESPONSE"]
            right = bool(value.atoms) and bool(correct.atoms) and same(value, correct)
            full = variables.get(MAX_SCORE, _ONE) if cc2 else _ONE
            if by_map and mapping is not None:
                variables["SCORE"] = mapping.total(value) if value.atoms else ZERO
            else:
                variables["SCORE"] = full if right else ZERO
            if cc2 and FEEDBACK_BASIC in variables:
                variables[FEEDBACK_BASIC] = Value(("correct" if right else "incorrect",))

        return rule

    def rule(self, element: etree._Element) -> Action:
        """One rule of response processing."""
        self.looks += 1
        name = named(element)
        if name == "responseCondition":
            return self._condition(element)
        if name == "setOutcomeValue":
            return self._setting(element)
        if name == "responseProcessingFragment":
            return _together([self.rule(r) for r in children(element)])
        if name == "exitResponse":
            return _leave
        raise CannotCarryOut(f"the rule {name[:30]!r}")

    def _condition(self, element: etree._Element) -> Action:
        branches: list[tuple[Expression, Action]] = []
        for branch in children(element):
            inside = list(children(branch))
            if named(branch) == "responseElse":
                branches.append((lambda _variables: _TRUE, _together([self.rule(r) for r in inside])))
            elif inside:
                branches.append((self.expression(inside[0]), _together([self.rule(r) for r in inside[1:]])))

        def rule(variables: Variables) -> None:
            for holds, then in branches:
                if holds(variables).true:
                    then(variables)
                    return

        return rule

    def _setting(self, element: etree._Element) -> Action:
        ident, inner = attribute(element, "identifier"), next(children(element), None)
        if ident not in self.outcomes and ident not in _BUILT_IN:
            raise CannotCarryOut(f"the undeclared outcome {ident[:20]!r}")
        if inner is None:
            raise CannotCarryOut("a rule without a value")
        value = self.expression(inner)

        def rule(variables: Variables) -> None:
            variables[ident] = value(variables)

        return rule

    def expression(self, element: etree._Element) -> Expression:
        """One expression."""
        self.looks += 1
        name, ident = named(element), attribute(element, "identifier")
        if name == "baseValue":
            fixed = Value((atom(text_of(element), attribute(element, "baseType")),))
            return lambda _variables: fixed
        if name in ("variable", "correct", "default", "mapResponse"):
            if name == "variable" and ident in self.sights:
                self._sees(element, ident)
            return self._named(name, ident)
        if name == "or":
            return self._any(element)
        return _operator(element, name, [self.expression(e) for e in children(element)])

    def _sees(self, variable: etree._Element, ident: str) -> None:
        """Notes what is seen of a response by what a `variable` stands in."""
        around = variable.getparent()
        compared = None if around is None else _text_wanted(around)
        if compared is not None:
            self.sights[ident].looks_up((_way(compared[1])(compared[2]),), _way(compared[1]))
        elif around is None or named(around) != "isNull":
            self._sees_whole(ident)

    def _sees_whole(self, ident: str) -> None:
        if ident in self.sights:
            self.sights[ident].whole = True

    def _any(self, element: etree._Element) -> Expression:
        """Any of the tests in an `or`; texts that one variable is compared with are looked up together."""
        together: dict[tuple[str, bool], set[str]] = {}
        others: list[Expression] = []
        for each in children(element):
            compared = _text_wanted(each)
            if compared is None:
                others.append(self.expression(each))
            else:
                ident, exact, text = compared
                together.setdefault((ident, exact), set()).add(_way(exact)(text))
        for (ident, exact), texts in together.items():
            if ident in self.sights:
                self.sights[ident].looks_up(texts, _way(exact))
        inner = [
            _among(self._named("variable", ident), frozenset(texts), exact)
            for (ident, exact), texts in together.items()
        ]
        inner += others
        self.looks += len(inner)
        if len(inner) == 1:
            return inner[0]

        def expression(variables: Variables) -> Value:
            for each in inner:
                if each(variables).true:
                    return _TRUE
            return _FALSE

        return expression

    def _named(self, name: str, ident: str) -> Expression:
        variable = self.responses.get(ident) or self.outcomes.get(ident)
        if variable is None and (name != "variable" or ident not in _BUILT_IN):
            raise CannotCarryOut(f"the undeclared variable {ident[:20]!r}")
        if variable is None or name == "variable":
            return lambda variables: variables[ident]
        if name == "mapResponse":
            mapping = variable.mapping
            if mapping is None:
                raise CannotCarryOut(f"the mapping of {ident[:20]!r}, which has none")
            if ident in self.sights:
                self.sights[ident].maps(mapping.one)
            return lambda variables: mapping.total(variables[ident])
        fixed = variable.correct if name == "correct" else variable.default
        return lambda _variables: fixed


def _together(rules: list[Action]) -> Action:
    if len(rules) == 1:
        return rules[0]

    def rule(variables: Variables) -> None:
        for each in rules:
            each(variables)

    return rule


def _leave(_variables: Variables) -> None:
    raise _Exit


def _way(exact: bool) -> Callable[[str], str]:
    """How texts are made alike before they are compared."""
    return str if exact else str.casefold


def _text_wanted(element: etree._Element) -> tuple[str, bool, str] | None:
    """The variable, whether case counts, and the text of a `stringMatch` of a variable and a text; None for others."""
    if named(element) != "stringMatch":
        return None
    inside = list(children(element))
    if len(inside) != 2 or attribute(element, "substring") == "true":
        return None
    variable, base = inside
    if named(variable) != "variable" or named(base) != "baseValue" or attribute(base, "baseType") != "string":
        return None
    exact = attribute(element, "caseSensitive", "true") == "true"
    return attribute(variable, "identifier"), exact, text_of(base)


def _among(variable: Expression, texts: frozenset[str], exact: bool) -> Expression:
    """Whether the variable's text is one of these, whose case is folded unless it counts."""
    way = _way(exact)

    def expression(variables: Variables) -> Value:
        atoms = variable(variables).atoms
        if not atoms:
            return _FALSE
        return _TRUE if way(str(atoms[0])) in texts else _FALSE

    return expression


def _operator(element: etree._Element, name: str, inner: list[Expression]) -> Expression:
    """Operators that read attributes, then those that do not."""
    if name in ("stringMatch", "substring"):
        exact = attribute(element, "caseSensitive", "true") == "true"
        part = name == "substring" or attribute(element, "substring") == "true"
        return lambda variables: _texts([e(variables) for e in inner], exact, part, turned=name == "substring")
    if name == "index":
        at = number(attribute(element, "n"))
        return lambda variables: _nth([e(variables) for e in inner], at)
    if name not in OPERATORS or (name == "equal" and attribute(element, "toleranceMode", "exact") != "exact"):
        raise CannotCarryOut(f"the operator {name[:30]!r}")
    operator = OPERATORS[name]
    if len(inner) == 1:
        only = inner[0]
        return lambda variables: operator((only(variables),))
    return lambda variables: operator([e(variables) for e in inner])


def _texts(values: list[Value], exact: bool, part: bool, *, turned: bool) -> Value:
    if len(values) != 2 or not all(v.atoms for v in values):
        return NULL
    hay, needle = (str(v.atoms[0]) if exact else str(v.atoms[0]).casefold() for v in values)
    if turned:
        hay, needle = needle, hay
    return boolean(needle in hay if part else needle == hay)


def _nth(values: list[Value], at: Fraction | None) -> Value:
    if at is None or not values or not 1 <= at <= len(values[0].atoms):
        return NULL
    return Value((values[0].atoms[int(at) - 1],))
