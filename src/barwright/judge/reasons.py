"""Every reason for which the judge refuses an item."""

# id -> what is wrong with the item. An id never changes: `make --verbose` counts refusals by it.
REASONS = {
    # how the item is made
    "unknown-ask": "the ask is not known",
    "wrong-kind": "an answer is of another kind than the ask wants",
    "unreadable-answer": "an answer text cannot be read",
    "not-canonical": "an answer text is not in its canonical spelling",
    "repeated-answer": "an answer text stands twice",
    "unsorted-choices": "the choices are not sorted by answer, so equal content would not be equal data",
    "unnamed-misreading": "a wrong choice names an empty misreading, or one twice",
    "too-few-keys": "fewer choices are keyed than the ask needs",
    "too-many-keys": "more choices are keyed than the ask allows",
    "too-few-choices": "fewer than three choices, two wrong ones beside several keys, or two orders",
    "too-many-choices": "a set has more than five choices",
    "wrong-target": "the target is missing, or given where the ask has none",
    "wrong-excerpt": "the excerpt lacks its blank or mark, or has one too many, or is not of the size asked about",
    # what the class has been taught, and how it is printed
    "untaught": "a symbol, note name, counting word, tie or syncopation that was not taught",
    "untaught-meter": "a meter that was not taught",
    "not-full": "a measure that is not exactly full",
    "illegal-notation": "a measure of the excerpt or of a figure that would not be printed so under the conventions",
    "dangling-tie": "a tie to nothing, or to a rest",
    "broken-triplet": "triplet members that do not make whole groups",
    "unprintable-choice": "a choice that no taught meter prints",
    # one defensible answer
    "key-not-right": "a keyed choice is wrong under the stated conventions",
    "key-not-printable": "a keyed filling has the right length but would not be printed there",
    "second-right-answer": "a choice that is not keyed is right under the stated conventions",
    "right-elsewhere": "a choice that is not keyed is right under other conventions",
    "wrong-by-taste": "a choice has the right length and is wrong only as notation",
    "same-total": "a wrong choice has the same total as the right answer, and no beams decide",
    "any-meter": "nothing but whole-rest signs, which are right in any meter",
    "open-ending": "a blank in a pickup, or in a last measure that a pickup may shorten",
    "unfillable-gap": "nothing down to sixteenth notes fills what is missing at the blank",
    "no-gap": "nothing is missing at the blank",
    "no-count": "the mark stands on a symbol that has no count of its own, or only that of a held note",
    "contradiction": "a statement whose verdict does not follow from its own numbers",
    "no-notes": "a statement about notes where the excerpt has none",
    "unsure-length": "a whole-rest sign among things to be ordered by length: it lasts a whole note or a measure",
    "mixed-group": "notes and rests in one group, where groups are compared by length",
    # no choice like another, none that stands out
    "not-aligned": "a row that has not one label, with a word in it, for each label of the right row",
    "too-few-slots": "fewer than two symbols have a label to be picked",
    "too-many-labels": "more than twelve different labels are on offer under each symbol",
    "other-groups": "an order is not of the three or four groups of the excerpt",
    "wrong-size": "a choice has more or fewer symbols or measures than are asked for",
    "same-print": "two choices look alike",
    "same-meaning": "two choices sound alike, or say the same",
    "same-length": "two choices of the same sort have the same wrong length",
    "other-order": "two choices are the same symbols in another order",
    "kind-tells-key": "the key alone is a note, a rest or a mixture",
    "length-tells-key": "the key is by far the longest or the shortest row",
}


def reason(ident: str, detail: str) -> str:
    """One reason as text: the id, then what in the item it is about.

    >>> reason("no-gap", "3/4 h q _")
    'no-gap: 3/4 h q _'
    """
    assert ident in REASONS, ident
    return f"{ident}: {detail}"
