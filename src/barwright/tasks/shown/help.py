"""The reference by topics: one text for the terminal and the pages of the desk, its tables made from the code."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from barwright.errors import BarwrightError, TemplateError
from barwright.showing import meant, shown
from barwright.tasks.shown.marked_text import as_html, as_lines
from barwright.tasks.shown.reference import LANGUAGE, tables
from barwright.templates_folder import templates_folder

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
    """One topic: its name in addresses and commands, its title, what it is about in a sentence, and all of it."""

    name: str
    title: str
    about: str
    text: str

    @property
    def html(self) -> str:
        """All of it but the title, as HTML."""
        return as_html(self.text.partition("\n")[2])


@cache
def topic(name: str) -> Topic | None:
    """The topic of this name; None if there is none. TemplateError for a table that does not exist."""
    if name not in TOPICS:
        return None
    text = (templates_folder() / "reference" / LANGUAGE / f"{name}.md").read_text("utf-8")
    title, about = text.split("\n\n", 2)[:2]
    return Topic(name, title.removeprefix("# "), " ".join(about.split()), _TABLE.sub(_table, text))


def topics() -> tuple[Topic, ...]:
    """All topics."""
    return tuple(each for name in TOPICS if (each := topic(name)) is not None)


def command_texts() -> dict[str, str]:
    """What is said of each command, as `make` or `bank add`, from its heading to the next."""
    return {name: text for each in topics() for name, text in _sections(each.text)}


def help_lines(wanted: str, width: int) -> Iterator[str]:
    """A topic, or what is said of a command, as lines of so many letters; the topics where nothing is wanted.

    Raises BarwrightError for what is neither.
    """
    if not wanted:
        yield from _listed()
        return
    asked, commands = topic(wanted), command_texts()
    if asked is None and wanted not in commands:
        mend = meant(wanted, [*TOPICS, *commands], "barwright help lists the topics")
        raise BarwrightError(f"there is no topic {shown(wanted)}{mend}")
    if asked is not None:
        yield from as_lines(asked.text, width)
    if wanted in commands and (asked is None or commands[wanted] not in asked.text):
        yield from ("",) if asked is not None else ()
        yield from as_lines(commands[wanted], width)


def _listed() -> Iterator[str]:
    longest = max(map(len, TOPICS))
    for each in topics():
        yield f"{each.name.ljust(longest)}  {each.about}"
    yield ""
    yield "Next: barwright help TOPIC, or the name of a command, as  barwright help make"


@cache
def _tables() -> dict[str, str]:
    return tables()


def _table(mark: re.Match[str]) -> str:
    if mark[1] not in _tables():
        raise TemplateError(f"reference/{LANGUAGE}: there is no table {mark[1]!r}: use one of {', '.join(_tables())}")
    return _tables()[mark[1]]


def _sections(text: str) -> Iterator[tuple[str, str]]:
    """Name and text of each command that has a heading of its own."""
    for part in re.split(r"^(?=## )", text, flags=re.MULTILINE):
        if found := _SECTION.match(part):
            yield found[1], part
