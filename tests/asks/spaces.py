"""Small spaces for cases by hand: a few symbols and meters, without a blueprint."""

from barwright.asks.ask import Space
from barwright.items.taught import Taught
from barwright.notation.legal_measures import Alphabet, Limits
from barwright.notation.plain import Style
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.meter import parse_meter
from barwright.rhythm.text import parse_excerpt


def space(
    symbols: str,
    meters: str = "4/4",
    *,
    ties: bool = False,
    syncopation: bool = False,
    measures: int = 1,
    sounding: bool = False,
    style: Style | None = None,
    own: str = "",
    tied_over: bool = True,
    conventions: Conventions | None = None,
    taught_meters: str = "",
) -> Space:
    """The space of these symbols and meters; all readable measures, and all alike, unless a style is given."""
    tokens, read = symbols.split(), tuple(map(parse_meter, meters.split()))
    every = tuple(map(parse_meter, (taught_meters or meters).split()))
    notes = [f"{token}~" for token in tokens if ties and not token.startswith("r")]
    limits = Limits(readable=True, syncopation=syncopation, sounding=sounding, style=style)
    return Space(
        Taught(frozenset(tokens), ties, every, syncopation),
        Alphabet((*tokens, *notes)),
        read,
        conventions or Conventions(),
        measures,
        limits,
        even=style is None,
        tied_over=tied_over,
        own=tuple(map(parse_excerpt, own.split(", "))) if own else (),
    )


def excerpt(text: str) -> Excerpt:
    """An excerpt, which may have a blank."""
    return parse_excerpt(text, full=False)
