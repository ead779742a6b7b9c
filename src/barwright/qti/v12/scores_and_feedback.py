"""Scores and feedback of QTI 1.2.1 items, in the patterns of the Common Cartridge profile.

Conditions are tried in order and `continue="No"` stops after the first that holds, so each answer meets exactly the
conditions meant for it, whether `other` is read as "anything" or as "anything not met so far".
Patterns are copied, which takes a fifth of the time of making their elements one by one.
"""

from collections.abc import Iterable, Mapping, Sequence

from lxml import etree

from barwright.qti.package_content import Feedback, ShownItem, accepted
from barwright.qti.v12.material import Q, TextType, labelled
from barwright.qti.xml import (
    child,
)

RESPONSE = "response"  # one response an item: the profile allows no more
# Customary names (profile, examples): the key's feedback, and that of every answer without its own.
KEY_FEEDBACK = "correct_fb"
REST_FEEDBACK = "general_incorrect_fb"
MOST_ALONE = 32  # spellings with a condition of their own, for importers that read no `or`


def add_outcome(parent: etree._Element, *, full: int, kind: str) -> None:
    """Adds the one score variable, 0 to `full`, `kind` Decimal or Integer."""
    score = {"varname": "SCORE", "vartype": kind, "minvalue": "0", "maxvalue": str(full)}
    child(child(parent, f"{Q}outcomes"), f"{Q}decvar", attributes=score)


Told = Mapping[str, str]  # choice ident, or REST for any answer not foreseen -> feedback ident
REST = ""
Ticks = Sequence[tuple[str, bool]]  # ident of each choice, and whether it is right


def told_of(question: ShownItem) -> tuple[tuple[str, str], ...]:
    """Which feedback each answer shows: pairs for `Told`, in the order of the feedback."""
    return tuple(
        [(each.choice.ident if each.choice else REST, _feedback_ident(question, each)) for each in question.feedback]
    )


def add_conditions(parent: etree._Element, choices: Ticks, told: Told, *, several: bool, full: int) -> None:
    """Adds to a `resprocessing` which ticks score `full`, and which feedback each shows."""
    (_several if several else _single)(parent, choices, told, full)


def add_feedback(item: etree._Element, idents: Iterable[str], *, kind: TextType, language: str) -> None:
    """Adds an empty `itemfeedback` for each of these; `language` is empty where an element above tells it."""
    for ident in idents:
        labelled(item, "itemfeedback", ident=ident, text="", kind=kind, language=language)


def _feedback_ident(question: ShownItem, each: Feedback) -> str:
    if each.choice is None:
        return REST_FEEDBACK
    single_key = each.choice.key and question.item.interaction != "several"
    return KEY_FEEDBACK if single_key else f"{each.choice.ident}_fb"


def _single(parent: etree._Element, choices: Ticks, told: Told, full: int) -> None:
    """Wrong choices first, each with its feedback, then the one condition that scores."""
    for ident, key in choices:
        if ident in told and not key:
            _tick(parent, ident, told[ident], goes_on=True)
    (right,) = [ident for ident, key in choices if key]
    _tick(parent, right, told.get(right, ""), score=full)


def _several(parent: etree._Element, choices: Ticks, told: Told, full: int) -> None:
    """All or nothing: every key ticked and nothing else; each tick shows its own feedback."""
    for ident, _ in choices:
        if ident in told:
            _tick(parent, ident, told[ident], goes_on=True)
    both = child(_condition(parent, "", score=full), f"{Q}and")
    for ident, key in choices:
        _equal(both if key else child(both, f"{Q}not"), ident)
    _otherwise(parent, told)


def add_spellings(parent: etree._Element, question: ShownItem, told: Told, *, full: int) -> None:
    """Adds what typed answers score: the likeliest spellings, one condition each, since not every importer reads `or`.

    All others have one condition together, a quarter as large. Then the foreseen answers. Tests side by side would be
    an implied `and`, which no answer can meet.
    """
    for key in question.keys:
        typed, shown = accepted(key), told.get(key.ident, "")
        for spelling in typed[:MOST_ALONE]:
            _equal(_condition(parent, shown, score=full), spelling, typed=True)
        if len(typed) > MOST_ALONE:
            _any_of(_condition(parent, shown, score=full), typed[MOST_ALONE:])
    for choice in question.item.choices:
        if choice.ident in told and not choice.key:
            _any_of(_condition(parent, told[choice.ident]), accepted(choice))
    _otherwise(parent, told)


def _any_of(tests: etree._Element, typed: Sequence[str]) -> None:
    either = child(tests, f"{Q}or")
    for spelling in typed:
        _equal(either, spelling, typed=True)


def _otherwise(parent: etree._Element, told: Told) -> None:
    if REST in told:
        child(_condition(parent, told[REST]), f"{Q}other")


def _tick(
    parent: etree._Element, ident: str, feedback_ident: str, *, score: int | None = None, goes_on: bool = False
) -> None:
    """A whole `respcondition` for one ticked label."""
    _equal(_condition(parent, feedback_ident, score=score, goes_on=goes_on), ident)


def _condition(
    parent: etree._Element, feedback_ident: str, *, score: int | None = None, goes_on: bool = False
) -> etree._Element:
    """The empty `conditionvar` of a new `respcondition`, whose score and feedback are written after it."""
    made = child(parent, f"{Q}respcondition", attributes={"continue": "Yes" if goes_on else "No"})
    tests = child(made, f"{Q}conditionvar")
    if score is not None:
        child(made, f"{Q}setvar", text=str(score), attributes={"varname": "SCORE", "action": "Set"})
    if feedback_ident:
        shown = {"feedbacktype": "Response", "linkrefid": feedback_ident}
        child(made, f"{Q}displayfeedback", attributes=shown)
    return tests


def _equal(parent: etree._Element, answer: str, *, typed: bool = False) -> None:
    """One test; a typed answer is compared without regard to case, the only leniency there is."""
    attributes = {"respident": RESPONSE, "case": "No"} if typed else {"respident": RESPONSE}
    child(parent, f"{Q}varequal", text=answer, attributes=attributes)
