"""What must agree inside the items of a QTI 1.2 document: responses, labels, variables, feedback.

Source: QTI 1.2.1: `respident` names a response of the item, `varequal` of a `response_lid` one of its labels,
`linkrefid` an `itemfeedback`, `varname` a `decvar`.
"""

from collections import Counter
from collections.abc import Iterator, Mapping

from lxml import etree

from barwright.check.reading.items12 import RESPONSES, declared_essay, fields12
from barwright.check.reading.texts import local
from barwright.check.rules.findings import Finding
from barwright.check.rules.package_part import PackagePart, quoted

_TESTS = (
    "varequal",
    "varsubset",
    "varsubstring",
    "varlt",
    "varlte",
    "vargt",
    "vargte",
    "varinside",
    "unanswered",
)


def references12(part: PackagePart) -> Iterator[Finding]:
    """Names that lead nowhere, names given twice, and conditions that cannot hold."""
    for item in part.root.iter("{*}item"):
        responses = {r.get("ident", ""): r for r in item.iter(*(f"{{*}}{n}" for n in RESPONSES))}
        labels = {i: Counter(x.get("ident", "") for x in r.iter("{*}response_label")) for i, r in responses.items()}
        yield from _twice(part, item, labels)
        yield from _tests(part, item, responses, labels)
        yield from _variables(part, item)
        yield from _feedback(part, item)
        yield from _case(part, item, responses)
        yield from _by_hand(part, item, responses)
        yield from _implied_and(part, item, responses)


def _twice(part: PackagePart, item: etree._Element, labels: Mapping[str, Counter[str]]) -> Iterator[Finding]:
    for idents in labels.values():
        for ident in _repeated(idents):
            yield part.found("choice-twice", f"two choices have the identifier {ident[:40]!r}", item)
    for ident in _repeated(Counter(f.get("ident", "") for f in item.iterchildren("{*}itemfeedback"))):
        yield part.found("feedback-twice", f"two feedback texts have the identifier {ident[:40]!r}", item)


def _repeated(idents: Counter[str]) -> list[str]:
    return [ident for ident, count in idents.items() if count > 1]


def _tests(
    part: PackagePart, item: etree._Element, responses: Mapping[str, etree._Element], labels: Mapping[str, Counter[str]]
) -> Iterator[Finding]:
    for test in item.iter(*(f"{{*}}{n}" for n in _TESTS)):
        ident, text = test.get("respident", ""), (test.text or "").strip()
        if ident not in responses:
            there = quoted(list(responses)) or "none"
            what = f"<{local(test)}> is about the response {ident[:40]!r}; the item has {there}"
            yield part.found("response-unknown", what, test)
        elif local(test) == "varequal" and local(responses[ident]) == "response_lid" and text not in labels[ident]:
            condition = next(test.iterancestors("{*}respcondition"), None)
            scores = condition is not None and condition.find("{*}setvar") is not None
            what = f"{text[:40]!r} is none of the choices {quoted(list(labels[ident]))}"
            yield part.found("key-no-choice" if scores else "answer-no-choice", what, test)


def _variables(part: PackagePart, item: etree._Element) -> Iterator[Finding]:
    declared = {d.get("varname", "SCORE") for d in item.iter("{*}decvar")}
    for setvar in item.iter("{*}setvar"):
        name = setvar.get("varname", "SCORE")
        if name not in declared:
            yield part.found("variable-unknown", f"a score is set as {name[:40]!r}, which is not declared", setvar)


def _feedback(part: PackagePart, item: etree._Element) -> Iterator[Finding]:
    there = {f.get("ident", ""): f for f in item.iterchildren("{*}itemfeedback")}
    shown = [d for c in item.iter("{*}respcondition") for d in c.iterchildren("{*}displayfeedback")]
    for each in shown:
        if each.get("linkrefid", "") not in there:
            what = f"feedback {each.get('linkrefid', '')[:40]!r} is to be shown, but there is none of that name"
            yield part.found("feedback-unknown", what, each)
    used = {d.get("linkrefid", "") for d in shown}
    for ident, element in there.items():
        if ident not in used and element.find("{*}solution") is None and element.find("{*}hint") is None:
            yield part.found("feedback-unused", f"nothing shows the feedback {ident[:40]!r}", element)


def _by_hand(part: PackagePart, item: etree._Element, responses: Mapping[str, etree._Element]) -> Iterator[Finding]:
    """Typed answers that nothing is compared with, in an item that does not say that a person scores it."""
    compared = {t.get("respident") for t in item.iter(*(f"{{*}}{n}" for n in _TESTS))}
    for ident, response in responses.items():
        box = response.find("{*}render_fib")
        if box is not None and ident not in compared and not declared_essay(box, fields12(item)) and not part.profiled:
            yield part.found("by-hand", f"nothing says what is right for {ident[:40]!r}", response)


def _case(part: PackagePart, item: etree._Element, responses: Mapping[str, etree._Element]) -> Iterator[Finding]:
    for test in item.iter("{*}varequal", "{*}varsubstring"):
        response, text = responses.get(test.get("respident", "")), test.text or ""
        typed = response is not None and local(response) == "response_str"
        if typed and test.get("case", "No") == "Yes" and text.casefold() != text.upper():
            yield part.found("case-matters", f"{text.strip()[:40]!r} counts only with just these capital letters", test)


def _implied_and(part: PackagePart, item: etree._Element, responses: Mapping[str, etree._Element]) -> Iterator[Finding]:
    """Two different answers wanted at once of a response that takes one."""
    for holder in item.iter("{*}conditionvar", "{*}and"):
        wanted: dict[str, set[str]] = {}
        for test in holder.iterchildren("{*}varequal"):
            wanted.setdefault(test.get("respident", ""), set()).add((test.text or "").strip().casefold())
        for ident, texts in wanted.items():
            response = responses.get(ident)
            if len(texts) > 1 and response is not None and response.get("rcardinality", "Single") == "Single":
                yield part.found("implied-and", f"one answer is to equal {quoted(sorted(texts))} at once", holder)
