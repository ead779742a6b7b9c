"""House rules where teachers and handbooks differ; every one has a default and a closed list of values."""

from dataclasses import dataclass, field, fields
from typing import Literal, get_args, get_type_hints

from barwright.rhythm.values import as_made

Counting = Literal["numbers", "kodaly", "gordon", "takadimi", "eastman"]
Held = Literal["beats", "subdivisions", "onset_only"]
TripletLabels = Literal["la_li", "trip_let", "and_a", "three_e"]
CompoundLabels = Literal["beat", "beat_and_a", "bottom"]
HalfRest = Literal["forbid", "allow_1-2", "allow"]


@dataclass(frozen=True, slots=True)
class Conventions:
    """One class's house rules; the comment on each says what it changes.

    Sources: counting rules of US method books (common practice); rests and dots: Open University 4.2-4.4 and
    G. Read 1979; beams: E. Gould, Behind Bars (2011).
    """

    counting: Counting = "numbers"  # words under the notes
    held: Held = "beats"  # what is written for the held part of a sound: 1-2, 1-&-2-&, or 1
    triplet: TripletLabels = "la_li"  # 1 la li, 1 trip let, 1 & a, tri ple t
    compound: CompoundLabels = "beat"  # 6/8 as 1 la li, 1 & a, or 1 2 3 4 5 6
    compound_16ths: Literal["ta", "none"] = "ta"  # sixteenths in compound time: named ta, or not labelled at all
    rest_counts: Literal["parentheses", "strike", "R"] = "parentheses"  # (2), struck through, or R
    cut_time: Literal["in_two", "in_four"] = "in_two"  # which note gets the count in 2/2
    three_eight: Literal["in_three", "in_one"] = "in_three"  # 3/8 as three eighth beats or one dotted quarter
    half_rest_in_3_4: HalfRest = "forbid"  # printed half rests in 3/4
    dotted_rests: Literal["compound_only", "all", "none"] = "compound_only"
    compound_tail_rest: Literal["two_eighths", "quarter"] = "two_eighths"  # silence on the last two eighths of a beat
    beam_4_4: Literal["quarter", "half"] = "quarter"  # eighths beamed by beat or by half measure
    strict_middle: bool = False  # a dotted quarter on beat 2 of 4/4 must be split at beat 3
    eastman_second16: Literal["ta", "ti"] = "ta"  # eastman: n ta te ta or n ti te ta
    equivalence: Literal["sounding", "onsets"] = "sounding"  # when two rhythms count as the same
    _hash: int = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "_hash", hash(tuple(getattr(self, name) for name in CONVENTION_NAMES)))

    def __hash__(self) -> int:
        return self._hash

    __reduce__ = as_made


CONVENTION_NAMES = tuple(each.name for each in fields(Conventions) if each.init)


def convention_values() -> dict[str, tuple[object, ...]]:
    """Every convention with its allowed values, the default first.

    >>> convention_values()["cut_time"]
    ('in_two', 'in_four')
    """
    hints = get_type_hints(Conventions)
    found: dict[str, tuple[object, ...]] = {}
    for each in fields(Conventions):
        if not each.init:
            continue
        allowed = get_args(hints[each.name]) or (False, True)
        found[each.name] = tuple(sorted(allowed, key=lambda v: v != each.default))
    return found
