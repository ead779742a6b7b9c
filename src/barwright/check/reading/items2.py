"""Items of QTI 2 and 3 documents as the frozen model. Nothing is assumed of how they were written.

Sources: QTI 2.2 and 3.0 item schemas; built-in outcome SCORE; feedback is shown if its identifier is (with
`showHide="hide"`: is not) among the values of its outcome.
"""

from collections.abc import Hashable, Iterable, Iterator, Mapping
from dataclasses import replace
from fractions import Fraction

from lxml import etree

from barwright.check.reading.answers_to_try import (
    MOST_RESPONSES,
    most_answers,
    tried,
    with_alternatives,
)
from barwright.check.reading.declarations2 import map_key
from barwright.check.reading.edition_names import (
    attribute,
    children,
    descendants,
    named,
    tags,
    text_of,
)
from barwright.check.reading.expression_values import Value
from barwright.check.reading.items12 import MOST_STEPS, STEPS_AN_ANSWER, Afford
from barwright.check.reading.manifests import line_of
from barwright.check.reading.package_model import (
    Answered,
    CannotCarryOut,
    Given,
    Kind,
    ReadChoice,
    ReadItem,
    ReadResponse,
    Shown,
)
from barwright.check.reading.processing2 import (
    MAX_SCORE,
    Program2,
    processed,
    program2,
)
from barwright.check.reading.texts import Pictured, Token, number, shown_markup
from barwright.check.reading.typed_alike import Sight

SCORE = "SCORE"
# Interactions by their QTI 2 names; those not listed are `other`. Choice interactions go by cardinality.
KINDS: Mapping[str, Kind] = {
    "inlineChoiceInteraction": "inline",
    "textEntryInteraction": "entry",
    "extendedTextInteraction": "essay",
    "gapMatchInteraction": "gaps",
    "graphicGapMatchInteraction": "gaps",
    "orderInteraction": "order",
    "graphicOrderInteraction": "order",
    "matchInteraction": "match",
    "associateInteraction": "match",
    "graphicAssociateInteraction": "match",
    "hotspotInteraction": "hotspot",
    "selectPointInteraction": "hotspot",
    "positionObjectInteraction": "hotspot",
    "sliderInteraction": "slider",
}
_INTERACTIONS = tags(
    (
        *KINDS,
        "choiceInteraction",
        "hottextInteraction",
        "customInteraction",
        "portableCustomInteraction",
        "drawingInteraction",
        "endAttemptInteraction",
        "mediaInteraction",
        "uploadInteraction",
    )
)
CHOICES = (
    "simpleChoice",
    "inlineChoice",
    "gapText",
    "gapImg",
    "simpleAssociableChoice",
    "hotspotChoice",
    "hottext",
)
SLOTS = ("gap", "associableHotspot")
_FEEDBACK = ("modalFeedback", "feedbackBlock", "feedbackInline")
_NOT_IN_STEM = frozenset(
    (*CHOICES, "associableHotspot", "feedbackBlock", "feedbackInline", "templateBlock", "stylesheet")
)

_ZERO = Fraction(0)
_Feedback = tuple[str, str, bool, str]  # outcome, identifier, shown if it matches, text


def item2(path: str, root: etree._Element, pictured: Pictured, *, afford: Afford) -> ReadItem:
    """The item that is a document; `pictured` makes a picture of a link in it."""
    body = next(children(root, "itemBody"), None)
    stem = Shown() if body is None else shown_markup(body, pictured, _instead_in_stem)
    interactions = () if body is None else tuple(interactions_of(body))
    declarations = {attribute(d, "identifier"): d for d in children(root, "responseDeclaration")}
    responses = tuple(_response(declarations, i, pictured) for i in interactions)
    full = _full(root)
    answers: tuple[Answered, ...] = ()
    untried = ""
    try:
        answers = tuple(_carried_out(root, responses, pictured, afford))
        responses = with_alternatives(responses, answers, full)
    except (CannotCarryOut, OverflowError) as error:
        untried = str(error)
    title = " ".join(attribute(root, "title").split())
    ident = attribute(root, "identifier")
    return ReadItem(ident, title, path, line_of(root), stem, responses, answers, full, full, untried)


def interactions_of(element: etree._Element) -> Iterator[etree._Element]:
    """The interactions in an item, in order."""
    return element.iter(*_INTERACTIONS)


def _full(root: etree._Element) -> Fraction | None:
    """The declared highest score: of SCORE, else the value that MAXSCORE begins with."""
    spare = None
    for outcome in children(root, "outcomeDeclaration"):
        ident = attribute(outcome, "identifier")
        if ident == SCORE:
            declared = number(attribute(outcome, "normalMaximum"))
            if declared is not None:
                return declared
        elif ident == MAX_SCORE:
            spare = next((number(text_of(v)) for v in descendants(outcome, "value")), None)
    return spare


def _instead_in_stem(element: etree._Element) -> Iterable[Token] | None:
    """Nothing for choices and feedback, a mark for each place to fill in, None for all else."""
    name = named(element)
    if name == "gap":
        return (f"[{attribute(element, 'identifier')}]",)
    if name == "inlineChoiceInteraction":
        return (f"[{attribute(element, 'responseIdentifier')}]",)
    if name == "rubricBlock" and "candidate" not in attribute(element, "view", "candidate").split():
        return ()
    return () if name in _NOT_IN_STEM else None


def _response(
    declarations: Mapping[str, etree._Element], interaction: etree._Element, pictured: Pictured
) -> ReadResponse:
    ident = attribute(interaction, "responseIdentifier")
    declaration = declarations.get(ident)
    kind = _kind(interaction, declaration)
    choices = tuple(
        ReadChoice(attribute(c, "identifier"), _shown_choice(c, pictured), attribute(c, "fixed") == "true")
        for c in descendants(interaction, *CHOICES)
    )
    slots = tuple(attribute(s, "identifier") for s in descendants(interaction, *SLOTS))
    keys = () if declaration is None else _keys(declaration, kind, tuple(c.ident for c in choices))
    return ReadResponse(ident, kind, choices, keys, slots, attribute(interaction, "shuffle") == "true")


def _shown_choice(choice: etree._Element, pictured: Pictured) -> Shown:
    """What a choice shows; a picture to drag has its text in an attribute (QTI 2.2, `gapImg/@objectLabel`)."""
    shown, label = shown_markup(choice, pictured, _instead_in_choice), attribute(choice, "objectLabel")
    return replace(shown, paragraphs=(label, *shown.paragraphs)) if label else shown


def _instead_in_choice(element: etree._Element) -> Iterable[Token] | None:
    return () if named(element) in ("feedbackBlock", "feedbackInline") else None


def _kind(interaction: etree._Element, declaration: etree._Element | None) -> Kind:
    name = named(interaction)
    if name in ("choiceInteraction", "hottextInteraction"):
        cardinality = "" if declaration is None else attribute(declaration, "cardinality")
        return "several" if cardinality == "multiple" else "choice"
    return KINDS.get(name, "other")


def _keys(declaration: etree._Element, kind: Kind, idents: tuple[str, ...]) -> tuple[str, ...]:
    """The right answer as declared, else what the mapping rates highest; for entries all that it rates in full."""
    trim = str if kind == "entry" else str.strip
    correct = [trim(text_of(v)) for c in children(declaration, "correctResponse") for v in children(c, "value")]
    rated: dict[str, Fraction] = {}
    for entry in descendants(declaration, "mapEntry"):
        key = trim(map_key(entry))
        rated.setdefault(key, number(attribute(entry, "mappedValue")) or Fraction(0))
    best = max(rated.values(), default=Fraction(0))
    if kind == "entry":
        return tuple(dict.fromkeys((*correct, *(k for k, score in rated.items() if score == best > 0))))
    if not correct and rated:
        correct = [k for k, score in rated.items() if (score == best if kind == "choice" else score) > 0]
    if kind == "several":
        return tuple(sorted(dict.fromkeys(correct), key=lambda k: idents.index(k) if k in idents else len(idents)))
    return tuple(correct)


def _carried_out(
    root: etree._Element, responses: tuple[ReadResponse, ...], pictured: Pictured, afford: Afford
) -> Iterator[Answered]:
    if len(responses) > MOST_RESPONSES:
        raise CannotCarryOut("too many places to answer")
    program = program2(root)
    typed = tuple(_typed(root, r.ident) if r.kind in ("entry", "essay") else () for r in responses)
    feedback = tuple(_feedback(root, pictured))
    steps = most_answers(responses, typed) * (program.looks + len(feedback) + STEPS_AN_ANSWER)
    if steps > MOST_STEPS or not afford(steps):
        raise CannotCarryOut("too many answers and rules")
    sights = _sights(program, responses, feedback)
    known: dict[tuple[Hashable, ...], Answered] = {}  # one outcome for all answers that the item cannot tell apart
    for given in tried(responses, typed):
        alike = tuple([g if sight is None else sight.of(g) for sight, g in zip(sights, given, strict=True)])
        answer = known.get(alike)
        if answer is None:
            outcomes = processed(program, {r.ident: g for r, g in zip(responses, given, strict=True)})
            answer = known[alike] = _answered(given, outcomes, feedback, program)
        yield Answered(given, answer.score, answer.feedback)


def _sights(
    program: Program2, responses: tuple[ReadResponse, ...], feedback: tuple[_Feedback, ...]
) -> list[Sight | None]:
    """What the item sees of each response; None where that is all of it, or where feedback or the score does."""
    seen = {SCORE, *(outcome for outcome, *_ in feedback)}
    return [None if r.ident in seen else program.sights.get(r.ident) for r in responses]


def _typed(root: etree._Element, ident: str) -> tuple[str, ...]:
    """Every text that a typed answer may be compared with: mapped, declared as right, or written in the rules."""
    texts: dict[str, None] = {}
    for declaration in children(root, "responseDeclaration"):
        if attribute(declaration, "identifier") == ident:
            for entry in descendants(declaration, "mapEntry", "value"):
                texts.setdefault(map_key(entry) or text_of(entry))
    for base in descendants(root, "baseValue"):
        if attribute(base, "baseType") == "string":
            texts.setdefault(text_of(base))
    return tuple(t for t in texts if t.strip())


def _feedback(root: etree._Element, pictured: Pictured) -> Iterator[_Feedback]:
    for element in descendants(root, *_FEEDBACK):
        shows = attribute(element, "showHide", "show") != "hide"
        text = shown_markup(element, pictured).text
        if text:
            yield attribute(element, "outcomeIdentifier"), attribute(element, "identifier"), shows, text


def _answered(
    given: Given, outcomes: Mapping[str, Value], feedback: Iterable[_Feedback], program: Program2
) -> Answered:
    score = outcomes.get(SCORE) or _first_number(outcomes, program)
    amount = score.atoms[0] if score.atoms else _ZERO
    said = [
        text
        for outcome, ident, shows, text in feedback
        if (outcome in outcomes and ident in outcomes[outcome].atoms) == shows
    ]
    if len(said) > 1:
        said = list(dict.fromkeys(said))
    return Answered(given, amount if isinstance(amount, Fraction) else _ZERO, tuple(said))


def _first_number(outcomes: Mapping[str, Value], program: Program2) -> Value:
    """The first declared numeric outcome, for items that call their score otherwise."""
    names = (n for n, d in program.outcomes.items() if d.base_type in ("float", "integer") and n != MAX_SCORE)
    return outcomes.get(next(names, ""), Value())
