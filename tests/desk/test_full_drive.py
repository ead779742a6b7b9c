"""A drive without room: whatever is pressed, nothing is lost, it is said plainly, and with room again it goes on.

The limit of the operating system on the size of files (`setrlimit`, RLIMIT_FSIZE) refuses the very writes that a full
drive does: empty files and folders can be made, and not a byte goes into them.
"""

import resource
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from html import unescape
from pathlib import Path

import pytest

from desk.conftest import SHARED
from desk.opened_desk import Answer, Desk, form_of
from same_entries import entries

TOLD = "cannot be written (File too large): nothing was changed; make room, or give another name or folder"


def processes(number: int) -> Iterator[int]:
    """A process and all that it began, by their numbers."""
    yield number
    for children in Path(f"/proc/{number}/task").glob("*/children"):
        for child in children.read_text("ascii").split():
            yield from processes(int(child))


@contextmanager
def without_room(desk: Desk) -> Iterator[None]:
    """No byte can be written by the desk and its processes, until this ends."""
    numbers = list(processes(desk.process.pid))
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    for number in numbers:
        resource.prlimit(number, resource.RLIMIT_FSIZE, (0, before[1]))
    try:
        yield
    finally:
        for number in processes(desk.process.pid):
            resource.prlimit(number, resource.RLIMIT_FSIZE, before)


def saved(desk: Desk) -> Answer:
    return desk.post("/plan/quiz/save", {**form_of(desk.get("/plan/quiz").text, "/plan/quiz/save"), "title": "Other"})


def proof_form(desk: Desk, do: str) -> dict[str, str]:
    page = desk.get("/quiz/quiz/proof/1").text
    seen = page.partition('name="seen" value="')[2].partition('"')[0]
    return {"seen": seen, "question": "2", "do": do}


PRESSED = {
    "a new plan": lambda desk: desk.post("/plans", {"preset": "band-4", "title": "Another"}),
    "a plan that is changed": saved,
    "a plan as text": lambda desk: desk.post(
        "/plan/quiz/text", {**form_of(desk.get("/plan/quiz").text, "/plan/quiz/text"), "text": 'title = "B"\n'}
    ),
    "a quiz that is made": lambda desk: desk.post("/plan/other/make", {"way": "new"}),
    "a quiz that is made anew": lambda desk: desk.post("/plan/quiz/make", {"way": "anew", "seed": "9"}),
    "a question that is kept": lambda desk: desk.post("/quiz/quiz/proof/1/change", proof_form(desk, "keep")),
    "points": lambda desk: desk.post("/quiz/quiz/proof/1/change", {**proof_form(desk, "points"), "worth": "4"}),
    "answers that are dropped": lambda desk: desk.upload("/quiz/quiz/answers", "answers", {"a.csv": b"Name,1\nA,B\n"}),
    "a verdict": lambda desk: desk.post(
        "/bank/birch.jsonl/review", {"verdict": "", "comment": "x", "by": "Me", "item": ident(desk)}
    ),
    "a bank that is dropped": lambda desk: desk.upload(
        "/bank/birch.jsonl/drop", "bank", {"b.jsonl": (SHARED / "banks" / "alder.jsonl").read_bytes()}
    ),
    "a bank that is begun": lambda desk: desk.post(
        "/quiz/quiz/bank", {"new": "fresh", "by": "Me", "date": "2026-01-05"}
    ),
    "a bank that is added to": lambda desk: desk.post(
        "/quiz/quiz/bank", {"bank": "birch.jsonl", "by": "Me", "date": "2026-01-05"}
    ),
}


def ident(desk: Desk) -> str:
    return desk.get("/bank/birch.jsonl").text.partition('name="item" value="')[2][:16]


def page_after(desk: Desk, answer: Answer) -> str:
    """What the teacher sees in the end, where long work was begun."""
    address = answer.headers.get("location", "")
    while address:
        if address.startswith("/job/"):
            desk.wait(address)
        answer = desk.get(address.partition("#")[0])
        address = answer.headers.get("location", "")
    return unescape(answer.text)


def held(folder: Path) -> dict[str, str]:
    """All that lies in a folder but lock files, which are empty and stay."""
    return {name: digest for name, digest in entries(folder).items() if not name.endswith(".lock")}


@pytest.mark.parametrize("what", PRESSED)
def test_without_room_nothing_is_lost_and_with_room_it_goes_on(questions: Desk, what: str) -> None:
    shutil.copy(questions.folder / "quiz.toml", questions.folder / "other.toml")
    before = held(questions.folder)
    with without_room(questions):
        page = page_after(questions, PRESSED[what](questions))
    assert TOLD in page
    assert held(questions.folder) == before
    assert [path for path in questions.folder.rglob(".barwright*") if path.is_file() and path.stat().st_size] == []
    assert TOLD not in page_after(questions, PRESSED[what](questions))
    assert held(questions.folder) != before


def test_what_is_uploaded_is_held_in_memory_until_it_is_kept(questions: Desk) -> None:
    """Nothing that students answered goes into the system's folder for passing files."""
    large = b"Name,1\n" + b"A,B\n" * 1_000_000
    with without_room(questions):
        page = unescape(questions.upload("/quiz/quiz/answers", "answers", {"large.csv": large}).text)
    assert f"out/quiz/answers/large.csv: {TOLD}" in page
