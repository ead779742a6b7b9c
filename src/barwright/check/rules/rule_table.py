"""Every rule of the check by its id, which never changes: scripts hold it.

Here it is said why each fault of a package, its manifest, files and pictures matters on import, and how to mend it.
Sources: IMS Content Packaging 1.1.4, Common Cartridge 1.1 to 1.3, QTI 2.2 and 3.0 package schemas; common practice of
importers for the cautions.
"""

from barwright.check.rules.explanations_items import ITEM_RULES
from barwright.check.rules.findings import Rule

_AGAIN = "Export the package again, or mend the file and zip the folder's contents anew."

PACKAGE_RULES: dict[str, Rule] = {
    # the package and its files
    "file-twice": Rule(
        "error", "Importers keep the first or the last of the two, and nobody knows which.", "Zip the folder anew."
    ),
    "names-differ-in-case": Rule(
        "error", "On many computers the two are one file, and one is lost.", "Give one of them another name."
    ),
    "unsafe-name": Rule(
        "caution",
        "Importers garble names with blanks, accents or other signs, and then do not find the file.",
        "Use letters without accents, digits, - _ and . only, here and wherever the file is named.",
    ),
    "system-file": Rule(
        "caution",
        "Your computer put it in; some importers take it for a part of the quiz and stop.",
        "Zip the folder's contents without hidden files.",
    ),
    "nested-archive": Rule(
        "caution", "Importers do not open it, and neither does this check.", "Put the files in it into the package."
    ),
    "not-well-formed": Rule("error", "The importer cannot read the file at all.", _AGAIN),
    "doctype": Rule(
        "caution",
        "Some importers refuse a DOCTYPE for safety, others try to fetch what it names.",
        "Take the DOCTYPE line out; nothing in the file needs it.",
    ),
    "encoding": Rule("caution", "Many importers read UTF-8 only and garble the rest.", "Save the file as UTF-8."),
    "more-findings": Rule("caution", "The check stopped looking.", "Mend what is told first, then check again."),
    # structure, by grammar
    "unknown-element": Rule(
        "error",
        "An importer that checks the file refuses it; others leave the part out.",
        "Remove it, or mend its name.",
    ),
    "unknown-attribute": Rule(
        "error", "An importer that checks the file refuses it.", "Remove the attribute, or mend its name."
    ),
    "passed-over-attribute": Rule(
        "caution", "Importers pass over it, so whatever it should do is not done.", "Remove it, or mend its name."
    ),
    "missing-attribute": Rule("error", "An importer that checks the file refuses it.", "Add the attribute."),
    "wrong-value": Rule("error", "An importer that checks the file refuses it.", "Write one of the allowed values."),
    "misplaced-text": Rule(
        "error", "An importer that checks the file refuses it; others lose the text.", "Put the text into a paragraph."
    ),
    "wrong-children": Rule(
        "error",
        "An importer that checks the file refuses it; others lose what they do not expect.",
        "Put the elements in the order and number of the standard.",
    ),
    "wrong-structure": Rule(
        "error",
        "An importer that checks the file refuses it.",
        "Compare it with a file of the same standard that your platform took.",
    ),
    # the manifest
    "unknown-standard": Rule(
        "error",
        "Importers look there for the kind of the package, and find none that they know.",
        "Export it as Common Cartridge 1.1, 1.2 or 1.3, or as QTI 1.2, 2.2 or 3.0.",
    ),
    "older-standard": Rule(
        "caution",
        "Newer importers may not read it; this check goes by the rules of QTI 2.2.",
        "If your platform does not take it, export it as QTI 2.2.",
    ),
    "schema-name": Rule(
        "error", "Importers choose how to read a package by these two lines.", "Write them as the standard has them."
    ),
    "no-title": Rule(
        "error",
        "A cartridge must say its title; importers refuse it or call it 'untitled'.",
        "Add a title to the metadata.",
    ),
    "resource-type": Rule(
        "error",
        "Importers pass over resources of a type they do not know.",
        "Write the type that the standard has for it.",
    ),
    "resource-twice": Rule(
        "error", "Links to that identifier lead to either.", "Give each resource its own identifier."
    ),
    "resource-without-file": Rule("error", "The importer finds nothing to read.", "List the file in the resource."),
    "resource-wrong-document": Rule(
        "error", "The importer expects something else in that file.", "Mend the type of the resource, or the file."
    ),
    "file-missing": Rule(
        "error", "The importer stops, or shows a broken link instead.", "Put the file into the package, or unlist it."
    ),
    "file-outside": Rule(
        "error",
        "An importer must not and cannot reach files outside the package.",
        "Put the file in and list it there.",
    ),
    "file-unlisted": Rule(
        "caution", "Importers leave out files that the manifest does not list.", "List the file, or take it out."
    ),
    "file-listed-twice": Rule(
        "error", "In a cartridge each file belongs to one resource.", "List it in one resource only."
    ),
    "href-unlisted": Rule(
        "error",
        "The importer takes the file that is named first and misses the other.",
        "List that file in the resource.",
    ),
    "dependency-unknown": Rule(
        "error", "An importer that checks links refuses the package.", "Name a resource that is there, or remove it."
    ),
    "dependency-missing": Rule(
        "caution",
        "An importer that copies only what a resource names leaves the file out.",
        "Add a dependency on the resource that lists the file.",
    ),
    "contents-link-unknown": Rule(
        "error", "The entry in the contents opens nothing.", "Name a resource that is there."
    ),
    "contents-shape": Rule(
        "error",
        "A cartridge has one organization, a rooted hierarchy with one root item that has no title and no link.",
        "Write the contents so, or leave the organization out.",
    ),
    "bank-in-contents": Rule(
        "error", "A question bank is not for students and cannot be an entry in the contents.", "Remove the entry."
    ),
    "several-banks": Rule(
        "error",
        "A cartridge may hold one question bank; importers take one and leave the rest.",
        "Make one cartridge for each.",
    ),
    "descriptor-files": Rule(
        "error",
        "The resource of a quiz lists exactly one file, the quiz; pictures have resources of their own.",
        "Move the other files into a webcontent resource and depend on it.",
    ),
    "descriptor-href": Rule("error", "In a cartridge the resource of a quiz has no href.", "Remove the href."),
    "descriptor-at-top": Rule(
        "error", "A cartridge wants every quiz in a folder of its own.", "Move the quiz file into a folder."
    ),
    "webcontent-inside": Rule(
        "error",
        "The folder of a quiz belongs to the quiz alone; importers leave web content in it out.",
        "Move the file to a folder beside it, such as images.",
    ),
    "no-items": Rule("error", "There is nothing to import.", "Check that you exported a quiz or question bank."),
    # pictures and links
    "picture-missing": Rule(
        "error", "Students see a broken picture.", "Put the picture into the package and list it, or mend the link."
    ),
    "picture-unlisted": Rule(
        "error",
        "Importers leave out what the manifest does not list: students see a broken picture.",
        "List the picture.",
    ),
    "picture-damaged": Rule("error", "Browsers do not show it.", "Put a whole picture in its place."),
    "picture-misnamed": Rule(
        "caution",
        "Some importers go by the ending and refuse or break the picture.",
        "Give it the ending of its format.",
    ),
    "picture-format": Rule(
        "caution", "Many importers refuse this format or do not show it.", "Save the picture as PNG."
    ),
    "picture-huge": Rule(
        "caution",
        "It loads slowly or not at all, and covers the screen.",
        "Save it at the size it is shown at, or twice.",
    ),
    "alt-missing": Rule(
        "error",
        "A student who cannot see the picture is told nothing, and checking importers refuse it.",
        "Add alt with what is to be seen, not the answer.",
    ),
    "alt-empty": Rule(
        "caution",
        'An empty alt says "only for decoration": a student who cannot see it does not even learn that it is there.',
        "Say in alt what is to be seen, not the answer.",
    ),
    "size-missing": Rule(
        "caution",
        "Importers show it at full size, which for sharp pictures is twice too large.",
        "Add the width: a platform may then make it narrower, and it keeps its shape.",
    ),
    "remote-picture": Rule(
        "caution",
        "It is not in the package: importers strip the link, and it breaks when the other site changes.",
        "Put the picture into the package.",
    ),
    "link-broken": Rule(
        "error", "The importer stops there, or the link opens nothing.", "Put the file in, or mend the link."
    ),
    "filebase-missing": Rule(
        "error",
        "In a cartridge links to its files begin with $IMS-CC-FILEBASE$/; importers look elsewhere without it.",
        "Write $IMS-CC-FILEBASE$/ and the path from the top of the package.",
    ),
    "filebase-strange": Rule(
        "caution",
        "Importers differ on paths that go up from $IMS-CC-FILEBASE$.",
        "Write $IMS-CC-FILEBASE$/ and the path from the top of the package.",
    ),
    "filebase-from-file": Rule(
        "caution",
        "Readers of the standard disagree whether the path after $IMS-CC-FILEBASE$ begins at the top of the package or "
        "at the file that holds the link; an importer that begins at the top finds nothing.",
        "Write the path from the top, or put the picture there a second time, by the same path.",
    ),
    "filebase-two-files": Rule(
        "caution",
        "Readers of the standard disagree whether the path after $IMS-CC-FILEBASE$ begins at the top of the package or "
        "at the file that holds the link: some students would see another picture.",
        "Put the same file into both places, or take the wrong one out.",
    ),
    "filebase-in-plain": Rule(
        "error",
        "$IMS-CC-FILEBASE$ means something in a Common Cartridge only.",
        "Write the path from the folder of the quiz file.",
    ),
}

RULES: dict[str, Rule] = {**PACKAGE_RULES, **ITEM_RULES}
