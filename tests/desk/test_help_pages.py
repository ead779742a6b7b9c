"""The help on the desk: every topic is a page, every page leads there."""

import re

import pytest

from barwright.tasks.shown.help import TOPICS, topic
from desk.conftest import PLAN
from desk.opened_desk import Desk
from desk.test_languages import in_language
from wording.english_words import ENGLISH


@pytest.mark.parametrize("name", TOPICS)
def test_a_topic_is_a_page(desk: Desk, name: str) -> None:
    answer, found = desk.get(f"/help/{name}"), topic(name)
    assert found is not None
    assert answer.status == 200
    assert f"<h1>{found.title}</h1>" in answer.text
    assert found.html.strip() in answer.text
    assert f'<a href="/help/{name}" aria-current="page">' in answer.text


def test_the_first_page_lists_them(desk: Desk) -> None:
    text = desk.get("/help").text
    assert [name for name in TOPICS if f'<li><a href="/help/{name}">' not in text] == []


@pytest.mark.parametrize(
    ("path", "leads_to"),
    [
        ("/", "/help"),
        (f"/plan/{PLAN}", "/help/plan"),
        (f"/plan/{PLAN}/make", "/help/fairness"),
        ("/bank/alder.jsonl", "/help/bank"),
        ("/help/words", "/help"),
        ("/nothing-here", "/help"),
    ],
)
def test_every_page_leads_to_the_help(desk: Desk, path: str, leads_to: str) -> None:
    assert f'<a class="button plain" href="{leads_to}">Help</a>' in desk.get(path).text


@pytest.mark.parametrize("path", ["/help/nothing", "/help/..%2Fen-US.toml", "/help/%2e%2e", "/help/plan.md"])
def test_what_is_no_topic_is_no_page(desk: Desk, path: str) -> None:
    answer = desk.get(path)
    assert answer.status == 404
    assert "There is no such page" in answer.text


IN_ENGLISH = ("changes",)
"""What there is in English only."""


@pytest.mark.parametrize("name", TOPICS)
def test_a_topic_is_told_in_spanish_or_marked_as_english(desk: Desk, name: str) -> None:
    told, html = topic(name, "es"), in_language(desk, "es", f"/help/{name}").text
    assert told is not None
    assert told.language == ("en-US" if name in IN_ENGLISH else "es")
    assert ('<article class="help" lang="en-US">' in html) == (name in IN_ENGLISH)
    assert told.html.strip() in html
    if name not in IN_ENGLISH:
        # Commands, texts of files, and names of keys and files are the same in all languages.
        bare = re.sub(r"```.*?```|`[^`]*`|\*[\w ]+\*|\([\w/]+\)", " ", told.text, flags=re.DOTALL)
        assert [word for word in ENGLISH.findall(bare) if word.lower() != "note"] == []


@pytest.mark.parametrize("name", [name for name in TOPICS if name not in IN_ENGLISH])
def test_a_topic_says_as_much_in_spanish(name: str) -> None:
    """The same headings of commands, options, rows of tables and code as in English."""
    ours, theirs = topic(name), topic(name, "es")
    assert ours is not None
    assert theirs is not None
    for pattern in (r"^## `barwright [a-z ]+", r"(?<!-)--[a-z-]+", r"^\| `[^`]+`", r"^#+ ", r"^- ", r"^\*\*"):
        found = [re.findall(pattern, each.text, flags=re.MULTILINE) for each in (ours, theirs)]
        if pattern in (r"^#+ ", r"^- ", r"^\*\*"):
            assert len(found[0]) == len(found[1]), pattern
        else:
            assert sorted(set(found[0])) == sorted(set(found[1])), pattern
