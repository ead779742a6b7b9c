"""What a grammar says of one element, for people: its attributes and their values, its children, its text."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache

from lxml import etree

from barwright.check.rules.grammars import RNG, grammar

MOST_SHOWN = 12
Defines = Mapping[str, list[etree._Element]]
# XML Schema part 2: data types of attributes -> what their values look like, and what that is called.
_TYPES: Mapping[str, tuple[str, str]] = {
    "NCName": (r"[^\W\d][\w.-]*", "a name (a letter or _ first, then letters, digits, - _ and .)"),
    "boolean": (r"true|false|0|1", "true or false"),
    "int": (r"[+-]?\d+", "a whole number"),
    "nonNegativeInteger": (r"\+?\d+", "a whole number of 0 or more"),
    "positiveInteger": (r"\+?0*[1-9]\d*", "a whole number above 0"),
    "decimal": (r"[+-]?(\d+(\.\d*)?|\.\d+)", "a number"),
    "double": (r"[+-]?(\d+(\.\d*)?|\.\d+)([eE][+-]?\d+)?", "a number"),
}
_LONGEST = 1000  # characters of a value that are looked at


@dataclass(frozen=True, slots=True)
class AllowedValue:
    """What a text or the value of an attribute may be; nothing listed in any of the three: anything."""

    values: frozenset[str] = frozenset()
    patterns: tuple[str, ...] = ()
    type: str = ""

    def fault(self, value: str) -> str:
        """What is wrong with a value: "is ..." or "is not ..."; empty if nothing."""
        plain = value.strip()[:_LONGEST]
        fits = plain in self.values or any(re.fullmatch(p, plain) for p in self.patterns)
        if self.type in _TYPES:
            pattern, called = _TYPES[self.type]
            return "" if fits or re.fullmatch(pattern, plain) else f"is not {called}"
        if fits or self.type or not (self.values or self.patterns):
            return ""
        listed = sorted(self.values)
        return f"is none of {', '.join(listed[:MOST_SHOWN])}" if listed else "is not as the standard wants it"


@dataclass(frozen=True, slots=True)
class Model:
    """What one element may hold; `order` is its children in words, in order and number."""

    attributes: Mapping[str, AllowedValue]
    required: frozenset[str]
    children: frozenset[str]
    has_text: bool
    text: AllowedValue
    order: str


@cache
def model(name: str, namespace: str, element: str) -> Model:
    """What the grammar of that name says of the elements of that name, all taken together."""
    root = grammar(name, namespace)
    defines: dict[str, list[etree._Element]] = {}
    for define in root.iterchildren(f"{RNG}define"):
        defines.setdefault(define.get("name", ""), []).append(define)
    patterns = [e for e in root.iter(f"{RNG}element") if e.get("name") == element]
    parts = [(p, optional) for pattern in patterns for p, optional in _parts(pattern, defines, optional=False)]
    named = [(p, optional) for p, optional in parts if p.tag == f"{RNG}attribute" and p.get("name")]
    texts = [p for p, _ in parts if p.tag in (f"{RNG}text", f"{RNG}data", f"{RNG}value")]
    words = dict.fromkeys(_in_words(pattern, defines) for pattern in patterns)
    return Model(
        {_qualified(p): _content([c for c, _ in _parts(p, defines, optional=False)]) for p, _ in named},
        frozenset(_qualified(p) for p, optional in named if not optional),
        frozenset(p.get("name", "") for p, _ in parts if p.tag == f"{RNG}element"),
        bool(texts),
        _content(texts),
        "; or ".join(w for w in words if w),
    )


def _content(parts: list[etree._Element]) -> AllowedValue:
    """The alternatives for a value; whatever they do not pin down may be anything."""
    values = frozenset((p.text or "").strip() for p in parts if p.tag == f"{RNG}value")
    patterns = tuple(x.text or "" for p in parts for x in p.iter(f"{RNG}param") if x.get("name") == "pattern")
    free = [p for p in parts if p.tag == f"{RNG}text"]
    types = [p.get("type", "") for p in parts if p.tag == f"{RNG}data" and not len(p)]
    if free or len(types) > 1:
        return AllowedValue()
    return AllowedValue(values, patterns, types[0] if types else "")


def _qualified(attribute: etree._Element) -> str:
    space = attribute.get("ns")
    return f"{{{space}}}{attribute.get('name')}" if space else str(attribute.get("name", ""))


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


_SUFFIXES = {"optional": " (if wanted)", "zeroOrMore": " (any number)", "oneOrMore": " (at least one)"}


def _in_words(pattern: etree._Element, defines: Defines, joint: str = ", ") -> str:
    """A content model in words; long lists of alternatives are cut."""
    said = []
    for child in pattern:
        kind = str(child.tag).removeprefix(RNG)
        if kind in ("attribute", "text", "empty", "data", "value", "anyName"):
            continue
        if kind == "element":
            said.append(f"<{child.get('name')}>" if child.get("name") else "anything foreign")
        elif kind == "ref":
            inner = [_in_words(d, defines) for d in defines.get(child.get("name", ""), ())]
            said += [i for i in inner if i]
        else:
            inner_words = _in_words(child, defines, " or " if kind == "choice" else joint)
            if inner_words:
                said.append(inner_words + _SUFFIXES.get(kind, ""))
    return joint.join(said[:MOST_SHOWN]) + (f"{joint}..." if len(said) > MOST_SHOWN else "")
