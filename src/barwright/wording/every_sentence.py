"""Every sentence of a language, filled in with whatever may stand in it, to read through and to test.

A name takes the values below, with every other that goes along: numbers one and several, each kind of symbol, each
meter. Names that change together (what a meter is called, its note, what it holds) change together here.
"""

import re
from collections.abc import Callable, Iterator, Mapping
from fractions import Fraction
from itertools import product
from typing import Any

from jinja2 import Environment
from jinja2.meta import find_undeclared_variables

from barwright.rhythm.conventions import Conventions
from barwright.rhythm.meter import parse_meter
from barwright.wording.language import FILES, Language
from barwright.wording.numbers_in_words import amount, number_text, unit_names
from barwright.wording.scene import NAMES_OF_CLASS, Scene, meter_scene

METERS = ("2/4", "3/4", "2/2", "3/8", "6/8")
KINDS = ("notes", "rests", "mixed")
# What is seen of symbols; a sentence asks for some of these.
SEEN: tuple[frozenset[str], ...] = (
    *map(frozenset, ((), ("h", "q"), ("w", "h"), ("rh",), ("rW",), ("rh", "rW"), ("rq",), ("rh", "rq"), ("re",))),
    frozenset(("re", "rq")),
    frozenset("t"),
)
AMOUNTS = (Fraction(1, 2), Fraction(1), Fraction(3, 2), Fraction(3))
TRUE_OR_FALSE = (
    "asks_top", "asks_meter", "beats", "blank", "entries", "groups", "hyphens", "joins", "numbered", "orders", "parts",
    "reads", "row_holds", "row_rests", "shared", "single", "struck", "ties", "twin", "usual",
)  # fmt: skip
COUNTS = (
    "number", "points", "questions", "students", "sections", "of", "low", "high", "prior", "slips", "unsteady", "lost",
    "new", "right", "asked",
)  # fmt: skip
TEXTS: Mapping[str, tuple[str, ...]] = {
    "row": ("1-2 (3)", "1 2 3"), "rules": ("...",), "beat_words": ("ta", "ta, ti"), "split": ("1 la li",),
    "triplet": ("1 la li",),
    "inner": ("", "&"), "why": ("...",), "first": ("...",), "second": ("...",), "section": ("3A",), "title": ("...",),
    "place": ("3A 2",), "meters": ("2/4, 3/4",), "pages": ("3",), "asks": ("...",), "student": ("s01",),
    "value": (".41",), "assumed": ("...",), "omit": ("wrong", "not-asked"), "word": ("shows", "may-show"),
    "counts": ("1-2 (3)",), "signs": ("...",), "signature": ("3/4", ""),
}  # fmt: skip
OF_METER = frozenset(
    (
        "meter",
        "top",
        "bottom",
        "in_beats",
        "holds",
        "one_unit",
        "beats",
        "unit",
        "units",
        *NAMES_OF_CLASS,
    )
)

# What stands in a spoken description, in words of the language itself.
SPOKEN: Mapping[str, Callable[[Language], tuple[str, ...]]] = {
    "measures": lambda words: words.texts("spoken", "measure", {"number": words.texts("words", "number.names")[2]}),
    "name": lambda words: words.pair("words", "note.half"),
    "number": lambda words: words.texts("words", "number.names")[2:4],
    "parts": lambda words: (
        words.text("spoken", "part", {"number": 1, "symbols": words.pair("words", "note.half")[0]}),
    ),
    "symbols": lambda words: (words.spacing("spoken", "within").join(_two(words)), ""),
}

_READER = Environment()


def _two(words: Language) -> tuple[str, str]:
    return words.pair("words", "note.half")[0], words.pair("words", "rest.quarter")[0]


def sources(words: Language, file: str) -> Iterator[tuple[str, str]]:
    """The id and the text of every sentence of a file as it is written; a list gives one after another."""

    def below(found: Any, path: str) -> Iterator[tuple[str, str]]:
        if isinstance(found, Mapping):
            for name, inner in found.items():
                yield from below(inner, f"{path}.{name}" if path else name)
        else:
            yield from ((path, str(text)) for text in (found if isinstance(found, list) else [found]))

    yield from below(words.tables[file], "")


def filled(words: Language, file: str, ident: str) -> tuple[str, ...]:
    """Every different text that the entry of this id can become, in the order of the values that stand in it.

    Raises TemplateError for a text that cannot be filled in.
    """
    written = " ".join(text for path, text in sources(words, file) if path == ident)
    asked = frozenset(find_undeclared_variables(_READER.parse(written)))
    texts: dict[str, None] = {}
    tested = frozenset(name for name in asked if re.search(rf"\b(?:if|elif|not) {name}\b", written))
    for scene in _scenes(file, ident, asked, words, tested=tested):
        if all(scene.get(name) != "" or name in tested for name in asked):
            texts |= dict.fromkeys(words.texts(file, ident, scene))
    return tuple(texts)


def every_sentence(words: Language) -> Iterator[tuple[str, str, tuple[str, ...]]]:
    """File, id and all that the entry can become, for every entry of the language in the order of its files."""
    for file in FILES:
        for ident in dict.fromkeys(ident for ident, _ in sources(words, file)):
            if file == "spoken" and ident in ("over", "plus", "between", "within"):
                continue  # what stands between words
            yield file, ident, filled(words, file, ident)


def _scenes(
    file: str, ident: str, asked: frozenset[str], words: Language, *, tested: frozenset[str]
) -> Iterator[Scene]:
    """Every way to give the names that are asked for their values; a number that nothing is `tested` for has one."""
    free = asked
    groups: list[tuple[Scene, ...]] = []
    if asked & OF_METER and file not in ("claims", "words"):
        groups.append(tuple(meter_scene(parse_meter(m), Conventions(), words) for m in METERS))
        free -= OF_METER
    if file in ("claims", "words"):
        groups.append(tuple(_amounts(file, ident, words)))
        free -= frozenset(groups[-1][0])
    if asked & {"rests", "one"}:
        mixed, plain = (words.pair("asks", f"offer.{kind}")[0] for kind in ("mixed", "notes"))
        groups.append(({"rests": False, "one": plain}, {"rests": True, "one": mixed}))
        free -= {"rests", "one"}
    for name in ("offer", "dotted", "shown", "marked"):
        if asked & {name, f"{name}s", f"{name}_kind"}:
            groups.append(tuple(_kinds(name, words)))
            free -= {name, f"{name}s", f"{name}_kind"}
    if "target" in asked:
        sides = [{"target": words.text("asks", f"target.{s}"), "asks_top": s == "top"} for s in ("top", "bottom")]
        groups.append((*sides, {"target": "", "asks_top": False}))
        free -= {"target", "asks_top"}
    for name in sorted(free):
        values = _values(name, file, ident, words)
        kept = values if name in tested or name not in COUNTS else values[-1:]
        groups.append(tuple({name: value} for value in kept))
    for chosen in product(*groups):
        yield {name: value for part in chosen for name, value in part.items()}


def _kinds(name: str, words: Language) -> Iterator[Scene]:
    for kind in KINDS if name in ("offer", "dotted") else KINDS[:2]:
        one, several = words.pair("asks", f"offer.{kind}")
        yield {name: one, f"{name}s": several, f"{name}_kind": kind}


def _amounts(file: str, ident: str, words: Language) -> Iterator[Scene]:
    """Numbers with what they count, beats and notes."""
    if ident.startswith("dotted"):
        yield from (
            {"name": name} for name in (*words.pair("words", "note.half"), *words.pair("words", "rest.quarter"))
        )
        return
    for meter in map(parse_meter, METERS):
        names = unit_names(meter, Conventions(), words)
        scene = meter_scene(meter, Conventions(), words)
        for number in _numbers(file, ident):
            shown, unit = number_text(number), names[number > 1]
            yield {
                **scene,
                "number": shown,
                "amount": amount(number, names, words),
                "lasts": amount(number, names, words),
                "holds_number": str(meter.top),
                "unit": scene["unit"] if file == "claims" else unit,
                "beats": scene["in_beats"],
                "name": words.texts("words", "number.names")[int(number)],
            }


def _numbers(file: str, ident: str) -> tuple[Fraction, ...]:
    """The numbers that may stand in an entry: parts of one, whole ones, or any."""
    if ident in ("number.part", "number.part_a", "number.half_of_one"):
        return AMOUNTS[:1]
    if ident == "number.amount_and_half" or (file == "claims" and ident not in ("fits", "fits-not", "lasts")):
        return tuple(number for number in AMOUNTS if number.denominator == 1)
    return AMOUNTS


def _values(name: str, file: str, ident: str, words: Language) -> tuple[object, ...]:
    if name == "shows":
        return SEEN
    if file == "spoken" and name in SPOKEN:
        values = SPOKEN[name](words)
        if name == "name":
            return values[1:] if ident == "alike" else values[:1]
        return (1, 2) if ident == "part" and name == "number" else values
    if name == "measures":
        return (1, 3)
    if name in TRUE_OR_FALSE:
        return (False, True)
    return TEXTS.get(name) or ((1, 2, 12) if name in COUNTS else ("...",))
