"""What must agree inside a QTI 2 or 3 document: responses, variables, choices, templates, catalogs, draws.

Source: QTI 2.2 and 3.0: interactions and rules name declared variables; a right answer names a choice; which
cardinality and base type each interaction wants; templates use the fixed names RESPONSE and SCORE.
"""

from collections import Counter
from collections.abc import Iterator, Mapping

from lxml import etree

from barwright.check.reading.declarations2 import map_key
from barwright.check.reading.edition_names import (
    attribute,
    children,
    descendants,
    named,
    text_of,
)
from barwright.check.reading.items2 import CHOICES, SLOTS, interactions_of
from barwright.check.reading.processing2 import FEEDBACK_BASIC, TEMPLATES, template_name
from barwright.check.reading.texts import number
from barwright.check.rules.findings import Finding
from barwright.check.rules.package_part import PackagePart, quoted

_CATALOGED = etree.XPath("boolean(descendant-or-self::*/@data-catalog-idref)")
_BUILT_IN = frozenset(("completionStatus", "completion_status", "duration", "numAttempts", "num_attempts"))
_READ = ("variable", "correct", "default", "mapResponse", "mapResponsePoint", "printedVariable")
_SET = ("setOutcomeValue", "lookupOutcomeValue", "setTemplateValue", "setCorrectResponse", "setDefaultValue")
_FEEDBACK = ("modalFeedback", "feedbackBlock", "feedbackInline")
_IDENTIFIED = ("identifier", "pair", "directedPair")
# Interaction -> cardinalities and base types that its response may have.
_WANTED: Mapping[str, tuple[frozenset[str], frozenset[str]]] = {
    name: (frozenset(cardinalities.split()), frozenset(types.split()))
    for name, cardinalities, types in (
        ("choiceInteraction", "single multiple", "identifier"),
        ("hottextInteraction", "single multiple", "identifier"),
        ("inlineChoiceInteraction", "single", "identifier"),
        ("orderInteraction", "ordered", "identifier"),
        ("textEntryInteraction", "single record", "string integer float"),
        ("gapMatchInteraction", "single multiple", "directedPair"),
        ("graphicGapMatchInteraction", "single multiple", "directedPair"),
        ("matchInteraction", "single multiple", "directedPair"),
        ("associateInteraction", "single multiple", "pair"),
    )
}


def references2(part: PackagePart) -> Iterator[Finding]:
    """Names that lead nowhere, names given twice, declarations that do not fit."""
    yield from _draws(part)
    yield from _catalogs(part)
    if named(part.root) != "assessmentItem":
        return
    declared = [e for e in children(part.root) if named(e).endswith("Declaration")]
    names = [attribute(e, "identifier") for e in declared]
    for ident in (i for i, count in Counter(names).items() if count > 1):
        yield part.found("identifier-twice", f"two variables have the identifier {ident[:40]!r}", part.root)
    responses = {attribute(e, "identifier"): e for e in declared if named(e) == "responseDeclaration"}
    for interaction in interactions_of(part.root):
        yield from _interaction(part, interaction, responses)
    yield from _variables(part, frozenset(names) | _BUILT_IN)
    yield from _feedback(part)
    yield from _processing(part, responses, frozenset(names))


def _interaction(
    part: PackagePart, interaction: etree._Element, responses: Mapping[str, etree._Element]
) -> Iterator[Finding]:
    ident = attribute(interaction, "responseIdentifier")
    choices = Counter(attribute(c, "identifier") for c in descendants(interaction, *CHOICES, *SLOTS))
    for twice in (c for c, count in choices.items() if count > 1):
        yield part.found("choice-twice", f"two choices have the identifier {twice[:40]!r}", interaction)
    if ident not in responses:
        what = f"the answer goes to {ident[:40]!r}; declared is {quoted(list(responses)) or 'nothing'}"
        yield part.found("response-unknown", what, interaction)
        return
    declaration = responses[ident]
    yield from _kind(part, interaction, declaration)
    if named(interaction) == "textEntryInteraction":
        yield from _case(part, declaration)
    if choices and attribute(declaration, "baseType") in _IDENTIFIED:
        yield from _keys(part, declaration, choices)


def _kind(part: PackagePart, interaction: etree._Element, declaration: etree._Element) -> Iterator[Finding]:
    wanted = _WANTED.get(named(interaction))
    cardinality, base_type = attribute(declaration, "cardinality"), attribute(declaration, "baseType")
    if wanted and (cardinality not in wanted[0] or base_type not in wanted[1]):
        what = (
            f"the response {attribute(declaration, 'identifier')[:40]!r} is declared {cardinality} {base_type}; "
            f"<{named(interaction)}> wants {' or '.join(sorted(wanted[0]))} {' or '.join(sorted(wanted[1]))}"
        )
        yield part.found("wrong-declaration", what, declaration)
    most = number(attribute(interaction, "maxChoices", "1"))
    correct = [v for c in children(declaration, "correctResponse") for v in children(c, "value")]
    several = named(interaction) in ("choiceInteraction", "hottextInteraction") and cardinality != "single"
    if several and most and most < len(correct):
        what = f"the right answer has {len(correct)} choices, but maxChoices is {most}"
        yield part.found("few-picks", what, interaction)


def _case(part: PackagePart, declaration: etree._Element) -> Iterator[Finding]:
    """A typed answer that must have just these capital letters: mapped so, or matched and not mapped at all."""
    mapped = [e for e in descendants(declaration, "mapEntry") if attribute(e, "caseSensitive", "false") == "true"]
    texts = [map_key(e) for e in mapped]
    loose = any(attribute(e, "caseSensitive") == "false" for e in descendants(part.root, "stringMatch"))
    if next(children(declaration, "mapping"), None) is None and not loose:
        texts = [text_of(v) for c in children(declaration, "correctResponse") for v in children(c, "value")]
    for text in texts:
        if attribute(declaration, "baseType") == "string" and text.casefold() != text.upper():
            what = f"{text.strip()[:40]!r} counts only with just these capital letters"
            yield part.found("case-matters", what, declaration)


def _keys(part: PackagePart, declaration: etree._Element, choices: Counter[str]) -> Iterator[Finding]:
    values = [text_of(v) for c in children(declaration, "correctResponse") for v in children(c, "value")]
    mapped = [map_key(e) for e in descendants(declaration, "mapEntry")]
    pair = attribute(declaration, "baseType") != "identifier"
    for rule, texts in (("key-no-choice", values), ("answer-no-choice", mapped)):
        for text in dict.fromkeys(texts):
            strange = [k for k in (text.split() if pair else [text.strip()]) if k not in choices]
            if strange or not text.strip():
                what = f"{text.strip()[:40]!r} is none of the choices {quoted(list(choices))}"
                yield part.found(rule, what, declaration)
    if mapped and not values:
        ident = attribute(declaration, "identifier")
        yield part.found("no-correct-response", f"the response {ident[:40]!r} has a mapping only", declaration)


def _variables(part: PackagePart, known: frozenset[str]) -> Iterator[Finding]:
    for element in descendants(part.root, *_READ, *_SET):
        name, ident = named(element), attribute(element, "identifier")
        if ident not in known:
            yield part.found("variable-unknown", f"<{name}> is about {ident[:40]!r}, which is not declared", element)


def _feedback(part: PackagePart) -> Iterator[Finding]:
    outcomes = {attribute(e, "identifier") for e in children(part.root, "outcomeDeclaration")}
    set_by_rules = {attribute(e, "identifier") for e in descendants(part.root, *_SET)}
    template = next((template_name(p) for p in children(part.root, "responseProcessing")), "")
    seen: set[tuple[str, str]] = set()
    for element in descendants(part.root, *_FEEDBACK):
        outcome, ident = attribute(element, "outcomeIdentifier"), attribute(element, "identifier")
        if outcome not in outcomes:
            what = f"the feedback {ident[:40]!r} waits for {outcome[:40]!r}, which is not declared"
            yield part.found("variable-unknown", what, element)
        elif outcome not in set_by_rules and not (template.startswith("CC2") and outcome == FEEDBACK_BASIC):
            set_by_rules.add(outcome)  # told once
            what = f"nothing sets {outcome[:40]!r}, for which the feedback {ident[:40]!r} waits"
            yield part.found("feedback-unused", what, element)
        if named(element) == "modalFeedback":
            if (outcome, ident) in seen:
                yield part.found("feedback-twice", f"two feedback texts have the identifier {ident[:40]!r}", element)
            seen.add((outcome, ident))


def _processing(part: PackagePart, responses: Mapping[str, etree._Element], names: frozenset[str]) -> Iterator[Finding]:
    for processing in children(part.root, "responseProcessing"):
        link = attribute(processing, "template") or attribute(processing, "templateLocation")
        if not link or next(children(processing), None) is not None:
            continue
        if template_name(processing) not in (*TEMPLATES, "map_response_point"):
            yield part.found(
                "template-unknown", f"the template {link[:80]!r} is none of the published ones", processing
            )
        elif "RESPONSE" not in responses or "SCORE" not in names:
            yield part.found("template-names", f"the item declares {quoted(sorted(names))}", processing)
        elif template_name(processing).endswith("map_response") and not any(
            True for _ in children(responses["RESPONSE"], "mapping")
        ):
            yield part.found("no-scoring", "map_response is to score the item, but RESPONSE has no mapping", processing)


def _draws(part: PackagePart) -> Iterator[Finding]:
    for selection in descendants(part.root, "selection"):
        section = selection.getparent()
        wanted = number(attribute(selection, "select"))
        if section is None or wanted is None or attribute(selection, "withReplacement") == "true":
            continue
        there = sum(1 for c in children(section, "assessmentItemRef", "assessmentSection", "assessmentSectionRef"))
        if not 1 <= wanted <= there:
            yield part.found("select-too-many", f"{wanted} of {there} are to be drawn", selection)


def _catalogs(part: PackagePart) -> Iterator[Finding]:
    there = {attribute(c, "id") for c in descendants(part.root, "catalog")}
    if not _CATALOGED(part.root):
        return
    for element in part.root.iter("*"):
        ident = element.get("data-catalog-idref")
        if ident is not None and ident.strip() not in there:
            yield part.found("catalog-unknown", f"there is no catalog {ident.strip()[:40]!r}", element)
