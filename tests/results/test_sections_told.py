"""Which form an answer belongs to: sections in one table, retakes, and variants of which each student gets one."""

from pathlib import Path
from random import Random

import pytest

from barwright.results.answers import administered
from barwright.results.reading.final_answers import Settled, settled
from barwright.results.reading.sources import gathered
from barwright.results.scoring import by_number, score_rows
from barwright.tasks.diagnose.asked import AskedQuiz, asked_quiz
from barwright.tasks.make import make
from barwright.tasks.packing import Order
from barwright.tasks.progress import silent
from results.shapes import by_ident, by_label, csv_bytes, long, title, wide
from results.simulated_classes import RR22, Sitting, report, sittings, zipped

SMALL = """
title = "Small"
sections = ["Period 1", "Period 2"]
[elements]
meters = ["3/4", "4/4"]
notes = ["whole", "half", "quarter"]
rests = ["half", "quarter"]
[quiz]
draw = DRAW
[[part]]
family = "measure-completion"
ask = "finish-measure"
items = 3
[[part]]
family = "count-labeling"
ask = "counts-for-rhythm"
items = 2
"""


def small(folder: Path, *, draw: bool = False, retake: bool = False) -> AskedQuiz:
    path = folder / "small.toml"
    path.write_text(SMALL.replace("DRAW", str(draw).lower()), "utf-8")
    made = make(path, Order(folder / "out", standards=("qti22",)), progress=silent)
    if retake:
        make(path, Order(folder / "out", standards=("qti22",), retake=1), progress=silent)
    return asked_quiz(made.folder)


def read(quiz: AskedQuiz, *files: tuple[str, bytes]) -> Settled:
    found = gathered(files, quiz.sheets, {})
    assert (found.refused, found.faults) == ((), ())
    assert not any(doubts.any for doubts in found.doubts)
    return settled(found.givens, quiz.sheets, attempt="last", salt="")


def test_a_column_of_sections_tells_the_forms(unit_1: AskedQuiz) -> None:
    """Identifiers of choices are alike in all forms, so that nothing else tells them apart here."""
    rows, sat = [], sittings(unit_1, 5)
    for place, form in enumerate(unit_1.forms):
        table = wide(unit_1, place, [each for each in sat if each.form is form], by_ident, title)
        rows += [["Class", *table[0]]] if not rows else []
        rows += [[form.section, *row] for row in table[1:]]
    answers = read(unit_1, ("all.csv", csv_bytes(rows)))
    wanted = {(each.student, each.form.ident) for each in sat if any(each.picks)}
    students = {each.name: each.student for each in sat}
    assert {(students[answers.names[r.student]], r.form) for r in answers.responses} == wanted


def test_a_retake_is_told_by_what_it_asks(tmp_path: Path) -> None:
    quiz = small(tmp_path, retake=True)
    assert [sheet.name for sheet in quiz.sheets] == ["Period 1", "Period 2", "Period 1, retake 1", "Period 2, retake 1"]
    again = quiz.forms[2]
    sat = [
        Sitting(f"s{n}", f"N {n}", form, ((0,), (1,), (0,), (2,), (0,)))
        for n in range(6)
        for form in (quiz.forms[0], again)
    ]
    tables = [
        (f"{place}.csv", csv_bytes(wide(quiz, place, [each for each in sat if each.form is form], by_label, title)))
        for place, form in ((0, quiz.forms[0]), (2, again))
    ]
    reports = {f"{n}.xml": report(quiz, each, RR22) for n, each in enumerate(sat)}
    for answers in (read(quiz, *tables), read(quiz, ("all.zip", zipped(reports)))):
        counts = {form: len({r.student for r in answers.responses if r.form == form.ident}) for form in quiz.forms}
        assert [counts[form] for form in quiz.forms] == [6, 0, 6, 0]


@pytest.mark.parametrize("shape", ["wide", "long", "reports"])
def test_each_student_has_one_of_the_variants(tmp_path: Path, shape: str) -> None:
    quiz = small(tmp_path, draw=True)
    form, rng = quiz.forms[0], Random(4)
    assert len(form.items) == 3 * 5
    sat, drawn = [], {}
    for n in range(8):
        mine = [3 * number + rng.randrange(3) for number in range(5)]
        picks = tuple((rng.randrange(3),) if place in mine else () for place in range(15))
        sat.append(Sitting(f"s{n}", f"N {n}", form, picks))
        drawn[f"N {n}"] = {form.items[place].item.id for place in mine}
    if shape == "reports":
        data = {f"{each.student}.xml": report(quiz, each, RR22) for each in sat}
        files = [("all.zip", zipped(data))]
        drawn = {each.student: drawn[each.name] for each in sat}
    elif shape == "wide":
        files = [("period-1.csv", csv_bytes(wide(quiz, 0, sat, by_label, lambda _n, q, _i: q.ident)))]
    else:
        rows = [row for row in long(quiz, 0, sat, by_label, lambda q, _i: q.ident) if row[3]]
        files = [("period-1.csv", csv_bytes(rows))]
    answers = read(quiz, *files)
    given = {name: set() for name in drawn}
    for response in answers.responses:
        if response.answer:
            given[answers.names[response.student]].add(response.item)
    assert given == drawn
    (first, *_) = administered(quiz.forms)
    for _, scores in score_rows(first, answers.responses, omit="wrong"):
        assert sum(score is not None for score in scores) == 5
        assert None not in by_number(first, scores)
    assert {each.number for each in first.items} == {1, 2, 3, 4, 5}
