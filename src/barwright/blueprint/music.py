"""What may be wrong with the music in a blueprint: the beat patterns taught, and the teacher's own rhythms."""

from collections.abc import Iterable, Iterator

from barwright.asks.class_style import taught_figures
from barwright.asks.own_rhythms import rhythm_fault
from barwright.blueprint.blueprint import Blueprint, taught_by
from barwright.blueprint.toml_lines import Fault
from barwright.errors import RhythmError
from barwright.items.taught import Taught, untaught
from barwright.notation.metrical_frame import frames, print_rules
from barwright.notation.patterns import LEVELS, NEW_AT_LEVEL, pulses
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.measure import Symbols, ticks_in
from barwright.rhythm.meter import Meter
from barwright.rhythm.text import parse_symbols


def with_sound_music(blueprint: Blueprint) -> tuple[Blueprint, list[Fault]]:
    """The blueprint without the patterns and rhythms that are no good, and a fault for each of those."""
    faults: list[Fault] = []
    taught = taught_by(blueprint.elements)
    sound = []
    for number, pattern in enumerate(blueprint.elements.patterns):
        fault = _pattern_fault(pattern, taught, blueprint.all_conventions)
        if fault is None:
            sound.append(pattern)
        else:
            faults.append((("elements", "patterns", number), fault))
    elements = blueprint.elements.model_copy(update={"patterns": sound})
    blueprint = blueprint.model_copy(update={"elements": elements})
    wrong = dict(rhythm_faults(blueprint, blueprint.excerpts.rhythms))
    faults += [(("excerpts", "rhythms", number), fault) for number, fault in wrong.items()]
    rhythms = [text for number, text in enumerate(blueprint.excerpts.rhythms) if number not in wrong]
    return blueprint.model_copy(update={"excerpts": blueprint.excerpts.model_copy(update={"rhythms": rhythms})}), faults


def rhythm_faults(blueprint: Blueprint, rhythms: Iterable[str]) -> Iterator[tuple[int, str]]:
    """The number, from 0, of each rhythm that the class cannot be asked about, and what is wrong with it."""
    taught, patterns = taught_by(blueprint.elements), blueprint.elements.patterns
    figures = taught_figures(patterns, taught) if patterns else None
    for number, text in enumerate(rhythms):
        fault = rhythm_fault(text, taught, figures, blueprint.all_conventions)
        if fault is not None:
            yield number, fault


def _pattern_fault(pattern: str, taught: Taught, conventions: Conventions) -> str | None:
    """What is wrong with a pattern for this class, and the mend; None if nothing is."""
    if pattern in NEW_AT_LEVEL:
        return None
    if pattern.startswith("grade"):
        return f"pattern {pattern!r} is no level: use {', '.join(LEVELS)}"
    try:
        symbols = parse_symbols(pattern)
    except RhythmError as error:
        return f"pattern {pattern!r}: {error}; or name a level, such as 'grade 6'"
    if any(s.tied or s.value is None for s in symbols):
        return f"pattern {pattern!r} holds a tie, a blank or a full-measure rest: write notes and rests only"
    if strange := untaught(symbols, taught):
        return f"pattern {pattern!r} is made of what is not taught ({' '.join(strange)}): teach that, or take it out"
    if not any(_fills(symbols, meter, conventions) for meter in taught.meters):
        meters = ", ".join(map(str, taught.meters))
        return f"pattern {pattern!r} fills no beat, or beats, of {meters}: write what stands from one beat to the next"
    return None


def _fills(symbols: Symbols, meter: Meter, conventions: Conventions) -> bool:
    """Whether a figure is as long as some beats of a meter in a row."""
    for frame in frames(meter, print_rules(conventions)):
        places = pulses(frame)
        if any(end - start == ticks_in(symbols, meter) for start in places for end in places):
            return True
    return False
