"""Capacity against brute force: every succession of symbols tried, the legal ones kept, questions counted from them."""

from fractions import Fraction
from itertools import product
from pathlib import Path

import pytest

from barwright.asks import ASKS
from barwright.blueprint.parsing import read_blueprint
from barwright.errors import BlueprintError
from barwright.forms.assembly import made_forms
from barwright.notation.legality import is_legal
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.meter import parse_meter
from barwright.rhythm.text import format_symbols, parse_symbols
from barwright.tasks.capacity import (
    MOST_DRAWN,
    MOST_LISTED,
    capacity,
    capacity_faults,
    capacity_table,
    part_capacity,
    served,
)
from items.demo import blueprint_text, plan

METERS = ("2/4", "3/4", "4/4")
SMALL = {
    "halves and quarters": '\nmeters = ["2/4", "3/4", "4/4"]\nnotes = ["half", "quarter"]\nrests = ["quarter"]\n',
    "with whole and half rests": (
        '\nmeters = ["2/4", "3/4", "4/4"]\nnotes = ["whole", "half", "quarter"]\nrests = ["whole", "half"]\n'
    ),
}
TOKENS = {"halves and quarters": "h q rq", "with whole and half rests": "w h q rW rh"}


def measures(vocabulary: str) -> dict[str, list[str]]:
    """Every legal measure of the tokens with a note in it, by meter, from all successions of at most four.

    Of these the plain ones: no more than two thirds of a measure are silent.
    """
    found: dict[str, list[str]] = {}
    for meter in METERS:
        tried = (" ".join(p) for n in range(1, 5) for p in product(TOKENS[vocabulary].split(), repeat=n))
        legal = (t for t in tried if is_legal(parse_symbols(t), parse_meter(meter), Conventions()))
        found[meter] = [t for t in legal if silence(t) <= Fraction(2, 3) * parse_meter(meter).capacity]
    return found


def silence(measure: str) -> Fraction:
    """How long the rests of a measure last, in whole notes; of the full-measure rest, which is all silent, more."""
    lengths = {"rq": Fraction(1, 4), "rh": Fraction(1, 2), "rW": Fraction(1)}
    return sum((lengths.get(token, Fraction(0)) for token in measure.split()), Fraction(0))


def blanked(measure: str, width: int) -> set[str]:
    """The measure with a blank in each place that leaves something else."""
    tokens = measure.split()
    return (
        set()
        if len(tokens) == width
        else {" ".join([*tokens[:i], "_", *tokens[i + width :]]) for i in range(len(tokens) - width + 1)}
    )


def expected(ask: str, vocabulary: str) -> int | None:
    """How many different questions an ask has, counted from the brute force; None where keys decide as well."""
    found = measures(vocabulary)
    every = [(meter, m) for meter in METERS for m in found[meter]]
    if ask == "finish-measure":
        return len({(meter, b) for meter, m in every for b in blanked(m, 1)})
    if ask == "beats-left":  # up to three symbols are missing
        return len({(meter, b) for meter, m in every for width in (1, 2, 3) for b in blanked(m, width)})
    if ask == "finish-measure-with-two":
        return len({(meter, b) for meter, m in every for b in blanked(m, 2)})
    if ask == "count-under-mark":
        return sum(len(m.split()) for _, m in every)
    if ask == "does-it-fit":
        return len(METERS) * len(TOKENS[vocabulary].split()) - ("rh" in TOKENS[vocabulary].split())  # none in 3/4
    if ask == "what-the-numbers-say":
        asked = {(meter, t, m) for meter, m in every for t in (0, 2) if len(m.split()) != int(meter[t])}
        return len({(meter, m) for meter, _, m in asked if not all(s.startswith("r") for s in m.split())})
    if ask in ("counts-for-rhythm", "write-counts", "rhythm-for-counts") or ASKS[ask].family == "meter-identification":
        return len(every)
    return None


@pytest.mark.parametrize("vocabulary", list(SMALL))
@pytest.mark.parametrize("ask", list(ASKS))
def test_excerpts_are_those_of_brute_force(ask: str, vocabulary: str) -> None:
    found = part_capacity(1, plan(SMALL[vocabulary], ask))
    wanted = expected(ask, vocabulary)
    assert found.exact
    assert found.measures == sum(map(len, measures(vocabulary).values()))
    if wanted is not None:
        assert found.excerpts == wanted
    assert found.items <= found.excerpts


def test_a_large_space_is_counted_exactly_by_measures_and_honestly_by_items(tmp_path: Path) -> None:
    path = tmp_path / "b.toml"
    path.write_text(blueprint_text(
        '\nmeters = ["4/4"]\nnotes = ["half", "quarter", "eighth"]\nrests = ["quarter"]\ndots = ["quarter"]\n',
        "counts-for-rhythm", items=3,
    ))  # fmt: skip
    blueprint, parts = capacity(path)
    (part,) = parts
    assert not part.exact
    assert part.items <= MOST_DRAWN < MOST_LISTED < part.measures**2
    assert capacity_table(parts, len(blueprint.sections))[-1].startswith("+ at least so many")


def test_it_says_truthfully_when_sections_must_share(tmp_path: Path) -> None:
    text = blueprint_text(SMALL["halves and quarters"], "does-it-fit", items=3, more='sections = ["A", "B", "C", "D"]')
    path = tmp_path / "b.toml"
    path.write_text(text)
    _, (part,) = capacity(path)
    blueprint, _ = read_blueprint(text, "b.toml")
    names = [f"P{n}" for n in range(part.sections + 1)]
    made = made_forms(blueprint.model_copy(update={"sections": names}))
    assert not any(m.shared for m in made[: part.sections])
    assert made[-1].shared
    assert f"serves {part.sections} sections without a common excerpt" in "\n".join(
        capacity_table((part,), part.sections + 1)
    )


@pytest.mark.parametrize(
    ("conventions", "rests", "told"),
    [
        ('counting = "kodaly"', '"half"',
         "; with counting = 'kodaly' few misreadings of counts lead to another rhythm: set counting = 'numbers'"),
        ('counting = "gordon"', "", "; with counting = 'gordon' and no rests taught few misreadings of counts lead to "
         "another rhythm: set counting = 'numbers' or teach rests"),
        ('held = "subdivisions"', '"half"',
         "; with held = 'subdivisions' few misreadings of counts lead to another rhythm: set held = 'beats'"),
        ('held = "beats"', '"half"', ""),
    ],
)  # fmt: skip
def test_few_rhythms_for_counts_are_told_with_the_convention_that_makes_them_few(
    conventions: str, rests: str, told: str
) -> None:
    text = (
        f'title = "T"\n[elements]\nmeters = ["2/4"]\nnotes = ["half", "quarter"]\nrests = [{rests}]\n'
        f'[conventions]\n{conventions}\n[[part]]\nfamily = "count-labeling"\nask = "rhythm-for-counts"\nitems = 90\n'
        'measures = 1\n[[part]]\nfamily = "count-labeling"\nask = "write-counts"\nitems = 90\nmeasures = 1\n'
    )
    blueprint, _ = read_blueprint(text, "b.toml")
    one, other = (fault for _, fault in capacity_faults(blueprint, (0, 1)))
    assert one.endswith(f"longer excerpts with `measures`{told}")
    assert other.endswith("longer excerpts with `measures`")


def test_format_of_measures_is_that_of_the_brute_force() -> None:
    assert all(format_symbols(parse_symbols(m)) == m for m in measures("halves and quarters")["4/4"])


TWO_PARTS = """title = "T"
sections = ["A", "B"]
[elements]
meters = ["3/4"]
notes = ["half", "quarter"]
rests = ["quarter"]
[[part]]
family = "count-labeling"
ask = "counts-for-rhythm"
items = 5
measures = 1
[[part]]
family = "count-labeling"
ask = "write-counts"
items = 5
measures = 1
"""


def test_parts_that_use_the_same_excerpts_are_counted_together(tmp_path: Path) -> None:
    path = tmp_path / "b.toml"
    path.write_text(TWO_PARTS)
    blueprint, parts = capacity(path)
    assert [p.items for p in parts] == [11, 11]  # by hand: three of q or rq less all rests, and h q, h rq, q h, rq h
    assert [p.sections for p in parts] == [2, 2]
    assert served(parts).sections == 1
    assert "Parts 1 (counts-for-rhythm) and 2 (write-counts) together serve 1 section" in capacity_table(parts, 2)[-1]
    one, other = made_forms(blueprint)
    assert not one.shared
    assert 0 < len(other.shared) <= len(other.form.items)


def test_variants_need_excerpts_too() -> None:
    text = TWO_PARTS.replace("[elements]", "[quiz]\ndraw = true\nvariants = 3\n[elements]")
    blueprint, _ = read_blueprint(text, "b.toml")
    told = [text for _, text in capacity_faults(blueprint, (0, 1))]
    assert [t.split(":")[0] for t in told] == ["items = 5 with 3 variants each"] * 2


def test_a_part_of_which_only_late_questions_give_items_is_not_refused() -> None:
    """Of the first 4,000 rhythms in 12/8 none gives an item; in 4/4 many do."""
    text = TWO_PARTS.replace('"3/4"', '"12/8", "4/4"').replace('"half", "quarter"', '"quarter", "eighth", "sixteenth"')
    text = text.replace('rests = ["quarter"]', 'dots = ["quarter"]\nplain = false').replace(
        "counts-for-rhythm", "rhythm-for-counts"
    )
    blueprint, _ = read_blueprint(text, "b.toml")
    assert list(capacity_faults(blueprint, (0, 1))) == []


def test_a_meter_that_cannot_be_filled_is_a_fault_of_its_line(tmp_path: Path) -> None:
    path = tmp_path / "b.toml"
    path.write_text(TWO_PARTS.replace('"3/4"', '"3/4", "3/8"'))
    with pytest.raises(BlueprintError) as caught:
        capacity(path)
    assert str(caught.value).startswith(f"{path}, line 4: meter 3/8 cannot be filled")
