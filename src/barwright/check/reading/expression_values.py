"""Values of QTI 2 and 3 expressions and the operators on them.

Sources: QTI 2.2 and 3.0, expressions; an empty value is NULL. Numbers are exact here.
"""

from collections import Counter
from collections.abc import Callable, Sequence
from fractions import Fraction
from typing import NamedTuple

from barwright.check.reading.package_model import CannotCarryOut
from barwright.check.reading.texts import bounded, number

Atom = str | bool | Fraction | tuple[str, ...]


class Value(NamedTuple):
    """A value of any cardinality; no atoms is NULL."""

    atoms: tuple[Atom, ...] = ()
    ordered: bool = False

    @property
    def true(self) -> bool:
        """Whether it is the boolean true; NULL is not."""
        return self is _TRUE or self.atoms == (True,)


NULL = Value()


def atom(text: str, base_type: str) -> Atom:
    """One value of a base type, from its text."""
    plain = text.strip()
    if base_type in ("float", "integer"):
        value = number(plain)
        if value is None:
            raise CannotCarryOut(f"the number {plain[:20]!r}")
        return value
    if base_type == "boolean":
        return plain == "true"
    if base_type == "directedPair":
        return tuple(plain.split())
    if base_type == "pair":
        return tuple(sorted(plain.split()))
    return text if base_type == "string" else plain


_TRUE, _FALSE = Value((True,)), Value((False,))


def boolean(truth: bool) -> Value:
    """A boolean as a value."""
    return _TRUE if truth else _FALSE


def same(one: Value, other: Value) -> bool:
    """Whether two values match: in order if either is ordered, else whatever the order."""
    if one.ordered or other.ordered:
        return one.atoms == other.atoms
    return Counter(one.atoms) == Counter(other.atoms)


def numbers(values: Sequence[Value]) -> list[Fraction]:
    """All numbers in values; CannotCarryOut for anything else."""
    atoms = [a for v in values for a in v.atoms]
    reckoned = [a for a in atoms if type(a) is Fraction]
    if len(reckoned) < len(atoms):
        raise CannotCarryOut("reckoning with what is no number")
    return reckoned


def _nulls(values: Sequence[Value]) -> bool:
    return not all(v.atoms for v in values)


def _sum(values: Sequence[Value]) -> Value:
    return NULL if _nulls(values) else Value((bounded(sum(numbers(values), Fraction(0))),))


def _product(values: Sequence[Value]) -> Value:
    if _nulls(values):
        return NULL
    result = Fraction(1)
    for each in numbers(values):
        result = bounded(result * each)
    return Value((result,))


def _pair(reckoned: Callable[[Fraction, Fraction], Fraction | None]) -> Callable[[Sequence[Value]], Value]:
    def operator(values: Sequence[Value]) -> Value:
        operands = numbers(values)
        if _nulls(values) or len(operands) != 2:
            return NULL
        result = reckoned(*operands)
        return NULL if result is None else Value((bounded(result),))

    return operator


def _compared(holds: Callable[[Fraction, Fraction], bool]) -> Callable[[Sequence[Value]], Value]:
    def operator(values: Sequence[Value]) -> Value:
        operands = numbers(values)
        return NULL if _nulls(values) or len(operands) != 2 else boolean(holds(*operands))

    return operator


def _match(values: Sequence[Value]) -> Value:
    return NULL if _nulls(values) or len(values) != 2 else boolean(same(*values))


def _member(values: Sequence[Value]) -> Value:
    return NULL if _nulls(values) or len(values) != 2 else boolean(values[0].atoms[0] in values[1].atoms)


def _contains(values: Sequence[Value]) -> Value:
    if _nulls(values) or len(values) != 2:
        return NULL
    return boolean(not Counter(values[1].atoms) - Counter(values[0].atoms))


def _delete(values: Sequence[Value]) -> Value:
    if _nulls(values) or len(values) != 2:
        return NULL
    return Value(tuple(a for a in values[1].atoms if a != values[0].atoms[0]), values[1].ordered)


def _container(*, ordered: bool) -> Callable[[Sequence[Value]], Value]:
    return lambda values: Value(tuple(a for v in values for a in v.atoms), ordered)


def _extreme(best: Callable[[list[Fraction]], Fraction]) -> Callable[[Sequence[Value]], Value]:
    return lambda values: NULL if _nulls(values) or not values else Value((best(numbers(values)),))


def _not(values: Sequence[Value]) -> Value:
    return NULL if _nulls(values) or len(values) != 1 else boolean(not values[0].true)


# Operators that need nothing but the values of their children.
OPERATORS: dict[str, Callable[[Sequence[Value]], Value]] = {
    "and": lambda values: boolean(all(v.true for v in values)),
    "or": lambda values: boolean(any(v.true for v in values)),
    "not": _not,
    "isNull": lambda values: boolean(_nulls(values)),
    "null": lambda _values: NULL,
    "match": _match,
    "equal": _match,
    "member": _member,
    "contains": _contains,
    "delete": _delete,
    "multiple": _container(ordered=False),
    "ordered": _container(ordered=True),
    "containerSize": lambda values: Value((Fraction(sum(len(v.atoms) for v in values)),)),
    "sum": _sum,
    "product": _product,
    "subtract": _pair(lambda a, b: a - b),
    "divide": _pair(lambda a, b: a / b if b else None),
    "integerDivide": _pair(lambda a, b: Fraction(a // b) if b else None),
    "integerModulus": _pair(lambda a, b: a % b if b else None),
    "gt": _compared(lambda a, b: a > b),
    "gte": _compared(lambda a, b: a >= b),
    "lt": _compared(lambda a, b: a < b),
    "lte": _compared(lambda a, b: a <= b),
    "max": _extreme(max),
    "min": _extreme(min),
    "truncate": lambda values: Value(tuple(Fraction(int(n)) for n in numbers(values))),
    "round": lambda values: Value(tuple(Fraction((n + Fraction(1, 2)).__floor__()) for n in numbers(values))),
    "integerToFloat": lambda values: values[0] if values else NULL,
}
