"""Filters of a bank: each key asked of every demo item and held against the item itself."""

from collections.abc import Callable, Iterator
from random import Random

import pytest

from bank.demo_bank import demo_entries, demo_items, review, usage
from barwright.asks import ASKS, FAMILIES
from barwright.bank.entries import Entry, canonical, ident_of
from barwright.bank.records import entry_of, pairs_of
from barwright.bank.table import found_of, table_lines
from barwright.bank.views import View
from barwright.bank.where import (
    CONTENT,
    FEATURES,
    KEYS,
    NUMBERS,
    RECORDS,
    VALUES,
    filter_of,
    names_asked,
    unknown_name,
)
from barwright.errors import BankError
from barwright.items.difficulty import WEIGHTS, difficulty, features
from barwright.items.item import Item
from barwright.misreadings import MISREADINGS
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.measure import FULL_MEASURE_REST, note
from barwright.rhythm.meter import parse_meter
from barwright.rhythm.text import (
    format_excerpt,
    format_symbol,
    parse_excerpt,
    parse_measures,
)

ELEMENTS = [r + letter + more for r in ("", "r") for letter in "whqes" for more in ("", ".", "..", "t")] + ["rW", "~"]
SYMBOLS = "write notes as w h q e s, rests as rw rh rq re rs or rW, with . for a dot, t for a triplet; or ~ for any tie"
VIEWS = tuple(View(entry) for entry in demo_entries())


KNOWN = {
    "family": list(FAMILIES),
    "ask": list(ASKS),
    "meter": ["2/4", "3/4", "4/4", "6/8", "2/2", "4/2"],
    "misreading": list(MISREADINGS),
    "review": ["new", "approved", "retired"],
    "id": [view.entry.id for view in VIEWS],
}


def shown(item: Item) -> set[str]:
    """The tokens of an item's figures, read by the parser of rhythm text."""
    measures = list(item.excerpt.measures)
    for choice in item.choices:
        if choice.answer.kind in ("symbols", "measures"):
            measures += parse_measures(choice.answer.text)
    symbols = [symbol for measure in measures for symbol in measure if symbol.kind != "blank"]
    return {format_symbol(symbol).rstrip("~") for symbol in symbols} | {"~" for symbol in symbols if symbol.tied}


def facts(view: View) -> dict[str, set[str] | int]:
    """What the filters are to find, worked out from the item and not from text."""
    item = view.item
    return {
        "family": {ASKS[item.ask].family},
        "ask": {item.ask},
        "meter": {str(item.excerpt.meter)},
        "misreading": {m for choice in item.choices for way in choice.misreadings for m in way.split("+")},
        "id": {item.id},
        "review": {view.state},
        "measures": len(item.excerpt.measures),
        "choices": len(item.choices),
        "difficulty": difficulty(item.excerpt, WEIGHTS),
        **features(item.excerpt),
    }


@pytest.mark.parametrize("ask", ASKS)
def test_every_key_tells_what_the_item_holds(ask: str) -> None:
    views = [view for view in VIEWS if view.item.ask == ask]
    assert views
    for view in views:
        check_every_key(view)


def check_every_key(view: View) -> None:
    for key, value in facts(view).items():
        if isinstance(value, int):
            assert filter_of([f"{key}={value}"])(view.entry), key
            assert not filter_of([f"{key}!={value}", "sounds>=0"])(view.entry), key
            assert not filter_of([f"{key}>{value}"])(view.entry), key
        else:
            assert {v for v in KNOWN[key] if filter_of([f"{key}={v}"])(view.entry)} == value, key
            assert {v for v in KNOWN[key] if not filter_of([f"{key}!={v}"])(view.entry)} == value, key
    assert view.elements == shown(view.item)
    assert {token for token in ELEMENTS if filter_of([f"element={token}"])(view.entry)} == shown(view.item)
    assert set(view.keys) == {choice.answer.text for choice in view.item.keys}


def found(*conditions: str) -> list[View]:
    holds = filter_of(conditions)
    return [view for view in VIEWS if holds(view.entry)]


@pytest.mark.parametrize(
    ("condition", "holds"),
    [
        ("ask=beats-left", lambda v: v.ask == "beats-left"),
        ("ask!=beats-left", lambda v: v.ask != "beats-left"),
        ("family = count-labeling , meter-identification", lambda v: v.family != "measure-completion"),
        ("meter=3/4,6/8", lambda v: v.meter in ("3/4", "6/8")),
        ("misreading=rests-take-no-time", lambda v: "rests-take-no-time" in v.misreadings),
        ("misreading!=rests-take-no-time", lambda v: "rests-take-no-time" not in v.misreadings),
        ("element=q.,e", lambda v: bool(v.elements & {"q.", "e"})),
        ("element!=rq", lambda v: "rq" not in v.elements),
        ("element=~", lambda v: "~" in v.elements),
        ("only=h,q,rq,rh,w,rW", lambda v: v.elements <= {"h", "q", "rq", "rh", "w", "rW"}),
        ("tag=MU:Pr4.2.4b", lambda v: "MU:Pr4.2.4b" in v.named("tag", "tag")),
        ("review=approved", lambda v: v.state == "approved"),
        ("review!=approved,retired", lambda v: v.state == "new"),
        ("section=Period 2", lambda v: v.named("usage", "section") == {"Period 2"}),
        ("section!=Period 2", lambda v: v.named("usage", "section") != {"Period 2"}),
        ("quiz=Check 1", lambda _: True),
        ("source=Ms. Alder", lambda _: False),
        ("used>=2025-09", lambda _: True),
        ("used=2025", lambda _: True),
        ("used<2025-09-12", lambda _: False),
        ("uses>1", lambda _: False),
        *(
            (f"sounds{sign}4", lambda v, holds=holds: holds(v.feature("sounds")))
            for sign, holds in {
                "=": lambda n: n == 4, "!=": lambda n: n != 4, ">=": lambda n: n >= 4,
                "<=": lambda n: n <= 4, ">": lambda n: n > 4, "<": lambda n: n < 4,
            }.items()
        ),
    ],
)  # fmt: skip
def test_a_condition_finds_what_it_says(condition: str, holds: Callable[[View], bool]) -> None:
    assert found(condition) == [view for view in VIEWS if holds(view)]


def test_conditions_must_all_hold() -> None:
    assert found("meter=3/4", "section=Period 1", "sounds>=2") == [
        view for view in found("meter=3/4") if view in found("section=Period 1") and view in found("sounds>=2")
    ]
    assert found() == list(VIEWS)


@pytest.mark.parametrize(
    ("condition", "message"),
    [
        ("meter", "condition 'meter' cannot be read: write it as meter=3/4, element!=rh or sounds>=4"),
        ("metre=3/4", "condition 'metre=3/4': 'metre' is not known: did you mean 'meter'?"),
        (
            "zz=1",
            "condition 'zz=1': 'zz' is not known: use one such as quiz, ask or choices; barwright help bank lists "
            "them all",
        ),
        ("meter>=3/4", "condition 'meter>=3/4': meter can only be compared by = or !="),
        ("only!=q", "condition 'only!=q': only can only be compared by ="),
        ("review=aproved", "condition 'review=aproved': 'aproved' is no review: did you mean 'approved'?"),
        ("review=zz", "condition 'review=zz': 'zz' is no review: use new, approved, retired"),
        ("sounds>=four", "condition 'sounds>=four': 'four' is no whole number: write it in digits, e.g. 4"),
        ("sounds>=", "condition 'sounds>=': a value is missing: write it after >="),
        ("only=", "condition 'only=': a value is missing: write it after ="),
        ("element!= ", "condition 'element!= ': a value is missing: write it after !="),
        ("only=q,,h", "condition 'only=q,,h': a value is missing: write it, or take a comma out"),
        ("element=zz", f"condition 'element=zz': 'zz' is no element: {SYMBOLS}"),
        ("element!=q,rh~", f"condition 'element!=q,rh~': 'rh~' is no element: {SYMBOLS}"),
        ("only=_", f"condition 'only=_': '_' is no element: {SYMBOLS}"),
        ("meter=34", "condition 'meter=34': '34' is no meter: write it as 3/4, 6/8 or 2+3/8"),
        ("id=8x", "condition 'id=8x': '8x' is no id: give the first letters of one, as bank show prints it"),
        ("used>=March", "condition 'used>=March': 'March' is no date: write it as 2025-03-14, 2025-03 or 2025"),
    ],
)
def test_what_cannot_be_understood_is_told_with_what_would_work(condition: str, message: str) -> None:
    with pytest.raises(BankError) as error:
        filter_of([condition])
    assert str(error.value) == message


@pytest.mark.parametrize("length", [1, 4, 16])
def test_an_id_is_found_by_its_first_letters(length: int) -> None:
    for view in VIEWS:
        start = view.entry.id[:length]
        assert found(f"id={start}") == [each for each in VIEWS if each.entry.id.startswith(start)]
        assert view not in found(f"id!={start}")


def test_every_key_is_in_one_table_only() -> None:
    assert len(KEYS) == len(set(KEYS)) == len(CONTENT) + len(RECORDS) + len(VALUES) + len(FEATURES) + len(NUMBERS) + 5


TIED, HALF = note("1/4", tied=True), note("1/2")


def random_excerpt(rng: Random) -> Excerpt:
    """Measures of any length, ties and pickups included: full ones are put together of few symbols."""
    pool = [note("1/4"), note("1/8"), TIED, HALF, note("1/4", 1), FULL_MEASURE_REST]
    measures = [tuple(rng.choice(pool) for _ in range(rng.randint(1, 4))) for _ in range(rng.randint(1, 3))]
    return Excerpt(parse_meter(rng.choice(["3/4", "4/4", "6/8", "2/4"])), tuple(measures))


def viewed(excerpt: str) -> View:
    content = canonical({**VIEWS[0].content, "excerpt": excerpt})
    return View(Entry(ident_of(content), content))


def test_counting_by_measures_is_counting_the_excerpt() -> None:
    """Pickups, ties over barlines and marks among them: what the rhythm text means is what is counted."""
    rng = Random(1)
    texts = [format_excerpt(random_excerpt(rng)) for _ in range(3000)]
    texts += ["4/4 q~ | q h. | w", "3/4 q | h q | h", "3/4 *q q q | h.", "4/4 h _ | w", "3/4 q q q~ | q~ h"]
    for text in texts:
        excerpt = parse_excerpt(text, full=False)
        counts = {**features(excerpt), "difficulty": difficulty(excerpt, WEIGHTS)}
        assert {name: viewed(text).feature(name) for name in counts} == counts, text
        assert viewed(text).measures == len(excerpt.measures)
    assert viewed("5/5 q").feature("sounds") is None
    assert not filter_of(["sounds<99"])(viewed("5/5 q").entry)


def test_a_use_counts_once_however_often_it_was_added() -> None:
    entry = demo_entries()[0]
    again = [usage("Period 9"), usage("Period 9", date="2025-10-01"), usage("Period 9", form="f" + "0" * 16)]
    assert View(Entry(entry.id, entry.content, pairs_of(again))).uses == 2


def test_retired_stays_retired() -> None:
    entry = demo_entries()[0]
    verdicts = [review("approve"), review("retire"), review("comment", text="no"), review("approve", by="Ms. Alder")]
    states = [View(Entry(entry.id, entry.content, pairs_of(verdicts[:n]))).state for n in range(5)]
    assert states == ["new", "approved", "retired", "retired", "retired"]
    remark = [review("comment", text='they say "verdict":"retire"')]
    assert View(Entry(entry.id, entry.content, pairs_of(remark))).state == "new"


def test_the_table_says_what_is_left_out() -> None:
    whole = table_lines(found_of(VIEWS, most=1000))
    assert len(whole) == len(VIEWS) + 2
    assert whole[-1].startswith(f"{len(VIEWS)} items: ")
    asks = [next(ask for ask in ASKS if f"  {ask}  " in line) for line in whole[1:-1]]
    assert asks == sorted(asks, key=list(ASKS).index)
    few = table_lines(found_of(VIEWS, most=3))
    assert [line.split() for line in few[1:4]] == [line.split() for line in whole[1:4]]
    assert few[-1] == f"{len(VIEWS) - 3} more are not shown: narrow them by --where, or raise --most."
    assert table_lines(found_of([], most=3)) == ("0 items: 0 new, 0 approved, 0 retired.",)
    assert table_lines(found_of(VIEWS[:1], most=3))[-1].startswith("1 item: ")


def test_a_name_is_looked_for_no_longer_than_until_it_is_found() -> None:
    """Half of a large bank need not be read once more to know that a section is there."""
    read: list[str] = []

    def entries() -> Iterator[Entry]:
        for item, section in zip(demo_items(), ("Period 1", "Period 2", "Period 3", "Period 4"), strict=False):
            read.append(section)
            yield entry_of(item, [usage(section)])

    assert unknown_name(names_asked(["section=Period 2", "section!=Period 1"]), entries()) == ""
    assert read == ["Period 1", "Period 2"]
    assert unknown_name(names_asked(["section=Period 9"]), entries()) == (
        "condition 'section=Period 9': no item has the section 'Period 9': did you mean 'Period 4'?"
    )
