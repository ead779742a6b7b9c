"""Which item of a tiny form is exchanged, and within what bounds; by hand. Common practice."""


from asks.spaces import space
from barwright.forms.balance import balanced, steadied
from barwright.forms.draft import Draft
from barwright.forms.parallel import Trait, spread_of
from barwright.forms.questions import cell_of
from barwright.forms.ready_items import question_of
from barwright.forms.sheets import Sheets
from barwright.items.item import Item
from forms.made_items import item, plan

FINISH = plan("finish-measure", space("w h. h q. q e rh rq re", "4/4"), items=3)
QUARTER, HALF = Trait("finish-measure", "values", "q"), Trait("finish-measure", "values", "h")


TWICE = [
    item("finish-measure", "4/4 q h _", "q", "h <dots-passed-over>, w <rests-take-no-time>"),
    item("finish-measure", "4/4 _ h q", "q", "h <dots-passed-over>, w <rests-take-no-time>"),
]


def desk_of(*items: Item) -> Draft:
    draft = Draft("A", {}, sheets=Sheets("seed"))
    for each in items:
        draft.keep(FINISH, question_of(each), each)
    return draft


def twice(draft: Draft) -> bool:
    """Whether a mirror image stands in the form."""
    return any(count > 1 for mark, count in draft.shown.items() if mark.kind == "twin")


def test_a_mirror_image_is_exchanged_in_a_first_form() -> None:
    draft = desk_of(*TWICE)
    assert twice(draft)
    found = steadied(draft, [FINISH, FINISH])
    assert not twice(draft)
    assert sorted(each.id for each in found) == sorted(each.id for each in draft.items)
    assert draft.bent == {}
    assert draft.sum == sum(draft._marks[each.id][1] for each in found)


def test_the_first_place_to_be_tried_is_exchanged_and_the_others_stay() -> None:
    for first in (0, 1):
        draft = desk_of(*TWICE)
        cells = [cell_of(each, FINISH) for each in TWICE]
        found = balanced(
            draft, [FINISH] * 2, cells, dict(enumerate(TWICE)), (first, 1 - first), beside=[spread_of(TWICE)]
        )
        assert not twice(draft)
        assert found[first] not in TWICE
        assert found[1 - first] == TWICE[1 - first]


def test_items_about_own_excerpts_stay() -> None:
    draft = desk_of(*TWICE)
    draft.own.update({each.id: 1 for each in TWICE})
    assert steadied(draft, [FINISH, FINISH]) == TWICE
