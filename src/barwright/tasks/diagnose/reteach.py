"""reteach.toml: a blueprint of a short quiz about the misreadings that were found, of excerpts that nobody has had."""

from collections import Counter
from collections.abc import Iterable, Sequence
from fractions import Fraction

from barwright.asks import ASKS
from barwright.blueprint.parsing import examined
from barwright.items.form import Form
from barwright.items.item import Item
from barwright.results.reading.mapping import toml_text
from barwright.rhythm.conventions import CONVENTION_NAMES, Conventions
from barwright.rhythm.measure import Symbol
from barwright.rhythm.text import (
    LETTERS,
    parse_groups,
    parse_measures,
    parse_symbols,
)
from barwright.rhythm.values import PLAIN
from barwright.tasks.diagnose.diagnosis import Diagnosis
from barwright.tasks.form_folders import RECORD

MOST_MISREADINGS = 3
LEAST_CHANCES = 4
MOST_ITEMS = 6
"""Of one part."""
_HEAD = """\
# A short quiz about what the answers showed, made by barwright diagnose. Look it over, then run:
#
#     barwright make {file} --allow-repeats
#
# (To practice on, forms need not be as equal as those of a quiz that is graded.)
#
# It asks for nothing that the quiz did not show, and `avoid` keeps away every excerpt that a student has had.
"""
"""What stands above the blueprint; `file` is its path as it can be pasted."""
Wanted = tuple[str, ...]


def reteach_toml(forms: Sequence[Form], diagnosis: Diagnosis, file: str) -> bytes | None:
    """The blueprint; None where no misreading was found, or where nothing in the quiz's elements can show it."""
    wanted = most_held(diagnosis)
    parts = parts_for(forms, wanted)
    while parts:
        text = blueprint_text(forms, parts, file)
        if not examined(text, "reteach.toml").faults:
            return text.encode()
        parts = _without_faults(forms, parts)
    return None


def most_held(diagnosis: Diagnosis) -> Wanted:
    """The misreadings that most students of all sections are expected to hold, three at most; of "A or B" both."""
    held: Counter[str] = Counter()
    for taught in diagnosis.lessons.values():
        for lesson in taught:
            for misreading in lesson.shared.misreadings[:2]:
                held[misreading] += round(1000 * lesson.shared.students)
    ordered = sorted(held, key=lambda misreading: (-held[misreading], misreading))
    return tuple(ordered[:MOST_MISREADINGS])


def parts_for(forms: Sequence[Form], wanted: Wanted) -> dict[str, Wanted]:
    """The asks of the quiz in which a wanted misreading was on offer, each with those; at most two asks for each."""
    offered: dict[str, Counter[str]] = {}
    for form in forms:
        for placed in form.items:
            for choice in placed.item.choices:
                for misreading in choice.misreadings:
                    if misreading in wanted:
                        offered.setdefault(misreading, Counter())[placed.item.ask] += 1
    by_ask: dict[str, list[str]] = {}
    for misreading in wanted:
        for ask, _ in offered.get(misreading, Counter()).most_common(2):
            by_ask.setdefault(ask, []).append(misreading)
    return {ask: tuple(by_ask[ask]) for ask in ASKS if ask in by_ask}


def _without_faults(forms: Sequence[Form], parts: dict[str, Wanted]) -> dict[str, Wanted]:
    """The parts that can be made of these elements, each tried alone."""
    sound = {}
    for ask, misreadings in parts.items():
        kept = tuple(m for m in misreadings if not examined(blueprint_text(forms, {ask: (m,)}, ""), "").faults)
        if kept:
            sound[ask] = kept
    return sound if sound != parts else {}


def blueprint_text(forms: Sequence[Form], parts: dict[str, Wanted], file: str) -> str:
    """The blueprint as text, of the symbols and meters that the quiz showed, under its conventions."""
    first = forms[0]
    sections = tuple(dict.fromkeys(form.section for form in forms))
    spoken = _list((first.language, *first.also)) if first.also else toml_text(first.language)
    lines = [f"title    = {toml_text(f'{first.title[:100]}: once more')}", f"language = {spoken}"]
    lines += [f"sections = {_list(sections)}", f'avoid    = "../{RECORD}"', "", "[elements]", *_elements(forms)]
    usual = Conventions()
    conventions = first.items[0].item.conventions
    changed = [name for name in CONVENTION_NAMES if getattr(conventions, name) != getattr(usual, name)]
    if changed:
        lines += ["", "[conventions]", *(f"{name} = {_value(getattr(conventions, name))}" for name in changed)]
    for ask, misreadings in parts.items():
        items = min(MOST_ITEMS, max(2, -(-LEAST_CHANCES * len(misreadings) // _asks_of(misreadings, parts))))
        lines += ["", "[[part]]", f'family      = "{ASKS[ask].family}"', f'ask         = "{ask}"']
        lines += [f"items       = {items}", f"misreadings = {_list(misreadings)}"]
    return _HEAD.format(file=file) + "\n" + "\n".join(lines) + "\n"


def _asks_of(misreadings: Wanted, parts: dict[str, Wanted]) -> int:
    """In how many parts the first of these can show."""
    return sum(misreadings[0] in others for others in parts.values())


def _list(texts: Iterable[str]) -> str:
    return f"[{', '.join(map(toml_text, texts))}]"


def _value(value: object) -> str:
    return str(value).lower() if isinstance(value, bool) else toml_text(str(value))


def _elements(forms: Sequence[Form]) -> list[str]:
    """The elements that the quiz showed, in its excerpts and choices: the class has met them all."""
    shown = {symbol for form in forms for placed in form.items for symbol in _symbols(placed.item)}
    meters = dict.fromkeys(
        str(p.item.excerpt.meter) for form in forms for p in form.items if p.item.ask != "shortest-first"
    )
    notes = [s for s in shown if s.kind == "note"]
    rests = [s for s in shown if s.silent]
    lines = [f"meters = {_list(meters)}", f"notes  = {_names(s.value.plain for s in notes if s.value)}"]
    plain_rests = {s.value.plain for s in rests if s.value and not s.value.dots}
    whole = {Fraction(1)} if any(s.silent and s.value is None for s in shown) else set()
    optional = {
        "rests": plain_rests | whole,
        "dots": {s.value.plain for s in notes if s.value and s.value.dots == 1},
        "double_dots": {s.value.plain for s in notes if s.value and s.value.dots == 2},
        "rest_dots": {s.value.plain for s in rests if s.value and s.value.dots},
        "triplets": {s.value.plain for s in notes if s.value and s.value.triplet},
    }
    lines += [f"{name} = {_names(values)}" for name, values in optional.items() if values]
    return [*lines, *(["ties = true"] if any(symbol.tied for symbol in shown) else [])]


def _symbols(item: Item) -> Iterable[Symbol]:
    yield from item.excerpt.symbols
    for choice in item.choices:
        kind, text = choice.answer.kind, choice.answer.text
        if kind == "symbols":
            yield from parse_symbols(text)
        elif kind == "measures":
            yield from (symbol for measure in parse_measures(text) for symbol in measure)
        elif kind == "order":
            yield from (symbol for group in parse_groups(text) for symbol in group)


def _names(lengths: Iterable[Fraction]) -> str:
    wanted = set(lengths)
    names = [name for name, length in PLAIN.items() if length in wanted]
    return _list(name for name in LETTERS.values() if name in names)
