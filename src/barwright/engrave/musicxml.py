"""An excerpt as MusicXML, for notation programs and for checks by independent readers.

Source: MusicXML 4.0 (W3C Music Notation Community Group), score-partwise: names and order of the elements.
"""

from collections.abc import Iterator, Mapping
from fractions import Fraction
from math import lcm

from lxml import etree

from barwright.errors import RhythmError
from barwright.notation.beaming import beam_groups
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.measure import Event, Symbols, total, triplet_groups
from barwright.rhythm.meter import Meter
from barwright.rhythm.text import format_symbols

DOCTYPE = (
    '<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN" '
    '"http://www.musicxml.org/dtds/partwise.dtd">'
)
# note-type-value of MusicXML 4.0 where it is not the US name.
TYPES = {"sixteenth": "16th"}
QUARTER = Fraction(1, 4)
USUAL = Conventions()

Element = etree._Element
# Index of a symbol -> the values of its beams, the outer one first; and of its tuplet, if one begins or ends there.
Beams = Mapping[int, tuple[str, ...]]
Tuplets = Mapping[int, tuple[str, ...]]


def musicxml(excerpt: Excerpt, conventions: Conventions = USUAL) -> bytes:
    """A MusicXML 4.0 file: one part on a one-line percussion staff; a pickup is measure 0.

    A blank is room without a note, as long as its measure needs; a mark is not written. The same excerpt gives the same
    bytes. Raises RhythmError where nothing settles how long a blank is: two in one measure, or no room left.

    >>> from barwright.rhythm.text import parse_excerpt
    >>> b"<beats>3</beats>" in musicxml(parse_excerpt("3/4 h q"))
    True
    """
    gaps = [_gap(excerpt, number) for number in range(len(excerpt.measures))]
    lengths = [*gaps, *(event.length for measure in excerpt.events() for event in measure)]
    divisions = lcm(*((length / QUARTER).denominator for length in lengths))
    part = _made("part", *_measures(excerpt, gaps, divisions, conventions), id="P1")
    listed = _made("part-list", _made("score-part", _made("part-name", "Rhythm"), id="P1"))
    return etree.tostring(
        _made("score-partwise", listed, part, version="4.0"),
        encoding="UTF-8",
        xml_declaration=True,
        pretty_print=True,
        doctype=DOCTYPE,
    )


def _made(name: str, *content: Element | str, **attributes: str) -> Element:
    """A new element with children or text."""
    element = etree.Element(name, attributes)
    for each in content:
        if isinstance(each, str):
            element.text = each
        else:
            element.append(each)
    return element


def _gap(excerpt: Excerpt, number: int) -> Fraction:
    """Length of the blank of a measure, in whole notes; 0 without one."""
    symbols = excerpt.measures[number]
    blanks = sum(s.kind == "blank" for s in symbols)
    room = excerpt.meter.capacity - total(symbols, excerpt.meter)
    if blanks > 1 or (blanks and room <= 0):
        why = "two blanks" if blanks > 1 else "no room for its blank"
        raise RhythmError(
            f"{format_symbols(symbols)!r} in {excerpt.meter} has {why}: MusicXML needs to know how long a blank is"
        )
    return room if blanks else Fraction(0)


def _measures(excerpt: Excerpt, gaps: list[Fraction], divisions: int, conventions: Conventions) -> Iterator[Element]:
    tied = False
    for number, events in enumerate(excerpt.events()):
        measure = _made("measure", number=str(number if excerpt.pickup else number + 1))
        if excerpt.pickup and number == 0:
            measure.set("implicit", "yes")
        if number == 0:
            measure.append(_attributes(excerpt.meter, divisions))
        beams = _beams(excerpt, number, conventions)
        tuplets = _tuplets(excerpt.measures[number])
        for event in events:
            if event.symbol.kind == "blank":
                measure.append(_made("forward", _duration(gaps[number], divisions)))
            else:
                measure.append(_note(event, divisions, beams=beams, tuplets=tuplets, held=tied))
            tied = event.symbol.tied
        if number == len(excerpt.measures) - 1:
            measure.append(_made("barline", _made("bar-style", "light-heavy"), location="right"))
        yield measure


def _attributes(meter: Meter, divisions: int) -> Element:
    return _made(
        "attributes",
        _made("divisions", str(divisions)),
        _made("time", _made("beats", str(meter).partition("/")[0]), _made("beat-type", str(meter.bottom))),
        _made("clef", _made("sign", "percussion")),
        _made("staff-details", _made("staff-lines", "1")),
    )


def _duration(length: Fraction, divisions: int) -> Element:
    return _made("duration", str(length / QUARTER * divisions))


def _note(event: Event, divisions: int, *, beams: Beams, tuplets: Tuplets, held: bool) -> Element:
    """One note or rest; `held`: the note before is tied to it."""
    symbol, value = event.symbol, event.symbol.value
    held = held and symbol.kind == "note"
    ties = [kind for kind, there in (("stop", held), ("start", symbol.tied)) if there]
    note = _made("note")
    if symbol.kind == "measure-rest":
        note.append(_made("rest", measure="yes"))
    else:
        note.append(_made("unpitched") if symbol.kind == "note" else _made("rest"))
    note.append(_duration(event.length, divisions))
    note.extend(_made("tie", type=kind) for kind in ties)
    note.append(_made("voice", "1"))
    if value is not None:
        note.append(_made("type", TYPES.get(value.name, value.name)))
        note.extend(_made("dot") for _ in range(value.dots))
        if value.triplet:
            note.append(_made("time-modification", _made("actual-notes", "3"), _made("normal-notes", "2")))
    note.extend(
        _made("beam", kind, number=str(level)) for level, kind in enumerate(beams.get(event.index, ()), start=1)
    )
    marks = [_made("tied", type=kind) for kind in ties]
    marks += [_made("tuplet", type=kind) for kind in tuplets.get(event.index, ())]
    if marks:
        note.append(_made("notations", *marks))
    return note


def _tuplets(symbols: Symbols) -> Tuplets:
    tuplets: dict[int, tuple[str, ...]] = {}
    for group in triplet_groups(symbols):
        tuplets[group[0]] = ("start",)
        tuplets[group[-1]] = (*tuplets.get(group[-1], ()), "stop")
    return tuplets


def _beams(excerpt: Excerpt, number: int, conventions: Conventions) -> Beams:
    symbols = excerpt.measures[number]
    groups = beam_groups(symbols, excerpt.meter, conventions, start=excerpt.start_of(number))
    beams: dict[int, tuple[str, ...]] = {}
    for group in groups:
        flags = [value.flags for index in group if (value := symbols[index].value) is not None]
        for at, index in enumerate(group):
            beams[index] = tuple(_beam(flags, at, level) for level in range(1, flags[at] + 1))
    return beams


def _beam(flags: list[int], at: int, level: int) -> str:
    """The value of one beam of one note: a beam that no neighbour shares is a hook towards the inside of the group."""
    before = at > 0 and flags[at - 1] >= level
    after = at + 1 < len(flags) and flags[at + 1] >= level
    if before:
        return "continue" if after else "end"
    if after:
        return "begin"
    return "backward hook" if at else "forward hook"
