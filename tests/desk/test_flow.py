"""The whole job by forms alone, as a browser without scripts does it, beside the same by commands."""

import re
import shutil
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest

from barwright.tasks.check import check, failed
from barwright.tasks.make import make
from barwright.tasks.packing import Order
from barwright.tasks.progress import silent
from desk.conftest import SHARED
from desk.opened_desk import Desk, form_of, opened_desk
from edits.made_quizzes import BLUEPRINT


@pytest.fixture(scope="module")
def empty(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    """The desk of a folder that is empty at first."""
    place = tmp_path_factory.mktemp("flow")
    with opened_desk(place / "new", place / "state") as found:
        yield found


def saved(desk: Desk, name: str, **fields: str | list[str]) -> str:
    """Saves the form of a plan as it stands but for these fields; the page that comes then."""
    form = form_of(desk.get(f"/plan/{name}").text, f"/plan/{name}/save")
    answer = desk.post(f"/plan/{name}/save", {**form, **{k.replace("__", "."): v for k, v in fields.items()}})
    return desk.get(f"/plan/{name}").text if answer.status == 303 else answer.text


def files_in(folder: Path) -> dict[str, bytes]:
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in folder.rglob("*") if p.is_file()}


def test_from_an_empty_folder_to_packages_that_check_and_equal_those_of_commands(empty: Desk, tmp_path: Path) -> None:
    assert "There is no plan yet." in empty.get("/").text
    assert (
        empty.post("/plans", {"preset": "general-3", "title": "First check"}).headers["location"] == "/plan/first-check"
    )
    saved(empty, "first-check", sections="Period 1\nPeriod 3\n", part__1__items="2")
    job = empty.post("/plan/first-check/make", {"way": "new"}).headers["location"]
    page = empty.wait(job)
    assert '<a class="button" href="/quiz/first-check">' in page
    quiz = empty.get("/quiz/first-check").text
    assert quiz.count("Try this first.") == 2
    paths = re.findall(r'href="(/quiz/first-check/file/[^"]+)" download', quiz)
    assert len(paths) == 4
    folder = empty.folder / "out" / "first-check"
    for path in paths:
        assert empty.get(path).body == (folder / path.removeprefix("/quiz/first-check/file/")).read_bytes()
    assert not failed(check([*folder.rglob("*.imscc"), *folder.rglob("*.zip")]))
    (tmp_path / "first-check.toml").write_bytes((empty.folder / "first-check.toml").read_bytes())
    made = make(tmp_path / "first-check.toml", Order(tmp_path / "out"), progress=silent)
    assert files_in(folder) == files_in(made.folder)
    proof = empty.get("/quiz/first-check/proof/2").text
    assert proof.count('class="item') == len(made.forms[1].form.items)
    key = empty.get("/quiz/first-check/file/key.html")
    assert key.headers["content-security-policy"].startswith("sandbox; default-src 'none'")


def test_remarks_and_order_stay_and_a_change_elsewhere_is_told_and_kept(desk: Desk) -> None:
    path = desk.folder / "remarks.toml"
    text = (
        '# mine\ntitle    = "A"   # shown\nseed = 7\n\n[[part]]  # first\nfamily = "measure-completion"\n'
        'ask = "finish-measure"\nitems = 3  # few\n\n[elements]\n'
        'notes = [\n  "half",  # h\n  "quarter",\n]\nmeters = ["4/4"]\n'
    )
    path.write_text(text, "utf-8")
    form = form_of(desk.get("/plan/remarks").text, "/plan/remarks/save")
    assert desk.post("/plan/remarks/save", form).status == 303
    assert path.read_text("utf-8") == text
    saved(desk, "remarks", part__1__items="4", elements__notes=["whole", "half", "quarter"], elements__ties="true")
    after = path.read_text("utf-8")
    assert after == text.replace("items = 3", "items = 4").replace('[\n  "half"', '[\n  "whole",\n  "half"').replace(
        'meters = ["4/4"]\n', 'meters = ["4/4"]\nties = true\n'
    )
    path.write_text(after + "# by another program\n", "utf-8")
    answer = desk.post("/plan/remarks/save", {**form, "title": "B"})
    assert answer.status == 409
    told = "remarks.toml was changed elsewhere since this page was shown, so nothing was written: look at it anew"
    assert told in answer.text
    assert path.read_text("utf-8") == after + "# by another program\n"
    assert desk.get("/plan/remarks/seen").text == form_of(answer.text, "/plan/remarks/save")["seen"][0]


def test_a_plan_says_how_many_questions_like_its_own_fit_into_a_lesson(desk: Desk) -> None:
    """A minute each, and a minute and three quarters for one about counts (common practice)."""
    text = '[elements]\nmeters = ["4/4"]\nnotes = ["half", "quarter"]\n'
    counts = '[[part]]\nfamily = "count-labeling"\nask = "write-counts"\nitems = 2\n'
    gaps = '[[part]]\nfamily = "measure-completion"\nask = "finish-measure"\nitems = 2\n'
    (desk.folder / "timed.toml").write_text(text + counts + gaps, "utf-8")
    page = desk.get("/plan/timed").text
    assert "About 6 minutes for a student." in page
    fits = "about 7 questions in 10 minutes, about 14 questions in 20 minutes, about 29 questions in 40 minutes."
    assert f"Like these a student answers {fits}" in page
    (desk.folder / "timed.toml").write_text(text, "utf-8")
    assert "Like these" not in desk.get("/plan/timed").text
    assert desk.get("/").text.count("20 minutes: about ") == 13


def test_changes_are_undone_one_by_one(desk: Desk) -> None:
    desk.post("/plans", {"preset": "band-4", "name": "undone", "title": "One"})
    texts = [(desk.folder / "undone.toml").read_bytes()]
    for name in ("Two", "Three"):
        saved(desk, "undone", title=name)
        texts.append((desk.folder / "undone.toml").read_bytes())
    for text in reversed(texts[:-1]):
        form = form_of(desk.get("/plan/undone").text, "/plan/undone/undo")
        assert desk.post("/plan/undone/undo", form).status == 303
        assert (desk.folder / "undone.toml").read_bytes() == text
    answer = desk.post("/plan/undone/undo", form_of(desk.get("/plan/undone").text, "/plan/undone/undo"))
    assert answer.status == 409
    assert "undone.toml: there is no earlier text to go back to" in answer.text


def test_every_fault_stands_beside_its_field_in_the_words_of_the_messages(desk: Desk) -> None:
    path = desk.folder / "faults.toml"
    path.write_text(
        'title = ""\nsections = ["A", "A!"]\n[elements]\nmeters = ["4/4", "9/9"]\nnotes = ["half"]\n'
        'dots = ["quarter"]\n'
        '[conventions]\nheld = "x"\n[[part]]\nfamily = "count-labeling"\nask = "counts-for-rhythm"\nitems = 0\n'
        '[[part]]\nfamily = "count-labeling"\nask = "nonsense"\nitems = 1\nmisreadings = ["y"]\n',
        "utf-8",
    )
    page = desk.get("/plan/faults").text
    for ident, told in (
        ("title", "Line 1: title is empty: write a title"),
        ("sections", "Line 2: sections "),
        ("elements-meters", "Line 4: "),
        ("elements-dots", "Line 6: dots names "),
        ("conventions-held", "Line 8: held = "),
        ("part-1-items", "Line 12: items = 0 is out of range: use at least 1"),
        ("part-2-ask", "Line 15: ask = "),
    ):
        assert f'<ul class="fault" id="{ident}-fault"><li>{told}' in page.replace("&#39;", "'"), ident
    assert re.search(r"\d+ things to mend before this can be made", page)


def test_a_plan_that_cannot_be_read_is_mended_as_text(desk: Desk) -> None:
    path = desk.folder / "broken.toml"
    path.write_text('title = "A\n', "utf-8")
    page = desk.get("/plan/broken").text
    assert "Line 1: " in page
    form = form_of(page, "/plan/broken/text")
    assert form["text"] == ['title = "A\n']
    assert desk.post("/plan/broken/text", {**form, "text": 'title = "A"\r\n'}).status == 303
    assert path.read_bytes() == b'title = "A"\n'


def test_parts_are_added_moved_and_taken_out_by_buttons(desk: Desk) -> None:
    desk.post("/plans", {"preset": "band-4", "name": "parts", "title": "P"})

    def asks() -> list[str]:
        return [part["ask"] for part in tomllib.loads((desk.folder / "parts.toml").read_text("utf-8"))["part"]]

    first = asks()
    saved(desk, "parts", add="1", new__ask="beats-left")
    assert asks() == [*first, "beats-left"]
    saved(desk, "parts", **{"raise": "5"})
    assert asks() == [*first[:3], "beats-left", first[3]]
    saved(desk, "parts", remove="1")
    assert asks() == [*first[1:3], "beats-left", first[3]]
    page = saved(desk, "parts", part__1__ask="what-the-numbers-say")
    assert asks()[0] == "what-the-numbers-say"
    assert "belongs to the family" not in page


def test_a_class_list_becomes_the_sections(desk: Desk) -> None:
    desk.post("/plans", {"preset": "band-4", "name": "classes", "title": "C"})
    form = form_of(desk.get("/plan/classes").text, "/plan/classes/classes")
    table = b"title,subjects\nBand 6,Music\nBand 7,Music\n"
    answer = desk.upload("/plan/classes/classes", "classes", {"c.csv": table}, {"seen": form["seen"][0]})
    assert answer.status == 303
    assert tomllib.loads((desk.folder / "classes.toml").read_text("utf-8"))["sections"] == ["Band 6", "Band 7"]
    answer = desk.upload("/plan/classes/classes", "classes", {"c.csv": b"name,x\nA,B\n"})
    assert "c.csv, line 1: there is no column" in answer.text.replace("&#39;", "'")


def test_what_a_plan_would_give_is_what_it_gives(desk: Desk) -> None:
    (desk.folder / "small.toml").write_text(BLUEPRINT, "utf-8")
    desk.post("/plan/small/begin", {})
    while 'data-job="on"' in (page := desk.post("/plan/small/preview", {"wait": "1"}).text):
        pass
    assert page.count("It can give ") == page.count("data-part=") == 4
    desk.wait(desk.post("/plan/small/make", {"way": "new"}).headers["location"])
    proof = desk.get("/quiz/small/proof/1").text
    ids = set(re.findall(r"Item id: (\w+)", proof))
    first = re.findall(r"Item id: (\w+)", page)
    assert len(first) == len(set(first)) == 8
    assert set(first) <= ids


def test_a_cancelled_make_leaves_nothing(own_desk: Desk) -> None:
    for name in ("unit-1-six-sections.toml", "classes.csv"):
        shutil.copy(SHARED / "blueprints" / name, own_desk.folder)
    before = files_in(own_desk.folder)
    job = own_desk.post("/plan/unit-1-six-sections/make", {"way": "new"}).headers["location"]
    state = own_desk.get(f"{job}/state")
    while state.headers["x-job"] == "on" and "questions for" not in state.text:
        state = own_desk.get(f"{job}/state")
    assert "questions for" in state.text
    assert own_desk.post(f"{job}/cancel", {}).status == 303
    assert "Cancelled: nothing was changed." in own_desk.wait(job)
    assert files_in(own_desk.folder) == before
    assert not (own_desk.folder / "out").exists() or not list((own_desk.folder / "out").iterdir())


def test_a_colleagues_bank_is_looked_at_then_merged(desk: Desk) -> None:
    ours = (desk.folder / "alder.jsonl").read_bytes()
    theirs = (SHARED / "banks" / "birch.jsonl").read_bytes()
    assert (
        desk.upload("/bank/alder.jsonl/drop", "bank", {"x.jsonl": theirs}).headers["location"]
        == "/bank/alder.jsonl/incoming"
    )
    page = desk.get("/bank/alder.jsonl/incoming").text
    found = re.search(r"([\d,]+) items: ([\d,]+) new, ([\d,]+) that the bank has already", page)
    assert found is not None
    idents = [set(re.findall(rb'"id":"([0-9a-f]{16})"', text)) for text in (ours, theirs)]
    total, new, known = (int(each.replace(",", "")) for each in found.groups())
    assert (total, new, known) == (len(idents[1]), len(idents[1] - idents[0]), len(idents[0] & idents[1]))
    assert (desk.folder / "alder.jsonl").read_bytes() == ours
    assert desk.post("/bank/alder.jsonl/merge", {"leave": "1"}).status == 303
    assert (desk.folder / "alder.jsonl").read_bytes() == ours
    desk.upload("/bank/alder.jsonl/drop", "bank", {"x.jsonl": theirs})
    desk.post("/bank/alder.jsonl/merge", {"merge": "1"})
    after = (desk.folder / "alder.jsonl").read_bytes()
    assert set(re.findall(rb'"id":"([0-9a-f]{16})"', after)) == idents[0] | idents[1]


def test_an_item_is_retired_and_that_is_taken_back(desk: Desk) -> None:
    page = desk.get("/bank/birch.jsonl?where=review%3Dapproved").text
    ident = re.findall(r'name="item" value="([0-9a-f]{16})"', page)[0]
    at = f"/bank/birch.jsonl?where=id%3D{ident}"
    said = {"item": ident, "by": "Ms. Alder", "date": "2026-01-15"}
    for verdict, state in (("retire", "retired"), ("approve", "retired"), ("take-back", "approved")):
        answer = desk.post("/bank/birch.jsonl/review?where=x%3Dy", {**said, "verdict": verdict})
        assert answer.headers["location"] == "/bank/birch.jsonl?where=x%3Dy"
        assert f"<b>{state}</b>, item {ident}" in desk.get(at).text
    again = desk.post("/bank/birch.jsonl/review", {**said, "verdict": "retire"})
    assert f"item {ident} was retired in just these words before" in again.text
    desk.post("/bank/birch.jsonl/review", {"item": ident, "verdict": "", "tag": "warm-up", "comment": "good"})
    assert f"item {ident}" in desk.get("/bank/birch.jsonl?where=tag%3Dwarm-up").text


def test_what_an_earlier_text_would_give_is_not_worked_out_any_more(desk: Desk) -> None:
    """Else four quick changes would keep every processor busy, and a quiz could not even be made."""
    desk.post("/plans", {"preset": "band-4", "name": "quick", "title": "0"})
    for title in "123456":
        saved(desk, "quick", title=title)
        assert 'data-job="on"' in desk.post("/plan/quick/preview", {}).text
    job = desk.post("/plan/quick/make", {"way": "new"})
    assert job.headers["location"].startswith("/job/")
    assert desk.post(f"{job.headers['location']}/cancel", {}).status == 303
    page = desk.post("/plan/quick/preview", {"wait": "1"}).text
    while 'data-job="on"' in page:
        page = desk.post("/plan/quick/preview", {"wait": "1"}).text
    assert page.count("It can give ") == 4


def test_who_had_what_and_when_is_told_by_section(questions: Desk) -> None:
    given = {"new": "our department", "by": "Ms. Alder", "date": "2026-01-15"}
    at = questions.post("/quiz/quiz/bank", given).headers["location"]
    page = questions.get(at).text
    assert "16 items: 16 new, 0 approved, 0 retired." in page
    for condition in ("section%3DPeriod+1", "section%3DPeriod+3", "used%3D2026-01"):
        assert f'href="{at}?where={condition}"' in page
    mine = questions.get(f"{at}?where=section%3DPeriod+1&where=used%3D2026-01").text
    assert "8 items with what is asked for: 8 new" in mine
    assert mine.count("<li>Given to ") == 8
    assert mine.count("Period 1") >= 8
    assert "No item is like that." in questions.get(f"{at}?where=used%3E%3D2026-02").text
