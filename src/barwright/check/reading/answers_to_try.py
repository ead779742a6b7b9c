"""Which answers to try on an item: all where they are few, else the right one and its neighbours.

The choice depends on the responses and their keys only, so that the same item in two standards is tried alike.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import combinations, permutations
from math import factorial

from barwright.check.reading.package_model import Answered, Given, ReadResponse

MOST_SUBSETS_OF = 6  # 64 subsets
MOST_ORDERS_OF = 4  # 24 orders
MOST_TRIED = 400
MOST_RESPONSES = 50  # places to answer in one item
UNFORESEEN = "?!"  # an entry that no author expects


def tried(responses: Sequence[ReadResponse], typed: Sequence[tuple[str, ...]]) -> tuple[Given, ...]:
    """The answers to try, each once; `typed` holds the texts to try on each response, empty for other kinds.

    With several responses each is varied while the others are right.
    """
    right = tuple(_right(r) for r in responses)
    answers: dict[Given, None] = {tuple(() for _ in responses): None, right: None}
    for n, response in enumerate(responses):
        for given in _of_one(response, typed[n]):
            answers.setdefault((*right[:n], given, *right[n + 1 :]))
            if len(answers) > MOST_TRIED:
                return tuple(answers)
    return tuple(answers)


def most_answers(responses: Sequence[ReadResponse], typed: Sequence[tuple[str, ...]]) -> int:
    """How many answers `tried` gives at most."""
    count = 2
    for response, texts in zip(responses, typed, strict=True):
        choices = len(response.choices)
        if response.kind == "several":
            count += 2 ** min(choices, MOST_SUBSETS_OF) + 2 * choices
        elif response.kind == "order":
            count += factorial(min(choices, MOST_ORDERS_OF)) + choices
        else:
            count += choices * max(1, 2 * len(response.slots)) + len(texts) + len(response.keys) + 2
    return count


def _right(response: ReadResponse) -> tuple[str, ...]:
    """A right answer to one response, as its keys tell it; () if they do not."""
    return response.keys[:1] if response.kind in ("choice", "entry", "inline") else response.keys


def _of_one(response: ReadResponse, typed: tuple[str, ...]) -> Iterator[tuple[str, ...]]:
    idents = tuple(c.ident for c in response.choices)
    yield ()
    if response.kind in ("choice", "inline"):
        yield from ((i,) for i in idents)
    elif response.kind in ("entry", "essay"):
        yield from ((t,) for t in dict.fromkeys((*response.keys, *typed, UNFORESEEN)))
    elif response.kind == "several":
        yield from _several(idents, response.keys)
    elif response.kind == "order":
        yield from _orders(idents, response.keys)
    elif response.kind == "gaps":
        yield from _gaps(idents, response)


def _several(idents: tuple[str, ...], keys: tuple[str, ...]) -> Iterator[tuple[str, ...]]:
    if len(idents) <= MOST_SUBSETS_OF:
        for size in range(len(idents) + 1):
            yield from combinations(idents, size)
        return
    yield from ((i,) for i in idents)
    yield idents
    for ident in idents:  # one too few, one too many
        yield tuple(i for i in idents if (i in keys) != (i == ident))


def _orders(idents: tuple[str, ...], keys: tuple[str, ...]) -> Iterator[tuple[str, ...]]:
    if len(idents) <= MOST_ORDERS_OF:
        yield from permutations(idents)
        return
    yield from (idents, keys, keys[::-1])
    for n in range(len(keys) - 1):  # two neighbours changed
        yield (*keys[:n], keys[n + 1], keys[n], *keys[n + 2 :])


def _gaps(idents: tuple[str, ...], response: ReadResponse) -> Iterator[tuple[str, ...]]:
    for slot in response.slots:
        others = tuple(k for k in response.keys if k.rpartition(" ")[2] != slot)
        yield others
        for ident in idents:
            yield (f"{ident} {slot}",)
            yield (*others, f"{ident} {slot}")


def with_alternatives(
    responses: tuple[ReadResponse, ...], answers: Sequence[Answered], full: Fraction | None
) -> tuple[ReadResponse, ...]:
    """The responses with the keys that are declared, and those that in their place score in full as well.

    Only drop-downs and gaps can have such: one right answer is declared for the whole item, rules may allow for more.
    """
    best = full if full is not None else max((a.score for a in answers), default=Fraction(0))
    right = tuple(_right(r) for r in responses)
    widened = []
    for n, response in enumerate(responses):
        others = [a.given[n] for a in answers if a.score == best > 0 and _only_here(a.given, right, n)]
        if response.kind == "inline":
            alternatives = [g[0] for g in others if len(g) == 1]
        elif response.kind == "gaps":
            covered = frozenset(k.rpartition(" ")[2] for k in response.keys)
            whole = (
                g for g in others if frozenset(p.rpartition(" ")[2] for p in g) == covered and len(g) == len(covered)
            )
            alternatives = [pair for g in whole for pair in g]
        else:
            alternatives = []
        widened.append(replace(response, keys=tuple(dict.fromkeys((*response.keys, *alternatives)))))
    return tuple(widened)


def _only_here(given: Given, right: Given, at: int) -> bool:
    """Whether an answer is the right one but for one response."""
    return all(g == r for n, (g, r) in enumerate(zip(given, right, strict=True)) if n != at)
