"""What a class has been taught, as plain tokens; no item may show anything else."""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from barwright.rhythm.measure import BLANK, Symbol, with_tie
from barwright.rhythm.meter import Meter
from barwright.rhythm.text import format_symbol, parse_symbol


@dataclass(frozen=True, slots=True)
class Taught:
    """The symbols as rhythm-text tokens without tie (`h`, `q.`, `rq`, `et`; `rW` is the full-measure rest), and meters.

    `syncopation`: whether sounds that start off the beat may be held over a beat.

    >>> from barwright.rhythm.meter import parse_meter
    >>> Taught(frozenset({"h", "q", "rq"}), False, (parse_meter("3/4"),)).ties
    False
    """

    tokens: frozenset[str]
    ties: bool
    meters: tuple[Meter, ...]
    syncopation: bool = True


@lru_cache(maxsize=64)
def taught_symbols(taught: Taught) -> frozenset[Symbol]:
    """Every symbol that may be shown: those taught, notes with their ties too if those were, and the blank."""
    plain = [parse_symbol(token) for token in taught.tokens]
    ties = [with_tie(s, True) for s in plain if s.kind == "note" and taught.ties]
    return frozenset((*plain, *ties, BLANK))


def untaught(symbols: Iterable[Symbol], taught: Taught) -> tuple[str, ...]:
    """Tokens of the symbols that were not taught, sorted, each once; `~` stands for a tie; a blank is always allowed.

    >>> from barwright.rhythm.text import parse_symbols
    >>> untaught(parse_symbols("h~ _ q. rq"), Taught(frozenset({"h", "rq"}), False, ()))
    ('q.', '~')
    """
    symbols = tuple(symbols)
    if taught_symbols(taught).issuperset(symbols):
        return ()
    tokens = set()
    for symbol in symbols:
        token = format_symbol(symbol).removesuffix("~")
        if symbol.kind != "blank" and token not in taught.tokens:
            tokens.add(token)
        if symbol.tied and not taught.ties:
            tokens.add("~")
    return tuple(sorted(tokens))
