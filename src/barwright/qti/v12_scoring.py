"""Scores and feedback of QTI 1.2.1 items, in the patterns of the Common Cartridge profile.

Conditions are tried in order and `continue="No"` stops after the first that holds, so each answer meets exactly the
conditions meant for it, whether `other` is read as "anything" or as "anything not met so far".
"""

from functools import cache

from lxml import etree

from barwright.qti.content import Feedback, Question, accepted
from barwright.qti.v12_material import Q, labelled
from barwright.qti.xml import QTI12, child, root_element, set_text, stamped

RESPONSE = "response"  # one response an item: the profile allows no more
# Customary names (profile, examples): the key's feedback, and that of every answer without its own.
KEY_FEEDBACK = "correct_fb"
REST_FEEDBACK = "general_incorrect_fb"


def add_outcome(parent: etree._Element, *, full: int, kind: str) -> None:
    """Adds the one score variable, 0 to `full`, `kind` Decimal or Integer."""
    score = {"varname": "SCORE", "vartype": kind, "minvalue": "0", "maxvalue": str(full)}
    child(child(parent, f"{Q}outcomes"), f"{Q}decvar", attributes=score)


def add_conditions(processing: etree._Element, question: Question, *, full: int) -> None:
    """Adds to a `resprocessing` which answers score `full`, and which feedback each answer shows."""
    told = {f.choice.ident if f.choice else REST: _feedback_ident(question, f) for f in question.feedback}
    {"entry": _entry, "several": _several}.get(question.item.interaction, _single)(processing, question, told, full)


def add_feedback(item: etree._Element, question: Question, *, language: str) -> None:
    """Adds an `itemfeedback` for each text that answers show; `language` is empty where an element above tells it."""
    for each in question.feedback:
        ident = _feedback_ident(question, each)
        labelled(item, "itemfeedback", ident=ident, text=each.text, kind="text/plain", language=language)


Told = dict[str, str]  # choice ident, or REST for any answer not foreseen -> feedback ident
REST = ""


def _feedback_ident(question: Question, each: Feedback) -> str:
    if each.choice is None:
        return REST_FEEDBACK
    single_key = each.choice.key and question.item.interaction != "several"
    return KEY_FEEDBACK if single_key else f"{each.choice.ident}_fb"


def _single(parent: etree._Element, question: Question, told: Told, full: int) -> None:
    """Wrong choices first, each with its feedback, then the one condition that scores."""
    (key,) = question.keys
    for choice in question.item.choices:
        if choice.ident in told and not choice.key:
            _answer(parent, choice.ident, told[choice.ident], goes_on=True)
    _answer(parent, key.ident, told.get(key.ident, ""), score=full)


def _several(parent: etree._Element, question: Question, told: Told, full: int) -> None:
    """All or nothing: every key ticked and nothing else; each tick shows its own feedback."""
    for choice in question.item.choices:
        if choice.ident in told:
            _answer(parent, choice.ident, told[choice.ident], goes_on=True)
    both = child(_condition(parent, "", score=full), f"{Q}and")
    for choice in question.item.choices:
        _equal(both if choice.key else child(both, f"{Q}not"), choice.ident)
    _otherwise(parent, told)


def _entry(parent: etree._Element, question: Question, told: Told, full: int) -> None:
    """The accepted spellings first, one condition each, since not every importer reads `or`; then the foreseen answers.

    Tests side by side would be an implied `and`, which no answer can meet.
    """
    for key in question.keys:
        for spelling in accepted(key):
            _answer(parent, spelling, told.get(key.ident, ""), score=full, typed=True)
    for choice in question.item.choices:
        if choice.ident in told and not choice.key:
            any_of = child(_condition(parent, told[choice.ident]), f"{Q}or")
            for spelling in accepted(choice):
                _equal(any_of, spelling, typed=True)
    _otherwise(parent, told)


def _otherwise(parent: etree._Element, told: Told) -> None:
    if REST in told:
        child(_condition(parent, told[REST]), f"{Q}other")


def _answer(
    parent: etree._Element,
    answer: str,
    feedback_ident: str,
    *,
    score: int | None = None,
    goes_on: bool = False,
    typed: bool = False,
) -> None:
    """A whole `respcondition` for one answer: a ticked label, or with `typed` a text in either case."""
    made = stamped(parent, _pattern(score, told=bool(feedback_ident), goes_on=goes_on, typed=typed))
    set_text(made[0][0], answer)
    if feedback_ident:
        made[-1].set("linkrefid", feedback_ident)


@cache
def _pattern(score: int | None, *, told: bool, goes_on: bool, typed: bool) -> etree._Element:
    root = root_element(QTI12, "pattern", attributes={})
    _equal(_condition(root, "none" if told else "", score=score, goes_on=goes_on), "", typed=typed)
    return root[0]


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
