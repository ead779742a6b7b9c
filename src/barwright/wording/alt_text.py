"""Alternative text: the language-free description of a figure put into words.

Source of the rules: text alternatives that do not give the answer away, WCAG 2.2 success criterion 1.1.1; wording,
common practice.
"""

from collections.abc import Iterator
from functools import cache

from barwright.notation.description import Word, described
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Figure
from barwright.wording.language import Language

GROUPS = {"beam": "beam-end", "triplet": "triplet-end"}
DOTTED = {1: "dotted.one", 2: "dotted.two"}


@cache
def number_word(number: int, words: Language) -> str:
    """`two`; digits for a number that the language has no word for."""
    names = words.texts("words", "number.names")
    return names[number] if number < len(names) else str(number)


@cache
def symbol_name(kind: str, name: str, number: int, dots: int, words: Language) -> str:
    """`dotted half note`, `two quarter rests`."""
    phrase = words.pair("words", f"{kind}.{name}")[number > 1]
    if dots:
        phrase = words.text("words", DOTTED[dots], {"name": phrase})
    if number > 1:
        phrase = words.text("spoken", "alike", {"number": number_word(number, words), "name": phrase})
    return phrase


def _symbols(told: Iterator[Word], words: Language, end: str = "") -> Iterator[str]:
    """Each symbol or group in words, up to the word `end` or the end of the measure."""
    marked = False
    waiting = ""
    for word in told:
        if waiting and word.kind != "tie":
            yield waiting
        if word.kind == "tie":
            yield words.text("spoken", "tie", {"name": waiting})
        waiting = ""
        if word.kind == end:
            return
        if word.kind == "marked":
            marked = True
        elif word.kind in GROUPS:
            inside = words.spacing("spoken", "within").join(_symbols(told, words, GROUPS[word.kind]))
            yield words.text("spoken", word.kind, {"symbols": inside})
        elif word.kind in ("blank", "barline"):
            waiting = words.text("spoken", word.kind)
        elif word.kind in ("note", "rest"):
            name = symbol_name(word.kind, word.name, *word.numbers, words)
            waiting = words.text("spoken", "marked", {"name": name}) if marked else name
            marked = False
    if waiting:
        yield waiting


def _measure(told: tuple[Word, ...], words: Language) -> str:
    """The symbols of one measure, and the counts if they are printed."""
    symbols = words.spacing("spoken", "between").join(_symbols(iter(told), words))
    counts = [word.name for word in told if word.kind == "counts"]
    return words.text("spoken", "counts", {"symbols": symbols, "counts": counts[0]}) if counts else symbols


def _signature(numbers: tuple[int, ...], words: Language) -> str:
    plus, over = words.spacing("spoken", "plus"), words.spacing("spoken", "over")
    return plus.join(map(str, numbers[:-1])) + over + str(numbers[-1])


def spoken(figure: Figure, conventions: Conventions, words: Language) -> str:
    """What a blind student is told of a figure: what a sighted one sees, in order, never totals, beats or places.

    >>> from barwright.rhythm.text import parse_excerpt
    >>> from barwright.wording.language import language
    >>> spoken(Figure(parse_excerpt("3/4 h _")), Conventions(), language("en-US"))
    'One measure, time signature 3 over 4: half note, blank.'
    """
    told = described(figure, conventions)
    head = {word.kind: word.numbers for word in told if word.kind in ("measures", "signature")}
    body = tuple(word for word in told if word.kind not in head)
    starts = [place for place, word in enumerate(body) if word.kind == "measure"]
    names: dict[str, object] = {"signature": _signature(head["signature"], words) if "signature" in head else ""}
    if "measures" in head:
        (number,) = head["measures"]
        one, several = words.texts("spoken", "measure", {"number": number_word(number, words)})
        names["measures"] = several if number > 1 else one
    ends = (*starts[1:], len(body))[: len(starts)]
    parts = [(body[s].numbers[0], _measure(body[s + 1 : e], words)) for s, e in zip(starts, ends, strict=True)]
    names["parts"] = " ".join(words.text("spoken", "part", {"number": n, "symbols": s}) for n, s in parts)
    names["symbols"] = _measure(body[: starts[0]] if starts else body, words)
    pattern = "several" if starts else "single" if "measures" in head else "fragment"
    if figure.frame == "after":
        pattern = "after"
    text = words.text("spoken", pattern, names)
    return text[0].upper() + text[1:]
