"""What tells students the key though nobody asked: identifiers, file names, alternative texts, titles.

A word gives the key away only if it parts the right choices from the wrong ones; a word that all share does not.
"""

import re
from collections.abc import Iterator, Sequence
from itertools import groupby

from barwright.check.reading.package_model import ReadChoice, ReadItem, ReadResponse
from barwright.check.rules.findings import Finding, Place
from barwright.check.rules.package_part import MOST_SHOWN

# Words that say of a choice that it is right or wrong; English and Spanish, the languages of our schools.
_TELLING_WORDS = (
    "correct incorrect right wrong key answer solution true false distractor distracter decoy foil lure good bad ok "
    "yes no misconception misreading mistake error correcta correcto incorrecta incorrecto clave respuesta solucion "
    "verdadero falso"
)
_TELLING = frozenset(_TELLING_WORDS.split())
# In a text that is read aloud only what can mean nothing else: "right hand" and "key" are music.
_TOLD_ALOUD = re.compile(
    r"\b((in)?correct|wrong (answer|choice)|right (answer|choice)|answer key|distractor|the answer is|(in)?correct[ao]|"
    r"respuesta correcta)\b",
    re.IGNORECASE,
)
_WORD = re.compile(r"[^\W\d_]+")
_MOST_CHOICES = 40
_LEAST_TITLE = 3  # characters of a key that a title may not hold
_LEAST_ITEMS = 6  # items after which the same identifier for every key is no chance (4 choices: 1 in 1,024)


def tells_aloud(text: str) -> str:
    """What in a text that is read aloud says that something is right or wrong; empty if nothing does.

    >>> tells_aloud("Use your right hand."), tells_aloud("It is the correct one.")
    ('', 'correct')
    """
    told = _TOLD_ALOUD.search(text)
    return told[0] if told else ""


def giveaways(item: ReadItem) -> Iterator[Finding]:
    """What gives the key of one item away."""
    place = Place(item.file, item.line, item.ident[:MOST_SHOWN])
    for picture in item.pictures:
        told = tells_aloud(picture.alt or "")
        if told:
            what = f"the alternative text {(picture.alt or '')[:80]!r} says {told!r}"
            yield Finding("alt-gives-away", place, what)
    for response in item.responses:
        right, wrong = _parted(response)
        if not right or not wrong or len(response.choices) > _MOST_CHOICES:
            continue
        word = _telling([(c.ident,) for c in right], [(c.ident,) for c in wrong])
        if word and not _true_or_false(response):
            yield Finding("ident-gives-away", place, f"{word!r} in the identifiers parts right choices from wrong ones")
        files = [[_file_names(c) for c in side] for side in (right, wrong)]
        word = _telling(*files) if all(f for side in files for f in side) else ""
        if word:
            yield Finding("file-gives-away", place, f"{word!r} in the file names parts right choices from wrong ones")
        yield from _title(item, right, wrong, place)
        yield from _words_of_stem(item, right, wrong, place)


def always_same_key(items: Sequence[ReadItem]) -> Iterator[Finding]:
    """A finding if all of many questions with one right choice have the same identifier for it."""
    single = [r for i in items for r in i.responses if r.kind == "choice" and len(r.keys) == 1 and len(r.choices) > 2]
    keys = [r.keys[0] for r in single]
    if len(keys) >= _LEAST_ITEMS and len(list(groupby(keys))) == 1:
        what = f"in all {len(keys)} items the right choice is {keys[0][:40]!r}"
        yield Finding("always-same-key", Place(items[0].file), what)


def _parted(response: ReadResponse) -> tuple[list[ReadChoice], list[ReadChoice]]:
    if response.kind not in ("choice", "several", "inline"):
        return [], []
    right = [c for c in response.choices if c.ident in response.keys]
    return right, [c for c in response.choices if c.ident not in response.keys]


def _true_or_false(response: ReadResponse) -> bool:
    """Whether the identifiers repeat what the choices say: "true" and "false" for True and False."""
    return all(c.ident.casefold() == c.shown.text.casefold() for c in response.choices) or (
        len(response.choices) == 2 and {c.ident.casefold() for c in response.choices} <= {"true", "false", "t", "f"}
    )


def _file_names(choice: ReadChoice) -> tuple[str, ...]:
    return tuple(p.path.rpartition("/")[2] for p in choice.shown.pictures if p.path)


def _words(names: tuple[str, ...]) -> frozenset[str]:
    spaced = (re.sub(r"(?<=[a-z])(?=[A-Z])", " ", n) for n in names)
    return frozenset(w.casefold() for n in spaced for w in _WORD.findall(n)) & _TELLING


def _telling(right: Sequence[tuple[str, ...]], wrong: Sequence[tuple[str, ...]]) -> str:
    """A telling word that all of one side have and none of the other; empty if there is none."""
    sides = [[_words(names) for names in side] for side in (right, wrong)]
    for mine, others in (sides, sides[::-1]):
        shared = frozenset.intersection(*mine) - frozenset.union(*others)
        if shared:
            return min(shared)
    return ""


def _title(item: ReadItem, right: list[ReadChoice], wrong: list[ReadChoice], place: Place) -> Iterator[Finding]:
    if _names_only(item.title, right, wrong):
        yield Finding("title-gives-away", place, f"the title {item.title[:80]!r} holds the right answer only")


def _words_of_stem(item: ReadItem, right: list[ReadChoice], wrong: list[ReadChoice], place: Place) -> Iterator[Finding]:
    for picture in item.stem.pictures:
        if picture.alt and _names_only(picture.alt, right, wrong):
            what = f"the alternative text {picture.alt[:80]!r} holds the text of the right choice only"
            yield Finding("alt-gives-away", place, what)


def _names_only(text: str, right: list[ReadChoice], wrong: list[ReadChoice]) -> bool:
    """Whether a text holds the words of a right choice and of no wrong one."""
    keys, others = ([c.shown.text.casefold() for c in side if c.shown.text] for side in (right, wrong))
    plain = f" {' '.join(text.casefold().split())} "

    def held(words: str) -> bool:
        return len(words) >= _LEAST_TITLE and re.search(rf"(?<!\w){re.escape(words)}(?!\w)", plain) is not None

    return any(held(k) for k in keys) and not any(held(o) for o in others)
