"""What a student says of a number of the time signature who mixes up the jobs of both, and errs about the other, too.

Asked what the one number tells, this student says what another error makes of the other number.
"""

from collections.abc import Iterable, Iterator

from barwright.misreadings import MISREADINGS
from barwright.misreadings.answers import claims
from barwright.misreadings.belief import Misreading
from barwright.misreadings.pairs import Pair, pair_of
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Excerpt

MIXED_UP = "jobs-of-the-numbers-mixed-up"
OTHER = {"top": "bottom", "bottom": "top"}


def pair_claims(
    misreadings: Iterable[Misreading], excerpt: Excerpt, target: str, conventions: Conventions
) -> Iterator[tuple[Pair, str]]:
    """Each wrong statement about the number that `target` names, with the pair that leads to it.

    Statements that one misreading alone leads to are not told: a pick of them says nothing of a pair.

    >>> from barwright.rhythm.text import parse_excerpt
    >>> both = [MISREADINGS["steps-between-the-beats-counted"], MISREADINGS[MIXED_UP]]
    >>> [(pair.id, text) for pair, text in pair_claims(both, parse_excerpt("3/4 h q"), "bottom", Conventions())]
    [('steps-between-the-beats-counted+jobs-of-the-numbers-mixed-up', 'how-many 2')]
    """
    held = tuple(misreadings)
    mixed_up = MISREADINGS[MIXED_UP]
    if mixed_up not in held:
        return
    known = {text for m in held for text in claims(m, excerpt, target, conventions)}
    for m in held:
        pair = pair_of(m, mixed_up)
        for text in () if pair is None else claims(m, excerpt, OTHER[target], conventions):
            if pair is not None and text not in known:
                yield pair, text
