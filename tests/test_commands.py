"""Every command, run as a teacher runs it: one good and one bad run each, and what must hold of `make` as a whole."""

import hashlib
import json
import re
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from barwright.qti import WRITERS
from command_line import Command
from published import complaints
from whole import WHOLE

ROOT = Path(__file__).parents[1]
BLUEPRINTS = sorted((ROOT / "shared" / "blueprints").glob("*.toml"))
# What can be answered in QTI 2.2 and 3.0 only.
NEWER = {"unit-4-drag-and-order": ["qti22", "qti30"]}
UNIT_1 = ROOT / "shared" / "blueprints" / "unit-1-half-notes-and-rests.toml"


@pytest.fixture
def command(monkeypatch: pytest.MonkeyPatch, typed: Command, tmp_path: Path) -> Command:
    """Runs `barwright ARGUMENTS` in an empty folder; gives exit code, output and error output."""
    monkeypatch.chdir(tmp_path)
    return typed


@pytest.fixture
def small(tmp_path: Path) -> Path:
    """The first demo blueprint with two sections, and each ask twice at most, none about something: quickly made."""
    text = re.sub(r"items( *)= [34]", r"items\1= 2", UNIT_1.read_text("utf-8"))
    text = text.replace(', "Period 6"]', "]").replace("misreadings = ", "# misreadings = ")
    (tmp_path / "small.toml").write_text(text, "utf-8")
    return tmp_path / "small.toml"


def files_of(folder: Path) -> dict[str, str]:
    """Each file below a folder with a digest of its bytes."""
    return {
        p.relative_to(folder).as_posix(): hashlib.sha256(p.read_bytes()).hexdigest()
        for p in sorted(folder.rglob("*"))
        if p.is_file()
    }


def test_the_starter_blueprint_makes_a_quiz_at_once(command: Command) -> None:
    assert command("start", "unit-9") == (
        0,
        "Wrote unit-9.toml.\nNext: edit it, then run  barwright make unit-9.toml\n",
        "",
    )
    code, out, err = command("make", "unit-9.toml")
    assert (code, err) == (0, "")
    assert "Next: open out/unit-9/proof.html" in out


def test_what_is_to_be_pasted_stands_in_quotes(command: Command, tmp_path: Path) -> None:
    _, out, _ = command("start", "grade 4 begin")
    assert out.splitlines()[1] == "Next: edit it, then run  barwright make 'grade 4 begin.toml'"
    assert "#     barwright make 'grade 4 begin.toml'\n" in (tmp_path / "grade 4 begin.toml").read_text("utf-8")
    _, out, _ = command("make", "grade 4 begin.toml", "--out", "my quizzes", "--standard", "qti12")
    folder = "my quizzes/grade-4-begin"
    assert out.splitlines()[-2:] == [
        f"Wrote {folder}: 2 packages, {out.splitlines()[-2].split()[5]} figures, proof.html, key.html, record.jsonl.",
        f"Next: open '{folder}/proof.html', look through every item, then import '{folder}/period-1/quiz-qti12.zip'",
    ]


@pytest.mark.parametrize(
    ("name", "message"),
    [
        ("a\nb", "name 'a<U+000A>b' has a control character ('<U+000A>'): write it in one line of plain text\n"),
        ("", "name '' is empty: write a name\n"),
    ],
)
def test_start_refuses_a_name_that_is_none(command: Command, name: str, message: str) -> None:
    assert command("start", name) == (1, "", message)


LONG = "x" * 300
CANNOT = ": cannot be written (File name too long): nothing was changed; make room, or give another name or folder\n"


@pytest.mark.parametrize(
    ("arguments", "name"),
    [
        (["start", LONG], f"{LONG[:200]}..."),
        (["draw", "3/4 h.", "-o", LONG], f"{LONG[:200]}..."),
        (["make", UNIT_1, "--out", LONG], f"{LONG[:200]}..."),
        (["bank", "merge", ROOT / "shared/banks/birch.jsonl", "-o", LONG], f"{LONG[:200]}..."),
        (["bank", "export", ROOT / "shared/banks/birch.jsonl", "--out", LONG], f"{LONG[:200]}..."),
        (["bank", "show", ROOT / "shared/banks/birch.jsonl", "--html", LONG], f"{LONG[:200]}..."),
        (["bank", "review", LONG, "--item", "0000", "--approve"], f"{LONG[:200]}..."),
    ],
    ids=lambda v: " ".join(map(str, v[:2])) if isinstance(v, list) else "",
)
def test_what_the_system_refuses_is_one_line(
    command: Command, tmp_path: Path, arguments: list[object], name: str
) -> None:
    code, out, err = command(*arguments)
    assert (code, out) == (1, "")
    assert err == f"{name}{CANNOT}"
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("arguments", [["start", "q"], ["draw", "3/4 h.", "-o", "r.png"], ["make", UNIT_1]])
def test_a_full_drive_is_one_line_and_leaves_nothing(tmp_path: Path, arguments: list[object]) -> None:
    """A limit on the size of files stands for the full drive."""
    resource = pytest.importorskip("resource")
    program = [sys.executable, "-c", "from barwright.cli import run; run()", *map(str, arguments)]
    done = subprocess.run(
        program, cwd=tmp_path, capture_output=True, text=True, check=False,
        preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (400, 400)),
    )  # fmt: skip
    assert (done.returncode, done.stdout) == (1, "")
    assert done.stderr.endswith(
        ": cannot be written (File too large): nothing was changed; make room, or give another name or folder\n"
    )
    assert [p for p in tmp_path.rglob("*") if p.is_file() or p.name.startswith(".")] == []


def test_progress_is_told_for_every_phase(command: Command, monkeypatch: pytest.MonkeyPatch, small: Path) -> None:
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True)
    for arguments, phases in (
        (("make", small), ("items", "figures", "packages")),
        (("capacity", small), ("parts", "part 1, questions", "part 5, questions")),
    ):
        told = command(*arguments)[2]
        assert [f"{phase}: " in told for phase in phases] == [True] * len(phases)
        assert told.endswith("\n")


def test_start_leaves_a_file_alone(command: Command) -> None:
    command("start")
    assert command("start") == (1, "", "quiz.toml exists: give --replace to write it anew, or another name\n")


@pytest.mark.parametrize("blueprint", BLUEPRINTS, ids=lambda p: p.stem)
def test_every_demo_blueprint_becomes_valid_packages(
    blueprint: Path, command: Command, tmp_path: Path, standards: Path
) -> None:
    able = NEWER.get(blueprint.stem, list(WRITERS))
    wanted = [each for standard in able for each in ("--standard", standard)]
    code, out, err = command("make", blueprint, *wanted, "--as", "quiz", "--as", "bank")
    assert (code, err) == (0, ""), out + err
    folder = tmp_path / "out" / blueprint.stem
    packages = sorted(path for path in folder.rglob("*") if path.suffix in (".zip", ".imscc"))
    assert len(packages) >= 2 * 2 * len(able)  # sections, and quiz and bank
    ends = {packages[0].parent, packages[-1].parent}  # in the suite the first section and the last
    assert complaints(standards, [path for path in packages if WHOLE or path.parent in ends]) == []


def test_sections_share_no_excerpt_and_every_choice_is_recorded(command: Command, tmp_path: Path) -> None:
    command("make", UNIT_1)
    lines = [
        json.loads(line) for line in (tmp_path / "out" / UNIT_1.stem / "record.jsonl").read_text("utf-8").splitlines()
    ]
    header, items = lines[0], lines[1:]
    assert header["format"] == "barwright-record"
    excerpts: dict[str, set[str]] = {}
    for line in items:
        excerpts.setdefault(line["section"], set()).add(line["content"]["excerpt"])
        keys = [c for c in line["choices"] if c["key"]]
        assert keys
        assert all(c["misreadings"] for c in line["choices"] if not c["key"])
    assert len(excerpts) == 3
    assert sum(map(len, excerpts.values())) == len(set.union(*excerpts.values()))


def test_same_blueprint_and_seed_give_the_same_bytes_anywhere(command: Command, tmp_path: Path, small: Path) -> None:
    command("make", small, "--out", "one")
    command("make", small.name, "--out", tmp_path / "far" / "away")
    one, other = files_of(tmp_path / "one"), files_of(tmp_path / "far" / "away")
    assert one == other
    command("make", small, "--out", "third", "--seed", "302")
    assert files_of(tmp_path / "third") != one


def test_a_folder_that_exists_is_left_alone(command: Command, tmp_path: Path) -> None:
    folder = tmp_path / "out" / UNIT_1.stem
    folder.mkdir(parents=True)
    (folder / "mine.txt").write_text("mine")
    assert command("make", UNIT_1) == (
        1, "", f"out/{UNIT_1.stem} exists: give --replace to write it anew, or another folder with --out\n",
    )  # fmt: skip
    assert files_of(folder).keys() == {"mine.txt"}


def test_faults_of_a_blueprint_are_told_at_once_and_nothing_is_written(command: Command, tmp_path: Path) -> None:
    text = UNIT_1.read_text("utf-8")
    for old, new in [
        ('"3/4", "4/4"]', '"3/4", "4/5"]'),
        ('dots   = ["half"]', 'dots   = ["eighth"]'),
        ('"parentheses"', '"brackets"'),
        ('"finish-measure"\nitems  = 4', '"finish-the-measure"\nitems  = 4'),
        ("items  = 3", 'items  = "three"'),
    ]:
        assert old in text
        text = text.replace(old, new)
    (tmp_path / "bad.toml").write_text(text)
    code, out, err = command("make", "bad.toml")
    assert (code, out) == (1, "")
    assert len(err.splitlines()) == 5
    for message, said in zip(
        err.splitlines(), ("4/5", "eighth", "brackets", "finish-the-measure", "three"), strict=True
    ):
        assert message.startswith("bad.toml, line ")
        assert said in message
    assert not (tmp_path / "out").exists()


def test_a_part_that_is_too_large_is_told_beside_other_faults(command: Command, tmp_path: Path) -> None:
    text = UNIT_1.read_text("utf-8").replace("items  = 2", "items  = 60").replace("choices         = 4", "choices = 9")
    (tmp_path / "bad.toml").write_text(text)
    code, _, err = command("make", "bad.toml")
    assert code == 1
    assert "choices = 9 is out of range: use at most 5" in err
    assert re.search(r"items = 60: only \d+ different 'does-it-fit' items can be made from what is taught", err)


def test_a_part_that_is_too_large_is_told_on_its_own_line_after_a_faulty_part(command: Command, tmp_path: Path) -> None:
    part = '[[part]]\nfamily = "count-labeling"\nask = "write-counts"\nitems = {}\n'
    head = 'title = "T"\n[elements]\nmeters = ["2/4"]\nnotes = ["quarter"]\n'
    (tmp_path / "bad.toml").write_text(head + part.format(0) + part.format(99))
    lines = command("make", "bad.toml")[2].splitlines()
    assert [line.split(": ")[0] for line in lines] == ["bad.toml, line 8", "bad.toml, line 12"]
    assert "items = 99: only" in lines[1]


AS_UTF_8 = "save the file as UTF-8 (in a text editor: Save as, Encoding: UTF-8)\n"
UNSECTIONED = """
title = "T"
[elements]
meters = ["3/4", "4/4"]
notes = ["whole", "half", "quarter"]
rests = ["whole", "half", "quarter"]
dots = ["half"]
[[part]]
family = "measure-completion"
ask = "finish-measure"
items = 1
"""


def test_missing_and_strange_files_get_one_line(command: Command, tmp_path: Path) -> None:
    assert command("make", "nothing.toml") == (
        1, "", "nothing.toml: cannot be read (No such file or directory): check the name and the folder\n",
    )  # fmt: skip
    (tmp_path / "latin.toml").write_bytes(b'title = "caf\xe9"')
    assert command("make", "latin.toml") == (
        1, "", f"latin.toml, line 1: the letter after 'title = \"caf' is not UTF-8: {AS_UTF_8}",
    )  # fmt: skip
    (tmp_path / "list.csv").write_bytes(b"title\nGr\xf6\xdfe 3\n")
    (tmp_path / "quiz.toml").write_text(f'sections_file = "list.csv"\n{UNSECTIONED}')
    assert command("make", "quiz.toml")[2] == f"list.csv, line 2: the letter after 'Gr' is not UTF-8: {AS_UTF_8}"
    (tmp_path / "utf16.toml").write_bytes('title = "T"\n'.encode("utf-16"))
    assert (
        command("make", "utf16.toml")[2]
        == "utf16.toml: the file is saved as UTF-16: save it as UTF-8 (in a text editor: Save as, Encoding: UTF-8)\n"
    )
    (tmp_path / "bom.toml").write_bytes(b'\xef\xbb\xbftitle = "T"\n\xe9')
    assert command("make", "bom.toml")[2] == f"bom.toml, line 2: the first letter is not UTF-8: {AS_UTF_8}"
    (tmp_path / "big.toml").write_bytes(b"#" * 200_001)
    assert command("capacity", "big.toml") == (
        1, "", "big.toml: has over 200000 bytes, so it is no blueprint: check the name\n",
    )  # fmt: skip


def test_unknown_standard_section_and_shape_are_told_with_what_is_known(command: Command) -> None:
    assert command("make", UNIT_1, "--standard", "qti9")[2].startswith(
        "standard 'qti9' is not known: use cc11, cc12, cc13"
    )
    assert command("make", UNIT_1, "--as", "pool") == (1, "", "--as 'pool' is not known: use quiz or bank\n")
    assert command("make", UNIT_1, "--section", "Period 9") == (
        1, "", f"section 'Period 9' is not in {UNIT_1}: use 'Period 1', 'Period 3', 'Period 6'\n",
    )  # fmt: skip
    assert command("make", "--no-such-option")[0] == 2


@pytest.mark.parametrize(
    ("arguments", "option", "value"),
    [
        (["make", UNIT_1, "--retake", "x"], "--retake", "x"),
        (["make", UNIT_1, "--retake", "-1"], "--retake", "-1"),
        (["make", UNIT_1, "--seed", "1.5"], "--seed", "1.5"),
        (["bank", "take", "b.jsonl", "-b", UNIT_1, "--seed", "²"], "--seed", "²"),
        (["bank", "show", "b.jsonl", "--most", "all"], "--most", "all"),
    ],
)
def test_what_is_no_whole_number_is_told(command: Command, arguments: list[object], option: str, value: str) -> None:
    code, out, err = command(*arguments)
    assert (code, out) == (2, "")
    assert err.splitlines()[-1] == (
        f"Error: Invalid value for '{option}': {value!r} is no whole number of 0 or more: write it in digits, e.g. 2"
    )


COMMANDS = [
    *(["start"], ["make"], ["capacity"], ["check"], ["counts"], ["draw"]),
    *(["bank", name] for name in ("add", "merge", "show", "take", "review", "export", "check", "schema")),
]


def test_wording_prints_every_sentence_and_starts_a_folder(command: Command, tmp_path: Path) -> None:
    code, out, err = command("wording", "--all", "--language", "es")
    assert (code, err) == (0, "")
    assert "\nmisreadings, tied-note-struck-again.feedback\n  Una ligadura significa mantener. No vuelvas" in out
    assert out == command("wording", "show", "--all", "--language", "es")[1]
    students = command("wording", "show")[1]
    assert "\nasks, all-that-fit.stem\n  Which of these fill the blank" in students
    assert ".why" not in students
    assert command("wording", "show", "--language", "fr") == (
        1, "", "language 'fr' has no wording: use en-GB, en-US, es\n"
    )  # fmt: skip
    assert command("wording", "start") == (
        0,
        "Wrote wording/en-US.toml.\n"
        'Next: change sentences in it, and write  wording = "wording"  into the blueprint beside it\n',
        "",
    )
    assert (tmp_path / "wording" / "en-US.toml").read_text("utf-8").startswith("# The sentences of your classes")
    assert command("wording", "start") == (
        1, "", "wording/en-US.toml exists: give --replace to write it anew, or another name\n"
    )  # fmt: skip


def test_help_names_every_standard(command: Command) -> None:
    assert f"{' '.join(WRITERS)}, or all" in " ".join(command("make", "--help")[1].split())


@pytest.mark.parametrize("name", COMMANDS, ids=" ".join)
def test_help_shows_words_of_a_teacher(command: Command, name: list[str]) -> None:
    code, out, err = command(*name, "--help")
    assert (code, err) == (0, "")
    assert not re.search(r"<\w|[{}]|x>=0|list\[", out), out
    usage = out.splitlines()[0]
    assert usage.startswith(f"Usage: barwright {' '.join(name)} [OPTIONS]")


def test_help_and_usage_say_what_may_be_repeated(command: Command) -> None:
    assert command("check", "--help")[1].splitlines()[0] == "Usage: barwright check [OPTIONS] PACKAGE..."
    assert command("check")[2].splitlines()[0] == "Usage: barwright check [OPTIONS] PACKAGE..."
    out = command("bank", "merge", "--help")[1]
    assert out.splitlines()[0] == "Usage: barwright bank merge [OPTIONS] BANK..."
    assert "  BANK  Bank files, one or more.  [required]\n" in out


def test_check_of_a_quiz_folder_names_its_packages(command: Command, tmp_path: Path) -> None:
    (tmp_path / "unit.toml").write_text(f'sections = ["Größe 3", "B"]\n{UNSECTIONED}', "utf-8")
    assert command("make", "unit.toml")[0] == 0
    packages = ", ".join(
        f"'out/unit/{path}'" for path in ("b/quiz-qti12.zip", "b/quiz.imscc", "grosse-3/quiz-qti12.zip")
    )
    assert command("check", "out/unit") == (
        1, f"out/unit: not read: it is a folder of packages: name them instead: {packages}, "
        "'out/unit/grosse-3/quiz.imscc'.\n", "",
    )  # fmt: skip
    assert command("check", "out/unit/b/quiz.imscc")[0] == 0
    for name in "cdef":
        (tmp_path / "out/unit/b" / f"{name}.zip").write_bytes(b"")
    assert command("check", "out")[1].endswith(", 'out/unit/b/quiz-qti12.zip', 'out/unit/b/quiz.imscc' and 2 more.\n")


@pytest.mark.parametrize(
    ("standards", "names"),
    [
        ((), "Common Cartridge 1.3 and plain QTI 1.2"),
        (("--standard", "qti30", "--standard", "qti12"), "plain QTI 1.2"),
    ],
)
def test_a_standard_that_cannot_say_an_ask_is_told_and_nothing_is_written(
    command: Command, tmp_path: Path, standards: tuple[str, ...], names: str
) -> None:
    text = (ROOT / "shared" / "blueprints" / "unit-4-drag-and-order.toml").read_text("utf-8")
    (tmp_path / "unit.toml").write_text(text)
    asks = [(n, line.split('"')[1]) for n, line in enumerate(text.splitlines(), start=1) if line.startswith("ask ")]
    assert command("make", "unit.toml", *standards) == (1, "", "".join(
        f"unit.toml, line {n}: ask = '{ask}': {names} cannot say how it is answered: take --standard qti22 or qti30, "
        "or use another ask\n"
        for n, ask in asks
    ))  # fmt: skip
    assert sorted(p.name for p in tmp_path.iterdir()) == ["unit.toml"]


def test_the_record_of_answers_that_are_put_together_holds_their_parts(command: Command, tmp_path: Path) -> None:
    unit_4 = ROOT / "shared" / "blueprints" / "unit-4-drag-and-order.toml"
    command("make", unit_4, "--standard", "qti30")
    folder = tmp_path / "out" / unit_4.stem
    lines = [json.loads(line) for line in (folder / "record.jsonl").read_text("utf-8").splitlines()][1:]
    for line in lines:
        if line["content"]["ask"] == "drag-into-the-blank":
            assert not {"texts", "slots", "filled"} & set(line)
            continue
        texts = {text["ident"]: text["text"] for text in line["texts"]}
        for choice, filled in zip(line["choices"], line["filled"], strict=True):
            if line["slots"]:
                assert all(ident in slot["options"] for ident, slot in zip(filled, line["slots"], strict=True))
            else:
                assert choice["answer"] == " < ".join(texts[ident] for ident in filled)
    before = files_of(folder)
    assert command("make", unit_4, "--standard", "qti30", "--section", "Period 4")[0] == 0
    assert files_of(folder) == before, "the record reads back, and the same form comes out"


NARROW = """
title = "T"
[elements]
meters = ["2/4", "3/4"]
notes = ["half", "quarter"]
rests = ["quarter"]
[[part]]
family = "measure-completion"
ask = "finish-measure"
items = 1
[[part]]
family = "count-labeling"
ask = "write-counts"
items = 1
"""


def test_capacity_says_what_binds(command: Command, tmp_path: Path) -> None:
    (tmp_path / "some.toml").write_text(f'sections = ["A", "B", "C"]\n{NARROW}', "utf-8")
    code, out, _ = command("capacity", "some.toml")
    assert code == 0
    assert out.splitlines()[-1] == "3 sections need no common excerpt."
    (tmp_path / "many.toml").write_text(f"sections = {[f'P{n}' for n in range(22)]}\n{NARROW}", "utf-8")
    assert command("capacity", "many.toml")[1].splitlines()[-1] == (
        "Part 1 (finish-measure) serves 4 sections without a common excerpt, and there are 22: some excerpts will be "
        "shared."
    )


def test_counts_stand_under_their_symbols(command: Command) -> None:
    assert command("counts", "4/4 h rq q | q. e rh")[1] == ("4/4 h   rq  q | q.  e rh\n    1-2 (3) 4 | 1-2 & (3-4)\n")
    assert command("counts", "6/8 q e q.", "-c", "compound=bottom")[1] == "6/8 q   e q.\n    1-2 3 4-5-6\n"
    assert command("counts", "3/4 q~ e e q")[1] == "3/4 q~  e e q\n    1-2   & 3\n"


def test_counts_tells_what_is_wrong_with_a_rhythm(command: Command) -> None:
    assert command("counts", "3/4 q q") == (1, "", "measure 1 holds 2/4 but 3/4 needs 3/4: add 1/4\n")
    assert command("counts", "3/4 q q h") == (1, "", "measure 1 holds 4/4 but 3/4 needs 3/4: take away 1/4\n")
    assert command("counts", "3/4 rw") == (
        1, "", "measure 1 holds 4/4 but 3/4 needs 3/4: write rW for the rest of a whole measure, or take away 1/4\n",
    )  # fmt: skip
    assert command("counts", "4/4 q | q q") == (
        1, "", "measure 1 holds 2/4 but 4/4 needs 4/4: add 2/4; the last measure may also hold 3/4, and complete the "
        "pickup\n",
    )  # fmt: skip
    assert command("counts", "3/4 q q q", "-c", "held=long") == (
        1, "", "held = 'long' is not allowed: use beats, subdivisions, onset_only\n",
    )  # fmt: skip
    assert command("counts", "3/4 q q q", "-c", "hold=beats") == (
        1, "", "convention 'hold' is not known: did you mean 'held'?\n",
    )  # fmt: skip


PICKUP = "Remark: the first measure is short (3/4 of 4/4): it is taken as a pickup; if it is none, add 1/4\n"
UNUSUAL = (
    "Remark: measure 1, 'rh q': 3/4 takes two quarter rests (Open University 4.2), by convention half_rest_in_3_4; "
    "-c half_rest_in_3_4=allow_1-2 allows it\n"
)


@pytest.mark.parametrize(
    ("arguments", "remarks"),
    [
        (["4/4 e e s s re q | q~ q h"], PICKUP),
        (["4/4 q | h. q~ | h."], PICKUP.replace("3/4", "1/4").replace("add 1/4", "add 3/4")),
        (["3/4 rh q"], UNUSUAL),
        (["3/4 rh q", "-c", "half_rest_in_3_4=allow"], ""),
        (["4/4 q q. e q", "-c", "strict_middle=true"],
         "Remark: measure 1, 'q q. e q': a sound from off the beat is split and tied at beat 3 of 4/4 (Gould); "
         "-c strict_middle=false allows it\n"),
        (["4/4 q rh q"],
         "Remark: measure 1, 'q rh q': a half rest stands on beats 1-2 or 3-4 of 4/4, never 2-3 (Open University 4.2); "
         "no convention allows it\n"),
        (["4/4 q | rw | h."],
         PICKUP.replace("3/4", "1/4").replace("add 1/4", "add 3/4")
         + "Remark: measure 1, 'rw': an empty measure takes one full-measure rest in any meter (Open University 4.4); "
         "write rW\n"),
        (["4/4 h h~ | w"], ""),
    ],
)  # fmt: skip
def test_pickups_and_unusual_measures_get_a_remark(command: Command, arguments: list[str], remarks: str) -> None:
    code, _, err = command("counts", *arguments)
    assert (code, err) == (0, remarks)
    assert command("draw", *arguments, "-o", "r.png")[::2] == (0, remarks)
    if len(arguments) == 1:
        assert command("draw", *arguments, "-o", "r.xml", "--musicxml")[::2] == (0, remarks)


def test_a_name_without_an_ending_gets_the_right_one(command: Command, tmp_path: Path) -> None:
    assert command("draw", "3/4 h.", "-o", "r")[1].startswith("Wrote r.png: ")
    assert command("draw", "3/4 h.", "-o", "r") == (
        1, "", "r.png exists: give --replace to write it anew, or another name\n",
    )  # fmt: skip
    assert command("draw", "3/4 h.", "-o", "r", "--musicxml") == (0, "Wrote r.musicxml.\n", "")
    assert command("bank", "show", ROOT / "shared/banks/birch.jsonl", "--most", "1", "--html", "page")[1].startswith(
        "Wrote page.html: "
    )
    assert command("draw", "3/4 h.", "-o", "r.jpg") == (
        1, "", "r.jpg: the picture is a PNG: let the name end in .png, not in .jpg\n",
    )  # fmt: skip
    assert sorted(path.name for path in tmp_path.iterdir()) == ["page.html", "r.musicxml", "r.png"]


def test_common_cartridge_1_3_is_named_as_the_first_to_import(command: Command, small: Path) -> None:
    _, out, _ = command("make", small, "--standard", "all")
    assert out.splitlines()[-1].endswith("then import out/small/period-1/quiz.imscc")


def test_draw_writes_a_picture_or_musicxml(command: Command, tmp_path: Path) -> None:
    code, out, _ = command("draw", "3/4 q. e q | h.", "-o", "r.png", "--counts", "--numbers", "--music-font", "Leland")
    assert code == 0
    assert out.startswith("Wrote r.png: show it ")
    assert (tmp_path / "r.png").read_bytes()[:8] == b"\x89PNG\r\n\x1a\n"
    assert (
        command("draw", "3/4 h.", "-o", "r.png")[2]
        == "r.png exists: give --replace to write it anew, or another name\n"
    )
    assert command("draw", "3/4 h.", "-o", "r.musicxml", "--musicxml") == (0, "Wrote r.musicxml.\n", "")
    assert b"<score-partwise" in (tmp_path / "r.musicxml").read_bytes()


def test_the_readme_picture_is_what_draw_makes(command: Command, tmp_path: Path) -> None:
    """Width and height in the PNG's header (PNG specification, 11.2.2); the bytes depend on the release of Pillow."""
    command("draw", "3/4 q. e q | h rq", "--counts", "-o", "p.png")
    shown = (ROOT / "shared/pictures/counts-under-a-rhythm.png").read_bytes()
    assert (tmp_path / "p.png").read_bytes()[16:24] == shown[16:24]


def test_packages_hold_no_misreading_and_no_word_of_the_key(command: Command, tmp_path: Path, small: Path) -> None:
    from barwright.misreadings import MISREADINGS

    command("make", small)
    for package in (tmp_path / "out").rglob("quiz*"):
        with zipfile.ZipFile(package) as archive:
            for name in archive.namelist():
                data = archive.read(name)
                assert not any(m.encode() in data for m in MISREADINGS), (package, name)
