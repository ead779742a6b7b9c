"""Items in words where something is put into places: figures in gaps, labels under symbols, groups in an order.

There the choices that a platform shows are not always the item's whole answers, but what these are made of. The whole
answers go along as `foreseen`: each wrong one with its misreading, and its hint for a student who gives just that.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from barwright.asks.pieces import Placing, place_name, placing_of
from barwright.counting.counts import labelled_events
from barwright.counting.labels import meter_shown
from barwright.items.item import Item
from barwright.notation.beaming import beam_groups
from barwright.rhythm.excerpt import (
    Excerpt,
    Figure,
    beside_blank,
    fragment,
)
from barwright.rhythm.measure import (
    BLANK,
    FULL_MEASURE_REST,
    Symbols,
    total,
    triplet_groups,
)
from barwright.rhythm.text import parse_symbols
from barwright.wording.alt_text import spoken
from barwright.wording.language import Language
from barwright.wording.own_counts import said
from barwright.wording.scene import Scene
from barwright.wording.worded import (
    WordedAnswer,
    WordedChoice,
    WordedFigure,
    WordedItem,
    WordedSlot,
)


@dataclass(frozen=True, slots=True)
class LabelCell:
    """Symbols of one measure that are shown in one picture; indices from 0, `end` not in it.

    They begin at `onset` (whole notes from the start of the measure). `sounds` are the places in the row of counts of
    what begins here; `last` tells whether they end the measure.
    """

    measure: int
    start: int
    end: int
    onset: Fraction
    sounds: tuple[int, ...]
    last: bool


def cells_of(item: Item) -> tuple[LabelCell, ...]:
    """The pictures of a rhythm that is shown piece by piece: no cut goes through a beam, a triplet or a tied sound."""
    excerpt, cells = item.excerpt, []
    for number, counted in enumerate(labelled_events(excerpt, item.conventions)):
        symbols, begun = excerpt.measures[number], excerpt.start_of(number)
        groups = (*triplet_groups(symbols), *beam_groups(symbols, excerpt.meter, item.conventions, start=begun))
        together = {n for group in groups for n in range(group[0] + 1, group[-1] + 1)}
        together |= {n + 1 for n, symbol in enumerate(symbols) if symbol.tied}
        starts = [n for n in range(len(symbols)) if n not in together]
        for start, end in zip(starts, (*starts[1:], len(symbols)), strict=True):
            onset = begun + total(symbols[:start], excerpt.meter)
            sounds = tuple(place for place, (event, _) in enumerate(counted) if start <= event.index < end)
            cells.append(LabelCell(number, start, end, onset, sounds, end == len(symbols)))
    return tuple(cells)


def cell_figure(cell: LabelCell, excerpt: Excerpt) -> Figure:
    """A cell's picture, beamed as in its measure; with its barline at the end of a measure."""
    symbols: Symbols = excerpt.measures[cell.measure][cell.start : cell.end]
    final = cell.last and cell.measure == len(excerpt.measures) - 1
    meter = meter_shown(excerpt, cell.measure)  # a part of a measure does not show the measure's groups
    if not cell.last:
        return fragment(symbols, meter, start=cell.onset)
    if symbols == (FULL_MEASURE_REST,):
        return Figure(Excerpt(meter, (symbols,)), signature=False, final=final)
    behind = Excerpt(meter, ((BLANK, *symbols),))
    return Figure(behind, signature=False, frame="after", start=cell.onset, final=final)


def placing_scene(item: Item) -> Scene:
    """What the sentences around such an item may ask: whether lists share a picture, groups have more than one symbol;
    nothing for other items.
    """
    placing = placing_of(item)
    if placing is None:
        return {}
    if not placing.slots:
        return {"groups": any(len(group) > 1 for group in item.excerpt.measures)}
    return {"shared": any(len(cell.sounds) > 1 for cell in cells_of(item))}


def with_places(shown: WordedItem, item: Item, order: Sequence[int], words: Language) -> WordedItem:
    """The item with the places that belong to its interaction; `order` is the shown order of the item's choices."""
    if shown.interaction == "gaps":
        return _with_gap(shown, item, words)
    placing = placing_of(item)
    if placing is None:
        return shown
    filled = [tuple(map(place_name, placing.filled[index])) for index in order]
    foreseen = tuple(
        WordedAnswer(idents, c.key, c.feedback, c.misreading, c.why, c.text)
        for idents, c in zip(filled, shown.choices, strict=True)
    )
    if shown.interaction == "inline":
        return _with_lists(shown, item, placing, foreseen, words)
    return _with_order(shown, item, placing, foreseen, words)


def _pictured(figure: Figure, item: Item, words: Language) -> WordedFigure:
    return WordedFigure(figure, spoken(figure, item.conventions, words))


def _with_gap(shown: WordedItem, item: Item, words: Language) -> WordedItem:
    before, after = (_pictured(part, item, words) for part in beside_blank(item.excerpt))
    slot = WordedSlot(place_name(0, slot=True), tuple(c.ident for c in shown.choices if c.key))
    return replace(shown, pieces=(before, slot, after))


def _key(foreseen: Sequence[WordedAnswer]) -> WordedAnswer:
    return next(answer for answer in foreseen if answer.key)


def _telltales(foreseen: Sequence[WordedAnswer]) -> tuple[WordedAnswer, ...]:
    """The wrong answers, each with the choice that no other answer has, if there is one: its use alone tells it."""
    answers = []
    for answer in foreseen:
        others = {ident for other in foreseen if other is not answer for ident in other.filled}
        own = [ident for ident in answer.filled if ident not in others]
        answers.append(replace(answer, told_by=own[0]) if own and not answer.key else answer)
    return tuple(answers)


def _with_lists(
    shown: WordedItem, item: Item, placing: Placing, foreseen: tuple[WordedAnswer, ...], words: Language
) -> WordedItem:
    """Labels in neutral order, the same in every list; each wrong row is told by a label of its own if it has one."""
    foreseen = _telltales(foreseen)
    right = _key(foreseen)
    told = {answer.told_by: answer for answer in foreseen if answer.told_by}
    choices = []
    for index, text in enumerate(placing.texts):
        ident = place_name(index)
        users = [answer for answer in foreseen if ident in answer.filled]
        wrong = None if ident in right.filled else told.get(ident, users[0])
        feedback = told[ident].feedback if ident in told else right.feedback if ident == right.filled[0] else ""
        credited = (wrong.misreading, wrong.why) if wrong else ("", "")
        shown_text = said(text, item.conventions.counting, words)
        choices.append(WordedChoice(ident, shown_text, None, wrong is None, feedback, *credited))
    pieces = tuple(_row(item, placing, right, words))
    return replace(shown, choices=tuple(choices), pieces=pieces, foreseen=foreseen, pinned=True)


def _row(item: Item, placing: Placing, right: WordedAnswer, words: Language) -> Iterator[WordedFigure | WordedSlot]:
    """Each cell's picture, then the lists under it, one for each sound and rest."""
    slots = {
        (slot.measure, slot.sound): WordedSlot(
            place_name(number, slot=True), (right.filled[number],), tuple(map(place_name, slot.options))
        )
        for number, slot in enumerate(placing.slots)
    }
    for cell in cells_of(item):
        yield _pictured(cell_figure(cell, item.excerpt), item, words)
        yield from (slots[cell.measure, sound] for sound in cell.sounds)


def _with_order(
    shown: WordedItem, item: Item, placing: Placing, foreseen: tuple[WordedAnswer, ...], words: Language
) -> WordedItem:
    """Pictures of the groups in neutral order, and the right sequence."""
    right = _key(foreseen)
    choices = []
    for index, text in enumerate(placing.texts):
        ident = place_name(index)
        figure = fragment(parse_symbols(text), item.excerpt.meter)
        feedback = right.feedback if ident == right.filled[0] else ""
        choices.append(WordedChoice(ident, "", _pictured(figure, item, words), True, feedback))
    return replace(shown, choices=tuple(choices), foreseen=foreseen, sequence=right.filled)
