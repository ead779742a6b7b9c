"""A teacher's own words for one question: plain text in place of our stem or hints."""

from dataclasses import dataclass

from barwright.showing import shown

MOST_LETTERS = 400


@dataclass(frozen=True, slots=True)
class OwnWords:
    """What a student reads in place of ours; empty where the words are ours.

    `hint` is told after any answer that is not right; `hints` after one of them, by the text of the answer.
    """

    stem: str = ""
    hint: str = ""
    hints: tuple[tuple[str, str], ...] = ()

    @property
    def texts(self) -> tuple[str, ...]:
        """Every text of them."""
        return tuple(text for text in (self.stem, self.hint, *(text for _, text in self.hints)) if text)


OURS = OwnWords()


def own_text_fault(text: str) -> str:
    """What is wrong with a text of a teacher's own, and the mend; empty if nothing is.

    >>> own_text_fault("Which note is missing?"), own_text_fault("a\\tb")
    ('', "has a control character ('<U+0009>'): write it in one line of plain text")
    """
    strange = next((c for c in text if not c.isprintable()), None)
    if strange is not None:
        return f"has a control character ({shown(strange)}): write it in one line of plain text"
    if not text.strip():
        return "is empty: write a sentence, or leave it out"
    if len(text) > MOST_LETTERS:
        return f"has {len(text):,} letters, over {MOST_LETTERS}: shorten it"
    return ""
