"""Packages made to do harm, each with the one line that the check must answer with.

Zips are written byte by byte where zipfile would not make them.
"""

import io
import struct
import zipfile
import zlib
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache

from barwright.check.reading.expression_values import OPERATORS

MANIFEST = "imsmanifest.xml"
PACKAGING = "http://www.imsglobal.org/xsd/imscp_v1p1"


@dataclass(frozen=True)
class Hostile:
    """A name, what makes the bytes, and what the check must say after `NAME: not read: `."""

    name: str
    make: Callable[[], bytes]
    says: str
    slow: bool = False  # to make


@dataclass(frozen=True)
class Heavy:
    """A name and what makes the bytes of a package that is read, at a cost."""

    name: str
    make: Callable[[], bytes]


def manifest(inside: str = "", *, head: str = "", attributes: str = "") -> bytes:
    """A plain QTI 1.2 manifest that lists quiz.xml."""
    listed = '<resource identifier="q" type="imsqti_xmlv1p2" href="quiz.xml"><file href="quiz.xml"/></resource>'
    return (
        f'<?xml version="1.0" encoding="UTF-8"?>{head}<manifest xmlns="{PACKAGING}" identifier="m"{attributes}>'
        f"<organizations/><resources>{listed}{inside}</resources></manifest>"
    ).encode()


def quiz(inside: str, *, head: str = "") -> bytes:
    """A QTI 1.2 document around something."""
    return f'<?xml version="1.0" encoding="UTF-8"?>{head}<questestinterop>{inside}</questestinterop>'.encode()


def zipped(*files: tuple[str, bytes], attributes: int = 0, stored: bool = False) -> bytes:
    """A zip of these files, whatever their names; `stored` ones do not swell."""
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w") as archive:
        for path, data in files:
            entry = zipfile.ZipInfo("x")
            entry.filename, entry.external_attr = path, attributes
            entry.compress_type = zipfile.ZIP_STORED if stored else zipfile.ZIP_DEFLATED
            archive.writestr(entry, data)
    return target.getvalue()


def package(document: bytes, *more: tuple[str, bytes], stored: bool = False) -> bytes:
    """A package with that quiz.xml."""
    return zipped((MANIFEST, manifest()), ("quiz.xml", document), *more, stored=stored)


def patched(data: bytes, offset: int, value: bytes) -> bytes:
    """A zip with something written over in the first entry of its list of contents, `offset` bytes in."""
    at = data.index(b"PK\1\2") + offset
    return data[:at] + value + data[at + len(value) :]


def many(count: int) -> bytes:
    """A zip of so many empty files."""
    return zipped(*((f"f{n}.txt", b"") for n in range(count)))


def long_directory() -> bytes:
    """A zip whose end record promises a list of contents of 2 GB."""
    return b"PK\3\4" + bytes(26) + b"PK\5\6" + struct.pack("<HHHHLLH", 0, 0, 9, 9, 0x7FFF_FFFF, 0, 0)


def sixty_four_bit() -> bytes:
    """A zip with the record of the 64-bit kind, by which the list of contents can be said to be anything."""
    good = package(quiz(""))
    end = good.rindex(b"PK\5\6")
    return good[:end] + b"PK\6\7" + bytes(16) + good[end:]


def swelling() -> bytes:
    """Files that swell too little for a bomb each, but to too much together: so the list of contents says."""
    made = zipped(*((f"f{n}.bin", bytes(200)) for n in range(40)), stored=True)
    small = struct.pack("<LL", 200, 200)
    return made.replace(small, struct.pack("<LL", 200, 9_000_000))


@cache
def huge_png(side: int) -> bytes:
    """A PNG of side by side pixels, all black."""
    row = zlib.compressobj(1)
    body = b"".join(row.compress(bytes(1 + side)) for _ in range(side)) + row.flush()
    chunks = ((b"IHDR", struct.pack(">IIBBBBB", side, side, 8, 0, 0, 0, 0)), (b"IDAT", body), (b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(
        struct.pack(">I", len(b)) + kind + b + struct.pack(">I", zlib.crc32(kind + b)) for kind, b in chunks
    )


def html_item(*texts: str) -> str:
    """An item whose question is made of these HTML texts."""
    each = "".join(f'<mattext texttype="text/html">{text}</mattext>' for text in texts)
    return f"<item><presentation><material>{each}</material></presentation></item>"


NO_QUIZ_NEEDS = "which no quiz needs: export fewer items"
DECLARES = "it declares entities or elements of its own in a DOCTYPE, by which files can do harm: take the DOCTYPE out"
LAUGHS = "".join(
    f'<!ENTITY l{n} "{"&l" + str(n - 1) + ";" if n else "ha"}{f"&l{n - 1};" * 9 if n else ""}">' for n in range(10)
)
SYMLINK = 0o120777 << 16

HOSTILE: tuple[Hostile, ...] = (
    # what is no package
    Hostile("empty", lambda: b"", "it is empty: copy or export it again."),
    Hostile(
        "text",
        lambda: b"Dear colleague",
        "it is not a zip but something else: give the package as it is imported (.zip or .imscc), or its folder.",
    ),
    Hostile(
        "pdf",
        lambda: b"%PDF-1.7",
        "it is not a zip but a PDF: give the package as it is imported (.zip or .imscc), or its folder.",
    ),
    Hostile(
        "rar",
        lambda: b"Rar!\x1a\x07",
        "it is not a zip but a RAR archive: give the package as it is imported (.zip or .imscc), or its folder.",
    ),
    Hostile(
        "cut-off",
        lambda: package(quiz(""))[:200],
        "it is a zip that was cut off: its end is missing; copy or export it again.",
    ),
    Hostile(
        "cut-off-twice",
        lambda: package(quiz(""))[-120:],
        "it is not a zip but something else: give the package as it is imported (.zip or .imscc), or its folder.",
    ),
    Hostile(
        "head-lost",
        lambda: b"PK" + package(quiz(""))[300:],
        "file 'imsmanifest.xml' is damaged: copy or export the package again.",
    ),
    Hostile(
        "directory-lost",
        lambda: patched(package(quiz("")), 0, b"XXXX"),
        "it is a damaged zip: its list of contents cannot be read; copy or export it again.",
    ),
    Hostile(
        "no-manifest",
        lambda: zipped(("quiz.xml", quiz(""))),
        "it has no imsmanifest.xml, so no importer knows what is in it: export it as a package, not as single files.",
    ),
    Hostile(
        "folder-zipped",
        lambda: zipped((f"quiz/{MANIFEST}", manifest())),
        "it has its imsmanifest.xml in the folder 'quiz', where no importer looks: zip what is in that folder.",
    ),
    Hostile(
        "zip-in-zip",
        lambda: zipped(("quiz.zip", package(quiz("")))),
        "it holds another archive, 'quiz.zip', instead of a quiz: unpack it once and check what is inside.",
    ),
    Hostile("other-xml", lambda: b"<html/>", "it begins with <html>, so it is no quiz, item or test of QTI."),
    Hostile(
        "ill-formed",
        lambda: b"<questestinterop>",
        "package: it is not well-formed XML in line 1: Premature end of data in tag questestinterop line 1.",
    ),
    # zips
    Hostile(
        "bomb",
        lambda: zipped((MANIFEST, bytes(60_000_000))),
        "file 'imsmanifest.xml' swells 1028 times when unpacked: a zip bomb; delete it.",
    ),
    Hostile(
        "too-much",
        lambda: swelling(),
        "it unpacks to over 300 MB, which no quiz needs: do not unpack it; if it is a whole course, export the quiz "
        "alone.",
    ),
    Hostile(
        "too-many", lambda: many(14_001), "it holds over 14000 files, which no quiz needs: take the quiz out of it."
    ),
    Hostile(
        "far-too-many", lambda: many(65_000), "it holds over 14000 files, which no quiz needs: take the quiz out of it."
    ),
    Hostile(
        "long-directory", long_directory, "it holds over 14000 files, which no quiz needs: take the quiz out of it."
    ),
    Hostile(
        "64-bit",
        sixty_four_bit,
        "it is a zip of the 64-bit kind, which few importers read: zip it again the ordinary way.",
    ),
    Hostile(
        "path-outside",
        lambda: zipped(("../../etc/cron", b"")),
        "file '../../etc/cron' lies outside the package: do not unpack it.",
    ),
    Hostile(
        "path-inside-out",
        lambda: zipped(("a/../../b", b"")),
        "file 'a/../../b' lies outside the package: do not unpack it.",
    ),
    Hostile(
        "absolute-path",
        lambda: zipped(("/etc/passwd", b"")),
        "file '/etc/passwd' wants a place of its own on the computer, outside the package: do not unpack it.",
    ),
    Hostile(
        "drive",
        lambda: zipped(("C:/x.xml", b"")),
        "file 'C:/x.xml' wants a place of its own on the computer, outside the package: do not unpack it.",
    ),
    Hostile(
        "backslash",
        lambda: zipped(("..\\x.xml", b"")),
        "file name '..\\\\x.xml' holds a backslash, which is a folder on some systems: zip it again.",
    ),
    Hostile(
        "zero-byte",
        lambda: patched(zipped(("a.xml?.exe", b"")), 46, b"a.xml\0.exe"),
        "file name 'a.xml\\x00.exe' holds a zero byte, which hides its real name: do not unpack it.",
    ),
    Hostile("no-name", lambda: zipped(("", b"")), "it holds a file without a name: copy or export it again."),
    Hostile(
        "long-name",
        lambda: zipped(("x" * 300, b"")),
        f"file name {'x' * 60!r}... has 300 characters and 0 folders: use at most 240 and 19.",
    ),
    Hostile(
        "deep-folder",
        lambda: zipped(("a/" * 30 + "x", b"")),
        f"file name {('a/' * 30)!r}... has 61 characters and 30 folders: use at most 240 and 19.",
    ),
    Hostile(
        "symlink",
        lambda: zipped((MANIFEST, b"/etc/passwd"), attributes=SYMLINK),
        "file 'imsmanifest.xml' is a link to somewhere else, not a file: put the file itself there.",
    ),
    Hostile(
        "locked",
        lambda: patched(package(quiz("")), 8, b"\1\0"),
        "file 'imsmanifest.xml' is locked with a password, which no importer can open: zip it without one.",
    ),
    Hostile(
        "strange-packing",
        lambda: patched(package(quiz("")), 10, b"\x0e\0"),
        "file 'imsmanifest.xml' is packed in a way that few importers read: zip it the ordinary way.",
    ),
    Hostile(
        "wrong-checksum",
        lambda: patched(package(quiz("")), 16, b"\1\2\3\4"),
        "file 'imsmanifest.xml' is damaged: copy or export the package again.",
    ),
    # XML
    Hostile(
        "external-entity",
        lambda: package(quiz("&x;", head='<!DOCTYPE q [<!ENTITY x SYSTEM "file:///etc/passwd">]>')),
        f"quiz.xml: {DECLARES}.",
    ),
    Hostile(
        "entity-in-manifest",
        lambda: zipped((MANIFEST, manifest("&x;", head='<!DOCTYPE m [<!ENTITY x SYSTEM "file:///etc/passwd">]>'))),
        f"imsmanifest.xml: {DECLARES}.",
    ),
    Hostile(
        "outer-dtd",
        lambda: package(quiz("&x;", head='<!DOCTYPE q SYSTEM "http://127.0.0.1:9/x.dtd">')),
        "quiz.xml: it uses an entity that only its DOCTYPE explains: write the character itself.",
    ),
    Hostile(
        "parameter-entity",
        lambda: package(quiz("", head='<!DOCTYPE q [<!ENTITY % x SYSTEM "http://127.0.0.1:9/"> %x;]>')),
        f"quiz.xml: {DECLARES}.",
    ),
    Hostile("billion-laughs", lambda: package(quiz("&l9;", head=f"<!DOCTYPE q [{LAUGHS}]>")), f"quiz.xml: {DECLARES}."),
    Hostile(
        "doctype-after-comment",
        lambda: package(quiz("&l9;", head=f"<!-- < > --><?x <!-- ?><!DOCTYPE q [{LAUGHS}]>")),
        f"quiz.xml: {DECLARES}.",
    ),
    Hostile(
        "10-mb-attribute",
        lambda: package(quiz(f'<item ident="{"x" * 10_500_000}"/>'), stored=True),
        "quiz.xml: it holds a text or a nesting of absurd size, which no quiz needs: do not import it.",
    ),
    Hostile(
        "10-mb-attribute-in-manifest",
        lambda: zipped((MANIFEST, manifest(attributes=f' version="{"x" * 10_500_000}"')), stored=True),
        "imsmanifest.xml: it holds a text or a nesting of absurd size, which no quiz needs: do not import it.",
    ),
    Hostile(
        "10-mb-text",
        lambda: package(quiz(f"<qticomment>{'x' * 11_000_000}</qticomment>"), stored=True),
        "quiz.xml: it holds a text or a nesting of absurd size, which no quiz needs: do not import it.",
    ),
    Hostile(
        "40-mb-document",
        lambda: package(quiz(" " * 40_000_000 + "<a/>"), stored=True),
        f"quiz.xml: it has over 32 MB, {NO_QUIZ_NEEDS}.",
    ),
    Hostile(
        "many-elements",
        lambda: package(quiz("<a/>" * 1_500_000), stored=True),
        f"quiz.xml: it holds over 1400000 elements and attributes, {NO_QUIZ_NEEDS}.",
    ),
    Hostile(
        "many-attributes",
        lambda: package(quiz("<a " + "".join(f'a{n}=""' for n in range(40_000)) + "/>")),
        "quiz.xml: an element has over 200 attributes, which no quiz needs: do not import it.",
    ),
    Hostile(
        "many-attributes-of-a-manifest",
        lambda: zipped(
            (MANIFEST, manifest(attributes="".join(f' a{n}=""' for n in range(100_000)))), ("quiz.xml", quiz(""))
        ),
        "imsmanifest.xml: an element has over 200 attributes, which no quiz needs: do not import it.",
    ),
    Hostile(
        "many-namespaces",
        lambda: package(quiz("<a " + "".join(f' xmlns:a{n}="urn:{n}"' for n in range(60_000)) + "/>")),
        "quiz.xml: an element has over 200 attributes, which no quiz needs: do not import it.",
    ),
    Hostile(
        "many-elements-in-many-files",
        lambda: package(quiz(""), *((f"q{n}.xml", b"<x>" + b"<y/>" * 3_999 + b"</x>") for n in range(430))),
        f"it holds over 1700000 elements and attributes, {NO_QUIZ_NEEDS}.",
    ),
    Hostile(
        "many-documents",
        lambda: package(quiz(""), *((f"q{n}.xml", quiz("")) for n in range(1_700))),
        f"it holds over 1600 XML files, {NO_QUIZ_NEEDS}.",
    ),
    Hostile(
        "many-items", lambda: package(quiz('<item ident="i"/>' * 3_001)), f"it holds over 3000 items, {NO_QUIZ_NEEDS}."
    ),
    Hostile(
        "wide-element",
        lambda: package(quiz("<section/>" * 4_001)),
        "quiz.xml: an element holds over 4000 others, which no quiz needs: do not import it.",
    ),
    Hostile(
        "deep-elements",
        lambda: package(quiz("<item>" * 100_000)),
        "quiz.xml: it holds a text or a nesting of absurd size, which no quiz needs: do not import it.",
    ),
    Hostile(
        "deep-elements-closed",
        lambda: package(quiz("<item>" * 200 + "</item>" * 200)),
        "quiz.xml: it has over 80 elements inside one another, which no quiz needs: do not import it.",
    ),
    Hostile(
        "strange-encoding",
        lambda: package(b'<?xml version="1.0" encoding="UTF-7"?><a/>'),
        "quiz.xml: it is in the encoding 'UTF-7', which importers do not read: save it as UTF-8.",
    ),
    Hostile(
        "many-html-elements",
        lambda: package(quiz(html_item("&lt;b&gt;" * 30_000))),
        "quiz.xml: a text holds over 20000 HTML elements, which no question needs: do not import it.",
    ),
    Hostile(
        "deep-html",
        lambda: package(quiz(html_item("&lt;div&gt;" * 5_000))),
        "quiz.xml: a text nests HTML over 80 deep, which no question needs: do not import it.",
    ),
)


def choices12(labels: int, conditions: int) -> str:
    """An item of so many choices and conditions."""
    shown = "".join(f'<response_label ident="c{n}"/>' for n in range(labels))
    tests = "".join(
        f'<respcondition continue="Yes"><conditionvar><varequal respident="r">c{n}</varequal></conditionvar>'
        f"<setvar>1</setvar></respcondition>"
        for n in range(conditions)
    )
    return (
        f'<item ident="i"><presentation><response_lid ident="r"><render_choice>{shown}</render_choice></response_lid>'
        f"</presentation><resprocessing><outcomes><decvar/></outcomes>{tests}</resprocessing></item>"
    )


def item2(declarations: str, body: str, processing: str = "") -> bytes:
    """A QTI 2.2 item on its own."""
    return (
        '<assessmentItem xmlns="http://www.imsglobal.org/xsd/imsqti_v2p2" identifier="i" title="T" adaptive="false" '
        f'timeDependent="false">{declarations}<outcomeDeclaration identifier="SCORE" cardinality="single" '
        f'baseType="float"/><itemBody>{body}</itemBody><responseProcessing>{processing}</responseProcessing>'
        "</assessmentItem>"
    ).encode()


RESPONSE = '<responseDeclaration identifier="R{0}" cardinality="single" baseType="identifier"/>'
DOUBLED = (
    '<setOutcomeValue identifier="SCORE"><product>'
    + 2 * '<variable identifier="SCORE"/>'
    + "</product></setOutcomeValue>"
)


def squared(times: int) -> str:
    """Rules that square a number again and again."""
    start = '<setOutcomeValue identifier="SCORE"><baseValue baseType="float">9e99</baseValue></setOutcomeValue>'
    return start + DOUBLED * times


def resources(count: int) -> bytes:
    """A manifest of resources each of which needs the next ones."""
    return manifest(
        "".join(
            f'<resource identifier="r{n}" type="webcontent"><file href="quiz.xml"/>'
            + "".join(f'<dependency identifierref="r{(n * 7 + k) % count}"/>' for k in range(20))
            + "</resource>"
            for n in range(count)
        )
    )


EVERY_NAMES = (
    "p div span table tbody tr td ul li object img prompt choiceInteraction simpleChoice gapMatchInteraction gapText "
    "gap orderInteraction inlineChoiceInteraction inlineChoice textEntryInteraction match and or not variable correct "
    "sum baseValue mapping mapEntry value responseIf responseElse setOutcomeValue modalFeedback rubricBlock"
)
EVERY = EVERY_NAMES.split()
RULE = "<responseCondition><responseIf><{}/></responseIf></responseCondition>"
# Heavy but nothing that is refused at once: whatever is found, it must be found in time.
HEAVY: tuple[Heavy, ...] = (
    Heavy(
        "many-faults-in-many-files",
        lambda: package(quiz(""), *((f"q{n}.xml", quiz("<section/>" * 3_999)) for n in range(130))),
    ),
    Heavy("many-choices-and-conditions", lambda: package(quiz(choices12(3_900, 3_900)))),
    Heavy("many-conditions", lambda: package(quiz(choices12(4, 3_900)))),
    Heavy("many-unknown-elements", lambda: package(quiz(("<b>" + "<a/>" * 3_999 + "</b>") * 80), stored=True)),
    Heavy(
        "many-unknown-names",
        lambda: package(
            quiz("".join("<b>" + "".join(f"<a{n}x{m}/>" for n in range(3_999)) + "</b>" for m in range(80))),
            stored=True,
        ),
    ),
    Heavy(
        "many-pictures-in-texts",
        lambda: package(
            quiz(html_item(*["&lt;img src='a.png'&gt;" * 900] * 140)),
            stored=True,
        ),
    ),
    Heavy(
        "many-html-texts",
        lambda: package(
            quiz(html_item(*["&lt;b&gt;x&lt;/b&gt;" * 9_000] * 17)),
            stored=True,
        ),
    ),
    Heavy(
        "long-names",
        lambda: package(quiz(f'<item ident="{"x" * 9_000_000}"/><item ident="{"x" * 1_000_000}"/>'), stored=True),
    ),
    Heavy("many-small-items", lambda: package(quiz("".join(choices12(5, 5) for _ in range(2_900))), stored=True)),
    Heavy("many-resources", lambda: zipped((MANIFEST, resources(5_000)), ("quiz.xml", quiz("")))),
    Heavy(
        "many-missing-files",
        lambda: zipped(
            (
                MANIFEST,
                manifest(
                    "".join(
                        f'<resource identifier="r" type="webcontent"><file href="F{n}.txt"/></resource>'
                        for n in range(11_000)
                    )
                ),
            ),
            ("quiz.xml", quiz("")),
            *((f"f{n}.txt", b"") for n in range(9_000)),
        ),
    ),
    Heavy(
        "many-places-to-answer",
        lambda: item2(
            "".join(map(RESPONSE.format, range(3_900))),
            "<p>" + "".join(f'<textEntryInteraction responseIdentifier="R{n}"/>' for n in range(3_900)) + "</p>",
        ),
    ),
    Heavy(
        "many-choices",
        lambda: item2(
            RESPONSE.format(""),
            '<choiceInteraction responseIdentifier="R">'
            + "".join(f'<simpleChoice identifier="c{n}">{n}</simpleChoice>' for n in range(3_900))
            + "</choiceInteraction>",
        ),
    ),
    Heavy(
        "growing-number",
        lambda: item2(
            RESPONSE.format(""),
            '<choiceInteraction responseIdentifier="R"><simpleChoice identifier="a"/></choiceInteraction>',
            squared(500),
        ),
    ),
    Heavy(
        "patterns-that-backtrack",
        lambda: item2(
            RESPONSE.format(""),
            "<p/>",
            '<setOutcomeValue identifier="SCORE"><patternMatch pattern="(a+)+$"><baseValue baseType="string">'
            + "a" * 60
            + "!</baseValue></patternMatch></setOutcomeValue>",
        ),
    ),
    Heavy("operators-of-nothing", lambda: item2(RESPONSE.format(""), "<p/>", "".join(map(RULE.format, OPERATORS)))),
    Heavy(
        "many-attributes-each", lambda: package(quiz(("<b " + "".join(f'a{n}="" ' for n in range(199)) + "/>") * 3_000))
    ),
    Heavy(
        "long-path-of-a-picture",
        lambda: zipped(
            (
                MANIFEST,
                manifest(
                    f'<resource identifier="r" type="webcontent"><file href="{"a/" * 900_000}b"/></resource>'
                ).replace(PACKAGING.encode(), b"http://www.imsglobal.org/xsd/imsccv1p3/imscp_v1p1"),
            ),
            ("quiz.xml", quiz("")),
        ),
    ),
    Heavy("huge-picture", lambda: package(quiz(""), ("a.png", huge_png(16_000)))),
    Heavy("many-large-pictures", lambda: package(quiz(""), *((f"a{n}.png", huge_png(4_000)) for n in range(40)))),
    Heavy("many-pictures", lambda: package(quiz(""), *((f"a{n}.png", huge_png(8)) for n in range(11_000)))),
    Heavy("many-broken-documents", lambda: package(quiz(""), *((f"q{n}.xml", b"<") for n in range(1_500)))),
    Heavy(
        "every-element-wrong",
        lambda: item2("".join(map(RESPONSE.format, ("",))), "".join(f"<{n} x='1'/>" for n in EVERY) * 40),
    ),
)
