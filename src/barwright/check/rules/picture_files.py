"""What is wrong with the picture files of a package: whether each is what its name says and whole.

No drawing library is needed.

Sources: PNG (ISO/IEC 15948), 5.2 signature, 5.3 chunks, 11.2.2 header; GIF89a; JPEG (ITU-T T.81), annex B; signatures
of WebP, BMP, TIFF. A PNG is unpacked in bounded steps and its rows are counted; a JPEG and a GIF are walked through to
their ends.
"""

import struct
import zlib
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from barwright.check.reading.package_bounds import MOST_PICTURE_BYTES
from barwright.check.reading.package_files import Files
from barwright.check.rules.findings import Finding, Place

_PNG = b"\x89PNG\r\n\x1a\n"
_CHANNELS = {0: 1, 2: 3, 3: 1, 4: 2, 6: 4}  # samples a pixel by PNG colour type
_ADAM7 = ((0, 0, 8, 8), (4, 0, 8, 8), (0, 4, 4, 8), (2, 0, 4, 4), (0, 2, 2, 4), (1, 0, 2, 2), (0, 1, 1, 2))
MOST_PIXELS = 20_000_000
_STEP = 1 << 18


@dataclass(frozen=True, slots=True)
class PictureFile:
    """What a file is: its format (empty: none that is known), its size in pixels if told, and what is broken in it."""

    format: str
    width: int = 0
    height: int = 0
    broken: str = ""

    @property
    def huge(self) -> bool:
        """Whether no screen is so large; such a picture is not unpacked."""
        return self.width * self.height > MOST_PIXELS

    @property
    def common(self) -> bool:
        """Whether importers show this format."""
        return self.format in ("png", "jpeg", "gif")


ENDINGS = {
    "png": "png",
    "jpg": "jpeg",
    "jpeg": "jpeg",
    "gif": "gif",
    "webp": "webp",
    "bmp": "bmp",
    "tif": "tiff",
    "tiff": "tiff",
    "svg": "svg",
}


def picture_file(data: bytes, *, unpack: bool = True) -> PictureFile:
    """What the bytes of a picture are; without `unpack` the pixels of a PNG are not looked at."""
    if data.startswith(_PNG):
        return _png(data, unpack)
    if data.startswith(b"\xff\xd8\xff"):
        return _jpeg(data)
    if data[:6] in (b"GIF87a", b"GIF89a"):
        return _gif(data)
    if data[:4] == b"RIFF" and data[8:12] == b"WEBP":
        return PictureFile("webp")
    if data.startswith(b"BM"):
        return PictureFile("bmp")
    if data[:4] in (b"II*\0", b"MM\0*"):
        return PictureFile("tiff")
    if b"<svg" in data[:2000]:
        return PictureFile("svg")
    return PictureFile("", broken="its bytes are no picture" if data else "it is empty")


def _png(data: bytes, unpack: bool) -> PictureFile:
    packed, header, at = [], b"", len(_PNG)
    while at < len(data):
        if at + 12 > len(data):
            return _broken_png(header, "it is cut off")
        (length,) = struct.unpack_from(">I", data, at)
        kind, body, end = data[at + 4 : at + 8], data[at + 8 : at + 8 + length], at + 12 + length
        if end > len(data):
            return _broken_png(header, "it is cut off")
        if zlib.crc32(data[at + 4 : end - 4]) != struct.unpack_from(">I", data, end - 4)[0]:
            return _broken_png(header, "its bytes are damaged")
        if kind == b"IHDR":
            header = body
        elif kind == b"IDAT":
            packed.append(body)
        elif kind == b"IEND":
            return _pixels(header, packed if unpack else None)
        at = end
    return _broken_png(header, "it is cut off")


def _broken_png(header: bytes, broken: str) -> PictureFile:
    width, height = struct.unpack_from(">II", header) if len(header) >= 8 else (0, 0)
    return PictureFile("png", width, height, broken)


def _pixels(header: bytes, packed: list[bytes] | None) -> PictureFile:
    """A PNG with its rows unpacked and counted; with its header looked at only if `packed` is None."""
    if len(header) != 13:
        return PictureFile("png", broken="its header is damaged")
    width, height, depth, colour, _, _, interlaced = struct.unpack(">IIBBBBB", header)
    if not width or not height or colour not in _CHANNELS or depth not in (1, 2, 4, 8, 16) or interlaced > 1:
        return PictureFile("png", width, height, "its header is damaged")
    picture = PictureFile("png", width, height)
    if picture.huge or packed is None:
        return picture
    bits = _CHANNELS[colour] * depth
    passes = _ADAM7 if interlaced else ((0, 0, 1, 1),)
    sizes = [(-(-(width - x) // dx), -(-(height - y) // dy)) for x, y, dx, dy in passes]
    wanted = sum(h * (1 + (w * bits + 7) // 8) for w, h in sizes if w > 0 and h > 0)
    broken = "" if _unpacked_bytes(packed, wanted) == wanted else "its pixels are damaged"
    return PictureFile("png", width, height, broken)


def _unpacked_bytes(packed: list[bytes], wanted: int) -> int:
    """How many bytes the data unpacks to, stopping once there are too many; -1 if it cannot be unpacked."""
    unpacker, total = zlib.decompressobj(), 0
    try:
        for body in packed:
            while body:
                total += len(unpacker.decompress(body, _STEP))
                if total > wanted:
                    return total
                body = unpacker.unconsumed_tail
        while not unpacker.eof:
            more = len(unpacker.decompress(b"", _STEP))
            total += more
            if not more or total > wanted:
                break
    except zlib.error:
        return -1
    return total if unpacker.eof else -1


def _jpeg(data: bytes) -> PictureFile:
    """A JPEG walked through by its markers to the first scan, and its end looked for."""
    at, width, height = 2, 0, 0
    while at + 4 <= len(data) and data[at] == 0xFF:
        marker, (length,) = data[at + 1], struct.unpack_from(">H", data, at + 2)
        if marker == 0xFF:  # fill byte
            at += 1
            continue
        if 0xC0 <= marker <= 0xCF and marker not in (0xC4, 0xC8, 0xCC) and at + 9 <= len(data):
            height, width = struct.unpack_from(">HH", data, at + 5)
        if marker == 0xDA:
            whole = data.rfind(b"\xff\xd9") > at + length and width and height
            return PictureFile("jpeg", width, height, "" if whole else "it is cut off")
        at += 2 + length
    return PictureFile("jpeg", width, height, "it is cut off")


def _gif(data: bytes) -> PictureFile:
    """A GIF walked through by its blocks to the trailer."""
    if len(data) < 13:
        return PictureFile("gif", broken="it is cut off")
    width, height, flags = struct.unpack_from("<HHB", data, 6)
    at, images = 13 + _table_bytes(flags), 0
    while at < len(data):
        sign = data[at]
        if sign == 0x3B:
            broken = "" if images and width and height else "it holds no picture"
            return PictureFile("gif", width, height, broken)
        if sign == 0x21:
            at += 2
        elif sign == 0x2C and at + 10 < len(data):
            at += 11 + _table_bytes(data[at + 9])
            images += 1
        else:
            break
        while at < len(data) and data[at]:
            at += data[at] + 1
        at += 1
    return PictureFile("gif", width, height, "it is cut off")


def _table_bytes(flags: int) -> int:
    return 3 * 2 ** ((flags & 7) + 1) if flags & 0x80 else 0


MOST_UNPACKED_PIXELS = 200_000_000  # of one package; 1,000 items with four pictures each have 100 million


def is_picture(path: str) -> bool:
    """Whether a file is a picture by its ending."""
    return path.rpartition(".")[2].lower() in ENDINGS


def differing(files: Files, paths: Iterable[str]) -> tuple[str, ...]:
    """Of copies of a picture, which have the same bytes and kind of name, the first alone."""
    first: dict[tuple[str, str], str] = {}
    for path in sorted(set(paths)):
        first.setdefault((files.digest(path) or path, path.rpartition(".")[2].lower()), path)
    return tuple(first.values())


def picture_findings(files: Files, paths: Iterable[str]) -> Iterator[Finding]:
    """What is wrong with these picture files, each looked at once; PackageError for a file that cannot be unpacked."""
    left = MOST_UNPACKED_PIXELS
    for path in sorted(set(paths)):
        if path not in files.sizes:
            continue
        if files.sizes[path] > MOST_PICTURE_BYTES:
            what = f"it has over {MOST_PICTURE_BYTES // 1_000_000} MB"
            yield Finding("picture-huge", Place(path), what)
            continue
        picture = picture_file(files.read(path), unpack=left > 0)
        left -= picture.width * picture.height
        yield from _of_one(path, picture)


def _of_one(path: str, picture: PictureFile) -> Iterator[Finding]:
    place, ending = Place(path), path.rpartition(".")[2].lower()
    if picture.broken:
        yield Finding("picture-damaged", place, f"the picture cannot be shown: {picture.broken}")
    elif picture.huge:
        what = f"it has {picture.width} by {picture.height} pixels, over {MOST_PIXELS // 1_000_000} million"
        yield Finding("picture-huge", place, what)
    elif not picture.common:
        yield Finding("picture-format", place, f"the picture is a {picture.format.upper()}")
    elif ENDINGS.get(ending, picture.format) != picture.format:
        yield Finding(
            "picture-misnamed", place, f"the picture is a {picture.format.upper()}, but its name ends in .{ending}"
        )
