"""Numbers in words: as shown (1½), as typed (1 1/2, 1.5, one and a half), and with what they count (3 beats)."""

from collections.abc import Iterator
from fractions import Fraction
from functools import cache
from itertools import product

from barwright.rhythm.conventions import Conventions
from barwright.rhythm.meter import Meter
from barwright.rhythm.said_beats import counts_in_beats
from barwright.rhythm.values import NAMES
from barwright.wording.language import Language

# Unicode Standard, block Number Forms and Latin-1: the fractions with a sign of their own that rhythm needs.
SIGNS = {
    Fraction(1, 2): "½",
    Fraction(1, 4): "¼",
    Fraction(3, 4): "¾",
    Fraction(1, 8): "⅛",
    Fraction(3, 8): "⅜",
    Fraction(5, 8): "⅝",
    Fraction(7, 8): "⅞",
    Fraction(1, 3): "⅓",
    Fraction(2, 3): "⅔",
}
MOST_SPELLINGS = 48


def number_text(number: Fraction) -> str:
    """The number as shown: whole, with a fraction sign, or with a slash.

    >>> number_text(Fraction(3)), number_text(Fraction(3, 2)), number_text(Fraction(1, 16))
    ('3', '1½', '1/16')
    """
    whole, part = divmod(number, 1)
    if not part:
        return str(whole)
    if part in SIGNS:
        return f"{whole or ''}{SIGNS[part]}"
    return f"{whole} {part}" if whole else str(part)


def unit_names(meter: Meter, conventions: Conventions, words: Language) -> tuple[str, str]:
    """What bottom-number units are called, one and several: (beat, beats) or (eighth note, eighth notes)."""
    if counts_in_beats(meter, conventions):
        return words.pair("words", "number.beat")
    return words.pair("words", f"note.{NAMES[meter.unit]}")


def amount(number: Fraction, names: tuple[str, str], words: Language) -> str:
    """`3 beats`, `1 eighth note`, `0 beats`, `½ of a beat`."""
    pattern = "number.part" if 0 < number < 1 else "number.amount"
    unit = names[number > 1 or not number]
    return words.text("words", pattern, {"number": number_text(number), "unit": unit})


def _decimals(whole: int, part: Fraction, mark: str) -> list[str]:
    """`1.5` and `1,5`, or `.5` as well below 1; none where the decimals do not end (thirds)."""
    if 10000 % part.denominator:
        return []
    digits = str(part * 10000).rjust(4, "0").rstrip("0")
    marks = (mark, *(m for m in ".," if m != mark))
    return [f"{w}{m}{digits}" for m in marks for w in ([str(whole)] if whole else ["0", ""])]


def bare_spellings(number: Fraction, words: Language) -> tuple[str, ...]:
    """Every way to type the number alone, the usual one first."""
    whole, part = int(number // 1), number % 1
    names = words.texts("words", "number.names")
    name = names[whole] if whole < len(names) else str(whole)
    if not part:
        return str(whole), name
    found = [f"{whole} {part}" if whole else str(part)]
    found += _decimals(whole, part, words.text("words", "number.decimal_mark"))
    found += [number_text(number), str(number)]
    if part == Fraction(1, 2):
        tails = words.texts("words", "number.after_whole" if whole else "number.half")
        found += [f"{start} {tail}" for tail, start in product(tails, (name, str(whole)))] if whole else list(tails)
    return tuple(dict.fromkeys(found))


def _with_unit(number: Fraction, bare: tuple[str, ...], unit: tuple[str, str], words: Language) -> Iterator[str]:
    """`2 beats`; below one also `half a beat`, `1/2 of a beat`, `0.5 beats`."""
    if not 0 < number < 1:
        yield from (f"{text} {unit[number > 1]}" for text in bare)
        return
    of_one = [words.text("words", "number.part", {"number": text, "unit": unit[0]}) for text in bare]
    if number == Fraction(1, 2):
        yield words.text("words", "number.half_of_one", {"unit": unit[0]})
    yield from of_one
    yield from (f"{text} {one}" for one in unit for text in bare)


@cache
def number_spellings(number: Fraction, meter: Meter, conventions: Conventions, words: Language) -> tuple[str, ...]:
    """Every accepted way to type a number of bottom-number units, the usual one first, at most 48.

    >>> from barwright.rhythm.meter import parse_meter
    >>> from barwright.wording.language import language
    >>> number_spellings(Fraction(2), parse_meter("3/4"), Conventions(), language("en-US"))[:4]
    ('2', 'two', '2 beats', 'two beats')
    """
    bare = bare_spellings(number, words)
    units = [words.pair("words", f"note.{NAMES[meter.unit]}")]
    if counts_in_beats(meter, conventions):
        units.insert(0, words.pair("words", "number.beat"))
    if meter.bottom == 8:
        units.append(words.pair("words", "number.eighth"))
    called = [text for pair in units for text in _with_unit(number, bare, pair, words)]
    exact = (f"{number}{words.text('words', 'number.decimal_mark')}0",) if number.denominator == 1 else ()
    return tuple(dict.fromkeys([*bare, *called, *exact]))[:MOST_SPELLINGS]
