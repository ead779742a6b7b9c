"""Plans of tiny classes, for the rules that take a whole blueprint."""

from barwright.blueprint.blueprint import Blueprint
from barwright.blueprint.parsing import read_blueprint


def blueprint(
    meters: str, notes: str, rests: str = "", *parts: str, sections: str = "A", quiz: str = "", seed: int = 1
) -> Blueprint:
    """The plan of a class that was taught so much, with a part for each `family ask items`; one item unless told.

    `parts`: after these three lines of their own may follow, each after a semicolon; `quiz`: such lines of the quiz.
    """
    asked = parts or ("measure-completion finish-measure 1",)
    return read_blueprint(
        f"""
title = "Quiz"
seed = {seed}
sections = [{_names(sections)}]
[quiz]
{_lines(quiz)}
[elements]
meters = [{_names(meters)}]
notes = [{_names(notes)}]
rests = [{_names(rests)}]
{"".join(map(_part, asked))}""",
        "quiz.toml",
    )[0]


def _names(text: str) -> str:
    return ", ".join(f'"{each}"' for each in text.split())


def _lines(text: str) -> str:
    return "\n".join(each.strip() for each in text.split(";"))


def _part(text: str) -> str:
    named, _, more = text.partition(";")
    family, ask, items = named.split()
    return f'[[part]]\nfamily = "{family}"\nask = "{ask}"\nitems = {items}\n{_lines(more)}\n'
