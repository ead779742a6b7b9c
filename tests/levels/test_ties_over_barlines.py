"""Ties over barlines: drawn, counted, engraved, judged and asked; `-1` is the convention of the counts."""

from itertools import pairwise, product
from random import Random

import pytest
from lxml import etree

from barwright.asks.ask import Space
from barwright.asks.derivation import way_leads_to
from barwright.asks.drawn_excerpts import (
    drawn_excerpt,
    excerpt_count,
    listed_excerpts,
    listed_measures,
)
from barwright.asks.wrong_rhythms import near_rhythms
from barwright.blueprint.blueprint import plan_of
from barwright.blueprint.parsing import read_blueprint
from barwright.counting.counts import count_labels, format_row
from barwright.engrave.font import load_font
from barwright.engrave.layout import layout
from barwright.engrave.musicxml import musicxml
from barwright.forms.assembly import made_forms
from barwright.items.item import Answer, Choice, Item
from barwright.items.taught import Taught
from barwright.judge import judged
from barwright.notation.legality import is_legal
from barwright.notation.reading_ease import syncopated
from barwright.rhythm.conventions import Conventions, Counting
from barwright.rhythm.excerpt import Excerpt, Figure
from barwright.rhythm.measure import ended
from barwright.rhythm.meter import parse_meter
from barwright.rhythm.text import (
    format_excerpt,
    format_measures,
    format_symbols,
    parse_excerpt,
    parse_symbols,
)
from barwright.wording.alt_text import spoken
from barwright.wording.counting_rules import counting_rules
from barwright.wording.language import language
from barwright.wording.scene import scene_of
from wording.sample_items import made

USUAL = Conventions()
ENGLISH = language("en-US")
TEXT = """title = "Ties"
seed = 3
[elements]
meters = ["3/4", "4/4"]
notes = ["whole", "half", "quarter", "eighth"]
rests = ["quarter"]
dots = ["half"]
ties = true
{more}
"""
PART = '[[part]]\nfamily = "{}"\nask = "{}"\nitems = {}\nmeasures = 2\n'


def space_of(
    ask: str = "counts-for-rhythm", *, family: str = "count-labeling", more: str = "", measures: int = 2
) -> Space:
    text = TEXT.replace("{more}", more) + PART.format(family, ask, 1).replace("= 2", f"= {measures}")
    blueprint, _ = read_blueprint(text, "ties.toml")
    return plan_of(blueprint.part[0], blueprint).space


def over(excerpt: Excerpt) -> int:
    """How many ties lead over barlines."""
    return sum(measure[-1].tied for measure in excerpt.measures)


@pytest.mark.parametrize("measures", [2, 3])
@pytest.mark.parametrize("more", ["", "plain = false"])
def test_lines_are_all_those_of_which_each_measure_is_legal_with_one_tie_over_a_barline_at_most(
    measures: int, more: str
) -> None:
    """By brute force: all successions of measures, with and without a tie at their end, a note after each tie."""
    text = more + '\nallow = ["many-sounds"]' * (not more)
    wide = space_of(more=text, measures=measures)
    small = Space(
        wide.taught, type(wide.alphabet)(("h", "h~", "q", "q~")), wide.meters, USUAL, measures, limits=wide.limits
    )  # fmt: skip
    three = parse_meter("3/4")
    able = [m for onward in (False, True) for m in listed_measures(small, three, onward=onward)]
    able += [m for onward in (False, True) for m in listed_measures(small, three, held=True, onward=onward)]
    tried = (Excerpt(three, line) for line in product(dict.fromkeys(able), repeat=measures))
    wanted = {
        excerpt
        for excerpt in tried
        if over(excerpt) <= 1
        and not excerpt.measures[-1][-1].tied
        and all(is_legal(ended(m), three, USUAL) for m in excerpt.measures)
        and not any(a[-1].tied and (b[0].silent or sum(s.tied for s in b)) for a, b in pairwise(excerpt.measures))
        and all(sum(s.tied for s in m) <= 1 for m in excerpt.measures)
    }
    listed = [e for e in listed_excerpts(small) if e.meter == three]
    assert len(listed) == len(set(listed)) == excerpt_count(small, three)
    assert set(listed) == wanted
    assert {0, 1} == {over(e) for e in listed}


def test_about_a_third_of_the_lines_have_one_and_single_measures_none():
    space, single = space_of(), space_of(measures=1)
    found = [over(drawn_excerpt(space, Random(n))) for n in range(300)]
    assert set(found) == {0, 1}
    assert 70 < sum(found) < 130
    assert {over(drawn_excerpt(single, Random(n))) for n in range(50)} == {0}


def test_none_where_ties_were_not_taught_or_wrong_rhythms_are_put_together_measure_by_measure():
    untied = TEXT.replace("ties = true", "").replace("{more}", "") + PART.format("count-labeling", "write-counts", 1)
    blueprint, _ = read_blueprint(untied, "ties.toml")
    three = TEXT.replace('["3/4", "4/4"]', '["2/4", "3/4", "4/4"]').replace("{more}", "")
    by_measure = PART.format("meter-identification", "rhythm-for-time-signature", 1)
    others, _ = read_blueprint(three + by_measure, "ties.toml")
    for space in (plan_of(each.part[0], each).space for each in (blueprint, others)):
        assert {over(drawn_excerpt(space, Random(n))) for n in range(60)} == {0}
        assert excerpt_count(space, parse_meter("3/4")) == len(list(listed_measures(space, parse_meter("3/4")))) ** 2


def test_a_sound_from_off_the_beat_over_the_barline_is_syncopation():
    four = parse_meter("4/4")
    assert syncopated(parse_symbols("q q q e e~"), four)
    assert not syncopated(parse_symbols("q q q q~"), four)
    assert not syncopated(parse_symbols("q q h~"), four)
    before = {format_symbols(m) for m in listed_measures(space_of(), four, onward=True)}
    after = {format_symbols(m) for m in listed_measures(space_of(), four, held=True)}
    assert "q q q q~" in before
    assert "h q q" in after
    assert not any(text.endswith("e~") for text in before)
    assert not any(text.startswith("e") for text in after), "on to a long note, before syncopation is taught"
    later = space_of(more="syncopation = true")
    drawn = {format_measures(drawn_excerpt(later, Random(n)).measures) for n in range(400)}
    assert any("e~ |" in text for text in drawn)


@pytest.mark.parametrize(
    ("rhythm", "conventions", "counts"),
    [
        ("3/4 q q q~ | q h", Conventions(), "1 2 3 | -1 2-3"),
        ("3/4 q q q~ | q h", Conventions(held="onset_only"), "1 2 3 | -1 2"),
        ("4/4 h h~ | w", Conventions(), "1-2 3-4 | -1-2-3-4"),
        ("4/4 q q q e e~ | e e q h", Conventions(held="subdivisions"), "1-& 2-& 3-& 4 & | -1 & 2-& 3-&-4-&"),
        ("4/4 h. q~ | h q q", Conventions(counting="takadimi"), "ta ta | -ta ta ta"),
        ("6/8 q. q e~ | q. q.", Conventions(), "1 2 li | -1 2"),
    ],
)
def test_the_count_of_a_held_part_begins_with_a_hyphen(rhythm: str, conventions: Conventions, counts: str) -> None:
    assert format_row(count_labels(parse_excerpt(rhythm), conventions)) == counts


# About one draw in four has a tie over the barline.
COUNTS = {"what-the-numbers-say": 1, "finish-measure": 16}
ASKED = (
    ("count-labeling", "counts-for-rhythm"),
    ("count-labeling", "write-counts"),
    ("count-labeling", "count-under-each"),
    ("count-labeling", "rhythm-for-counts"),
    ("count-labeling", "count-under-mark"),
    ("measure-completion", "finish-measure"),
    ("measure-completion", "all-that-fit"),
    ("meter-identification", "what-the-numbers-say"),
)


def items_with_ties() -> list[Item]:
    text = TEXT.replace("{more}", "syncopation = true")
    text += "".join(PART.format(family, ask, COUNTS.get(ask, 8)) for family, ask in ASKED)
    text = text.replace('"counts-for-rhythm"', '"counts-for-rhythm"\nmisreadings = ["tied-note-struck-again"]')
    blueprint, _ = read_blueprint(text, "ties.toml")
    (form,) = made_forms(blueprint)
    return [p.item for p in form.form.items if any(m[-1].tied for m in p.item.excerpt.measures)]


def test_every_ask_of_two_measures_asks_about_them_and_the_judge_agrees() -> None:
    items = items_with_ties()
    symbols = frozenset({"w", "h", "q", "e", "h.", "rq"})
    taught = Taught(symbols, True, (parse_meter("3/4"), parse_meter("4/4")))
    asks = {item.ask for item in items}
    assert {"counts-for-rhythm", "write-counts", "count-under-each", "rhythm-for-counts", "finish-measure"} <= asks
    assert not [reasons for item in items if (reasons := judged(item, taught))]
    rows = [item.keys[0].answer.text for item in items if item.ask in ("counts-for-rhythm", "write-counts")]
    assert rows
    assert all(" | -1" in row for row in rows)
    for item in items:
        if item.ask == "count-under-mark":
            assert item.excerpt.mark is not None
            measure, index = item.excerpt.mark
            symbols_there = item.excerpt.measures[measure]
            assert not (index == len(symbols_there) - 1 and symbols_there[-1].tied), "its count goes on in the next"
            assert not (not index and measure and item.excerpt.measures[measure - 1][-1].tied)
        if item.ask == "finish-measure":
            text = format_excerpt(item.excerpt)
            assert "~ | _" not in text
            assert "_ |" not in text or "~ |" not in text or text.count("|") > 1


def test_the_tie_passed_over_is_a_wrong_row_and_a_wrong_rhythm() -> None:
    rows = {
        c.answer.text: c.misreadings
        for item in items_with_ties()
        if item.ask == "counts-for-rhythm"
        for c in item.wrong
    }
    struck = [row for row, ids in rows.items() if "tied-note-struck-again" in ids]
    assert struck
    assert any(" | 1" in row for row in struck)
    space = space_of()
    near = set(near_rhythms(parse_excerpt("3/4 q q q~ | q h"), space.anywhere, Random(1)))
    assert parse_excerpt("3/4 q q q | q h") in near
    assert parse_excerpt("3/4 h q~ | q h") in near, "the tie stays where the first measure changes"
    assert parse_excerpt("3/4 q q q~ | h q") in near
    assert not [n for n in near if n.measures[0][-1].tied and n.measures[1][0].kind != "note"]
    assert parse_excerpt("3/4 q q q~ | q h") in set(
        near_rhythms(parse_excerpt("3/4 q q q | q h"), space.anywhere, Random(1))
    )


def test_the_judge_refuses_a_tie_that_leads_over_the_barline_to_a_rest() -> None:
    taught = Taught(frozenset({"h", "q", "rq"}), True, (parse_meter("3/4"),))
    excerpt = Excerpt(parse_meter("3/4"), (parse_symbols("q q q~"), parse_symbols("rq h")))
    choices = (
        Choice(Answer("row", "1 2 3 | (1) 2-3")),
        Choice(Answer("row", "1 2 3 | 1 2"), ("x",)),
        Choice(Answer("row", "1 2 3 | 4 5-6"), ("y",)),
    )
    told = judged(Item("counts-for-rhythm", excerpt, USUAL, choices), taught)
    assert told[:1] == ("dangling-tie: 3/4 q q q~ | rq h",) or any(t.startswith("dangling-tie") for t in told)


def test_the_tie_is_drawn_across_the_barline() -> None:
    figure = Figure(parse_excerpt("3/4 q q q~ | q h"))
    placed = layout(figure, load_font("Bravura"), USUAL).placed
    (tie,) = [each.box for each in placed if each.role == "tie"]
    bars = [each.box for each in placed if each.role == "barline"]
    assert any(tie.x0 < bar.x0 and bar.x1 < tie.x1 for bar in bars)


def test_musicxml_starts_the_tie_in_one_measure_and_stops_it_in_the_next() -> None:
    root = etree.fromstring(musicxml(parse_excerpt("3/4 q q q~ | q h")))
    first, second = root.iter("measure")
    kinds = [[tie.get("type") for tie in measure.iter("tied")] for measure in (first, second)]
    assert kinds == [["start"], ["stop"]]


def test_the_description_tells_the_tie_before_the_barline() -> None:
    text = spoken(Figure(parse_excerpt("3/4 q q q~ | q h")), USUAL, ENGLISH)
    assert text == (
        "Two measures, time signature 3 over 4. Measure 1: two quarter notes, quarter note tied to the next note. "
        "Measure 2: quarter note, half note."
    )


@pytest.mark.parametrize(
    ("ask", "rule"),
    [
        ("write-counts", "If a tie holds a note over a barline, put a hyphen before its count there."),
        ("rhythm-for-counts", "A hyphen after a barline: the note is held over it."),
    ],
)
@pytest.mark.parametrize("system", ["numbers", "takadimi"])
def test_the_question_says_how_the_held_part_is_counted(ask: str, rule: str, system: Counting) -> None:
    def rules(rhythm: str) -> str:
        item = made(ask, rhythm, ["q q q"], {}, conventions=Conventions(counting=system))
        return counting_rules(item, scene_of(item, 1, ENGLISH), ENGLISH)

    assert rules("3/4 q q q~ | q h").endswith(rule)
    assert rule not in rules("3/4 q q q | q h")
    assert rule not in rules("3/4 q~ q q | q h")


def test_every_wrong_answer_about_them_follows_from_each_misreading_that_it_names() -> None:
    items = items_with_ties()
    named = [
        (item, c, m) for item in items for c in item.wrong for m in c.misreadings if item.ask != "count-under-each"
    ]
    assert len(named) > 60
    assert not [(item, c, m) for item, c, m in named if not way_leads_to(m, item, c.answer)]
