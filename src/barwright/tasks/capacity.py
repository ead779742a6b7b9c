"""`capacity`: how many different items each part can give, and how many sections that serves."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import combinations
from pathlib import Path
from random import Random

from barwright.asks import ASKS
from barwright.asks.ask import Question
from barwright.asks.drawn_excerpts import can_sound, readable_count
from barwright.blueprint.blueprint import Blueprint, Plan, plan_of
from barwright.blueprint.parsing import read_blueprint, told
from barwright.blueprint.toml_lines import Fault
from barwright.errors import BlueprintError
from barwright.forms.item_making import makes_an_item
from barwright.forms.questions import own_questions
from barwright.rhythm.text import format_excerpt
from barwright.showing import shown
from barwright.tasks.excerpts import with_excerpts
from barwright.tasks.files import read_text
from barwright.tasks.progress import Progress, silent
from barwright.tasks.sections import with_sections

# So many questions of a part are all built, found among at most so many excerpts; of more, so many drawn ones are.
MOST_LISTED = 4_000
MOST_DRAWN = 1_000
# The work on a blueprint is bounded in steps, each about a tenth of a millisecond: counts, and no clock, so that the
# answer is the same on every machine. A question takes some for each symbol that is taught and each that it shows.
MOST_STEPS = 40_000
SHARE = 64  # a question with so many symbols taught times so many shown (and a few more) is a step
FEW_MORE = 10
DEAR = {"rhythm-for-counts": 16, "rhythm-for-time-signature": 4}  # they look for whole rhythms
MOST_COMBINED = 12  # groups of parts of which every choice is looked at together


@dataclass(frozen=True, slots=True)
class PartCapacity:
    """What one part can give.

    `wanted` is how many items a form needs of it, variants included; `measures` the exact number of legal, readable
    measures of its meters, `excerpts` of different excerpts, `able` those that give an item, `ideas` how many items one
    form can hold. `exact` is False where not all questions were tried, since there are more than MOST_LISTED, or too
    many for the part's steps: then the last three are lower bounds, from at most MOST_DRAWN draws. `steps` is the work
    that was done.
    """

    number: int
    ask: str
    wanted: int
    measures: int
    excerpts: int
    able: frozenset[str]
    ideas: int
    exact: bool
    steps: int = 0

    @property
    def items(self) -> int:
        """Different excerpts that give an item."""
        return len(self.able)

    @property
    def sections(self) -> int:
        """How many sections can have this part without a common excerpt, if it were alone."""
        return self.items // self.wanted


@dataclass(frozen=True, slots=True)
class Served:
    """How many sections can have a quiz without a common excerpt, and the parts that allow no more together."""

    sections: int
    parts: tuple[PartCapacity, ...]

    @property
    def exact(self) -> bool:
        """Whether these parts cannot give more than was built."""
        return all(part.exact for part in self.parts)


def capacity(
    path: Path, *, most_steps: int = MOST_STEPS, progress: Progress = silent
) -> tuple[Blueprint, tuple[PartCapacity, ...]]:
    """The capacity of every part of a blueprint file; BlueprintError with all its faults.

    `most_steps` bounds the work on all parts together. `progress` is told what is looked at, how many so far, and of
    how many at most.
    """
    blueprint, source = read_blueprint(read_text(path), str(path))
    blueprint = with_excerpts(blueprint, path)
    if faults := list(meter_faults(blueprint)):
        raise BlueprintError(told(faults, source))
    blueprint = with_sections(blueprint, path)
    variants = variants_of(blueprint)
    parts = []
    left, known = most_steps, dict[object, PartCapacity]()
    for number, part in enumerate(blueprint.part, start=1):
        progress("parts", number - 1, len(blueprint.part))
        plan = plan_of(part, blueprint)
        alike = (plan.ask.id, plan.space, plan.choices, plan.focus)
        if alike not in known:
            share = left // (len(blueprint.part) - number + 1)
            known[alike] = part_capacity(number, plan, variants=variants, most_steps=share, progress=progress)
            left -= known[alike].steps
        parts.append(replace(known[alike], number=number, wanted=plan.items * variants))
    progress("parts", len(parts), len(parts))
    return blueprint, tuple(parts)


def variants_of(blueprint: Blueprint) -> int:
    """How many items stand in each place of a form."""
    return blueprint.quiz.variants if blueprint.quiz.draw else 1


def part_capacity(
    number: int,
    plan: Plan,
    *,
    variants: int = 1,
    enough: int | None = None,
    most_steps: int | None = None,
    progress: Progress = silent,
) -> PartCapacity:
    """Counts by building the item of every question, or of drawn ones where there are too many.

    With `enough` it stops at so many items, and looks at drawn questions first: mostly they will do. With `most_steps`
    it stops after so much work.
    """
    measures = sum(readable_count(plan.space, meter) for meter in plan.space.meters)
    built = _Built(plan, variants, enough, most_steps)
    exact = False
    if enough is not None and measures:
        built.look_at(_drawn(plan, 4 * enough), lambda _done: None)
    if not built.full:
        listed = _listed(plan, lambda so_far: progress(f"part {number}, finding questions", so_far, MOST_LISTED))
        exact = listed is not None and (most_steps is None or sum(steps_of(plan, q) for q in listed) <= most_steps)
        questions = listed if listed is not None and exact else _drawn(plan, MOST_DRAWN)
        count = len(listed) if listed is not None and exact else MOST_DRAWN
        built.look_at(questions, lambda done: progress(f"part {number}, questions", done, count))
    counts = len(built.excerpts), frozenset(built.able), len(built.ideas)
    return PartCapacity(number, plan.ask.id, plan.items * variants, measures, *counts, exact, built.steps)


def steps_of(plan: Plan, question: Question | None) -> int:
    """How much work one question is, in steps; a draw without one is a step."""
    if question is None:
        return 1
    size = len(plan.space.alphabet.tokens) * (len(question.excerpt.symbols) + FEW_MORE)
    return 1 + size * DEAR.get(plan.ask.id, 1) // SHARE


@dataclass(slots=True)
class _Built:
    """The excerpts of the questions that were looked at, those that give an item, and the ideas of these."""

    plan: Plan
    variants: int
    enough: int | None
    most_steps: int | None
    excerpts: set[str] = field(default_factory=set)
    able: set[str] = field(default_factory=set)
    ideas: set[str] = field(default_factory=set)
    steps: int = 0

    @property
    def full(self) -> bool:
        """Whether that is as many as are needed."""
        return self.enough is not None and min(len(self.ideas) * self.variants, len(self.able)) >= self.enough

    def look_at(self, questions: Iterable[Question | None], tell: Callable[[int], None]) -> None:
        """Builds the items of these questions, until there are enough; None is a draw without one."""
        for looked, question in enumerate(questions, start=1):
            self.steps += steps_of(self.plan, question)
            if question is not None:
                self._build(question)
            if self.full or (self.most_steps is not None and self.steps >= self.most_steps):
                return
            tell(looked)

    def _build(self, question: Question) -> None:
        text = format_excerpt(question.excerpt)
        idea = _idea(self.plan, text, question.target)
        self.excerpts.add(text)
        if (text not in self.able or idea not in self.ideas) and makes_an_item(self.plan, question, Random(text)):
            self.able.add(text)
            self.ideas.add(idea)


def _listed(plan: Plan, tell: Callable[[int], None]) -> list[Question] | None:
    """All questions of a part; None where there are too many to list, or to look for."""
    if not plan.ask.lists_all(plan.space):
        return None
    questions = dict.fromkeys(own_questions(plan))
    for question in plan.ask.listed(plan.space):
        if len(questions) == MOST_LISTED:
            return None
        questions[question] = None
        tell(len(questions))
    return list(questions)


def _drawn(plan: Plan, count: int) -> Iterator[Question | None]:
    """So many draws, one by one: None for one that gives no question, or one that was drawn before."""
    rng = Random(f"{plan.ask.id} {plan.space.alphabet.tokens}")
    own = own_questions(plan)
    yield from own
    seen = set(own)
    for _ in range(count):
        question = plan.ask.draw(plan.space, rng)
        yield None if question in seen else question
        if question is not None:
            seen.add(question)


def _idea(plan: Plan, excerpt: str, target: str) -> str:
    """What makes two items of one form different; what a number says is one question for each number and meter."""
    return f"{excerpt.split(' ')[0]} {target}" if "number" in plan.ask.cues else excerpt


def served(parts: Sequence[PartCapacity]) -> Served:
    """How many sections the parts serve together: no two sections have a common excerpt, nor two items of a form.

    By the marriage theorem (Hall 1935) it is the least, over all choices of parts, of the excerpts that any of them can
    use by what all of them need for a section. Parts with the same excerpts are taken together.
    """
    groups: dict[frozenset[str], list[PartCapacity]] = {}
    for part in parts:
        groups.setdefault(part.able, []).append(part)
    most = len(groups) if len(groups) <= MOST_COMBINED else 2
    sizes = sorted({*range(1, most + 1), len(groups)})
    choices = (choice for size in sizes for choice in combinations(groups.values(), size))
    return min((_together([p for group in choice for p in group]) for choice in choices), key=lambda s: s.sections)


def _together(parts: Sequence[PartCapacity]) -> Served:
    able = frozenset[str]().union(*(part.able for part in parts))
    return Served(len(able) // sum(part.wanted for part in parts), tuple(sorted(parts, key=lambda p: p.number)))


def capacity_table(parts: tuple[PartCapacity, ...], sections: int) -> tuple[str, ...]:
    """A table for the teacher: one line a part, and a last line that says what binds."""
    lines = [f"{'part':<5}{'ask':<28}{'measures':>10}{'excerpts':>10}{'items':>10}{'a form':>8}{'sections':>10}"]
    for part in parts:
        least = "" if part.exact else "+"
        lines.append(
            f"{part.number:<5}{part.ask:<28}{part.measures:>10,}{f'{part.excerpts:,}{least}':>10}"
            f"{f'{part.items:,}{least}':>10}{part.wanted:>8}{f'{part.sections:,}{least}':>10}"
        )
    lines.append(verdict(parts, sections))
    if not all(p.exact for p in parts):
        lines.append(
            f"+ at least so many: there are more questions than can be tried in a short time, and up to "
            f"{MOST_DRAWN:,} of "
            "such a part were. Measures are exact."
        )
    return tuple(lines)


def verdict(parts: Sequence[PartCapacity], sections: int) -> str:
    """How many sections the parts serve together, in words, where there are so many."""
    bound = served(parts)
    if bound.sections >= sections:
        return f"{sections} {'section needs' if sections == 1 else 'sections need'} no common excerpt."
    one = len(bound.parts) == 1
    who = ("Part " if one else "Parts ") + " and ".join(f"{part.number} ({part.ask})" for part in bound.parts)
    if not bound.sections:
        have = ("has" if one else "have") if bound.exact else "may have"
        return f"{who} {'' if one else 'together '}{have} too few excerpts even for one form: ask for fewer items."
    least, then = ("", "will") if bound.exact else ("at least ", "may")
    count = f"{bound.sections} {'section' if bound.sections == 1 else 'sections'}"
    return (
        f"{who} {'serves' if one else 'together serve'} {least}{count} without a common excerpt, and there are "
        f"{sections}: some excerpts {then} be shared."
    )


def meter_faults(blueprint: Blueprint) -> Iterator[Fault]:
    """A fault for every meter of which the elements make no measure that the class can read."""
    space = plan_of(blueprint.part[0], blueprint).space.anywhere
    for meter in space.meters:
        if not can_sound(space, meter):
            taught = " ".join(space.alphabet.tokens)
            text = f"meter {meter} cannot be filled: no readable measure can be made of {taught}: teach other values, "
            hardest = space.limits.style.hardest if space.limits.style is not None else 0
            text += f"raise hardest (it is {hardest}), " * bool(hardest)
            yield ("elements", "meters"), text + "allow more patterns or sounds in a measure, or take the meter out"


def capacity_faults(blueprint: Blueprint, numbers: tuple[int, ...], *, progress: Progress = silent) -> Iterator[Fault]:
    """A fault for every meter that cannot be filled, and for every part that surely cannot fill even one form.

    `numbers` are those of the parts in the file, from 0.
    """
    if empty := list(meter_faults(blueprint)):
        yield from empty
        return
    variants = variants_of(blueprint)
    for done, (number, part) in enumerate(zip(numbers, blueprint.part, strict=True)):
        progress("checking parts", done, len(numbers))
        plan = plan_of(part, blueprint)
        wanted = plan.items * variants
        possible = part_capacity(number + 1, plan, variants=variants, enough=wanted, progress=progress)
        if possible.exact and (possible.ideas < plan.items or possible.items < wanted):
            text = _too_few(plan, possible, variants) + rare_wrong_rhythms(part.ask, blueprint)
            yield ("part", number, "items"), text
    progress("checking parts", len(numbers), len(numbers))


def rare_wrong_rhythms(ask: str, blueprint: Blueprint) -> str:
    """What makes wrong rhythms for a row of counts rare in this class, and the mend; empty for another ask."""
    conventions, reasons = blueprint.all_conventions, []  # each with its mend
    if conventions.counting != "numbers":
        reasons.append((f"counting = {shown(conventions.counting)}", "set counting = 'numbers'"))
    elif conventions.held != "beats":
        reasons.append((f"held = {shown(conventions.held)}", "set held = 'beats'"))
    if not blueprint.elements.rests:
        reasons.append(("no rests taught", "teach rests"))
    if "row-shown" not in ASKS[ask].cues or not reasons:
        return ""
    whys, mends = zip(*reasons, strict=True)
    return f"; with {' and '.join(whys)} few misreadings of counts lead to another rhythm: {' or '.join(mends)}"


def _too_few(plan: Plan, possible: PartCapacity, variants: int) -> str:
    made = min(possible.ideas, possible.items)
    times = f" with {variants} variants each" if variants > 1 else ""
    return (
        f"items = {plan.items}{times}: only {made} different {shown(plan.ask.id)} items can be made from "
        f"what is taught: "
        "ask for fewer, teach more elements or meters, or allow longer excerpts with `measures`"
    )
