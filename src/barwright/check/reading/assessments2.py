"""Tests of QTI 2 and 3: which items in what order and weight, and of which each student gets some.

Source: QTI 2.2 and 3.0 test schema: `selection select` in the section that holds all references.
"""

from dataclasses import dataclass
from fractions import Fraction

from lxml import etree

from barwright.check.reading.edition_names import attribute, children, descendants
from barwright.check.reading.link_targets import target
from barwright.check.reading.numbers import number


@dataclass(frozen=True, slots=True)
class Reference:
    """One item in a test: the file it is in, and its weight (1 if none is told)."""

    ident: str
    path: str
    weight: Fraction


@dataclass(frozen=True, slots=True)
class Draw:
    """A section of which each student gets `draws` of the items in these files."""

    ident: str
    draws: int
    paths: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Assessment:
    """One test: title, references in order, draws."""

    title: str
    references: tuple[Reference, ...]
    draws: tuple[Draw, ...]


def assessment2(path: str, root: etree._Element) -> Assessment:
    """The test that is a document, or the section that is one."""
    references = tuple(_reference(path, r) for r in descendants(root, "assessmentItemRef"))
    draws = []
    for section in descendants(root, "assessmentSection"):
        selection = next(children(section, "selection"), None)
        drawn = None if selection is None else number(attribute(selection, "select"))
        if drawn is not None:
            inside = tuple(_reference(path, r).path for r in descendants(section, "assessmentItemRef"))
            draws.append(Draw(attribute(section, "identifier"), int(drawn), inside))
    return Assessment(" ".join(attribute(root, "title").split()), references, tuple(draws))


def _reference(path: str, reference: etree._Element) -> Reference:
    weights = (number(attribute(w, "value")) for w in children(reference, "weight"))
    weight = next((w for w in weights if w is not None), Fraction(1))
    return Reference(attribute(reference, "identifier"), target(path, attribute(reference, "href")), weight)
