"""How much of a file is read: far above any class's answers, and small enough for any computer."""

import lzma
import struct
import zipfile
import zlib

ZIP_DAMAGE = (
    *(zipfile.BadZipFile, OSError, EOFError, NotImplementedError, RuntimeError, ValueError, LookupError),
    *(struct.error, zlib.error, lzma.LZMAError),
)
"""What the standard library raises for a zip that is damaged, in one place or another."""

MOST_BYTES = 80_000_000
MOST_UNPACKED = 200_000_000
MOST_FILES = 20_000
MOST_ROWS = 250_000
MOST_COLUMNS = 2_000
MOST_HEADER_ROWS = 12
MOST_CELL = 20_000
MOST_XML_DEEP = 60
MOST_SHOWN = 60


def cut(text: str, most: int = MOST_SHOWN) -> str:
    """The text in one line, cut for a message.

    >>> cut("a\\nb"), cut("abcdef", 4)
    ('a b', 'a...')
    """
    line = " ".join(text.split())
    return line if len(line) <= most else f"{line[: most - 3]}..."
