"""Answers of many schools added up: by school and section, never by name, and nothing of small groups."""

from dataclasses import replace

import pytest

from barwright.blueprint.parsing import read_blueprint
from barwright.forms.assembly import made_forms
from barwright.results.answers import Response, administered
from barwright.results.district import Count, ModelPool, counts_of, pooled
from barwright.results.survey import item_model
from schools.many import PLAN


def pool(*sections: tuple[str, str, int]) -> ModelPool:
    """One kind of question: school, section, students, of whom each answered two questions, one of them rightly."""
    [only] = pooled([Count(school, section, "does-it-fit 3/4 1", n, 2 * n, n) for school, section, n in sections])
    return only


def shown(made: ModelPool) -> dict[str, bool]:
    told = {school.whole.name: school.whole.shown for school in made.schools}
    return told | {f"{s.whole.name} {g.name}": g.shown for s in made.schools for g in s.sections}


def test_groups_are_sums() -> None:
    made = pool(("B", "2", 30), ("A", "1", 12), ("B", "1", 10))
    assert [(s.whole.name, s.whole.students, s.whole.answers, s.whole.right) for s in made.schools] == [
        ("A", 12, 24, 12),
        ("B", 40, 80, 40),
    ]
    assert (made.every.students, made.every.answers, made.every.share) == (52, 104, 0.5)
    assert [group.name for group in made.schools[1].sections] == ["1", "2"]
    assert all(shown(made).values())


@pytest.mark.parametrize(
    ("students", "told"),
    [
        ((12, 25), (True, True)),
        ((9, 25), (False, False)),  # the other would be the school less this one
        ((9, 25, 11), (False, True, False)),
        ((4, 3, 25, 12), (False, False, True, False)),  # seven students would be told by a difference
        ((5, 5, 25), (False, False, True)),
        ((9,), (False,)),
        ((10,), (True,)),
    ],
)
def test_no_section_of_few_can_be_told_from_the_others(students: tuple[int, ...], told: tuple[bool, ...]) -> None:
    made = pool(*(("A", f"{n}", count) for n, count in enumerate(students)))
    assert tuple(group.shown for group in made.schools[0].sections) == told
    whole = made.schools[0].whole
    assert whole.shown == (sum(students) >= 10)
    hidden = [count for count, is_told in zip(students, told, strict=True) if not is_told]
    if whole.shown and hidden:
        assert len(hidden) > 1
        assert sum(hidden) >= 10


def test_the_line_of_all_counts_only_schools_that_are_shown() -> None:
    made = pool(("A", "1", 9), ("B", "1", 20), ("C", "1", 30))
    assert shown(made) == {"A": False, "B": True, "C": True, "A 1": False, "B 1": True, "C 1": True}
    assert made.every.students == 50


def test_the_range_takes_the_answers_of_a_student_as_one() -> None:
    """Wilson 1927 for 12 of 24 students, whatever the number of questions: worked by hand."""
    low, high = pool(("A", "1", 24)).every.range
    assert (round(low, 3), round(high, 3)) == (0.314, 0.686)


def test_students_of_one_name_are_counted_in_each_school_and_retakes_are_not() -> None:
    blueprint, _ = read_blueprint(PLAN, "quiz.toml")
    given = administered([made.form for made in made_forms(blueprint)])
    form = given[0]
    answers = [
        Response(student, form.section, form.ident, each.id, (each.offered[0].answer.text,))
        for student in ("ana", "ben")
        for each in form.items
    ]
    one = counts_of("A", given, answers, omit="wrong")
    assert {count.section for count in one} == {form.section}
    assert all(count.students == 2 for count in one)
    assert sum(count.answers for count in one) == 2 * len(form.items)
    right = sum(each.offered[0].key for each in form.items)
    assert sum(count.right for count in one) == 2 * right
    assert {count.model for count in one} == {item_model(each.item) for each in form.items}
    both = pooled([*one, *counts_of("B", given, answers, omit="wrong")])
    assert all(sum(s.whole.students for s in each.schools) == 4 for each in both)
    retake = tuple(replace(each, retake=1) for each in given)
    assert counts_of("A", retake, answers, omit="wrong") == ()
