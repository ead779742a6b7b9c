"""Who is let in, and what nobody can make the desk do: attacks over real sockets."""

import re
import shutil
import socket
import stat
import threading
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from html import unescape
from pathlib import Path
from urllib.parse import quote

import pytest

from barwright.desk.guard import MOST_BYTES
from desk.conftest import PLAN
from desk.opened_desk import Desk, form_of, opened_desk

MARKUP = "\"'><script>alert(1)</script><img src=x onerror=alert(1)>&lt;"


def test_a_key_opens_the_desk_once_and_the_cookie_is_strict(desk: Desk, tmp_path: Path) -> None:
    path = desk.entry.removeprefix(desk.origin)
    again = desk.send("GET", path, {})
    assert again.status == 403
    assert (
        again.text == "This key was used, or is of another desk. Open the desk again: it opens a page with a new key.\n"
    )
    with opened_desk(tmp_path / "other", tmp_path / "state", enter=False) as other:
        first = other.send("GET", other.entry.removeprefix(other.origin), {})
    name, *rest = first.headers["set-cookie"].split("; ")
    assert name.startswith(f"barwright-{other.authority.rpartition(':')[2]}=")
    assert set(rest) == {"HttpOnly", "Path=/", "SameSite=strict"}


def test_no_page_without_the_cookie(desk: Desk) -> None:
    port = desk.authority.rpartition(":")[2]
    for cookie in ({}, {"Cookie": f"barwright-{port}=guess"}, {"Cookie": desk.cookie + "x"}, {"Cookie": "\x7f;;=,"}):
        for path in ("/", f"/plan/{PLAN}", "/static/desk.css", "/picture.png?text=q"):
            assert desk.send("GET", path, cookie).status == 403, (cookie, path)


@pytest.mark.parametrize(
    "host", ["localhost:{port}", "evil.example:{port}", "evil.example", "127.0.0.1", "127.0.0.1:1", ""]
)
def test_a_name_that_was_pointed_here_is_refused(desk: Desk, host: str) -> None:
    """DNS rebinding: the browser takes our port for a page of its own, whose name stands in Host."""
    name = host.format(port=desk.authority.rpartition(":")[2])
    answer = desk.send("GET", "/", {"Host": name, "Cookie": desk.cookie})
    assert (answer.status, answer.text) == (421, "This is not the address of the desk.\n")


@pytest.mark.parametrize(
    "headers",
    [
        {"Origin": "http://evil.example"},
        {"Origin": "null"},
        {},
        {"Origin": "http://127.0.0.1:1"},
        {"Origin": "{origin}", "Sec-Fetch-Site": "cross-site"},
        {"Origin": "{origin}", "Sec-Fetch-Site": "same-site"},
        {"Origin": "{origin}", "Sec-Fetch-Site": "none"},
    ],
)
def test_another_page_cannot_send_a_form(desk: Desk, headers: dict[str, str]) -> None:
    given = {name: value.format(origin=desk.origin) for name, value in headers.items()}
    kind = {"Content-Type": "application/x-www-form-urlencoded", "Cookie": desk.cookie}
    body = f"token={desk.token}&preset=band-4&title=Forged".encode()
    answer = desk.send("POST", "/plans", {**kind, **given}, body)
    assert (answer.status, answer.text) == (403, "Another page tried to use the desk. Nothing was done.\n")
    assert not (desk.folder / "forged.toml").exists()


def test_another_page_cannot_even_look(desk: Desk) -> None:
    for site in ("cross-site", "same-site"):
        answer = desk.send("GET", "/picture.png?text=q", {"Cookie": desk.cookie, "Sec-Fetch-Site": site})
        assert answer.status == 403


def test_a_form_without_our_token_does_nothing(desk: Desk) -> None:
    for token in ("", "x", desk.token[:-1], "é"):
        answer = desk.post("/plans", {"preset": "band-4", "title": "Forged"}, token=token)
        assert answer.status == 403
        assert "Nothing was done: this form is of another desk." in answer.text
    assert not (desk.folder / "forged.toml").exists()
    assert desk.send("PUT", "/plans", desk.ours, b"").status == 405
    assert desk.send("POST", "/plans", {**desk.ours, "Content-Type": "text/plain"}, b"token=x").status == 415


def test_every_answer_forbids_what_is_not_ours(desk: Desk) -> None:
    for path in ("/", f"/plan/{PLAN}", "/static/desk.js", "/nowhere"):
        headers = desk.get(path).headers
        policy = headers["content-security-policy"]
        assert "default-src 'none'" in policy
        assert "script-src 'self';" in policy
        assert "unsafe" not in policy
        assert headers["x-frame-options"] == "DENY"
        assert headers["x-content-type-options"] == "nosniff"
        assert "server" not in headers
        assert headers["cache-control"] == ("private, max-age=300" if path.startswith("/static/") else "no-store")


SECRET = 'title = "very secret"\n[elements]\nmeters = ["4/4"]\nnotes = ["quarter"]\n'


def test_no_path_leads_out_of_the_folder(desk: Desk) -> None:
    secret = desk.folder.parent / "secret.toml"
    secret.write_text(SECRET, "utf-8")
    made = desk.folder / "out" / "quiz"
    made.mkdir(parents=True)
    for name in (
        "../secret",
        "..%2Fsecret",
        "%2e%2e/secret",
        quote(str(secret.with_suffix("")), safe=""),
        "..\\secret",
        ".",
        "%00",
    ):
        for path in (
            f"/plan/{name}",
            f"/bank/{name}",
            f"/quiz/{name}",
            f"/quiz/{name}/file/key.html",
            f"/static/{name}",
        ):
            answer = desk.get(path)
            assert answer.status in (404, 409), path
            assert "very secret" not in answer.text
    answer = desk.post("/plans", {"preset": "band-4", "title": "x", "name": "../../evil"})
    assert answer.headers["location"] == "/plan/evil"
    assert sorted(path.name for path in desk.folder.parent.iterdir()) == ["quizzes", "secret.toml", "state"]


def test_no_link_leads_out_of_the_folder(own_desk: Desk) -> None:
    outside = own_desk.folder.parent / "outside"
    outside.mkdir()
    (outside / "linked.toml").write_text(SECRET, "utf-8")
    (outside / "linked.jsonl").write_bytes((own_desk.folder / "alder.jsonl").read_bytes())
    (own_desk.folder / "linked.toml").symlink_to(outside / "linked.toml")
    (own_desk.folder / "linked.jsonl").symlink_to(outside / "linked.jsonl")
    before = {path: path.read_bytes() for path in outside.iterdir()}
    assert "linked" not in own_desk.get("/").text
    for path in ("/plan/linked", "/bank/linked.jsonl"):
        assert own_desk.get(path).status == 404
    (own_desk.folder / "out").symlink_to(outside)
    answer = own_desk.post(f"/plan/{PLAN}/make", {"way": "new"})
    assert answer.status == 409
    assert f"out/{PLAN} leads out of the opened folder, where the desk neither reads nor writes" in answer.text
    assert {path: path.read_bytes() for path in outside.iterdir()} == before


def test_what_a_plan_avoids_must_lie_in_the_folder(desk: Desk) -> None:
    plan = (desk.folder / f"{PLAN}.toml").read_text("utf-8")
    (desk.folder / "avoids.toml").write_text('avoid = "../record.jsonl"\n' + plan, "utf-8")
    answer = desk.post("/plan/avoids/make", {"way": "new"})
    assert answer.status == 409
    assert "../record.jsonl leads out of the opened folder" in answer.text


def test_markup_in_any_text_is_text(desk: Desk) -> None:
    plan = desk.folder / "m.toml"
    text = MARKUP.replace("\\", "").replace('"', '\\"')
    plan.write_text(
        f'title = "{text}"\nsections = ["{text}"]\navoid = "{text}"\nlanguage = "{text}"\n'
        f'[elements]\nmeters = ["{text}"]\n'
        f'notes = ["{text}"]\npatterns = ["{text}"]\n[conventions]\nheld = "{text}"\n[excerpts]\nrhythms = ["{text}"]\n'
        f'[[part]]\nfamily = "{text}"\nask = "{text}"\nitems = 1\nmeters = ["{text}"]\nmisreadings = ["{text}"]\n',
        "utf-8",
    )
    pages = [desk.get(path).text for path in ("/", "/plan/m", "/plan/m/make")]
    pages.append(desk.get(f"/bank/alder.jsonl?where={quote('tag=' + MARKUP)}").text)
    pages.append(desk.post("/bank/alder.jsonl/review", {"verdict": "approve", "item": MARKUP}).text)
    pages.append(desk.post("/plan/m/save", {"title": MARKUP, "seen": "old"}).text)
    pages.append(
        desk.upload("/plan/m/classes", "classes", {"<script>.csv": f"title\n{MARKUP}\n{MARKUP[:-1]}\n".encode()}).text
    )
    for number, page in enumerate(pages):
        assert "<script>alert" not in page, number
        assert "<img src=x" not in page, number
    assert "<script>alert(1)" in unescape(pages[1])


def test_markup_that_a_bank_and_a_quiz_keep_is_text(questions: Desk) -> None:
    bank = "/bank/birch.jsonl"
    page = questions.get(bank).text
    ident = page.partition('name="item" value="')[2][:16]
    said = {"verdict": "", "item": ident, "by": MARKUP, "date": "2026-01-15", "comment": MARKUP, "tag": MARKUP}
    told = questions.post(f"{bank}/review", said)
    pages = [told.text, questions.get(f"{bank}?where=id%3D{ident}").text]
    plan = form_of(questions.get("/plan/quiz").text, "/plan/quiz/save")
    questions.post("/plan/quiz/save", {**plan, "title": MARKUP, "sections": MARKUP})
    questions.wait(questions.post("/plan/quiz/make", {"way": "anew"}).headers.get("location", "/job/0"))
    named = {"new": MARKUP, "by": MARKUP, "date": "2026-01-15"}
    pages += [questions.post("/quiz/quiz/bank", named).text]
    pages += [
        questions.upload("/quiz/quiz/answers", "answers", {"<script>.csv": f"{MARKUP},1\n{MARKUP},2\n".encode()}).text
    ]
    listed = re.findall(r'href="(/(?:plan|quiz|bank)/[^"]+)"', questions.get("/").text)
    pages += [questions.get(path).text for path in ("/", "/quiz/quiz/proof/1", "/quiz/quiz/answers", *listed)]
    for number, text in enumerate(pages):
        assert "<script>alert" not in text, number
        assert "<img src=x" not in text, number
    assert MARKUP in unescape(pages[1])


@pytest.mark.parametrize(
    "name", ["key.html", "period-1", "period-1/quiz.imscc", "record.jsonl", "answers", "results", "questions.toml"]
)
def test_no_link_in_a_quiz_leads_out_of_the_folder(questions: Desk, name: str) -> None:
    outside = questions.folder.parent / "outside"
    shutil.rmtree(outside, ignore_errors=True)
    outside.mkdir()
    for file in ("report.html", "quiz.imscc", "secret"):
        (outside / file).write_text("very secret", "utf-8")
    before = {path: path.read_bytes() for path in outside.iterdir()}
    place = questions.folder / "out" / "quiz" / name
    if place.is_dir():
        shutil.rmtree(place)
    place.unlink(missing_ok=True)
    place.symlink_to(outside / "secret" if place.suffix else outside)
    told = f"out/quiz/{name} leads out of the opened folder, where the desk neither reads nor writes"
    files = (f"/quiz/quiz/file/{name}", "/quiz/quiz/file/results/report.html", "/quiz/quiz/file/period-1/quiz.imscc")
    for path in (*files, "/quiz/quiz", "/quiz/quiz/proof/1", "/quiz/quiz/answers"):
        answer = questions.get(path)
        assert answer.status in (404, 409)
        assert "very secret" not in answer.text, path
    dropped = questions.upload("/quiz/quiz/answers", "answers", {"secret.csv": b"Name,1\nA,B\n"})
    forgotten = questions.post("/quiz/quiz/answers/forget", {})
    made = questions.post("/plan/quiz/make", {"way": "anew"})
    listed = name != "record.jsonl"  # without its record it is no quiz
    assert [answer.status for answer in (dropped, forgotten, made)] == ([409] * 3 if listed else [404, 404, 409])
    assert [told in answer.text for answer in (dropped, forgotten, made)] == [listed, listed, True]
    assert {path: path.read_bytes() for path in outside.iterdir()} == before


def test_a_bank_that_is_dropped_is_not_written_through_a_link(questions: Desk) -> None:
    outside = questions.folder.parent / "theirs.txt"
    outside.write_text("very secret", "utf-8")
    (questions.folder / ".birch.jsonl.from-colleague").symlink_to(outside)
    answer = questions.upload("/bank/birch.jsonl/drop", "bank", {"x.jsonl": b"{}\n"})
    assert answer.status == 409
    assert "very secret" not in questions.get("/bank/birch.jsonl/incoming").text
    assert outside.read_text("utf-8") == "very secret"


def test_what_is_sent_is_bounded_whatever_its_head_says(desk: Desk) -> None:
    kind = {"Content-Type": "application/x-www-form-urlencoded"}
    told = desk.send("POST", "/plans", {**desk.ours, **kind, "Content-Length": str(MOST_BYTES + 1)}, b"x")
    assert told.status == 413
    kind = {"Content-Type": "multipart/form-data; boundary=b"}
    head = "".join(f"{name}: {value}\r\n" for name, value in {**desk.ours, **kind}.items())
    start = f"POST /plans HTTP/1.1\r\nHost: {desk.authority}\r\n{head}Transfer-Encoding: chunked\r\n\r\n"
    part = b'--b\r\nContent-Disposition: form-data; name="bank"; filename="a"\r\n\r\n'
    answer = b""
    with socket.create_connection(desk.address) as line, suppress(ConnectionError):  # it may hang up while we send
        line.sendall(start.encode() + b"%x\r\n%s\r\n" % (len(part), part))
        for _ in range(MOST_BYTES // 0x100000 + 2):
            line.sendall(b"100000\r\n" + b"a" * 0x100000 + b"\r\n")
        answer = line.recv(200)
    assert answer[:12] in (b"", b"HTTP/1.1 413")
    assert desk.get("/").status == 200


def test_fifty_calls_at_once_are_all_answered(desk: Desk) -> None:
    paths = ["/", f"/plan/{PLAN}", "/bank/alder.jsonl", "/picture.png?text=q.+e", "/nowhere"] * 10
    with ThreadPoolExecutor(50) as pool:
        answers = list(pool.map(desk.get, paths))
    assert [answer.status for answer in answers] == [200, 200, 200, 200, 404] * 10


def test_fifty_changes_at_once_lose_nothing_and_spoil_nothing(desk: Desk) -> None:
    def begin(_number: int) -> int:
        return desk.post("/plans", {"preset": "band-4", "title": "Same"}).status

    with ThreadPoolExecutor(50) as pool:
        statuses = list(pool.map(begin, range(50)))
    made = sorted(desk.folder.glob("same*.toml"))
    assert set(statuses) <= {303, 409}
    assert len(made) == statuses.count(303) >= 1
    assert {path.read_bytes() for path in made} == {made[0].read_bytes()}
    assert [path.name for path in desk.folder.iterdir() if path.name.startswith(".barwright")] == []


def test_the_state_is_for_its_user_alone(desk: Desk) -> None:
    assert stat.S_IMODE(desk.home.stat().st_mode) == 0o700
    (state,) = desk.home.glob("*.json")
    assert stat.S_IMODE(state.stat().st_mode) == 0o600
    secret = state.read_text("utf-8")
    assert desk.cookie.partition("=")[2] not in secret
    for wrong in ("", "Bearer ", "Bearer x", "Basic x"):
        assert desk.send("POST", "/join", {"Authorization": wrong}).status == 403


def test_it_listens_at_the_loopback_address_alone(desk: Desk) -> None:
    port = int(desk.authority.rpartition(":")[2])
    others = {info[4][0] for info in socket.getaddrinfo(socket.gethostname(), None, socket.AF_INET)} - {"127.0.0.1"}
    for address in [*others, "127.0.0.2"]:
        with socket.socket() as line:
            line.settimeout(5)
            assert line.connect_ex((address, port)) != 0, address


def test_it_ends_by_its_button_and_gives_the_folder_back(own_desk: Desk) -> None:
    ended = own_desk.post("/end", {})
    assert "The desk is closed" in ended.text
    assert own_desk.process.wait(30) == 0
    assert list(own_desk.home.glob("*.json")) == []


def test_it_ends_when_no_page_has_called_for_a_while(tmp_path: Path) -> None:
    with opened_desk(tmp_path / "a", tmp_path / "state", idle_seconds=0.2, enter=False) as desk:
        assert desk.process.wait(30) == 0


def test_a_second_desk_joins_the_first_and_takes_over_from_one_that_was_killed(own_desk: Desk) -> None:
    with opened_desk(own_desk.folder, own_desk.home) as second:
        assert second.authority == own_desk.authority
        assert second.process.wait(30) == 0
        assert second.get("/").status == 200
        assert second.cookie == own_desk.cookie
    own_desk.process.kill()
    own_desk.process.wait()
    with opened_desk(own_desk.folder, own_desk.home) as third:
        assert third.process.poll() is None
        assert third.get("/").status == 200


def test_a_call_that_never_ends_holds_nobody_up(desk: Desk) -> None:
    lines = [socket.create_connection(desk.address) for _ in range(30)]
    for line in lines:
        line.sendall(b"GET / HTTP/1.1\r\nHost: ")
    assert desk.get("/").status == 200
    threads = [threading.Thread(target=line.close) for line in lines]
    for each in threads:
        each.start()
    for each in threads:
        each.join()
