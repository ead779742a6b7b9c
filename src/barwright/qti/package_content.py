"""What a package shows and says, before any standard: blocks of a stem, pictures by path, feedback by answer.

Every writer starts here, so that all standards show the same stem, the same choices and the same feedback.
"""

from dataclasses import dataclass, replace
from html import escape

from barwright.items.item import Interaction
from barwright.qti.zip_entries import ZipEntry
from barwright.wording.side_by_side import Said, beside, choice_of, note_of, stem_of
from barwright.wording.worded import (
    Picture,
    Pictures,
    WordedChoice,
    WordedFigure,
    WordedForm,
    WordedItem,
    WordedSlot,
)

IMAGES = "images"
# Interactions that put choices into places.
PLACING: frozenset[Interaction] = frozenset(("gaps", "inline", "order"))


@dataclass(frozen=True, slots=True)
class Image:
    """A picture as it stands in a text: `path` is from the top of the package, the size is what to show it at."""

    path: str
    alt: str
    width_px: int
    height_px: int


Block = str | Said | Image


@dataclass(frozen=True, slots=True)
class Option:
    """One choice, with its picture if it is a figure; `said`: its text in every language, where there are several."""

    choice: WordedChoice
    image: Image | None
    said: tuple[Said, ...] = ()

    @property
    def rich(self) -> bool:
        """Whether it is more than a plain text."""
        return self.image is not None or len(self.said) > 1


@dataclass(frozen=True, slots=True)
class Feedback:
    """What is told to a student who gave this answer; `choice` is None for any answer that is not foreseen.

    With several keys each ticked choice has its own, and None serves any answer that is not fully right. In gaps,
    drop-downs and orders a choice that has a place stands for the whole answer, all of it right; any other choice for
    its own use anywhere; `filled` is a whole wrong answer that is foreseen, place by place, and `whole` its identifier;
    None again for any answer that is not fully right. `also`: the text in further languages.
    """

    choice: WordedChoice | None
    text: str
    filled: tuple[str, ...] = ()
    whole: str = ""
    also: tuple[Said, ...] = ()

    @property
    def name(self) -> str:
        """The identifier of the choice or of the whole answer; empty for any other answer."""
        return self.choice.ident if self.choice else self.whole


@dataclass(frozen=True, slots=True)
class ShownItem:
    """One item, ready for any standard: stem, figure and note in order, then the options and the feedback."""

    item: WordedItem
    stem: tuple[Block, ...]
    options: tuple[Option, ...]
    feedback: tuple[Feedback, ...]
    shuffled: bool
    pieces: tuple[Image | WordedSlot, ...] = ()

    @property
    def slots(self) -> tuple[WordedSlot, ...]:
        """The places to fill in, in the order of the row."""
        return tuple(p for p in self.pieces if isinstance(p, WordedSlot))

    @property
    def keys(self) -> tuple[WordedChoice, ...]:
        """The right choices."""
        return tuple(c for c in self.item.choices if c.key)


@dataclass(frozen=True, slots=True)
class PackageContent:
    """A form, its questions, and one entry for each different picture, in the order of first use."""

    form: WordedForm
    questions: tuple[ShownItem, ...]
    images: tuple[ZipEntry, ...]

    @property
    def runs(self) -> tuple[tuple[ShownItem, ...], ...]:
        """The questions in order; variants of which each student gets one stand together, any other question alone."""
        made: list[list[ShownItem]] = []
        for question in self.questions:
            if made and question.item.pool and question.item.pool == made[-1][0].item.pool:
                made[-1].append(question)
            else:
                made.append([question])
        return tuple(map(tuple, made))

    @property
    def points(self) -> int:
        """What a student can score in all; the variants of a pool are worth the same."""
        return sum(run[0].item.points for run in self.runs)


def content(form: WordedForm, pictures: Pictures) -> PackageContent:
    """The form with every figure looked up once; KeyError if a figure was not drawn."""
    used: dict[str, Picture] = {}

    def shown(worded: WordedFigure) -> Image:
        picture = pictures[worded.figure]
        first = used.setdefault(picture.name, picture)
        assert first is picture or first.png == picture.png, f"two pictures share the name {picture.name!r}"
        return Image(f"{IMAGES}/{picture.name}", worded.alt, picture.width_px, picture.height_px)

    questions = []
    for item in form.items:
        figure: tuple[Block, ...] = (shown(item.figure),) if item.figure else ()
        options = tuple(
            Option(c, shown(c.figure) if c.figure else None, choice_of(item, n)) for n, c in enumerate(item.choices)
        )
        pieces = tuple(shown(p) if isinstance(p, WordedFigure) else p for p in item.pieces)
        said = _feedback(item) if form.feedback else ()
        shuffled = form.shuffle and not item.pinned
        stem = (*stem_of(item), *figure, *note_of(item))
        questions.append(ShownItem(item, stem, options, said, shuffled, pieces))
    return PackageContent(form, tuple(questions), tuple(ZipEntry(f"{IMAGES}/{p.name}", p.png) for p in used.values()))


def _feedback(item: WordedItem) -> tuple[Feedback, ...]:
    """What each answer is told in every language; answers are told the same things in all of them."""
    others = [(code, {told.name: told.text for told in answer_feedback(other)}) for code, other in item.also]
    return tuple(
        replace(told, also=beside(told.text, ((code, texts.get(told.name, "")) for code, texts in others))[1:])
        for told in answer_feedback(item)
    )


def answer_feedback(item: WordedItem) -> tuple[Feedback, ...]:
    """What each answer is told, choices in shown order, then the rest; an answer without a text of its own is left out.

    In a single choice every answer is foreseen: a wrong one without its own text gets the general one.
    """
    if item.interaction in PLACING:
        return _placing_feedback(item)
    open_ended = item.interaction in ("several", "entry")
    spare = "" if open_ended else item.general_feedback
    own = [Feedback(c, c.feedback or ("" if c.key else spare)) for c in item.choices]
    rest = [Feedback(None, item.general_feedback)] if open_ended else []
    return tuple(f for f in (*own, *rest) if f.text)


def _placing_feedback(item: WordedItem) -> tuple[Feedback, ...]:
    """One text for an answer that is all right, one for each choice that belongs nowhere and each wrong answer that is
    foreseen, unless such a choice tells it, one for the rest."""
    placed = set(item.sequence).union(*(p.keys for p in item.pieces if isinstance(p, WordedSlot)))
    told = [Feedback(c, c.feedback) for c in item.choices if c.feedback]
    right = [f for f in told if f.choice and f.choice.ident in placed][:1]
    astray = [f for f in told if f.choice and f.choice.ident not in placed]
    rest = [Feedback(None, item.general_feedback)] if item.general_feedback else []
    own = [a for a in item.foreseen if a.feedback and not a.key and not a.told_by]
    whole = [Feedback(None, a.feedback, a.filled, f"a{number}") for number, a in enumerate(own, start=1)]
    return (*right, *astray, *whole, *rest)


def html(blocks: tuple[Block, ...], *, base: str, language: str) -> str:
    """The blocks as HTML paragraphs in one `div` of that language; `base` stands before the path of each picture.

    >>> html(("Is 1 < 2?",), base="", language="en-US")
    '<div lang="en-US"><p>Is 1 &lt; 2?</p></div>'
    """
    shown = "".join(f"<p>{html_image(b, base=base)}</p>" if isinstance(b, Image) else html_paragraph(b) for b in blocks)
    return f'<div lang="{escape(language)}">{shown}</div>'


def html_paragraph(said: str | Said) -> str:
    """A text as a paragraph, with its language where that is another than the one around.

    >>> html_paragraph(Said("¿Cuál?", "es")), html_paragraph("1 < 2")
    ('<p lang="es">¿Cuál?</p>', '<p>1 &lt; 2</p>')
    """
    text, language = (said, "") if isinstance(said, str) else (said.text, said.language)
    tongue = f' lang="{escape(language)}"' if language else ""
    return f"<p{tongue}>{escape(text, quote=False)}</p>"


def html_image(image: Image, *, base: str, language: str = "") -> str:
    """One `img` with alternative text and width; without its height, a platform that makes it narrower keeps its shape.

    >>> html_image(Image("images/a.png", 'the sign "c"', 80, 40), base="../")
    '<img src="../images/a.png" alt="the sign &quot;c&quot;" width="80"/>'
    """
    source, alt = escape(base + image.path), escape(image.alt)
    tongue = f' lang="{escape(language)}"' if language else ""
    return f'<img src="{source}" alt="{alt}" width="{image.width_px}"{tongue}/>'


def html_option(label: str, image: Image, *, base: str, language: str) -> str:
    """A picture choice, its label before it if it has one.

    >>> html_option("KM", Image("images/a.png", "half note", 80, 40), base="", language="en-US")
    'KM <img src="images/a.png" alt="half note" width="80" lang="en-US"/>'
    """
    shown = html_image(image, base=base, language=language)
    return f"{escape(label)} {shown}" if label else shown


def accepted(choice: WordedChoice) -> tuple[str, ...]:
    """The spellings of a typed answer, canonical first, those that differ in case only told once."""
    spellings = choice.spellings or (choice.text,)
    if len(set(map(str.casefold, spellings))) == len(spellings):
        return spellings
    spelled: dict[str, str] = {}
    for spelling in spellings:
        spelled.setdefault(spelling.casefold(), spelling)
    return tuple(spelled.values())
