"""QTI 2.2 and 3.0 packages: read by an independent reader, refused or not by the standards' checker, compared."""

import re
from collections.abc import Callable, Iterator
from dataclasses import replace
from fractions import Fraction
from itertools import chain, combinations, permutations, product
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from qti2_reader import LANG, Package, camel_tree

from barwright.qti import written, zipped
from barwright.qti.v2and3.dialect import attribute_names, element_tags, kebab
from barwright.wording.worded import (
    Pictures,
    WordedForm,
    WordedItem,
    WordedSlot,
)
from published import complaints
from whole import whole_or_part

STANDARDS = ("qti22", "qti30")
SHAPES = ("quiz", "bank")
EVERY = whole_or_part(1, 2)
GOLDEN = Path(__file__).parent / "golden"

each_standard = pytest.mark.parametrize("standard", STANDARDS)
each_case = pytest.mark.parametrize(("standard", "shape"), list(product(STANDARDS, SHAPES)))
each_credit = pytest.mark.parametrize("credit", ["all-or-nothing", "per-choice"])


def package(form: WordedForm, pictures: Pictures, standard: str, shape: str = "quiz") -> Package:
    return Package(zipped(written(form, pictures, standard=standard, shape=shape)))


def variants(whole: WordedForm, drawn: WordedForm) -> dict[str, WordedForm]:
    """Forms that between them have every interaction, pools, and each option either way."""
    bare = replace(whole.items[0], figure=None, note="", category="")
    lone = replace(whole.items[5], pieces=whole.items[5].pieces[:2])
    return {
        "usual": whole,
        "parts": replace(whole, credit="per-choice"),
        "silent": replace(whole, feedback=False),
        "still": replace(whole, shuffle=False, feedback=False, credit="per-choice"),
        "drawn": drawn,
        "drawn-silent": replace(drawn, feedback=False, credit="per-choice"),
        "all-drawn": replace(whole, items=tuple(replace(i, pool="p") for i in whole.items)),
        "spare": replace(whole, title="Hé <3", intro=(), language="es", items=(bare, lone)),
    }


def test_checker_accepts_every_standard_shape_and_option(
    whole_form: WordedForm, drawn_form: WordedForm, pictures: Pictures, standards: Path, tmp_path: Path
) -> None:
    files = []
    for number, (name, variant) in enumerate(variants(whole_form, drawn_form).items()):
        # In the suite each variant in each standard, by turns as a quiz and as a bank.
        for standard, shape in list(product(STANDARDS, SHAPES))[number % EVERY :: EVERY]:
            files.append(tmp_path / f"{name}-{standard}-{shape}.zip")
            files[-1].write_bytes(zipped(written(variant, pictures, standard=standard, shape=shape)))
    files.append(tmp_path / "drawn-qti12.zip")
    files[-1].write_bytes(zipped(written(drawn_form, pictures, standard="qti12", shape="quiz")))
    broken = tmp_path / "broken.zip"
    broken.write_bytes(
        zipped([e for e in written(whole_form, pictures, standard="qti30", shape="quiz") if "f0003" not in e.path])
    )
    found = complaints(standards, [*files, broken])
    assert found
    assert [line for line in found if not line.startswith(f"{broken}: ")] == []


@each_case
def test_every_word_and_picture_reads_back(
    whole_form: WordedForm, pictures: Pictures, standard: str, shape: str
) -> None:
    made = package(whole_form, pictures, standard, shape)
    assert list(made.items) == [item.ident for item in whole_form.items]
    for item in whole_form.items:
        root, stem = made.items[item.ident], made.stem(item.ident)
        assert (root.get("title"), root.get(LANG)) == (item.title, whole_form.language)
        assert stem.texts == [*item.stem, *([item.note] if item.note else [])]
        figures = [item.figure] if item.figure else []
        if item.interaction == "inline":
            figures += [p for p in item.pieces if not isinstance(p, WordedSlot)]
        assert stem.pictures == [(pictures[f.figure].png, f.alt, "4", None) for f in figures]
        choices = made.choices(item.ident)
        assert set(choices) == (set() if item.interaction == "entry" else {c.ident for c in item.choices})
        for choice in item.choices if choices else ():
            figure = choice.figure
            assert choices[choice.ident].texts == ([] if figure else [choice.text])
            # Only an `object`, which QTI 2.2 drags, tells its height.
            high = "2" if (standard, item.interaction) == ("qti22", "gaps") else None
            pictured = [(pictures[figure.figure].png, figure.alt, "4", high)] if figure else []
            assert choices[choice.ident].pictures == pictured


@each_standard
@pytest.mark.parametrize("shape", SHAPES)
def test_items_with_pictures_link_to_the_sheet_that_lets_them_shrink(
    whole_form: WordedForm, pictures: Pictures, standard: str, shape: str
) -> None:
    bare = replace(whole_form.items[1], ident="bare", figure=None)
    made = package(replace(whole_form, items=(*whole_form.items, bare)), pictures, standard, shape)
    manifest = ET.fromstring(made.entries["imsmanifest.xml"])
    needs = {
        r.get("identifier"): [n.get("identifierref") for n in r.iterfind("{*}dependency")]
        for r in manifest.iterfind("{*}resources/{*}resource")
    }
    for ident, item in made.items.items():
        shown = [e for e in item.iter() if e.tag in ("img", "object")]
        links = [e.attrib for e in item.iterfind("stylesheet")]
        assert links == ([{"href": "../style/figures.css", "type": "text/css"}] if shown else []), ident
        assert ("style_figures.css" in needs[f"resource_{ident}"]) == bool(shown), ident
        picked = {e for choice in item.iter("simpleChoice") for e in choice.iter("img")}
        looks = {e: "rhythm-figure rhythm-option" if e in picked else "rhythm-figure" for e in shown}
        assert {e: e.get("class") for e in shown} == looks, ident
        assert [e for e in shown if e.tag == "img" and e.get("height")] == [], ident
    rules = made.entries["style/figures.css"].decode()
    assert ".rhythm-figure { max-width: 100%; height: auto; }" in rules
    classes = {name for item in made.items.values() for e in item.iter() for name in e.get("class", "").split()}
    assert set(re.findall(r"\.(rhythm-[a-z]+)", rules)) == {name for name in classes if name.startswith("rhythm-")}


def test_without_any_picture_there_is_no_sheet(whole_form: WordedForm, pictures: Pictures) -> None:
    bare = replace(whole_form, items=(replace(whole_form.items[1], figure=None),))
    for standard in STANDARDS:
        assert "style/figures.css" not in package(bare, pictures, standard).entries


@each_standard
def test_rows_of_pieces_read_back_in_order(whole_form: WordedForm, pictures: Pictures, standard: str) -> None:
    made = package(whole_form, pictures, standard)
    gaps, inline = whole_form.items[4], whole_form.items[5]
    (row,) = made.interactions(gaps.ident)[0].findall("p")
    assert [(e.tag, e.get("alt") or (e.get("identifier"), e.get("matchGroup"))) for e in row] == [
        ("img", gaps.pieces[0].alt),
        ("gap", ("s1", None)),
        ("img", gaps.pieces[2].alt),
        ("gap", ("s2", "c2 c3 c4")),
    ]
    assert made.interactions(gaps.ident)[0].get("maxAssociations") == "2"
    assert {e.get("matchMax") for e in made.interactions(gaps.ident)[0].iter() if e.get("matchMax")} == {"0"}
    cells = made.items[inline.ident].findall("itemBody/table/tbody/tr/td")
    assert [[e[0].get("alt") or e[0].get("responseIdentifier") for e in cell] for cell in cells] == [
        [inline.pieces[0].alt, "RESPONSE_s1"],
        [inline.pieces[2].alt, "RESPONSE_s2"],
        [inline.pieces[4].alt, "RESPONSE_s3", "RESPONSE_s4"],
    ]
    offered = [[c.get("identifier") for c in i] for i in made.interactions(inline.ident)]
    assert offered == [["c1", "c2", "c3", "c4"], ["c2", "c3", "c4"]] + [["c1", "c2", "c3", "c4"]] * 2


@each_standard
def test_right_answers_are_declared_and_score_full(whole_form: WordedForm, pictures: Pictures, standard: str) -> None:
    made = package(whole_form, pictures, standard)
    rights = {}
    for item in whole_form.items:
        responses = {}
        for declared in made.items[item.ident].findall("responseDeclaration"):
            values = tuple(v.text for v in declared.findall("correctResponse/value"))
            single = declared.get("cardinality") == "single"
            responses[declared.get("identifier")] = values[0] if single else values
        rights[item.interaction] = responses
        score = made.items[item.ident].find("outcomeDeclaration")
        assert (score.get("normalMaximum"), score.get("normalMinimum")) == (str(item.points), "0")
        assert made.answered(item.ident, responses)[0] == item.points
    assert rights == {
        "figures": {"RESPONSE": "c2"},
        "texts": {"RESPONSE": "c1"},
        "several": {"RESPONSE": ("c1", "c3")},
        "entry": {"RESPONSE": "1-2 (3)"},
        "gaps": {"RESPONSE": ("c1 s1", "c2 s2")},
        "inline": {"RESPONSE_s1": "c1", "RESPONSE_s2": "c2", "RESPONSE_s3": "c3", "RESPONSE_s4": "c1"},
        "order": {"RESPONSE": ("c2", "c1", "c3")},
    }


def test_every_choice_scores_and_tells_what_it_should(whole_form: WordedForm, pictures: Pictures) -> None:
    for standard, shape in product(STANDARDS, SHAPES):
        made = package(whole_form, pictures, standard, shape)
        for item in whole_form.items[:2]:
            for choice in item.choices:
                expected = (item.points if choice.key else 0, [choice.feedback])
                assert made.answered(item.ident, {"RESPONSE": choice.ident}) == expected
            assert made.answered(item.ident, {}) == (0, [])


@each_standard
def test_every_spelling_scores_and_tells_what_it_should(
    whole_form: WordedForm, pictures: Pictures, standard: str
) -> None:
    item = whole_form.items[3]
    made = package(whole_form, pictures, standard)
    for choice in item.choices:
        for typed in chain(choice.spellings, map(str.upper, choice.spellings)):
            expected = (item.points if choice.key else 0, [choice.feedback])
            assert made.answered(item.ident, {"RESPONSE": typed}) == expected
    for other in ("4", "1-2", None):
        assert made.answered(item.ident, {"RESPONSE": other}) == (0, [item.general_feedback])


@each_standard
def test_entry_with_two_keys_tells_each_its_own(whole_form: WordedForm, pictures: Pictures, standard: str) -> None:
    item = whole_form.items[3]
    second = replace(item.choices[1], key=True, feedback="Also right.", misreading="")
    two = replace(item, choices=(item.choices[0], second, item.choices[2]))
    made = package(replace(whole_form, items=(two,)), pictures, standard)
    for choice in two.choices:
        for typed in choice.spellings:
            expected = (item.points if choice.key else 0, [choice.feedback])
            assert made.answered(item.ident, {"RESPONSE": typed}) == expected


@each_standard
def test_entry_key_without_a_text_is_told_nothing(whole_form: WordedForm, pictures: Pictures, standard: str) -> None:
    item = whole_form.items[3]
    quiet = replace(item, choices=(replace(item.choices[0], feedback=""), *item.choices[1:]))
    made = package(replace(whole_form, items=(quiet,)), pictures, standard)
    assert made.answered(item.ident, {"RESPONSE": "1-2 (3)"}) == (item.points, [])
    assert made.answered(item.ident, {"RESPONSE": "1-2 3"}) == (0, [item.choices[1].feedback])


@each_standard
@each_credit
def test_every_set_of_ticks(whole_form: WordedForm, pictures: Pictures, standard: str, credit: str) -> None:
    item = whole_form.items[2]
    made = package(replace(whole_form, credit=credit), pictures, standard)
    keys = {c.ident for c in item.choices if c.key}
    for size in range(len(item.choices) + 1):
        for ticked in combinations(item.choices, size):
            right = {c.ident for c in ticked} == keys
            parts = sum(Fraction(item.points, len(keys)) * (1 if c.key else -1) for c in ticked)
            score = max(parts, 0) if credit == "per-choice" else item.points * right
            said = [c.feedback for c in ticked] + ([] if right else [item.general_feedback])
            told = tuple(c.ident for c in reversed(ticked)) or None
            assert made.answered(item.ident, {"RESPONSE": told}) == (score, said)


def fillings(item: WordedItem) -> Iterator[dict[str, str]]:
    """Every way to fill the slots with what they offer, or to leave them empty."""
    slots = [p for p in item.pieces if isinstance(p, WordedSlot)]
    every = tuple(c.ident for c in item.choices)
    for picked in product(*(("", *(slot.options or every)) for slot in slots)):
        yield {slot.ident: ident for slot, ident in zip(slots, picked, strict=True) if ident}


@each_standard
@each_credit
@pytest.mark.parametrize("number", [4, 5])
def test_every_way_to_fill_the_slots(
    whole_form: WordedForm, pictures: Pictures, standard: str, credit: str, number: int
) -> None:
    item = whole_form.items[number]
    made = package(replace(whole_form, credit=credit), pictures, standard)
    slots = {p.ident: p for p in item.pieces if isinstance(p, WordedSlot)}
    tried = 0
    for filled in fillings(item):
        if item.interaction == "gaps":
            told = {"RESPONSE": tuple(f"{ident} {slot}" for slot, ident in filled.items()) or None}
        else:
            told = {f"RESPONSE_{slot}": ident for slot, ident in filled.items()}
        score, said = made.answered(item.ident, told)
        good = sum(ident in slots[slot].keys for slot, ident in filled.items())
        right = good == len(slots)
        parts = Fraction(item.points * good, len(slots)) if credit == "per-choice" else item.points * right
        assert abs(score - parts) < 0.00001
        assert not right or score == item.points
        astray = [item.choices[3].feedback] if "c4" in filled.values() else []
        assert said == ([item.choices[0].feedback] if right else [*astray, item.general_feedback])
        tried += 1
    assert tried == {4: 5 * 4, 5: 5 * 4 * 5 * 5}[number]


@each_standard
def test_gaps_with_one_key_each_compare_with_the_right_answer(
    whole_form: WordedForm, pictures: Pictures, standard: str
) -> None:
    item = whole_form.items[4]
    strict = replace(item, pieces=(*item.pieces[:3], WordedSlot("s2", ("c1",))))
    made = package(replace(whole_form, items=(strict,)), pictures, standard)
    assert made.items[item.ident].find("responseProcessing//match") is not None
    for one, two in product(("c1", "c2", "c4"), repeat=2):
        score, _ = made.answered(item.ident, {"RESPONSE": (f"{two} s2", f"{one} s1")})
        assert score == (item.points if (one, two) == ("c1", "c1") else 0)


@each_standard
def test_texts_can_be_dragged_as_well(whole_form: WordedForm, pictures: Pictures, standard: str) -> None:
    item = whole_form.items[4]
    worded = replace(item, choices=tuple(replace(c, figure=None, text=f"<{c.ident}>") for c in item.choices))
    made = package(replace(whole_form, items=(worded,)), pictures, standard)
    held = made.interactions(item.ident)[0].findall("gapText")
    assert [(e.get("identifier"), e.get("matchMax"), e.text) for e in held] == [
        (c.ident, "0", f"<{c.ident}>") for c in item.choices
    ]


@each_standard
@each_credit
def test_every_order(whole_form: WordedForm, pictures: Pictures, standard: str, credit: str) -> None:
    item = whole_form.items[6]
    made = package(replace(whole_form, credit=credit), pictures, standard)
    for size in range(4):
        for told in permutations(item.sequence, size):
            right = told == item.sequence
            good = sum(a == b for a, b in zip(told, item.sequence, strict=False))
            parts = Fraction(item.points * good, 3) if credit == "per-choice" else item.points * right
            score, said = made.answered(item.ident, {"RESPONSE": told or None})
            assert abs(score - parts) < 0.00001
            assert not right or score == item.points
            assert said == [item.choices[1].feedback if right else item.general_feedback]


@each_case
def test_feedback_can_be_left_out(whole_form: WordedForm, pictures: Pictures, standard: str, shape: str) -> None:
    made = package(replace(whole_form, feedback=False), pictures, standard, shape)
    for item in whole_form.items:
        document = made.entries[made.paths[item.ident]].decode()
        assert not re.search("[Ff]eedback|FEEDBACK|Right|general", document)
    assert made.answered("q00a1", {"RESPONSE": "c2"}) == (1, [])
    if shape == "quiz":
        assert made.test.find("testPart/itemSessionControl").get("showFeedback") == "false"
    kinds = {e.text for e in made.manifest.iter("feedbackType")}
    assert kinds == {"none"}


@each_standard
def test_wrong_choice_without_its_own_text_gets_the_general_one(
    form: WordedForm, pictures: Pictures, standard: str
) -> None:
    item = form.items[0]
    choices = tuple(replace(c, feedback="" if c.ident != "c3" else c.feedback) for c in item.choices)
    quiet = replace(form, items=(replace(item, choices=choices, general_feedback="Add up."),))
    made = package(quiet, pictures, standard)
    told = [made.answered(item.ident, {"RESPONSE": c})[1] for c in ("c1", "c2", "c3")]
    assert told == [["Add up."], [], [choices[2].feedback]]


@each_standard
@pytest.mark.parametrize("shuffle", [True, False])
def test_choices_are_shuffled_unless_pinned(
    whole_form: WordedForm, pictures: Pictures, standard: str, shuffle: bool
) -> None:
    made = package(replace(whole_form, shuffle=shuffle), pictures, standard)
    for item in whole_form.items:
        orders = {i.get("shuffle") for i in made.interactions(item.ident)}
        free = "true" if shuffle and not item.pinned else "false"
        assert orders == ({None} if item.interaction == "entry" else {free})
        fixed = {c.get("fixed") for i in made.interactions(item.ident) for c in i if c.tag.endswith("Choice")}
        assert fixed <= ({"true"} if item.pinned else {None})


@each_standard
def test_test_has_intro_items_in_order_and_the_sum_of_points(
    whole_form: WordedForm, pictures: Pictures, standard: str
) -> None:
    test = package(whole_form, pictures, standard).test
    assert (test.get("identifier"), test.get("title")) == (whole_form.ident, whole_form.title)
    (section,) = test.findall("testPart/assessmentSection")
    assert [r.get("identifier") for r in section.findall("assessmentItemRef")] == [i.ident for i in whole_form.items]
    assert [p.text for p in section.find("rubricBlock").iter("p")] == list(whole_form.intro)
    assert test.find("outcomeDeclaration").get("normalMaximum") == str(sum(i.points for i in whole_form.items))
    assert test.find("testPart/itemSessionControl").attrib == {"maxAttempts": "1", "showFeedback": "true"}
    assert test.find("outcomeProcessing/setOutcomeValue/sum/testVariables").get("variableIdentifier") == "SCORE"


@each_standard
def test_variants_of_a_pool_are_drawn_one_a_student(drawn_form: WordedForm, pictures: Pictures, standard: str) -> None:
    test = package(drawn_form, pictures, standard).test
    parts = [e for e in test.find("testPart/assessmentSection") if e.tag.startswith("assessment")]
    shape = [[r.get("identifier") for r in p.findall("assessmentItemRef")] or p.get("identifier") for p in parts]
    assert shape == ["q00b0", ["q00b1", "q00b2"], "q00b3", ["q00b4", "q00b5", "q00b6"], "q00b7"]
    pools = test.findall("testPart/assessmentSection/assessmentSection")
    assert [(p.get("visible"), p.find("selection").attrib) for p in pools] == [("false", {"select": "1"})] * 2
    assert test.find("outcomeDeclaration").get("normalMaximum") == "5"


def test_plain_qti12_draws_one_a_student(drawn_form: WordedForm, pictures: Pictures) -> None:
    entries = written(drawn_form, pictures, standard="qti12", shape="quiz")
    root = camel_tree(ET.fromstring(next(e.data for e in entries if e.path == "quiz.xml")))
    section = root.find("assessment/section")
    shape = [[i.get("ident") for i in e.findall("item")] or e.get("ident") for e in section]
    assert shape == ["q00b0", ["q00b1", "q00b2"], "q00b3", ["q00b4", "q00b5", "q00b6"], "q00b7"]
    numbers = [p.find("selection_ordering/selection/selection_number").text for p in section.findall("section")]
    assert numbers == ["1", "1"]
    assert root.find("assessment/outcomes_processing/outcomes/decvar").get("maxvalue") == "5"


@each_standard
def test_bank_is_the_same_items_without_a_test(whole_form: WordedForm, pictures: Pictures, standard: str) -> None:
    quiz, bank = (package(whole_form, pictures, standard, shape) for shape in SHAPES)
    assert {n: d for n, d in quiz.entries.items() if n not in ("imsmanifest.xml", "test.xml")} == {
        n: d for n, d in bank.entries.items() if n != "imsmanifest.xml"
    }
    assert bank.test is None
    named = {"qti22": ("QTIv2.2 Package", "QTIv2.2 Package"), "qti30": ("QTI Package", "QTI Item Bank")}
    assert (quiz.manifest.find("metadata/schema").text, bank.manifest.find("metadata/schema").text) == named[standard]


@each_case
def test_manifest_tells_what_each_item_is(
    whole_form: WordedForm, pictures: Pictures, standard: str, shape: str
) -> None:
    made = package(whole_form, pictures, standard, shape)
    told = {}
    for item in whole_form.items:
        resource = made.resources[made.paths[item.ident]]
        assert [t.text for t in resource.findall("metadata/lom/general/title/string")] == [item.title]
        assert resource.find("metadata/lom/general/identifier/entry").text == item.ident
        words = [k.text for k in resource.findall("metadata/lom/general/keyword/string")]
        assert words == [item.category, *item.keywords]
        facts = resource.find("metadata/qtiMetadata")
        assert facts.find("feedbackType").text == "nonadaptive"
        told[item.interaction] = (facts.find("interactionType").text, facts.find("composite").text)
    assert told == {
        "figures": ("choiceInteraction", "false"),
        "texts": ("choiceInteraction", "false"),
        "several": ("choiceInteraction", "false"),
        "entry": ("textEntryInteraction", "false"),
        "gaps": ("gapMatchInteraction", "false"),
        "inline": ("inlineChoiceInteraction", "true"),
        "order": ("orderInteraction", "false"),
    }


@each_case
def test_nothing_a_student_can_see_gives_the_key_away(
    whole_form: WordedForm, pictures: Pictures, standard: str, shape: str
) -> None:
    made = package(whole_form, pictures, standard, shape)
    whole = b"\n".join(d for n, d in made.entries.items() if n.endswith(".xml")).decode()
    for choice in (c for item in whole_form.items for c in item.choices if c.misreading):
        assert choice.misreading not in whole
        assert choice.why not in whole
    loud = re.compile("correct|key|wrong|right|answer|true|false|distract", re.IGNORECASE)
    assert [p for p in made.entries if loud.search(p)] == []
    names = re.findall(r'(?:identifier|identifierref|id|href|src|data)="([^"]*)"', whole)
    assert [n for n in names if loud.search(n)] == []
    idents = re.findall(r'(?:identifier|id)="([^"]*)"', whole)
    assert [n for n in idents if not re.fullmatch(r"[A-Za-z_][A-Za-z0-9_.-]*", n)] == []


def test_figures_of_3_0_have_catalogs_for_listening_and_for_reading(whole_form: WordedForm, pictures: Pictures) -> None:
    made = package(whole_form, pictures, "qti30")
    for item in whole_form.items:
        root = made.items[item.ident]
        cards = {
            c.get("id"): {d.get("support"): d.find("htmlContent/p").text for d in c}
            for c in root.findall("catalogInfo/catalog")
        }
        images = list(root.find("itemBody").iter("img"))
        assert {i.get("data-catalog-idref") for i in images} == set(cards)
        for image in images:
            alt = image.get("alt")
            assert cards[image.get("data-catalog-idref")] == {"spoken": alt, "long-description": alt}


def plain(element: ET.Element) -> ET.Element:
    """An item of 3.0 without what 2.2 has not: catalogs, classes, and a body in feedback."""
    made = camel_tree(element)
    for holder in list(made.iter()):
        for child in list(holder):
            if child.tag == "catalogInfo":
                holder.remove(child)
            if child.tag == "contentBody":
                holder.remove(child)
                holder.extend(child)
        for name in ("class", "data-catalog-idref", "{http://www.w3.org/2001/XMLSchema-instance}schemaLocation"):
            holder.attrib.pop(name, None)
    return made


def flat(element: ET.Element) -> list[object]:
    text = (element.text or "").strip()
    return [element.tag, dict(sorted(element.attrib.items())), text, [flat(e) for e in element]]


@each_credit
def test_2_2_says_the_same_as_3_0(whole_form: WordedForm, pictures: Pictures, credit: str) -> None:
    older, newer = (package(replace(whole_form, credit=credit), pictures, s) for s in STANDARDS)
    for ident in older.items:
        one, two = plain(older.items[ident]), plain(newer.items[ident])
        # A row of pictures needs to be asked for in 2.2; a picture to drag is an `object` there.
        for interaction in one.iter("orderInteraction"):
            assert interaction.attrib.pop("orientation") == "horizontal"
        for image in list(one.iter("gapImg")):
            (held,) = image
            told = {"src": held.get("data"), "alt": held.text, "width": held.get("width")}
            assert (held.get("type"), held.get("height")) == ("image/png", "2")
            image.tag, image[:] = "gapText", [ET.Element("img", told)]
        assert flat(one) == flat(two)
    assert flat(plain(older.test)) == flat(plain(newer.test))


@pytest.mark.parametrize("credit", ["per-choice"])
def test_documents_are_the_reviewed_ones(
    whole_form: WordedForm, pictures: Pictures, golden: Callable[[Path, bytes], None], credit: str
) -> None:
    parts = replace(whole_form, credit=credit)
    for standard, kept in (("qti22", ("imsmanifest.xml", "test.xml", "items/q00a5.xml")), ("qti30", None)):
        for entry in written(parts, pictures, standard=standard, shape="quiz"):
            if entry.path in kept if kept else entry.path.endswith(".xml"):
                golden(GOLDEN / f"{standard}-quiz" / entry.path, entry.data)


def test_names_of_3_0_are_those_of_2_2_with_hyphens() -> None:
    assert kebab("responseElseIf") == "response-else-if"
    older, newer = element_tags("urn:x", hyphens=False), element_tags("urn:x", hyphens=True)
    assert (older["gapImg"], newer["gapImg"]) == ("{urn:x}gapImg", "{urn:x}qti-gap-img")
    assert older["img"] == newer["img"] == "{urn:x}img"
    assert attribute_names(hyphens=True)["data-catalog-idref"] == "data-catalog-idref"
    assert attribute_names(hyphens=True)["maxAssociations"] == "max-associations"
