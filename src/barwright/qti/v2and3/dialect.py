"""QTI 2.2 and QTI 3.0 as two dialects of one language: where they differ is a row here, all else is written once.

Every name of an element or attribute that our documents use stands in one table, as 2.2 spells it. QTI 3.0 spells the
same names in lower case with hyphens, and begins those of elements with `qti-`; the names that both take from HTML stay
as they are. Sources: the schemas of QTI 2.2.4 and of QTI 3.0.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass

from lxml import etree

from barwright.items.item import Interaction
from barwright.qti.xml import (
    QTI22,
    QTI30,
    XSI,
    child,
    root_element,
)

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


@dataclass(frozen=True, slots=True, eq=False)
class Dialect:
    """Names, and the few things that only one of the two says.

    `body` tells whether feedback and rubrics hold their text in a `contentBody`; `catalogs` whether figures have an
    accessibility catalog; `picture_gap` the element in which a picture is dragged; `looks` the attributes that tell how
    an interaction is laid out, which are hints: every item works without them.
    """

    namespace: str
    location: str
    tags: Mapping[str, str]
    attributes: Mapping[str, str]
    body: bool
    catalogs: bool
    picture_gap: str
    looks: Mapping[Interaction, Mapping[str, str]]

    def root(self, name: str, attributes: Mapping[str, str]) -> etree._Element:
        """A new root element with these attributes, named as in 2.2 or in full, and where its schema is published."""
        where = {f"{{{XSI}}}schemaLocation": f"{self.namespace} {self.location}"}
        told = {self.attributes.get(key, key): value for key, value in attributes.items()}
        return root_element(self.namespace, self.tags[name].partition("}")[2], attributes=where | told)

    def add(self, parent: etree._Element, name: str, *, text: str = "", **attributes: str) -> etree._Element:
        """A new last child, element and attributes named as in 2.2; KeyError for a name that is not in the table."""
        names = self.attributes
        told = {names[key]: value for key, value in attributes.items()}
        return child(parent, self.tags[name], text=text, attributes=told)


# Shared vocabulary of QTI 3.0 (classes); QTI 2.2 has an attribute for the one that matters.
# Wide enough for the longest row, and the same for every entry, so that the box tells nothing of the answer.
_LOOKS_30: dict[Interaction, dict[str, str]] = {
    "figures": {"class": "qti-orientation-vertical qti-labels-upper-alpha qti-labels-suffix-period"},
    "texts": {"class": "qti-orientation-vertical qti-labels-upper-alpha qti-labels-suffix-period"},
    "several": {"class": "qti-orientation-vertical qti-labels-upper-alpha qti-labels-suffix-period"},
    "entry": {"class": "qti-input-width-40"},
    "gaps": {"class": "qti-choices-bottom"},
    "inline": {"class": "qti-input-width-4"},
    "order": {"class": "qti-orientation-horizontal qti-labels-none"},
}
_LOOKS_22: dict[Interaction, dict[str, str]] = {"order": {"orientation": "horizontal"}}

DIALECT_22 = Dialect(
    namespace=QTI22,
    location="http://www.imsglobal.org/xsd/qti/qtiv2p2/imsqti_v2p2.xsd",
    tags=element_tags(QTI22, hyphens=False),
    attributes=attribute_names(hyphens=False),
    body=False,
    catalogs=False,
    picture_gap="gapImg",
    looks=_LOOKS_22,
)
# In 3.0 the picture stands in a `qti-gap-text`, whose content is any text with pictures: a rendering library that we
# tried lets students drag those, but not a `qti-gap-img` outside the graphic interaction.
DIALECT_30 = Dialect(
    namespace=QTI30,
    location="https://purl.imsglobal.org/spec/qti/v3p0/schema/xsd/imsqti_asiv3p0_v1p0.xsd",
    tags=element_tags(QTI30, hyphens=True),
    attributes=attribute_names(hyphens=True),
    body=True,
    catalogs=True,
    picture_gap="gapText",
    looks=_LOOKS_30,
)
