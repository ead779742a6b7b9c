"""Simulated students answer our own packages; whatever shape their results have, the same comes out."""

from collections.abc import Callable, Sequence
from pathlib import Path
from random import Random

import pytest
from lxml import etree

from barwright.blueprint.names import folder_name
from barwright.results.answers import Response
from barwright.results.reading.final_answers import Settled, settled
from barwright.results.reading.sources import Gathered, gathered
from barwright.results.reading.told import Said
from barwright.tasks.diagnose.asked import AskedQuiz
from results.quizzes import UNITS
from results.shapes import SHAPES, by_label, by_letter, csv_bytes, title, wide
from results.simulated_classes import RR22, RR30, Sitting, report, sittings, zipped

QuizOf = Callable[[str], AskedQuiz]
SCHEMAS = {RR22: "qtiv2p2/imsqti_result_v2p2.xsd", RR30: "qtiv3p0/imsqti_resultv3p0_v1p0.xsd"}


def told(sat: Sequence[Sitting]) -> tuple[Response, ...]:
    """What the students answered, without any file: the answers by the record."""
    found = []
    for each in sat:
        answered = any(each.picks)
        for placed, picks in zip(each.form.items, each.picks, strict=True):
            answer = tuple(placed.item.choices[placed.order[place]].answer.text for place in picks)
            found += [(each.student, each.form.ident, placed.item.id, tuple(sorted(answer)))] if answered else []
    return tuple(sorted(found))


def read(quiz: AskedQuiz, files: Sequence[tuple[str, bytes]]) -> tuple[Gathered, Settled]:
    found = gathered(files, quiz.sheets, {})
    return found, settled(found.givens, quiz.sheets, attempt="last", salt=quiz.title)


def plain(found: Settled, sat: Sequence[Sitting]) -> tuple[tuple[str, str, str, tuple[str, ...]], ...]:
    """The responses with the students as the files call them."""
    names = {each.name: each.student for each in sat}
    called = {code: names.get(name, name) for code, name in found.names.items()}
    return tuple(sorted((called[r.student], r.form, r.item, tuple(sorted(r.answer))) for r in found.responses))


@pytest.mark.parametrize("unit", UNITS)
@pytest.mark.parametrize("namespace", [RR22, RR30], ids=["2.2", "3.0"])
def test_results_reports_come_back_as_they_were_answered(
    quiz_of: QuizOf, unit: str, namespace: str, standards: Path
) -> None:
    quiz = quiz_of(unit)
    sat = sittings(quiz, 6)
    schema = etree.XMLSchema(etree.parse(standards / "xsd" / SCHEMAS[namespace]))
    reports = {f"{each.student}.xml": report(quiz, each, namespace) for each in sat}
    for data in reports.values():
        schema.assertValid(etree.fromstring(data))
    found, answers = read(quiz, [("results.zip", zipped(reports))])
    assert (found.refused, found.faults, answers.remarks) == ((), (), ())
    assert plain(answers, sat) == told(sat)
    assert read(quiz, sorted(reports.items(), reverse=True))[1].responses == answers.responses


@pytest.mark.parametrize("unit", UNITS)
@pytest.mark.parametrize("shape", SHAPES)
def test_tables_of_any_shape_come_back_as_they_were_answered(quiz_of: QuizOf, unit: str, shape: str) -> None:
    quiz = quiz_of(unit)
    sat = sittings(quiz, 6)
    files = []
    for place, form in enumerate(quiz.forms):
        name, data = SHAPES[shape](quiz, place, [each for each in sat if each.form is form])
        files.append((f"{folder_name(form.section)}-{name}", data))
    Random(7).shuffle(files)
    found, answers = read(quiz, files)
    assert (found.refused, found.faults, answers.remarks) == ((), (), ())
    assert [line for doubts in found.doubts for line in doubts.lines if line.doubt] == []
    assert not any(doubts.any for doubts in found.doubts)
    assert plain(answers, sat) == told(sat)


def letters(quiz: AskedQuiz, sat: Sequence[Sitting]) -> list[tuple[str, bytes]]:
    return [
        (
            f"{folder_name(form.section)}.csv",
            csv_bytes(wide(quiz, place, [s for s in sat if s.form is form], by_letter, title)),
        )
        for place, form in enumerate(quiz.forms)
    ]


def test_letters_of_choices_that_platforms_mix_are_asked_about(unit_1: AskedQuiz) -> None:
    sat = sittings(unit_1, 6)
    files = letters(unit_1, sat)
    found, _ = read(unit_1, files)
    assert [(doubts.name, doubts.letters) for doubts in found.doubts] == [(name, True) for name, _ in files]
    said = {name: Said(letters=True) for name, _ in files}
    sure = gathered(files, unit_1.sheets, said)
    assert not any(doubts.any for doubts in sure.doubts)
    answers = settled(sure.givens, unit_1.sheets, attempt="last", salt=unit_1.title)
    assert plain(answers, sat) == told(sat)


def test_letters_that_tell_nothing_are_left_out(unit_1: AskedQuiz) -> None:
    sat = sittings(unit_1, 6)
    files = letters(unit_1, sat)
    found = gathered(files, unit_1.sheets, {name: Said(letters=False) for name, _ in files})
    mixed = {q.item for sheet in unit_1.sheets for q in sheet.questions if q.mixed and q.options}
    answered = {given.item for given in found.givens if given.answer}
    assert answered
    assert not answered & mixed


def test_the_first_attempt_counts_if_wanted(unit_1: AskedQuiz) -> None:
    first, second = sittings(unit_1, 4, seed=1), sittings(unit_1, 4, seed=2)
    dated = {}
    for day, sat in (("05", first), ("07", second)):
        for each in sat:
            dated[f"{day}-{each.student}.xml"] = report(unit_1, each, RR22).replace(
                b"2026-03-05", f"2026-03-{day}".encode()
            )
    found = gathered([("all.zip", zipped(dated))], unit_1.sheets, {})
    for attempt, sat in (("last", second), ("first", first)):
        answers = settled(found.givens, unit_1.sheets, attempt=attempt, salt="")
        assert plain(answers, sat) == told(sat)
        assert answers.remarks == (f"12 student(s) answered more than once: the {attempt} attempt counts",)


def test_an_attempt_that_was_not_handed_in_counts_only_without_another(unit_1: AskedQuiz) -> None:
    (sat,) = sittings(unit_1, 1)[:1]
    other = next(each for each in sittings(unit_1, 1, seed=9) if each.form is sat.form)
    final = report(unit_1, sat, RR22)
    later = (
        report(unit_1, other, RR22).replace(b"2026-03-05", b"2026-03-09").replace(b'"final"', b'"pendingSubmission"')
    )
    _, answers = read(unit_1, [("a.xml", final), ("b.xml", later)])
    assert plain(answers, [sat]) == told([sat])
    _, alone = read(unit_1, [("b.xml", later)])
    assert plain(alone, [other]) == told([other])
    assert alone.remarks == ("1 student(s) with answers not handed in (not final), taken since there are no others",)


def test_a_retake_and_sections_in_one_table(unit_1: AskedQuiz) -> None:
    """Columns of several forms in one table, each row with answers in those of its own form."""
    sat = sittings(unit_1, 5)
    heads, rows = ["Student"], []
    for place, form in enumerate(unit_1.forms):
        mine = [each for each in sat if each.form is form]
        table = wide(unit_1, place, mine, by_label, lambda _n, q, _i: q.ident)
        width = len(heads) - 1
        heads += table[0][2:]
        rows += [[row[0], *[""] * width, *row[2:]] for row in table[1:]]
    full = [row + [""] * (len(heads) - len(row)) for row in rows]
    found, answers = read(unit_1, [("all.csv", csv_bytes([heads, *full]))])
    assert (found.refused, found.faults) == ((), ())
    assert plain(answers, sat) == told(sat)


def test_the_order_in_which_a_platform_showed_the_choices_changes_nothing(unit_1: AskedQuiz, standards: Path) -> None:
    sat = sittings(unit_1, 3)
    schema = etree.XMLSchema(etree.parse(standards / "xsd" / SCHEMAS[RR22]))
    shuffled = {}
    for each in sat:
        data = report(unit_1, each, RR22).replace(
            b'baseType="identifier"', b'baseType="identifier" choiceSequence="c3 c1 c4 c2"'
        )
        schema.assertValid(etree.fromstring(data))
        shuffled[f"{each.student}.xml"] = data
    assert plain(read(unit_1, [("a.zip", zipped(shuffled))])[1], sat) == told(sat)
