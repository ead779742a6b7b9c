"""What is wrong with the structure of a document, in words: our grammars judge, and the element at fault is explained.

The grammar judges the whole document. If it refuses, each element is judged by itself, with its children as empty
shells, so that the fault is found where it is and not where the parser stumbled.
"""

from collections.abc import Iterator, Mapping
from copy import deepcopy
from dataclasses import dataclass
from itertools import islice, takewhile
from typing import Literal

from lxml import etree

from barwright.check.reading.edition_names import named
from barwright.check.reading.manifests import line_of
from barwright.check.reading.package_files import MANIFEST
from barwright.check.reading.standards import QTI12, namespace_of
from barwright.check.reading.texts import local
from barwright.check.rules.findings import Finding
from barwright.check.rules.grammars import judge, judge_of_one
from barwright.check.rules.models import MOST_SHOWN, Model, model
from barwright.check.rules.package_part import PackagePart

FaultKind = Literal[
    "unknown-element",
    "unknown-attribute",
    "missing-attribute",
    "wrong-value",
    "misplaced-text",
    "wrong-children",
    "wrong-structure",
]
_FREE = ("data-", "aria-")
_HAS_FOREIGN = etree.XPath("boolean(descendant-or-self::*[namespace-uri() != $own])")
_HAS_FREE = etree.XPath(
    "boolean(descendant-or-self::*/@*[starts-with(name(), 'data-') or starts-with(name(), 'aria-')])"
)
_FREE_HOLDERS = etree.XPath("descendant-or-self::*[@*[starts-with(name(), 'data-') or starts-with(name(), 'aria-')]]")
_FOREIGN_HOLDERS = etree.XPath("descendant-or-self::*[namespace-uri() = $own][*[namespace-uri() != $own]]")
# Elements of QTI 2 and 3 in which only elements of their own stand, in a fixed order.
_CLOSED = frozenset(
    (
        "assessmentItem",
        "assessmentStimulus",
        "assessmentTest",
        "assessmentSection",
        "selection",
        "ordering",
        "gapMatchInteraction",
        "hottextInteraction",
        "responseProcessing",
        "responseIf",
        "responseElseIf",
        "responseElse",
        "responseProcessingFragment",
        "outcomeProcessing",
        "outcomeIf",
        "outcomeElseIf",
        "outcomeElse",
        "outcomeProcessingFragment",
    )
)
MOST_FAULTS = 20  # of one document
MOST_JUDGED = 5_000  # elements judged by themselves


@dataclass(frozen=True, slots=True)
class StructureFault:
    """One fault of structure: its kind, the element it is in, and what it is in words."""

    kind: FaultKind
    element: etree._Element
    line: int
    words: str


def structure_faults(
    root: etree._Element, name: str, namespace: str, *, free: bool = True
) -> tuple[StructureFault, ...]:
    """The faults of a document by that grammar, in the order of the document; () if it is valid.

    `data-` and `aria-` attributes do not count, nor do elements of other namespaces where no text can stand.
    With `free` switched off there are none of the former.
    """
    judged = judge(name, namespace)
    if judged.validate(root):
        return ()
    tree = _bare(root, name, namespace, free=free)
    if tree is not root and judged.validate(tree):
        return ()
    faults: list[StructureFault] = []
    for element in islice(tree.iter("*"), MOST_JUDGED):
        if len(faults) >= MOST_FAULTS:
            break
        if namespace_of(element) == namespace and not _inside_foreign(element, tree, namespace):
            faults += _faults_of_one(element, name, namespace)
    if not faults:
        said = judged.error_log.last_error
        words = f"the structure of <{local(root)}> is not that of the standard"
        faults.append(StructureFault("wrong-structure", tree, said.line if said is not None else line_of(root), words))
    return tuple(faults[:MOST_FAULTS])


def _bare(root: etree._Element, name: str, namespace: str, *, free: bool) -> etree._Element:
    """The document itself if nothing is to be taken out, else a copy, which knows the lines of the first."""
    if not _HAS_FOREIGN(root, own=namespace) and not (free and _HAS_FREE(root)):
        return root
    copy = deepcopy(root)
    for element in _holders(_FREE_HOLDERS(copy)):
        for attribute in [a for a in element.attrib if str(a).startswith(_FREE)]:
            del element.attrib[attribute]
    for element in _holders(_FOREIGN_HOLDERS(copy, own=namespace)):
        if name == "manifest" or named(element) in _CLOSED:
            for foreign in [c for c in element.iterchildren("*") if namespace_of(c) != namespace]:
                element.remove(foreign)
    return copy


def _holders(matches: object) -> list[etree._Element]:
    """The elements that a path finds."""
    return [each for each in matches if isinstance(each, etree._Element)] if isinstance(matches, list) else []


def _inside_foreign(element: etree._Element, root: etree._Element, namespace: str) -> bool:
    around = takewhile(lambda a: a is not root, element.iterancestors())
    return element is not root and any(namespace_of(a) != namespace for a in around)


def _faults_of_one(element: etree._Element, name: str, namespace: str) -> Iterator[StructureFault]:
    called = local(element)
    one = judge_of_one(name, namespace, called)
    if one is None:  # told where its parent is explained
        if element.getparent() is None:
            words = f"the document begins with <{called}>, which this standard does not know"
            yield StructureFault("unknown-element", element, line_of(element), words)
        return
    shell = _shell(element)
    if one.validate(shell):
        return
    line = line_of(element)
    explained = [
        StructureFault(kind, element, line, words) for kind, words in _explained(shell, model(name, namespace, called))
    ]
    yield from explained or [
        StructureFault("wrong-structure", element, line, f"what <{called}> holds is not what the standard wants")
    ]


def _shell(element: etree._Element) -> etree._Element:
    """The element with its attributes and text, and its children bare."""
    shell = etree.Element(element.tag, {str(k): str(v) for k, v in element.attrib.items()})
    shell.text = element.text
    for child in element.iterchildren("*"):
        bare = etree.SubElement(shell, child.tag)
        bare.tail = child.tail
    return shell


def _explained(shell: etree._Element, allowed: Model) -> Iterator[tuple[FaultKind, str]]:
    called = local(shell)
    faults = [*_attributes(shell, allowed)]
    yield from faults
    strange = [local(c) for c in shell if local(c) not in allowed.children and namespace_of(c) == namespace_of(shell)]
    for child in dict.fromkeys(strange):
        yield "unknown-element", f"<{child}> does not belong in <{called}>"
    text = " ".join((shell.text or "").split())
    if not allowed.has_text and any((t or "").strip() for t in (shell.text, *(c.tail for c in shell))):
        yield "misplaced-text", f"text stands directly in <{called}>"
    elif allowed.has_text and allowed.text.fault(text):
        yield "wrong-value", f"{text[:40]!r} in <{called}> {allowed.text.fault(text)}"
    elif not strange and not faults and not allowed.has_text:
        held = [f"<{local(c)}>" for c in shell]
        inside = ", ".join(held[:MOST_SHOWN]) + (" ..." if len(held) > MOST_SHOWN else "") if held else "nothing"
        yield "wrong-children", f"<{called}> holds {inside}; the standard wants {allowed.order or 'nothing in it'}"


def _attributes(shell: etree._Element, allowed: Model) -> Iterator[tuple[FaultKind, str]]:
    called = local(shell)
    for attribute in sorted(allowed.required - set(map(str, shell.attrib))):
        yield "missing-attribute", f"<{called}> lacks the attribute {attribute!r}"
    for name, value in shell.attrib.items():
        plain = str(name)
        content = allowed.attributes.get(plain)
        if content is None:
            if "}" not in plain:
                yield "unknown-attribute", f"<{called}> has the attribute {plain!r}, which the standard does not know"
        elif content.fault(str(value)):
            yield "wrong-value", f"{plain}={str(value)[:40]!r} of <{called}> {content.fault(str(value))}"


_METADATA = ("http://www.imsglobal.org/xsd/imsqti_metadata_v2p2", "http://www.imsglobal.org/xsd/imsqti_metadata_v3p0")
_BY_EDITION: Mapping[str, str] = {"2": "qti2", "3": "qti3"}
# A missing alt is told with the pictures, and the metadata fields of a cartridge by name: each in better words.
_TOLD_ELSEWHERE = (
    ("missing-attribute", "img", "'alt'"),
    ("wrong-value", "fieldlabel", ""),
    ("wrong-value", "fieldentry", ""),
)


def schema_findings(part: PackagePart) -> Iterator[Finding]:
    """The faults of structure of a document or manifest."""
    if part.path == MANIFEST and not part.files.single:
        yield from _told(
            part, structure_faults(part.root, "manifest", namespace_of(part.root), free=part.document.free)
        )
        for metadata in part.root.iter("{*}qtiMetadata"):
            if namespace_of(metadata) in _METADATA:
                yield from _told(part, structure_faults(metadata, "qti-metadata", namespace_of(metadata)))
        return
    namespace = namespace_of(part.root)
    if local(part.root) == "questestinterop":
        name = "cartridge-qti12" if part.profiled else "qti12"
        if part.profiled and namespace != QTI12:
            what = f"the namespace of the quiz is {namespace[:80]!r}; a cartridge wants {QTI12!r}"
            yield part.found("wrong-value", what, part.root)
    elif namespace == part.standard.namespace or part.standard.ident == "qti21":
        name = _BY_EDITION[part.standard.edition]
    else:
        what = f"<{named(part.root)}> is in the namespace {namespace[:80]!r}, not that of {part.standard.name}"
        yield part.found("wrong-value", what, part.root)
        return
    yield from _told(part, structure_faults(part.root, name, namespace, free=part.document.free))


def _told(part: PackagePart, faults: tuple[StructureFault, ...]) -> Iterator[Finding]:
    for fault in faults:
        name = local(fault.element)
        if any(f == fault.kind and name == e and a in fault.words for f, e, a in _TOLD_ELSEWHERE):
            continue
        # QTI 2 lets any attribute through, so a strange one is no error there.
        open_ended = part.standard.edition == "2" and part.path != MANIFEST
        rule = "passed-over-attribute" if fault.kind == "unknown-attribute" and open_ended else fault.kind
        yield part.found(rule, fault.words, fault.element)
