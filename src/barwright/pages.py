"""Pages for the teacher: the proof of all forms, and the answer keys to print; one HTML file each, no links out."""

from base64 import b64encode
from collections.abc import Mapping, Sequence
from functools import cache
from string import ascii_uppercase

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from barwright.wording.folder import templates_folder
from barwright.wording.language import language
from barwright.wording.model import Picture, Pictures, WordedForm, numbered, worth


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
    return jinja


def _page(name: str, forms: Sequence[WordedForm], pictures: Pictures) -> bytes:
    """The template filled in; the words of the page are in the language of the first form."""
    if not forms:
        raise ValueError(f"{name} needs at least one form")
    words = language(forms[0].language)

    def word(ident: str, **context: object) -> str:
        return words.text("pages", ident, context)

    names: Mapping[str, object] = {
        "forms": forms,
        "numbered": numbered,
        "worth": worth,
        "title": forms[0].title,
        "language": forms[0].language,
        "pictures": pictures,
        "letters": ascii_uppercase,
        "word": word,
    }
    return _jinja().get_template(name).render(names).strip().encode() + b"\n"


def proof_page(forms: Sequence[WordedForm], pictures: Pictures) -> bytes:
    """proof.html: every item of every form as the student sees it, the key, and each misreading in plain words.

    Raises ValueError without forms, KeyError for a figure that was not drawn.
    """
    return _page("proof.html", forms, pictures)


def key_page(forms: Sequence[WordedForm], pictures: Pictures) -> bytes:
    """key.html: number, letter and right answer of every item, one printed page a form. Raises as `proof_page`."""
    return _page("key.html", forms, pictures)
