"""The counting rules that every question about counts prints: the class's conventions, as far as the item shows them.

Rules are picked by what can be seen (excerpt and choices), never by the key, so that a rule gives nothing away.
"""

from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction

from barwright.asks import ASKS
from barwright.counting.counts import format_row, labels_if_counted
from barwright.counting.labels import rest_style
from barwright.counting.systems import SYSTEMS, TRIPLETS, Beat, counted_beats, words_of
from barwright.items.item import Item
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.measure import Symbol, length_of, ticks_of
from barwright.rhythm.meter import THREE_EIGHT, TWO_TWO, Meter
from barwright.wording.language import Language
from barwright.wording.own_counts import said
from barwright.wording.scene import Scene, answer_symbols, scene_of

BEAT, PARTS, SMALLER = range(3)  # how far down a beat is shown: whole beats, its first parts, parts of these
KODALY = ("ta", "ti")  # the words of a quarter note and of what is shorter
QUARTER = Fraction(1, 4)
PLACES = 12  # in a beat (rhythm/pulse.py)


def beats_rule(meter: Meter, conventions: Conventions) -> str:
    """Id of the rule that says which note gets a number (2/2, 3/8, compound meters are taught in two ways).

    >>> from barwright.rhythm.meter import parse_meter
    >>> beats_rule(parse_meter("6/8"), Conventions())
    'beats.compound'
    """
    if meter.kind == "compound":
        return "beats.eighths" if conventions.compound == "bottom" else "beats.compound"
    if meter is THREE_EIGHT and conventions.three_eight == "in_one":
        return "beats.in-one"
    if meter.bottom == 8:
        return "beats.eighths"
    if meter is TWO_TWO:
        return "beats.in-two" if conventions.cut_time == "in_two" else "beats.in-four"
    return "system.numbers"


def counted_length(meter: Meter, conventions: Conventions) -> Fraction:
    """Length in whole notes of what gets one number, or one & where every half beat is written out."""
    rule = beats_rule(meter, conventions)
    number = {"beats.eighths": Fraction(1, 8), "beats.in-four": Fraction(1, 4)}.get(rule, min(meter.felt_beats))
    return number / 2 if conventions.held == "subdivisions" else number


def _rows_to_pick(item: Item) -> str:
    """All rows on offer, label by label too; none where the row is typed, since foreseen answers are not seen."""
    picked = ASKS[item.ask].interaction in ("texts", "inline")
    return " ".join(c.answer.text for c in item.choices) if picked else ""


def depth(symbols: Iterable[Symbol], beats: Iterable[Beat], meter: Meter) -> int:
    """How far down these symbols divide the beats: BEAT, PARTS or SMALLER; members of triplets are left out."""
    lengths = {ticks_of(s, meter) for s in symbols if s.value is None or not s.value.triplet}
    if all(length % beat.length == 0 for beat in beats for length in lengths):
        return BEAT
    return PARTS if all(length % (beat.length // beat.parts) == 0 for beat in beats for length in lengths) else SMALLER


def places_of(beat: Beat, deep: int) -> range:
    """The places of a beat down to this depth: 0, 6 and then 0, 3, 6, 9 for a beat of two parts."""
    parts = beat.parts if deep else 1
    return range(0, PLACES, PLACES // (2 * parts if deep == SMALLER and PLACES % (2 * parts) == 0 else parts))


def part_words(meter: Meter, conventions: Conventions, deep: int, triplets: bool) -> tuple[str, ...]:
    """The different words for the places in the beats of a meter, `#` for the number of the beat.

    >>> from barwright.rhythm.meter import parse_meter
    >>> part_words(parse_meter("6/8"), Conventions(counting="gordon"), SMALLER, False)
    ('du', 'ta', 'da', 'di')
    """
    words: dict[str, None] = {}
    for beat in counted_beats(meter, conventions):
        table, other = words_of(beat, meter, conventions)
        thirds = (4, 8) if triplets and beat.parts == 2 else ()
        words |= dict.fromkeys(table.get(place) or other or "" for place in (*places_of(beat, deep), *thirds))
    return tuple(filter(None, words))


def _split(meter: Meter, conventions: Conventions, deep: int) -> str:
    """A counted beat with its parts, as 1 la li, down to this depth; numbers only."""
    beat = counted_beats(meter, conventions)[0]
    table, _ = words_of(beat, meter, conventions)
    words = [table.get(place, "") for place in places_of(beat, deep)]
    return " ".join(filter(None, words)).replace("#", "1")


def rule_scene(item: Item, words: Language) -> Scene:
    """What the rules say of the beats and their parts, from the shortest value that the item shows."""
    conventions, meter = item.conventions, item.excerpt.meter
    symbols = _symbols(item)
    deep = max(PARTS, depth(symbols, counted_beats(meter, conventions), meter))
    if conventions.counting != "numbers":
        parts = part_words(meter, conventions, deep, _has_triplet(symbols))
        if conventions.counting == "kodaly":
            parts = KODALY[: 1 + any(length_of(s, meter) < QUARTER for s in symbols)]
        beat_words = said(", ".join(w for w in parts if w != "#"), conventions.counting, words)
        return {"beat_words": beat_words, "split": "", "inner": "", "triplet": ""}
    eighths = beats_rule(meter, conventions) == "beats.eighths"
    within = words.spacing("spoken", "within")
    split, halves = (said(_split(meter, conventions, each), "numbers", words) for each in (deep, PARTS))
    inner = "" if eighths else halves.removeprefix("1 ").replace(" ", within)
    triplet = said(" ".join(TRIPLETS[conventions.triplet]).replace("#", "1"), "numbers", words)
    return {"beat_words": "", "split": split, "inner": inner, "triplet": triplet}


def _symbols(item: Item) -> frozenset[Symbol]:
    return answer_symbols(item).union(*item.excerpt.measures)


def _has_triplet(symbols: Iterable[Symbol]) -> bool:
    return any(s.value is not None and s.value.triplet for s in symbols)


def _split_rules(item: Item, symbols: frozenset[Symbol]) -> dict[str, bool]:
    """Which rules about parts of a beat are wanted with numbers; in compound meters beats are always split."""
    conventions, meter = item.conventions, item.excerpt.meter
    beats = counted_beats(meter, conventions)
    deep, thirds = depth(symbols, beats, meter), beats[0].parts == 3
    named = "split.number" if beats_rule(meter, conventions) == "beats.eighths" else "split.beat"
    return {
        named: deep > BEAT or thirds,
        "split.nothing": deep == SMALLER and thirds and conventions.compound_16ths == "none",
    }


def _row(item: Item) -> str:
    """The row of the rhythm: a note from off the beat may be short and yet held over a count."""
    labels = labels_if_counted(replace(item.excerpt, mark=None), item.conventions)
    return "" if labels is None else format_row(labels)


def rule_ids(item: Item) -> tuple[str, ...]:
    """Ids of the rules to print, in counting.toml, in reading order."""
    conventions, meter = item.conventions, item.excerpt.meter
    symbols = _symbols(item)
    rows = _rows_to_pick(item)
    once = counted_length(meter, conventions)
    numbers = conventions.counting == "numbers"
    wanted = {
        beats_rule(meter, conventions) if numbers else f"system.{conventions.counting}": True,
        **(_split_rules(item, symbols) if numbers else {}),
        f"triplet.{conventions.triplet}": numbers and _has_triplet(symbols),
        f"held.{conventions.held}": numbers
        and ("-" in rows + _row(item) or any(s.tied or length_of(s, meter) > once for s in symbols)),
        f"rests.{rest_style(conventions)}": "(" in rows or any(s.silent for s in symbols),
        "barline.again": SYSTEMS[conventions.counting].numbered and len(item.excerpt.measures) > 1,
        "barline.tied": any(measure[-1].tied for measure in item.excerpt.measures),
    }
    return tuple(ident for ident, is_wanted in wanted.items() if is_wanted)


def counting_rules(item: Item, scene: Scene, words: Language) -> str:
    """The rules as one paragraph."""
    names = {**scene, **rule_scene(item, words)}
    return " ".join(words.text("counting", ident, names) for ident in rule_ids(item))


OF_ONE_METER = ("beats.", "system.", "split.", "triplet.")


def rules_of_all(items: Iterable[Item], words: Language) -> tuple[str, ...]:
    """The rules of several items, for a page that prints them before all: each once, those of one meter by its name.

    Meters that are counted alike share a line, which names them only where others are counted in another way.
    """
    general: dict[str, str] = {}
    own: dict[str, dict[str, str]] = {}
    meters: dict[str, dict[Meter, None]] = {}
    for item in items:
        names = {**scene_of(item, 1, words), **rule_scene(item, words)}
        told = {ident: words.text("counting", ident, names) for ident in rule_ids(item)}
        first = next(iter(told.values()))
        meters.setdefault(first, {})[item.excerpt.meter] = None
        for ident, text in told.items():
            texts = own.setdefault(first, {}) if ident.startswith(OF_ONE_METER) else general
            texts[ident] = max(texts.get(ident, ""), text, key=len)  # the one that speaks of rests as well, say
    lines = {first: " ".join(texts.values()) for first, texts in own.items()}
    if len(lines) > 1:
        lines = {
            first: words.text("paper", "sheet.in_meters", {"meters": ", ".join(map(str, meters[first])), "rules": line})
            for first, line in lines.items()
        }
    return (*lines.values(), *general.values())
