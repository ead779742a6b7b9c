"""`barwright help`: topics and commands as lines of a terminal, from the texts that the desk shows as pages."""

import re
import subprocess
import sys

import pytest

from barwright.errors import BarwrightError
from barwright.tasks.shown.help import TOPICS, help_lines, topic
from barwright.tasks.shown.marked_text import as_html, as_lines

TEXT = """# Rests

A *rest* of `two beats` and
a [note](words): **no** sound.

- `rh`: a half rest,
  two beats long here
- `rq`

| key | holds |
| --- | --- |
| `one` | `a b` `c` |
| | two |

```
as it   stands, however long
```
"""
LINES = """Rests
=====

A rest of `two beats`
and a note
(barwright help words):
no sound.

- `rh`: a half rest, two
  beats long here
- `rq`

key  holds
---  ---------
one  `a b` `c`
     two

    as it   stands, however long"""


def test_marked_text_becomes_lines_of_a_width() -> None:
    assert list(as_lines(TEXT, 24)) == LINES.splitlines()


def test_a_table_of_wide_cells_becomes_a_list() -> None:
    table = f"| key | values | what |\n| --- | --- | --- |\n| `a` | {'b' * 27} | it is |\n| `c` | | {'d ' * 30}|\n"
    assert list(as_lines(table, 40)) == [
        "a",
        f"    values: {'b' * 27}",
        "    what: it is",
        "",
        "c",
        f"    what: {'d ' * 14}d",
        f"    {'d ' * 14}d",
    ]


def test_the_last_column_is_wrapped_where_it_has_room() -> None:
    table = f"| key | what |\n| --- | --- |\n| `a` | {'bb ' * 20}|\n"
    assert list(as_lines(table, 40)) == [
        "key  what",
        f"---  {'-' * 35}",
        f"a    {'bb ' * 11}bb",
        f"     {'bb ' * 7}bb",
    ]


def test_markup_in_a_text_does_nothing_on_a_page() -> None:
    assert as_html("a <b>c</b> `<U+0007>`") == ("<p>a &lt;b&gt;c&lt;/b&gt; <code>&lt;U+0007&gt;</code></p>\n")


@pytest.mark.parametrize("name", TOPICS)
def test_a_topic_fits_a_terminal(name: str) -> None:
    """But for words that are longer than a line, and what is shown as it stands."""
    wide = [line for line in help_lines(name, 80) if len(line) > 80 and not line.startswith("    ")]
    assert wide == []
    found = topic(name)
    assert found is not None
    assert next(help_lines(name, 80)) == found.title
    assert re.fullmatch("[^`*]+[.?]", found.about)


def test_without_a_topic_all_are_listed() -> None:
    lines = list(help_lines("", 80))
    assert tuple(line.split()[0] for line in lines[: len(TOPICS)]) == TOPICS
    assert lines[-1] == "Next: barwright help TOPIC, or the name of a command, as  barwright help make"


def test_a_command_is_told_alone() -> None:
    assert list(help_lines("question apply", 80)) == [
        "barwright question apply QUIZ_FOLDER",
        "------------------------------------",
        "",
        "Makes the forms follow `questions.toml` after you edited it.",
        "",
        "- `--blueprint FILE`: see above.",
    ]


def test_a_topic_that_is_a_command_too_ends_with_its_options() -> None:
    lines = list(help_lines("plan", 80))
    assert lines[0] == "The plan"
    assert lines.index("barwright plan BLUEPRINT") > lines.index("misreadings")
    assert "- `--undo`: takes the last change back." in lines


@pytest.mark.parametrize(
    ("wanted", "message"),
    [
        ("conventoins", "there is no topic 'conventoins': did you mean 'conventions'?"),
        (
            "zzz",
            "there is no topic 'zzz': use one such as answers, asks or bank; barwright help lists the topics",
        ),
    ],
)
def test_what_is_no_topic_is_told(wanted: str, message: str) -> None:
    with pytest.raises(BarwrightError) as told:
        list(help_lines(wanted, 80))
    assert str(told.value) == message


def test_help_on_commands_reads_none_of_it() -> None:
    """`barwright --help` and `barwright help --help` answer at once."""
    code = (
        "import sys; from barwright.cli import run; sys.argv[0] = 'barwright'\n"
        "try: run()\n"
        "finally: print([name for name in ('markdown_it', 'barwright.tasks') if name in sys.modules])"
    )
    for arguments in (["--help"], ["help", "--help"]):
        done = subprocess.run([sys.executable, "-c", code, *arguments], capture_output=True, text=True, check=True)
        assert done.stdout.splitlines()[-1] == "[]"
