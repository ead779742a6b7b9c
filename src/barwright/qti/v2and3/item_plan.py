"""What the variables and rules of an item depend on, and no more: items that differ in words only share them."""

from dataclasses import dataclass
from fractions import Fraction

from barwright.items.item import Interaction
from barwright.qti.package_content import ShownItem, accepted
from barwright.wording.worded import WordedSlot

# The customary names; an item with drop-downs has one response for each of them.
RESPONSE = "RESPONSE"
SCORE = "SCORE"
FEEDBACK = "FEEDBACK"
GENERAL = "general"  # value for the feedback of an answer that has none of its own


@dataclass(frozen=True, slots=True)
class ScoredAnswer:
    """A choice, or for typed answers one that is foreseen, with all its spellings."""

    ident: str
    key: bool
    spellings: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class ItemPlan:
    """How an item is answered and scored.

    With `partial`, parts of an answer earn part of the points where it has parts. `told` names the choices that have
    feedback, the whole answers in `foreseen`, each with its choices place by place, and GENERAL.
    """

    interaction: Interaction
    points: int
    partial: bool
    answers: tuple[ScoredAnswer, ...]
    slots: tuple[WordedSlot, ...]
    sequence: tuple[str, ...]
    told: tuple[str, ...]
    foreseen: tuple[tuple[str, tuple[str, ...]], ...] = ()

    @property
    def keys(self) -> tuple[ScoredAnswer, ...]:
        """The right choices."""
        return tuple(a for a in self.answers if a.key)

    @property
    def share(self) -> Fraction:
        """The points that one right part of an answer earns: a ticked key, a filled slot, a place in the order."""
        return Fraction(self.points, len(self.slots) or len(self.sequence) or len(self.keys))

    @property
    def pairs(self) -> tuple[tuple[str, ...], ...]:
        """The right pairs of choice and gap, gap by gap; in a directed pair the dragged choice stands first."""
        return tuple(tuple(f"{key} {slot.ident}" for key in slot.keys) for slot in self.slots)

    def outcome(self, told: str) -> str:
        """The outcome that shows a feedback, by a value that is the same as in `told`.

        Feedback that can be shown beside another has an outcome of its own: that of a choice which belongs nowhere, and
        the general one where each ticked choice has its own.
        """
        if told == GENERAL:
            return f"{FEEDBACK}_{GENERAL}" if self.interaction == "several" else FEEDBACK
        return f"{FEEDBACK}_{told}" if told in self.astray else FEEDBACK

    @property
    def astray(self) -> tuple[str, ...]:
        """The choices with feedback that belong into no slot, where there are slots."""
        placed = {key for slot in self.slots for key in slot.keys}
        able = {answer.ident for answer in self.answers} - placed if self.slots else set()
        return tuple(told for told in self.told if told in able)


def plan_of(question: ShownItem, *, partial: bool) -> ItemPlan:
    """The plan of a question."""
    item = question.item
    typed = item.interaction == "entry"
    return ItemPlan(
        item.interaction,
        item.points,
        partial,
        tuple(ScoredAnswer(c.ident, c.key, accepted(c) if typed else ()) for c in item.choices),
        question.slots,
        item.sequence,
        tuple(told.name or GENERAL for told in question.feedback),
        tuple((told.whole, told.filled) for told in question.feedback if told.whole),
    )


def response_of(slot: WordedSlot) -> str:
    """The response of a drop-down.

    >>> response_of(WordedSlot("s2", ("c1",)))
    'RESPONSE_s2'
    """
    return f"{RESPONSE}_{slot.ident}"


def decimal(number: Fraction) -> str:
    """The number as a decimal with at most six places.

    >>> decimal(Fraction(30)), decimal(Fraction(-3, 2)), decimal(Fraction(2, 3))
    ('30', '-1.5', '0.666667')
    """
    return f"{float(number):.6f}".rstrip("0").rstrip(".")
