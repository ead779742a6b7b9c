"""What a student sees of an item without stem and figure: its choices in order, as printed."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache

from barwright.rhythm.text import parse_symbol
from barwright.rhythm.values import TICKS

BARLINE = "|"
# What is counted in every choice, in the order of `SeenChoice.counts`.
COUNTED = ("symbols", "notes", "rests", "dots", "ties", "parentheses", "hyphens", "ands", "numbers", "kinds")


@dataclass(frozen=True)
class SeenChoice:
    """One choice as printed.

    - `text`: what makes it the same choice in another item
    - `tokens`: its symbols, labels, numbers or words, in order, barlines too
    - `length`: how long it lasts in ticks (`rhythm.values.TICKS`); None where it is no rhythm
    - `counts`: how often each of COUNTED stands in it; `numbers` is the sum of all numbers, `kinds` how many different
      tokens there are
    """

    text: str
    tokens: tuple[str, ...]
    length: int | None
    counts: tuple[int, ...]

    def __hash__(self) -> int:
        """That of the text, which tells nearly all apart: whatever is remembered of choices asks for it."""
        return hash(self.text)

    @cached_property
    def size(self) -> int:
        """Length in ticks; of what is no rhythm the number of symbols."""
        return self.counts[0] if self.length is None else self.length

    @cached_property
    def letters(self) -> tuple[str, ...]:
        """The text letter by letter, signs too."""
        return tuple(self.text)


@dataclass(frozen=True)
class SeenItem:
    """Choices in their shown order, and which of them are right (`keys`, from 0), to be told after the pick.

    `one_length`: all right choices, and no others, have one length, as where a blank is filled; the student knows.
    """

    ask: str
    choices: tuple[SeenChoice, ...]
    keys: frozenset[int]
    one_length: bool = False

    @cached_property
    def options(self) -> tuple[tuple[int, ...], ...]:
        """The answers that can be whole and right, each as the choices that it picks.

        Several choices are right together if they have one length. Of single choices those that share their length
        cannot be right where `one_length` holds: they would both be.
        """
        singles = tuple((n,) for n in range(len(self.choices)))
        if not self.one_length:
            return singles
        groups: dict[int | None, list[int]] = {}
        for number, choice in enumerate(self.choices):
            groups.setdefault(choice.length, []).append(number)
        if self.several:
            return tuple(map(tuple, groups.values()))
        return tuple((group[0],) for group in groups.values() if len(group) == 1) or singles

    @cached_property
    def columns(self) -> tuple[tuple[int, ...], ...]:
        """How often each of COUNTED stands in the choices, one after the other."""
        return tuple(zip(*[choice.counts for choice in self.choices], strict=True))

    @property
    def several(self) -> bool:
        """Whether the student may tick any number of choices."""
        return self.ask in SEVERAL

    @property
    def right(self) -> int | None:
        """Which of the options is right; None if none is, as where the key shares its length with a wrong choice."""
        matching = [n for n, option in enumerate(self.options) if self.keys == frozenset(option)]
        return matching[0] if matching else None


SEVERAL = frozenset({"all-that-fit"})


@lru_cache(maxsize=1 << 15)
def seen_choice(kind: str, text: str) -> SeenChoice:
    """The choice whose answer has this kind and canonical text (see `items.model.AnswerKind`).

    >>> choice = seen_choice("symbols", "q. re")
    >>> choice.tokens, choice.length == TICKS // 2
    (('q.', 're'), True)
    >>> dict(zip(COUNTED, seen_choice("row", "1 (2-3)").counts, strict=True))["parentheses"]
    1
    """
    tokens = tuple(text.replace("/", " ").split()) if kind == "meter" else tuple(text.split())
    if kind in ("symbols", "measures"):
        return SeenChoice(text, tokens, sum(map(_ticks, tokens)), _rhythm_counts(tokens))
    return SeenChoice(text, tokens, _capacity(tokens) if kind == "meter" else None, _text_counts(text, tokens))


def _capacity(tokens: Sequence[str]) -> int:
    return TICKS * int(tokens[0]) // int(tokens[1])


@lru_cache(maxsize=1 << 10)
def _ticks(token: str) -> int:
    """Length of a printed symbol; the whole-rest sign alone is taken for four quarters, since no meter is seen."""
    if token == BARLINE:
        return 0
    value = parse_symbol(token).value
    return TICKS if value is None else value.ticks


def _rhythm_counts(tokens: Sequence[str]) -> tuple[int, ...]:
    symbols = [t for t in tokens if t != BARLINE]
    rests = sum(t.startswith("r") for t in symbols)
    text = "".join(symbols)
    # Parentheses, hyphens, "and" and numbers stand in no rhythm.
    return len(symbols), len(symbols) - rests, rests, text.count("."), text.count("~"), 0, 0, 0, 0, len(set(symbols))


def _text_counts(text: str, tokens: Sequence[str]) -> tuple[int, ...]:
    symbols = [t for t in tokens if t != BARLINE]
    silent = sum(t.startswith(("(", "R")) for t in symbols)
    numbers = sum(int(n) for n in _numbers(text))
    return (
        len(symbols),
        len(symbols) - silent,
        silent,
        0,
        0,
        text.count("("),
        text.count("-"),
        text.count("&"),
        numbers,
        len(set(symbols)),
    )


def _numbers(text: str) -> list[str]:
    return "".join(c if c.isdecimal() else " " for c in text).split()
