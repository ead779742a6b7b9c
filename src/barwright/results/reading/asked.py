"""What was asked, in every word that a report may use for it: the side of the quiz when answers are read.

Made from forms in words by whoever knows them; here it is plain data, so that the reading needs no templates.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from barwright.items.item import AnswerKind, Interaction

How = Literal["identifier", "label", "text", "description", "file", "letter"]
"""How a cell names a choice: by its identifier in packages, the label beside its picture, its text, the alternative
text or the file of its picture, or by the letter of its place."""


@dataclass(frozen=True, eq=False)
class AskedOption:
    """One thing that a student can pick. `answer`: the canonical text of the answer, or of the part that is put in a
    place. `names`: what reports may call it, each as `texts.plain` gives it.
    """

    ident: str
    answer: str
    names: Mapping[How, str]


@dataclass(frozen=True, slots=True)
class AskedPlace:
    """A place of an answer that is put together, in the order of the row; `measure` from 0."""

    ident: str
    measure: int


@dataclass(frozen=True, eq=False)
class AskedQuestion:
    """One item of a form as reports may name it.

    `ident` in packages; `variant`: a letter where students get one of several; `stem` and `title` as `texts.plain`
    gives them. `typed`: for entries every foreseen spelling as `texts.plain` gives it, with the canonical answer.
    `wholes`: for answers that are put together every foreseen one, place by place as idents of options, with the
    canonical answer. `keys`: the canonical right answers. `mixed`: platforms may show the choices in another order.
    `own`: words and signs of the class's own counting in small letters, each with the one of its system.
    `left`: idents of the options that stay in a version with fewer choices (none: all); `left_out` of that with fewer
    items.
    """

    ident: str
    item: str
    number: int
    variant: str
    title: str
    stem: str
    interaction: Interaction
    kind: AnswerKind
    options: tuple[AskedOption, ...]
    keys: frozenset[str]
    mixed: bool = False
    places: tuple[AskedPlace, ...] = ()
    typed: Mapping[str, str] = field(default_factory=dict)
    own: Mapping[str, str] = field(default_factory=dict)
    wholes: Mapping[tuple[str, ...], str] = field(default_factory=dict)
    left: frozenset[str] = frozenset()
    left_out: bool = False

    @property
    def called(self) -> str:
        """How messages name it, e.g. `question 3`."""
        return f"question {self.number}{self.variant}"


@dataclass(frozen=True, eq=False)
class AskedSheet:
    """One form as it was given: `ident` is the form's, `name` what a teacher calls it (the section, and the retake).

    `fewer`: as the version with fewer choices has it.
    """

    ident: str
    section: str
    retake: int
    name: str
    questions: tuple[AskedQuestion, ...]
    fewer: bool = False


@dataclass(frozen=True, slots=True)
class Given:
    """One answer as it stands in a file: who, to which item of which form, in which of several attempts.

    `answer`: as in `Response`, empty where nothing was answered. `student` as the file names the student, `shown` the
    name in it if there is one. `attempt` sorts the attempts of a student; one that was not `final` counts only where
    none was. `fewer`: in the version of the form with fewer choices.
    """

    student: str
    shown: str
    form: str
    item: str
    answer: tuple[str, ...]
    attempt: tuple[int, str, int] = (0, "", 0)
    final: bool = True
    fewer: bool = False
