"""Why each fault of an item matters on import or to a student, and how to mend it.

Sources: QTI 1.2.1, 2.2 and 3.0; the item types of the Common Cartridge profile; common practice of importers for the
cautions.
"""

from barwright.check.rules.findings import Rule

_NAME = "Mend the name, or add what is named."

ITEM_RULES: dict[str, Rule] = {
    # identity and parts
    "item-twice": Rule("error", "Importers keep one of the two, or refuse both.", "Give each item its own identifier."),
    "identifier-twice": Rule("error", "Results and links mix the two up.", "Give each its own identifier."),
    "choice-twice": Rule(
        "error",
        "The two cannot be told apart: a student who picks one has picked both.",
        "Give each its own identifier.",
    ),
    "no-response": Rule(
        "caution",
        "There is nothing to answer, so importers drop it or show a bare text.",
        "Add choices or a place to type.",
    ),
    "one-choice": Rule("caution", "With a single choice there is nothing to choose.", "Add other choices."),
    "empty-choice": Rule(
        "error", "Students see an empty line that they can pick.", "Give the choice a text or picture."
    ),
    "empty-stem": Rule("caution", "Students see choices without a question.", "Write the question."),
    "choices-alike": Rule("caution", "Two choices that look the same confuse students.", "Change or remove one."),
    "key-alike": Rule(
        "error", "The right choice looks the same as a wrong one: students can only guess.", "Change or remove one."
    ),
    # keys
    "no-key": Rule(
        "error", "No answer is right: every student gets 0, or the importer refuses the item.", "Mark the right answer."
    ),
    "by-hand": Rule(
        "caution",
        "No answer is right by itself: a person must score each, or every student gets 0.",
        "Name the right answers, or make it an essay.",
    ),
    "key-no-choice": Rule("error", "No student can give that answer.", "Name one of the choices as the right answer."),
    "answer-no-choice": Rule(
        "error", "The rule never applies, or the importer refuses the item.", "Name one of the choices."
    ),
    "several-keys": Rule(
        "error",
        "Only one answer can be picked, but several count as right: importers take the first.",
        "Leave one, or let students pick several.",
    ),
    "few-picks": Rule(
        "error", "The right answer needs more picks than are allowed.", "Raise the number, or 0 for any."
    ),
    "no-correct-response": Rule(
        "caution", "Importers that do not read the mapping find no key.", "Declare the correct response as well."
    ),
    "wrong-declaration": Rule(
        "error",
        "The answer and what it is compared with are of different kinds.",
        "Declare the response as the standard has it.",
    ),
    # scores
    "no-scoring": Rule(
        "error", "Nothing says what an answer scores: every student gets 0.", "Add response processing."
    ),
    "key-scores-too-little": Rule(
        "error", "A student who answers right does not get the full score.", "Let the right answer score in full."
    ),
    "full-unreachable": Rule(
        "error",
        "No answer reaches the full score, so nobody can get 100 %.",
        "Make the full score what the key scores.",
    ),
    "wrong-scores-full": Rule("error", "A wrong answer gets the full score.", "Let it score 0, or make it a key."),
    "wrong-scores": Rule(
        "caution",
        "A wrong answer earns something; importers without partial credit make it 0 or all.",
        "Let it score 0.",
    ),
    "nothing-scores": Rule("error", "A student who answers nothing gets points.", "Score only answers that are given."),
    "score-too-high": Rule(
        "error", "Importers cut it off or refuse it.", "Raise the declared maximum or lower the score."
    ),
    "score-below": Rule(
        "caution", "Some platforms take points away, others make it 0.", "Set a lower bound of 0 on the mapping."
    ),
    "worth-nothing": Rule("error", "The item cannot earn a point.", "Give it a full score above 0."),
    "implied-and": Rule(
        "error",
        "Tests side by side must all hold, which no single answer can do.",
        "Give each its own condition, or use or.",
    ),
    "case-matters": Rule(
        "caution",
        "Capital letters make a right answer wrong.",
        'Let both count (QTI 1.2: case="No"; later: a mapping without caseSensitive).',
    ),
    "untried": Rule(
        "caution",
        "The scores could not be tried here, and simple importers may not read them.",
        "Try the item on your platform.",
    ),
    # references
    "response-unknown": Rule("error", "The rule never applies, or the importer refuses the item.", _NAME),
    "variable-unknown": Rule("error", "The importer refuses the item, or the score is lost.", _NAME),
    "feedback-unknown": Rule("error", "The student is told nothing, or the importer refuses the item.", _NAME),
    "feedback-twice": Rule("error", "Only one of the two texts is shown.", "Give each its own identifier."),
    "feedback-unused": Rule("caution", "No student ever sees this text.", "Show it for some answer, or take it out."),
    "template-unknown": Rule(
        "error",
        "The importer does not know how to score the item.",
        "Use match_correct or map_response, or write the rules out.",
    ),
    "template-names": Rule(
        "error",
        "The template works on a response called RESPONSE and an outcome called SCORE only.",
        "Use those names, or write the rules out.",
    ),
    "catalog-unknown": Rule("error", "The support for students who need it is not offered.", _NAME),
    "select-too-many": Rule("error", "More items are to be drawn than there are.", "Lower the number, or add items."),
    "not-in-test": Rule(
        "caution", "Importers that read the test do not show this item.", "Add it to the test, or take it out."
    ),
    # item types of a cartridge
    "profile-type": Rule(
        "error",
        "Importers go by the declared type and break on an item of another.",
        "Make cc_profile and the kind of response agree.",
    ),
    "profile-scoring": Rule(
        "error",
        "Importers of cartridges look for one fixed pattern of scoring and else find no key.",
        "Write that pattern.",
    ),
    "profile-field": Rule(
        "error",
        "The metadata of a cartridge is a closed list, by which importers choose how to read a quiz.",
        "Write the fields that the standard has, each once.",
    ),
    # what gives the key away
    "ident-gives-away": Rule(
        "caution", "Students can see identifiers in the page.", "Use identifiers that say nothing, such as c1, c2."
    ),
    "file-gives-away": Rule(
        "caution", "Students can see file names in the page.", "Use file names that say nothing, such as f01.png."
    ),
    "alt-gives-away": Rule(
        "error",
        "A student who hears the text is told the answer; others can see it too.",
        "Say what is to be seen, no more.",
    ),
    "title-gives-away": Rule(
        "caution", "Many platforms show the title above the question.", "Use titles that say nothing."
    ),
    "always-same-key": Rule(
        "caution",
        "A student who notices needs to read no question.",
        "Let the right choice have any identifier and place.",
    ),
    # what importers commonly drop
    "rare-interaction": Rule(
        "caution",
        "Few importers read this way of answering; the others drop the item.",
        "Ask by choice or short entry.",
    ),
    "mixed-interactions": Rule(
        "caution", "Many importers read one way of answering per item and drop the others.", "Make an item of each."
    ),
    "active-content": Rule(
        "caution", "Importers strip scripts, frames, forms and event attributes for safety.", "Take them out."
    ),
    "special-markup": Rule(
        "caution",
        "Importers drop SVG, MathML and speech markup in a text, and what it says with it.",
        "Use a PNG picture.",
    ),
    "style-dropped": Rule(
        "caution", "Importers drop style sheets, so a text that needs them cannot be read.", "Let the text do without."
    ),
    "media-dropped": Rule(
        "caution", "Few importers bring sound and film along.", "Link to it from the course, not from the item."
    ),
    "extension": Rule("caution", "Only the program that wrote it knows what it means.", "Take it out."),
    "adaptive": Rule(
        "caution", "Few platforms can show an item that goes on after an answer.", "Make it several items."
    ),
    "random-values": Rule(
        "caution", "Few platforms fill in values at random; the others show an empty place.", "Write out the variants."
    ),
    "branching": Rule("caution", "Few platforms follow branches; the others show all items.", "Do without branches."),
    "included-parts": Rule("caution", "Importers do not fetch parts from other files.", "Write the part out."),
}
