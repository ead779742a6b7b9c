"""Every fault of a plan is told in Spanish on the desk: the worked faults of plans, and no word of them in English."""

import re
import tomllib

import pytest

from barwright.blueprint.parsing import examined, told
from barwright.tasks.shown.fault_words import fault_in
from barwright.templates_folder import templates_folder
from desk.opened_desk import Desk
from desk.test_languages import in_language
from items.test_blueprint import ONE_FAULT
from wording.english_words import ENGLISH

# What is no word: texts in quotes, tables, commands, values, names with hyphens, and keys of a plan.
QUOTED = re.compile(r"'[^']*'|\"[^\"]*\"|\[[^\]]*\]|barwright \w+( \w+)?|\w+ = \S+|\w+(-\w+)+|\bsections\b")
ALSO_ENGLISH = re.compile(r"\b(write|take|out|one|it|has|is|not|that|line|add|name|stands)\b", re.IGNORECASE)


@pytest.mark.parametrize("text", [text for text, _ in ONE_FAULT])
def test_a_fault_of_a_plan_is_told_in_spanish(text: str) -> None:
    examination = examined(text, "plan.toml")
    lines = told(examination.faults, examination.source)
    assert lines
    for line in lines:
        spanish = fault_in(line, "es")
        assert spanish is not None, line
        bare = QUOTED.sub(" ", spanish)
        assert ENGLISH.findall(bare) == [], spanish
        assert ALSO_ENGLISH.findall(bare) == [], spanish
        where = line.partition(": ")[0].replace(", line ", ", línea ")
        assert spanish.startswith(f"{where}: ")


def test_each_message_has_the_same_names_in_both_languages() -> None:
    path = templates_folder() / "reference" / "faults" / "es.toml"
    for english, spanish in tomllib.loads(path.read_text("utf-8"))["fault"]:
        assert set(re.findall(r"\{(\w+)\}", spanish)) <= set(re.findall(r"\{(\w+)\}", english)), english


def test_a_message_that_is_not_known_stays_in_english() -> None:
    assert fault_in("plan.toml, line 2: the moon is not taught: teach it", "es") is None
    assert fault_in("plan.toml, line 3: 'x' is missing: add it", "en-GB") is None


def test_the_page_of_a_plan_tells_its_faults_in_its_language(desk: Desk) -> None:
    plan = desk.folder / "fallos.toml"
    plan.write_text('title = "T"\n[elements]\nmeters = ["3/4"]\nnotes = ["haff"]\n[[part]]\nfamily = "x"\n', "utf-8")
    shown = in_language(desk, "es", "/plan/fallos").text
    assert "no se admite: use" in shown
    assert "is not allowed" not in shown
    assert "is not allowed: use" in desk.get("/plan/fallos").text
    plan.unlink()
