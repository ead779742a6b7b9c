"""Counting of the class's own: what is said on each place of a beat, and how rests and held notes are written.

Answers stay as the system has them; only what is shown, read aloud and typed is said in the class's words. So each word
and sign of the system has one of its own, and no two the same: another answer is never shown alike, and every row of
the class's leads back to one row of the system.
"""

import re
from collections.abc import Iterable, Mapping, Sequence
from types import MappingProxyType

from barwright.counting.labels import STROKE, rest_style
from barwright.counting.spellings import MOST_SPELLINGS
from barwright.counting.systems import SYSTEMS
from barwright.rhythm.conventions import Conventions, Counting
from barwright.wording.language import SYLLABLES, Language

# The places of a beat, by names for teachers, and our word for each: systems in which each place has a word of its own.
PLACES: Mapping[Counting, Mapping[str, str]] = MappingProxyType(
    {
        "numbers": {
            "second-quarter": "e",
            "half": "&",
            "fourth-quarter": "a",
            "second-third": "la",
            "last-third": "li",
            "sixths": "ta",
        },
        "takadimi": {
            "beat": "ta",
            "second-quarter": "ka",
            "half": "di",
            "fourth-quarter": "mi",
            "second-third": "ki",
            "last-third": "da",
            "second-sixth": "va",
            "last-sixth": "ma",
        },
    }
)
# How a rest is written, by an example of a system: its count between signs, or a word in place of the count. In
# Kodaly-style words sh alone says rest.
RESTS: Mapping[Counting, str] = MappingProxyType(
    {"numbers": "(2)", "takadimi": "(ta)", "gordon": "(du)", "eastman": "(2)", "kodaly": "sh"}
)
# How a note on 1 is written that is held through 2. Numbers alone join what is held.
HELD: Mapping[Counting, str] = MappingProxyType({"numbers": "1-2"})
REST, HOLD = "rest", "held"  # keys beside the places of a beat
# Signs that no row has otherwise, by their names in words.toml.
PAIRS: Mapping[str, str] = MappingProxyType({"()": "parentheses", "[]": "square", "{}": "curly", "<>": "angle"})
JOINS: Mapping[str, str] = MappingProxyType({"-": "hyphen", "~": "wave", "_": "line"})
OUR_PAIR, OUR_JOIN, OUR_REST = "()", "-", "R"
AND = "and"

MOST_LETTERS = 8
TAKEN = ("r", "sh", "shh", "rest", "and")  # what a row says otherwise
_WORD = re.compile(rf"(?:[^\W\d_]{STROKE}?)+|&{STROKE}?")


def own_examples() -> Mapping[Counting, Mapping[str, str]]:
    """All that a class may say otherwise, by system: each place of a beat, and how rests and held notes are written,
    with what we write.
    """
    told: dict[Counting, dict[str, str]] = {counting: dict(places) for counting, places in PLACES.items()}
    for key, examples in ((REST, RESTS), (HOLD, HELD)):
        for counting, example in examples.items():
            told.setdefault(counting, {})[key] = example
    return told


def syllable_fault(ident: str, text: str) -> str:
    """What is wrong with what a class says on a place of the beat, for a rest or for what is held, and the mend; empty
    if nothing is.

    `ident`: the system and the key.

    >>> syllable_fault("numbers.half", "te"), syllable_fault("numbers.half", "1 te")
    ('', "'1 te' is no syllable: write one word of letters, up to 8, or &")
    >>> syllable_fault("numbers.rest", "[2]"), syllable_fault("numbers.held", "1+2")
    ('', "'1+2' cannot be read: write a 1 held through 2 as 1-2, 1~2 or 1_2")
    """
    system, _, key = ident.partition(".")
    if key == HOLD:
        ways = [f"1{sign}2" for sign in JOINS]
        if text not in ways:
            return f"'{text[:20]}' cannot be read: write a 1 held through 2 as {', '.join(ways[:-1])} or {ways[-1]}"
        return ""
    if key == REST:
        return _rest_fault(text, next(counting for counting in RESTS if counting == system))
    if text != "&" and not _is_word(text):
        return f"'{text[:20]}' is no syllable: write one word of letters, up to {MOST_LETTERS}, or &"
    if text.casefold() in TAKEN:
        return f"'{text}' means something else in a row of counts: use another syllable"
    return ""


def _is_word(text: str) -> bool:
    return text.isalpha() and len(text) <= MOST_LETTERS


def _counted(counting: Counting) -> str:
    """The count in the example of a rest; empty where a word alone says rest."""
    return RESTS[counting][1:-1] if RESTS[counting].startswith("(") else ""


def _pair(text: str, counting: Counting) -> str:
    """The two signs about the count of a rest; empty if there are none that are known."""
    count, pair = _counted(counting), text[:1] + text[-1:]
    return pair if count and pair in PAIRS and text[1:-1] == count else ""


def _rest_fault(text: str, counting: Counting) -> str:
    if _pair(text, counting) or (_is_word(text) and text.casefold() != "and"):
        return ""
    count = _counted(counting)
    ways = ", ".join(f"{pair[0]}{count}{pair[1]}" for pair in PAIRS) if count else ""
    if not ways:
        return f"'{text[:20]}' cannot be read: write one word of letters, up to {MOST_LETTERS}"
    return f"'{text[:20]}' cannot be read: write a rest on {count} as {ways}, or as a word in place of the count"


def rest_misfit(text: str, conventions: Conventions) -> str:
    """Why a class that marks rests by these conventions cannot write them so, and the mend; empty if it can."""
    counting, style = conventions.counting, rest_style(conventions)
    kept = _pair(text, counting)
    if kept and style != "parentheses":
        return (
            f"'{text}' keeps the count, but the plan says rest_counts = \"{conventions.rest_counts}\": take the line "
            'out, or say rest_counts = "parentheses" in [conventions]'
        )
    if not kept and style != "R" and counting != "kodaly":
        return (
            f"'{text}' leaves the count out: say rest_counts = \"R\" in [conventions] of the plan, or write "
            f"[{_counted(counting)}]"
        )
    return ""


def _own(counting: Counting, words: Language) -> Mapping[str, str]:
    own: Mapping[str, str] = words.tables.get(SYLLABLES, {}).get(counting, {})
    return own


def own_syllables(counting: Counting, words: Language) -> Mapping[str, str]:
    """The words of a system that the class says otherwise, and what it says; nothing where it says ours."""
    own = _own(counting, words)
    said = {PLACES[counting][place]: text for place, text in own.items() if place not in (REST, HOLD)}
    rest = own.get(REST, "")
    if rest and not _pair(rest, counting):
        said |= {OUR_REST: rest} | ({RESTS[counting]: rest} if counting == "kodaly" else {})
    return said


def own_signs(counting: Counting, words: Language) -> Mapping[str, str]:
    """The signs of a row that the class writes otherwise, and what it writes; nothing where it writes ours."""
    own = _own(counting, words)
    pair, join = _pair(own.get(REST, ""), counting) or OUR_PAIR, own.get(HOLD, "1-2")[1]
    signs = dict(zip(OUR_PAIR + OUR_JOIN, pair + join, strict=True))
    return {ours: mine for ours, mine in signs.items() if ours != mine}


def sign_names(conventions: Conventions, words: Language) -> Mapping[str, str]:
    """What sentences call the signs about rests and the sign that holds, this sign, and the word for a rest.

    A sign that is not ours stands behind its name: a student who types needs to know it.
    """
    counting = conventions.counting
    own, signs = _own(counting, words), own_signs(counting, words)
    pair, join = _pair(own.get(REST, ""), counting) or OUR_PAIR, signs.get(OUR_JOIN, OUR_JOIN)
    rest = own_syllables(counting, words).get(OUR_REST, RESTS[counting] if counting == "kodaly" else OUR_REST)
    named = {
        "rest_signs": (PAIRS[pair], " ".join(pair), pair != OUR_PAIR),
        "hold_sign": (JOINS[join], join, join != "-"),
    }
    return {
        name: words.text("words", f"signs.{ident}") + (f" {sign}" if other else "")
        for name, (ident, sign, other) in named.items()
    } | {"hold_mark": join, "rest_word": rest}


def clash(counting: Counting, own: Mapping[str, str]) -> tuple[str, str] | None:
    """Two places of a system that would be said alike, the one that was changed first; None if there are none."""
    said: dict[str, str] = {}
    places = {**PLACES.get(counting, {}), **({REST: OUR_REST} if REST in own else {})}
    for place in sorted(places, key=lambda each: each in own):
        text = own.get(place, places[place]).casefold()
        if text in said:
            return place, said[text]
        said[text] = place
    fixed = {word: word for word in SYSTEMS[counting].words if word not in (*places.values(), RESTS[counting])}
    return next(((place, fixed[text]) for place, text in own.items() if text.casefold() in fixed), None)


def said(text: str, counting: Counting, words: Language) -> str:
    """A row, a count, or a list of words of a system, as the class says it.

    >>> from barwright.wording.language import words_for
    >>> own = words_for("en-US", (("en-US", "syllables", "numbers.half", ("te",)),))
    >>> said("1 & (2 &) | 3-4", "numbers", own)
    '1 te (2 te) | 3-4'
    """
    own, signs = own_syllables(counting, words), own_signs(counting, words)
    text = _WORD.sub(lambda found: _replaced(found[0], own), text) if own else text
    return text.translate({ord(ours): mine for ours, mine in signs.items()}) if signs else text


def _replaced(word: str, own: Mapping[str, str]) -> str:
    plain = word.replace(STROKE, "")
    new = own.get(plain, plain)
    return "".join(letter + STROKE for letter in new) if STROKE in word else new


def said_row(row: Sequence[Sequence[str]], counting: Counting, words: Language) -> tuple[tuple[str, ...], ...]:
    """The labels of a row as the class says them, measure by measure."""
    return tuple(tuple(said(label, counting, words) for label in measure) for measure in row)


def said_spellings(spellings: Iterable[str], counting: Counting, words: Language) -> tuple[str, ...]:
    """The ways to type a row as the class says it; ways that go with our words alone fall away.

    After those with the class's signs stand those with ours, which mean nothing else; as many as we have at most.
    The word for & is that of the language.
    """
    own, signs = own_syllables(counting, words), own_signs(counting, words)
    if (spelt := and_word(words)) != AND:
        spellings = [text.replace(AND, spelt) for text in spellings]
    if not own and not signs:
        return tuple(spellings)
    known = {*SYSTEMS[counting].words}
    sound = [
        text
        for text in spellings
        if not own
        or (
            all(word.replace(STROKE, "") in known or not word.islower() for word in _WORD.findall(text))
            and not ("&" in own and "+" in text)
        )
    ]
    mine = dict.fromkeys(said(text, counting, words) for text in sound)
    if signs:
        half = [*mine][: MOST_SPELLINGS // 2]
        back = str.maketrans({own_sign: sign for sign, own_sign in signs.items()})
        mine = dict.fromkeys((*half, *(text.translate(back) for text in half), *mine))
    return tuple(mine)[:MOST_SPELLINGS]


def and_word(words: Language) -> str:
    """How the sign & is said and spelt in a language."""
    return words.text("paper", "row.and")


def in_system(counting: Counting, words: Language) -> Mapping[str, str]:
    """Each word and sign of the class's own, in small letters, with the system's for it: the way back of `said`.

    The word for & of the language is among them.
    """
    own = {**own_syllables(counting, words), **own_signs(counting, words)}
    spelt = and_word(words)
    return ({} if spelt == AND else {spelt: "&"}) | {text.casefold(): ours for ours, text in own.items()}
