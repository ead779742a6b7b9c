"""What a class has been taught, as plain tokens; no item may show anything else."""

from collections.abc import Iterable
from dataclasses import dataclass

from barwright.rhythm.measure import Symbol
from barwright.rhythm.meter import Meter
from barwright.rhythm.text import format_symbol


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


def untaught(symbols: Iterable[Symbol], taught: Taught) -> tuple[str, ...]:
    """Tokens of the symbols that were not taught, sorted, each once; `~` stands for a tie; a blank is always allowed.

    >>> from barwright.rhythm.text import parse_symbols
    >>> untaught(parse_symbols("h~ _ q. rq"), Taught(frozenset({"h", "rq"}), False, ()))
    ('q.', '~')
    """
    found = set()
    for symbol in symbols:
        token = format_symbol(symbol).removesuffix("~")
        if symbol.kind != "blank" and token not in taught.tokens:
            found.add(token)
        if symbol.tied and not taught.ties:
            found.add("~")
    return tuple(sorted(found))
