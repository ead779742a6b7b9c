"""Which wrong answers the catalogue gives to every question about one-measure excerpts: for tests and a table."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import product

from barwright.counting.counts import (
    all_conventions_rows,
    count_labels,
    format_row,
    normal_row,
)
from barwright.misreadings import MISREADINGS, Misreading
from barwright.misreadings.answers import (
    believes_full,
    candidates_of,
    claims,
    fillings_among,
    hears,
    missing,
    row,
)
from barwright.notation.legal_measures import Alphabet, all_measures
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.measure import (
    BLANK,
    Symbols,
    length_of,
    total,
)
from barwright.rhythm.meter import Meter
from barwright.rhythm.text import format_measures, format_symbols, parse_symbol

Wrong = dict[str, tuple[str, ...]]


def fillings(
    misreadings: Iterable[Misreading], groups: tuple[Symbols, ...], excerpt: Excerpt, conventions: Conventions
) -> dict[Symbols, tuple[str, ...]]:
    """Every wrong group that fills the blank for some of the misreadings, with their ids."""
    return fillings_among(candidates_of(tuple(misreadings), groups, excerpt.meter, conventions), excerpt, conventions)


@dataclass(frozen=True, slots=True)
class Corpus:
    """All legal one-measure excerpts of an alphabet in some meters."""

    alphabet: Alphabet
    meters: tuple[Meter, ...]
    conventions: Conventions

    def measures(self, meter: Meter) -> tuple[Symbols, ...]:
        return tuple(all_measures(self.alphabet, meter, self.conventions))

    def excerpts(self) -> Iterator[Excerpt]:
        for meter in self.meters:
            for symbols in self.measures(meter):
                yield Excerpt(meter, (symbols,))

    def groups(self, *widths: int) -> tuple[Symbols, ...]:
        tokens = sorted(t for t in self.alphabet.tokens if not t.endswith(("~", "t")))
        groups = (g for width in widths for g in product(tokens, repeat=width) if width == 1 or "rW" not in g)
        return tuple(tuple(map(parse_symbol, g)) for g in groups)

    def serving(self, ask: str) -> tuple[Misreading, ...]:
        tokens = frozenset(self.alphabet.tokens)
        able = (m for m in MISREADINGS.values() if ask in m.exercises)
        return tuple(m for m in able if m.nameable(tokens, ties=any("~" in t for t in tokens)))


@dataclass(frozen=True, slots=True)
class Asked:
    """One question: its excerpt, its wrong answers with ids, and a class for each answer (of which one may stand)."""

    excerpt: Excerpt
    wrong: Wrong
    classes: Mapping[str, object]

    @property
    def most(self) -> int:
        """The most wrong answers that can stand together, each of a class and a misreading of its own (matching)."""
        able = defaultdict(set)
        for answer, ids in self.wrong.items():
            able[self.classes.get(answer, answer)].update(ids)
        credited: dict[str, object] = {}
        return sum(_matched(each, able, credited, set()) for each in able)


def _matched(each: object, able: Mapping[object, set[str]], credited: dict[str, object], tried: set[str]) -> bool:
    for ident in sorted(able[each] - tried):
        tried.add(ident)
        if ident not in credited or _matched(credited[ident], able, credited, tried):
            credited[ident] = each
            return True
    return False


def _blanked(excerpt: Excerpt, width: int) -> Iterator[Excerpt]:
    symbols = excerpt.measures[0]
    for index in range(len(symbols) - width + 1):
        if len(symbols) > width:  # a measure that is nothing but a blank is not asked about
            yield Excerpt(excerpt.meter, ((*symbols[:index], BLANK, *symbols[index + width :]),))


def _sort(symbols: Symbols) -> str:
    return "rests" if all(s.silent for s in symbols) else "notes"


def _fillings(corpus: Corpus, ask: str, width: int, *widths: int) -> Iterator[Asked]:
    serving, candidates = corpus.serving(ask), corpus.groups(*widths)
    for full in corpus.excerpts():
        for excerpt in _blanked(full, width):
            found = fillings(serving, candidates, excerpt, corpus.conventions)
            wrong = {format_symbols(s): ids for s, ids in found.items()}
            yield Asked(full, wrong, {format_symbols(s): (total(s, full.meter), _sort(s)) for s in found})


def finish_measure(corpus: Corpus) -> Iterator[Asked]:
    return _fillings(corpus, "finish-measure", 1, 1)


def finish_measure_with_two(corpus: Corpus) -> Iterator[Asked]:
    return _fillings(corpus, "finish-measure-with-two", 2, 2)


def all_that_fit(corpus: Corpus) -> Iterator[Asked]:
    return _fillings(corpus, "all-that-fit", 1, 1, 2)


def _collected(pairs: Iterator[tuple[str, str]]) -> Wrong:
    found: Wrong = {}
    for answer, ident in pairs:
        found[answer] = (*found.get(answer, ()), ident)
    return found


def beats_left(corpus: Corpus) -> Iterator[Asked]:
    for full in corpus.excerpts():
        for excerpt in _blanked(full, 1):
            pairs = ((missing(m, excerpt, corpus.conventions), m.id) for m in corpus.serving("beats-left"))
            yield Asked(full, _collected((str(n), ident) for n, ident in pairs if n is not None), {})


def _rows(excerpt: Excerpt, corpus: Corpus, ask: str) -> Iterator[tuple[str, str]]:
    defensible = all_conventions_rows(excerpt, corpus.conventions)
    for m in corpus.serving(ask):
        found = row(m, excerpt, corpus.conventions)
        if found is not None and normal_row(format_row(found), corpus.conventions) not in defensible:
            yield normal_row(format_row(found), corpus.conventions), m.id


def counts_for_rhythm(corpus: Corpus) -> Iterator[Asked]:
    return (Asked(e, _collected(_rows(e, corpus, "counts-for-rhythm")), {}) for e in corpus.excerpts())


def write_counts(corpus: Corpus) -> Iterator[Asked]:
    return (Asked(e, _collected(_rows(e, corpus, "write-counts")), {}) for e in corpus.excerpts())


def count_under_mark(corpus: Corpus) -> Iterator[Asked]:
    for excerpt in corpus.excerpts():
        right = count_labels(excerpt, corpus.conventions)[0]
        onsets = count_labels(excerpt, replace(corpus.conventions, held="onset_only"))[0]
        rows = [(m.id, row(m, excerpt, corpus.conventions)) for m in corpus.serving("count-under-mark")]
        for index, label in enumerate(right):
            pairs = ((found[0][index], ident) for ident, found in rows if found is not None)
            yield Asked(excerpt, _collected((t, i) for t, i in pairs if t and t not in (label, onsets[index])), {})


def _heard(excerpt: Excerpt) -> list[tuple[bool, Fraction]]:
    """Sounds and silences in order: rests that follow each other are one silence."""
    found: list[tuple[bool, Fraction]] = []
    for symbol in excerpt.symbols:
        length = length_of(symbol, excerpt.meter)
        if symbol.silent and found and found[-1][0]:
            length += found.pop()[1]
        found.append((symbol.silent, length))
    return found


def rhythm_for_counts(corpus: Corpus) -> Iterator[Asked]:
    conventions, serving = corpus.conventions, corpus.serving("rhythm-for-counts")
    for meter in corpus.meters:
        pool = [Excerpt(meter, (symbols,)) for symbols in corpus.measures(meter)]
        true = {e: normal_row(format_row(count_labels(e, conventions)), conventions) for e in pool}
        written = defaultdict(list)
        for e in pool:
            for m in serving:
                found = row(m, e, conventions)
                if found is not None:
                    written[normal_row(format_row(found), conventions)].append((e, m.id))
        for e in pool:
            rows = ((hears(m, count_labels(e, conventions), conventions), m.id) for m in serving)
            heard = {(normal_row(format_row(h), conventions), ident) for h, ident in rows if h is not None}
            pairs = [(w, i) for w, i in written[true[e]] if w != e]
            pairs += [(o, i) for o in pool for text, i in sorted(heard) if text == true[o] and o != e]
            yield Asked(e, _collected((format_measures(w.measures), i) for w, i in pairs if _heard(w) != _heard(e)), {})


def time_signature_for_rhythm(corpus: Corpus) -> Iterator[Asked]:
    serving = corpus.serving("time-signature-for-rhythm")
    for excerpt in corpus.excerpts():
        if excerpt.symbols[0].kind == "measure-rest":  # a full-measure rest shows no meter
            continue
        others = [m for m in corpus.meters if m.capacity != excerpt.meter.capacity]
        under = [Excerpt(other, excerpt.measures) for other in others]
        pairs = ((str(e.meter), m.id) for e in under for m in serving if believes_full(m, e, corpus.conventions))
        yield Asked(excerpt, _collected(pairs), {})


def rhythm_for_time_signature(corpus: Corpus) -> Iterator[Asked]:
    serving = corpus.serving("rhythm-for-time-signature")
    for meter in corpus.meters:
        others = [m for m in corpus.meters if m.capacity != meter.capacity]
        pool = {s for other in others for s in corpus.measures(other) if s[0].value is not None}
        under = [Excerpt(meter, (symbols,)) for symbols in sorted(pool, key=format_symbols)]
        full = ((e, m.id) for e in under for m in serving if believes_full(m, e, corpus.conventions))
        wrong = _collected((format_measures(e.measures), ident) for e, ident in full)
        for symbols in corpus.measures(meter):
            yield Asked(Excerpt(meter, (symbols,)), wrong, {})


def _agrees(claim: str) -> bool:
    """Whether the verdict goes with the numbers; the others are true for who takes "fits" in another sense."""
    verdict, lasts, holds = claim.split()
    return (verdict == "fits") == (Fraction(lasts) <= Fraction(holds))


def does_it_fit(corpus: Corpus) -> Iterator[Asked]:
    for meter in corpus.meters:
        for symbols in corpus.groups(1):
            excerpt = Excerpt(meter, (symbols,))
            pairs = (
                (c, m.id) for m in corpus.serving("does-it-fit") for c in claims(m, excerpt, "", corpus.conventions)
            )
            yield Asked(excerpt, _collected((c, ident) for c, ident in pairs if _agrees(c)), {})


def what_the_numbers_say(corpus: Corpus) -> Iterator[Asked]:
    serving = corpus.serving("what-the-numbers-say")
    for excerpt in corpus.excerpts():
        for target, number in (("top", excerpt.meter.top), ("bottom", excerpt.meter.bottom)):
            if len(excerpt.symbols) == number:  # then the number could be thought to count the notes, and rightly
                continue
            pairs = ((c, m.id) for m in serving for c in claims(m, excerpt, target, corpus.conventions))
            yield Asked(excerpt, _collected(pairs), {})


QUESTIONS = {
    "finish-measure": finish_measure,
    "finish-measure-with-two": finish_measure_with_two,
    "beats-left": beats_left,
    "all-that-fit": all_that_fit,
    "counts-for-rhythm": counts_for_rhythm,
    "rhythm-for-counts": rhythm_for_counts,
    "count-under-mark": count_under_mark,
    "write-counts": write_counts,
    "time-signature-for-rhythm": time_signature_for_rhythm,
    "rhythm-for-time-signature": rhythm_for_time_signature,
    "does-it-fit": does_it_fit,
    "what-the-numbers-say": what_the_numbers_say,
}


ENOUGH = 3


def bound(ask: str, corpus: Corpus, meter: Meter) -> int:
    """How many wrong answers can be hoped for: three, unless there are fewer to be had at all.

    Only taught time signatures can be offered; and a student says that a whole number of beats is missing, no more than
    a measure holds.
    """
    if ask == "time-signature-for-rhythm":
        return min(ENOUGH, len({m.capacity for m in corpus.meters}) - 1)
    return min(ENOUGH, meter.top - 1) if ask == "beats-left" else ENOUGH


@dataclass(frozen=True, slots=True)
class Coverage:
    """One ask: questions and excerpts, how many have enough wrong answers, and the questions that have not.

    An excerpt has enough if one of its questions has: the maker chooses where to put the blank or the mark.
    """

    ask: str
    bounds: tuple[int, ...]
    questions: int
    enough: int
    excerpts: int
    excerpts_enough: int
    short: tuple[str, ...]

    @property
    def share(self) -> Fraction:
        return Fraction(self.enough, self.questions)

    @property
    def excerpt_share(self) -> Fraction:
        return Fraction(self.excerpts_enough, self.excerpts)

    @property
    def goal_text(self) -> str:
        bounds = " or ".join(map(str, self.bounds))
        return bounds if self.bounds == (ENOUGH,) else f"{bounds} (bound)"


def coverage(ask: str, corpus: Corpus) -> Coverage:
    """How well the catalogue covers one ask on all excerpts of a corpus."""
    best: dict[Excerpt, bool] = {}
    short: list[str] = []
    bounds, questions = set(), 0
    for asked in QUESTIONS[ask](corpus):
        excerpt, goal = asked.excerpt, bound(ask, corpus, asked.excerpt.meter)
        questions += 1
        bounds.add(goal)
        best[excerpt] = best.get(excerpt, False) or asked.most >= goal
        if asked.most < goal:
            short.append(f"{excerpt.meter} {format_measures(excerpt.measures)}: {asked.wrong}")
    enough = questions - len(short)
    return Coverage(ask, tuple(sorted(bounds)), questions, enough, len(best), sum(best.values()), tuple(short))
