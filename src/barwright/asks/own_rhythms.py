"""The teacher's own rhythms: what may be wrong with them, and the excerpts that a part can take from them."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from barwright.asks.ask import Space
from barwright.errors import RhythmError
from barwright.items.taught import Taught, untaught
from barwright.notation.legality import FAULTS, notation_faults, shown_frame
from barwright.notation.metrical_frame import frames, print_rules
from barwright.notation.patterns import figure_name, figures_in
from barwright.notation.reading_ease import syncopated
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.measure import ended
from barwright.rhythm.text import format_rhythm, parse_excerpt


@dataclass(frozen=True, slots=True)
class Own:
    """A part's excerpts of the teacher's own, in a space of nothing else; `share`: how many one form takes of them."""

    space: Space | None = None
    share: int = 0


NOTHING_OWN = Own()


def own_of(rhythms: Iterable[str], space: Space, *, sections: int) -> Own:
    """What a part whose space this is has of these rhythms, which are free of faults; each section gets its share."""
    excerpts = own_excerpts(tuple(rhythms), space)
    if not excerpts:
        return NOTHING_OWN
    return Own(replace(space, own=excerpts), -(-len(excerpts) // sections))


def own_excerpts(rhythms: tuple[str, ...], space: Space) -> tuple[Excerpt, ...]:
    """All runs of as many measures as the space wants, of its meters, without a tie that leads in or out; each once."""
    excerpts: dict[Excerpt, None] = {}
    for text in rhythms:
        excerpt = parse_excerpt(text)
        if excerpt.meter in space.meters:
            excerpts.update(dict.fromkeys(_runs(excerpt, space.measures)))
    return tuple(excerpts)


def _runs(excerpt: Excerpt, measures: int) -> Iterator[Excerpt]:
    every = excerpt.measures
    for start in range(len(every) - measures + 1):
        run = every[start : start + measures]
        held = start > 0 and every[start - 1][-1].tied
        if not (held or run[-1][-1].tied or all(s.silent for measure in run for s in measure)):
            yield Excerpt(excerpt.meter, run)


def rhythm_fault(text: str, taught: Taught, figures: frozenset[str] | None, conventions: Conventions) -> str | None:
    """What is wrong with one of the teacher's own rhythms for this class, and the mend; None if nothing is.

    `figures`: the beat patterns that were named as taught, or None where none were.
    """
    try:
        excerpt = parse_excerpt(text)
    except RhythmError as error:
        return f"{text!r}: {error}"
    if excerpt.blank is not None or excerpt.mark is not None:
        return f"{text!r} has a blank or a mark: write the whole rhythm, the quiz asks about it"
    if excerpt.pickup:
        return f"{text!r} begins with a pickup: write full measures only"
    if excerpt.meter not in taught.meters:
        return f"{text!r}: meter {excerpt.meter} is not taught: add it to [elements] meters, or take the rhythm out"
    if strange := untaught(excerpt.symbols, taught):
        named = " ".join("ties" if token == "~" else token for token in strange)
        return f"{text!r} shows what is not taught ({named}): add it to [elements], or take the rhythm out"
    return _print_fault(excerpt, text, taught, conventions) or _figure_fault(excerpt, text, figures, conventions)


def _print_fault(excerpt: Excerpt, text: str, taught: Taught, conventions: Conventions) -> str | None:
    for symbols in excerpt.measures:
        for fault in notation_faults(ended(symbols), excerpt.meter, conventions):
            return f"{text!r}: {format_rhythm(excerpt.meter, symbols)} is not printed so: {FAULTS[fault]}"
        if not taught.syncopation and syncopated(symbols, excerpt.meter):
            rhythm = format_rhythm(excerpt.meter, symbols)
            return f"{text!r}: {rhythm} is syncopated: add syncopation = true to [elements], or take the rhythm out"
    return None


def _figure_fault(excerpt: Excerpt, text: str, figures: frozenset[str] | None, conventions: Conventions) -> str | None:
    choices = frames(excerpt.meter, print_rules(conventions))
    for symbols in excerpt.measures if figures is not None else ():
        for group in figures_in(symbols, shown_frame(symbols, choices)):
            name = figure_name(group)
            if name and figures is not None and name not in figures:
                return f"{text!r}: pattern {name!r} is not among those taught: add it to [elements] patterns"
    return None
