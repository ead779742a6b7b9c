"""The desk in every language: all sentences are there and used, no English on a Spanish page, and how one switches."""

import re
from collections.abc import Iterator, Mapping
from html import unescape
from pathlib import Path

import pytest
from starlette.datastructures import Headers

from barwright.desk.sentences import COOKIE, language_of, local
from barwright.tasks.shown.desk_words import USUAL, names_of_languages
from barwright.tasks.shown.reference import reference_texts
from barwright.templates_folder import languages, templates_folder
from barwright.wording.language import DESK, desk_language
from desk.opened_desk import Answer, Desk
from wording.english_words import ENGLISH

SOURCES = [*(templates_folder() / "desk").glob("*.j2"), *Path(__file__).parents[2].glob("src/barwright/**/*.py")]
# Ids whose last word comes from what is shown: begun in a template or a module, or told by an error.
BEGUN = re.compile(r'f?"((?:[a-z_]+\.)+)(?:" ~|\{)')
TOLD = ("fault.", "step.")
PAGES = (
    "/", "/plan/quiz", "/plan/quiz/make", "/quiz/quiz", "/quiz/quiz/proof/1", "/quiz/quiz/proof/1/others/1",
    "/quiz/quiz/answers", "/bank/birch.jsonl", "/help", "/nothing",
)  # fmt: skip


def ids(code: str) -> Iterator[str]:
    """Every id of a language."""

    def below(table: object, path: str) -> Iterator[str]:
        if isinstance(table, Mapping):
            for name, inner in table.items():
                yield from below(inner, f"{path}.{name}" if path else name)
        else:
            yield path

    yield from below(desk_language(code).tables[DESK], "")


def test_each_sentence_is_used_and_each_that_is_used_is_there() -> None:
    text = "\n".join(path.read_text("utf-8") for path in SOURCES)
    there, heads = set(ids(USUAL)), (*BEGUN.findall(text), *TOLD)
    used = set(re.findall(r'\bsay(?:\.two)?\("((?:\w+\.)*\w+)"', text))
    assert used - there == set()
    assert {
        ident for ident in there if not re.search(f"[\"']{ident}[\"']", text) and not ident.startswith(heads)
    } == set()


@pytest.mark.parametrize("code", languages())
def test_each_language_has_the_same_sentences(code: str) -> None:
    assert set(ids(code)) == set(ids(USUAL))
    words = desk_language(code)
    assert {i: len(words.sources(DESK, i)) for i in ids(code)} == {
        i: len(desk_language(USUAL).sources(DESK, i)) for i in ids(USUAL)
    }


@pytest.mark.parametrize("code", languages())
def test_what_is_said_of_keys_has_no_name_that_there_is_not(code: str) -> None:
    ours, theirs = reference_texts(), reference_texts(code)
    spoken = {"numbers", "parentheses", "strike", "plain", "marked"}  # values whose English words are their names
    for table in ours:
        assert set(theirs[table]) - set(ours[table]) <= spoken, table
    unsaid = {(t, k) for t in ("convention", "elements", "quiz") for k in ours[t] if theirs[t][k] == ours[t][k]}
    assert code != "es" or not unsaid


def in_language(desk: Desk, code: str, path: str) -> Answer:
    """A page as a browser gets it that chose the language."""
    cookie = f"{desk.cookie}; {COOKIE}={code}"
    return desk.send("GET", path, {"Cookie": cookie, "Sec-Fetch-Site": "same-origin"})


def spanish_of(html: str) -> str:
    """What a page shows and reads aloud; what is marked as English, or what the teacher wrote, is left out."""
    marked = r'<(\w+)\b[^>]* lang="en-\w+"[^>]*>.*?</\1>'
    plain = re.sub(r"<(textarea|title)\b.*?</\1>", " ", re.sub(marked, " ", html, flags=re.DOTALL), flags=re.DOTALL)
    aloud = re.findall(r'(?:aria-label|alt|placeholder|data-\w+ed|data-elsewhere|data-anew)="([^"]*)"', plain)
    return re.sub(r"Rhythm check \d: [\w ]+", " ", unescape(re.sub(r"<[^>]*>", " ", plain) + " ".join(aloud)))


@pytest.mark.parametrize("path", PAGES)
def test_no_english_stands_on_a_page_in_spanish(questions: Desk, path: str) -> None:
    html = in_language(questions, "es", path).text
    assert '<html lang="es">' in html
    assert len(spanish_of(html).split()) > 20
    assert ENGLISH.findall(spanish_of(html)) == []


def test_a_form_switches_and_comes_back_to_its_page(questions: Desk) -> None:
    page = questions.get("/bank/birch.jsonl?where=review%3Dnew").text
    assert 'name="back" value="/bank/birch.jsonl?where=review%3Dnew"' in page
    answer = questions.post("/language", {"language": "es", "back": "/bank/birch.jsonl"})
    assert (answer.status, answer.headers["location"]) == (303, "/bank/birch.jsonl")
    cookie = answer.headers["set-cookie"].lower()
    assert cookie.startswith(f"{COOKIE}=es;")
    assert "httponly" in cookie
    assert "samesite=strict" in cookie
    assert '<option value="es" lang="es" selected>Español</option>' in in_language(questions, "es", "/").text
    refused = questions.post("/language", {"language": "xx", "back": "/"})
    assert refused.status == 400
    assert "Nothing was done: there is no such language." in refused.text


@pytest.mark.parametrize("back", ["//evil.test", "https://evil.test", "/\\evil.test", "javascript:1", "", "/\r\nX: 1"])
def test_one_comes_back_to_the_desk_only(questions: Desk, back: str) -> None:
    assert questions.post("/language", {"language": "es", "back": back}).headers["location"] == "/"
    assert local("http://127.0.0.1:1/plan/a?b=c") == "/plan/a?b=c"


@pytest.mark.parametrize(
    ("asked", "code"),
    [
        ("es-MX,es;q=0.9,en;q=0.8", "es"),
        ("en-GB,en;q=0.9", "en-GB"),
        ("en", "en-US"),
        ("fr, es;q=0.2, en;q=0.1", "es"),
        ("es;q=0, de", "en-US"),
        ("es;q=many", "en-US"),
        ("", "en-US"),
    ],
)
def test_a_browser_gets_the_language_that_it_asks_for_first(asked: str, code: str) -> None:
    assert language_of(Headers({"accept-language": asked})) == code
    assert language_of(Headers({"accept-language": asked, "cookie": f"a=b; {COOKIE}=en-GB"})) == "en-GB"
    assert language_of(Headers({"accept-language": asked, "cookie": f"{COOKIE}=xx"})) == code


def test_languages_call_themselves_by_their_own_names() -> None:
    assert names_of_languages() == (("en-US", "English (US)"), ("en-GB", "English (UK)"), ("es", "Español"))
