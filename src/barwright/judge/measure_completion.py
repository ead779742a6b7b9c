"""Measure completion, judged: which fillings, or which number of beats, are right at the blank.

Groups put in order of length, judged: the key rises in true length, every other order is of the same groups."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from itertools import combinations, pairwise

from barwright.items.item import Choice, Item
from barwright.items.taught import Taught
from barwright.judge.answer_texts import groups_of, number_of, symbols_of
from barwright.judge.beats import beats_in
from barwright.judge.print_rules import (
    Sounds,
    filler,
    fragment_faults,
    heard,
    kind_of,
    length_of_all,
    look,
    measure_faults,
    print_faults,
    sounds,
    syncopation_faults,
    whole_groups,
    whole_rest_sign,
)
from barwright.judge.reasons import reason
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.measure import Symbol, Symbols, total
from barwright.rhythm.meter import Meter
from barwright.rhythm.text import format_excerpt, format_symbol, format_symbols


@dataclass(frozen=True, slots=True)
class Gap:
    """The measure with the blank: what stands before and after it, and the length in whole notes that is missing.

    `led` is the symbol just before the blank, in the measure before it too; `ending` tells whether a pickup may change
    what the measure must hold.
    """

    before: Symbols
    after: Symbols
    length: Fraction
    led: Symbol | None
    ending: bool

    def filled(self, symbols: Symbols) -> Symbols:
        """The measure with these symbols in the blank."""
        return (*self.before, *symbols, *self.after)


def gap_of(excerpt: Excerpt) -> Gap:
    """The gap of an excerpt whose shape was judged: it has one blank."""
    assert excerpt.blank is not None
    number, index = excerpt.blank
    measure = excerpt.measures[number]
    earlier = (*(s for m in excerpt.measures[:number] for s in m), *measure[:index])
    return Gap(
        measure[:index],
        measure[index + 1 :],
        excerpt.meter.capacity - length_of_all(measure, excerpt.meter),
        earlier[-1] if earlier else None,
        excerpt.pickup and number in (0, len(excerpt.measures) - 1),
    )


def _blank_faults(item: Item, gap: Gap) -> Iterator[str]:
    """Reasons against the excerpt with its blank, whatever the choices."""
    excerpt, conventions = item.excerpt, item.conventions
    yield from measure_faults(excerpt.measures, excerpt.meter, conventions, pickup=excerpt.pickup)
    text = format_excerpt(excerpt)
    if gap.length <= 0:
        yield reason("no-gap", text)
        return
    if gap.ending:
        yield reason("open-ending", text)
    if not (whole_groups(gap.before) and whole_groups(gap.after)):
        yield reason("broken-triplet", text)


def _given_faults(item: Item, gap: Gap, taught: Taught) -> Iterator[str]:
    """Reasons against what is printed around a blank that stays blank."""
    notes, meter = filler(gap.length), item.excerpt.meter
    if notes is None:
        yield reason("unfillable-gap", format_excerpt(item.excerpt))
        return
    if faults := print_faults(gap.filled(notes), meter, item.conventions):
        yield reason("illegal-notation", f"{format_excerpt(item.excerpt)} ({', '.join(faults)})")
    if any(syncopation_faults((gap.filled(notes),), meter, taught)):
        yield reason("untaught", f"syncopation in {format_excerpt(item.excerpt)}")


@dataclass(frozen=True, slots=True)
class Filling:
    """A filling read: `lengths` are all that its printed signs can have, beside other symbols or alone.

    A whole-rest sign lasts a whole note, or as a full-measure rest the measure. `length` is what the text says.
    """

    symbols: Symbols
    length: Fraction
    lengths: frozenset[Fraction]
    kind: str
    look: str
    sounds: Sounds
    tokens: tuple[str, ...]


@cache
def filling_of(text: str, meter: Meter) -> Filling:
    """The filling of an answer text that can be read."""
    symbols = symbols_of(text)
    assert symbols is not None  # read before
    plain = total((s for s in symbols if not whole_rest_sign(s)), meter)
    signs = sum(whole_rest_sign(s) for s in symbols)
    return Filling(
        symbols,
        total(symbols, meter),
        frozenset({plain + signs, plain + signs * meter.capacity}),
        kind_of(symbols),
        look(symbols),
        sounds(symbols, meter),
        tuple(sorted(text.split())),
    )


def filling_faults(item: Item, taught: Taught, *, widths: range, ticks_all: bool = False) -> Iterator[str]:
    """Reasons against choices of fillings: a keyed one fills exactly and is printable, any other has a wrong total.

    `widths`: how many symbols the ask wants for the blank. `ticks_all`: the student ticks all that seem to fit, so that
    wrong ones of one length may stand together, as right ones do; else a pick could not tell them apart.
    """
    gap = gap_of(item.excerpt)
    yield from _blank_faults(item, gap)
    if gap.length <= 0:
        return
    read = {c: filling_of(c.answer.text, item.excerpt.meter) for c in item.choices}
    for choice, filling in read.items():
        text = choice.answer.text
        if len(filling.symbols) not in widths:
            yield reason("wrong-size", text)
        if gap.led is not None and gap.led.tied and filling.symbols[0].silent:
            yield reason("dangling-tie", f"{format_symbol(gap.led)} {text}")
        yield from _right_or_wrong(item, choice, filling, gap)
        if choice.key:
            yield from syncopation_faults((gap.filled(filling.symbols),), item.excerpt.meter, taught)
        yield from fragment_faults(filling.symbols, taught, item.conventions)
    yield from _pairs(read, item.conventions, alike=ticks_all)
    yield from _kinds(read)


def _right_or_wrong(item: Item, choice: Choice, filling: Filling, gap: Gap) -> Iterator[str]:
    text, right = choice.answer.text, filling.length == gap.length
    if not right and choice.key:
        yield reason("key-not-right", f"{text} lasts {filling.length}, {gap.length} is missing")
        return
    faults = print_faults(gap.filled(filling.symbols), item.excerpt.meter, item.conventions) if right else ()
    if choice.key and faults:
        yield reason("key-not-printable", f"{text} ({', '.join(faults)})")
    elif not choice.key and gap.length in filling.lengths:
        yield reason("wrong-by-taste" if faults else "second-right-answer", f"{text} also fills {gap.length}")


def _pairs(read: dict[Choice, Filling], conventions: Conventions, *, alike: bool) -> Iterator[str]:
    for (one, first), (other, second) in combinations(read.items(), 2):
        if first.look == second.look:
            ident = "same-print"
        elif heard(first.sounds, conventions) == heard(second.sounds, conventions):
            ident = "same-meaning"
        elif first.tokens == second.tokens:
            ident = "other-order"
        elif not alike and not one.key and not other.key and _too_alike(first, second):
            ident = "same-length"
        else:
            continue
        yield reason(ident, f"{one.answer.text}, {other.answer.text}")


def _too_alike(first: Filling, second: Filling) -> bool:
    """Same length and not plainly notes against rests."""
    return first.length == second.length and {first.kind, second.kind} != {"notes", "rests"}


def _kinds(read: dict[Choice, Filling]) -> Iterator[str]:
    """A lone sort among the choices betrays a single key; sorts that part right from wrong betray several."""
    keys = {filling.kind for choice, filling in read.items() if choice.key}
    if keys.isdisjoint(filling.kind for choice, filling in read.items() if not choice.key):
        yield reason("kind-tells-key", ", ".join(sorted(keys)))


def beats_left_faults(item: Item, taught: Taught) -> Iterator[str]:
    """Reasons against typed numbers: the key counts bottom-number notes, and no other is right in any sort of beat."""
    gap, meter = gap_of(item.excerpt), item.excerpt.meter
    yield from _blank_faults(item, gap)
    if gap.length <= 0:
        return
    yield from _given_faults(item, gap, taught)
    right = gap.length / meter.unit
    elsewhere = beats_in(gap.length, meter, at=length_of_all(gap.before, meter))
    for choice in item.choices:
        number = number_of(choice.answer.text)
        if choice.key and number != right:
            yield reason("key-not-right", f"{number}, but {right} of 1/{meter.bottom} are missing")
        elif not choice.key and number == right:
            yield reason("second-right-answer", choice.answer.text)
        elif not choice.key and number in elsewhere:
            yield reason("right-elsewhere", f"{number} beats of another sort are missing")


SIZES = range(3, 5)


def order_faults(item: Item, taught: Taught) -> Iterator[str]:
    """Reasons against orders of groups.

    Lengths are the same under all conventions, but for that of the whole-rest sign: so the right order is right for
    everybody, and any other wrong.
    """
    groups, meter = item.excerpt.measures, item.excerpt.meter
    yield from _excerpt_faults(item)
    for group in dict.fromkeys(groups):
        yield from _group_faults(item, group, taught)
    for choice in item.choices:
        order = groups_of(choice.answer.text)
        assert order is not None  # read before
        lengths = [length_of_all(group, meter) for group in order]
        rising = all(shorter < longer for shorter, longer in pairwise(lengths))
        if sorted(map(format_symbols, order)) != sorted(map(format_symbols, groups)):
            yield reason("other-groups", choice.answer.text)
        elif choice.key and not rising:
            yield reason("key-not-right", f"{choice.answer.text} lasts {', '.join(map(str, lengths))}")
        elif not choice.key and all(shorter <= longer for shorter, longer in pairwise(lengths)):
            yield reason("second-right-answer", choice.answer.text)


def _excerpt_faults(item: Item) -> Iterator[str]:
    """The groups stand in the excerpt by their text, so that they have no order of their own."""
    texts = list(map(format_symbols, item.excerpt.measures))
    if len(texts) not in SIZES or texts != sorted(set(texts)):
        yield reason("wrong-excerpt", f"{format_excerpt(item.excerpt)}, but three or four groups, sorted, are wanted")


def _group_faults(item: Item, group: Symbols, taught: Taught) -> Iterator[str]:
    """Reasons against one group: it is of one sort, of one sure length, and can begin a measure as it is printed."""
    text, meter = format_symbols(group), item.excerpt.meter
    if any(map(whole_rest_sign, group)):
        yield reason("unsure-length", text)
        return
    if kind_of(group) == "mixed":
        yield reason("mixed-group", text)
    yield from fragment_faults(group, taught, item.conventions)
    others = filler(meter.capacity - length_of_all(group, meter))
    if others is None or length_of_all(group, meter) > meter.capacity:
        yield reason("unprintable-choice", f"{text} in {meter}")
        return
    full = (*group, *others)
    if faults := print_faults(full, meter, item.conventions):
        yield reason("illegal-notation", f"{text} in {meter} ({', '.join(faults)})")
    if any(syncopation_faults((full,), meter, taught)):
        yield reason("untaught", f"syncopation in {text}")
