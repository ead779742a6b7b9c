"""The README, the topics of the help and the starter blueprint say what is there, and nothing else."""

import re
import shlex
import tomllib
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from typer.main import get_command

from barwright.asks import ASKS, FAMILIES
from barwright.bank.where import KEYS
from barwright.blueprint.blueprint import Blueprint, Elements, Excerpts, Part, Quiz
from barwright.blueprint.parsing import examined
from barwright.cli import app
from barwright.engrave.font import BUNDLED
from barwright.misreadings import MISREADINGS
from barwright.qti import WRITERS
from barwright.rhythm.conventions import Conventions, convention_values
from barwright.tasks.capacity import capacity_faults
from barwright.tasks.counts import counts
from barwright.tasks.plan.presets import presets
from barwright.tasks.shown.help import TOPICS, command_texts, topic
from barwright.templates_folder import languages, templates_folder

STARTER = (templates_folder() / "start" / "blueprint.toml").read_text("utf-8").splitlines()
SETTING = re.compile(r"(# )?(\w+) += ")
NEEDED = ("title", "meters", "notes", "family", "ask", "items")
ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text("utf-8")
MOST_LINES = 250


def text_of(name: str) -> str:
    """A topic of the help as it stands, in Markdown."""
    found = topic(name)
    assert found is not None, name
    return found.text


def codes(text: str) -> set[str]:
    """Whatever stands between the marks of code, but for blocks."""
    return set(re.findall(r"`([^`\n]+)`", re.sub(r"^```.*?^```", "", text, flags=re.MULTILINE | re.DOTALL)))


# The README, which a teacher reads.


def test_the_readme_is_short_and_begins_with_the_job() -> None:
    assert README.count("\n") < MOST_LINES
    title, job, rest = README.split("\n\n", 2)
    assert title == "# Barwright"
    assert job.startswith("Barwright makes rhythm-reading quizzes for music classes")
    assert rest.startswith("Install and make the first demo quiz:\n\n```sh\n")


def test_the_two_commands_are_the_first_two_blocks() -> None:
    blocks = re.findall(r"^```sh\n(.*?)\n```$", README.split("\n## ")[0], re.MULTILINE | re.DOTALL)
    assert len(blocks) == 2
    assert blocks == re.findall(r"^```sh\n(.*?)\n```$", README, re.MULTILINE | re.DOTALL)[:2]
    assert "barwright make shared/blueprints/" in blocks[0]
    assert blocks[1].endswith("-m pytest")


@pytest.mark.parametrize("word", ["json", "hash", "sha-256", "schema", "toml_", "unit test"])
def test_a_teacher_meets_nothing_of_programmers(word: str) -> None:
    assert word not in README.lower()


def test_the_tests_are_named_once_in_the_second_command() -> None:
    assert README.count("pytest") == 1


def test_the_readme_names_every_topic_in_order() -> None:
    table = README.split("## Where everything else stands")[1]
    assert tuple(re.findall(r"^\| `(\w+)` \|", table, re.MULTILINE)) == TOPICS
    assert sorted(path.stem for path in (templates_folder() / "reference/en-US").iterdir()) == sorted(TOPICS)


def test_what_is_linked_is_there() -> None:
    for target in re.findall(r"\]\(([^)]+)\)", README):
        assert (ROOT / target).is_file(), target
    for name in TOPICS:
        for target in re.findall(r"\]\(([^)]+)\)", text_of(name)):
            assert target in TOPICS, f"{name}: {target}"


def test_packages_have_the_names_that_are_listed() -> None:
    listed = {name for name in codes(README) if re.fullmatch(r"quiz.*\.(imscc|zip)", name)}
    assert listed == {writer.files["quiz"] for writer in WRITERS.values()}


def test_every_language_is_listed_with_who_read_it() -> None:
    rows = README.split("## Languages, and who read them")[1].split("\n\n")[1].splitlines()[2:]
    assert sorted(code for row in rows for code in codes(row)) == sorted(languages())
    assert all(row.strip("| ").split(" | ")[-1] for row in rows)


# The help, topic by topic.


def test_everything_that_has_a_name_is_in_its_topic() -> None:
    models = (Blueprint, Elements, Excerpts, Quiz, Part)
    there = {
        "plan": {name for model in models for name in model.model_fields},
        "asks": {*ASKS, *FAMILIES},
        "misreadings": set(MISREADINGS),
        "conventions": {*convention_values(), *convention_values()["counting"]},
        "bank": set(KEYS),
        "import": {*WRITERS, *(name for writer in WRITERS.values() for name in writer.files.values())},
        "commands": {*WRITERS, *BUNDLED},
    }
    for name, names in there.items():
        told = {word.strip("[]") for word in codes(text_of(name))}
        assert sorted(map(str, names - told)) == [], name


def of_application() -> dict[str, Any]:
    """Every command by its whole name, as `make` and `bank add`."""
    commands = get_command(app).commands  # type of the group of this release of Typer
    found = {name: command for name, command in commands.items() if not hasattr(command, "commands")}
    for group in sorted(set(commands) - set(found)):
        found |= {f"{group} {name}": command for name, command in commands[group].commands.items()}
    return found


COMMANDS = of_application()


def options_of(command: Any) -> set[str]:
    names = {name for parameter in command.params for name in (*parameter.opts, *parameter.secondary_opts)}
    return {name for name in names if name.startswith("-")}


def options_in(text: str) -> set[str]:
    return set(re.findall(r"(?<![\w-])--?[a-z][\w-]*", " ".join(codes(text))))


def test_every_command_has_its_section() -> None:
    assert sorted(command_texts()) == sorted(COMMANDS)
    assert "`barwright --version`" in text_of("commands")


@pytest.mark.parametrize("name", COMMANDS)
def test_a_section_names_the_options_that_its_command_has_and_no_others(name: str) -> None:
    section = command_texts()[name]
    assert sorted(options_of(COMMANDS[name]) - options_in(section)) == []
    told = " ".join(re.findall(r"^- ((?:.|\n  )+?)(?:: |$)", section, re.MULTILINE))
    assert sorted(options_in(told) - options_of(COMMANDS[name])) == []


def test_presets_are_those_that_are_named() -> None:
    spans = re.findall(r"`(\w+)-(\d)` to `\1-(\d)`", command_texts()["start"])
    named = {f"{kind}-{grade}" for kind, low, high in spans for grade in range(int(low), int(high) + 1)}
    assert named == {preset.id for preset in presets()}


def printed_commands() -> Iterator[tuple[str, str]]:
    """Every call of the program that the README, a topic or the starter blueprint prints, and where."""
    texts = {"README": README, "starter": "\n".join(STARTER), **{name: text_of(name) for name in TOPICS}}
    for name, text in texts.items():
        spans = re.findall(r"`(barwright [^`]+)`", text.replace("\n", " "))
        lines = re.findall(r"(?<=\$ )barwright .+", text)
        yield from ((name, call) for call in [*spans, *lines] if "COMMAND" not in call)


@pytest.mark.parametrize(("name", "call"), sorted(set(printed_commands())))
def test_a_printed_command_is_one_that_there_is(name: str, call: str) -> None:
    words = shlex.split(call)[1:]
    if words in (["--version"], ["bank"], ["question"], ["bank", "--help"], ["wording", "--all"]):
        return
    length = 2 if " ".join(words[:2]) in COMMANDS else 1
    command = COMMANDS.get(" ".join(words[:length]))
    assert command is not None, f"{name}: {call}"
    flags = {word for word in words[length:] if word.startswith("-")}
    assert sorted(flags - options_of(command) - {"--help"}) == [], f"{name}: {call}"


def test_messages_send_to_topics_that_there_are() -> None:
    for path in (ROOT / "src").rglob("*.py"):
        text = path.read_text("utf-8")
        for name in re.findall(r"barwright help (\w+) lists them all|_meant\(.+, [\"'](\w+)[\"']\)", text):
            assert "".join(name) in TOPICS, f"{path}: {name}"


def rows_of(name: str, first: str) -> list[list[str]]:
    """The cells of the table of a topic whose first row begins so, without that row."""
    text = text_of(name)
    table = text[text.index(f"| {first}") :].split("\n\n")[0]
    return [[cell.strip() for cell in row.strip("|").split(" | ")] for row in table.splitlines()[2:]]


def test_every_key_of_a_condition_is_told() -> None:
    told = {key for row in rows_of("bank", "key | compares") for key in re.findall(r"`(\w+)`", row[0])}
    assert told == set(KEYS)


def counted_row(rhythm: str, **conventions: str) -> str:
    return " ".join(counts(rhythm, conventions=replace(Conventions(), **conventions))[1].split())


def test_counting_systems_are_shown_by_rows_that_were_worked_by_hand() -> None:
    """Common practice of the five systems."""
    assert [row[:3] for row in rows_of("conventions", "`counting` | `4/4")] == [
        ["`numbers`", "1-2 & 3 & (4)", "1 li 2 la (li)"],
        ["`kodaly`", "tam ti ti ti sh", "ta ti ti ti sh"],
        ["`gordon`", "du de du de (du)", "du di du da (di)"],
        ["`takadimi`", "ta di ta di (ta)", "ta da ta ki (da)"],
        ["`eastman`", "1 te 3 te (4)", "1 li 2 la (li)"],
    ]


@pytest.mark.parametrize("name", ["held", "triplet", "compound", "compound_16ths", "cut_time", "three_eight"])
def test_examples_of_conventions_are_what_counts_prints(name: str) -> None:
    told = next(row[2] for row in rows_of("conventions", "key") if row[0] == f"`{name}`")
    rhythm, *printed = re.findall(r"`(.+?)`", told)
    for value, row in zip(convention_values()[name], printed, strict=False):
        assert counted_row(rhythm, **{name: str(value)}).startswith(row)


def test_example_of_counts_is_what_it_prints() -> None:
    printed = re.findall(r'^\$ barwright counts "(.+)"\n((?:.+\n)+)```', text_of("rhythms"), re.MULTILINE)
    ((rhythm, lines),) = printed
    assert lines.splitlines() == list(counts(rhythm, conventions=Conventions()))


def test_the_blueprint_of_the_help_is_sound() -> None:
    (text,) = re.findall(r"^```toml\n(.*?)^```$", text_of("plan"), re.MULTILINE | re.DOTALL)
    assert examined(text, "b.toml").faults == []


# What stands around them.


def test_every_dependency_is_explained_to_developers() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    wanted = [*project["build-system"]["requires"], *project["project"]["dependencies"]]
    wanted += project["project"]["optional-dependencies"]["dev"]
    table = (ROOT / "DEVELOPERS.md").read_text("utf-8").split("## Dependencies")[1].split("\n## ")[0]
    names = re.findall(r"[\w-]+", " ".join(re.findall(r"^\| (.+?) \|", table, re.MULTILINE)))
    assert sorted({re.split("[><=]", each)[0] for each in wanted} - set(names)) == []


def settings(*, used: bool) -> list[int]:
    """The places of the lines of the starter blueprint that set a key, or would without their #."""
    return [n for n, line in enumerate(STARTER) if (found := SETTING.match(line)) and (found[1] is None) == used]


def faults_of(lines: list[str]) -> list[object]:
    found = examined("\n".join(lines), "starter.toml")
    more = [] if found.blueprint is None else capacity_faults(found.blueprint, found.numbers)
    return [*found.faults, *more]


@pytest.mark.parametrize("place", settings(used=False), ids=lambda n: STARTER[n][2:].split()[0])
def test_a_line_of_the_starter_blueprint_may_be_used(place: int) -> None:
    assert faults_of([line.removeprefix("# ") if n == place else line for n, line in enumerate(STARTER)]) == []


@pytest.mark.parametrize("place", settings(used=True), ids=lambda n: f"{n}-{STARTER[n].split()[0]}")
def test_a_line_of_the_starter_blueprint_may_go_unless_the_file_says_that_it_is_needed(place: int) -> None:
    key = STARTER[place].split()[0]
    assert bool(faults_of([*STARTER[:place], *STARTER[place + 1 :]])) == (key in NEEDED)
