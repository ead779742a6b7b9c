"""What is wrong with the structure of a document, in words: our grammars judge, and the element at fault is explained.

The grammar judges the whole document. If it refuses, each element is judged by itself, with its children as empty
shells, so that the fault is found where it is and not where the parser stumbled.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Literal

from lxml import etree

from barwright.qti.checking.grammars import RNG, grammar, judge, judge_of_one
from barwright.qti.reading.manifests import line_of
from barwright.qti.reading.standards import namespace_of
from barwright.qti.reading.texts import local

FaultKind = Literal[
    "unknown-element", "unknown-attribute", "missing-attribute", "wrong-value", "misplaced-text", "wrong-children"
]
MOST_FAULTS = 20  # of one document
MOST_JUDGED = 20_000  # elements judged by themselves
_MOST_SHOWN = 12


@dataclass(frozen=True, slots=True)
class Fault:
    """One fault of structure: its kind, the element it is in, and what it is in words."""

    kind: FaultKind
    element: etree._Element
    line: int
    words: str


@dataclass(frozen=True, slots=True)
class Model:
    """What one element may hold: attributes with the values listed for them (none listed: any), children, text."""

    attributes: Mapping[str, frozenset[str]]
    required: frozenset[str]
    children: frozenset[str]
    text: bool
    order: str


def structure_faults(root: etree._Element, name: str, namespace: str) -> tuple[Fault, ...]:
    """The faults of a document by that grammar, in the order of the document; () if it is valid.

    `data-` and `aria-` attributes do not count.
    """
    tree = _without_free_attributes(root)
    judged = judge(name, namespace)
    if judged.validate(tree):
        return ()
    found: list[Fault] = []
    for number, (element, original) in enumerate(zip(tree.iter("*"), root.iter("*"), strict=True)):
        if number >= MOST_JUDGED or len(found) >= MOST_FAULTS:
            break
        if namespace_of(element) != namespace or _inside_foreign(element, namespace):
            continue
        found += _faults_of_one(element, original, name, namespace)
    if not found:
        said = judged.error_log.last_error
        words = "its elements are not in the order or number that the standard wants"
        found.append(Fault("wrong-children", root, said.line if said is not None else line_of(root), words))
    return tuple(found[:MOST_FAULTS])


def _without_free_attributes(root: etree._Element) -> etree._Element:
    """The same document, or a copy if there are attributes to take out."""
    names = ((n, str(a)) for n, e in enumerate(root.iter("*")) for a in e.attrib)
    free = [(n, a) for n, a in names if a.startswith(("data-", "aria-"))]
    if not free:
        return root
    copy = etree.fromstring(etree.tostring(root), etree.XMLParser(huge_tree=False, resolve_entities=False))
    elements = list(copy.iter("*"))
    for number, attribute in free:
        del elements[number].attrib[attribute]
    return copy


def _inside_foreign(element: etree._Element, namespace: str) -> bool:
    return any(namespace_of(a) != namespace for a in element.iterancestors())


def _faults_of_one(element: etree._Element, shown: etree._Element, name: str, namespace: str) -> Iterator[Fault]:
    called = local(element)
    one = judge_of_one(name, namespace, called)
    if one is None:  # told where its parent is explained
        if element.getparent() is None:
            words = f"the document begins with <{called}>, which this standard does not know"
            yield Fault("unknown-element", shown, line_of(shown), words)
        return
    shell = _shell(element)
    if one.validate(shell):
        return
    line = line_of(shown)
    explained = [Fault(kind, shown, line, words) for kind, words in _explained(shell, model(name, namespace, called))]
    yield from explained or [Fault("wrong-value", shown, line, f"what <{called}> holds is not what the standard wants")]


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
    for attribute in sorted(allowed.required - set(shell.attrib)):
        yield "missing-attribute", f"<{called}> lacks the attribute {attribute!r}"
    for name, value in shell.attrib.items():
        plain = str(name)
        if plain not in allowed.attributes:
            if "}" not in plain:
                yield "unknown-attribute", f"<{called}> has the attribute {plain!r}, which the standard does not know"
        elif allowed.attributes[plain] and value not in allowed.attributes[plain]:
            listed = ", ".join(sorted(allowed.attributes[plain])[:_MOST_SHOWN])
            yield "wrong-value", f"{plain}={str(value)[:40]!r} of <{called}> is none of {listed}"
    strange = [local(c) for c in shell if local(c) not in allowed.children and namespace_of(c) == namespace_of(shell)]
    for child in dict.fromkeys(strange):
        yield "unknown-element", f"<{child}> does not belong in <{called}>"
    has_text = any((t or "").strip() for t in (shell.text, *(c.tail for c in shell)))
    if has_text and not allowed.text:
        yield "misplaced-text", f"text stands directly in <{called}>"
    elif not strange and not allowed.text:
        held = [local(c) for c in shell]
        inside = ", ".join(held[:_MOST_SHOWN]) + (" ..." if len(held) > _MOST_SHOWN else "") if held else "nothing"
        if not _values_only(shell, allowed):
            yield "wrong-children", f"<{called}> holds {inside}; the standard wants {allowed.order or 'nothing in it'}"


def _values_only(shell: etree._Element, allowed: Model) -> bool:
    """Whether attributes are at fault already, so that the children may be right."""
    named = allowed.required <= set(shell.attrib) and all(
        str(a) in allowed.attributes or "}" in str(a) for a in shell.attrib
    )
    listed = all(not v or shell.get(a) is None or shell.get(a) in v for a, v in allowed.attributes.items())
    return not (named and listed)


@cache
def model(name: str, namespace: str, element: str) -> Model:
    """What the grammar says of the elements of that name, all taken together."""
    root = grammar(name, namespace)
    defines: dict[str, list[etree._Element]] = {}
    for define in root.iterchildren(f"{RNG}define"):
        defines.setdefault(define.get("name", ""), []).append(define)
    patterns = [e for e in root.iter(f"{RNG}element") if e.get("name") == element]
    parts = [(p, optional) for pattern in patterns for p, optional in _parts(pattern, defines, optional=False)]
    attributes = {}
    for part, _ in parts:
        if part.tag == f"{RNG}attribute" and part.get("name"):
            attributes[_qualified(part)] = frozenset(v.text or "" for v in _values(part, defines))
    required = {_qualified(p) for p, optional in parts if p.tag == f"{RNG}attribute" and not optional}
    held = {p.get("name", "") for p, _ in parts if p.tag == f"{RNG}element"}
    texts = (f"{RNG}text", f"{RNG}data", f"{RNG}value")
    order = "; or ".join(dict.fromkeys(filter(None, (_in_words(pattern, defines) for pattern in patterns))))
    return Model(attributes, frozenset(required), frozenset(held), any(p.tag in texts for p, _ in parts), order)


def _qualified(attribute: etree._Element) -> str:
    space = attribute.get("ns")
    return f"{{{space}}}{attribute.get('name')}" if space else str(attribute.get("name", ""))


Defines = Mapping[str, list[etree._Element]]


def _parts(pattern: etree._Element, defines: Defines, *, optional: bool) -> Iterator[tuple[etree._Element, bool]]:
    """The attributes, children and texts that a pattern allows, and whether each may be left out."""
    for child in pattern:
        loose = optional or child.tag in (f"{RNG}optional", f"{RNG}zeroOrMore", f"{RNG}choice")
        if child.tag == f"{RNG}ref":
            for define in defines.get(child.get("name", ""), ()):
                yield from _parts(define, defines, optional=loose)
        elif child.tag in (f"{RNG}element", f"{RNG}attribute", f"{RNG}text", f"{RNG}data", f"{RNG}value"):
            yield child, loose
        else:
            yield from _parts(child, defines, optional=loose)


def _values(part: etree._Element, defines: Defines) -> Iterator[etree._Element]:
    """The listed values of an attribute; none if it may hold other data as well."""
    found = list(_parts(part, defines, optional=False))
    if all(p.tag == f"{RNG}value" and not p.get("type") for p, _ in found):
        yield from (p for p, _ in found)


_SUFFIXES = {"optional": " if wanted", "zeroOrMore": " any number of times", "oneOrMore": " once or more"}


def _in_words(pattern: etree._Element, defines: Defines, joint: str = ", ") -> str:
    """A content model in words; long lists of alternatives are cut."""
    said = []
    for child in pattern:
        kind = str(child.tag).removeprefix(RNG)
        if kind in ("attribute", "text", "empty", "data", "value", "anyName"):
            continue
        if kind == "element":
            said.append(child.get("name") or "anything foreign")
        elif kind == "ref":
            inner = [_in_words(d, defines) for d in defines.get(child.get("name", ""), ())]
            said += [i for i in inner if i]
        else:
            inner_words = _in_words(child, defines, " or " if kind == "choice" else joint)
            if inner_words:
                said.append(inner_words + _SUFFIXES.get(kind, ""))
    return joint.join(said[:_MOST_SHOWN]) + (f"{joint}..." if len(said) > _MOST_SHOWN else "")
