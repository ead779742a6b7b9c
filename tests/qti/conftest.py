"""The worded forms that writers are tried on."""

from dataclasses import replace

import pytest

from barwright.wording.worded import Pictures, WordedForm
from worded_forms import FIGURES, every_form, pictures_of_forms, plain_form


@pytest.fixture(scope="session")
def pictures() -> Pictures:
    return pictures_of_forms()


@pytest.fixture(scope="session")
def form() -> WordedForm:
    return plain_form()


@pytest.fixture(scope="session")
def whole_form() -> WordedForm:
    """All seven interactions."""
    return every_form()


@pytest.fixture(scope="session")
def drawn_form(form: WordedForm) -> WordedForm:
    """Two pools, of two variants and of three, with an item for everyone before, between and after."""
    items = [replace(FIGURES, ident=f"q00b{n}", title=f"Question {n}") for n in range(8)]
    pools = ["", "p1", "p1", "", "p2", "p2", "p2", ""]
    return replace(form, items=tuple(replace(i, pool=p) for i, p in zip(items, pools, strict=True)))
