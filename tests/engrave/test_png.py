"""PNG files: every pixel comes back, and the bytes are the same with whatever library Python compresses."""

import hashlib
import zlib
from io import BytesIO
from random import Random

import pytest
from PIL import Image

from barwright.engrave.png import greys_png

SAME_EVERYWHERE = "5e31308074eefeee90cf8759f94d0939da74dc2b41f61c9f9703d39b9e85b9f5"


def packed(rows: list[list[int]]) -> bytes:
    """Rows of greys from 0 to 3, four to a byte from the left; the last byte of a row is filled with black."""
    found = bytearray()
    for row in rows:
        for start in range(0, len(row), 4):
            four = [*row[start : start + 4], 0, 0, 0][:4]
            found.append(four[0] << 6 | four[1] << 4 | four[2] << 2 | four[3])
    return bytes(found)


def shades(width: int, height: int, seed: int) -> list[list[int]]:
    """Bands, blots and copies of the row above, as pictures have them."""
    rng = Random(seed)
    rows: list[list[int]] = []
    for y in range(height):
        if rows and rng.random() < 0.5:
            rows.append(list(rows[-1]))
        elif rng.random() < 0.3:
            rows.append([3] * width)
        else:
            rows.append([rng.randrange(4) if x % 11 < y % 7 else 3 for x in range(width)])
    return rows


@pytest.mark.parametrize(("width", "height"), [(1, 1), (2, 3), (3, 1), (4, 4), (5, 9), (8, 1), (63, 40), (801, 166)])
def test_every_pixel_comes_back(width: int, height: int) -> None:
    """Read by Pillow, which has a PNG reader of its own."""
    rows = shades(width, height, seed=width)
    image = Image.open(BytesIO(greys_png(packed(rows), width=width, height=height)))
    assert image.size == (width, height)
    assert list(image.convert("L").tobytes()) == [85 * grey for row in rows for grey in row]


def test_both_filters_serve() -> None:
    """White, a new row, and that row again: the last one is told by the one above it, in zeros (W3C 2003, 9.2)."""
    rows = [[3] * 8, [3, 3, 3, 3, 2, 1, 0, 1], [3, 3, 3, 3, 2, 1, 0, 1]]
    png = greys_png(packed(rows), width=8, height=3)
    start = png.index(b"IDAT") + 4
    length = int.from_bytes(png[start - 8 : start - 4])
    raw = zlib.decompress(png[start : start + length])
    assert raw == b"\x02\xff\xff" + b"\x02\x00\x92" + b"\x02\x00\x00"


def test_the_bytes_are_the_same_with_every_library_that_compresses() -> None:
    """The sum was the same with zlib 1.2.13 and with zlib-ng 2.3.3; the usual strategy gives each of them another."""
    png = greys_png(packed(shades(801, 166, seed=4)), width=801, height=166)
    assert hashlib.sha256(png).hexdigest() == SAME_EVERYWHERE
