"""Scores and feedback of QTI 1.2.1 items, in the patterns of the Common Cartridge profile.

Conditions are tried in order and `continue="No"` stops after the first that holds, so each answer meets exactly the
conditions meant for it, whether `other` is read as "anything" or as "anything not met so far".
"""

from lxml import etree

from barwright.qti.content import Feedback, Question, accepted
from barwright.qti.xml import LANG, QTI12, child

Q = f"{{{QTI12}}}"
RESPONSE = {"respident": "response"}
# Customary names (profile, examples): the key's feedback, and that of every answer without its own.
KEY_FEEDBACK = "correct_fb"
REST_FEEDBACK = "general_incorrect_fb"


def outcome(parent: etree._Element, *, full: int, kind: str) -> None:
    """The one score variable, 0 to `full`, `kind` Decimal or Integer."""
    score = {"varname": "SCORE", "vartype": kind, "minvalue": "0", "maxvalue": str(full)}
    child(child(parent, f"{Q}outcomes"), f"{Q}decvar", attributes=score)


def processing(parent: etree._Element, question: Question, *, full: int, kind: str) -> None:
    """`resprocessing`: which answers score `full`, and which feedback each answer shows."""
    made = child(parent, f"{Q}resprocessing")
    outcome(made, full=full, kind=kind)
    told = {f.choice.ident if f.choice else REST: _feedback_ident(question, f) for f in question.feedback}
    {"entry": _entry, "several": _several}.get(question.item.interaction, _single)(made, question, told, full)


def feedback(parent: etree._Element, question: Question, *, language: str) -> None:
    """One `itemfeedback` for each text that an answer can show; `language` is empty where an element above tells it."""
    for each in question.feedback:
        made = child(parent, f"{Q}itemfeedback", attributes={"ident": _feedback_ident(question, each)})
        plain_text(child(made, f"{Q}material", attributes={LANG: language} if language else {}), each.text)


def plain_text(material: etree._Element, text: str) -> None:
    """A `mattext` of plain text."""
    child(material, f"{Q}mattext", text=text, attributes={"texttype": "text/plain"})


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
            _equal(_condition(parent, told[choice.ident], goes_on=True), choice.ident)
    _equal(_condition(parent, told.get(key.ident, ""), score=full), key.ident)


def _several(parent: etree._Element, question: Question, told: Told, full: int) -> None:
    """All or nothing: every key ticked and nothing else; each tick shows its own feedback."""
    for choice in question.item.choices:
        if choice.ident in told:
            _equal(_condition(parent, told[choice.ident], goes_on=True), choice.ident)
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
            _typed(_condition(parent, told.get(key.ident, ""), score=full), spelling)
    for choice in question.item.choices:
        if choice.ident in told and not choice.key:
            any_of = child(_condition(parent, told[choice.ident]), f"{Q}or")
            for spelling in accepted(choice):
                _typed(any_of, spelling)
    _otherwise(parent, told)


def _otherwise(parent: etree._Element, told: Told) -> None:
    if REST in told:
        child(_condition(parent, told[REST]), f"{Q}other")


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


def _equal(parent: etree._Element, ident: str) -> None:
    child(parent, f"{Q}varequal", text=ident, attributes=RESPONSE)


def _typed(parent: etree._Element, spelling: str) -> None:
    child(parent, f"{Q}varequal", text=spelling, attributes={**RESPONSE, "case": "No"})
