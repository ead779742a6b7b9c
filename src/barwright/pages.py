"""Pages for the teacher: proof of all forms, answer keys to print, a bank; one HTML file each, no links out."""

from base64 import b64encode
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from string import ascii_uppercase

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from barwright.templates_folder import templates_folder
from barwright.wording.aloud import script_title, spoken_items
from barwright.wording.language import language
from barwright.wording.side_by_side import choice_of, general_of, hint_of, intro_of, note_of, stem_of
from barwright.wording.worded import (
    Picture,
    Pictures,
    WordedForm,
    numbered,
    worth,
)


def data_uri(picture: Picture) -> str:
    """The picture as a `data:` address, so that the page needs no other file."""
    return f"data:image/png;base64,{b64encode(picture.png).decode('ascii')}"


@cache
def _jinja() -> Environment:
    jinja = Environment(
        loader=FileSystemLoader(templates_folder() / "pages"),
        undefined=StrictUndefined,
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    jinja.filters["data_uri"] = data_uri
    jinja.globals |= {each.__name__: each for each in (stem_of, note_of, intro_of, choice_of, hint_of, general_of)}
    return jinja


def _page(name: str, forms: Sequence[WordedForm], **more: object) -> bytes:
    """The template filled in; the words of the page are in the language of the first form."""
    if not forms:
        raise ValueError(f"{name} needs at least one form")
    first = forms[0]
    words = language(first.language)

    def word(ident: str, **context: object) -> str:
        return words.text("pages", ident, context)

    names: Mapping[str, object] = {
        "forms": forms,
        "numbered": numbered,
        "worth": worth,
        "title": first.title,
        "language": first.language,
        "letters": ascii_uppercase,
        "word": word,
        **more,
    }
    return _jinja().get_template(name).render(names).strip().encode() + b"\n"


def plain_page(template: str, title: str, language_code: str, **more: object) -> bytes:
    """A page that shows no form as a whole; its words are those of `results.toml`, and of `pages.toml` as `page_word`.

    Raises TemplateError for a text that is missing.
    """
    words = language(language_code)

    def word(ident: str, **context: object) -> str:
        return words.text("results", ident, context)

    def paragraphs(ident: str, **context: object) -> tuple[str, ...]:
        return words.texts("results", ident, context)

    names = {"title": title, "language": language_code, "word": word, "paragraphs": paragraphs, **more}
    return _jinja().get_template(template).render(names).strip().encode() + b"\n"


def proof_page(forms: Sequence[WordedForm], pictures: Pictures) -> bytes:
    """proof.html: every item of every form as the student sees it, the key, and each misreading in plain words.

    Raises ValueError without forms, KeyError for a figure that was not drawn.
    """
    return _page("proof.html", forms, pictures=pictures)


def key_page(forms: Sequence[WordedForm], pictures: Pictures) -> bytes:
    """key.html: number, letter and right answer of every item, one printed page a form. Raises as `proof_page`."""
    return _page("key.html", forms, pictures=pictures)


def read_aloud_page(form: WordedForm) -> bytes:
    """read-aloud.html: the script for who reads a form, in the words of paper, to a student.

    Raises TemplateError for a text that is missing.
    """
    words = language(form.language)
    how = words.texts("paper", "script.how")
    return _page(
        "read_aloud.html", [form], called=form.called, how=how, items=spoken_items(form), heading=script_title(form)
    )


def items_shown(form: WordedForm, pictures: Pictures) -> tuple[str, ...]:
    """Every item of a form as on its proof, each as a piece of HTML for another page. Raises as `proof_page`."""
    words = language(form.language)

    def word(ident: str, **context: object) -> str:
        return words.text("pages", ident, context)

    template = _jinja().get_template("one_item.html")
    names = {
        "language": form.language,
        "feedback": form.feedback,
        "pictures": pictures,
        "word": word,
        "letters": ascii_uppercase,
    }
    return tuple(
        template.render(item=item, variant=variant, ident=f"i{n}", **names)
        for n, (_, variant, item) in enumerate(numbered(form), start=1)
    )


def others_page(form: WordedForm, pictures: Pictures, notes: Sequence[tuple[str, str]], place: str) -> bytes:
    """Questions that could stand in one place, side by side, each with its id and how like it is. Raises as
    `proof_page`.
    """
    return _page("others.html", [form], pictures=pictures, notes=notes, place=place)


@dataclass(frozen=True, slots=True)
class Note:
    """What a bank says of one item: `reviews` as verdict (`approve`, `retire`, `comment`), who and when, and text."""

    ident: str
    state: str
    reviews: tuple[tuple[str, str, str], ...] = ()
    sources: tuple[str, ...] = ()
    uses: tuple[str, ...] = ()
    tags: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class BankSheet:
    """Items of a bank under the same conventions as one form, its pictures, and a note for each item."""

    form: WordedForm
    pictures: Pictures
    notes: tuple[Note, ...]


def bank_page(sheets: Sequence[BankSheet], summary: Sequence[str]) -> bytes:
    """The items of a bank as a page, with key, misreadings and notes. Raises as `proof_page`.

    `summary` says how many there are; a second line there means that not all are shown, which the page says in words
    for its own reader.
    """
    return _page("bank.html", [sheet.form for sheet in sheets], sheets=sheets, summary=summary)
