"""A plan's file changed and changed back; what somebody else wrote meanwhile is never written over.

Beside the plan a hidden file keeps its earlier texts, so that a change can be undone, after the desk was closed too.
"""

import hashlib
import json
import tomllib
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path

from barwright.errors import BarwrightError
from barwright.tasks.files import MOST_BYTES, decoded, read_text, shown_path
from barwright.tasks.locks import locked
from barwright.tasks.paths import check_writable, real_path, writing
from barwright.tasks.plan.editing import Change, Put, edited
from barwright.tasks.plan.fields import changes_of
from barwright.tasks.sections import section_names
from barwright.tasks.staging import clear_left, replace_file

MOST_EARLIER = 50
_MOST_KEPT_BYTES = 5_000_000


def print_of(text: str) -> str:
    """A short hash of a plan's text, by which a page tells which text it shows."""
    return hashlib.sha256(text.encode()).hexdigest()[:16]


def earlier_file(path: Path) -> Path:
    """The hidden file with the earlier texts of a plan.

    >>> earlier_file(Path("a/unit-3.toml")).as_posix()
    'a/.unit-3.toml.earlier'
    """
    return path.with_name(f".{path.name}.earlier")


def change(path: Path, changes: Sequence[Change], *, seen: str = "") -> str:
    """Makes the changes in the file of a plan and gives back the print of its text now.

    `seen` is the print of the text that the changes are meant for, where that matters. BarwrightError where the file
    has another text now, or as `edited`; OutputError if it cannot be written. Then nothing was changed.
    """
    return _rewritten(path, lambda text: edited(text, changes, str(path)), seen)


def rewrite(path: Path, text: str, *, seen: str = "") -> str:
    """Gives the file of a plan another text, as an editor would; as `change`."""
    if len(text.encode()) > MOST_BYTES:
        raise BarwrightError(f"{path}: the text has over {MOST_BYTES} bytes: a blueprint is a short text")
    return _rewritten(path, lambda _before: text, seen)


def undo(path: Path, *, seen: str = "") -> str:
    """Takes the last change of `change` or `rewrite` back; BarwrightError if there is none, or others wrote since."""
    with _held(path, seen) as (real, text):
        kept, after = _earlier(real)
        while kept and kept[-1] == text:  # of a change that was cut short before the plan was written
            kept.pop()
            after = print_of(text)
        if not kept:
            raise BarwrightError(f"{path}: there is no earlier text to go back to")
        if print_of(text) != after:
            raise BarwrightError(f"{path} was changed elsewhere since, so nothing is undone: change it in its text")
        back = kept.pop()
        replace_file(real, [back.encode()])
        _keep(real, kept, back)
    return print_of(back)


def can_undo(path: Path) -> bool:
    """Whether the last change of a plan can be taken back."""
    kept, after = _earlier(path)
    text = read_text(path)
    return bool([each for each in kept if each != text]) and print_of(text) == after


def _rewritten(path: Path, new: Callable[[str], str], seen: str) -> str:
    with _held(path, seen) as (real, before):
        after = new(before)
        if after == before:
            return print_of(before)
        kept, last = _earlier(real)
        if kept and last != print_of(before):
            kept = []  # somebody else wrote in between: what was before that is theirs to keep
        _keep(real, [*kept, before][-MOST_EARLIER:], after)
        replace_file(real, [after.encode()])
    return print_of(after)


@contextmanager
def _held(path: Path, seen: str) -> Iterator[tuple[Path, str]]:
    """The real file and its text, with nobody else writing it."""
    real = real_path(path)
    with locked(real, path), writing(path):
        clear_left(real)
        clear_left(earlier_file(real))
        text = read_text(path)
        if seen and print_of(text) != seen:
            raise BarwrightError(
                f"{path} was changed elsewhere since this page was shown, so nothing was written: look at it anew"
            )
        check_writable(real, path)
        yield real, text


def _earlier(path: Path) -> tuple[list[str], str]:
    """The earlier texts, the last at the end, and the print of the text that followed it; nothing that is not ours."""
    try:
        text = read_text(earlier_file(path), most=_MOST_KEPT_BYTES, kind="list of earlier texts")
        stored = json.loads(text)
        kept, after = stored["texts"], stored["after"]
    except (BarwrightError, ValueError, KeyError, TypeError, RecursionError):
        return [], ""
    if not (isinstance(kept, list) and all(isinstance(each, str) for each in kept) and isinstance(after, str)):
        return [], ""
    return kept, after


def _keep(path: Path, texts: list[str], after: str) -> None:
    while texts and sum(len(each.encode()) for each in texts) > _MOST_KEPT_BYTES // 2:
        texts = texts[1:]
    content = json.dumps({"after": print_of(after), "texts": texts}, ensure_ascii=False, indent=1)
    replace_file(earlier_file(path), [content.encode()])


def form_changes(path: Path, texts: Mapping[str, Sequence[str]]) -> list[Change]:
    """What a form with the fields of a plan changes in its file; see `plan.form`.

    BarwrightError if it cannot be read.
    """
    try:
        raw = tomllib.loads(read_text(path))
    except (tomllib.TOMLDecodeError, RecursionError) as error:
        raise BarwrightError(f"{path}: mend its text first: it cannot be read as it is") from error
    return changes_of(raw, texts)


def class_change(name: str, content: bytes) -> Change:
    """The sections of a class list, as a change of a plan; BarwrightError naming line or column, and the mend."""
    path = Path(name)
    text = decoded(content, path, "class list")
    return Put(("sections",), list(section_names(text, shown_path(path), "title", {})))
