"""Blueprints: every fault with its line, its value and the mend, all at once."""

import pytest

from barwright.blueprint.blueprint import plan_of
from barwright.blueprint.names import folder_name
from barwright.blueprint.parsing import read_blueprint
from barwright.blueprint.toml_lines import source_of
from barwright.errors import BlueprintError
from items.demo import BEGINNERS, SECOND_YEAR, blueprint_text

HEAD = 'title = "T"\n[elements]\nmeters = ["3/4", "4/4"]\nnotes = ["half", "quarter"]\n'
PART = '[[part]]\nfamily = "measure-completion"\nask = "finish-measure"\nitems = 1\n'
METER_PART = '[[part]]\nfamily = "meter-identification"\nask = "time-signature-for-rhythm"\nitems = 1\n'


def faults(text: str) -> tuple[str, ...]:
    with pytest.raises(BlueprintError) as caught:
        read_blueprint(text, "b.toml")
    return caught.value.faults


# One fault each: the text, and the whole message.
ONE_FAULT = [
    ("title = ", "b.toml, line 1: 'title =' cannot be read: nothing stands after the = sign: write a value there"),
    ('title = "T"\n[elements\nmeters = 3', "b.toml, line 2: '[elements' cannot be read: a bracket is missing: "
     "write [elements]"),
    (HEAD + PART.replace("[[part]]", "[[part]"),
     "b.toml, line 5: '[[part]' cannot be read: a bracket is missing: write [[part]]"),
    (HEAD.replace('"T"', "T") + PART, "b.toml, line 1: 'title = T' cannot be read: T stands in no quotation marks: put "
     'it in straight quotation marks, as in "half"'),
    (HEAD.replace('"T"', '"T') + PART,
     "b.toml, line 1: 'title = \"T' cannot be read: a quotation mark is missing: text "
     'stands between two, as in "half"'),
    (HEAD.replace('"T"', '"My "big" quiz"') + PART,
     "b.toml, line 1: 'title = \"My \"big\" quiz\"' cannot be read: in a "
     "text stands another quotation mark \": write ' for it"),
    (HEAD.replace('"half", "quarter"', '"half" "quarter"') + PART,
     "b.toml, line 4: 'notes = [\"half\" \"quarter\"]' cannot "
     "be read: between two texts stands no comma: write , there"),
    (HEAD.replace('"half"', '"half') + PART,
     "b.toml, line 4: 'notes = [\"half, \"quarter\"]' cannot be read: a quotation "
     'mark is missing: text stands between two, as in "half"'),
    (HEAD.replace('"3/4"', "3/4") + PART, "b.toml, line 3: 'meters = [3/4, \"4/4\"]' cannot be read: 3/4 stands in no "
     'quotation marks: put it in straight quotation marks, as in "half"'),
    (HEAD + "ties = True\n" + PART,
     "b.toml, line 5: 'ties = True' cannot be read: write true in small letters, without "
     "quotation marks"),
    (HEAD + PART + "items\n", "b.toml, line 9: 'items' cannot be read: there is no = sign after items: write it "
    "with one "
     "and a value, as in seed = 1"),
    (HEAD + PART + "points = 1 choices = 3\n",
     "b.toml, line 9: 'points = 1 choices = 3' cannot be read: more stands in "
     "the line than one value: begin a new line for it"),
    ("sections = [\n'a',\n'b'\n" + HEAD + PART, "b.toml, line 1: 'sections = [' cannot be read: it is not ended, or a "
     "comma is missing in it: write ] at its end"),
    (HEAD.replace('"T"', '"a\\qb"') + PART,
     "b.toml, line 1: 'title = \"a\\qb\"' cannot be read: \\ has a meaning of its own "
     "in a text: write / or \\\\ for it"),
    (HEAD.replace('"T"', '"a\x07b"') + PART,
     "b.toml, line 1: 'title = \"a<U+0007>b\"' cannot be read: it has a sign that is "
     "not seen: write the line anew"),
    ("my title = 1\n" + HEAD + PART, "b.toml, line 1: 'my title = 1' cannot be read: before the = sign stands no key: "
     'write one word there, as in title = "Quiz 1"'),
    ("seed = 2025-02-30\n" + HEAD + PART, "b.toml, line 1: 'seed = 2025-02-30' cannot be read: 2025-02-30 stands in no "
     'quotation marks: put it in straight quotation marks, as in "half"'),
    ("root:x:0:0\nsecret = \n", "b.toml, line 1: this is not a blueprint: check the name, or begin one with barwright "
     "start"),
    ("part = 3\n" + HEAD, "b.toml, line 1: part is not said as it must be: begin each with [[part]]"),
    (HEAD + PART.replace('"measure-completion"', '["a"]'), "b.toml, line 6: family is a list: write text in quotes"),
    (HEAD + PART.replace('"measure-completion"', "{a = 1}"), "b.toml, line 6: family is a table: write text in quotes"),
    (HEAD + "[conventions]\nheld = []\n" + PART,
     "b.toml, line 6: held is a list or a table: use 'beats', 'subdivisions', 'onset_only'"),
    (HEAD + "[conventions]\nstrict_middle = 1\n" + PART,
     "b.toml, line 6: strict_middle = 1 is not allowed: use false, true"),
    *[(f"seed = {value}\n" + HEAD + PART,
       f"b.toml, line 1: seed = {shown} is not of the right kind: write a whole number, without quotes")
      for value, shown in (("true", "true"), ("nan", "no number"), ("-inf", "no number"), ("1e999", "1e999"),
                           ("2025-01-31", "2025-01-31"), ("07:30:00", "07:30:00"))],
    *[(f"seed = {value}\n" + HEAD + PART, "b.toml, line 1: a number has over 40 digits: write a smaller one")
      for value in ("9" * 5000, "-" + "9" * 5000, "0x" + "f" * 5000, "0o" + "7" * 5000, "0b" + "1" * 5000,
                    "1_" * 2500 + "1", "1e" + "9" * 5000)],
    *[(start + "[" * 3000, "b.toml, line 1: over 12 brackets stand inside each other: take some out")
      for start in ("a = ", "a = {b = ", "")],
    ("a = " + "{b=" * 3000, "b.toml, line 1: over 12 brackets stand inside each other: take some out"),
    *[(f"{start}{'.'.join('a' * 10_000)}{end}",
       "b.toml, line 1: a key has over 12 parts with dots between them: shorten it")
      for start, end in (("", "=1"), ("[", "]"), ("[[", "]]"), ("x = {", "=1}"), ("x = [{'b'.", "=1}]"))],
    ("a = 1 #" + "x" * 20_001, "b.toml, line 1: the line has 20,008 letters, over 20,000: is this the right file?"),
    ("#\n" * 10_001, "b.toml, line 10000: there are over 10,000 lines: a blueprint is a short text; is this the right "
     "file?"),
    (HEAD.replace('"3/4", "4/4"', '"3/4", ' * 13) + PART, "b.toml, line 3: meters has 13 entries: keep at most 12"),
    (HEAD.replace('"3/4", "4/4"', '"12/2", "11/2", "10/2", "9/2", "8/2"') + PART,
     "b.toml, line 3: these measures last over 24 whole notes together: name fewer long ones"),
    (HEAD + PART * 41, "b.toml, line 5: part has 41 entries: keep at most 40"),
    (HEAD + PART.replace("[[part]]", "[part]"),
     "b.toml, line 5: [part] has one pair of brackets: write [[part]], with two"),
    (HEAD + PART.replace("[[part]]", "[ part ]") + PART,
     "b.toml, line 5: [part] has one pair of brackets: write [[part]], with two"),
    (HEAD + PART + PART.replace("[[part]]", "[part]"),
     "b.toml, line 9: [part] has one pair of brackets: write [[part]], with two"),
    (HEAD.replace("[elements]", "[[elements]]") + PART,
     "b.toml, line 2: [[elements]] has two pairs of brackets: write [elements], with one, and once only"),
    (HEAD + PART + "[elements]\n", "b.toml, line 9: [elements] stands twice: put all its keys under one of them"),
    ('title = "S"\n' + HEAD + PART, "b.toml, line 2: 'title' stands twice: take one of them out"),
    (HEAD.replace('"T"', "“T”") + PART, 'b.toml, line 1: “ is a curly quote: use straight quotes, as in "half"'),
    (HEAD.replace('"T"', '"T”') + PART, 'b.toml, line 1: ” is a curly quote: use straight quotes, as in "half"'),
    (HEAD.replace('"half"', "‘half’") + PART,
     'b.toml, line 4: ‘ is a curly quote: use straight quotes, as in "half"'),
    (HEAD.replace('"half"', '"half”') + PART,
     'b.toml, line 4: ” is a curly quote: use straight quotes, as in "half"'),
    (HEAD.replace('"half"', '\n  "half", # one\n  „quarter“') + PART,
     'b.toml, line 6: „ is a curly quote: use straight quotes, as in "half"'),
    (HEAD.replace('"T"', '"The “T”" x') + PART,
     "b.toml, line 1: 'title = \"The “T”\" x' cannot be read: more stands in the line than one value: begin a new line "
     "for it, or put # before a remark"),
    (HEAD.replace('"T"', '"T" x # “T”') + PART,
     "b.toml, line 1: 'title = \"T\" x' cannot be read: more stands in the line than one value: begin a new line "
     "for it, or put # before a remark"),
    (HEAD.replace('"T"', f'"{"x" * 121}"') + PART, "b.toml, line 1: title has 121 letters: shorten it to 120 letters"),
    (HEAD.replace('"T"', '""') + PART, "b.toml, line 1: title is empty: write a title"),
    ("sections = []\n" + HEAD + PART, "b.toml, line 1: sections is empty: give it at least one entry"),
    (f"sections = {[f'P {n}' for n in range(61)]}\n" + HEAD + PART,
     "b.toml, line 1: sections has 61 entries: keep at most 60"),
    ('sections = ["日本"]\n' + HEAD + PART,
     "b.toml, line 1: section '日本' has no letter a-z or digit to name its folder by: give it a name such as "
     "'Period 1'"),
    ('sections = ["Größe 3", "Grosse 3"]\n' + HEAD + PART,
     "b.toml, line 1: sections 'Größe 3' and 'Grosse 3' would share the folder 'grosse-3': rename one"),
    # only the fault itself is told, and nothing that would follow from it
    (HEAD.replace('["3/4", "4/4"]', '"4/4"') + METER_PART + 'meters = ["4/4"]\n',
     "b.toml, line 3: meters = '4/4' is not of the right kind: write a list in square brackets"),
    (HEAD.replace('["3/4", "4/4"]', "[]") + METER_PART + 'meters = ["4/4"]\n',
     "b.toml, line 3: meters is empty: give it at least one entry"),
    (HEAD.replace('["half", "quarter"]', '"half"') + 'dots = ["half"]\n' + PART,
     "b.toml, line 4: notes = 'half' is not of the right kind: write a list in square brackets"),
    (HEAD + "[quiz]\nvariants = 3\n" + PART,
     "b.toml, line 6: variants has no effect without draw = true: add draw = true, or take variants out"),
    (HEAD + PART.replace("finish-measure", "beats-left") + "choices = 4\n",
     "b.toml, line 9: choices has no effect in 'beats-left', whose answer is typed: take choices out"),
    (HEAD + PART.replace("finish-measure", "shortest-first") + "choices = 4\n",
     "b.toml, line 9: choices has no effect in 'shortest-first', whose answer is an order: take choices out"),
    (HEAD + '[quiz]\ncredit = "per-choice"\n' + PART,
     "b.toml, line 6: credit = 'per-choice' has no effect, since no answer here has parts: use one of all-that-fit, "
     "drag-into-the-blank, shortest-first, count-under-each, or take it out"),
    (HEAD + 'rests = ["quarter"]\nrest_dots = ["quarter"]\n' + PART,
     "b.toml, line 6: rest_dots has no effect in 3/4, 4/4 with dotted_rests = 'compound_only': set it to 'all', teach "
     "a meter such as 6/8, or take rest_dots out"),
    (HEAD + 'rests = ["quarter"]\nrest_dots = ["quarter"]\n[conventions]\ndotted_rests = "none"\n' + PART,
     "b.toml, line 6: rest_dots has no effect with dotted_rests = 'none': change one of them, or take it out"),
    (HEAD.replace('title = "T"\n', "") + PART, "b.toml, line 1: 'title' is missing: add it"),
    ('subtitle = "x"\n' + HEAD + PART, "b.toml, line 1: 'subtitle' is not a key here: did you mean 'title'?"),
    (HEAD.replace("half", "haff") + PART,
     "b.toml, line 4: notes (entry 1) = 'haff' is not allowed: use 'whole', 'half', 'quarter', 'eighth', 'sixteenth'"),
    (HEAD.replace("3/4", "3/5") + PART,
     "b.toml, line 3: time signature 3/5: the bottom number must be 2, 4 or 8"),
    (HEAD + 'dots = ["eighth"]\n' + PART, "b.toml, line 5: dots names 'eighth', but notes does not: add it to notes"),
    (HEAD + '[conventions]\nheld = "beat"\n' + PART,
     "b.toml, line 6: held = 'beat' is not allowed: use 'beats', 'subdivisions', 'onset_only'"),
    (HEAD + '[conventions]\nstrict_middle = "yes"\n' + PART,
     "b.toml, line 6: strict_middle = 'yes' is not allowed: use false, true"),
    (HEAD + '[conventions]\nhold = "beats"\n' + PART,
     "b.toml, line 6: 'hold' is not a convention: did you mean 'held'?"),
    (HEAD + PART.replace("finish-measure", "finish-mesure"),
     "b.toml, line 7: ask = 'finish-mesure' is not known: did you mean 'finish-measure'?"),
    (HEAD + PART.replace("finish-measure", "write-counts"),
     "b.toml, line 7: ask = 'write-counts' belongs to the family 'count-labeling', not 'measure-completion': "
     "change one of them"),
    (HEAD + PART.replace("measure-completion", "mesure-completion"),
     "b.toml, line 6: family = 'mesure-completion' is not known: did you mean 'measure-completion'?"),
    (HEAD + PART.replace("items = 1", "items = 0"), "b.toml, line 8: items = 0 is out of range: use at least 1"),
    (HEAD + PART.replace("items = 1", 'items = "1"'),
     "b.toml, line 8: items = '1' is not of the right kind: write a whole number, without quotes"),
    (HEAD + PART + 'meters = ["2/4"]\n',
     "b.toml, line 9: meter '2/4' is not among the elements taught: add it to [elements] meters"),
    (HEAD + PART + 'misreadings = ["rests-take-no-tme"]\n',
     "b.toml, line 9: misreading 'rests-take-no-tme' is not known: did you mean 'rests-take-no-time'?"),
    (HEAD + '[[part]]\nfamily = "meter-identification"\nask = "time-signature-for-rhythm"\nitems = 1\n',
     "b.toml, line 7: ask = 'time-signature-for-rhythm' needs 3 time signatures of different length, and 2 are taught: "
     "name more in [elements] meters or take another ask"),
    ('sections = ["A 1", "a-1"]\n' + HEAD + PART,
     "b.toml, line 1: sections 'A 1' and 'a-1' would share the folder 'a-1': rename one"),
    ('language = "xx"\n' + HEAD + PART, "b.toml, line 1: language = 'xx' has no wording yet: use en-GB, en-US, es"),
    ('language = 5\n' + HEAD + PART,
     "b.toml, line 1: language = 5 names no language: write one in quotes, or two in a list"),
    ('language = []\n' + HEAD + PART,
     "b.toml, line 1: language is a list that names no language: write one in quotes, or two in a list"),
    ('language = ["es", "xx"]\n' + HEAD + PART,
     "b.toml, line 1: language = 'xx' has no wording yet: use en-GB, en-US, es"),
    ('language = ["es", "es"]\n' + HEAD + PART,
     "b.toml, line 1: language is a list that has too many: name at most 2 languages, each once"),
    ('language = ["es", "en-US", "en-GB"]\n' + HEAD + PART,
     "b.toml, line 1: language is a list that has too many: name at most 2 languages, each once"),
    (HEAD + PART + '[curriculum]\n"beats-lost" = ["x"]\n',
     "b.toml, line 10: 'beats-lost' is neither a family nor an ask: did you mean 'beats-left'?"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "message"), ONE_FAULT, ids=lambda v: v[-40:] if isinstance(v, str) else None)
def test_each_fault_names_line_value_and_mend(text: str, message: str) -> None:
    assert faults(text) == (message,)


@pytest.mark.parametrize(
    "more",
    [
        "[quiz]\ndraw = true\nvariants = 3\n" + PART,
        '[quiz]\ncredit = "per-choice"\n' + PART.replace("finish-measure", "all-that-fit"),
        '[conventions]\ndotted_rests = "all"\n' + PART,
        PART.replace("finish-measure", "drag-into-the-blank") + "choices = 3\n",
    ],
)
def test_a_key_that_has_an_effect_is_no_fault(more: str) -> None:
    dotted = 'rests = ["quarter"]\nrest_dots = ["quarter"]\n' if "dotted" in more else ""
    read_blueprint(HEAD + dotted + more, "b.toml")


@pytest.mark.parametrize("meter", ["3/8", "6/8", "5/8"])
def test_dotted_rests_have_a_place_in_beats_of_three(meter: str) -> None:
    head = HEAD.replace('"4/4"', f'"{meter}"')
    read_blueprint(head + 'rests = ["quarter"]\nrest_dots = ["quarter"]\n' + PART, "b.toml")


def test_all_faults_are_told_at_once_in_the_order_of_the_file() -> None:
    text = (
        'title = "T"\nsubtitle = "x"\n[elements]\nmeters = ["3/4"]\nnotes = ["haff"]\n[conventions]\nheld = "beat"\n'
        + PART.replace("finish-measure", "finish-mesure")
        + PART.replace("items = 1", "items = 0")
    )
    found = faults(text)
    assert [int(f.split("line ")[1].split(":")[0]) for f in found] == [2, 5, 7, 10, 15]


def test_a_misreading_that_cannot_show_in_an_ask_is_told_with_those_that_can() -> None:
    text = HEAD + PART + 'misreadings = ["counting-goes-on-over-the-barline"]\n'
    (message,) = faults(text)
    assert message == (
        "b.toml, line 9: misreading 'counting-goes-on-over-the-barline' cannot show in 'finish-measure': use "
        "one such as "
        "names-are-parts-of-the-measure, beats-that-are-there-answered or numbers-of-the-signature-swapped; "
        "barwright help misreadings lists them all"
    )


def test_a_misreading_that_nothing_taught_can_show_is_told_with_what_it_needs() -> None:
    text = HEAD + PART + 'misreadings = ["rests-take-no-time", "dots-passed-over", "eighth-gets-a-full-beat"]\n'
    needs = [message.split("it needs ")[1] for message in faults(text)]
    assert needs == [f"{what}; teach them or take it out" for what in ("rests", "dots", "eighth notes")]


@pytest.mark.parametrize(
    ("line", "message"),
    [
        ('sections = ["a\\u0001b"]', "section 'a<U+0001>b' has a control character ('<U+0001>')"),
        (f'sections = ["{"x" * 300}"]', f"section '{'x' * 60}...' has over 80 letters"),
        ('sections_file = "../classes.csv"', "sections_file = '../classes.csv' is not beside the blueprint"),
        ('sections_file = "/etc/classes.csv"', "sections_file = '/etc/classes.csv' is not beside the blueprint"),
        ('sections_file = "C:\\\\classes.csv"', "sections_file = 'C:\\classes.csv' is not beside the blueprint"),
    ],
)
def test_names_that_no_package_or_folder_can_carry_are_told(line: str, message: str) -> None:
    (told,) = faults(f"{line}\n{HEAD}{PART}")
    assert told.startswith(f"b.toml, line 1: {message}")


@pytest.mark.parametrize("title", ["a\\u0007b", "   "])
def test_a_title_that_no_package_can_carry_is_told(title: str) -> None:
    (told,) = faults(HEAD.replace('"T"', f'"{title}"') + PART)
    assert told.startswith("b.toml, line 1: title ")


def test_a_huge_file_is_not_read_as_a_blueprint() -> None:
    assert faults("#" * 200_001) == (
        "b.toml, line 1: the file has over 200000 bytes: a blueprint is a short text; is this the right file?",
    )


def test_elements_become_what_is_taught() -> None:
    blueprint, _ = read_blueprint(blueprint_text(SECOND_YEAR, "finish-measure"), "b.toml")
    taught = plan_of(blueprint.part[0], blueprint).space.taught
    assert taught.tokens == {"w", "h", "q", "e", "h.", "q.", "rh", "rq", "re"}
    assert taught.ties
    assert taught.syncopation


def test_the_whole_rest_is_taught_as_the_full_measure_rest() -> None:
    blueprint, _ = read_blueprint(blueprint_text(BEGINNERS, "finish-measure"), "b.toml")
    taught = plan_of(blueprint.part[0], blueprint).space.taught
    assert taught.tokens == {"w", "h", "q", "rW", "rh", "rq"}
    assert not taught.syncopation


@pytest.mark.parametrize(
    ("name", "folder"),
    [
        ("Period 1: Ms. Ö", "period-1-ms-o"),
        ("Größe 3", "grosse-3"),
        ("GRÖSSE 3", "grosse-3"),
        ("Große ẞ", "grosse-ss"),
        ("Chœur Ó Ñandú", "choeur-o-nandu"),
        ("Kór Ł Øst Đ İ", "kor-l-ost-d-i"),
        ("ｂａｎｄ ²", "band-2"),
        ("日本 3", "3"),
        ("日本", ""),
        ("Con", "con-"),
        ("Çön", "con-"),
    ],
)
def test_folder_names_are_plain(name: str, folder: str) -> None:
    assert folder_name(name) == folder


def test_every_part_in_single_brackets_is_told() -> None:
    part = PART.replace("[[part]]", "[part]")
    assert faults(HEAD + part + part) == tuple(
        f"b.toml, line {line}: [part] has one pair of brackets: write [[part]], with two" for line in (5, 9)
    )


def test_lines_are_found_through_all_kinds_of_tables() -> None:
    source = source_of('a = 1\n[b]\n"c d" = 2\n[[part]]\nx = 1\n[[part]]\nx = 2\n', "n")
    assert [source.line(p) for p in [("a",), ("b", "c d"), ("part", 0, "x"), ("part", 1, "x"), ("part", 1, "y")]] == [
        1, 3, 5, 7, 6,
    ]  # fmt: skip
