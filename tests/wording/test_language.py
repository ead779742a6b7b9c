"""Finding and reading templates: every way they can be missing or broken has its message."""

from pathlib import Path

import pytest

from barwright.errors import TemplateError
from barwright.templates_folder import languages, nearest_folder, templates_folder
from barwright.wording.language import (
    FILES,
    Language,
    language,
    read_language,
)


def made(**texts: object) -> Language:
    return Language("xx", {"asks": texts})


def test_templates_of_a_checkout_lie_two_above_the_package(tmp_path: Path) -> None:
    package = tmp_path / "src" / "barwright"
    (tmp_path / "templates" / "items").mkdir(parents=True)
    package.mkdir(parents=True)
    assert nearest_folder(package) == tmp_path / "templates"


def test_templates_of_a_wheel_lie_in_the_package(tmp_path: Path) -> None:
    package = tmp_path / "site-packages" / "barwright"
    (package / "templates" / "items").mkdir(parents=True)
    (tmp_path / "templates" / "items").mkdir(parents=True)
    assert nearest_folder(package) == package / "templates"


def test_no_templates_names_both_places(tmp_path: Path) -> None:
    package = tmp_path / "a" / "barwright"
    with pytest.raises(TemplateError) as raised:
        nearest_folder(package)
    inside, above = str(package / "templates"), str(tmp_path / "templates")
    assert str(raised.value) == f"no templates in {inside!r} or {above!r}: install barwright again"


def test_this_installation_has_items_and_pages() -> None:
    assert (templates_folder() / "items" / "LAYOUT.md").is_file()
    assert (templates_folder() / "pages" / "proof.html").is_file()
    assert "en-US" in languages()


def test_unknown_language_names_those_there_are() -> None:
    with pytest.raises(TemplateError) as raised:
        language("fr")
    assert str(raised.value) == f"language 'fr' is not known: use one of {', '.join(languages())}"


def test_language_is_read_once() -> None:
    assert language("en-US") is language("en-US")


def test_missing_file_is_named(tmp_path: Path) -> None:
    with pytest.raises(TemplateError) as raised:
        read_language("xx", tmp_path)
    assert str(raised.value) == f"language 'xx': {FILES[0]}.toml is missing in {str(tmp_path)!r}"


def test_broken_file_is_named(tmp_path: Path) -> None:
    (tmp_path / f"{FILES[0]}.toml").write_text("a = = 1", encoding="utf-8")
    with pytest.raises(TemplateError) as raised:
        read_language("xx", tmp_path)
    assert str(raised.value) == f"language 'xx': {FILES[0]}.toml cannot be read: Invalid value (at line 1, column 5)"


@pytest.mark.parametrize("ident", ["b", "a.b", "a.b.c"])
def test_missing_text_names_language_file_and_id(ident: str) -> None:
    with pytest.raises(TemplateError) as raised:
        made(a="here").text("asks", ident)
    assert str(raised.value) == f"language 'xx': asks.toml has no {ident!r}: add it there"


def test_unknown_name_in_a_sentence_is_an_error() -> None:
    with pytest.raises(TemplateError) as raised:
        made(a={"stem": "In {{ metre }} time"}).text("asks", "a.stem", {"meter": "3/4"})
    assert str(raised.value) == "language 'xx': asks.toml, 'a.stem': 'metre' is undefined"


def test_broken_sentence_is_an_error() -> None:
    with pytest.raises(TemplateError) as raised:
        made(a="In {{ }} time").text("asks", "a")
    assert str(raised.value) == "language 'xx': asks.toml, 'a': Expected an expression, got 'end of print statement'"


def test_a_table_where_a_text_should_be_is_an_error() -> None:
    with pytest.raises(TemplateError) as raised:
        made(a={"stem": "x"}).text("asks", "a")
    assert str(raised.value) == "language 'xx': asks.toml, 'a': text in quotes is needed, not {'stem': 'x'}"


def test_pair_needs_two_words() -> None:
    assert made(a=["beat", "beats"]).pair("asks", "a") == ("beat", "beats")
    with pytest.raises(TemplateError) as raised:
        made(a=["beat"]).pair("asks", "a")
    assert str(raised.value) == "language 'xx': asks.toml, 'a': two words are needed, not ('beat',)"


def test_empty_paragraphs_vanish_and_space_is_evened() -> None:
    words = made(a=["One  {{ x }}", "{% if y %}two{% endif %}", " three "])
    assert words.texts("asks", "a", {"x": 1, "y": False}) == ("One 1", "three")
