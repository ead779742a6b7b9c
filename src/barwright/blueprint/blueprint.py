"""Blueprints: what a quiz must hold, read from TOML text with every fault told at once, by line."""

import json
from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from hashlib import sha256
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field

from barwright.asks import ASKS
from barwright.asks.ask import Ask, Space
from barwright.asks.class_style import Allowed, even_chances, style_of
from barwright.asks.own_rhythms import NOTHING_OWN, Own, own_of
from barwright.items.accommodations import Accommodation
from barwright.items.difficulty import FITTED, WEIGHTS, weights_for
from barwright.items.form import ALL_SECTIONS
from barwright.items.taught import Taught
from barwright.notation.legal_measures import Alphabet, Limits, alphabet
from barwright.rhythm.conventions import CONVENTION_NAMES, Conventions
from barwright.rhythm.meter import Meter, parse_meter
from barwright.rhythm.text import LETTERS
from barwright.rhythm.values import PLAIN

ValueName = Literal["whole", "half", "quarter", "eighth", "sixteenth"]
TripletName = Literal["eighth", "quarter"]
USUAL_LANGUAGE = "en-US"
MOST_LANGUAGES = 2  # what is shown in more is read by nobody
MOST_SECTIONS = 60
# Far above what a class is ever taught, or asked in one quiz; so all that is done for each of them has an end.
MOST_METERS = 12
MOST_PARTS = 40
MOST_ENTRIES = 40  # of any other list
MOST_EXCERPTS = 400


COMMON = ("conventions", "difficulty", "elements", "language", "part", "quiz", "title")

Prints = tuple[tuple[str, str], ...]
"""Keys of a blueprint, each with a short hash of its value."""


def _print(value: object) -> str:
    return sha256(json.dumps(_in_order(value), sort_keys=True).encode()).hexdigest()[:8]


def _in_order(value: object) -> object:
    """The value with its lists of words sorted: their order changes nothing."""
    if isinstance(value, dict):
        return {key: _in_order(each) for key, each in value.items()}
    if isinstance(value, list):
        return sorted(value) if all(isinstance(each, str) for each in value) else [_in_order(each) for each in value]
    return value


class Door(BaseModel):
    """Strict and frozen: a key that is not named here is a fault."""

    model_config = ConfigDict(strict=True, frozen=True, extra="forbid")


class Elements(Door):
    """The symbols and meters that the class has been taught; everything is off unless named."""

    meters: list[str] = Field(min_length=1, max_length=MOST_METERS)
    notes: list[ValueName] = Field(min_length=1)
    rests: list[ValueName] = []
    dots: list[ValueName] = []
    double_dots: list[ValueName] = []
    rest_dots: list[ValueName] = []
    triplets: list[TripletName] = []
    ties: bool = False
    syncopation: bool = False
    patterns: list[str] = []
    most_sounds: int | None = Field(default=None, ge=1, le=48)
    plain: bool = True
    allow: list[Allowed] = []


class Excerpts(Door):
    """The teacher's own rhythms, asked about before any drawn one."""

    rhythms: list[str] = Field(default=[], max_length=MOST_EXCERPTS)


class Quiz(Door):
    """How the quiz is given; see the topic `plan` of the help."""

    choices: int = Field(default=4, ge=3, le=5)
    fewer_choices: bool = True
    shuffle: bool = True
    points_per_item: int = Field(default=1, ge=1, le=100)
    feedback: bool = True
    credit: Literal["all-or-nothing", "per-choice"] = "all-or-nothing"
    draw: bool = False
    variants: int = Field(default=3, ge=2, le=10)
    hardest: int | None = Field(default=None, ge=1, le=1000)
    choice_labels: bool = True
    paper: Literal["letter", "a4"] = "letter"
    accommodations: list[Accommodation] = []


class Part(Door):
    """So many items of one ask."""

    family: str
    ask: str
    items: int = Field(ge=1, le=200)
    points: int | None = Field(default=None, ge=1, le=100)
    choices: int | None = Field(default=None, ge=3, le=5)
    measures: int | None = Field(default=None, ge=1, le=4)
    meters: list[str] | None = Field(default=None, min_length=1, max_length=MOST_METERS)
    misreadings: list[str] = []
    hardest: int | None = Field(default=None, ge=1, le=1000)


class Blueprint(Door):
    """A whole plan; `all_conventions` holds the class's conventions.

    `difficulty`: the weights that a file sets, and, once a bank's counts are taken in (`with_measured`), those as well.
    """

    title: str = Field(min_length=1, max_length=120)
    language: str | list[str] = USUAL_LANGUAGE
    wording: str | None = None
    seed: int = Field(default=1, ge=0)
    sections: list[str] = Field(default=[ALL_SECTIONS], min_length=1, max_length=MOST_SECTIONS)
    sections_file: str | None = None
    sections_column: str = "title"
    sections_where: dict[str, str] = {}
    avoid: str | None = None
    elements: Elements
    excerpts: Excerpts = Excerpts()
    excerpts_file: str | None = None
    conventions: dict[str, Any] = {}
    quiz: Quiz = Quiz()
    part: list[Part] = Field(min_length=1, max_length=MOST_PARTS)
    curriculum: dict[str, list[str]] = {}
    difficulty: dict[str, Annotated[int, Field(ge=0, le=100)]] = {}

    @property
    def languages(self) -> tuple[str, ...]:
        """The language of the forms, and the second one that they are shown in, if there is one."""
        return (self.language,) if isinstance(self.language, str) else tuple(self.language)

    @property
    def all_conventions(self) -> Conventions:
        """The conventions, defaults filled in."""
        return replace(Conventions(), **self.conventions)

    @property
    def measured(self) -> dict[str, int]:
        """The weights that were taken from a bank's counts; none if none were."""
        return {name: value for name, value in self.difficulty.items() if name not in WEIGHTS}

    def with_measured(self, measured: Mapping[str, int]) -> "Blueprint":
        """The plan with weights from a bank's counts, in place of any it had: those of its own asks."""
        own = {name: value for name, value in self.difficulty.items() if name in WEIGHTS}
        asks = {part.ask for part in self.part}
        of_mine = {k: v for k, v in measured.items() if k.startswith(FITTED) or k.split()[1] in asks}
        return self.model_copy(update={"difficulty": {**own, **of_mine}})

    @property
    def prints(self) -> Prints:
        """What forms of one quiz have in common, each with a hash: where two differ, the forms are not parallel."""
        plain = self.model_dump(include=set(COMMON), exclude_defaults=True)
        for outside in ("paper", "accommodations"):  # neither sheets nor versions of a form change a question
            plain.get("quiz", {}).pop(outside, None)
        plain |= {"difficulty": {**WEIGHTS, **self.difficulty}, "language": self.language}
        plain["conventions"] = {name: getattr(self.all_conventions, name) for name in CONVENTION_NAMES}
        return tuple((key, _print(plain.get(key, {}))) for key in COMMON)


@dataclass(frozen=True, slots=True)
class Plan:
    """One part ready to draw from: its ask, its space, and what is wanted of it. `number`: its place, from 1."""

    ask: Ask
    space: Space
    items: int
    points: int
    choices: int
    fewer_choices: bool
    focus: tuple[str, ...]
    weights: Mapping[str, int]
    own: Own = NOTHING_OWN
    number: int = 1


def taught_by(elements: Elements) -> Taught:
    """The tokens and meters of the elements, e.g. `h`, `q.`, `rq`; `rW` where the whole rest is taught."""
    letter = {name: each for each, name in LETTERS.items()}
    tokens = {letter[n] for n in elements.notes}
    tokens |= {letter[n] + "." for n in elements.dots}
    tokens |= {letter[n] + ".." for n in elements.double_dots}
    tokens |= {"r" + letter[n] for n in elements.rests if n != "whole"}
    tokens |= {"r" + letter[n] + "." for n in elements.rest_dots}
    tokens |= {letter[n] + "t" for n in elements.triplets}
    if "whole" in elements.rests:
        tokens.add("rW")
    meters = tuple(parse_meter(m) for m in elements.meters)
    return Taught(frozenset(tokens), elements.ties, meters, elements.syncopation)


def alphabet_of(elements: Elements) -> Alphabet:
    """The elements as the alphabet that measures are counted and drawn from."""

    def lengths(names: list[ValueName] | list[TripletName]) -> frozenset[Fraction]:
        return frozenset(PLAIN[n] for n in names)

    return alphabet(
        notes=lengths(elements.notes),
        rests=lengths(elements.rests),
        dotted_notes=lengths(elements.dots),
        double_dotted_notes=lengths(elements.double_dots),
        dotted_rests=lengths(elements.rest_dots),
        triplets=lengths(elements.triplets),
        ties=elements.ties,
    )


def plan_of(part: Part, blueprint: Blueprint) -> Plan:
    """The part with its ask and space looked up; the blueprint has been checked."""
    ask = ASKS[part.ask]
    taught = taught_by(blueprint.elements)
    meters: tuple[Meter, ...] = tuple(parse_meter(m) for m in part.meters) if part.meters else taught.meters
    measures = part.measures or ask.measures
    quiz = blueprint.quiz
    own = {name: blueprint.difficulty.get(name, usual) for name, usual in WEIGHTS.items()}
    limits = Limits(
        counted=ask.family == "count-labeling",
        readable=True,
        syncopation=taught.syncopation,
        sounding=measures == 1 or ask.family == "meter-identification",
        style=style_of(blueprint.elements, taught, own, hardest=part.hardest or quiz.hardest or 0),
    )
    space = Space(
        taught,
        alphabet_of(blueprint.elements),
        meters,
        blueprint.all_conventions,
        measures,
        limits,
        even=even_chances(blueprint.elements),
        tied_over=ask.id != "rhythm-for-time-signature",  # its wrong rhythms are put together measure by measure
    )
    choices = part.choices or quiz.choices
    if ask.answer == "meter" and quiz.fewer_choices:
        choices = min(choices, len(taught.meters))  # no more signatures than are taught can ever be offered
    points = part.points or quiz.points_per_item
    symbols = (
        ask.picture == "symbols" or ask.interaction == "order"
    )  # asked of symbols or groups: no excerpt shows them
    rhythms = () if symbols else blueprint.excerpts.rhythms
    excerpts = own_of(rhythms, space, sections=len(blueprint.sections))
    weights, focus = weights_for(part.ask, blueprint.difficulty), tuple(part.misreadings)
    number = next((n for n, each in enumerate(blueprint.part, start=1) if each is part), 1)
    return Plan(ask, space, part.items, points, choices, quiz.fewer_choices, focus, weights, excerpts, number)
