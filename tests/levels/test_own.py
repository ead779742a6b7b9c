"""The teacher's own rhythms: asked about first, shared out among sections, and refused by line if they are no good."""

from pathlib import Path
from random import Random

import pytest

from barwright.asks.drawn_excerpts import drawn_excerpt, listed_excerpts
from barwright.blueprint.blueprint import plan_of
from barwright.blueprint.parsing import examined, read_blueprint
from barwright.errors import BarwrightError, BlueprintError
from barwright.forms.assembly import made_forms
from barwright.forms.questions import own_questions
from barwright.rhythm.text import format_excerpt
from barwright.tasks.capacity import capacity
from barwright.tasks.make import make
from barwright.tasks.packing import Order
from barwright.tasks.progress import silent

OWN = (
    "4/4 q. e q q | h rq q",
    "4/4 e e q h | q q q~ q",
    "3/4 q. e q~ | q h",
    "4/4 q e e q. e | w",
    "3/4 e e q q | h q",
    "4/4 q q~ q. e | q q h",
)
TEXT = """title = "Own"
seed = 5
sections = ["A", "B"]
[elements]
meters = ["3/4", "4/4"]
notes = ["whole", "half", "quarter", "eighth"]
rests = ["quarter"]
dots = ["half", "quarter"]
ties = true
patterns = ["e e", "q. e"]
[excerpts]
rhythms = [
{rhythms}
]
[[part]]
family = "count-labeling"
ask = "counts-for-rhythm"
items = 4
[[part]]
family = "meter-identification"
ask = "does-it-fit"
items = 1
"""


def blueprint_text(rhythms: tuple[str, ...] = OWN) -> str:
    return TEXT.replace("{rhythms}", "\n".join(f'  "{each}", # from our book' for each in rhythms))


def test_own_rhythms_come_first_and_each_section_has_its_share() -> None:
    blueprint, _ = read_blueprint(blueprint_text(), "own.toml")
    one, other = (
        [format_excerpt(p.item.excerpt) for p in made.form.items if p.item.ask == "counts-for-rhythm"]
        for made in made_forms(blueprint)
    )
    assert len(set(one) & set(OWN)) == 3, "six rhythms for two sections"
    assert not set(one) & set(other)
    again = [format_excerpt(p.item.excerpt) for p in made_forms(blueprint)[0].form.items]
    assert again[: len(one)] == one


def test_more_rhythms_than_items_leave_no_drawn_one() -> None:
    text = blueprint_text().replace('sections = ["A", "B"]', 'sections = ["A"]')
    (made,) = made_forms(read_blueprint(text, "own.toml")[0])
    asked = [format_excerpt(p.item.excerpt) for p in made.form.items if p.item.ask == "counts-for-rhythm"]
    assert set(asked) <= set(OWN)


def test_a_part_of_another_length_takes_runs_that_no_tie_cuts() -> None:
    text = blueprint_text(OWN[:3]).replace("items = 4", "items = 4\nmeasures = 1")
    blueprint, _ = read_blueprint(text, "own.toml")
    own = plan_of(blueprint.part[0], blueprint).own
    assert own.space is not None
    found = {format_excerpt(excerpt) for excerpt in listed_excerpts(own.space)}
    assert found == {"4/4 q. e q q", "4/4 h rq q", "4/4 e e q h", "4/4 q q q~ q"}
    assert own.share == 2


def test_asks_about_symbols_have_none_of_them() -> None:
    blueprint, _ = read_blueprint(blueprint_text(), "own.toml")
    asked = [len(own_questions(plan_of(part, blueprint))) for part in blueprint.part]
    assert asked == [len(OWN), 0]


def test_capacity_counts_them_with_what_is_drawn(tmp_path: Path) -> None:
    small = """title = "Own"
[elements]
meters = ["2/4"]
notes = ["half", "quarter", "eighth"]
patterns = ["e e"]
{own}
[[part]]
family = "count-labeling"
ask = "write-counts"
items = 1
measures = 1
"""
    counts = []
    for own in ("", '[excerpts]\nrhythms = ["2/4 q q | e e q", "2/4 h"]'):
        path = tmp_path / "b.toml"
        path.write_text(small.replace("{own}", own))
        counts.append(capacity(path)[1][0].excerpts)
    assert counts == [5, 5], "by hand: h, q q, e e q, q e e, e e e e; own ones among them are counted once"
    path.write_text(
        small.replace("{own}", '[excerpts]\nrhythms = ["2/4 e e e e"]').replace('["e e"]', '["e e"]\nmost_sounds = 3')
    )
    assert capacity(path)[1][0].excerpts == 5, "four without it"


def faults(*rhythms: str) -> list[str]:
    with pytest.raises(BlueprintError) as told:
        read_blueprint(blueprint_text((OWN[0], *rhythms)), "own.toml")
    return list(told.value.faults)


@pytest.mark.parametrize(
    ("rhythm", "told"),
    [
        ("4/4 q q q", "measure 1 holds 3/4 but 4/4 needs 4/4: add 1/4"),
        ("4/4 q q q x", "symbol 'x' cannot be read: write symbols as w h q e s, rests as rw rh rq re rs or rW, then . "
         "for a dot, t for a triplet, ~ for a tie"),
        ("2/4 q q", "meter 2/4 is not taught: add it to [elements] meters, or take the rhythm out"),
    ],
)  # fmt: skip
def test_a_rhythm_that_cannot_be_asked_is_refused_with_its_line(rhythm: str, told: str) -> None:
    assert faults(rhythm) == [f"own.toml, line 14: {rhythm!r}: {told}"]


def test_untaught_and_unprintable_rhythms_are_refused_with_the_mend() -> None:
    assert faults("4/4 q rh q", "4/4 s s e q h", "4/4 e q e h", "4/4 q | q q h | h q", "4/4 q _ h", "4/4 re e q h") == [
        "own.toml, line 14: '4/4 q rh q' shows what is not taught (rh): add it to [elements], or take the rhythm out",
        "own.toml, line 15: '4/4 s s e q h' shows what is not taught (s): add it to [elements], or take the rhythm out",
        "own.toml, line 16: '4/4 e q e h': 4/4 e q e h is syncopated: add syncopation = true to [elements], or take "
        "the rhythm out",
        "own.toml, line 17: '4/4 q | q q h | h q' begins with a pickup: write full measures only",
        "own.toml, line 18: '4/4 q _ h' has a blank or a mark: write the whole rhythm, the quiz asks about it",
        "own.toml, line 19: '4/4 re e q h' shows what is not taught (re): add it to [elements], or take the rhythm out",
    ]


def test_a_figure_beside_the_patterns_named_is_untaught() -> None:
    text = blueprint_text(("4/4 q. e h",)).replace('patterns = ["e e", "q. e"]', 'patterns = ["grade 4"]')
    assert [text for _, text in examined(text, "own.toml").faults] == [
        "'4/4 q. e h': pattern 'q. e' is not among those taught: add it to [elements] patterns"
    ]


def test_illegal_notation_is_refused_with_its_rule() -> None:
    text = blueprint_text(("4/4 q q | h h",)).replace('rests = ["quarter"]', 'rests = ["half", "quarter"]')
    told = [fault for _, fault in examined(text.replace("4/4 q q | h h", "4/4 q rh q"), "own.toml").faults]
    assert told == [
        "'4/4 q rh q': 4/4 q rh q is not printed so: a half rest stands on beats 1-2 or 3-4 of 4/4, never 2-3 "
        "(Open University 4.2)"
    ]


def test_rhythms_from_a_file_beside_the_blueprint(tmp_path: Path) -> None:
    path, file = tmp_path / "own.toml", tmp_path / "book.txt"
    path.write_text(blueprint_text(()).replace("seed = 5", 'seed = 5\nexcerpts_file = "book.txt"'))
    file.write_text("# our book, page 12\n" + "\n".join(OWN) + "\n\n3/4 h. | h q # page 13\n")
    _, (part, _) = capacity(path)
    assert part.excerpts > len(OWN)
    make(path, Order(tmp_path / "out", standards=("qti12",)), progress=silent)
    record = (tmp_path / "out" / "own" / "record.jsonl").read_text()
    assert sum(rhythm in record for rhythm in OWN) >= 4
    file.write_text("4/4 q q q q\n\n4/4 q q q\n3/8 q.\n")
    with pytest.raises(BlueprintError) as told:
        capacity(path)
    assert list(told.value.faults) == [
        f"{file}, line 3: '4/4 q q q': measure 1 holds 3/4 but 4/4 needs 4/4: add 1/4",
        f"{file}, line 4: '3/8 q.': meter 3/8 is not taught: add it to [elements] meters, or take the rhythm out",
    ]
    file.write_text("# nothing yet\n")
    with pytest.raises(
        BlueprintError, match=r"book.txt: holds no rhythm: write 1 to 400, one a line, such as 4/4 q. e"
    ):
        capacity(path)
    file.unlink()
    with pytest.raises(BarwrightError, match=r"book.txt: cannot be read"):
        capacity(path)


def test_a_file_elsewhere_is_refused() -> None:
    text = blueprint_text().replace("seed = 5", 'seed = 5\nexcerpts_file = "../book.txt"')
    assert [fault for _, fault in examined(text, "own.toml").faults] == [
        "excerpts_file = '../book.txt' is not beside the blueprint: copy it there, and give its name"
    ]


def test_drawing_from_own_rhythms_gives_nothing_else() -> None:
    blueprint, _ = read_blueprint(blueprint_text(), "own.toml")
    own = plan_of(blueprint.part[0], blueprint).own
    assert own.space is not None
    assert {format_excerpt(drawn_excerpt(own.space, Random(n))) for n in range(60)} == set(OWN)
