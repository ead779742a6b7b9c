"""What a file is that should be text in UTF-8 and is not, told by its first bytes and by its zeros."""

from codecs import BOM_UTF16_BE, BOM_UTF16_LE, BOM_UTF32_BE, BOM_UTF32_LE

# The first bytes of files, from the public descriptions of these formats.
_STARTS = {
    b"PK\x03\x04": "a zip, such as a document of a word processor or a package",
    b"PK\x05\x06": "an empty zip",
    b"%PDF": "a PDF",
    b"\x89PNG": "a picture",
    b"\xff\xd8\xff": "a picture",
    b"GIF8": "a picture",
    b"BM": "",  # also how many a text begins
    b"\xd0\xcf\x11\xe0": "an old document of a word processor or a spreadsheet",
    b"{\\rtf": "a document of a word processor",
    b"\x1f\x8b": "a compressed file",
    b"7z\xbc\xaf": "a compressed file",
    b"\x7fELF": "a program",
    b"MZ\x90": "a program",
    b"SQLite format 3": "a database",
    b"OTTO": "a font",
    b"\x00\x01\x00\x00\x00": "a font",
    b"ID3": "a sound",
    b"RIFF": "a sound or a film",
    b"MThd": "a MIDI file",
}
_MARKS = {
    BOM_UTF32_LE: "UTF-32",
    BOM_UTF32_BE: "UTF-32",
    BOM_UTF16_LE: "UTF-16",
    BOM_UTF16_BE: "UTF-16",
}
LOOKED_AT = 2_000  # bytes


def what_else(content: bytes) -> str:
    """What the bytes are if they are no text; empty if they may be text.

    >>> what_else(b"%PDF-1.7"), what_else(b"title"), what_else(b"ab\\0cdef")
    ('a PDF', '', 'no text')
    """
    known = next((called for start, called in _STARTS.items() if called and content.startswith(start)), "")
    if known or coding_of(content):
        return known
    return "no text" if b"\0" in content else ""


def coding_of(content: bytes) -> str:
    """`UTF-16` or `UTF-32` if bytes are so written, with a mark at the start or without; else empty.

    Without a mark it shows in the zeros: most letters of a plain text have a value below 256.

    >>> coding_of("title".encode("utf-16-le")), coding_of("title".encode("utf-32-be")), coding_of(b"title")
    ('UTF-16', 'UTF-32', '')
    """
    marked = next((name for mark, name in _MARKS.items() if content.startswith(mark)), "")
    if marked:
        return marked
    head = content[:LOOKED_AT]
    for width in (4, 2):
        full = len(head) // width * width
        zeros = [head[place:full:width].count(0) * width for place in range(width)]
        some = full * 7 // 10  # of the letters have zeros there
        if full and (min(zeros[1:]) >= some > zeros[0] or min(zeros[:-1]) >= some > zeros[-1]):
            return f"UTF-{8 * width}"
    return ""
