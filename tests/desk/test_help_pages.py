"""The help on the desk: every topic is a page, every page leads there."""

import pytest

from barwright.tasks.shown.help import TOPICS, topic
from desk.conftest import PLAN
from desk.opened_desk import Desk


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
