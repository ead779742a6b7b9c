"""Packages with one fault each, made from good ones: what is done to the good one, and what the check must say of it.

Bases: `cc13`, `cc13-bank`, `qti12`, `qti12-bank` are written by our writers from the form in conftest.py; `sample-...`
are the published-standard samples in BARWRIGHT_STANDARDS; `item22-...`, `item30-...` are single documents there.
"""

import re
import zlib
from collections.abc import Callable
from dataclasses import dataclass

Files = dict[str, bytes]
Break = Callable[[Files], None]


@dataclass(frozen=True)
class Broken:
    """A name, the good package it is made from, what is done to its files, and the rule and words to be found."""

    name: str
    base: str
    breaks: Break
    rule: str
    what: str


def edit(path: str, old: str, new: str) -> Break:
    """Replaces the first `old` by `new` in a file; a file without `old` is a fault of the test."""

    def breaks(files: Files) -> None:
        text = files[path].decode()
        assert old in text, f"{path} has no {old!r}"
        files[path] = text.replace(old, new, 1).encode()

    return breaks


def cut(path: str, pattern: str, new: str | Callable[[re.Match[str]], str] = "") -> Break:
    """Replaces the first match of a pattern, line ends included."""

    def breaks(files: Files) -> None:
        text, count = re.subn(pattern, new, files[path].decode(), count=1, flags=re.DOTALL)
        assert count, f"{path} has no {pattern!r}"
        files[path] = text.encode()

    return breaks


def copies(files: Files, path: str) -> list[str]:
    """A path, and that of its copy in a cartridge."""
    return [each for each in (path, f"quiz/{path}") if each in files]


def drop(path: str) -> Break:
    """Takes a file out."""

    def breaks(files: Files) -> None:
        del files[path]

    return breaks


def put(path: str, data: bytes) -> Break:
    """Puts a file in, or another in its place and that of its copy."""

    def breaks(files: Files) -> None:
        for each in copies(files, path) or [path]:
            files[each] = data

    return breaks


def rename(path: str, new: str) -> Break:
    """Gives a file another name."""

    def breaks(files: Files) -> None:
        files[new] = files.pop(path)

    return breaks


def both(*breaks: Break) -> Break:
    """One fault that takes several edits."""

    def breaks_all(files: Files) -> None:
        for each in breaks:
            each(files)

    return breaks_all


def rename_picture(path: str, new: str) -> Break:
    """Gives a picture another name everywhere, its copy in a cartridge as well, so that nothing but the name is at
    fault.
    """

    def breaks(files: Files) -> None:
        for each in copies(files, path):
            files[each.replace(path, new)] = files.pop(each)
        for name in [n for n in files if n.endswith(".xml")]:
            files[name] = files[name].replace(path.encode(), new.encode())

    return breaks


def spoiled_png(data: bytes) -> bytes:
    """The PNG with too few pixel bytes and the checksums right again: only unpacking shows it."""
    at = data.index(b"IDAT")
    length = int.from_bytes(data[at - 4 : at], "big")
    body = zlib.compress(b"\0" * 3)
    chunk = b"IDAT" + body
    made = len(body).to_bytes(4, "big") + chunk + zlib.crc32(chunk).to_bytes(4, "big")
    return data[: at - 4] + made + data[at + 4 + length + 4 :]


def spoil(path: str) -> Break:
    """Spoils the pixels of a PNG."""

    def breaks(files: Files) -> None:
        for each in copies(files, path):
            files[each] = spoiled_png(files[each])

    return breaks


def shorten(path: str, count: int) -> Break:
    """Cuts the last bytes of a file off."""

    def breaks(files: Files) -> None:
        for each in copies(files, path):
            files[each] = files[each][:-count]

    return breaks


def organization(ident: str, shown: str) -> str:
    """The contents of a cartridge with one entry."""
    entry = f'<item identifier="{ident}e" identifierref="{shown}"><title>T</title></item>'
    top = f'<item identifier="{ident}t">{entry}</item>'
    return f'<organization identifier="{ident}" structure="rooted-hierarchy">{top}</organization>'


def resource(ident: str, kind: str, path: str, *, needs: str = "") -> str:
    """A resource of one file."""
    dependency = f'<dependency identifierref="{needs}"/>' if needs else ""
    return f'<resource identifier="{ident}" type="{kind}" href="{path}"><file href="{path}"/>{dependency}</resource>'


C2_CONDITION = (
    r'(<varequal respident="response">c2</varequal>\s*</conditionvar>)'
    r'(\s*<displayfeedback feedbacktype="Response" linkrefid="c2_fb")'
)
GIF = b"GIF89a\x01\0\x01\0\0\0\0,\0\0\0\0\x01\0\x01\0\0\x02\x02D\x01\0;"
SVG = b'<svg xmlns="http://www.w3.org/2000/svg" width="4" height="2"/>'


def png(width: int, height: int) -> bytes:
    """A PNG of one grey, eight bits a pixel."""
    head = width.to_bytes(4, "big") + height.to_bytes(4, "big") + b"\x08\0\0\0\0"
    body = zlib.compress((b"\0" + b"\x80" * width) * height)
    return b"\x89PNG\r\n\x1a\n" + b"".join(
        len(data).to_bytes(4, "big") + kind + data + zlib.crc32(kind + data).to_bytes(4, "big")
        for kind, data in ((b"IHDR", head), (b"IDAT", body), (b"IEND", b""))
    )


GREY = png(1, 1)
M = "imsmanifest.xml"
QUIZ, PLAIN = "quiz/quiz.xml", "quiz.xml"
ITEM22 = ITEM30 = "items/item-1.xml"
PIC = "images/four-quarters.png"

OURS: tuple[Broken, ...] = (
    # the manifest of a cartridge
    Broken(
        "wrong-schema",
        "cc13",
        edit(M, "1.3.0", "1.1.0"),
        "schema-name",
        (
            "the manifest calls itself 'IMS Common Cartridge' '1.1.0'; Common Cartridge 1.3 is "
            "'IMS Common Cartridge' '1.3.0'"
        ),
    ),
    Broken(
        "no-title",
        "cc13",
        cut(M, r"<lom:title>.*?</lom:title>"),
        "no-title",
        "the metadata of the cartridge has no title",
    ),
    Broken(
        "strange-type",
        "cc13",
        edit(M, 'type="webcontent"', 'type="picture"'),
        "resource-type",
        "the type 'picture' of 'images_f0000.png' is none of Common Cartridge 1.3",
    ),
    Broken(
        "type-of-older-version",
        "cc13",
        edit(M, "imscc_xmlv1p3/assessment", "imscc_xmlv1p1/assessment"),
        "resource-type",
        ("the type 'imsqti_xmlv1p2/imscc_xmlv1p1/assessment' of 'resource_quiz' is none of Common Cartridge 1.3"),
    ),
    Broken(
        "same-resource-twice",
        "cc13",
        edit(M, "</resources>", '<resource identifier="images_f0000.png" type="webcontent"/></resources>'),
        "resource-twice",
        "two resources have the identifier 'images_f0000.png'",
    ),
    Broken(
        "picture-not-in-zip",
        "cc13",
        drop("images/f0002.png"),
        "file-missing",
        "the file 'images/f0002.png' is listed but not in the package",
    ),
    Broken(
        "picture-in-other-case",
        "cc13",
        rename("images/f0002.png", "images/F0002.png"),
        "file-missing",
        (
            "the file 'images/f0002.png' is listed but not in the package ('images/F0002.png' is: "
            "upper and lower case count)"
        ),
    ),
    Broken(
        "picture-unlisted",
        "cc13",
        cut(
            M,
            r'<dependency identifierref="images_f0003.png"/>(.*)<resource identifier="images_f0003.png".*?</resource>',
            r"\1",
        ),
        "picture-unlisted",
        "'images/f0003.png' is shown but not listed in the manifest",
    ),
    Broken(
        "no-dependency",
        "cc13",
        cut(M, r'<dependency identifierref="images_f0002.png"/>'),
        "dependency-missing",
        ("'resource_quiz' uses 'images/f0002.png' but does not depend on the resource that lists it"),
    ),
    Broken(
        "unknown-dependency",
        "cc13",
        edit(M, "</resource>", '<dependency identifierref="nowhere"/></resource>'),
        "dependency-unknown",
        "'resource_quiz' depends on 'nowhere', which is not there",
    ),
    Broken(
        "contents-open-nothing",
        "cc13",
        edit(M, 'identifierref="resource_quiz"', 'identifierref="resource_test"'),
        "contents-link-unknown",
        "an entry opens 'resource_test', which is not there",
    ),
    Broken(
        "two-organizations",
        "cc13",
        cut(
            M,
            r"(<organization .*</organization>)",
            r"\1" + organization("o2", "resource_quiz"),
        ),
        "contents-shape",
        "there are 2 organizations",
    ),
    Broken(
        "flat-organization",
        "cc13",
        edit(M, ' structure="rooted-hierarchy"', ""),
        "contents-shape",
        "the structure of the organization is ''",
    ),
    Broken(
        "titled-root",
        "cc13",
        edit(M, '<item identifier="top">', '<item identifier="top"><title>Top</title>'),
        "contents-shape",
        "the root item has a title or opens something",
    ),
    Broken(
        "bank-in-contents",
        "cc13-bank",
        edit(
            M,
            "<organizations/>",
            f"<organizations>{organization('o', 'resource_bank')}</organizations>",
        ),
        "bank-in-contents",
        "the contents open the question bank 'resource_bank'",
    ),
    Broken(
        "quiz-lists-picture",
        "cc13",
        both(
            cut(M, r'<resource identifier="images_f0003.png".*?</resource>'),
            edit(M, '<file href="quiz/quiz.xml"/>', '<file href="quiz/quiz.xml"/><file href="images/f0003.png"/>'),
            cut(M, r'<dependency identifierref="images_f0003.png"/>'),
        ),
        "descriptor-files",
        "'resource_quiz' lists 2 files, but a quiz lists itself only",
    ),
    Broken(
        "quiz-with-href",
        "cc13",
        edit(
            M,
            'type="imsqti_xmlv1p2/imscc_xmlv1p3/assessment"',
            'type="imsqti_xmlv1p2/imscc_xmlv1p3/assessment" href="quiz/quiz.xml"',
        ),
        "descriptor-href",
        "'resource_quiz' has an href",
    ),
    Broken(
        "quiz-at-top",
        "cc13",
        both(rename(QUIZ, PLAIN), edit(M, "quiz/quiz.xml", "quiz.xml")),
        "descriptor-at-top",
        "the file of 'resource_quiz' is at the top of the package",
    ),
    Broken(
        "picture-in-quiz-folder",
        "cc13",
        rename_picture("images/f0000.png", "quiz/f0000.png"),
        "webcontent-inside",
        "the web content 'quiz/f0000.png' lies in the folder of a quiz",
    ),
    Broken(
        "listed-twice",
        "cc13",
        edit(M, '<file href="images/f0000.png"/>', '<file href="images/f0000.png"/><file href="images/f0004.png"/>'),
        "file-listed-twice",
        "'images/f0004.png' is listed 2 times",
    ),
    Broken(
        "elements-out-of-order",
        "cc13",
        cut(M, r"(<organizations>.*</organizations>)\s*(<resources>.*</resources>)", r"\2\1"),
        "wrong-children",
        (
            "<manifest> holds <metadata>, <resources>, <organizations>; the standard wants "
            "<metadata> (if wanted), <organizations>, <resources>, <manifest> (any number)"
        ),
    ),
    Broken(
        "identifier-with-digit",
        "cc13",
        edit(M, 'identifier="entry"', 'identifier="1"'),
        "wrong-value",
        ("identifier='1' of <item> is not a name (a letter or _ first, then letters, digits, - _ and .)"),
    ),
    # files
    Broken(
        "system-file",
        "cc13",
        put("__MACOSX/._quiz.xml", b"x"),
        "system-file",
        "the package holds '__MACOSX/._quiz.xml'",
    ),
    Broken("stray-file", "cc13", put("notes.txt", b"x"), "file-unlisted", "'notes.txt' is not listed in the manifest"),
    Broken(
        "archive-inside",
        "cc13",
        both(
            put("more.zip", b"PK\5\6" + bytes(18)),
            edit(
                M,
                "</resources>",
                f"{resource('m', 'webcontent', 'more.zip')}</resources>",
            ),
        ),
        "nested-archive",
        "'more.zip' is an archive inside the package",
    ),
    Broken(
        "blank-in-name",
        "qti12",
        rename_picture("images/f0000.png", "images/f 0.png"),
        "unsafe-name",
        "the name 'images/f 0.png' holds a blank or a special sign",
    ),
    Broken(
        "names-differ-in-case",
        "qti12",
        both(
            put("images/F0000.png", GREY),
            edit(
                M, '<file href="images/f0000.png"/>', '<file href="images/f0000.png"/><file href="images/F0000.png"/>'
            ),
        ),
        "names-differ-in-case",
        "'images/F0000.png', 'images/f0000.png' differ in upper and lower case only",
    ),
    Broken(
        "file-outside",
        "qti12",
        edit(M, '<file href="images/f0000.png"/>', '<file href="images/f0000.png"/><file href="../f.png"/>'),
        "file-outside",
        "the file '../f.png' is not in the package",
    ),
    Broken(
        "href-unlisted",
        "qti12",
        edit(M, '<file href="quiz.xml"/>', ""),
        "href-unlisted",
        "'quiz.xml' is the href of 'resource_quiz', but not among its files",
    ),
    # pictures
    Broken(
        "picture-cut-off",
        "cc13",
        shorten("images/f0000.png", 20),
        "picture-damaged",
        "the picture cannot be shown: it is cut off",
    ),
    Broken(
        "picture-bytes-changed",
        "cc13",
        put("images/f0000.png", b""),
        "picture-damaged",
        "the picture cannot be shown: it is empty",
    ),
    Broken(
        "picture-pixels-missing",
        "cc13",
        spoil("images/f0000.png"),
        "picture-damaged",
        "the picture cannot be shown: its pixels are damaged",
    ),
    Broken(
        "picture-is-text",
        "cc13",
        put("images/f0000.png", b"not a picture"),
        "picture-damaged",
        "the picture cannot be shown: its bytes are no picture",
    ),
    Broken(
        "picture-is-gif",
        "cc13",
        put("images/f0000.png", GIF),
        "picture-misnamed",
        "the picture is a GIF, but its name ends in .png",
    ),
    Broken(
        "picture-is-svg",
        "cc13",
        both(put("images/f0000.png", SVG), rename_picture("images/f0000.png", "images/f0000.svg")),
        "picture-format",
        "the picture is a SVG",
    ),
    Broken(
        "no-alt",
        "cc13",
        cut(QUIZ, r' alt="One measure, signature[^>]*?"'),
        "alt-missing",
        "the picture '$IMS-CC-FILEBASE$/images/f0000.png' has no alternative text",
    ),
    Broken(
        "empty-alt",
        "cc13",
        cut(QUIZ, r' alt="Half note."', ' alt=""'),
        "alt-empty",
        "the picture '$IMS-CC-FILEBASE$/images/f0004.png' has an empty alternative text",
    ),
    Broken(
        "no-size",
        "cc13",
        cut(QUIZ, r' width="4"'),
        "size-missing",
        "the picture '$IMS-CC-FILEBASE$/images/f0000.png' has neither width nor height",
    ),
    Broken(
        "no-filebase",
        "cc13",
        edit(QUIZ, "$IMS-CC-FILEBASE$/images", "../images"),
        "filebase-missing",
        "the link '../images/f0000.png' does not begin with $IMS-CC-FILEBASE$/",
    ),
    Broken(
        "filebase-without-slash",
        "cc13",
        edit(QUIZ, "$IMS-CC-FILEBASE$/images", "$IMS-CC-FILEBASE$../images"),
        "filebase-strange",
        "the link '$IMS-CC-FILEBASE$../images/f0000.png' has no / after $IMS-CC-FILEBASE$",
    ),
    Broken(
        "filebase-from-file",
        "cc13",
        edit(QUIZ, "$IMS-CC-FILEBASE$/images", "$IMS-CC-FILEBASE$/../images"),
        "filebase-from-file",
        "the link '$IMS-CC-FILEBASE$/../images/f0000.png' is read from the folder of 'quiz/quiz.xml'; the top has no "
        "such file",
    ),
    Broken(
        "filebase-two-files",
        "cc13",
        put("quiz/images/f0003.png", GREY),
        "filebase-two-files",
        "the link '$IMS-CC-FILEBASE$/images/f0003.png' is 'images/f0003.png' from the top and 'quiz/images/f0003.png' "
        "from the quiz, which differ",
    ),
    Broken(
        "filebase-in-plain",
        "qti12",
        edit(PLAIN, 'src="images/', 'src="$IMS-CC-FILEBASE$/images/'),
        "filebase-in-plain",
        "the link '$IMS-CC-FILEBASE$/images/f0000.png' begins with $IMS-CC-FILEBASE$",
    ),
    Broken(
        "remote-picture",
        "cc13",
        cut(QUIZ, r"\$IMS-CC-FILEBASE\$/images/f0000.png", "https://example.org/f.png"),
        "remote-picture",
        "the picture 'https://example.org/f.png' is not in the package",
    ),
    Broken(
        "broken-link",
        "cc13",
        edit(QUIZ, "images/f0000.png", "images/g0000.png"),
        "picture-missing",
        "the picture '$IMS-CC-FILEBASE$/images/g0000.png' is not in the package",
    ),
    # structure
    Broken(
        "not-well-formed",
        "cc13",
        edit(QUIZ, "</section>", ""),
        "not-well-formed",
        ("the file is not well-formed XML: Opening and ending tag mismatch: section line 37 and assessment"),
    ),
    Broken(
        "unknown-element",
        "cc13",
        edit(QUIZ, "<presentation ", "<presentations/><presentation "),
        "unknown-element",
        "<presentations> does not belong in <item>",
    ),
    Broken(
        "unknown-attribute",
        "cc13",
        edit(QUIZ, "<section ", '<section order="1" '),
        "unknown-attribute",
        "<section> has the attribute 'order', which the standard does not know",
    ),
    Broken(
        "missing-attribute",
        "cc13",
        edit(QUIZ, ' ident="root_section"', ""),
        "missing-attribute",
        "<section> lacks the attribute 'ident'",
    ),
    Broken(
        "value-not-listed",
        "cc13",
        edit(QUIZ, 'shuffle="Yes"', 'shuffle="true"'),
        "wrong-value",
        "shuffle='true' of <render_choice> is none of No, Yes",
    ),
    Broken(
        "text-between-elements",
        "cc13",
        edit(QUIZ, "<resprocessing>", "stray<resprocessing>"),
        "misplaced-text",
        "text stands directly in <item>",
    ),
    Broken(
        "children-out-of-order",
        "qti12",
        cut(PLAIN, r"(<resprocessing>\s*)(<outcomes>.*?</outcomes>)\s*(<respcondition.*?</respcondition>)", r"\1\3\2"),
        "wrong-children",
        (
            "<resprocessing> holds <respcondition>, <outcomes>, <respcondition>, <respcondition>; "
            "the standard wants <qticomment> (if wanted), <outcomes>, <respcondition> or "
            "<itemproc_extension> (at least one)"
        ),
    ),
    Broken(
        "wrong-namespace",
        "cc13",
        edit(QUIZ, 'xmlns="http://www.imsglobal.org/xsd/ims_qtiasiv1p2"', 'xmlns="urn:quiz"'),
        "wrong-value",
        ("the namespace of the quiz is 'urn:quiz'; a cartridge wants 'http://www.imsglobal.org/xsd/ims_qtiasiv1p2'"),
    ),
    Broken(
        "doctype",
        "qti12",
        edit(PLAIN, "<questestinterop", '<!DOCTYPE questestinterop SYSTEM "ims_qtiasiv1p2p1.dtd"><questestinterop'),
        "doctype",
        "the file begins with a DOCTYPE",
    ),
    Broken(
        "latin-1",
        "qti12",
        edit(PLAIN, 'encoding="UTF-8"', 'encoding="ISO-8859-1"'),
        "encoding",
        "the file is in iso8859-1, not in UTF-8",
    ),
    # items
    Broken(
        "same-item-twice",
        "cc13",
        edit(QUIZ, 'ident="q00a2"', 'ident="q00a1"'),
        "item-twice",
        "the identifier 'q00a1' is taken by the item in quiz/quiz.xml, line 38",
    ),
    Broken(
        "same-choice-twice",
        "cc13",
        edit(QUIZ, 'response_label ident="c3"', 'response_label ident="c1"'),
        "choice-twice",
        "two choices have the identifier 'c1'",
    ),
    Broken(
        "no-key",
        "cc13",
        cut(QUIZ, r'<respcondition continue="No">.*?</respcondition>', ""),
        "no-scoring",
        "no condition sets a score",
    ),
    Broken(
        "key-is-no-choice",
        "cc13",
        cut(QUIZ, r'(<respcondition continue="No">\s*<conditionvar>\s*<varequal respident="response">)c2', r"\1c9"),
        "key-no-choice",
        "'c9' is none of the choices 'c1', 'c2', 'c3'",
    ),
    Broken(
        "feedback-of-no-choice",
        "cc13",
        edit(QUIZ, '<varequal respident="response">c1', '<varequal respident="response">c9'),
        "answer-no-choice",
        "'c9' is none of the choices 'c1', 'c2', 'c3'",
    ),
    Broken(
        "unknown-response",
        "qti12",
        edit(PLAIN, '<varequal respident="response">c2', '<varequal respident="answer">c2'),
        "response-unknown",
        "<varequal> is about the response 'answer'; the item has 'response'",
    ),
    Broken(
        "undeclared-score",
        "qti12",
        edit(PLAIN, '<setvar varname="SCORE"', '<setvar varname="POINTS"'),
        "variable-unknown",
        "a score is set as 'POINTS', which is not declared",
    ),
    Broken(
        "unknown-feedback",
        "cc13",
        edit(QUIZ, 'linkrefid="c1_fb"', 'linkrefid="c9_fb"'),
        "feedback-unknown",
        "feedback 'c9_fb' is to be shown, but there is none of that name",
    ),
    Broken(
        "unused-feedback",
        "cc13",
        cut(
            QUIZ,
            r'<respcondition continue="Yes">\s*<conditionvar>\s*<varequal respident="response">c1.*?</respcondition>',
        ),
        "feedback-unused",
        "nothing shows the feedback 'c1_fb'",
    ),
    Broken(
        "same-feedback-twice",
        "cc13",
        cut(QUIZ, r'(<itemfeedback ident="c1_fb">.*?</itemfeedback>)', r"\1\1"),
        "feedback-twice",
        "two feedback texts have the identifier 'c1_fb'",
    ),
    Broken(
        "full-score-unreachable",
        "qti12",
        edit(PLAIN, 'minvalue="0" maxvalue="1"', 'minvalue="0" maxvalue="2"'),
        "full-unreachable",
        "the full score is 2, but the best answer gets 1",
    ),
    Broken(
        "score-too-high",
        "qti12",
        edit(PLAIN, 'action="Set">1<', 'action="Set">3<'),
        "score-too-high",
        "an answer scores 3, but the maximum is 1",
    ),
    Broken(
        "wrong-answer-scores",
        "qti12",
        cut(
            PLAIN,
            C2_CONDITION,
            r'\1<setvar varname="SCORE" action="Set">1</setvar>\2',
        ),
        "wrong-scores",
        "the wrong answer 'c2' gets 1 of 2",
    ),
    Broken(
        "wrong-answer-scores-full",
        "qti12",
        cut(
            PLAIN,
            C2_CONDITION,
            r'\1<setvar varname="SCORE" action="Set">2</setvar>\2',
        ),
        "several-keys",
        "each of 'c1', 'c2' counts as right",
    ),
    Broken(
        "nothing-scores",
        "qti12",
        cut(PLAIN, r"(<other/>\s*</conditionvar>)", r'\1<setvar varname="SCORE" action="Set">1</setvar>'),
        "nothing-scores",
        "no answer at all gets 1 of 3",
    ),
    Broken(
        "spellings-side-by-side",
        "qti12",
        cut(
            PLAIN,
            r'(<varequal respident="response" case="No">1-2 \(3\)</varequal>)',
            r'\1<varequal respident="response" case="No">1 2 3</varequal>',
        ),
        "implied-and",
        "one answer is to equal '1 2 3', '1-2 (3)' at once",
    ),
    Broken(
        "case-matters",
        "qti12",
        cut(PLAIN, r'(<varequal respident="response") case="No">1 and 2', r'\1 case="Yes">1 and 2'),
        "case-matters",
        "'1 and 2' counts only with just these capital letters",
    ),
    Broken(
        "choices-alike",
        "cc13",
        edit(QUIZ, ">1 (2) 3–4<", ">4/4 &amp; more<"),
        "choices-alike",
        "the choices 'c2' and 'c3' look the same",
    ),
    Broken(
        "key-alike",
        "cc13",
        edit(QUIZ, ">4/4 &amp; more<", ">3/4<"),
        "key-alike",
        "the choices 'c1' and 'c2' look the same",
    ),
    Broken(
        "empty-choice", "cc13", edit(QUIZ, ">4/4 &amp; more<", "><"), "empty-choice", "the choice 'c2' shows nothing"
    ),
    Broken(
        "empty-question",
        "qti12",
        cut(
            PLAIN,
            r'<mattext texttype="text/html">&lt;div lang="en-US"&gt;&lt;p&gt;The time signature.*?</mattext>',
            "<mattext/>",
        ),
        "empty-stem",
        "the item has choices but no question",
    ),
    Broken(
        "no-answer-place",
        "qti12",
        cut(PLAIN, r"<response_lid.*?</response_lid>"),
        "no-response",
        "the item has no place to answer",
    ),
    Broken(
        "profile-of-another-type",
        "cc13",
        edit(QUIZ, "cc.multiple_choice.v0p1", "cc.fib.v0p1"),
        "profile-type",
        "cc.fib.v0p1 wants <response_str> with <render_fib>",
    ),
    Broken(
        "profile-unknown",
        "cc13",
        edit(QUIZ, "cc.multiple_choice.v0p1", "cc.matching.v0p1"),
        "profile-field",
        "cc_profile is 'cc.matching.v0p1'; it must be one of the six item types",
    ),
    Broken(
        "weight-in-words",
        "cc13",
        edit(QUIZ, "<fieldentry>1<", "<fieldentry>one<"),
        "profile-field",
        "cc_weighting is 'one'; it must be a whole number",
    ),
    Broken(
        "strange-field",
        "cc13",
        edit(QUIZ, "<fieldlabel>cc_weighting<", "<fieldlabel>cc_weight<"),
        "profile-field",
        "a cartridge has no metadata field 'cc_weight' here",
    ),
    Broken(
        "multiple-response-unnamed-choice",
        "cc13",
        cut(QUIZ, r"<not>\s*<varequal respident=\"response\">c4</varequal>\s*</not>"),
        "profile-scoring",
        "the condition that scores names every choice, the wrong ones inside <not>",
    ),
    Broken(
        "assessment-without-type",
        "cc13",
        cut(QUIZ, r"<qtimetadatafield>\s*<fieldlabel>qmd_assessmenttype.*?</qtimetadatafield>"),
        "profile-field",
        "the metadata of the assessment lacks qmd_assessmenttype",
    ),
    Broken(
        "worth-nothing",
        "qti12",
        both(
            edit(PLAIN, 'minvalue="0" maxvalue="1"', 'minvalue="0" maxvalue="0"'),
            edit(PLAIN, 'action="Set">1<', 'action="Set">0<'),
        ),
        "worth-nothing",
        "the full score is 0",
    ),
    # giveaways
    Broken(
        "identifiers-tell",
        "cc13",
        lambda files: files.update(
            {
                QUIZ: re.sub(
                    rb'((?:ident="|linkrefid="|>)c2)(?=["<])', lambda m: m[1].replace(b"c2", b"correct"), files[QUIZ]
                )
            }
        ),
        "ident-gives-away",
        "'correct' in the identifiers parts right choices from wrong ones",
    ),
    Broken(
        "file-names-tell",
        "cc13",
        rename_picture("images/f0002.png", "images/key.png"),
        "file-gives-away",
        "'key' in the file names parts right choices from wrong ones",
    ),
    Broken(
        "alt-tells",
        "cc13",
        edit(QUIZ, 'alt="Quarter note."', 'alt="Quarter note (right answer)."'),
        "alt-gives-away",
        "the alternative text 'Quarter note (right answer).' says 'right answer'",
    ),
    Broken(
        "title-tells",
        "qti12",
        edit(PLAIN, 'title="Question 2"', 'title="Why 3/4?"'),
        "title-gives-away",
        "the title 'Why 3/4?' holds the right answer only",
    ),
    Broken(
        "profile-twice",
        "cc13",
        cut(
            QUIZ,
            r"(<qtimetadatafield>\s*<fieldlabel>cc_profile</fieldlabel>\s*<fieldentry>cc\.multiple_choice.*?</qtimetadatafield>)",
            r"\1\1",
        ),
        "profile-field",
        "the metadata of the item has cc_profile 2 times",
    ),
    Broken(
        "no-profile",
        "cc13",
        cut(
            QUIZ,
            r"<qtimetadatafield>\s*<fieldlabel>cc_profile</fieldlabel>\s*<fieldentry>cc\.multiple_choice.*?</qtimetadatafield>",
            "",
        ),
        "profile-field",
        "the metadata of the item has cc_profile 0 times",
    ),
    Broken(
        "one-choice",
        "cc13",
        both(
            cut(QUIZ, r'<response_label ident="c1">.*?</response_label>'),
            cut(QUIZ, r'<response_label ident="c3">.*?</response_label>'),
            cut(
                QUIZ,
                r'(<respcondition continue="Yes">.*?</respcondition>\s*){2}',
            ),
            cut(QUIZ, r'<itemfeedback ident="c1_fb">.*?</itemfeedback>'),
            cut(QUIZ, r'<itemfeedback ident="c3_fb">.*?</itemfeedback>'),
        ),
        "one-choice",
        "the only choice is 'c2'",
    ),
    Broken(
        "huge-picture",
        "cc13",
        put("images/f0000.png", png(5_000, 5_000)),
        "picture-huge",
        "it has 5000 by 5000 pixels, over 20 million",
    ),
    Broken(
        "two-banks",
        "cc13-bank",
        both(
            lambda files: files.update(
                {"more/bank.xml": re.sub(rb'ident="(q|f)', rb'ident="m\1', files["bank/bank.xml"])}
            ),
            cut(
                M,
                r'(<resource identifier="resource_bank".*?</resource>)',
                lambda m: m[1] + m[1].replace("resource_bank", "second_bank").replace("bank/bank.xml", "more/bank.xml"),
            ),
        ),
        "several-banks",
        "the cartridge holds 2 question banks",
    ),
    Broken(
        "resource-without-file",
        "qti12",
        edit(M, "</resources>", '<resource identifier="r" type="imsqti_xmlv1p2"/></resources>'),
        "resource-without-file",
        "the resource 'r' lists no file",
    ),
    Broken(
        "typed-without-key",
        "qti12",
        cut(
            PLAIN,
            r'(<response_str ident="response".*?<resprocessing>.*?</outcomes>).*?(</resprocessing>).*?(</item>)',
            r"\1<respcondition><conditionvar><other/></conditionvar></respcondition>\2\3",
        ),
        "by-hand",
        "nothing says what is right for 'response'",
    ),
    Broken(
        "unknown-standard",
        "qti12",
        edit(M, "imsqti_xmlv1p2", "application/quiz"),
        "unknown-standard",
        ("the manifest lists resources of the types 'application/quiz', no quiz that is known here"),
    ),
    Broken(
        "material-from-elsewhere",
        "qti12",
        edit(PLAIN, "<response_lid", '<material><matref linkrefid="m"/></material><response_lid'),
        "included-parts",
        "<matref> takes a part from elsewhere",
    ),
    # what importers drop
    Broken(
        "script",
        "cc13",
        edit(QUIZ, "&lt;p&gt;The time", "&lt;script&gt;x()&lt;/script&gt;&lt;p&gt;The time"),
        "active-content",
        "the text holds <script>",
    ),
    Broken(
        "event-attribute",
        "cc13",
        edit(QUIZ, "&lt;p&gt;The time", '&lt;p onclick="x()"&gt;The time'),
        "active-content",
        "<p> has a script in 'onclick'",
    ),
    Broken(
        "svg-in-text",
        "cc13",
        edit(QUIZ, "&lt;p&gt;The time", "&lt;svg&gt;&lt;/svg&gt;&lt;p&gt;The time"),
        "special-markup",
        "the text holds <svg>",
    ),
    Broken(
        "style-sheet",
        "cc13",
        edit(QUIZ, "&lt;p&gt;The time", "&lt;style&gt;p {}&lt;/style&gt;&lt;p&gt;The time"),
        "style-dropped",
        "the look depends on <style>",
    ),
    Broken(
        "sound",
        "qti12",
        edit(PLAIN, "&lt;p&gt;The time", "&lt;audio&gt;&lt;/audio&gt;&lt;p&gt;The time"),
        "media-dropped",
        "the text holds <audio>",
    ),
    Broken(
        "extension",
        "qti12",
        edit(PLAIN, "</resprocessing>", "<itemproc_extension/></resprocessing>"),
        "extension",
        "<itemproc_extension> is an extension",
    ),
)
R22 = '<match><variable identifier="RESPONSE"/><correct identifier="RESPONSE"/></match>'
SAMPLES: tuple[Broken, ...] = (
    # QTI 2.2: manifest
    Broken(
        "22-wrong-schema",
        "sample-qti22",
        edit(M, "QTIv2.2 Package", "QTI Package"),
        "schema-name",
        "the manifest calls itself 'QTI Package' '1.0.0'; QTI 2.2 is 'QTIv2.2 Package' '1.0.0'",
    ),
    Broken(
        "22-strange-type",
        "sample-qti22",
        edit(M, "imsqti_item_xmlv2p2", "imsqti_question_xmlv2p2"),
        "resource-type",
        "the type 'imsqti_question_xmlv2p2' of 'res_item_1' is none of QTI 2.2",
    ),
    Broken(
        "22-no-organizations",
        "sample-qti22",
        edit(M, "<organizations/>", ""),
        "wrong-children",
        (
            "<manifest> holds <metadata>, <resources>; the standard wants <metadata> (if wanted), "
            "<organizations>, <resources>, <manifest> (any number)"
        ),
    ),
    Broken(
        "22-metadata-order",
        "sample-qti22",
        cut(M, r"(<md:timeDependent>.*?</md:timeDependent>)\s*(<md:interactionType>.*?</md:interactionType>)", r"\2\1"),
        "wrong-children",
        (
            "<qtiMetadata> holds <interactionType>, <timeDependent>, <feedbackType>, "
            "<solutionAvailable>, <scoringMode>; the standard wants <itemTemplate> (if wanted), "
            "<timeDependent> (if wanted), <composite> (if wanted), <interactionType> (any "
            "number), <portableCustomInteractionContext> (if wanted), <feedbackType> (if wanted), "
            "<solutionAvailable> (if wanted), <scoringMode> (any number), <toolName> (if wanted), "
            "<toolVersion> (if wanted), <toolVendor> (if wanted)"
        ),
    ),
    Broken(
        "22-metadata-value",
        "sample-qti22",
        edit(M, ">nonadaptive<", ">some<"),
        "wrong-value",
        "'some' in <feedbackType> is none of adaptive, nonadaptive, none",
    ),
    Broken(
        "22-item-listed-as-test",
        "sample-qti22",
        edit(M, "imsqti_item_xmlv2p2", "imsqti_test_xmlv2p2"),
        "resource-wrong-document",
        ("'items/item-1.xml' is listed as 'imsqti_test_xmlv2p2' but begins with <assessmentItem> (QTI 2.2)"),
    ),
    Broken(
        "22-no-items",
        "sample-qti22",
        both(
            drop(ITEM22),
            drop("test.xml"),
            drop(PIC),
            cut(
                M,
                r"<resources>.*</resources>",
                f"<resources>{resource('r', 'imsqti_rptemplate_xmlv2p2', 't.xml')}</resources>",
            ),
            put("t.xml", b'<responseProcessing xmlns="http://www.imsglobal.org/xsd/imsqti_v2p2"/>'),
        ),
        "no-items",
        "the package holds no item",
    ),
    # QTI 2.2: tests
    Broken(
        "22-link-to-no-item",
        "sample-qti22",
        edit("test.xml", "items/item-1.xml", "items/item-9.xml"),
        "link-broken",
        "the file 'items/item-9.xml' is not in the package",
    ),
    Broken(
        "22-draws-too-many",
        "sample-qti22",
        edit("test.xml", 'select="1"', 'select="2"'),
        "select-too-many",
        "2 of 1 are to be drawn",
    ),
    Broken(
        "22-item-in-no-test",
        "sample-qti22",
        both(
            lambda files: files.update({"items/item-2.xml": files[ITEM22].replace(b"item_1", b"item_2")}),
            edit(
                M,
                "</resources>",
                f"{resource('i2', 'imsqti_item_xmlv2p2', 'items/item-2.xml', needs='res_image')}</resources>",
            ),
        ),
        "not-in-test",
        "the item 'item_2' is in no test of the package",
    ),
    Broken(
        "22-branch",
        "sample-qti22",
        edit(
            "test.xml",
            'href="items/item-1.xml"/>',
            'href="items/item-1.xml"><branchRule target="EXIT_TEST"><baseValue baseType="boolean">true</baseValue>'
            "</branchRule></assessmentItemRef>",
        ),
        "branching",
        "the test goes on by <branchRule>",
    ),
    # QTI 2.2: structure
    Broken(
        "22-missing-attribute",
        "sample-qti22",
        edit(ITEM22, ' timeDependent="false"', ""),
        "missing-attribute",
        "<assessmentItem> lacks the attribute 'timeDependent'",
    ),
    Broken(
        "22-passed-over-attribute",
        "sample-qti22",
        edit(ITEM22, ' maxChoices="1"', ' maxChoises="1"'),
        "passed-over-attribute",
        "<choiceInteraction> has the attribute 'maxChoises', which the standard does not know",
    ),
    Broken(
        "22-identifier-with-digit",
        "sample-qti22",
        lambda files: files.update({ITEM22: re.sub(rb"(?<=[\">])C(?=[\"<])", b"3-4", files[ITEM22])}),
        "wrong-value",
        ("identifier='3-4' of <simpleChoice> is not a name (a letter or _ first, then letters, digits, - _ and .)"),
    ),
    Broken(
        "22-text-in-body",
        "sample-qti22",
        edit(ITEM22, "<itemBody>", "<itemBody>Look:"),
        "misplaced-text",
        "text stands directly in <itemBody>",
    ),
    Broken(
        "22-unknown-element",
        "sample-qti22",
        edit(
            ITEM22,
            "<prompt>Which meter does this one-measure rhythm fill?</prompt>",
            "<question>Which meter does this one-measure rhythm fill?</question>",
        ),
        "unknown-element",
        "<question> does not belong in <choiceInteraction>",
    ),
    Broken(
        "22-children-out-of-order",
        "sample-qti22",
        cut(
            ITEM22,
            r"(<responseDeclaration.*?</responseDeclaration>)\s*(<outcomeDeclaration.*?</outcomeDeclaration>)",
            r"\2\1",
        ),
        "wrong-children",
        (
            "<assessmentItem> holds <outcomeDeclaration>, <responseDeclaration>, "
            "<outcomeDeclaration>, <itemBody>, <responseProcessing>, <modalFeedback>, "
            "<modalFeedback>; the standard wants <responseDeclaration> (any number), "
            "<outcomeDeclaration> (any number), <templateDeclaration> (any number), "
            "<templateProcessing> (if wanted), <assessmentStimulusRef> (any number), <stylesheet> "
            "(any number), <itemBody> (if wanted), <responseProcessing> (if wanted), "
            "<modalFeedback> (any number)"
        ),
    ),
    Broken(
        "22-no-alt",
        "sample-qti22",
        edit(ITEM22, ' alt="Four quarter notes, then a final barline"', ""),
        "alt-missing",
        "the picture '../images/four-quarters.png' has no alternative text",
    ),
    Broken(
        "22-wrong-namespace",
        "sample-qti22",
        edit(
            ITEM22,
            'xmlns="http://www.imsglobal.org/xsd/imsqti_v2p2"',
            'xmlns="http://www.imsglobal.org/xsd/imsqti_v2p1"',
        ),
        "wrong-value",
        ("<assessmentItem> is in the namespace 'http://www.imsglobal.org/xsd/imsqti_v2p1', not that of QTI 2.2"),
    ),
    # QTI 2.2: items
    Broken(
        "22-no-key",
        "sample-qti22",
        edit(ITEM22, "<correctResponse><value>A</value></correctResponse>", ""),
        "no-key",
        "no answer is right",
    ),
    Broken(
        "22-key-no-choice",
        "sample-qti22",
        edit(ITEM22, "<value>A</value>", "<value>D</value>"),
        "key-no-choice",
        "'D' is none of the choices 'A', 'B', 'C'",
    ),
    Broken(
        "22-two-keys-of-one",
        "sample-qti22",
        edit(ITEM22, "<value>A</value>", "<value>A</value><value>B</value>"),
        "several-keys",
        "each of 'A', 'B' counts as right",
    ),
    Broken(
        "22-same-choice-twice",
        "sample-qti22",
        edit(ITEM22, '<simpleChoice identifier="C"', '<simpleChoice identifier="B"'),
        "choice-twice",
        "two choices have the identifier 'B'",
    ),
    Broken(
        "22-undeclared-response",
        "sample-qti22",
        edit(ITEM22, 'responseIdentifier="RESPONSE"', 'responseIdentifier="ANSWER"'),
        "response-unknown",
        "the answer goes to 'ANSWER'; declared is 'RESPONSE'",
    ),
    Broken(
        "22-undeclared-variable",
        "sample-qti22",
        edit(ITEM22, '<setOutcomeValue identifier="FEEDBACK">', '<setOutcomeValue identifier="TOLD">'),
        "variable-unknown",
        "<setOutcomeValue> is about 'TOLD', which is not declared",
    ),
    Broken(
        "22-feedback-never-set",
        "sample-qti22",
        cut(ITEM22, r'<setOutcomeValue identifier="FEEDBACK">.*?</setOutcomeValue>'),
        "feedback-unused",
        "nothing sets 'FEEDBACK', for which the feedback 'A' waits",
    ),
    Broken(
        "22-variable-twice",
        "sample-qti22",
        edit(
            ITEM22,
            '<outcomeDeclaration identifier="FEEDBACK" cardinality="single" baseType="identifier"/>',
            2 * '<outcomeDeclaration identifier="FEEDBACK" cardinality="single" baseType="identifier"/>',
        ),
        "identifier-twice",
        "two variables have the identifier 'FEEDBACK'",
    ),
    Broken(
        "22-no-processing",
        "sample-qti22",
        both(
            cut(ITEM22, r"<responseProcessing>.*?</responseProcessing>"),
            cut(ITEM22, r"<modalFeedback.*</modalFeedback>"),
        ),
        "no-scoring",
        "nothing says what an answer scores",
    ),
    Broken(
        "22-key-scores-nothing",
        "sample-qti22",
        edit(
            ITEM22,
            R22,
            '<match><variable identifier="RESPONSE"/><baseValue baseType="identifier">B</baseValue></match>',
        ),
        "key-scores-too-little",
        "the right answer gets 0 of 1, but 'B' gets the full score",
    ),
    Broken(
        "22-full-unreachable",
        "sample-qti22",
        edit(ITEM22, 'normalMaximum="1"', 'normalMaximum="5"'),
        "full-unreachable",
        "the full score is 5, but the best answer gets 1",
    ),
    Broken(
        "22-every-answer-right",
        "sample-qti22",
        edit(ITEM22, R22, '<not><isNull><variable identifier="RESPONSE"/></isNull></not>'),
        "wrong-scores-full",
        "the wrong answer 'B' gets the full score",
    ),
    Broken(
        "22-nothing-scores",
        "sample-qti22",
        edit(ITEM22, R22, '<or><isNull><variable identifier="RESPONSE"/></isNull>' + R22 + "</or>"),
        "nothing-scores",
        "no answer at all gets 1 of 1",
    ),
    Broken(
        "22-template-unknown",
        "item22-order",
        edit("item.xml", "/match_correct", "/match_right"),
        "template-unknown",
        (
            "the template 'http://www.imsglobal.org/question/qti_v2p2/rptemplates/match_right' is "
            "none of the published ones"
        ),
    ),
    Broken(
        "22-template-names",
        "item22-order",
        lambda files: files.update({"item.xml": files["item.xml"].replace(b'"RESPONSE"', b'"ANSWER"')}),
        "template-names",
        "the item declares 'ANSWER', 'SCORE'",
    ),
    Broken(
        "22-map-without-mapping",
        "item22-order",
        edit("item.xml", "/match_correct", "/map_response"),
        "no-scoring",
        "map_response is to score the item, but RESPONSE has no mapping",
    ),
    Broken(
        "22-mapped-no-choice",
        "item22-multiple-response",
        edit("item.xml", 'mapKey="B"', 'mapKey="D"'),
        "answer-no-choice",
        "'D' is none of the choices 'A', 'B', 'C'",
    ),
    Broken(
        "22-no-correct-response",
        "item22-multiple-response",
        cut("item.xml", r"<correctResponse>.*?</correctResponse>"),
        "no-correct-response",
        "the response 'RESPONSE' has a mapping only",
    ),
    Broken(
        "22-few-picks",
        "item22-multiple-response",
        edit("item.xml", 'maxChoices="0"', 'maxChoices="1"'),
        "few-picks",
        "the right answer has 2 choices, but maxChoices is 1",
    ),
    Broken(
        "22-no-lower-bound",
        "item22-multiple-response",
        edit("item.xml", ' lowerBound="0"', ""),
        "score-below",
        "an answer scores -0.5",
    ),
    Broken(
        "22-order-not-ordered",
        "item22-order",
        edit("item.xml", 'cardinality="ordered"', 'cardinality="multiple"'),
        "wrong-declaration",
        ("the response 'RESPONSE' is declared multiple identifier; <orderInteraction> wants ordered identifier"),
    ),
    Broken(
        "22-pair-of-no-gap",
        "item22-gap-match",
        edit("item.xml", "<value>c1 g1</value>", "<value>c1 g7</value>"),
        "key-no-choice",
        "'c1 g7' is none of the choices 'c1', 'c2', 'c3', 'g1', 'g2'",
    ),
    Broken(
        "22-case-matters",
        "item22-text-entry",
        edit(
            "item.xml",
            '"1 and 2" mappedValue="1" caseSensitive="false"',
            '"1 and 2" mappedValue="1" caseSensitive="true"',
        ),
        "case-matters",
        "'1 and 2' counts only with just these capital letters",
    ),
    Broken(
        "22-adaptive",
        "item22-order",
        edit("item.xml", 'adaptive="false"', 'adaptive="true"'),
        "adaptive",
        "the item is adaptive",
    ),
    Broken(
        "22-untried",
        "item22-inline-choice",
        cut(
            "item.xml",
            r'<match><variable identifier="RESPONSE_1"/><correct identifier="RESPONSE_1"/></match>',
            '<patternMatch pattern="one"><variable identifier="RESPONSE_1"/></patternMatch>',
        ),
        "untried",
        "the scoring uses the operator 'patternMatch', which this check does not carry out",
    ),
    Broken(
        "22-rare-interaction",
        "item22-order",
        both(
            edit(
                "item.xml",
                "<outcomeDeclaration",
                '<responseDeclaration identifier="FILE" cardinality="single" baseType="file"/><outcomeDeclaration',
            ),
            cut(
                "item.xml",
                r"<orderInteraction.*</orderInteraction>",
                '<uploadInteraction responseIdentifier="FILE"><prompt>Record yourself.</prompt></uploadInteraction>',
            ),
            cut("item.xml", r'<responseDeclaration identifier="RESPONSE".*?</responseDeclaration>'),
            cut("item.xml", r"<responseProcessing[^>]*/>"),
        ),
        "rare-interaction",
        "the students answer by <uploadInteraction>",
    ),
    Broken(
        "22-two-kinds-in-one",
        "item22-order",
        both(
            edit(
                "item.xml",
                "<outcomeDeclaration",
                '<responseDeclaration identifier="WHY" cardinality="single" baseType="string"/><outcomeDeclaration',
            ),
            edit("item.xml", "</itemBody>", '<extendedTextInteraction responseIdentifier="WHY"/></itemBody>'),
        ),
        "mixed-interactions",
        "one item is answered by extendedTextInteraction and orderInteraction",
    ),
    Broken(
        "22-of-2.1",
        "sample-qti22",
        lambda files: files.update(
            {n: d.replace(b"imsqti_v2p2", b"imsqti_v2p1").replace(b"xmlv2p2", b"xmlv2p1") for n, d in files.items()}
        ),
        "older-standard",
        "the package is QTI 2.0 or 2.1",
    ),
    Broken(
        "22-random-values",
        "item22-order",
        cut(
            "item.xml",
            r"(<itemBody>)",
            r'<templateDeclaration identifier="N" cardinality="single" baseType="integer"/><templateProcessing>'
            r'<setTemplateValue identifier="N"><randomInteger min="1" max="4"/></setTemplateValue>'
            r"</templateProcessing>\1",
        ),
        "random-values",
        "<templateProcessing> makes up values",
    ),
    # QTI 3.0
    Broken(
        "30-wrong-version",
        "sample-qti30",
        edit(M, "3.0.0", "3.0.1"),
        "schema-name",
        "the manifest calls itself 'QTI Package' '3.0.1'; QTI 3.0 is 'QTI Package' '3.0.0'",
    ),
    Broken(
        "30-camel-case",
        "sample-qti30",
        edit(ITEM30, " max-choices=", " maxChoices="),
        "unknown-attribute",
        ("<qti-choice-interaction> has the attribute 'maxChoices', which the standard does not know"),
    ),
    Broken(
        "30-name-of-2",
        "sample-qti30",
        both(edit(ITEM30, "<qti-prompt>", "<prompt>"), edit(ITEM30, "</qti-prompt>", "</prompt>")),
        "unknown-element",
        "<prompt> does not belong in <qti-choice-interaction>",
    ),
    Broken(
        "30-feedback-without-body",
        "sample-qti30",
        cut(ITEM30, r"<qti-content-body>(.*?)</qti-content-body>", r"\1"),
        "unknown-element",
        "<p> does not belong in <qti-modal-feedback>",
    ),
    Broken(
        "30-no-catalog",
        "sample-qti30",
        edit(ITEM30, '<qti-catalog id="cat_image">', '<qti-catalog id="cat_picture">'),
        "catalog-unknown",
        "there is no catalog 'cat_image'",
    ),
    Broken(
        "30-strange-support",
        "sample-qti30",
        edit(ITEM30, 'support="long-description"', 'support="shouted"'),
        "wrong-value",
        (
            "support='shouted' of <qti-card> is none of additional-directions, audio-description, "
            "braille, glossary-on-screen, high-contrast, keyboard-directions, "
            "keyword-translation, linguistic-guidance, long-description, sign-language, "
            "simplified-graphics, simplified-language-portions"
        ),
    ),
    Broken(
        "30-key-no-choice",
        "sample-qti30",
        edit(ITEM30, "<qti-value>A</qti-value>", "<qti-value>a</qti-value>"),
        "key-no-choice",
        "'a' is none of the choices 'A', 'B', 'C'",
    ),
    Broken(
        "30-picture-unlisted",
        "sample-qti30",
        both(
            cut(M, r'<resource identifier="res_image".*?</resource>'),
            edit(M, '<dependency identifierref="res_image"/>', ""),
        ),
        "picture-unlisted",
        "'images/four-quarters.png' is shown but not listed in the manifest",
    ),
    Broken(
        "30-not-well-formed",
        "sample-qti30",
        edit(ITEM30, "</qti-item-body>", ""),
        "not-well-formed",
        (
            "the file is not well-formed XML: Opening and ending tag mismatch: qti-item-body line "
            "13 and qti-assessment-item"
        ),
    ),
    Broken(
        "30-entity",
        "sample-qti30",
        edit(ITEM30, "4/4<", "4&nbsp;/4<"),
        "not-well-formed",
        "the file is not well-formed XML: Entity 'nbsp' not defined",
    ),
)
# The same faults in packages of our own writers of QTI 2.2 and 3.0, for where there are no samples.
I22 = I30 = "items/q00a1.xml"
NEWER: tuple[Broken, ...] = (
    Broken(
        "our-22-key-no-choice",
        "qti22",
        edit(I22, "<value>c2</value>", "<value>c9</value>"),
        "key-no-choice",
        "'c9' is none of the choices 'c1', 'c2', 'c3'",
    ),
    Broken(
        "our-22-no-key", "qti22", cut(I22, r"<correctResponse>.*?</correctResponse>"), "no-key", "no answer is right"
    ),
    Broken(
        "our-22-unknown-attribute",
        "qti22",
        edit(I22, " maxChoices=", " maxPicks="),
        "passed-over-attribute",
        "<choiceInteraction> has the attribute 'maxPicks', which the standard does not know",
    ),
    Broken(
        "our-22-no-alt",
        "qti22",
        cut(I22, r' alt="Half note\."'),
        "alt-missing",
        "the picture '../images/f0004.png' has no alternative text",
    ),
    Broken(
        "our-22-picture-cut-off",
        "qti22",
        shorten("images/f0000.png", 5),
        "picture-damaged",
        "the picture cannot be shown: it is cut off",
    ),
    Broken(
        "our-22-case-matters",
        "qti22",
        edit(
            "items/q00a4.xml",
            'mapKey="1 - 2 (3)" mappedValue="2" caseSensitive="false"',
            'mapKey="one" mappedValue="2" caseSensitive="true"',
        ),
        "case-matters",
        "'one' counts only with just these capital letters",
    ),
    Broken(
        "our-22-link-to-no-item",
        "qti22",
        edit("test.xml", "q00a1.xml", "q00a9.xml"),
        "link-broken",
        "the file 'items/q00a9.xml' is not in the package",
    ),
    Broken(
        "our-30-camel-case",
        "qti30",
        edit(I30, " max-choices=", " maxChoices="),
        "unknown-attribute",
        ("<qti-choice-interaction> has the attribute 'maxChoices', which the standard does not know"),
    ),
    Broken(
        "our-30-key-no-choice",
        "qti30",
        edit(I30, "<qti-value>c2</qti-value>", "<qti-value>c9</qti-value>"),
        "key-no-choice",
        "'c9' is none of the choices 'c1', 'c2', 'c3'",
    ),
    Broken(
        "our-30-feedback-without-body",
        "qti30",
        cut(I30, r"<qti-content-body>(.*?)</qti-content-body>", r"\1"),
        "unknown-element",
        "<p> does not belong in <qti-modal-feedback>",
    ),
    Broken(
        "our-30-missing-file",
        "qti30",
        drop("images/f0002.png"),
        "file-missing",
        "the file 'images/f0002.png' is listed but not in the package",
    ),
    Broken(
        "our-30-bank-no-items",
        "qti30-bank",
        both(
            *(drop(f"items/q00a{n}.xml") for n in range(1, 5)),
            *(cut(M, r'<resource [^>]*type="imsqti_item_xmlv3p0".*?</resource>') for _ in range(4)),
        ),
        "no-items",
        "the package holds no item",
    ),
)
