"""QTI Results Reporting 2.2 and 3.0: one document is what one student answered.

Sources: the published schemas imsqti_result_v2p2.xsd and imsqti_resultv3p0_v1p0.xsd; elements have the same names.
`itemResult/@identifier` is the reference in the test, which our packages give the identifier of the item; answers stand
in `responseVariable/candidateResponse/value`.
"""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from lxml import etree

from barwright.errors import ResultsError
from barwright.items.accommodations import version_ident
from barwright.results.reading.asked import AskedQuestion, AskedSheet, Given
from barwright.results.reading.bounds import MOST_BYTES, MOST_XML_DEEP, cut
from barwright.results.reading.cell_answers import answer_of, typed_answer

NAMESPACES = (
    "http://www.imsglobal.org/xsd/imsqti_result_v2p2",
    "http://www.imsglobal.org/xsd/imsqti_result_v3p0",
)
RESPONSE = "RESPONSE"
# A response variable that is no answer (QTI: built-in variables).
_BUILT_IN = ("numAttempts", "duration")


@dataclass(frozen=True, slots=True)
class ReadReport:
    """The answers of one document, the form they belong to, and what of it could not be understood."""

    givens: tuple[Given, ...]
    sheet: AskedSheet
    faults: tuple[str, ...] = ()


def looks_like_xml(data: bytes) -> bool:
    """Whether a file begins as XML does, in any encoding that XML parsers know without a label."""
    head = data[:200].replace(b"\0", b"").lstrip(b"\xef\xbb\xbf\xff\xfe \t\r\n")
    return head.startswith(b"<")


def read_report(data: bytes, name: str, sheets: Sequence[AskedSheet]) -> ReadReport:
    """What a document says; ResultsError if it is none of this kind, damaged, or of a quiz not among the sheets."""
    root = _root(data, name)
    q = f"{{{etree.QName(root).namespace}}}"
    results = root.findall(f"{q}itemResult")
    idents = [str(each.get("identifier", "")) for each in results]
    sheet = _sheet(root, q, idents, sheets)
    if sheet is None:
        asked = f"asks {cut(idents[0], 30)!r} and others" if idents else "holds no answers to single questions"
        raise ResultsError(
            f"{name}: {asked}, and no form of this quiz's record has them: it is of another quiz, or the form was made "
            "anew since"
        )
    student = _student(root, q, name)
    questions = {question.ident: question for question in sheet.questions}
    givens, faults = [], []
    for order, result in enumerate(results):
        question = questions.get(str(result.get("identifier", "")))
        if question is None:
            continue
        answer, wrong = _answer(result, q, question)
        if wrong:
            faults.append(f"{name}: {question.called}: {cut(wrong)!r} is none of its answers")
        attempt = (_attempts(result, q), str(result.get("datestamp", "")), order)
        final = result.get("sessionStatus") == "final"
        givens.append(Given(student, "", sheet.ident, question.item, answer, attempt, final, sheet.fewer))
    return ReadReport(tuple(givens), sheet, tuple(faults))


def _root(data: bytes, name: str) -> etree._Element:
    if len(data) > MOST_BYTES:
        raise ResultsError(f"{name}: has over {MOST_BYTES:,} bytes: is it one student's results?")
    parser = etree.XMLParser(resolve_entities=False, no_network=True, load_dtd=False, huge_tree=False)
    try:
        root = etree.fromstring(data, parser)
    except (etree.XMLSyntaxError, ValueError) as error:
        raise ResultsError(f"{name}: it is not well-formed XML ({cut(str(error))}): export it again") from error
    if root.getroottree().docinfo.internalDTD is not None:
        raise ResultsError(f"{name}: it declares a document type, which no results report has: it is not read")
    qname = etree.QName(root)
    if qname.namespace not in NAMESPACES or qname.localname != "assessmentResult":
        raise ResultsError(
            f"{name}: it is XML, but no results of QTI 2.2 or 3.0 (its root is {cut(qname.localname)!r}): export the "
            "answers as CSV, .xlsx, or QTI Results Reporting"
        )
    if _depth(root) > MOST_XML_DEEP:
        raise ResultsError(f"{name}: its elements lie over {MOST_XML_DEEP} deep: it is no results report")
    return root


def _depth(root: etree._Element) -> int:
    deepest, waiting = 0, [(root, 1)]
    while waiting and deepest <= MOST_XML_DEEP:
        element, depth = waiting.pop()
        deepest = max(deepest, depth)
        waiting.extend((child, depth + 1) for child in element)
    return deepest


def _sheet(root: etree._Element, q: str, idents: Iterable[str], sheets: Sequence[AskedSheet]) -> AskedSheet | None:
    """The form with most of these items; of several the one that the test result names, else the first.

    As the version has it whose test is named so.
    """
    test = root.find(f"{q}testResult")
    named = str(test.get("identifier", "")) if test is not None else ""
    wanted = Counter(idents)
    best, most = None, (0, False)
    for sheet in sheets:
        known = sum(wanted[question.ident] > 0 for question in sheet.questions)
        fewer = version_ident(sheet.ident, "fewer_choices") == named
        if known and (known, fewer or sheet.ident == named) > most:
            best, most = replace(sheet, fewer=fewer), (known, fewer or sheet.ident == named)
    return best


def _student(root: etree._Element, q: str, name: str) -> str:
    context = root.find(f"{q}context")
    if context is not None:
        if context.get("sourcedId"):
            return str(context.get("sourcedId"))
        session = context.find(f"{q}sessionIdentifier")
        if session is not None and session.get("identifier"):
            return str(session.get("identifier"))
    raise ResultsError(
        f"{name}: it does not say whose answers these are (no sourcedId, no sessionIdentifier): export it with one"
    )


def _attempts(result: etree._Element, q: str) -> int:
    """The number of the attempt, as far as the report tells it."""
    for variable in result.findall(f"{q}responseVariable"):
        if variable.get("identifier") == "numAttempts":
            value = variable.findtext(f"{q}candidateResponse/{q}value", "").strip()
            return int(value) if value.isascii() and value.isdecimal() and len(value) < 7 else 0
    return 0


def _answer(result: etree._Element, q: str, question: AskedQuestion) -> tuple[tuple[str, ...], str]:
    """The answer, empty if there is none, and the text of one that cannot be understood."""
    responses = {
        str(variable.get("identifier", "")): [
            (value.text or "").strip() for value in variable.findall(f"{q}candidateResponse/{q}value")
        ]
        for variable in result.findall(f"{q}responseVariable")
        if variable.get("identifier") not in _BUILT_IN
    }
    values = _values(responses, question)
    if not any(values):
        return (), ""
    if question.interaction == "entry":
        typed = typed_answer(values[0], question)
        return ((), values[0]) if typed is None else ((typed,), "")
    answer = answer_of(values, question)
    return ((), " ".join(values)) if answer is None else (answer, "")


def _values(responses: Mapping[str, list[str]], question: AskedQuestion) -> list[str]:
    """The identifiers that were picked, place by place where they are put into places."""
    if question.interaction == "inline":
        return [next(iter(responses.get(f"{RESPONSE}_{place.ident}", [])), "") for place in question.places]
    values = responses.get(RESPONSE) or (next(iter(responses.values())) if len(responses) == 1 else [])
    if question.interaction == "gaps":  # a directed pair: the choice, then the gap
        return [value.split()[0] for value in values if value]
    return values
