"""Quizzes from a bank: approved items that fit the class come first, retired questions never."""

from functools import cache

from bank.demo_bank import review, usage
from barwright.bank.entries import Entry, canonical, ident_of
from barwright.bank.intake import quiz_entries
from barwright.bank.records import entry_of
from barwright.bank.taking import Taken, taken_from
from barwright.bank.views import View
from barwright.blueprint.blueprint import Blueprint
from barwright.blueprint.parsing import read_blueprint
from barwright.forms.assembly import MadeForm, made_forms
from barwright.forms.ready_items import question_name, question_of
from barwright.items.item import Item
from items.demo import BEGINNERS, blueprint_text

ASKS = ("finish-measure", "counts-for-rhythm", "count-under-mark")
SECTIONS = ("Period 1", "Period 3")


def blueprint(*, seed: int = 2, more: str = "", elements: str = BEGINNERS) -> Blueprint:
    names = ", ".join(f'"{name}"' for name in SECTIONS)
    text = blueprint_text(elements, *ASKS, items=3, more=f"seed = {seed}\nsections = [{names}]\n{more}")
    return read_blueprint(text, "b.toml")[0]


@cache
def last_year() -> tuple[Item, ...]:
    """The items of a quiz of the same kind with another seed."""
    found = {p.item.id: p.item for made in made_forms(blueprint(seed=1)) for p in made.form.items}
    return tuple(found[ident] for ident in sorted(found))


def bank(*records: object, items: tuple[Item, ...] | None = None) -> list[View]:
    return [View(entry_of(item, records)) for item in (last_year() if items is None else items)]


def ids(made: MadeForm) -> list[str]:
    return [placed.item.id for placed in made.form.items]


def taken(views: list[View], *, since: str = "", plan: Blueprint | None = None) -> Taken:
    return taken_from(views, plan or blueprint(), since=since)


def test_approved_items_fill_the_forms_before_any_is_made() -> None:
    have = {item.id for item in last_year()}
    made = made_forms(blueprint(), stock=taken(bank(review("approve"))).stock)
    assert set(ids(made[0])) <= have
    assert len(set(ids(made[1])) & have) >= 3
    assert not set(ids(made[0])) & set(ids(made[1]))
    assert not set(ids(made_forms(blueprint())[0])) <= have


def test_the_same_bank_and_seed_give_the_same_quiz() -> None:
    one, other = (made_forms(blueprint(), stock=taken(bank(review("approve"))).stock) for _ in range(2))
    assert [made.form for made in one] == [made.form for made in other]


def test_items_that_are_only_new_are_not_taken() -> None:
    stock = taken(bank()).stock
    assert not any(stock.items.values())
    assert [m.form for m in made_forms(blueprint(), stock=stock)] == [m.form for m in made_forms(blueprint())]


def test_a_retired_question_is_never_asked_again_with_whatever_choices() -> None:
    plan = blueprint()
    made = made_forms(plan)
    for _ in range(3):
        items = tuple(placed.item for each in made for placed in each.form.items)
        stock = taken(bank(review("retire"), review("approve"), items=items), plan=plan).stock
        made = made_forms(plan, stock=stock)
        asked = {question_name(p.item.ask, question_of(p.item)) for each in made for p in each.form.items}
        assert not asked & {question_name(item.ask, question_of(item)) for item in items}


def test_a_section_does_not_get_what_it_has_had() -> None:
    views = bank(review("approve"), usage("Period 1", date="2025-09-12"))
    have = {item.id for item in last_year()}
    names = {question_name(item.ask, question_of(item)) for item in last_year()}
    made = made_forms(blueprint(), stock=taken(views).stock)
    assert not set(ids(made[0])) & have
    again = made_forms(blueprint(), stock=taken(views, since="2025-09-13").stock)
    assert set(ids(again[0])) <= have
    assert taken(views, since="2025-09-12").stock.had["Period 1"] == names
    assert taken(bank(usage("Period 1", date=""), review("approve")), since="2025-09-13").stock.had["Period 1"] == names


def test_a_section_does_not_get_what_it_has_had_whether_approved_and_wanted_or_not() -> None:
    """One blueprint and seed make equal items: without the bank's uses each section would get its own again."""
    before = made_forms(blueprint())
    views = [
        View(entry_of(placed.item, [usage(made.form.section, date="2025-09-12")]))
        for made in before
        for placed in made.form.items
    ]
    stock = taken_from(views, blueprint(), since="", wanted=lambda _view: False).stock
    assert not any(stock.items.values())
    for old, new in zip(before, made_forms(blueprint(), stock=stock), strict=True):
        had = {question_name(p.item.ask, question_of(p.item)) for p in old.form.items}
        assert stock.had[old.form.section] == had
        assert not had & {question_name(p.item.ask, question_of(p.item)) for p in new.form.items}


def test_items_of_other_conventions_or_beyond_what_is_taught_are_left_and_counted() -> None:
    views = bank(review("approve"))
    elsewhere = taken(views, plan=blueprint(more='[conventions]\ncounting = "gordon"'))
    assert not any(elsewhere.stock.items.values())
    assert elsewhere.left == {"were made for other conventions": len(views)}
    only_quarters = '\nmeters = ["2/4", "3/4", "4/4"]\nnotes = ["half", "quarter"]\nrests = ["quarter"]\n'
    fewer = taken(views, plan=blueprint(elements=only_quarters))
    kept = [item for items in fewer.stock.items.values() for item in items]
    assert 0 < len(kept) < len(views)
    assert fewer.left == {"show what is not taught, or are refused by the judge": len(views) - len(kept)}


def test_an_item_that_is_not_understood_is_left_and_counted() -> None:
    content = canonical({**View(entry_of(last_year()[0])).content, "conventions": {"new-rule": "yes"}})
    entry = Entry(ident_of(content), content, entry_of(last_year()[0], [review("approve")]).records)
    assert taken([View(entry)]).left == {"cannot be read by this version": 1}


def test_items_used_least_come_first() -> None:
    uses = {item.id: n % 4 for n, item in enumerate(last_year())}
    views = [
        View(entry_of(item, [review("approve"), *(usage(f"Elsewhere {n}") for n in range(uses[item.id]))]))
        for item in last_year()
    ]
    for items in taken(views).stock.items.values():
        counts = [uses[item.id] for item in items]
        assert counts == sorted(counts)


def test_a_record_of_a_quiz_becomes_entries_with_source_use_and_tags() -> None:
    forms = [made.form for made in made_forms(blueprint())]
    first = forms[0].items[0].item
    entries = quiz_entries(forms, {first.id: ["MU:Pr4"]}, made_by="barwright 0", by="Ms. Alder", date="2025-09-12")
    assert [e.id for e in entries] == sorted({p.item.id for form in forms for p in form.items})
    for form in forms:
        for placed in form.items:
            view = next(View(e) for e in entries if e.id == placed.item.id)
            uses = [r for r in view.records if r["kind"] == "usage"]
            assert {
                "kind": "usage", "by": "Ms. Alder", "date": "2025-09-12", "form": form.ident,
                "section": form.section, "title": "Test",
            } in uses  # fmt: skip
            assert view.named("source", "made_by") == {"barwright 0"}
            assert view.named("tag", "tag") == ({"MU:Pr4"} if placed.item.id == first.id else set())
    assert quiz_entries([*forms, *forms], {}, made_by="", by="", date="") == quiz_entries(
        forms, {}, made_by="", by="", date=""
    )


def test_items_of_the_wrong_size_are_not_taken() -> None:
    plan = blueprint()
    part = next(each for each in plan.part if each.ask == "count-under-mark")
    short = plan.model_copy(update={"part": [part.model_copy(update={"measures": 1})]})
    made = made_forms(short, stock=taken(bank(review("approve")), plan=short).stock)
    assert all(len(p.item.excerpt.measures) == 1 for each in made for p in each.form.items)
