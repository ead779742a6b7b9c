"""Every name of an element or attribute that our QTI 2.2 and 3.0 documents use, as 2.2 spells it, in one table.

QTI 3.0 spells the same names in lower case with hyphens, and begins those of elements with `qti-`; the names that both
take from HTML stay as they are. Sources: the schemas of QTI 2.2.4 and of QTI 3.0.
"""

import re

# assessmentTest, assessmentItem and what they hold
_QTI = """
assessmentItem responseDeclaration correctResponse value mapping mapEntry outcomeDeclaration defaultValue itemBody
choiceInteraction simpleChoice textEntryInteraction gapMatchInteraction gapText gapImg gap
inlineChoiceInteraction inlineChoice orderInteraction stylesheet
responseProcessing responseCondition responseIf responseElseIf responseElse setOutcomeValue
and or not isNull match member stringMatch gt index sum variable correct baseValue mapResponse
modalFeedback contentBody rubricBlock catalogInfo catalog card htmlContent
assessmentTest testPart itemSessionControl assessmentSection selection assessmentItemRef
outcomeProcessing testVariables
"""
_HTML = "div img object p table tbody td tr"
_ATTRIBUTES = """
identifier title adaptive timeDependent cardinality baseType normalMaximum normalMinimum
lowerBound upperBound defaultValue mapKey mappedValue caseSensitive
responseIdentifier shuffle fixed maxChoices maxAssociations matchMax matchGroup objectLabel orientation expectedLength
outcomeIdentifier showHide variableIdentifier n use view id support
navigationMode submissionMode maxAttempts showFeedback visible select href
src alt width height data type class data-catalog-idref
"""


def kebab(name: str) -> str:
    """The name in lower case with hyphens.

    >>> kebab("gapMatchInteraction"), kebab("n")
    ('gap-match-interaction', 'n')
    """
    return re.sub(r"(?<!^)([A-Z])", r"-\1", name).lower()


def element_tags(namespace: str, *, hyphens: bool) -> dict[str, str]:
    """`{namespace}name` of each element, by its name in 2.2."""
    own = {name: f"qti-{kebab(name)}" if hyphens else name for name in _QTI.split()}
    html = {name: name for name in _HTML.split()}
    return {name: f"{{{namespace}}}{written}" for name, written in (own | html).items()}


def attribute_names(*, hyphens: bool) -> dict[str, str]:
    """Each attribute as it is written, by its name in 2.2."""
    return {name: kebab(name) if hyphens else name for name in _ATTRIBUTES.split()}
