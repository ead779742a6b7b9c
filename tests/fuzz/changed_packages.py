"""Packages changed at random, by bytes and by structure, through the whole check: reading, checking, printing."""

import os
import random
import time
from collections.abc import Callable, Iterable
from copy import deepcopy
from dataclasses import dataclass, field
from pathlib import Path

from broken_packages import OURS, Files
from hostile_packages import choices12, item2, quiz
from lxml import etree
from package_bases import MANIFEST, SINGLE, our_files, packed, sample_files

from barwright.check.reading import read_package, same_content
from barwright.check.rules import (
    RULES,
    checked,
    report_lines,
    reports_json,
    summary_line,
)
from barwright.errors import PackageError
from worded_forms import every_form, pictures_of_forms, plain_form

MOST_SECONDS = 5.0  # of the process
MOST_WAITED = 60.0  # seconds by the clock, which other work on the machine may fill
STRETCH = 500  # inputs between two lines of progress
TESTS = Path(__file__).parents[1]
STANDARDS = Path(os.environ.get("BARWRIGHT_STANDARDS") or TESTS.parents[1] / "shared" / "standards")
SAMPLES = ("sample-cc13", "sample-qti22", "sample-qti30", "item22-gap-match", "item22-order", "item30-inline-choice")
# Elements that are put anywhere: every rule, operator, test and declaration, with nothing in it.
WORDS = (
    "and or not isNull null match equal member contains delete multiple ordered containerSize sum product "
    "subtract divide integerDivide integerModulus gt gte lt lte max min truncate round integerToFloat stringMatch "
    "substring index variable correct default mapResponse baseValue responseCondition responseIf responseElseIf "
    "responseElse setOutcomeValue responseProcessingFragment exitResponse responseProcessing responseDeclaration "
    "outcomeDeclaration correctResponse defaultValue mapping mapEntry value varequal varsubset varsubstring varlt "
    "varlte vargt vargte unanswered other respcondition conditionvar setvar decvar displayfeedback itemfeedback "
    "response_label response_lid response_str render_choice render_fib mattext matimage material item section "
    "selection resource file dependency organization assessmentItemRef assessmentSection selection weight "
    "simpleChoice gap gapText choiceInteraction textEntryInteraction orderInteraction inlineChoiceInteraction "
    "gapMatchInteraction modalFeedback qtimetadatafield fieldlabel fieldentry"
)
NAMES = WORDS.split()
VALUES = (
    "", " ", "c1", "c9", "RESPONSE", "SCORE", "-1", "0", "1e99", "-9e99", "1/0", "nan", "inf", "9" * 5_000, "0.5",
    "\u0665", "\u00b2", "Yes", "true", "single", "multiple", "ordered", "record", "identifier", "pair", "directedPair",
    "string", "integer", "float", "boolean", "point", "c1 s1", "c1 s1 s2", "../../etc/passwd", "http://example.org/a",
    "http://[", "images/f0000.png", "$IMS-CC-FILEBASE$", "$IMS-CC-FILEBASE$/../images/f0000.png", "%00%ff", "%ff%fe",
    "a/" * 2_000, "a" * 3_000, "\u2028\u00e9\U0001f3b5", "\ud7ff\ue000", "<b>&amp;<img src=x onerror=y>",
    "<img src='data:,'>" * 200, "&lt;" * 500, "match_correct", "map_response", "CC2_match", "Divide", "text/html",
)  # fmt: skip
Change = Callable[[etree._Element, etree._Element, random.Random], None]


def _value(element: etree._Element, _other: etree._Element, rng: random.Random) -> None:
    names = (
        "ident",
        "identifier",
        "href",
        "baseType",
        "index",
        "n",
        "select",
        "cardinality",
        "respident",
        "action",
        "case",
    )
    element.set(rng.choice([*element.attrib, rng.choice(names)]), rng.choice(VALUES))


def _swapped(element: etree._Element, other: etree._Element, _rng: random.Random) -> None:
    for name in element.attrib:
        if name in other.attrib:
            element.set(name, other.get(name, ""))


def _text(element: etree._Element, other: etree._Element, rng: random.Random) -> None:
    element.text = rng.choice((rng.choice(VALUES), other.text))


def _gone(element: etree._Element, _other: etree._Element, _rng: random.Random) -> None:
    above = element.getparent()
    if above is not None:
        above.remove(element)


def _emptied(element: etree._Element, _other: etree._Element, _rng: random.Random) -> None:
    for child in list(element):
        element.remove(child)


def _bare(element: etree._Element, _other: etree._Element, rng: random.Random) -> None:
    if element.attrib:
        del element.attrib[rng.choice(list(element.attrib))]


def _copied(element: etree._Element, other: etree._Element, rng: random.Random) -> None:
    if sum(1 for _ in element.iter()) < 200:
        first = deepcopy(element)  # which stays as it is where the copies are put into the element itself
        for _ in range(rng.choice((1, 1, 1, 2, 30))):
            other.insert(rng.randrange(len(other) + 1), deepcopy(first))


def _moved(element: etree._Element, other: etree._Element, _rng: random.Random) -> None:
    if element.getparent() is not None and element not in other.iterancestors() and element is not other:
        other.append(element)


def _renamed(element: etree._Element, other: etree._Element, _rng: random.Random) -> None:
    element.tag = other.tag


def _named(element: etree._Element, _other: etree._Element, rng: random.Random) -> None:
    element.tag = _tag(element, rng)


def _added(element: etree._Element, _other: etree._Element, rng: random.Random) -> None:
    etree.SubElement(element, _tag(element, rng))


def _wrapped(element: etree._Element, _other: etree._Element, rng: random.Random) -> None:
    above = element.getparent()
    if above is not None:
        place = above.index(element)
        around = etree.Element(_tag(element, rng))
        above.insert(place, around)
        around.append(element)


def _noise(element: etree._Element, _other: etree._Element, rng: random.Random) -> None:
    element.append(etree.Comment("-") if rng.random() < 0.5 else etree.ProcessingInstruction("x", "y"))


def _foreign(element: etree._Element, _other: etree._Element, rng: random.Random) -> None:
    element.tag = "{urn:x}x" if rng.random() < 0.5 else "x"


def _tag(element: etree._Element, rng: random.Random) -> str:
    """The tag of any known element in the namespace of this one, as the edition writes it."""
    tag, name = str(element.tag), rng.choice(NAMES)
    if "}qti-" in tag:
        name = "qti-" + "".join(f"-{c.lower()}" if c.isupper() else c for c in name)
    return tag.rpartition("}")[0] + "}" + name if "}" in tag else name


CHANGES: tuple[Change, ...] = (
    _value, _value, _value, _swapped, _text, _text, _gone, _gone, _emptied, _bare, _bare, _copied, _moved, _renamed,
    _named,
    _added, _added, _wrapped, _noise, _foreign,
)  # fmt: skip


@dataclass
class Tally:
    """What became of the inputs."""

    inputs: int = 0
    findings: int = 0
    refused: int = 0
    read: int = 0
    slowest: float = 0.0
    slowest_seed: int = 0
    fell: list[str] = field(default_factory=list)

    def add(self, other: "Tally") -> None:
        """Takes what became of other inputs."""
        self.inputs += other.inputs
        self.findings += other.findings
        self.refused += other.refused
        self.read += other.read
        self.fell += other.fell
        if other.slowest > self.slowest:
            self.slowest, self.slowest_seed = other.slowest, other.slowest_seed


def bases() -> list[Files]:
    """The packages that are changed: ours of every standard, single items, the samples of the standards."""
    names = ("cc13", "cc13-bank", "qti12", "qti12-bank", "qti22", "qti22-bank", "qti30", "qti30-bank")
    plain, whole, pictures = plain_form(), every_form(), pictures_of_forms()
    found = [our_files(plain, pictures, n) for n in names[:4]] + [our_files(whole, pictures, n) for n in names[4:]]
    found += [{SINGLE: data} for files in found[-4:] for path, data in files.items() if path.startswith("items/")]
    found += [{SINGLE: item2("", "", "<responseCondition/>")}, {SINGLE: quiz(choices12(3, 3))}]
    if (STANDARDS / "samples").is_dir():
        found += [sample_files(STANDARDS, name) for name in SAMPLES]
    return found


def broken(found: list[Files]) -> list[Files]:
    """The packages of `broken_packages.py` that are made of ours."""
    made = []
    order = {"cc13": 0, "cc13-bank": 1, "qti12": 2, "qti12-bank": 3}
    for each in OURS:
        if each.base in order:
            files = dict(found[order[each.base]])
            try:
                each.breaks(files)
            except (AssertionError, KeyError):  # made for the form of those tests
                continue
            made.append(files)
    return made


def changed_bytes(data: bytes, rng: random.Random) -> bytes:
    """A few bytes changed, taken out, put in or doubled, or the end cut off."""
    made = bytearray(data)
    for _ in range(rng.randint(1, 8)):
        at, length = rng.randrange(len(made) + 1), rng.randint(1, 40)
        kind = rng.randrange(5)
        if kind == 0:
            made[at : at + 1] = bytes([rng.randrange(256)])
        elif kind == 1:
            del made[at : at + length]
        elif kind == 2:
            made[at:at] = rng.randbytes(length)
        elif kind == 3:
            made[at:at] = made[at : at + length]
        elif rng.random() < 0.2:
            del made[max(at, len(made) // 2) :]
    return bytes(made)


def changed_tree(data: bytes, rng: random.Random) -> bytes:
    """A document with a few elements or attributes changed; as it was if it is no XML."""
    try:
        root = etree.fromstring(data)
    except etree.XMLSyntaxError:
        return data
    for _ in range(rng.choice((1, 1, 2, 3, 6, 12))):
        elements = list(root.iter("*"))
        try:
            rng.choice(CHANGES)(rng.choice(elements), rng.choice(elements), rng)
        except ValueError:  # a value that XML cannot hold, or an element put into itself
            continue
    return etree.tostring(root, encoding="UTF-8", xml_declaration=True)


def made(seed: int, found: list[Files]) -> bytes:
    """One input."""
    rng = random.Random(seed)
    files = dict(rng.choice(found))
    kind = rng.random()
    if kind < 0.08:
        return changed_bytes(packed(files), rng)
    documents = sorted(p for p in files if p.endswith(".xml"))
    for _ in range(rng.choice((1, 1, 2))):
        path = rng.choice(documents)
        files[path] = (changed_bytes if kind < 0.2 else changed_tree)(files[path], rng)
    if rng.random() < 0.1 and len(files) > 1:
        path = rng.choice(sorted(files))
        if rng.random() < 0.5:
            files[rng.choice(("a.xml", "q/../b.png", "\u00e9.png", MANIFEST, "images/F0000.PNG"))] = files.pop(path)
        else:
            files[path] = rng.choice((b"", b"<a/>", rng.randbytes(60)))
    return packed(files)


def tried(data: bytes, tally: Tally) -> None:
    """The whole check of one input, and the reader."""
    report = checked(data, name="fuzzed")
    assert all(f.rule in RULES for f in report.findings)
    assert all(line.isprintable() for line in report_lines(report))
    assert summary_line([report]).isprintable()
    reports_json([report]).encode("ascii")
    tally.findings += len(report.findings)
    tally.refused += bool(report.refused)
    try:
        read = read_package(data, name="fuzzed")
    except PackageError as error:
        if not str(error).startswith("fuzzed: ") or "\n" in str(error):
            tally.fell.append(f"said {str(error)!r}")
        return
    assert same_content(read, read) == ()
    tally.read += 1


def run(seeds: Iterable[int], found: list[Files], *, most_seconds: float = MOST_SECONDS) -> Tally:
    """All inputs of these seeds; whatever is raised is a fall, with its seed."""
    tally = Tally()
    for seed in seeds:
        start, called = time.process_time(), time.monotonic()
        try:
            tried(made(seed, found), tally)
        except BaseException as error:
            if isinstance(error, KeyboardInterrupt):
                raise
            tally.fell.append(f"seed {seed}: {type(error).__name__}: {error}"[:300])
        seconds, waited = time.process_time() - start, time.monotonic() - called
        tally.inputs += 1
        if seconds > tally.slowest:
            tally.slowest, tally.slowest_seed = seconds, seed
        if seconds > most_seconds:
            tally.fell.append(f"seed {seed}: {seconds:.1f} seconds")
        if waited > MOST_WAITED:
            tally.fell.append(f"seed {seed}: waited for {waited:.0f} seconds")
    return tally


def main(inputs: int, first: int) -> int:
    """Runs and prints, a line now and then and each fall at once; 1 if anything fell."""
    found = bases()
    found += broken(found)
    whole = Tally()
    for start in range(first, first + inputs, STRETCH):
        tally = run(range(start, min(start + STRETCH, first + inputs)), found)
        whole.add(tally)
        print(f"{whole.inputs:,} of {inputs:,} tried, {len(whole.fell)} fell", *tally.fell, sep="\n  ", flush=True)
    print(f"{whole.inputs:,} inputs from seed {first}: {whole.findings:,} findings, {whole.refused:,} refused, ")
    print(f"{whole.read:,} read; slowest {whole.slowest:.2f} s (seed {whole.slowest_seed}); {len(whole.fell)} fell")
    return 1 if whole.fell else 0
