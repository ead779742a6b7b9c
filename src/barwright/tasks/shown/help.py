"""The reference by topics: one text for the terminal and the pages of the desk, its tables made from the code."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from barwright.errors import BarwrightError, TemplateError
from barwright.showing import meant, shown
from barwright.tasks.shown.marked_text import as_html, as_lines
from barwright.tasks.shown.reference import LANGUAGE, tables
from barwright.templates_folder import languages, templates_folder

# In the order in which a teacher may want them; each is a file of `templates/reference`.
TOPICS = (
    "desk",
    "plan",
    "asks",
    "conventions",
    "rhythms",
    "misreadings",
    "fairness",
    "rehearse",
    "questions",
    "import",
    "paper",
    "answers",
    "bank",
    "words",
    "commands",
    "formats",
    "changes",
)
_TABLE = re.compile(r"^<!-- table: (\w+) -->$", re.MULTILINE)
_SECTION = re.compile(r"^## `barwright ([a-z]+(?: [a-z]+)?)(?= |`)", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Topic:
    """One topic: its name in addresses and commands, its title, what it is about in a sentence, all of it, and the
    language that it is in: that which was asked for, if it was told in it.
    """

    name: str
    title: str
    about: str
    text: str
    language: str = LANGUAGE

    @property
    def html(self) -> str:
        """All of it but the title, as HTML."""
        return as_html(self.text.partition("\n")[2])


@cache
def topic(name: str, code: str = LANGUAGE) -> Topic | None:
    """The topic of this name in a language, or in ours where it is not told in that; None if there is none.

    TemplateError for a table that does not exist.
    """
    if name not in TOPICS:
        return None
    reference = templates_folder() / "reference"
    code = code if (reference / code / f"{name}.md").is_file() else LANGUAGE
    text = (reference / code / f"{name}.md").read_text("utf-8")
    title, about = text.split("\n\n", 2)[:2]
    whole = _TABLE.sub(lambda mark: _table(mark[1], code), text)
    return Topic(name, title.removeprefix("# "), " ".join(about.split()), whole, code)


def topics(code: str = LANGUAGE) -> tuple[Topic, ...]:
    """All topics."""
    return tuple(each for name in TOPICS if (each := topic(name, code)) is not None)


def command_texts(code: str = LANGUAGE) -> dict[str, str]:
    """What is said of each command, as `make` or `bank add`, from its heading to the next."""
    return {name: text for each in topics(code) for name, text in _sections(each.text)}


def help_lines(wanted: str, width: int, code: str = LANGUAGE) -> Iterator[str]:
    """A topic, or what is said of a command, as lines of so many letters; the topics where nothing is wanted.

    Raises BarwrightError for what is neither, and for a language that there is not.
    """
    if code not in languages():
        raise BarwrightError(f"language {shown(code)} is not known{meant(code, languages(), 'barwright help words')}")
    if not wanted:
        yield from _listed(code)
        return
    asked, commands = topic(wanted, code), command_texts(code)
    if asked is None and wanted not in commands:
        mend = meant(wanted, [*TOPICS, *commands], "barwright help lists the topics")
        raise BarwrightError(f"there is no topic {shown(wanted)}{mend}")
    if asked is not None:
        yield from as_lines(asked.text, width)
    if wanted in commands and (asked is None or commands[wanted] not in asked.text):
        yield from ("",) if asked is not None else ()
        yield from as_lines(commands[wanted], width)


def _listed(code: str) -> Iterator[str]:
    longest = max(map(len, TOPICS))
    for each in topics(code):
        yield f"{each.name.ljust(longest)}  {each.about}"
    yield ""
    yield "Next: barwright help TOPIC, or the name of a command, as  barwright help make"


@cache
def _tables(code: str) -> dict[str, str]:
    return tables(code)


def _table(name: str, code: str) -> str:
    if name not in _tables(code):
        raise TemplateError(f"reference/{code}: there is no table {name!r}: use one of {', '.join(_tables(code))}")
    return _tables(code)[name]


def _sections(text: str) -> Iterator[tuple[str, str]]:
    """Name and text of each command that has a heading of its own."""
    for part in re.split(r"^(?=## )", text, flags=re.MULTILINE):
        if found := _SECTION.match(part):
            yield found[1], part
