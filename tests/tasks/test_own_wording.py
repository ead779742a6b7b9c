"""A department's own sentences: applied in pages, packages and on paper; a broken one is told with line and mend."""

import json
import re
import zipfile
from dataclasses import replace
from pathlib import Path

import pytest

from barwright.counting.counts import format_row, labels_if_counted, normal_row
from barwright.counting.systems import SYSTEMS
from barwright.errors import BarwrightError, BlueprintError, OutputError
from barwright.results.reading.cell_answers import in_system_words, read_cell
from barwright.rhythm.conventions import Conventions, Counting
from barwright.tasks.bank.add import add
from barwright.tasks.bank.export import export
from barwright.tasks.bank.show import show, show_page
from barwright.tasks.diagnose.asked import asked_quiz
from barwright.tasks.make import Made, make
from barwright.tasks.own_wording import start_wording
from barwright.tasks.packing import Order
from barwright.tasks.progress import silent
from barwright.tasks.record import read_record, read_record_text
from barwright.tasks.sheet import sheet
from barwright.tasks.shown.bank import bank_shown
from barwright.tasks.shown.preview import previewed
from barwright.templates_folder import languages
from barwright.wording.every_sentence import filled
from barwright.wording.language import language, words_for
from barwright.wording.own_counts import in_system, said
from barwright.wording.own_sentences import entries, own_changes, sound_marks, starter_text
from command_line import Command
from paper.printed import Pdf
from worked import excerpts

PLAN = """
title = "Our check"
wording = "wording"
seed = 4
[elements]
meters = ["3/4", "4/4"]
notes = ["whole", "half", "quarter"]
rests = ["half", "quarter"]
dots = ["half"]
[[part]]
family = "measure-completion"
ask = "finish-measure"
items = 4
[[part]]
family = "measure-completion"
ask = "beats-left"
items = 3
[[part]]
family = "count-labeling"
ask = "write-counts"
items = 3
[[part]]
family = "meter-identification"
ask = "what-the-numbers-say"
items = 4
"""
TEN = """
[symbols.note]
half = ["minim", "minims"]
[symbols.rest]
quarter = ["zigzag rest", "zigzag rests"]
[questions.finish-measure]
stem = "Something hides here. What makes our measure whole?"
key = "Yes! Now our measure has {{ holds }}."
[questions.beats-left]
stem = "How many more do we need, if each {{ unit }} and all {{ units }} count as one?"
note = "Write how many.{% if parts %} Parts are fine.{% endif %}"
[statements]
how-many = "We count {{ amount }} in all our measures."
[rules.rests]
parentheses = "Our rests wear parentheses."
[hints]
rests-take-no-time = "Silence is music, too. Count it."
[paper.write-counts]
note = "Put your counts on the lines."
"""


def folder_of(tmp_path: Path, own: str, plan: str = PLAN) -> Path:
    (tmp_path / "wording").mkdir(exist_ok=True)
    (tmp_path / "wording" / "en-US.toml").write_text(own, encoding="utf-8")
    path = tmp_path / "check.toml"
    path.write_text(plan, encoding="utf-8")
    return path


def made(tmp_path: Path, own: str = TEN, *, plan: str = PLAN, replace: bool = False) -> Made:
    path = folder_of(tmp_path, own, plan)
    order = Order(out=tmp_path / "out", paper=True, allow_repeats=True, replace=replace, forget_retakes=replace)
    return make(path, order, progress=silent)


def words(pdf: Pdf) -> str:
    return " ".join(" ".join(pdf.texts()).split())


def shown_in(path: Path) -> str:
    with zipfile.ZipFile(path) as package:
        return " ".join(package.read(name).decode() for name in package.namelist() if name.endswith(".xml"))


def test_ten_changes_are_applied_in_pages_packages_and_on_paper(tmp_path: Path) -> None:
    folder = made(tmp_path).folder
    proof = (folder / "proof.html").read_text("utf-8")
    package = shown_in(next(folder.rglob("*.imscc")))
    for text in (
        "minim",
        "zigzag rest",
        "Something hides here.",
        "Yes! Now our measure has",
        "How many more do we",
        "Write how many.",
        "in all our measures.",
        "Our rests wear parentheses.",
        "Silence is music, too.",
    ):
        assert text in proof, text
        assert text in package, text
    for gone in ("half note", "quarter rest", "One note is missing", "in each measure.", "Put rests in parentheses"):
        assert gone not in package, gone
    quiz, key = (Pdf(path.read_bytes()) for path in sorted(folder.rglob("*.pdf"), reverse=True))
    printed = words(quiz)
    for text in ("Something hides here.", "How many more do we need", "in all our measures.", "wear parentheses",
                 "Put your counts on the lines."):  # fmt: skip
        assert text in printed, text
    assert any("minim" in (tag.alt or "") for tag in quiz.tags())
    assert "in all our measures." in words(key)


def test_the_record_keeps_the_sentences_and_more_forms_speak_alike(tmp_path: Path) -> None:
    first = made(tmp_path)
    record = first.folder / "record.jsonl"
    (form,) = read_record(read_record_text(record), str(record))
    assert ("en-US", "counting", "rests.parentheses", ("Our rests wear parentheses.",)) in form.wording
    assert len(form.wording) == 10
    # The folder is changed, and a retake is made: it asks in the words of the quiz.
    path = folder_of(tmp_path, '[rules.rests]\nparentheses = "Rests stand in parentheses."\n')
    make(path, Order(out=tmp_path / "out", retake=1, allow_repeats=True), progress=silent)
    proof = (first.folder / "proof.html").read_text("utf-8")
    assert "Our rests wear parentheses." in proof
    assert "Rests stand in parentheses." not in proof
    assert "Rests stand in" in (made(tmp_path, path.parent.joinpath("wording", "en-US.toml").read_text("utf-8"),
                                     replace=True).folder / "proof.html").read_text("utf-8")  # fmt: skip


def test_the_practice_page_speaks_so_too(tmp_path: Path) -> None:
    path = folder_of(tmp_path, TEN)
    page = Pdf(sheet(path, Order(out=tmp_path)).page.read_bytes())
    assert "Our rests wear parentheses." in words(page)


def test_the_preview_of_the_plan_speaks_so_too(tmp_path: Path) -> None:
    path = folder_of(tmp_path, TEN)
    shown = " ".join(question for part in previewed(path, silent).parts for question in part.questions)
    assert "Something hides here." in shown
    assert "Our rests wear parentheses." in shown
    assert "One note is missing" not in shown
    folder_of(tmp_path, '[hints]\nrests-take-no-time = ""\n')
    with pytest.raises(BlueprintError) as raised:
        previewed(path, silent)
    assert str(raised.value).endswith("rests-take-no-time is empty: write a sentence, or take the line out")


def test_the_page_of_a_bank_and_its_packages_speak_as_the_folder_beside_it(tmp_path: Path) -> None:
    made_quiz, bank = made(tmp_path), tmp_path / "our.jsonl"
    add(made_quiz.folder / "record.jsonl", bank)
    listing, _ = show(bank, where=(), most=50)
    looks = {"language": "en-US", "music_font": "Bravura"}

    def page() -> str:
        return show_page(bank, tmp_path / "bank.html", listing, **looks, replace=True).read_text("utf-8")

    seen = " ".join(item.html for item in bank_shown(bank, ()).items)
    exported = export(bank, Order(tmp_path / "packages", standards=("cc13",)), where=(), language="en-US")
    for text in (page(), seen, shown_in(exported.folder / exported.packages[0])):
        assert "Something hides here." in text
        assert "minim" in text
    (tmp_path / "wording").rename(tmp_path / "elsewhere")
    assert "Something hides here." not in page()
    assert "minim" not in " ".join(item.html for item in bank_shown(bank, ()).items)


def test_a_quiz_from_a_bank_has_versions_for_accommodations(tmp_path: Path, typed: Command) -> None:
    made_quiz, bank = made(tmp_path), tmp_path / "our.jsonl"
    add(made_quiz.folder / "record.jsonl", bank)
    options = ("--blueprint", tmp_path / "check.toml", "--out", tmp_path / "taken", "--allow-repeats")
    code, _, err = typed("bank", "take", bank, *options, "--for", "read_aloud", "--for", "large-print")
    assert (code, err) == (0, "")
    folder = tmp_path / "taken" / "check"
    assert sorted(path.parent.name for path in folder.rglob("read-aloud.txt")) == ["read-aloud"]
    assert len(list(folder.rglob("large-print/quiz.imscc"))) == 1
    code, _, err = typed("bank", "take", bank, *options, "--for", "bigger", "--replace")
    assert (code, err.startswith("--for 'bigger' is not known")) == (1, True)


BROKEN = {
    '[symbols.note]\nhalf = ["minim"\nwhole = "x"\n':
        "line 2: 'half = [\"minim\"' cannot be read: it is not ended, or a comma is missing in it: write ] at its end",
    '[question.finish-measure]\nstem = "x"\n':
        "line 1: [question.finish-measure] is no table of this file: did you mean 'questions.finish-measure'?",
    '[hints]\nrests-take-no-tyme = "Count rests."\n':
        "line 2: 'rests-take-no-tyme' is no text of [hints]: did you mean 'rests-take-no-time'?",
    '[symbols.note]\nhalf = "minim"\n':
        'line 2: half needs 2 texts in square brackets, as ["half note", "half notes"]',
    '[statements]\nhow-many = "We count beats."\n':
        "line 2: how-many leaves out {{ amount }}, without which nobody can answer: say it, too",
    '[questions.finish-measure]\nkey = "Yes, {{ size }} it is."\n':
        "line 2: key has {{ size }}, which is not known here: use beats, bottom, holds, measures, meter, one, "
        "one_unit, top, unit, units",
    '[hints]\n\nrests-take-no-time = "{% for x in rests %}Count.{% endfor %}"\n':
        "line 3: rests-take-no-time has marks that cannot be read: copy the {{ ... }} and {% ... %} of our sentence as "
        "they are, or none",
    '[rules.rests]\nparentheses = ""\n':
        "line 2: parentheses is empty: write a sentence, or take the line out",
    '[symbols.note]\nhalf = ["quarter note", "quarter notes"]\n':
        "line 2: half is called as quarter of [symbols.note] is: give one of them another text",
    '[hints]\nrests-take-no-time = "The right answer has a rest."\n':
        "line 2: 'right answer' tells what is right or wrong: leave it out",
    '[hints]\nrests-take-no-time = "You hold rests-take-no-time."\n':
        "line 2: rests-take-no-time has 'rests-take-no-time', the name of a misreading, which students must not see: "
        "leave it out",
    '[questions.finish-measure]\nstem = 5\n':
        "line 2: stem = 5 is no text: write one sentence in quotes",
}  # fmt: skip


@pytest.mark.parametrize(("own", "message"), BROKEN.items(), ids=[m.split(":")[1][:40] for m in BROKEN.values()])
def test_a_broken_change_is_told_with_its_line_and_the_mend(tmp_path: Path, own: str, message: str) -> None:
    with pytest.raises(BlueprintError) as raised:
        made(tmp_path, own)
    assert str(raised.value) == f"{tmp_path / 'wording' / 'en-US.toml'}, {message}"
    assert not (tmp_path / "out").exists()


TEN_BROKEN = """
[symbols.note]
half = "minim"
[symbols.rest]
quarter = ["half rest", "half rests"]
[questions.finish-measure]
stem = 5
key = "Yes, {{ size }} it is."
[questions.beats-left]
stam = "How many more?"
[statements]
how-many = "We count beats."
[syllables.numbers]
rest = "2!"
half = "sh"
[hints]
rests-take-no-time = "The right answer has a rest."
dots-passed-over = ""
[paper.write-count]
note = "Put your counts on the lines."
"""
TEN_FAULTS = (
    (3, 'half needs 2 texts in square brackets, as ["half note", "half notes"]'),
    (5, "quarter is called as half of [symbols.rest] is: give one of them another text"),
    (7, "stem = 5 is no text: write one sentence in quotes"),
    (8, "key has {{ size }}, which is not known here: use beats, bottom, holds, measures, meter, one, one_unit, top, "
        "unit, units"),
    (10, "'stam' is no text of [questions.beats-left]: did you mean 'stem'?"),
    (12, "how-many leaves out {{ amount }}, without which nobody can answer: say it, too"),
    (14, "rest '2!' cannot be read: write a rest on 2 as (2), [2], {2}, <2>, or as a word in place of the count"),
    (15, "half 'sh' means something else in a row of counts: use another syllable"),
    (18, "dots-passed-over is empty: write a sentence, or take the line out"),
    (19, "[paper.write-count] is no table of this file: did you mean 'paper.write-counts'?"),
)  # fmt: skip


def test_ten_broken_changes_in_one_folder_are_all_told_with_line_and_mend(tmp_path: Path) -> None:
    """The eleventh, which tells what is right, is told as well."""
    with pytest.raises(BlueprintError) as raised:
        made(tmp_path, TEN_BROKEN)
    file = tmp_path / "wording" / "en-US.toml"
    told = [f"{file}, line {line}: {fault}" for line, fault in TEN_FAULTS]
    told.append(f"{file}, line 17: 'right answer' tells what is right or wrong: leave it out")
    assert str(raised.value).splitlines() == told
    assert not (tmp_path / "out").exists()


def test_a_sentence_that_gives_the_answer_away_is_refused_with_the_question_where_it_shows(tmp_path: Path) -> None:
    own = '[questions.finish-measure]\nstem = "Which one fills the blank? Think of a quarter note."\n'
    with pytest.raises(BlueprintError) as raised:
        made(tmp_path, own)
    (line,) = str(raised.value).splitlines()
    assert re.fullmatch(
        r".*en-US\.toml, line 2: in question \d of 'All sections', "
        r"('Quarter note' gives the answer away: leave it out|"
        r"it names some of the wrong choices, so that fewer are left: name all choices, or none)",
        line,
        re.IGNORECASE,
    ), line


def test_a_name_that_was_not_taught_is_refused(tmp_path: Path) -> None:
    with pytest.raises(BlueprintError) as raised:
        made(tmp_path, '[hints]\nrests-take-no-time = "Count it like eighth notes."\n')
    (line,) = str(raised.value).splitlines()
    assert line.endswith("'eighth notes' is not among the elements taught: leave it out")
    assert ", line 2: in question " in line


def test_a_folder_without_the_language_is_told(tmp_path: Path) -> None:
    path = folder_of(tmp_path, TEN, PLAN.replace("seed = 4", 'language = "es"\nseed = 4'))
    with pytest.raises(BlueprintError) as raised:
        make(path, Order(out=tmp_path / "out"), progress=silent)
    assert str(raised.value) == (
        f"{path}: wording = 'wording': there is no es.toml in it: barwright wording start writes one"
    )


def test_a_folder_elsewhere_is_refused(tmp_path: Path) -> None:
    path = folder_of(tmp_path, TEN, PLAN.replace('"wording"', '"../wording"'))
    with pytest.raises(BlueprintError) as raised:
        make(path, Order(out=tmp_path / "out"), progress=silent)
    assert str(raised.value) == (
        f"{path}, line 3: wording = '../wording' is not beside the blueprint: copy it there, and give its name"
    )


COUNTED = """
title = "Our counts"
wording = "wording"
seed = 4
[elements]
meters = ["2/4", "4/4"]
notes = ["half", "quarter", "eighth", "sixteenth"]
rests = ["quarter", "eighth"]
[[part]]
family = "count-labeling"
ask = "counts-for-rhythm"
items = 4
[[part]]
family = "count-labeling"
ask = "write-counts"
items = 4
[[part]]
family = "count-labeling"
ask = "count-under-mark"
items = 4
"""
SYLLABLES = """
[syllables.numbers]
second-quarter = "ki"
half = "tay"
fourth-quarter = "kay"
"""


def test_a_class_counts_with_syllables_of_its_own_everywhere(tmp_path: Path) -> None:
    ours = tmp_path / "ours"
    ours.mkdir()
    plain = made(ours, "", plan=COUNTED.replace('wording = "wording"\n', ""))
    own = made(tmp_path, SYLLABLES, plan=COUNTED)
    items = [[placed.item.id for each in some.forms for placed in each.form.items] for some in (own, plain)]
    assert items[0] == items[1]
    swapped = {"e": "ki", "&": "tay", "a": "kay"}
    for mine, theirs in zip(own.packed.forms[0].items, plain.packed.forms[0].items, strict=True):
        assert len({choice.text for choice in mine.choices}) == len(mine.choices)
        for choice, other in zip(mine.choices, theirs.choices, strict=True):
            parts = re.findall(r"[a-z&]+|[^a-z&]", other.text)
            assert choice.text == "".join(swapped.get(part, part) for part in parts)
            assert choice.key == other.key
            assert choice.text in choice.spellings or not choice.spellings
            assert not any(re.search(r"&|\+|\band\b|\be\b", spelling) for spelling in choice.spellings)
    package = shown_in(next(own.folder.rglob("*.imscc")))
    assert "Split a beat as 1 ki tay kay." in package
    assert not re.search(r"\d &(amp;)+", package)
    key = words(Pdf(next(own.folder.rglob("key.pdf")).read_bytes()))
    assert "tay" in key
    assert "&" not in key


@pytest.mark.parametrize(
    ("own", "message"),
    [
        ('half = "e"\n', "line 2: half is said as second-quarter is: give each place of the beat a word of its own"),
        ('half = "tri"\n', "line 2: half is said as tri is: give each place of the beat a word of its own"),
        ('half = "1 te"\n', "line 2: half '1 te' is no syllable: write one word of letters, up to 8, or &"),
        ('half = "sh"\n', "line 2: half 'sh' means something else in a row of counts: use another syllable"),
        ('middle = "te"\n', "line 2: 'middle' is no text of [syllables.numbers]: use second-quarter, half, "
                            "fourth-quarter, second-third, last-third, sixths, rest, held"),
    ],
)  # fmt: skip
def test_a_syllable_that_cannot_be_is_told_with_its_line(tmp_path: Path, own: str, message: str) -> None:
    with pytest.raises(BlueprintError) as raised:
        made(tmp_path, f"[syllables.numbers]\n{own}", plan=COUNTED)
    assert str(raised.value) == f"{tmp_path / 'wording' / 'en-US.toml'}, {message}"


HELD_AND_SILENT = """
title = "Our signs"
wording = "wording"
seed = 4
[elements]
meters = ["3/4", "4/4"]
notes = ["half", "quarter"]
rests = ["half", "quarter"]
dots = ["half"]
[[part]]
family = "count-labeling"
ask = "counts-for-rhythm"
items = 4
[[part]]
family = "count-labeling"
ask = "rhythm-for-counts"
items = 3
[[part]]
family = "count-labeling"
ask = "write-counts"
items = 4
"""
SIGNS = '[syllables.numbers]\nrest = "[2]"\nheld = "1~2"\n'


def worked(tmp_path: Path, own: str, plan: str = HELD_AND_SILENT) -> tuple[Made, Made]:
    """A quiz in the class's own counting, and the same quiz in ours."""
    ours = tmp_path / "ours"
    ours.mkdir()
    mine, theirs = made(tmp_path, own, plan=plan), made(ours, "", plan=plan.replace('wording = "wording"\n', ""))
    items = [[placed.item.id for placed in each.forms[0].form.items] for each in (mine, theirs)]
    assert items[0] == items[1]
    return mine, theirs


def test_a_class_writes_rests_and_held_notes_by_signs_of_its_own(tmp_path: Path) -> None:
    """Worked: a half note and a quarter rest in 3/4 are 1-2 (3), and 1~2 [3] in this class."""
    mine, theirs = worked(tmp_path, SIGNS)
    swapped = str.maketrans("()-", "[]~")
    rows = 0
    for own, our in zip(mine.packed.forms[0].items, theirs.packed.forms[0].items, strict=True):
        for choice, other in zip(own.choices, our.choices, strict=True):
            assert (choice.text, choice.key) == (other.text.translate(swapped), other.key)
            rows += "~" in choice.text and "[" in choice.text
            # Typed with the class's signs or with ours it is the answer that it is with ours alone, and no other.
            if choice.spellings:
                assert choice.text in choice.spellings
                assert len(choice.spellings) <= 64
                typed = {each.translate(str.maketrans("[]~", "()-")) for each in choice.spellings}
                assert other.text in typed
                assert {normal_row(each, Conventions()) for each in typed} == {normal_row(other.text, Conventions())}
    assert rows >= 4
    shown = shown_in(next(mine.folder.rglob("*.imscc")))
    for text in ("A wavy line ~ joins the counts of a long note or rest.", "in square brackets [ ]"):
        assert text in shown, text
    said_to_students = re.sub(r"<varequal.*?</varequal>", "", shown)  # the ways to type may have our signs, too
    for gone in ("hyphen", "parenthes", "1-2", "(3)"):
        assert gone not in said_to_students, gone
    quiz, key = (words(Pdf(path.read_bytes())) for path in sorted(mine.folder.rglob("*.pdf"), reverse=True))
    for printed in (quiz, key):
        assert re.search(r"\d~\d", printed)
        assert not re.search(r"\d-\d|\(\d", printed)


def test_what_is_typed_in_own_signs_is_read_back_and_told(tmp_path: Path) -> None:
    mine, theirs = worked(tmp_path, SIGNS)
    own, our = asked_quiz(mine.folder).sheets[0], asked_quiz(theirs.folder).sheets[0]
    swapped = str.maketrans("()-", "[]~")
    read = 0
    for question, other in zip(own.questions, our.questions, strict=True):
        if question.interaction != "entry":
            continue
        for text in (*question.keys, *other.typed.values(), "(1-2) 3-4 | -1 7"):
            read += 1
            answer = read_cell(text.translate(swapped), question)
            assert answer is not None
            assert answer.answer == (text,)
    assert read > 12


def test_a_word_of_its_own_says_rest(tmp_path: Path) -> None:
    plan = HELD_AND_SILENT.replace("[elements]", '[conventions]\nrest_counts = "R"\n[elements]')
    mine, theirs = worked(tmp_path, '[syllables.numbers]\nrest = "hush"\n', plan)
    for own, our in zip(mine.packed.forms[0].items, theirs.packed.forms[0].items, strict=True):
        assert [choice.text for choice in own.choices] == [choice.text.replace("R", "hush") for choice in our.choices]
    shown = shown_in(next(mine.folder.rglob("*.imscc")))
    assert "The sign hush is a rest." in shown or "Mark a rest with hush." in shown
    assert " R " not in re.sub(r"<[^>]*>", " ", shown)


@pytest.mark.parametrize("changes", [
    (("numbers.rest", "<2>"), ("numbers.held", "1_2")),
    (("numbers.rest", "{2}"), ("numbers.half", "e"), ("numbers.second-quarter", "and")),
    (("takadimi.rest", "[ta]"), ("takadimi.beat", "da"), ("takadimi.last-third", "ta")),
    (("gordon.rest", "<du>"),),
    (("kodaly.rest", "z"),),
])  # fmt: skip
def test_every_row_of_the_class_leads_back_to_one_row_of_the_system(changes: tuple[tuple[str, str], ...]) -> None:
    """Over all worked rows: said in the class's way and read back, each is the row that it was; no two are alike."""
    system: Counting = next(each for each in SYSTEMS if changes[0][0].startswith(each))
    own = words_for("en-US", tuple(("en-US", "syllables", ident, (text,)) for ident, text in changes))
    conventions = replace(Conventions(), counting=system)
    rows = {row for each in excerpts() if (row := labels_if_counted(each, conventions)) is not None}
    texts = {format_row(row) for row in rows}
    shown = {said(text, system, own): text for text in texts}
    assert len(shown) == len(texts) > 30
    assert any(mine != text for mine, text in shown.items())
    for mine, text in shown.items():
        assert in_system_words(mine, in_system(system, own)) == text


@pytest.mark.parametrize(
    ("table", "own", "message"),
    [
        ("numbers", 'rest = "2!"',
         "line 2: rest '2!' cannot be read: write a rest on 2 as (2), [2], {2}, <2>, or as a word in place of the "
         "count"),
        ("numbers", 'rest = "[3]"',
         "line 2: rest '[3]' cannot be read: write a rest on 2 as (2), [2], {2}, <2>, or as a word in place of the "
         "count"),
        ("numbers", 'rest = "sh"',
         "line 2: rest 'sh' leaves the count out: say rest_counts = \"R\" in [conventions] of the plan, or write [2]"),
        ("numbers", 'held = "1 hold 2"',
         "line 2: held '1 hold 2' cannot be read: write a 1 held through 2 as 1-2, 1~2 or 1_2"),
        ("takadimi", 'rest = "(2)"',
         "line 2: rest '(2)' cannot be read: write a rest on ta as (ta), [ta], {ta}, <ta>, or as a word in place of "
         "the count"),
        ("takadimi", 'held = "ta-ta"',
         "line 2: 'held' is no text of [syllables.takadimi]: use one such as fourth-quarter, half or "
         "last-third; the file that barwright wording start writes has them all"),
        ("kodaly", 'rest = "[sh]"',
         "line 2: rest '[sh]' cannot be read: write one word of letters, up to 8"),
    ],
)  # fmt: skip
def test_a_rest_or_a_hold_that_cannot_be_is_told_with_its_line(
    tmp_path: Path, table: str, own: str, message: str
) -> None:
    with pytest.raises(BlueprintError) as raised:
        made(tmp_path, f"[syllables.{table}]\n{own}\n", plan=HELD_AND_SILENT)
    assert str(raised.value) == f"{tmp_path / 'wording' / 'en-US.toml'}, {message}"


def test_a_rest_that_goes_with_other_conventions_is_told(tmp_path: Path) -> None:
    plan = HELD_AND_SILENT.replace("[elements]", '[conventions]\nrest_counts = "R"\n[elements]')
    for own, fault in (
        ('rest = "[2]"', 'rest \'[2]\' keeps the count, but the plan says rest_counts = "R": take the line out, or say '
                         'rest_counts = "parentheses" in [conventions]'),
        ('rest = "li"', "rest is said as last-third is: give each place of the beat a word of its own"),
    ):  # fmt: skip
        with pytest.raises(BlueprintError) as raised:
            made(tmp_path, f"[syllables.numbers]\n{own}\n", plan=plan)
        assert str(raised.value) == f"{tmp_path / 'wording' / 'en-US.toml'}, line 2: {fault}"


@pytest.mark.parametrize("code", languages())
def test_the_starter_changes_nothing_and_each_of_its_lines_may_be_taken_as_it_is(code: str, tmp_path: Path) -> None:
    import tomllib

    text = starter_text(code)
    assert own_changes(tomllib.loads(text), code) == ((), [])
    every = "\n".join(line.removeprefix("# ") if re.match(r"# [\w-]+ = ", line) else line for line in text.splitlines())
    changes, faults = own_changes(tomllib.loads(every), code)
    assert faults == []
    assert len(changes) == len(list(entries(language(code)))) > 150
    for each in (entry for entry in entries(language(code)) if entry.file != "syllables"):
        assert filled(words_for(code, changes), each.file, each.ident) == filled(language(code), each.file, each.ident)
    path = start_wording(tmp_path / "w", code, replace=False)
    assert path.read_text("utf-8") == text
    with pytest.raises(OutputError):
        start_wording(tmp_path / "w", code, replace=False)


@pytest.mark.parametrize("text", ["{{ x.__class__ }}", "{{ 'a' * 9 }}", "{% for a in b %}{% endfor %}", "{{ f() }}",
                                  "{{ a | upper }}", "{{ a[0] }}", "{% set a = 1 %}", "{% macro a() %}{% endmacro %}",
                                  "{{ " , "a" * 1001])  # fmt: skip
def test_nothing_runs_that_a_file_from_elsewhere_brings(text: str) -> None:
    assert not sound_marks(text)


@pytest.mark.parametrize(
    "row",
    [["en-US", "asks", "form.or", ["{{ ''.__class__ }}"]], ["xx", "asks", "form.or", ["a"]],
     ["en-US", "asks", "no", ["a"]],
     ["en-US", "words", "note.half", ["one"]], ["en-US", "asks", "form.or", "a"], 5],
)  # fmt: skip
def test_a_record_with_a_strange_wording_is_refused(tmp_path: Path, row: object) -> None:
    record = made(tmp_path).folder / "record.jsonl"
    first, *rest = record.read_text("utf-8").splitlines()
    text = "\n".join([json.dumps({**json.loads(first), "wording": [row]}), *rest]) + "\n"
    with pytest.raises(BarwrightError) as raised:
        read_record(text, "record.jsonl")
    assert str(raised.value) == "record.jsonl, line 1: the wording cannot be read: make the quiz again"
