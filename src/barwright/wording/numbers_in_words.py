"""Numbers in words: as shown (1½), as typed (1 1/2, 1.5, one and a half), and with what they count (3 beats)."""

from collections.abc import Iterator
from fractions import Fraction

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
MOST_SPELLINGS = 64  # as many as for rows, see there (`counting.spellings`)


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


# A text and how odd it is: what students often type is 0 or 1 (common practice).
Typed = tuple[str, int]
FULL_STOP, WIDE = 4, 3
# Unicode, Halfwidth and Fullwidth Forms
_WIDE_DIGITS = {ord(digit): chr(ord(digit) + 0xFEE0) for digit in "0123456789"}
# The parts that have names, and where the language keeps them.
PARTS_IN_WORDS = {Fraction(1, 2): "half", Fraction(1, 4): "fourth", Fraction(3, 4): "three_fourths"}


def _decimals(whole: int, part: Fraction, mark: str) -> Iterator[Typed]:
    """`1.5`, `1,5` and `1.50`, or `.5` as well below 1; none where the decimals do not end (thirds)."""
    if 10000 % part.denominator:
        return
    digits = str(part * 10000).rjust(4, "0").rstrip("0")
    for start in [str(whole)] if whole else ["0", ""]:
        yield f"{start}{mark}{digits}", 1
        if start:
            yield f"{start}{',' if mark == '.' else '.'}{digits}", 3
        if len(digits) == 1:
            yield f"{start}{mark}{digits}0", 4


def before_unit(text: str, words: Language, *, beats: bool) -> str:
    """A number as it stands before what it counts: Spanish has `un pulso` and `una negra` for `uno`."""
    return words.text("words", "number.before_unit", {"name": text, "beats": beats})


def _names(whole: int, words: Language) -> tuple[str, ...]:
    """A whole number in words, alone and as it stands before beats and notes; digits for one without a word."""
    names = words.texts("words", "number.names")
    if whole >= len(names):
        return (str(whole),)
    return tuple(dict.fromkeys([names[whole], *(before_unit(names[whole], words, beats=b) for b in (True, False))]))


def bare_spellings(number: Fraction, words: Language) -> tuple[Typed, ...]:
    """Every way to type the number alone, and how odd each is."""
    whole, part = int(number // 1), number % 1
    names = _names(whole, words)
    mark = words.text("words", "number.decimal_mark")
    if not part:
        return (str(whole), 0), *((name, 1 + odd) for odd, name in enumerate(names)), (f"{whole}{mark}0", 3)
    spellings: list[Typed] = [(f"{whole} {part}" if whole else str(part), 0), *_decimals(whole, part, mark)]
    spellings += [(number_text(number), 1), (str(number), 2), (str(number).replace("/", " / "), 4)]
    if not whole:
        named = words.texts("words", f"number.{PARTS_IN_WORDS[part]}") if part in PARTS_IN_WORDS else ()
        return (*spellings, *((text, 1 + odd) for odd, text in enumerate(named)))
    if part in SIGNS:
        spellings.append((f"{whole} {SIGNS[part]}", 3))
    first, *others = words.texts("words", "number.joined")
    spellings += [(f"{whole} {first} {part}", 2), (f"{whole}-{part}", 3)]
    spellings += [(f"{whole}{space}{other}{space}{part}", 4) for other in others for space in (" ", "")]
    if part == Fraction(1, 2):
        ends = words.texts("words", "number.after_whole")
        spellings += [(f"{start} {end}", 2 + odd) for odd, end in enumerate(ends) for start in (*names, str(whole))]
    return tuple(spellings)


def _with_unit(
    number: Fraction, bare: tuple[Typed, ...], unit: tuple[str, str], words: Language, *, beats: bool
) -> Iterator[Typed]:
    """`2 beats`, `2 beat`, `2beats`; below one also `half a beat`, `1/2 of a beat`, `0.5 beats`; where a language puts
    what is counted before the half, `un pulso y medio`. `beats` is true where the unit is the beat, false for a note.
    """
    part = 0 < number < 1
    if number == Fraction(1, 2):
        yield words.text("words", "number.half_of_one", {"unit": unit[0], "beats": beats}), 0
    if number > 1 and number % 1 == Fraction(1, 2):
        whole = int(number)
        for odd, start in enumerate((before_unit(_names(whole, words)[0], words, beats=beats), str(whole))):
            names = {"number": start, "unit": unit[whole > 1], "beats": beats}
            if text := words.text("words", "number.amount_and_half", names):
                yield text, odd + 1
    for bare_text, odd in bare:
        text = before_unit(bare_text, words, beats=beats)
        if part:
            yield words.text("words", "number.part", {"number": text, "unit": unit[0]}), odd + 1
            yield words.text("words", "number.part_a", {"number": text, "unit": unit[0], "beats": beats}), odd + 4
        right = unit[number > 1 or not number]
        yield f"{text} {right}", odd + 1
        if part or right == unit[1]:
            yield f"{text} {unit[part]}", odd + (2 if part else 4)
        if text[-1:].isdecimal():
            yield f"{text}{right}", odd + 4


def number_spellings(number: Fraction, meter: Meter, conventions: Conventions, words: Language) -> tuple[str, ...]:
    """Every accepted way to type a number of bottom-number units, the likeliest first, at most 64.

    >>> from barwright.rhythm.meter import parse_meter
    >>> from barwright.wording.language import language
    >>> number_spellings(Fraction(2), parse_meter("3/4"), Conventions(), language("en-US"))[:4]
    ('2', 'two', '2 beats', 'two beats')
    """
    bare = bare_spellings(number, words)
    called: list[Typed] = []
    for odd, (unit, beats) in enumerate(_units(meter, conventions, words)):
        called += [(text, far + odd) for text, far in _with_unit(number, bare, unit, words, beats=beats)]
    near = sorted([*bare, *called], key=lambda typed: typed[1])
    stopped = [(f"{text}.", odd + FULL_STOP) for text, odd in near]
    wide = [(text.translate(_WIDE_DIGITS), odd + WIDE) for text, odd in bare]
    ordered = sorted([*near, *stopped, *wide], key=lambda typed: typed[1])
    spellings: dict[str, str] = {}  # platforms do not look at capitals
    for text, _ in ordered:
        spellings.setdefault(text.casefold(), text)
    return tuple(spellings.values())[:MOST_SPELLINGS]


def _units(meter: Meter, conventions: Conventions, words: Language) -> Iterator[tuple[tuple[str, str], bool]]:
    """What the units may be called, one and several, the usual names first; and whether they are called beats."""
    if counts_in_beats(meter, conventions):
        yield words.pair("words", "number.beat"), True
        yield words.pair("words", "number.count"), True
    yield words.pair("words", f"note.{NAMES[meter.unit]}"), False
    if meter.bottom == 8:
        yield words.pair("words", "number.eighth"), False
