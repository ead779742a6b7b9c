"""Typed answers that an item cannot tell apart: what it makes of one of them, it makes of all."""

from collections.abc import Callable, Hashable, Iterable

Way = Callable[[str], str]  # how texts are made alike before they are compared


class Sight:
    """What an item sees of a text typed for one response: in which sets of texts it is, and what score it maps to.

    `whole` if it may see more than that; then no two texts are alike.
    """

    __slots__ = ("_scores", "_sets", "_sets_by_text", "whole")

    def __init__(self) -> None:
        self.whole = False
        self._sets = 0
        self._sets_by_text: dict[Way, dict[str, tuple[int, ...]]] = {}
        self._scores: list[Callable[[str], object]] = []

    def looks_up(self, texts: Iterable[str], way: Way) -> None:
        """The item looks whether the text is among these, which were made alike in that way."""
        by_text = self._sets_by_text.setdefault(way, {})
        self._sets += 1
        for text in texts:
            by_text[text] = (*by_text.get(text, ()), self._sets)

    def maps(self, score: Callable[[str], object]) -> None:
        """The item looks up a score for the text, one of a few objects that are kept as long as the item."""
        self._scores.append(score)

    def of(self, given: tuple[str, ...]) -> Hashable:
        """A key that is equal for answers to the response that the item cannot tell apart.

        >>> sight = Sight()
        >>> sight.looks_up(("half", "1/2"), str.lower)
        >>> sight.of(("Half",)) == sight.of(("1/2",)), sight.of(("1/2",)) == sight.of(("1",))
        (True, False)
        """
        if self.whole or len(given) != 1:
            return given
        (text,) = given
        sets = [by_text.get(way(text)) for way, by_text in self._sets_by_text.items()]
        return (True, *sets, *[id(score(text)) for score in self._scores])
