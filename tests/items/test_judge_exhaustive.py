"""The judge against whole numbers: every beginners' excerpt, recounted in ticks that know nothing of `rhythm`.

Only whether a full measure may be printed is asked of `rhythm.legality`, which has tests of its own.
"""

from collections.abc import Iterator
from itertools import combinations, permutations, product

import pytest
from judge_cases import BEGINNERS, made, taught

from barwright.judge import judged
from barwright.notation.legality import is_legal
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.meter import parse_meter
from barwright.rhythm.text import parse_symbols

TICKS = {"w": 48, "h": 24, "q": 12, "e": 6, "h.": 36, "q.": 18, "rh": 24, "rq": 12}
BAR = {"2/4": 24, "3/4": 36, "4/4": 48, "2/2": 48, "3/8": 18, "6/8": 36, "9/8": 54}
USUAL = Conventions()
BEGINNERS_TOKENS = ("w", "h", "q", "rh", "rq")
BEGINNERS_METERS = ("2/4", "3/4", "4/4")


def full_measures(tokens: tuple[str, ...], meter: str) -> Iterator[tuple[str, ...]]:
    """Every measure of these tokens that fills the bar and is legal print."""

    def grown(begun: tuple[str, ...], left: int) -> Iterator[tuple[str, ...]]:
        if not left:
            yield begun
        for token in tokens:
            if TICKS[token] <= left:
                yield from grown((*begun, token), left - TICKS[token])

    for tokens_ in grown((), BAR[meter]):
        if legal(tokens_, meter):
            yield tokens_


def legal(tokens: tuple[str, ...], meter: str) -> bool:
    return is_legal(parse_symbols(" ".join(tokens)), parse_meter(meter), USUAL)


def blanked(meter: str) -> list[tuple[tuple[str, ...], int]]:
    """Every beginners' measure with one symbol taken out, each once: what is left, and where the blank stands."""
    found = {(m[:i] + m[i + 1 :], i) for m in full_measures(BEGINNERS_TOKENS, meter) for i in range(len(m))}
    return sorted(found)


def text_of(tokens: tuple[str, ...], blank: int, meter: str) -> str:
    return f"{meter} {' '.join((*tokens[:blank], '_', *tokens[blank:]))}"


def lengths_of(token: str, alone: bool, bar: int) -> set[int]:
    """In ticks; the whole-rest sign is a full measure where it is alone, else four quarters or, as said, a measure."""
    if token == "rW":
        return {bar} if alone else {48, bar}
    return {TICKS[token]}


def acceptable(tokens: tuple[str, ...], blank: int, meter: str, key: str, wrong: tuple[str, ...]) -> bool:
    bar, alone = BAR[meter], not tokens
    gap = bar - sum(TICKS[t] for t in tokens)
    if (bar if key == "rW" else TICKS[key]) != gap or not legal((*tokens[:blank], key, *tokens[blank:]), meter):
        return False
    if any(gap in lengths_of(t, alone, bar) for t in wrong):
        return False
    ticks = [(bar if t == "rW" else TICKS[t], t.startswith("r")) for t in wrong]
    return len(set(ticks)) == len(ticks) and key.startswith("r") in {t.startswith("r") for t in wrong}


@pytest.mark.parametrize("meter", BEGINNERS_METERS)
def test_every_set_of_three_fillings_is_judged_as_ticks_say(meter: str) -> None:
    kept = 0
    for tokens, blank in blanked(meter):
        text = text_of(tokens, blank, meter)
        for three in combinations((*BEGINNERS_TOKENS, "rW"), 3):
            for key in three:
                wrong = tuple(t for t in three if t != key)
                reasons = judged(made("finish-measure", text, key, ", ".join(wrong)), BEGINNERS)
                expected = acceptable(tokens, blank, meter, key, wrong)
                assert (not reasons) == expected, (text, key, wrong, reasons)
                kept += expected
    assert kept > 20


@pytest.mark.parametrize("meter", BEGINNERS_METERS)
def test_every_pair_of_keys_and_wrong_ones_that_fit_or_not_is_judged_as_ticks_say(meter: str) -> None:
    pairs = [" ".join(p) for p in product(("h", "q"), repeat=2)] + ["w", "h", "q"]
    kept = 0
    for tokens, blank in blanked(meter):
        gap = BAR[meter] - sum(TICKS[t] for t in tokens)
        for keys in combinations(pairs, 2):
            wrong = ("w", "q") if "w" not in keys and "q" not in keys else ("w", "h h")
            totals = {f: sum(TICKS[t] for t in f.split()) for f in (*keys, *wrong)}
            reasons = judged(
                made("all-that-fit", text_of(tokens, blank, meter), ", ".join(keys), ", ".join(wrong)), BEGINNERS
            )
            printed = all(legal((*tokens[:blank], *k.split(), *tokens[blank:]), meter) for k in keys)
            right = {f for f in totals if totals[f] == gap} == set(keys) and printed
            distinct = len(totals) == 4 and sorted(keys[0].split()) != sorted(keys[1].split())
            distinct = distinct and totals[wrong[0]] != totals[wrong[1]]
            assert (not reasons) == (right and distinct), (text_of(tokens, blank, meter), keys, wrong, reasons)
            kept += not reasons
    assert kept > 0 or meter == "2/4"


@pytest.mark.parametrize("meter", BEGINNERS_METERS)
def test_every_number_of_missing_beats_is_judged_as_ticks_say(meter: str) -> None:
    for tokens, blank in blanked(meter):
        right = (BAR[meter] - sum(TICKS[t] for t in tokens)) // 12
        for key, wrong in permutations(range(5), 2):
            reasons = judged(made("beats-left", text_of(tokens, blank, meter), str(key), str(wrong)), BEGINNERS)
            assert (not reasons) == (key == right), (tokens, blank, key, wrong, reasons)


def counted(tokens: tuple[str, ...]) -> str:
    """The counts of quarter-beat measures by rule: every beat a symbol covers, joined; a rest in parentheses."""
    labels, beat = [], 1
    for token in tokens:
        beats = TICKS[token] // 12
        label = "-".join(str(b) for b in range(beat, beat + beats))
        labels.append(f"({label})" if token.startswith("r") else label)
        beat += beats
    return " ".join(labels)


@pytest.mark.parametrize("meter", BEGINNERS_METERS)
def test_every_row_of_another_beginners_measure_is_wrong_and_the_own_is_right(meter: str) -> None:
    rows = {m: counted(m) for m in full_measures(BEGINNERS_TOKENS, meter)}
    for measure, row in rows.items():
        text = f"{meter} {' '.join(measure)}"
        onsets = " ".join(label.split("-")[0].strip("()") for label in row.split())
        onsets_only = " ".join(f"({o})" if "(" in r else o for o, r in zip(onsets.split(), row.split(), strict=True))
        for other in sorted(set(rows.values()) - {row}):
            expected = other != onsets_only
            assert (not judged(made("write-counts", text, row, other), BEGINNERS)) == expected, (text, other)
            assert judged(made("write-counts", text, other, row), BEGINNERS)


SIGNATURES = ("2/4", "3/4", "4/4", "2/2", "3/8", "6/8", "9/8")


@pytest.mark.parametrize("meter", SIGNATURES)
def test_every_signature_offered_for_plain_notes_is_judged_as_ticks_say(meter: str) -> None:
    known = taught("w h h. q q.", " ".join(SIGNATURES), ties=False)
    for measure in full_measures(("w", "h", "h.", "q", "q."), meter):
        ticks = sum(TICKS[t] for t in measure)
        for wrong in combinations([m for m in SIGNATURES if m != meter], 2):
            item = made("time-signature-for-rhythm", f"{meter} {' '.join(measure)}", meter, ", ".join(wrong))
            # 36 ticks are also two measures of 3/8
            expected = all(BAR[m] != ticks and not (m == "3/8" and ticks == 36) for m in wrong)
            assert (not judged(item, known)) == expected, (meter, measure, wrong)


@pytest.mark.parametrize("meter", ["2/4", "3/4", "4/4"])
def test_every_figure_offered_for_a_signature_is_judged_as_ticks_say(meter: str) -> None:
    known = taught("w h h. q", "2/4 3/4 4/4", ties=False)
    figures = [(m, f) for m in ("2/4", "3/4", "4/4") for f in full_measures(("w", "h", "h.", "q"), m)]
    for key in (f for m, f in figures if m == meter):
        for one, other in combinations([f for f in figures if f[1] != key], 2):
            wrong = f"{' '.join(one[1])}, {' '.join(other[1])}"
            item = made("rhythm-for-time-signature", f"{meter} {' '.join(key)}", " ".join(key), wrong)
            expected = all(sum(TICKS[t] for t in f) != BAR[meter] for _, f in (one, other)) and one[1] != other[1]
            assert (not judged(item, known)) == expected, (meter, key, wrong)


@pytest.mark.parametrize("meter", BEGINNERS_METERS)
@pytest.mark.parametrize("token", ["w", "h", "q", "rh", "rq", "rW"])
def test_every_verdict_is_judged_as_ticks_say(meter: str, token: str) -> None:
    holds = BAR[meter] // 12
    lasts = holds if token == "rW" else TICKS[token] // 12
    key = f"{'fits' if lasts <= holds else 'fits-not'} {lasts} {holds}"
    for kind, a, b in product(("fits", "fits-not"), range(6), range(1, 6)):
        claim = f"{kind} {a} {b}"
        filler = next(f for f in ("fits 0 9", "fits 0 8") if f not in (key, claim))
        reasons = judged(made("does-it-fit", f"{meter} {token}", key, f"{claim}, {filler}"), BEGINNERS)
        assert (not reasons) == (claim != key and (kind == "fits") == (a <= b)), (meter, token, claim, reasons)


def test_every_order_of_beginners_symbols_is_judged_by_the_lengths_in_ticks() -> None:
    """Each three of the tokens, in every order as key and as wrong answer: only the rising one may be keyed."""
    seen = 0
    for meter, groups in product(BEGINNERS_METERS, combinations(BEGINNERS_TOKENS, 3)):
        if any(TICKS[t] > BAR[meter] or not legal(begun(t, meter), meter) for t in groups):
            continue
        excerpt = f"{meter} {' | '.join(sorted(groups))}"
        for key, wrong in permutations(permutations(groups), 2):
            item = made("shortest-first", excerpt, " < ".join(key), " < ".join(wrong))
            lengths, others = ([TICKS[t] for t in order] for order in (key, wrong))
            right = lengths == sorted(set(lengths)) and others != sorted(others)
            assert (judged(item, BEGINNERS) == ()) == right, (excerpt, key, wrong)
            seen += 1
    assert seen > 100


def begun(token: str, meter: str) -> tuple[str, ...]:
    """A measure that begins with this token and goes on in sixteenth notes, three ticks each."""
    return (token, *("s",) * ((BAR[meter] - TICKS[token]) // 3))
