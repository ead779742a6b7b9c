"""How values from files and command lines are shown in messages: on one line, short, and without any sign that acts.

A file's name or content may hold what moves the cursor, turns the direction of a line, or ends it. Such signs are shown
as visible marks, by their number in Unicode.
"""

import unicodedata
from collections.abc import Iterable
from difflib import SequenceMatcher, get_close_matches

MOST_SHOWN = 60  # letters of a value in a message
MOST_OF_A_PATH = 200  # letters of a path in a message, whose end tells which file it is
MOST_DIGITS = 20
MOST_WORD = 80  # letters of a word that is compared with others
MOST_NAMED = 8  # names of a list that is told whole
NEAREST = 3
_BITS_A_DIGIT = 3  # at least so many


def visible(text: str) -> str:
    """The text on one line, signs that are not seen (controls, line ends, turned directions) as marks.

    >>> visible("a\\x1b[1mb")
    'a<U+001B>[1mb'
    """
    if text.isprintable():
        return text
    return "".join(c if c.isprintable() or unicodedata.category(c) == "Zs" else f"<U+{ord(c):04X}>" for c in text)


def cut(text: str, most: int = MOST_SHOWN) -> str:
    """The text, visible, and shortened to so many letters.

    >>> cut("abcdef", 3)
    'abc...'
    """
    return visible(text) if len(text) <= most else f"{visible(text[:most])}..."


def in_quotes(text: str) -> str:
    """A text as it stands in a message: in quotes, visible, and not too long.

    >>> in_quotes("half")
    "'half'"
    """
    return f"'{cut(text)}'"


def shown(value: object) -> str:
    """A value of a TOML or JSON file as its writer knows it, for messages.

    >>> shown("half"), shown(True), shown(None), shown([1, 2]), shown({})
    ("'half'", 'true', 'null', 'a list', 'a table')
    """
    if isinstance(value, str):
        return in_quotes(value)
    if value is None or isinstance(value, bool):
        return {None: "null", True: "true", False: "false"}[value]
    if isinstance(value, int):
        digits = abs(value).bit_length() // _BITS_A_DIGIT
        return f"a number of about {digits} digits" if digits > 3 * MOST_DIGITS else cut(f"{value}")
    if isinstance(value, list | tuple):
        return "a list"
    return "a table" if isinstance(value, dict) else cut(f"{value}")


def is_many(value: object) -> bool:
    """Whether a value is a list or a table, which is told by its kind and never whole."""
    return isinstance(value, list | tuple | dict)


def meant(word: str, known: Iterable[str], where: str) -> str:
    """How to mend an unknown name: the one that was meant, or what there is; `where` says where a long list stands.

    >>> meant("haff", ["half", "quarter"], "the help"), meant("x", ["half", "quarter"], "the help")
    (": did you mean 'half'?", ': use half, quarter')
    >>> meant("z", [f"name-{n}" for n in range(61)], "the help lists all")
    ': use one such as name-0, name-1 or name-10; the help lists all'
    """
    names = list(known)
    close = close_to(word, names)
    if close:
        return f": did you mean {in_quotes(close)}?"
    if len(names) <= MOST_NAMED:
        return f": use {', '.join(map(cut, names))}" if names else ""
    return f": use one such as {_either(map(cut, nearest(word, names)))}; {where}"


def close_to(word: str, names: Iterable[str]) -> str:
    """The name that a word is misspelt from, as it seems; empty if there is none.

    >>> close_to("haff", ["half", "quarter"])
    'half'
    """
    return next(iter(get_close_matches(word, sorted(names), n=1)), "") if len(word) <= MOST_WORD else ""


def nearest(word: str, names: Iterable[str]) -> list[str]:
    """The few names that look most like a word, the nearest first."""
    short = word[:MOST_WORD]
    return sorted(names, key=lambda name: (-_likeness(short, name[:MOST_WORD]), name))[:NEAREST]


def _likeness(word: str, name: str) -> int:
    """How many letters they have in common, in order."""
    return sum(block.size for block in SequenceMatcher(None, word, name, autojunk=False).get_matching_blocks())


def _either(names: Iterable[str]) -> str:
    *others, last = names
    return f"{', '.join(others)} or {last}" if others else last
