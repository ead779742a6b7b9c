"""A whole package of QTI 2.2 or 3.0: items, a file each, a test unless it is a bank, pictures, and the manifest.

Source: PackageContent Packaging 1.1.4 with the resource types of QTI 2.2; the manifest schema of QTI 3.0.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from barwright.items.item import Interaction
from barwright.qti.manifest import (
    QTI22_PACKAGE,
    QTI30_BANK,
    QTI30_PACKAGE,
    About,
    Dialect,
    Facts,
    Resource,
    manifest,
)
from barwright.qti.package_content import PackageContent, ShownItem
from barwright.qti.v2and3.assessment import assessment_document, item_path
from barwright.qti.v2and3.dialect import DIALECT_22, DIALECT_30
from barwright.qti.v2and3.dialect import Dialect as Language
from barwright.qti.v2and3.item2 import item_document
from barwright.qti.v2and3.style_sheet import RESOURCE, SHEET, figures_shown
from barwright.qti.zip_entries import ZipEntry

TEST = "test.xml"
INTERACTION_TYPES: dict[Interaction, str] = {
    "figures": "choiceInteraction",
    "texts": "choiceInteraction",
    "several": "choiceInteraction",
    "entry": "textEntryInteraction",
    "gaps": "gapMatchInteraction",
    "inline": "inlineChoiceInteraction",
    "order": "orderInteraction",
}


@dataclass(frozen=True, slots=True)
class Edition:
    """One standard: the language of its items, its manifest by whether it is a bank, and the end of its type names."""

    language: Language
    manifests: Mapping[bool, Dialect]
    version: str


EDITION_22 = Edition(DIALECT_22, {False: QTI22_PACKAGE, True: QTI22_PACKAGE}, "xmlv2p2")
EDITION_30 = Edition(DIALECT_30, {False: QTI30_PACKAGE, True: QTI30_BANK}, "xmlv3p0")


def package_entries(content: PackageContent, edition: Edition, *, bank: bool) -> tuple[ZipEntry, ...]:
    """All files, the manifest first; a bank has no test, for there is no other kind of bank in these standards."""
    form, language = content.form, edition.language
    partial = form.credit == "per-choice"
    items = tuple(
        ZipEntry(item_path(q), item_document(q, language, language=form.language, partial=partial))
        for q in content.questions
    )
    test = () if bank else (ZipEntry(TEST, assessment_document(content, language)),)
    resources = [_item_resource(q, edition) for q in content.questions]
    if test:
        needs = tuple(r.ident for r in resources)
        resources.insert(
            0, Resource("resource_test", f"imsqti_test_{edition.version}", (TEST,), main=TEST, needs=needs)
        )
    resources += [
        Resource(_picture_ident(image.path), "webcontent", (image.path,), main=image.path) for image in content.images
    ]
    sheets = (SHEET,) if content.images else ()
    resources += [RESOURCE] * len(sheets)
    about = About(form.ident, form.called, form.language)
    return (manifest(edition.manifests[bank], resources, about=about), *test, *items, *sheets, *content.images)


def _item_resource(question: ShownItem, edition: Edition) -> Resource:
    item, path = question.item, item_path(question)
    shown = figures_shown(question)
    sheet = (RESOURCE.ident,) if shown else ()
    keywords = tuple(dict.fromkeys(word for word in (item.category, *item.keywords) if word))
    count = len(question.slots) if item.interaction == "inline" else 1
    return Resource(
        f"resource_{item.ident}",
        f"imsqti_item_{edition.version}",
        (path,),
        main=path,
        needs=(*sheet, *dict.fromkeys(_picture_ident(each.path) for each in shown)),
        facts=Facts(
            item.ident, item.title, keywords, (INTERACTION_TYPES[item.interaction],) * count, bool(question.feedback)
        ),
    )


def _picture_ident(path: str) -> str:
    """The identifier of a picture's resource: an XML name."""
    return path.replace("/", "_")
