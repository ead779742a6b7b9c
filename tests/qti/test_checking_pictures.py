"""Picture files told whole or broken without a drawing library: held against what Pillow writes in every mode."""

import io
import struct
import zlib

import pytest
from hostile_packages import huge_png
from PIL import Image

from barwright.check.rules.picture_files import PictureFile, picture_file

SIZES = ((1, 1), (7, 3), (33, 20))
PNG_MODES = ("1", "L", "LA", "P", "RGB", "RGBA", "I;16")


def written(mode: str, size: tuple[int, int], form: str, **options: object) -> bytes:
    target = io.BytesIO()
    image = Image.effect_noise(size, 90).convert("L")
    image = image.point(lambda v: v * 255, "I").convert("I;16") if mode == "I;16" else image.convert(mode)
    image.save(target, form, **options)
    return target.getvalue()


def chunk(kind: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))


def png(header: bytes, rows: bytes) -> bytes:
    chunks = (chunk(b"IHDR", header), chunk(b"IDAT", zlib.compress(rows)), chunk(b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(chunks)


def header(width: int, height: int, depth: int = 8, colour: int = 0, interlaced: int = 0) -> bytes:
    return struct.pack(">IIBBBBB", width, height, depth, colour, 0, 0, interlaced)


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("mode", PNG_MODES)
def test_whole_png(mode: str, size: tuple[int, int]) -> None:
    assert picture_file(written(mode, size, "PNG")) == PictureFile("png", *size)


@pytest.mark.parametrize("bits", [1, 2, 4])
def test_whole_png_of_few_colours(bits: int) -> None:
    assert picture_file(written("P", (9, 5), "PNG", bits=bits)) == PictureFile("png", 9, 5)


@pytest.mark.parametrize("width", range(1, 18))
def test_interlaced_png(width: int) -> None:
    for height in range(1, 18):
        check_interlaced_png(width, height)


def check_interlaced_png(width: int, height: int) -> None:
    """Rows of the seven passes (PNG, 8.1), each with its filter byte, counted pixel by pixel."""
    passes = ((0, 0, 8, 8), (4, 0, 8, 8), (0, 4, 4, 8), (2, 0, 4, 4), (0, 2, 2, 4), (1, 0, 2, 2), (0, 1, 1, 2))
    rows = 0
    for x0, y0, dx, dy in passes:
        columns = len(range(x0, width, dx))
        rows += len(range(y0, height, dy)) * (1 + columns) if columns else 0
    assert picture_file(png(header(width, height, interlaced=1), bytes(rows))).broken == ""
    assert picture_file(png(header(width, height, interlaced=1), bytes(rows + 1))).broken == "its pixels are damaged"


@pytest.mark.parametrize("mode", ["L", "RGB"])
@pytest.mark.parametrize("progressive", [False, True])
def test_whole_jpeg(mode: str, progressive: bool) -> None:
    assert picture_file(written(mode, (33, 20), "JPEG", progressive=progressive)) == PictureFile("jpeg", 33, 20)


def test_whole_gif() -> None:
    assert picture_file(written("P", (33, 20), "GIF")) == PictureFile("gif", 33, 20)
    frames = [Image.new("P", (8, 8), n) for n in range(3)]
    target = io.BytesIO()
    frames[0].save(target, "GIF", save_all=True, append_images=frames[1:], loop=0)
    assert picture_file(target.getvalue()) == PictureFile("gif", 8, 8)


@pytest.mark.parametrize(("form", "called"), [("WEBP", "webp"), ("BMP", "bmp"), ("TIFF", "tiff")])
def test_formats_that_importers_do_not_show(form: str, called: str) -> None:
    found = picture_file(written("RGB", (8, 8), form))
    assert (found.format, found.broken, found.common) == (called, "", False)
    assert picture_file(b'<?xml version="1.0"?><svg/>').format == "svg"


@pytest.mark.parametrize("form", ["PNG", "JPEG", "GIF"])
def test_every_cut_is_noticed(form: str) -> None:
    whole = written("L", (16, 16), form)
    for length in range(len(whole) - (2 if form == "JPEG" else 1)):
        assert picture_file(whole[:length]).broken != "", length


def test_every_changed_byte_of_a_png_is_noticed() -> None:
    whole = written("L", (9, 9), "PNG")
    for at in range(8, len(whole)):
        changed = bytearray(whole)
        changed[at] ^= 0x55
        assert picture_file(bytes(changed)).broken != "", at


@pytest.mark.parametrize(
    ("data", "broken"),
    [
        (b"", "it is empty"),
        (b"text", "its bytes are no picture"),
        (png(b"short", b""), "its header is damaged"),
        (png(header(0, 4), b""), "its header is damaged"),
        (png(header(4, 0), b""), "its header is damaged"),
        (png(header(4, 4, depth=3), b""), "its header is damaged"),
        (png(header(4, 4, colour=5), b""), "its header is damaged"),
        (png(header(4, 4, interlaced=2), b""), "its header is damaged"),
        (png(header(4, 4), bytes(19)), "its pixels are damaged"),
        (png(header(4, 4), bytes(21)), "its pixels are damaged"),
        (png(header(4, 4), bytes(20)), ""),
        (
            b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header(1, 1)) + chunk(b"IDAT", b"no deflate") + chunk(b"IEND", b""),
            "its pixels are damaged",
        ),
        (b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header(1, 1)) + chunk(b"IEND", b""), "its pixels are damaged"),
        (b"GIF89a\1\0\1\0\0\0\0;", "it holds no picture"),
        (b"GIF89a\1\0\1\0\0\0\0X", "it is cut off"),
        (b"\xff\xd8\xff\xff\xff\xda\0\2\xff\xd9", "it is cut off"),
    ],
)
def test_broken_pictures(data: bytes, broken: str) -> None:
    assert picture_file(data).broken == broken


def test_huge_png_is_not_unpacked() -> None:
    found = picture_file(huge_png(5_000)[:200] + b"")
    assert found.broken == "it is cut off"
    assert picture_file(huge_png(5_000)).huge


def test_pixels_of_a_png_can_be_left_alone() -> None:
    assert picture_file(png(header(4, 4), bytes(3)), unpack=False).broken == ""
