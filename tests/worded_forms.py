"""Worded forms by hand: all interactions, text that breaks careless writers, and pictures that are shared."""

import io
from dataclasses import replace

from PIL import Image

from barwright.rhythm.excerpt import Figure, fragment
from barwright.rhythm.text import parse_excerpt, parse_symbols
from barwright.wording.worded import (
    Picture,
    Pictures,
    WordedChoice,
    WordedFigure,
    WordedForm,
    WordedItem,
    WordedSlot,
)

TRICKY = 'a < b & "c"'
MEASURE = parse_excerpt("3/4 h _")
FULL = parse_excerpt("3/4 h rq")
WHOLE = WordedFigure(Figure(MEASURE), 'One measure, signature "3 over 4": half note, blank.')
COUNTED = WordedFigure(Figure(FULL), "One measure: half note & quarter rest.")


def symbol(text: str, alt: str) -> WordedFigure:
    """A choice's picture of one symbol."""
    return WordedFigure(fragment(parse_symbols(text), MEASURE.meter), alt)


QUARTER, REST = symbol("q", "Quarter note."), symbol("rq", "Quarter rest.")
HALF, EIGHTHS = symbol("h", "Half note."), symbol("e e", "Two eighth notes.")


def choice(number: int, shown: WordedFigure | str, misreading: str = "", feedback: str = "") -> WordedChoice:
    """A choice; one without a misreading is a key."""
    text, figure = (shown, None) if isinstance(shown, str) else ("", shown)
    why = f"Why: {misreading}" if misreading else ""
    return WordedChoice(f"c{number}", text, figure, not misreading, feedback, misreading, why)


FIGURES = WordedItem(
    ident="q00a1",
    item_id="00a1",
    title="Question 1",
    interaction="figures",
    stem=("One note is missing.", f"Is {TRICKY} – naïvely – so? Pick one."),
    figure=WHOLE,
    choices=(
        choice(1, HALF, "fills-as-if-empty", "A half note & the half note make four."),
        choice(2, QUARTER, "", "Right. Now the measure adds up to 3."),
        choice(3, EIGHTHS, "note-heads-are-beats", 'Two heads are not "two beats".'),
    ),
    points=1,
    category="finish-measure",
)
TEXTS = WordedItem(
    ident="q00a2",
    item_id="00a2",
    title="Question 2",
    interaction="texts",
    stem=("The time signature is hidden. Which one fits?",),
    figure=COUNTED,
    choices=(
        choice(1, "3/4", "", "Right."),
        choice(2, "4/4 & more", "everything-is-four-four", "Not < all > music has four."),
        choice(3, "1 (2) 3–4", "rests-take-no-time", "A rest lasts, too – così."),
    ),
    points=2,
    pinned=True,
    category="time-signature-for-rhythm",
)
SEVERAL = WordedItem(
    ident="q00a3",
    item_id="00a3",
    title="Question 3",
    interaction="several",
    stem=("Which of these fill the blank?",),
    figure=WHOLE,
    choices=(
        choice(1, QUARTER, "", "Right. With this one, it adds up."),
        choice(2, HALF, "fills-as-if-empty", "Too long."),
        choice(3, REST, "", "Right. A rest lasts as long."),
        choice(4, EIGHTHS, "note-heads-are-beats", "Heads < beats."),
    ),
    points=3,
    note="Pick every right answer.",
    general_feedback="Try each choice in the blank & add up.",
    category="all-that-fit",
)
ENTRY = WordedItem(
    ident="q00a4",
    item_id="00a4",
    title="Question 4",
    interaction="entry",
    stem=("What are the counts?",),
    figure=COUNTED,
    choices=(
        replace(choice(1, "1-2 (3)", "", "Right."), spellings=("1-2 (3)", "1–2 (3)", "1 - 2 (3)")),
        replace(choice(2, "1-2 3", "rest-without-parentheses", "The rest is (3)."), spellings=("1-2 3", "1–2 3")),
        replace(
            choice(3, "1 & 2", "counts-heads", "Count the < held > part."), spellings=("1 & 2", "1 and 2", "1 AND 2")
        ),
    ),
    points=2,
    note="Type the counts with a space between them.",
    general_feedback='Start each measure at "1".',
    category="write-counts",
)


GAPS = WordedItem(
    ident="q00a5",
    item_id="00a5",
    title="Question 5",
    interaction="gaps",
    stem=("Drag a note or rest into each gap & fill the measure.",),
    figure=None,
    choices=(
        choice(1, HALF, "", "Right. It adds up."),
        choice(2, QUARTER),
        choice(3, REST, "", "Right, too."),
        choice(4, EIGHTHS, "note-heads-are-beats", "Heads < beats."),
    ),
    points=2,
    general_feedback="Add up what is in the measure & in the gaps.",
    category="drag-to-finish",
    pieces=(COUNTED, WordedSlot("s1", ("c1",)), QUARTER, WordedSlot("s2", ("c2", "c3"), ("c2", "c3", "c4"))),
    keywords=("meter 3/4", "rests", "MU:Pr4.2.5a"),
)
INLINE = WordedItem(
    ident="q00a6",
    item_id="00a6",
    title="Question 6",
    interaction="inline",
    stem=("Which count belongs under each note or rest?",),
    figure=None,
    choices=(
        choice(1, "1", "", "Right. All counts are there."),
        choice(2, "(2)"),
        choice(3, "& <3>"),
        choice(4, "2-3", "rest-without-parentheses", "Only a held note has a line between the counts."),
    ),
    points=3,
    general_feedback='Say the counts & point: "1" comes first.',
    category="counts-in-lists",
    pieces=(
        HALF,
        WordedSlot("s1", ("c1",)),
        REST,
        WordedSlot("s2", ("c2", "c3"), ("c2", "c3", "c4")),
        EIGHTHS,
        WordedSlot("s3", ("c3",)),
        WordedSlot("s4", ("c1",)),
    ),
    pinned=True,
)
ORDER = WordedItem(
    ident="q00a7",
    item_id="00a7",
    title="Question 7",
    interaction="order",
    stem=("Shortest first: put these in order.",),
    figure=None,
    choices=(
        choice(1, HALF),
        choice(2, QUARTER, "", "Right. A quarter is shorter than a half."),
        choice(3, WHOLE),
    ),
    points=2,
    general_feedback="How many of the small ones fit in the large one?",
    category="order-by-length",
    sequence=("c2", "c1", "c3"),
)


def picture(name: str, shade: int) -> Picture:
    """A tiny picture of one shade."""
    target = io.BytesIO()
    Image.new("L", (8, 4), shade).save(target, "PNG")
    return Picture(name, target.getvalue(), 4, 2)


def form_of(*items: WordedItem) -> WordedForm:
    """A form of these items, with a title and an intro that break careless writers."""
    return WordedForm(
        ident="f5e1",
        title=f"Rhythm check: {TRICKY} · período 1",
        section="Period 1",
        language="en-US",
        intro=(f"Read well; {TRICKY}.", "Then choose."),
        items=items,
    )


def plain_form() -> WordedForm:
    """An item of each interaction that every standard can say."""
    return form_of(FIGURES, TEXTS, SEVERAL, ENTRY)


def every_form() -> WordedForm:
    """All seven interactions."""
    return form_of(FIGURES, TEXTS, SEVERAL, ENTRY, GAPS, INLINE, ORDER)


def pictures_of_forms() -> Pictures:
    """A picture of its own shade for each figure of these forms."""
    figures = (WHOLE, COUNTED, QUARTER, REST, HALF, EIGHTHS)
    return {worded.figure: picture(f"f{n:04}.png", 30 * n) for n, worded in enumerate(figures)}
