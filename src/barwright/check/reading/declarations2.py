"""The variables that a QTI 2 or 3 item declares: what begins with what value, what is right, what maps to what score.

Source: QTI 2.2 and 3.0 declarations; a mapping counts each picked value once, `caseSensitive` defaults to false.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from lxml import etree

from barwright.check.reading.edition_names import (
    attribute,
    children,
    named,
    text_of,
)
from barwright.check.reading.expression_values import (
    NULL,
    Atom,
    Value,
    atom,
)
from barwright.check.reading.package_model import CannotCarryOut
from barwright.check.reading.texts import number


@dataclass(frozen=True, slots=True)
class ScoreMap:
    """A mapping: scores by value, and by case-folded text where case does not count."""

    exact: Mapping[Atom, Fraction]
    folded: Mapping[str, Fraction]
    default: Fraction
    lower: Fraction | None
    upper: Fraction | None

    def total(self, value: Value) -> Value:
        """The sum for a value, within the bounds."""
        if len(value.atoms) == 1:
            return self._bounded(self.one(value.atoms[0]))
        return self._bounded(sum((self.one(picked) for picked in dict.fromkeys(value.atoms)), Fraction(0)))

    def one(self, picked: Atom) -> Fraction:
        """What one value scores, before the bounds."""
        if picked in self.exact:
            return self.exact[picked]
        return self.folded.get(_folded(picked), self.default) if isinstance(picked, str) else self.default

    def _bounded(self, value: Fraction) -> Value:
        if self.lower is not None:
            value = max(value, self.lower)
        return Value((value if self.upper is None else min(value, self.upper),))


@dataclass(frozen=True, slots=True)
class Declared:
    """One variable: cardinality, base type, and for a response its right answer and its mapping."""

    ident: str
    ordered: bool
    base_type: str
    default: Value
    correct: Value
    mapping: ScoreMap | None

    @property
    def start(self) -> Value:
        """The value at the beginning: a number without a default begins at 0."""
        return self.default if self.default.atoms or self.base_type not in ("float", "integer") else ZERO


ZERO = Value((Fraction(0),))


def declared(item: etree._Element, name: str) -> dict[str, Declared]:
    """The variables declared by elements of that name; CannotCarryOut for a value that the base type cannot have."""
    return {d.ident: d for d in map(_declared, children(item, name))}


def map_key(entry: etree._Element) -> str:
    """The text that a `mapEntry` is for, blanks and all."""
    return entry.get("mapKey") or entry.get("map-key") or ""


def _declared(element: etree._Element) -> Declared:
    base_type = attribute(element, "baseType")
    values = {"defaultValue": NULL, "correctResponse": NULL}
    ordered = attribute(element, "cardinality") == "ordered"
    mapping = None
    for part in children(element, "defaultValue", "correctResponse", "mapping"):
        if named(part) == "mapping":
            mapping = _score_map(part, base_type)
        else:
            texts = [text_of(v) for v in children(part, "value")]
            values[named(part)] = Value(tuple(atom(t, base_type) for t in texts), ordered)
    ident = attribute(element, "identifier")
    return Declared(ident, ordered, base_type, values["defaultValue"], values["correctResponse"], mapping)


def _score_map(mapping: etree._Element, base_type: str) -> ScoreMap:
    exact: dict[Atom, Fraction] = {}
    folded: dict[str, Fraction] = {}
    for entry in children(mapping, "mapEntry"):
        score = number(attribute(entry, "mappedValue"))
        if score is None:
            raise CannotCarryOut(f"the mapped value {attribute(entry, 'mappedValue')[:20]!r}")
        key = atom(map_key(entry), base_type)
        if base_type == "string" and attribute(entry, "caseSensitive", "false") != "true":
            folded.setdefault(_folded(str(key)), score)
        else:
            exact.setdefault(key, score)
    default = number(attribute(mapping, "defaultValue", "0")) or Fraction(0)
    lower, upper = (number(attribute(mapping, b)) for b in ("lowerBound", "upperBound"))
    return ScoreMap(exact, folded, default, lower, upper)


def _folded(text: str) -> str:
    return text.strip().casefold()
