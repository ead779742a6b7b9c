"""The quiz in words as the report shows it: misreadings in plain words, items with their pictures, answers."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cached_property

from barwright.items.form import FormItem
from barwright.results.answers import Asked
from barwright.tasks.diagnose.asked import AskedQuiz
from barwright.wording.items_in_words import item_scene
from barwright.wording.language import words_of
from barwright.wording.worded import WordedFigure, WordedForm, WordedItem


@dataclass(frozen=True, slots=True)
class ShownAnswer:
    """An answer as it is shown: texts and figures in a row."""

    pieces: tuple[str | WordedFigure, ...]


@dataclass(frozen=True, slots=True)
class Example:
    """An item with its right answer and one that was given; `students`: how many gave it."""

    number: str
    item: WordedItem
    right: ShownAnswer
    given: ShownAnswer
    students: int


class Words:
    """Looks up what a quiz says, and remembers which items are shown, so that only their pictures are drawn."""

    def __init__(self, quiz: AskedQuiz) -> None:
        self.quiz = quiz
        self.shown: dict[tuple[int, int], None] = {}
        self._places = {
            (form.ident, placed.item.id): (n, k)
            for n, form in enumerate(quiz.forms)
            for k, placed in enumerate(form.items)
        }
        self._whys: dict[str, str] = {}

    @cached_property
    def _scenes(self) -> dict[str, FormItem]:
        """An item for each misreading that some choice stands for: its sentence is about such an item."""
        scenes: dict[str, FormItem] = {}
        for form in self.quiz.forms:
            for placed in form.items:
                for choice in placed.item.choices:
                    for misreading in choice.misreadings:
                        scenes.setdefault(misreading, placed)
        return scenes

    @property
    def code(self) -> str:
        """The language of the quiz."""
        return self.quiz.forms[0].language

    def why(self, misreading: str) -> str:
        """A misreading in plain words for the teacher, without its full stop."""
        if misreading not in self._whys:
            placed = self._scenes.get(misreading) or self.quiz.forms[0].items[0]
            words = words_of(self.quiz.forms[0])
            scene = item_scene(placed.item, placed.number, words)
            self._whys[misreading] = words.text("misreadings", f"{misreading}.why", scene).removesuffix(".")
        return self._whys[misreading]

    def whys(self, misreadings: Iterable[str]) -> tuple[str, ...]:
        """Several in plain words."""
        return tuple(map(self.why, misreadings))

    def number(self, form: str, item: str) -> str:
        """The number of a question, with the letter of a variant."""
        n, k = self._places[form, item]
        question = self.quiz.sheets[n].questions[k]
        return f"{question.number}{question.variant}"

    def item(self, form: str, item: str) -> WordedItem:
        """An item that the report shows, in words."""
        place = self._places[form, item]
        self.shown.setdefault(place)
        return self.quiz.worded[place[0]].items[place[1]]

    def answer(self, form: str, item: str, text: str) -> ShownAnswer:
        """An answer, by its canonical text, as students see it; what nobody foresaw as it was typed."""
        n, k = self._places[form, item]
        placed, worded = self.quiz.forms[n].items[k], self.quiz.worded[n].items[k]
        order = [placed.item.choices[index].answer.text for index in placed.order]
        if text not in order:
            return ShownAnswer((text,))
        place = order.index(text)
        if worded.foreseen:
            choices = {choice.ident: choice for choice in worded.choices}
            if not worded.sequence:
                return ShownAnswer((worded.foreseen[place].text,))
            figures = [choices[ident].figure for ident in worded.foreseen[place].filled]
            pieces = [piece for figure in figures if figure is not None for piece in ("<", figure)]
            return ShownAnswer(tuple(pieces[1:]))
        choice = worded.choices[place]
        return ShownAnswer((choice.figure or choice.text,))

    def right(self, form: str, asked: Asked) -> ShownAnswer:
        """The right answer; where several are, all of them."""
        pieces = [self.answer(form, asked.id, key.answer.text).pieces for key in asked.offered if key.key]
        return ShownAnswer(tuple(piece for each in pieces for piece in each))

    def hint(self, form: str, item: str, misreadings: Iterable[str]) -> str:
        """What a student is told who answered by one of these misreadings; empty if the item has no such choice."""
        n, k = self._places[form, item]
        placed = self.quiz.forms[n].items[k]
        words = words_of(self.quiz.forms[n])
        for misreading in misreadings:
            if any(misreading in choice.misreadings for choice in placed.item.choices):
                scene = item_scene(placed.item, placed.number, words)
                return words.text("misreadings", f"{misreading}.feedback", scene)
        return ""

    def forms_shown(self) -> tuple[WordedForm, ...]:
        """The forms with only those items that are shown."""
        kept: dict[int, list[WordedItem]] = {}
        for n, k in self.shown:
            kept.setdefault(n, []).append(self.quiz.worded[n].items[k])
        return tuple(replace(self.quiz.worded[n], items=tuple(items)) for n, items in sorted(kept.items()))
