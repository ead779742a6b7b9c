"""The worded forms that writers are tried on."""

from dataclasses import replace

import pytest

from barwright.wording.worded import Pictures, WordedForm
from worded_forms import (
    COUNTED,
    EIGHTHS,
    ENTRY,
    FIGURES,
    GAPS,
    HALF,
    INLINE,
    ORDER,
    QUARTER,
    REST,
    SEVERAL,
    TEXTS,
    WHOLE,
    form_of,
    picture,
)


@pytest.fixture(scope="session")
def pictures() -> Pictures:
    figures = (WHOLE, COUNTED, QUARTER, REST, HALF, EIGHTHS)
    return {w.figure: picture(f"f{number:04}.png", 30 * number) for number, w in enumerate(figures)}


@pytest.fixture(scope="session")
def form() -> WordedForm:
    return form_of(FIGURES, TEXTS, SEVERAL, ENTRY)


@pytest.fixture(scope="session")
def whole_form(form: WordedForm) -> WordedForm:
    """All seven interactions."""
    return replace(form, items=(*form.items, GAPS, INLINE, ORDER))


@pytest.fixture(scope="session")
def drawn_form(form: WordedForm) -> WordedForm:
    """Two pools, of two variants and of three, with an item for everyone before, between and after."""
    items = [replace(FIGURES, ident=f"q00b{n}", title=f"Question {n}") for n in range(8)]
    pools = ["", "p1", "p1", "", "p2", "p2", "p2", ""]
    return replace(form, items=tuple(replace(i, pool=p) for i, p in zip(items, pools, strict=True)))
