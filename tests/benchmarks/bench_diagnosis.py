"""How well the answers to the demo units tell which misreadings are held, beside what is aimed at.

    python tests/benchmarks/bench_diagnosis.py [STUDENTS [UNIT ...]]

Prints a table a unit for so many simulated students (10,000 if not told) who hold none, one or two misreadings, uneven
by section (never two that nobody holds at once); the plain count of two or three answers, at equal false findings; who
holds two and acts on one at a time, or on both wherever that can be answered (the table: half of the time); and
calibration where the students are not as assumed. A quarter of an hour of one core. Nothing here is a test
(tests/results holds a smaller run to the aims).
"""

import os
import sys
from collections.abc import Iterator
from pathlib import Path

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # the matrices are small: threads would wait for each other
sys.path.insert(0, str(Path(__file__).parents[1]))

from results.trial import (
    CLASS,
    UNITS,
    Case,
    Condition,
    against_the_count,
    both_found,
    calibration_error,
    false_findings,
    held_singly,
    is_found,
    precision,
    separable,
    share,
    trial,
    unhidden,
    unit_forms,
)

STUDENTS = 10_000
OTHERWISE = {
    "slips 5 %": Condition(slips=0.05),
    "slips 30 %": Condition(slips=0.3),
    "test-wise guessers, 30 % guessed": Condition(unknown=0.3, testwise=True),
    "weak class, half known": Condition(unknown=0.5),
    "three held": Condition(held=(3,)),
    "unsteady: acted on in 70 %": Condition(steadiness=0.7),
}


def rows(cases: list[Case], slips: float) -> Iterator[tuple[str, str, str]]:
    """(what, found, aim) of one unit."""
    aim = "0.90" if slips == 0.1 else "0.83"
    for told in (1, 2, 3):
        found = held_singly(cases, chances=3, told=told)
        yield f"one held, 3 chances, {told} of them apart, found", f"{share(found):.3f} of {len(found)}", f">= {aim}"
    alone = [is_found(case, name) for case in cases if len(case.held) == 1 for name in case.held]
    yield "one held, any chances, found", f"{share(alone):.3f} of {len(alone)}", ""
    yield "false findings a student", f"{sum(map(false_findings, cases)) / len(cases):.3f}", "<= 0.10"
    yield "findings that are true", f"{precision(cases):.3f}", ">= 0.85"
    yield "clean students flagged", f"{share([bool(c.found) for c in cases if not c.held]):.3f}", "<= 0.10"
    yield "'shows' that are true", f"{precision(cases, 0.8):.3f}", ">= 0.95"
    ways = (
        ("apart", separable, 2, ">= 0.65"),
        ("apart", separable, 4, ">= 0.85"),
        ("never hidden", unhidden, 2, ""),
        ("never hidden", unhidden, 4, "what binds is that one hides the other"),
    )
    for what, count, least, aimed in ways:
        both = both_found(cases, count, least=least)
        yield f"two held, {least} chances {what} each, both found", f"{share(both):.3f} of {len(both)}", aimed
    yield "calibration error", f"{calibration_error(cases):.3f}", "<= 0.03"


def main() -> None:
    """Prints everything, each line as soon as it is known."""
    sys.stdout.reconfigure(line_buffering=True)
    students = int(sys.argv[1]) if len(sys.argv) > 1 else STUDENTS
    for unit in sys.argv[2:] or UNITS:
        given = unit_forms(unit)
        quizzes = -(-students // (CLASS * len(given)))
        for slips in (0.1, 0.2):
            cases = trial(given, Condition(slips=slips), quizzes)
            print(f"\n{unit}, {len(cases)} students, slips {slips:.0%}")
            for what, found, aim in rows(cases, slips):
                print(f"  {what:<52} {found:<16} {aim}")
            for least in (2, 3):
                wrong, count, ours = against_the_count(cases, least)
                print(
                    f"  count of {least}: {wrong:.3f} false findings a student, {count:.3f} found; "
                    f"probabilities at as many false ones: {ours:.3f} found"
                )
            for together, name in ((0.0, "one at a time"), (1.0, "both wherever that can be answered")):
                others = trial(given, Condition(slips=slips, together=together), max(quizzes // 2, 1))
                both = both_found(others, separable, least=2)
                what = f"two held and acted on {name}, both found"
                print(f"  {what:<68} {share(both):.3f} of {len(both)}")
        for name, condition in OTHERWISE.items():
            cases = trial(given, condition, max(quizzes // 2, 1))
            wrong = sum(map(false_findings, cases)) / len(cases)
            print(
                f"  {name:<36} calibration error {calibration_error(cases):.3f} (<= 0.05), false findings {wrong:.3f}, "
                f"true {precision(cases):.3f}"
            )


if __name__ == "__main__":
    main()
