"""Every language folder is whole: the twin of every text, in sentences that can be read, with names that are told."""

import re
from collections.abc import Iterator, Mapping

import pytest
from jinja2 import Environment
from jinja2.meta import find_undeclared_variables

from barwright.templates_folder import languages, templates_folder
from barwright.wording.language import DESK, FILES, Language, language

MODEL = language("en-US")
LAYOUT = (templates_folder() / "items" / "LAYOUT.md").read_text(encoding="utf-8")
# The pages and the descriptions get names of their own, said beside the texts that use them.
OWN_NAMES = ("pages", "spoken", "results", "paper")


def texts(words: Language, file: str) -> Iterator[tuple[str, object]]:
    """Every text of a file with its id."""

    def below(found: object, path: str) -> Iterator[tuple[str, object]]:
        if isinstance(found, Mapping):
            for name, inner in found.items():
                yield from below(inner, f"{path}.{name}" if path else name)
        else:
            yield path, found

    yield from below(words.tables[file], "")


def test_files_are_those_that_the_layout_tells() -> None:
    assert re.findall(r"^\| `(\w+)\.toml` \|", LAYOUT, re.MULTILINE) == [*FILES, DESK]


@pytest.mark.parametrize("code", languages())
@pytest.mark.parametrize("file", FILES)
def test_every_text_has_its_twin(code: str, file: str) -> None:
    words = language(code)
    mine, model = dict(texts(words, file)), dict(texts(MODEL, file))
    assert sorted(mine) == sorted(model)
    for ident, found in model.items():
        assert isinstance(mine[ident], type(found)), f"{file}.toml, {ident}"


@pytest.mark.parametrize("code", languages())
@pytest.mark.parametrize("file", FILES)
def test_every_sentence_can_be_read_and_uses_only_names_that_are_told(code: str, file: str) -> None:
    told = set(re.findall(r"`(\w+)`", LAYOUT))
    for ident, found in texts(language(code), file):
        for source in found if isinstance(found, list) else [found]:
            assert isinstance(source, str), f"{file}.toml, {ident}"
            names = find_undeclared_variables(Environment().parse(source))
            assert file in OWN_NAMES or names <= told, f"{file}.toml, {ident}: {names - told} are not in LAYOUT.md"
