"""MusicXML read by others: the published schema, verovio's clock, music21's values; the whole text of each refusal."""

from fractions import Fraction
from importlib.util import find_spec
from itertools import accumulate
from pathlib import Path

import pytest
from lxml import etree

from barwright.engrave.musicxml import musicxml
from barwright.errors import RhythmError
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.text import parse_excerpt
from worked import BOOK_RHYTHMS, LONGER_RHYTHMS, excerpts

WITH_BLANKS = ("3/4 q _ | h.", "6/8 q. _", "4/4 q | q _ q | h.", "2/4 et et et _")
ALL = [*BOOK_RHYTHMS, *LONGER_RHYTHMS]

# The two schemas that the MusicXML schema imports, as far as it names them (W3C XLink 1.0, XML 1.0).
XLINK = ("href", "type", "role", "title", "show", "actuate")
IMPORTED = {
    "xlink.xsd": ("http://www.w3.org/1999/xlink", XLINK),
    "xml.xsd": ("http://www.w3.org/XML/1998/namespace", ("lang", "space")),
}


class Imported(etree.Resolver):
    """Answers the imports of the schema without a network."""

    def resolve(self, url: str, _public_id: str, context: object) -> object:
        for name, (namespace, attributes) in IMPORTED.items():
            if url.endswith(name):
                made = "".join(f'<xs:attribute name="{each}" type="xs:string"/>' for each in attributes)
                head = f'<xs:schema xmlns:xs="http://www.w3.org/2001/XMLSchema" targetNamespace="{namespace}">'
                return self.resolve_string(f"{head}{made}</xs:schema>", context)
        return None


@pytest.fixture(scope="module")
def schema() -> etree.XMLSchema:
    """The MusicXML 4.0 schema of the W3C, as the package musicxml carries it."""
    spec = find_spec("musicxml")
    assert spec is not None
    assert spec.origin is not None
    parser = etree.XMLParser(no_network=True)
    parser.resolvers.add(Imported())
    return etree.XMLSchema(etree.parse(Path(spec.origin).parent / "generate_classes" / "musicxml_4_0.xsd", parser))


@pytest.mark.parametrize("text", [*ALL, *WITH_BLANKS])
def test_every_file_is_valid_by_the_published_schema(text: str, schema: etree.XMLSchema) -> None:
    schema.assertValid(etree.fromstring(musicxml(parse_excerpt(text))))


def test_the_schema_finds_faults(schema: etree.XMLSchema) -> None:
    score = etree.fromstring(musicxml(parse_excerpt("3/4 h q")))
    for parent in score.iter("note"):
        parent.append(parent.find("duration"))
    assert not schema.validate(score)


def starts(excerpt: Excerpt) -> list[Fraction]:
    """Where each note and rest begins, in quarters from the beginning of the music."""
    lengths = [sum((e.length for e in measure), Fraction(0)) for measure in excerpt.events()]
    begins = accumulate(lengths, initial=Fraction(0))
    found = []
    for begin, measure in zip(begins, excerpt.events(), strict=False):
        found += [4 * (begin + event.onset - measure[0].onset) for event in measure]
    return found


def test_onsets_are_those_of_verovio() -> None:
    """Its time map names every note and rest at its place, in quarters."""
    import verovio

    verovio.enableLog(verovio.LOG_OFF)  # it asks for a line on a staff that has one only
    toolkit = verovio.toolkit()
    for excerpt in excerpts():
        assert toolkit.loadData(musicxml(excerpt).decode())
        found: list[Fraction] = []
        for moment in toolkit.renderToTimemap({"includeRests": True}):
            at = Fraction(moment["qstamp"]).limit_denominator(96)
            found += [at] * (len(moment.get("on", ())) + len(moment.get("restsOn", ())))
        assert found == starts(excerpt)


@pytest.mark.parametrize("text", ALL)
def test_lengths_ties_and_meters_are_read_by_music21(text: str) -> None:
    from music21 import converter, note

    excerpt = parse_excerpt(text)
    score = converter.parse(musicxml(excerpt).decode(), format="musicxml")
    notes = list(score.recurse().getElementsByClass(note.GeneralNote))
    expected = [(e.length * 4, e.symbol.silent) for measure in excerpt.events() for e in measure]
    assert [(Fraction(n.quarterLength).limit_denominator(96), n.isRest) for n in notes] == expected
    ties = [n.tie.type if n.tie else None for n in notes]
    forward = [s.tied for s in excerpt.symbols]
    back = [False, *forward[:-1]]
    kinds = {(False, False): None, (True, False): "start", (False, True): "stop", (True, True): "continue"}
    assert ties == [kinds[pair] for pair in zip(forward, back, strict=True)]
    time = score.recurse().getElementsByClass("TimeSignature").first()
    assert time.barDuration.quarterLength == excerpt.meter.capacity * 4


def elements(text: str, path: str, conventions: Conventions | None = None) -> list[str]:
    """Text, or first attribute, of each element."""
    data = musicxml(parse_excerpt(text), *([conventions] if conventions else []))
    return [each.text or next(iter(each.attrib.values()), "") for each in etree.fromstring(data).iterfind(f".//{path}")]


@pytest.mark.parametrize(
    ("text", "path", "expected"),
    [
        ("3/4 q q q", "divisions", "1"),
        ("2/4 e e q", "divisions", "2"),
        ("2/4 et et et q", "divisions", "3"),
        ("2/4 e. s et et et", "divisions", "12"),
        ("2/4 q et et et", "duration", "3 1 1 1"),
        ("2/4 q. s s", "type", "quarter 16th 16th"),
        ("3/4 e e q. e", "beam", "begin end"),
        ("2/4 e. s s e.", "beam[@number='1']", "begin end begin end"),
        ("2/4 e. s s e.", "beam[@number='2']", "backward hook forward hook"),
        ("2/4 s e s q", "beam[@number='2']", "forward hook backward hook"),
        ("2/4 e s s q", "beam[@number='2']", "begin end"),
        ("2/4 s s s s q", "beam[@number='2']", "begin continue continue end"),
        ("4/4 et et et qt et h", "tuplet", "start stop start stop"),
        ("2/4 q~ e e", "tie", "start stop"),
        ("2/4 q~ e~ e", "tied", "start stop start stop"),
        ("2+3/8 q q.", "beats", "2+3"),
        ("6/8 rW", "duration", "3"),
        ("3/4 q _", "forward/duration", "2"),
        ("2/4 h", "staff-lines", "1"),
        ("2/4 h", "sign", "percussion"),
        ("2/4 h", "bar-style", "light-heavy"),
    ],
)
def test_elements(text: str, path: str, expected: str) -> None:
    assert " ".join(elements(text, path)) == expected


def test_beams_follow_the_class() -> None:
    assert " ".join(elements("4/4 e e e e h", "beam")) == "begin end begin end"
    half = Conventions(beam_4_4="half")
    assert " ".join(elements("4/4 e e e e h", "beam", half)) == "begin continue continue end"


def test_a_pickup_is_measure_0_and_the_full_measure_rest_says_so() -> None:
    score = etree.fromstring(musicxml(parse_excerpt("3/4 q | h. | rW | h")))
    assert [dict(each.attrib) for each in score.iterfind(".//measure")] == [
        {"number": "0", "implicit": "yes"},
        {"number": "1"},
        {"number": "2"},
        {"number": "3"},
    ]
    assert [dict(each.attrib) for each in score.iterfind(".//rest")] == [{"measure": "yes"}]
    assert [dict(each.attrib) for each in etree.fromstring(musicxml(parse_excerpt("4/4 rw"))).iterfind(".//rest")] == [
        {}
    ]


def test_a_file_as_a_whole() -> None:
    data = musicxml(parse_excerpt("2/4 h"))
    assert data == musicxml(parse_excerpt("2/4 h"))
    assert data.decode() == (
        "<?xml version='1.0' encoding='UTF-8'?>\n"
        '<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN" '
        '"http://www.musicxml.org/dtds/partwise.dtd">\n'
        '<score-partwise version="4.0">\n'
        "  <part-list>\n"
        '    <score-part id="P1">\n'
        "      <part-name>Rhythm</part-name>\n"
        "    </score-part>\n"
        "  </part-list>\n"
        '  <part id="P1">\n'
        '    <measure number="1">\n'
        "      <attributes>\n"
        "        <divisions>1</divisions>\n"
        "        <time>\n"
        "          <beats>2</beats>\n"
        "          <beat-type>4</beat-type>\n"
        "        </time>\n"
        "        <clef>\n"
        "          <sign>percussion</sign>\n"
        "        </clef>\n"
        "        <staff-details>\n"
        "          <staff-lines>1</staff-lines>\n"
        "        </staff-details>\n"
        "      </attributes>\n"
        "      <note>\n"
        "        <unpitched/>\n"
        "        <duration>2</duration>\n"
        "        <voice>1</voice>\n"
        "        <type>half</type>\n"
        "      </note>\n"
        '      <barline location="right">\n'
        "        <bar-style>light-heavy</bar-style>\n"
        "      </barline>\n"
        "    </measure>\n"
        "  </part>\n"
        "</score-partwise>\n"
    )


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("3/4 q _ _", "'q _ _' in 3/4 has two blanks: MusicXML needs to know how long a blank is"),
        ("3/4 h. _", "'h. _' in 3/4 has no room for its blank: MusicXML needs to know how long a blank is"),
    ],
)
def test_a_blank_of_unknown_length_is_refused(text: str, why: str) -> None:
    with pytest.raises(RhythmError) as error:
        musicxml(parse_excerpt(text))
    assert str(error.value) == why
