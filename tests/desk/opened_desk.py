"""A desk of a folder in a process of its own, called over the loopback address as a browser calls it."""

import http.client
import os
import re
import subprocess
import sys
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import urlencode, urlsplit

SERVE = """
import sys
from pathlib import Path
from barwright.desk.serving import open_desk, printed
folder, home, seconds = sys.argv[1:]
open_desk(Path(folder), show=printed, say=print, home=Path(home), idle_seconds=float(seconds))
"""
LONG = 600.0
WAIT_SECONDS = 60
_ENTRY = re.compile(r"http://127\.0\.0\.1:\d+/enter\?key=\S+")


@dataclass(frozen=True, slots=True)
class Answer:
    """What came back: status, headers by small names, and the body."""

    status: int
    headers: Mapping[str, str]
    body: bytes

    @property
    def text(self) -> str:
        """The body as text."""
        return self.body.decode()


@dataclass(slots=True)
class Desk:
    """A desk that runs. `calls` go out as a browser that entered sends them, unless other headers are given."""

    process: "subprocess.Popen[str]"
    entry: str
    folder: Path
    home: Path
    cookie: str = ""
    token: str = ""

    @property
    def authority(self) -> str:
        """Address and port."""
        return urlsplit(self.entry).netloc

    @property
    def address(self) -> tuple[str, int]:
        """Address and port for a socket."""
        host, _, port = self.authority.partition(":")
        return host, int(port)

    @property
    def origin(self) -> str:
        """Where its own pages come from."""
        return f"http://{self.authority}"

    def send(self, method: str, path: str, headers: Mapping[str, str], body: bytes | None = None) -> Answer:
        """One call with these headers and no others but Host, Content-Length and Accept-Encoding."""
        connection = http.client.HTTPConnection(self.authority, timeout=WAIT_SECONDS)
        try:
            connection.putrequest(method, path, skip_host="Host" in headers)
            for name, value in headers.items():
                connection.putheader(name, value)
            if body is not None and "Content-Length" not in headers and "Transfer-Encoding" not in headers:
                connection.putheader("Content-Length", str(len(body)))
            connection.endheaders(body)
            found = connection.getresponse()
            return Answer(found.status, {k.lower(): v for k, v in found.getheaders()}, found.read())
        finally:
            connection.close()

    def enter(self) -> None:
        """Changes the key for the cookie."""
        parts = urlsplit(self.entry)
        answer = self.send("GET", f"{parts.path}?{parts.query}", {})
        assert answer.status == 200, answer.text
        self.cookie = answer.headers["set-cookie"].partition(";")[0]
        found = re.search(r'name="token" value="([^"]+)"', self.get("/").text)
        assert found is not None
        self.token = found[1]

    def get(self, path: str) -> Answer:
        """A page."""
        return self.send("GET", path, {"Cookie": self.cookie, "Sec-Fetch-Site": "same-origin"})

    def post(self, path: str, fields: Mapping[str, str | Sequence[str]], *, token: str | None = None) -> Answer:
        """A form of ours."""
        body = urlencode({"token": self.token if token is None else token, **fields}, doseq=True).encode()
        headers = {"Content-Type": "application/x-www-form-urlencoded", **self.ours}
        return self.send("POST", path, headers, body)

    @property
    def ours(self) -> dict[str, str]:
        """The headers that a form of ours comes with."""
        return {"Cookie": self.cookie, "Origin": self.origin, "Sec-Fetch-Site": "same-origin"}

    def upload(
        self, path: str, name: str, files: Mapping[str, bytes], fields: Mapping[str, str] | None = None
    ) -> Answer:
        """A form of ours with files in a field."""
        mark = "barwright-boundary"
        parts = [f'--{mark}\r\nContent-Disposition: form-data; name="{k}"\r\n\r\n{v}\r\n'.encode()
                 for k, v in {"token": self.token, **(fields or {})}.items()]  # fmt: skip
        for file, content in files.items():
            head = f'--{mark}\r\nContent-Disposition: form-data; name="{name}"; filename="{file}"\r\n'
            parts.append(head.encode() + b"Content-Type: application/octet-stream\r\n\r\n" + content + b"\r\n")
        headers = {"Content-Type": f"multipart/form-data; boundary={mark}", **self.ours}
        return self.send("POST", path, headers, b"".join(parts) + f"--{mark}--\r\n".encode())

    def wait(self, path: str) -> str:
        """The page of a job when it is over."""
        while self.get(f"{path}/state?wait=1").headers["x-job"] == "on":
            pass
        return self.get(path).text


@contextmanager
def opened_desk(folder: Path, home: Path, *, idle_seconds: float = LONG, enter: bool = True) -> Iterator[Desk]:
    """A desk of a folder, its state in `home`; it is ended at the end."""
    command = [sys.executable, "-u", "-c", SERVE, str(folder), str(home), str(idle_seconds)]
    source = str(Path(__file__).parents[2] / "src")
    process = subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env={**os.environ, "PYTHONPATH": source})
    try:
        desk = Desk(process, _entry_of(process), folder, home)
        if enter:
            desk.enter()
        yield desk
    finally:
        process.kill()
        process.communicate()


def _entry_of(process: "subprocess.Popen[str]") -> str:
    assert process.stdout is not None
    for line in process.stdout:
        if found := _ENTRY.search(line):
            return found[0]
    raise AssertionError("the desk said no address")


class _Fields(HTMLParser):
    """What a browser sends of the forms of a page, untouched."""

    def __init__(self) -> None:
        super().__init__()
        self.forms: dict[str, list[tuple[str, str]]] = {}
        self._form = self._select = self._area = ""
        self._text = ""

    def handle_starttag(self, tag: str, pairs: list[tuple[str, str | None]]) -> None:
        has = {name: value or "" for name, value in pairs}
        if tag == "form":
            self._form = has.get("action", "")
            self.forms.setdefault(self._form, [])
        elif tag == "input" and self._form and has.get("name"):
            kind = has.get("type", "text")
            if kind not in ("checkbox", "radio", "file") or (kind != "file" and "checked" in has):
                self.forms[self._form].append((has["name"], has.get("value", "")))
        elif tag == "select":
            self._select = has.get("name", "")
        elif tag == "option" and self._select and "selected" in has:
            self.forms[self._form].append((self._select, has.get("value", "")))
        elif tag == "textarea":
            self._area, self._text = has.get("name", ""), ""

    def handle_data(self, data: str) -> None:
        if self._area:
            self._text += data

    def handle_endtag(self, tag: str) -> None:
        if tag == "textarea":
            self.forms[self._form].append((self._area, self._text.removeprefix("\n")))
            self._area = ""
        elif tag == "select":
            self._select = ""
        elif tag == "form":
            self._form = ""


def form_of(page: str, action: str) -> dict[str, list[str]]:
    """What the form with this action would send as it stands."""
    parser = _Fields()
    parser.feed(page)
    found: dict[str, list[str]] = {}
    for name, value in parser.forms[action]:
        found.setdefault(name, []).append(value)
    return found
