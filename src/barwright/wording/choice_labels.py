"""Short labels beside picture choices, so that a report without pictures still says which was picked.

Letters where the platform keeps the order of the choices. Where it mixes them a letter would stand for another place
with every student, so there each picture has a code of two consonants: no word, no count, no note, no syllable of a
counting system. A code is a hash of the item and of the place in the form, which tells nothing of the key.
"""

import hashlib
from dataclasses import replace
from string import ascii_uppercase

from barwright.wording.worded import WordedItem

# No vowels (words, syllables), nothing that looks like another sign, none of the letters that count choices (A to F).
CONSONANTS = "GHJKLMNPRTVX"


def choice_labels(item_id: str, choices: int, *, mixed: bool) -> tuple[str, ...]:
    """A label for each choice in shown order: A, B, C ..., or codes where the platform mixes the choices.

    No two codes of an item have the same first or the same second letter, so that one slip of the pen mixes up none.

    >>> choice_labels("9b6971f0d11fd7ec", 3, mixed=False)
    ('A', 'B', 'C')
    >>> choice_labels("9b6971f0d11fd7ec", 3, mixed=True)
    ('GM', 'XJ', 'NR')
    """
    if not mixed:
        return tuple(ascii_uppercase[:choices])
    letters = sorted(CONSONANTS, key=lambda letter: _hash(item_id, letter))
    shift = 1 + _hash(item_id, "shift")[0] % (len(letters) - 1)
    codes = [one + other for one, other in zip(letters, letters[shift:] + letters[:shift], strict=True)]
    return tuple(codes[:choices])


def labelled(item: WordedItem, *, mixed: bool) -> WordedItem:
    """The item with a label beside each of its choices that is a picture; `mixed`: the platform mixes the choices."""
    if not any(choice.figure for choice in item.choices):
        return item
    labels = choice_labels(item.item_id, len(item.choices), mixed=mixed)
    shown = zip(item.choices, labels, strict=True)
    return replace(item, choices=tuple(replace(c, label=label) if c.figure else c for c, label in shown))


def _hash(*parts: str) -> bytes:
    return hashlib.sha256("/".join(parts).encode()).digest()
