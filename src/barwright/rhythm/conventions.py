"""Conventions: where teachers and handbooks differ; every one has a default and a closed list of values."""

from collections.abc import Mapping
from dataclasses import dataclass, field, fields
from types import MappingProxyType
from typing import Annotated, Literal, get_args, get_type_hints

from barwright.rhythm.values import as_made

Counting = Literal["numbers", "kodaly", "gordon", "takadimi", "eastman"]
Held = Literal["beats", "subdivisions", "onset_only"]
TripletLabels = Literal["la_li", "trip_let", "and_a", "three_e"]
CompoundLabels = Literal["beat", "beat_and_a", "bottom"]
HalfRest = Literal["forbid", "allow_1-2", "allow"]
Change = Literal["system", "counts", "signs", "print", "beams", "equality"]
Where = Literal["anywhere", "2/2", "3/8", "thirds", "triplets"]


@dataclass(frozen=True, slots=True)
class Effect:
    """What a convention changes, and so where a class with another value of it may see something else.

    `change`: the counting system; the words of counts, in the counting `systems` named, where beats divide as `where`
    says; the signs about a count; what may be printed; the beams; or when two rhythms are equal. What other classes
    would count (`counting.other_conventions`) is derived from this, so a convention without it cannot be written.

    `told`: the systems in which the rules printed with every question about counts settle it ("Count two beats in each
    measure"), so that what another class writes is no answer that a student could defend.
    """

    change: Change
    systems: tuple[Counting, ...] = ()
    where: Where = "anywhere"
    told: tuple[Counting, ...] = ()


BY_FIGURES: tuple[Counting, ...] = ("kodaly",)  # systems whose words go by lengths and figures, wherever they stand
# All others, in which each place in a beat has a word.
BY_BEATS: tuple[Counting, ...] = tuple(system for system in get_args(Counting) if system not in BY_FIGURES)


_NUMBERS: tuple[Counting, ...] = ("numbers",)


@dataclass(frozen=True, slots=True)
class Conventions:
    """One class's conventions; the comment above each says what it is about.

    Sources: counting rules of US method books (common practice); rests and dots: Open University 4.2-4.4 and
    G. Read 1979; beams: E. Gould, Behind Bars (2011).
    """

    # words under the notes
    counting: Annotated[Counting, Effect("system")] = "numbers"
    # what is written for the held part of a sound: 1-2, 1-&-2-&, or 1
    held: Annotated[Held, Effect("counts", _NUMBERS)] = "beats"
    # 1 la li, 1 trip let, 1 & a, tri ple t
    triplet: Annotated[TripletLabels, Effect("counts", _NUMBERS, "triplets")] = "la_li"
    # 6/8 as 1 la li, 1 & a, or 1 2 3 4 5 6
    compound: Annotated[CompoundLabels, Effect("counts", _NUMBERS, "thirds")] = "beat"
    # sixteenths in compound time: named ta, or not labelled at all
    compound_16ths: Annotated[Literal["ta", "none"], Effect("counts", _NUMBERS, "thirds")] = "ta"
    # (2), struck through, or R
    rest_counts: Annotated[Literal["parentheses", "strike", "R"], Effect("signs")] = "parentheses"
    # Kodaly-style words: sh alone says that it is a rest; or it is marked as `rest_counts` marks any count
    kodaly_rests: Annotated[Literal["plain", "marked"], Effect("counts", BY_FIGURES)] = "plain"
    # which note gets the count in 2/2
    cut_time: Annotated[Literal["in_two", "in_four"], Effect("counts", BY_BEATS, "2/2", told=_NUMBERS)] = "in_two"
    # 3/8 as three eighth beats or one dotted quarter
    three_eight: Annotated[Literal["in_three", "in_one"], Effect("counts", BY_BEATS, "3/8")] = "in_three"
    # printed half rests in 3/4
    half_rest_in_3_4: Annotated[HalfRest, Effect("print")] = "forbid"
    # where a rest may have a dot
    dotted_rests: Annotated[Literal["compound_only", "all", "none"], Effect("print")] = "compound_only"
    # silence on the last two eighths of a beat
    compound_tail_rest: Annotated[Literal["two_eighths", "quarter"], Effect("print")] = "two_eighths"
    # eighths beamed by beat or by half measure
    beam_4_4: Annotated[Literal["quarter", "half"], Effect("beams")] = "quarter"
    # whether a dotted quarter on beat 2 of 4/4 must be split at beat 3
    strict_middle: Annotated[bool, Effect("print")] = False
    # eastman: n ta te ta or n ti te ta
    eastman_second16: Annotated[Literal["ta", "ti"], Effect("counts", ("eastman",))] = "ta"
    # when two rhythms count as the same
    equivalence: Annotated[Literal["sounding", "onsets"], Effect("equality")] = "sounding"
    _hash: int = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "_hash", hash(tuple(getattr(self, name) for name in CONVENTION_NAMES)))

    def __hash__(self) -> int:
        return self._hash

    __reduce__ = as_made


CONVENTION_NAMES = tuple(each.name for each in fields(Conventions) if each.init)
_HINTS = get_type_hints(Conventions, include_extras=True)
EFFECTS: Mapping[str, Effect] = MappingProxyType({name: _HINTS[name].__metadata__[0] for name in CONVENTION_NAMES})
"""What each convention changes, by its name."""


def counting_conventions(system: Counting) -> tuple[str, ...]:
    """The conventions that can change the words of this counting system, in the order of their fields.

    >>> counting_conventions("eastman")
    ('cut_time', 'three_eight', 'eastman_second16')
    """
    return tuple(name for name, effect in EFFECTS.items() if effect.change == "counts" and system in effect.systems)


def convention_values() -> dict[str, tuple[object, ...]]:
    """Every convention with its allowed values, the default first.

    >>> convention_values()["cut_time"]
    ('in_two', 'in_four')
    """
    hints = get_type_hints(Conventions)
    values: dict[str, tuple[object, ...]] = {}
    for each in fields(Conventions):
        if not each.init:
            continue
        allowed = get_args(hints[each.name]) or (False, True)
        values[each.name] = tuple(sorted(allowed, key=lambda v: v != each.default))
    return values
