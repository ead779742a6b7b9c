"""Response processing carried out: each test and operator of QTI 1.2, 2 and 3 against what its standard says of it."""

from fractions import Fraction

import pytest
from lxml import etree

from barwright.check.reading import read_package
from barwright.check.reading.package_model import CannotCarryOut
from barwright.check.reading.processing2 import processed as processed2
from barwright.check.reading.processing2 import program2
from barwright.check.reading.processing12 import processed, program12
from barwright.check.reading.texts import bounded, number, said

Given = dict[str, tuple[str, ...]]


def score12(conditions: str, given: Given, *, outcome: str = "<decvar/>") -> tuple[Fraction, tuple[str, ...]]:
    text = f"<item><resprocessing><outcomes>{outcome}</outcomes>{conditions}</resprocessing></item>"
    return processed(program12(etree.fromstring(text)), given)


def condition(tests: str, then: str = "<setvar>1</setvar>", goes_on: str = "No") -> str:
    return f'<respcondition continue="{goes_on}"><conditionvar>{tests}</conditionvar>{then}</respcondition>'


A = '<varequal respident="r">a</varequal>'
B = '<varequal respident="r">b</varequal>'
# Tests of QTI 1.2.1 on what was given to response r, and whether they hold.
TESTS12 = [
    (A, ("a",), True),
    (A, ("b",), False),
    (A, (), False),
    (A, ("b", "a"), True),
    (A + B, ("a",), False),  # side by side: an implied and
    (A + B, ("a", "b"), True),
    (f"<and>{A}{B}</and>", ("a",), False),
    (f"<or>{A}{B}</or>", ("b",), True),
    (f"<not>{A}</not>", ("b",), True),
    (f"<not>{A}</not>", (), True),
    (f"<and>{A}<not>{B}</not></and>", ("a", "b"), False),
    ("<other/>", ("z",), True),
    ("<other/>", (), True),
    ('<unanswered respident="r"/>', (), True),
    ('<unanswered respident="r"/>', ("a",), False),
    ('<varequal respident="r">1 &amp; 2</varequal>', (" 1 & 2 ",), True),
    ('<varequal respident="r" case="No">AND</varequal>', ("and",), True),
    ('<varequal respident="r" case="Yes">AND</varequal>', ("and",), False),
    ('<varequal respident="r" index="2">b</varequal>', ("a", "b"), True),
    ('<varequal respident="r" index="1">b</varequal>', ("a", "b"), False),
    ('<varequal respident="r" index="0">b</varequal>', ("b",), False),
    ('<varsubstring respident="r">ND</varsubstring>', ("1 and 2",), True),
    ('<varsubstring respident="r" case="Yes">ND</varsubstring>', ("1 and 2",), False),
    ('<varsubset respident="r">a,b</varsubset>', ("c", "b", "a"), True),
    ('<varsubset respident="r">a,b</varsubset>', ("a",), False),
    ('<varsubset respident="r" setmatch="Partial">a,b</varsubset>', ("b",), True),
    ('<varlt respident="r">3</varlt>', ("2.5",), True),
    ('<varlt respident="r">3</varlt>', ("3",), False),
    ('<varlte respident="r">3</varlte>', ("3",), True),
    ('<vargt respident="r">3</vargt>', ("3.01",), True),
    ('<vargte respident="r">3</vargte>', ("three",), False),
    ("", ("a",), False),
]


@pytest.mark.parametrize(("test", "given", "holds"), TESTS12)
def test_tests_of_12(test: str, given: tuple[str, ...], holds: bool) -> None:
    assert score12(condition(test), {"r": given})[0] == holds


@pytest.mark.parametrize(
    ("actions", "score"),
    [
        ("<setvar>5</setvar>", 5),
        ('<setvar action="Add">5</setvar>', 15),
        ('<setvar action="Subtract">5</setvar>', 5),
        ('<setvar action="Multiply">0.5</setvar>', 5),
        ('<setvar action="Divide">4</setvar>', Fraction(5, 2)),
        ('<setvar action="Add">5</setvar><setvar action="Multiply">2</setvar>', 30),
        ('<setvar varname="OTHER">5</setvar>', 10),
    ],
)
def test_actions_of_12(actions: str, score: int) -> None:
    assert score12(condition("<other/>", actions), {}, outcome='<decvar defaultval="10"/>')[0] == score


def test_conditions_go_on_only_where_they_say_so() -> None:
    show = '<displayfeedback linkrefid="{}"/>'.format
    one, two, three = (condition(A, show(n), goes) for n, goes in (("x", "Yes"), ("y", "No"), ("z", "No")))
    assert score12(one + two + three, {"r": ("a",)}) == (0, ("x", "y"))
    assert score12(condition(B, show("w")) + one + one, {"r": ("a",)}) == (0, ("x",))


def test_score_by_another_name() -> None:
    text = (
        '<item><resprocessing><outcomes><decvar varname="POINTS"/></outcomes>'
        f"{condition(A, '<setvar varname=chr>2</setvar>'.replace('chr', repr('POINTS')))}</resprocessing></item>"
    )
    assert processed(program12(etree.fromstring(text)), {"r": ("a",)})[0] == 2


@pytest.mark.parametrize(
    ("tests", "then", "says"),
    [
        ('<durlt respident="r">5</durlt>', "", "the test 'durlt'"),
        ("<var_extension/>", "", "the test 'var_extension'"),
        ('<vargt respident="r">three</vargt>', "", "the bound 'three'"),
        ("<other/>", "<setvar>five</setvar>", "a score of 'five'"),
        ("<other/>", '<setvar action="Divide">0</setvar>', "a score divided by 0"),
        ("<other/>", '<setvar action="Double">2</setvar>', "the action 'Double' of setvar"),
    ],
)
def test_what_is_not_carried_out_of_12(tests: str, then: str, says: str) -> None:
    with pytest.raises(CannotCarryOut) as caught:
        score12(condition(tests, then), {})
    assert str(caught.value) == says


NUMBER = '<baseValue baseType="float">{}</baseValue>'.format
TEXT = '<baseValue baseType="string">{}</baseValue>'.format
NAME = '<baseValue baseType="identifier">{}</baseValue>'.format
R = '<variable identifier="R"/>'
M = '<variable identifier="M"/>'
IN_ORDER = '<variable identifier="O"/>'
TRUE, FALSE = (f'<baseValue baseType="boolean">{t}</baseValue>' for t in ("true", "false"))
# Expressions with R = a (single), M = a b (multiple), O = a b (ordered), and their values as text.
EXPRESSIONS = [
    (f"<match>{R}{NAME('a')}</match>", "True"),
    (f"<match>{R}{NAME('b')}</match>", "False"),
    (f"<match>{R}<null/></match>", ""),
    (f"<match>{M}<multiple>{NAME('b')}{NAME('a')}</multiple></match>", "True"),
    (f"<match>{IN_ORDER}<ordered>{NAME('b')}{NAME('a')}</ordered></match>", "False"),
    (f"<match>{IN_ORDER}<ordered>{NAME('a')}{NAME('b')}</ordered></match>", "True"),
    (f"<and>{TRUE}{FALSE}</and>", "False"),
    (f"<or>{FALSE}{TRUE}</or>", "True"),
    (f"<not>{TRUE}</not>", "False"),
    ("<not><null/></not>", ""),
    ("<isNull><null/></isNull>", "True"),
    (f"<isNull>{R}</isNull>", "False"),
    (f"<member>{NAME('b')}{M}</member>", "True"),
    (f"<member>{NAME('c')}{M}</member>", "False"),
    (f"<contains>{M}{R}</contains>", "True"),
    (f"<contains>{R}{M}</contains>", "False"),
    (f"<containerSize>{M}</containerSize>", "2"),
    ("<containerSize><null/></containerSize>", "0"),
    (f"<delete>{NAME('a')}{M}</delete>", "b"),
    (f'<index n="2">{IN_ORDER}</index>', "b"),
    (f'<index n="3">{IN_ORDER}</index>', ""),
    (f"<sum>{NUMBER(1)}{NUMBER('0.5')}</sum>", "3/2"),
    (f"<sum>{NUMBER(1)}<null/></sum>", ""),
    (f"<product>{NUMBER(3)}{NUMBER('-2')}</product>", "-6"),
    (f"<product>{NUMBER(3)}<null/></product>", ""),
    (f"<subtract>{NUMBER(3)}{NUMBER(5)}</subtract>", "-2"),
    (f"<divide>{NUMBER(3)}{NUMBER(4)}</divide>", "3/4"),
    (f"<divide>{NUMBER(3)}{NUMBER(0)}</divide>", ""),
    (f"<integerDivide>{NUMBER(7)}{NUMBER(2)}</integerDivide>", "3"),
    (f"<integerModulus>{NUMBER(7)}{NUMBER(2)}</integerModulus>", "1"),
    (f"<gt>{NUMBER(2)}{NUMBER(1)}</gt>", "True"),
    (f"<gte>{NUMBER(1)}{NUMBER(1)}</gte>", "True"),
    (f"<lt>{NUMBER(2)}{NUMBER(1)}</lt>", "False"),
    (f"<lte>{NUMBER(2)}<null/></lte>", ""),
    (f"<equal>{NUMBER('1.0')}{NUMBER(1)}</equal>", "True"),
    (f"<max>{NUMBER(2)}{NUMBER(3)}</max>", "3"),
    (f"<min>{NUMBER(2)}{NUMBER(3)}</min>", "2"),
    ("<max><null/></max>", ""),
    (f"<truncate>{NUMBER('-2.7')}</truncate>", "-2"),
    (f"<round>{NUMBER('2.5')}</round>", "3"),
    (f"<round>{NUMBER('-2.5')}</round>", "-2"),
    (f"<integerToFloat>{NUMBER(2)}</integerToFloat>", "2"),
    (f'<stringMatch caseSensitive="true">{TEXT("And")}{TEXT("and")}</stringMatch>', "False"),
    (f'<stringMatch caseSensitive="false">{TEXT("And")}{TEXT("and")}</stringMatch>', "True"),
    (f'<stringMatch caseSensitive="true" substring="true">{TEXT("band")}{TEXT("and")}</stringMatch>', "True"),
    (f'<substring caseSensitive="true">{TEXT("and")}{TEXT("band")}</substring>', "True"),
    (f'<substring caseSensitive="true">{TEXT("band")}{TEXT("and")}</substring>', "False"),
    (f'<stringMatch caseSensitive="true">{TEXT("a")}<null/></stringMatch>', ""),
    ('<correct identifier="R"/>', "a"),
    ('<default identifier="OUT"/>', "7"),
    ('<variable identifier="numAttempts"/>', "1"),
    ('<variable identifier="completionStatus"/>', "unknown"),
    ('<mapResponse identifier="M"/>', "1"),
]
DECLARED = """
  <responseDeclaration identifier="R" cardinality="single" baseType="identifier">
    <correctResponse><value>a</value></correctResponse>
  </responseDeclaration>
  <responseDeclaration identifier="M" cardinality="multiple" baseType="identifier">
    <mapping defaultValue="-1" lowerBound="0" upperBound="1">
      <mapEntry mapKey="a" mappedValue="1"/><mapEntry mapKey="b" mappedValue="2"/>
    </mapping>
  </responseDeclaration>
  <responseDeclaration identifier="O" cardinality="ordered" baseType="identifier"/>
  <outcomeDeclaration identifier="OUT" cardinality="single" baseType="integer">
    <defaultValue><value>7</value></defaultValue>
  </outcomeDeclaration>
"""
GIVEN = {"R": ("a",), "M": ("a", "b"), "O": ("a", "b")}


def outcome(rules: str, *, name: str = "OUT", given: Given = GIVEN) -> str:
    text = f"<assessmentItem>{DECLARED}<responseProcessing>{rules}</responseProcessing></assessmentItem>"
    value = processed2(program2(etree.fromstring(text)), given)[name]
    return " ".join(map(str, value.atoms))


def setting(expression: str) -> str:
    return f'<setOutcomeValue identifier="OUT">{expression}</setOutcomeValue>'


@pytest.mark.parametrize(("expression", "value"), EXPRESSIONS)
def test_expressions(expression: str, value: str) -> None:
    assert outcome(setting(expression)) == value


@pytest.mark.parametrize(("expression", "value"), EXPRESSIONS)
def test_expressions_in_kebab_case(expression: str, value: str) -> None:
    """QTI 3 renames every element and attribute, and nothing else."""
    root = etree.fromstring(
        f"<assessmentItem>{DECLARED}<responseProcessing>{setting(expression)}</responseProcessing></assessmentItem>"
    )
    for element in root.iter():
        element.tag = "qti-" + kebab(str(element.tag))
        for name, text in list(element.attrib.items()):
            del element.attrib[name]
            element.set(kebab(str(name)), text)
    assert " ".join(map(str, processed2(program2(root), GIVEN)["OUT"].atoms)) == value


def kebab(name: str) -> str:
    return "".join(f"-{c.lower()}" if c.isupper() else c for c in name)


def test_first_branch_that_holds() -> None:
    branches = (
        f"<responseIf>{FALSE}{setting(NUMBER(1))}</responseIf><responseElseIf>{TRUE}{setting(NUMBER(2))}"
        f"</responseElseIf><responseElseIf>{TRUE}{setting(NUMBER(3))}</responseElseIf>"
        f"<responseElse>{setting(NUMBER(4))}</responseElse>"
    )
    assert outcome(f"<responseCondition>{branches}</responseCondition>") == "2"
    assert outcome(f"<responseCondition>{branches.replace('true', 'false')}</responseCondition>") == "4"


def test_exit_and_fragments() -> None:
    rules = f"<responseProcessingFragment>{setting(NUMBER(1))}<exitResponse/></responseProcessingFragment>"
    assert outcome(rules + setting(NUMBER(2))) == "1"


@pytest.mark.parametrize(
    ("picked", "total"), [(("a",), 1), (("b",), 1), (("c",), 0), (("a", "c"), 0), (("a", "a"), 1), (("a", "b", "c"), 1)]
)
def test_mapping_counts_once_and_keeps_its_bounds(picked: tuple[str, ...], total: int) -> None:
    assert outcome(setting('<mapResponse identifier="M"/>'), given={"M": picked}) == str(total)


@pytest.mark.parametrize(
    ("rules", "says"),
    [
        ("", "no response processing"),
        (setting('<patternMatch pattern="a"/>'), "the operator 'patternMatch'"),
        (setting(f'<equal toleranceMode="absolute">{NUMBER(1)}{NUMBER(1)}</equal>'), "the operator 'equal'"),
        (setting('<variable identifier="X"/>'), "the undeclared variable 'X'"),
        (setting('<mapResponse identifier="R"/>'), "the mapping of 'R', which has none"),
        (setting(NUMBER("much")), "the number 'much'"),
        (setting(f"<sum>{TEXT('a')}</sum>"), "reckoning with what is no number"),
        ('<setOutcomeValue identifier="OUT"/>', "a rule without a value"),
        (f'<setOutcomeValue identifier="X">{TRUE}</setOutcomeValue>', "the undeclared outcome 'X'"),
        ("<lookupOutcomeValue/>", "the rule 'lookupOutcomeValue'"),
    ],
)
def test_what_is_not_carried_out_of_2(rules: str, says: str) -> None:
    with pytest.raises(CannotCarryOut) as caught:
        outcome(rules)
    assert str(caught.value) == says


TEMPLATED = """
<assessmentItem xmlns="http://www.imsglobal.org/xsd/imsqti_v2p2" identifier="i" title="T">
  <responseDeclaration identifier="RESPONSE" cardinality="single" baseType="identifier">
    <correctResponse><value>a</value></correctResponse>
    <mapping defaultValue="0"><mapEntry mapKey="a" mappedValue="2"/><mapEntry mapKey="b" mappedValue="1"/></mapping>
  </responseDeclaration>
  <outcomeDeclaration identifier="SCORE" cardinality="single" baseType="float"/>
  <outcomeDeclaration identifier="MAXSCORE" cardinality="single" baseType="float">
    <defaultValue><value>3</value></defaultValue>
  </outcomeDeclaration>
  <outcomeDeclaration identifier="FEEDBACKBASIC" cardinality="single" baseType="identifier"/>
  <itemBody><choiceInteraction responseIdentifier="RESPONSE"><simpleChoice identifier="a">A</simpleChoice>
    <simpleChoice identifier="b">B</simpleChoice></choiceInteraction></itemBody>
  <responseProcessing template="http://www.imsglobal.org/question/qti_v2p2/rptemplates/{}"/>
  <modalFeedback outcomeIdentifier="FEEDBACKBASIC" identifier="correct" showHide="show">Yes.</modalFeedback>
  <modalFeedback outcomeIdentifier="FEEDBACKBASIC" identifier="correct" showHide="hide">No.</modalFeedback>
</assessmentItem>
"""


@pytest.mark.parametrize(
    ("template", "scores", "told"),
    [
        ("match_correct", (0, 1, 0), ("No.", "No.", "No.")),
        ("match_correct.xml", (0, 1, 0), ("No.", "No.", "No.")),
        ("map_response", (0, 2, 1), ("No.", "No.", "No.")),
        ("CC2_match", (0, 3, 0), ("No.", "Yes.", "No.")),
        ("CC2_map_response", (0, 2, 1), ("No.", "Yes.", "No.")),
    ],
)
def test_templates(template: str, scores: tuple[int, ...], told: tuple[str, ...]) -> None:
    (item,) = read_package(TEMPLATED.format(template).encode()).items
    answers = item.scored
    given = [((),), (("a",),), (("b",),)]
    assert tuple(answers[g].score for g in given) == scores
    assert tuple(answers[g].feedback for g in given) == tuple((t,) for t in told)


@pytest.mark.parametrize(
    ("template", "says"),
    [("map_area", "the template 'map_area'"), ("", "the template 'rptemplates'")],
)
def test_unknown_templates(template: str, says: str) -> None:
    (item,) = read_package(TEMPLATED.format(template).encode()).items
    assert (item.untried, item.answers, item.responses[0].keys) == (says, (), ("a",))


def test_numbers_are_bounded() -> None:
    assert number("1e99") == Fraction(10**99)
    assert number("1e100") is number("1" * 16) is number("") is number(None) is number("0x1") is None
    with pytest.raises(OverflowError, match="number of absurd size"):
        bounded(Fraction(10**41))
    assert (said(Fraction(-5, 2)), said(Fraction(1, 3)), said(Fraction(1, 10**7))) == ("-2.5", "1/3", "1/10000000")
