"""Sentences give what Jinja gives, whether they are put together without it or not."""

import pytest
from jinja2 import Environment, StrictUndefined, UndefinedError

from barwright.wording.sentences import sentences

SOURCES = [
    "{{ x }}",
    "One {{ x }} and {{ y }}.",
    "{% if x %}One{% endif %} two",
    "{% if y %}{{ x }}{% else %}none{% endif %}.",
    "{% if x %}{% if y %}both{% else %}one{% endif %}{% endif %}",
    "{% if x and y %}both{% endif %}",
    "{% if x == 1 %}one{% elif y %}{{ y }}{% else %}none{% endif %}",
    "{% for each in 'ab' %}{{ each }}{{ x }}{% endfor %}",
    "{{ x | upper }} { {# a remark #}",
]


@pytest.mark.parametrize("source", SOURCES)
@pytest.mark.parametrize("x", [0, 1, "", "<a>"])
@pytest.mark.parametrize("y", [False, "b"])
def test_a_sentence_is_filled_in_as_jinja_does(source: str, x: object, y: object) -> None:
    text = " ".join(Environment().from_string(source).render(x=x, y=y).split())
    made = sentences([source, "end"])
    expected = (*filter(None, [text]), "end")
    for _ in range(2):
        assert made.filled({"x": x, "y": y}) == (expected, " ".join(expected))


@pytest.mark.parametrize("source", SOURCES[:4])
def test_an_unknown_name_is_told_every_time(source: str) -> None:
    with pytest.raises(UndefinedError) as of_jinja:
        Environment(undefined=StrictUndefined).from_string(source).render()
    made = sentences([source])
    for _ in range(2):
        with pytest.raises(UndefinedError) as raised:
            made.filled({})
        assert str(raised.value) == str(of_jinja.value)
