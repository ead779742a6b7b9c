"""Whether a text can do without a style sheet: if all it does is to let pictures shrink and rows go on below."""

import re
from functools import lru_cache

from lxml import etree

from barwright.check.reading.link_targets import target
from barwright.check.rules.part import Part
from barwright.errors import PackageError

MOST_BYTES = 4096  # a sheet that only lets things shrink is short
_COMMENT = re.compile(r"/\*.*?\*/", re.DOTALL)
_RULE = re.compile(r"[^{}@]+\{([^{}]*)\}")
# CSS 2.1, CSS Flexible Box 1
_SHRINKING = (
    *("max-width", "min-width:0", "height:auto", "padding:0"),
    *("display:block", "display:flex", "flex-wrap", "align-items"),
)


def dispensable(part: Part, element: etree._Element) -> bool:
    """Whether nothing is lost on a wide screen when the sheet that this element links to is dropped."""
    path = target(part.path, element.get("href", ""))
    if not 0 < part.files.sizes.get(path, 0) <= MOST_BYTES:
        return False
    try:
        return _only_shrinks(part.files.sheet(path))
    except (PackageError, UnicodeDecodeError):
        return False


@lru_cache(maxsize=8)
def _only_shrinks(sheet: bytes) -> bool:
    text = _COMMENT.sub("", sheet.decode("utf-8"))
    declared = "".join(f"{rule};" for rule in _RULE.findall(text))
    whole = not _RULE.sub("", text).strip()
    told = ["".join(each.split()) for each in declared.split(";") if each.strip()]
    return whole and all(each.startswith(_SHRINKING) for each in told)
