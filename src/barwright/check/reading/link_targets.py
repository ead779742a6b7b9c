"""Links inside a package: what file they mean, or that they lead out of it.

Source: RFC 3986, sections 2.1 (percent-encoding), 3.1 (scheme), 5.2.4 (dot segments).
"""

import posixpath
import re
from collections.abc import Container
from functools import lru_cache
from typing import NamedTuple

# Common Cartridge: what is behind it begins at the top of the package, or, as others read the standard, at the file
# that holds the link.
FILEBASE = "$IMS-CC-FILEBASE$"
_AWAY = re.compile(r"[A-Za-z][A-Za-z0-9+.-]*:|//")
_ESCAPED = re.compile(rb"%([0-9A-Fa-f]{2})")


def leads_away(link: str) -> bool:
    """Whether a link means something outside the package: another site, inline data, a mail address, a drive.

    >>> leads_away("https://example.org/a.png"), leads_away("images/a.png")
    (True, False)
    """
    return bool(_AWAY.match(link.strip()))


@lru_cache(maxsize=4096)
def target(base: str, link: str) -> str:
    """The path from the top of the package that a link in the file `base` means; empty for none.

    A path that begins with `..` leaves the package.

    >>> target("items/i1.xml", "../images/a%20b.png#top"), target("quiz/quiz.xml", "$IMS-CC-FILEBASE$/images/a.png")
    ('images/a b.png', 'images/a.png')
    """
    link = link.strip()
    if leads_away(link):
        return ""
    if link.startswith(FILEBASE):
        base, link = "", link.removeprefix(FILEBASE).lstrip("/")
    path = re.split(r"[?#]", link, maxsplit=1)[0]
    if not path:
        return ""
    plain = _ESCAPED.sub(lambda m: bytes([int(m[1], 16)]), path.encode("utf-8", "replace")).decode("utf-8", "replace")
    return posixpath.normpath(posixpath.join(posixpath.dirname(base), plain))


class Followed(NamedTuple):
    """The path that a link means, from the top of the package. `beside` is the path from the file that holds the link,
    where a link begins with FILEBASE and that is another file of the package; `path` is the same if the top has none.
    """

    path: str
    beside: str = ""


def followed(base: str, link: str, held: Container[str]) -> Followed:
    """What a link in the file `base` means where `held` are the files.

    >>> followed("q/quiz.xml", "$IMS-CC-FILEBASE$/../a.png", {"a.png"})
    Followed(path='a.png', beside='a.png')
    """
    path = target(base, link)
    plain = link.strip()
    if plain.startswith(f"{FILEBASE}/"):
        beside = target(base, plain.removeprefix(FILEBASE).lstrip("/"))
        if beside != path and beside in held:
            return Followed(path if path in held else beside, beside)
    return Followed(path)
