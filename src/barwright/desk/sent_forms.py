"""What a form of a page sends: read whole into memory, bounded, and with the token that every form of ours carries."""

from collections.abc import Awaitable, Callable, Mapping
from dataclasses import dataclass

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import UploadFile
from starlette.exceptions import HTTPException
from starlette.formparsers import FormParser, MultiPartException, MultiPartParser
from starlette.requests import Request
from starlette.responses import Response

from barwright.desk.guard import MOST_BYTES
from barwright.desk.keys import Keys, same

MOST_FIELDS, MOST_FILES = 4_000, 60
TOKEN = "token"


@dataclass(frozen=True, slots=True)
class Upload:
    """A file that was dropped or chosen: the name it had, and what is in it."""

    name: str
    content: bytes


@dataclass(frozen=True, slots=True)
class Fields:
    """The texts and files of a form by the names of their fields."""

    texts: Mapping[str, tuple[str, ...]]
    files: Mapping[str, tuple[Upload, ...]]

    def one(self, name: str) -> str:
        """The text of a field; empty where there is none. New lines are those of text files."""
        return self.texts.get(name, ("",))[-1].replace("\r\n", "\n")

    def every(self, name: str) -> tuple[str, ...]:
        """All texts of a field, as of boxes that are ticked."""
        return self.texts.get(name, ())

    def has(self, name: str) -> bool:
        """Whether the form has a field, as a button that was pressed."""
        return name in self.texts


Handler = Callable[[Request, Fields], Response]


class _InMemory(MultiPartParser):
    """Nothing that students answered is put into the system's folder for passing files."""

    spool_max_size = MOST_BYTES


async def _fields(request: Request) -> Fields:
    kind = request.headers.get("content-type", "").partition(";")[0].strip().lower()
    try:
        if kind == "multipart/form-data":
            parser: MultiPartParser | FormParser = _InMemory(
                request.headers,
                request.stream(),
                max_files=MOST_FILES,
                max_fields=MOST_FIELDS,
                max_part_size=MOST_BYTES,
            )
        elif kind == "application/x-www-form-urlencoded":
            parser = FormParser(request.headers, request.stream())
        else:
            raise HTTPException(415, "fault.no_form")
        sent = await parser.parse()
    except MultiPartException as error:
        raise HTTPException(400, "fault.unreadable") from error
    if len(sent.multi_items()) > MOST_FIELDS:
        raise HTTPException(400, "fault.too_many")
    texts: dict[str, tuple[str, ...]] = {}
    files: dict[str, tuple[Upload, ...]] = {}
    for name, value in sent.multi_items():
        if isinstance(value, UploadFile):
            if value.filename:
                files[name] = (*files.get(name, ()), Upload(value.filename, await value.read()))
            await value.close()
        else:
            texts[name] = (*texts.get(name, ()), value)
    return Fields(texts, files)


def posted(handler: Handler) -> Callable[[Request], Awaitable[Response]]:
    """An endpoint for a form: HTTPException 403 without the token of this desk, before anything is done."""

    async def endpoint(request: Request) -> Response:
        keys: Keys = request.app.state.keys
        fields = await _fields(request)
        if not same(fields.one(TOKEN), keys.token):
            raise HTTPException(403, "fault.other_desk")
        return await run_in_threadpool(handler, request, fields)

    return endpoint
