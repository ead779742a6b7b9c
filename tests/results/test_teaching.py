"""By which answer a thing to teach again is shown."""

from barwright.results.answers import Response
from barwright.results.teaching import best_seen
from results.written import form_of, item

FILLED = item(
    "finish-measure", "3/4 h _", "symbols", q="", h="every-measure-has-four-beats numbers-of-the-signature-swapped"
)
COPIED = item("finish-measure", "4/4 h q _", "symbols", q="", h="numbers-of-the-signature-swapped", w="neighbor-copied")
GIVEN = form_of([FILLED, COPIED])


def picked(**counts: int) -> list[Response]:
    """So many students who gave the answer `h` to each item."""
    items = {"filled": FILLED, "copied": COPIED}
    return [
        Response(f"{name}{n}", GIVEN.section, GIVEN.ident, items[name].id, ("h",))
        for name, count in counts.items()
        for n in range(count)
    ]


def test_an_answer_that_stands_for_two_is_shared_out_among_them() -> None:
    mine = ("numbers-of-the-signature-swapped",)
    for filled, copied, best, students in ((5, 3, COPIED, 3), (7, 3, FILLED, 7)):
        seen = best_seen(mine, [GIVEN], picked(filled=filled, copied=copied))
        assert seen is not None
        assert (seen.asked.item, seen.answer, seen.students) == (best, "h", students)


def test_what_shows_one_thing_is_no_picture_of_another() -> None:
    mine, answers = ("numbers-of-the-signature-swapped",), picked(filled=7, copied=1)
    seen = best_seen(mine, [GIVEN], answers, had={(FILLED.id, "h")})
    assert seen is not None
    assert seen.asked.item == COPIED
    assert best_seen(("every-measure-has-four-beats",), [GIVEN], answers, had={(FILLED.id, "h")}) is None
