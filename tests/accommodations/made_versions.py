"""A demo unit with every version for accommodations, made once for all tests of them."""

import re
from pathlib import Path

import pytest

from barwright.items.accommodations import ACCOMMODATIONS
from barwright.tasks.make import Made, make
from barwright.tasks.packing import Order
from barwright.tasks.progress import silent

UNIT_2 = Path(__file__).parents[2] / "shared" / "blueprints" / "unit-2-eighths-and-dotted-quarters.toml"
STANDARDS = ("cc13", "qti22", "qti30")
PACKAGES = ("quiz.imscc", "quiz-qti22.zip", "quiz-qti30.zip")


def one_section(folder: Path, unit: Path = UNIT_2) -> Path:
    """The blueprint of a demo unit with its first section alone and two items a part, in a folder."""
    lines = re.sub(r"items( *)= *\d+", r"items\1= 2", unit.read_text("utf-8")).splitlines()
    text = "\n".join('sections = ["Period 1"]' if line.startswith("sections") else line for line in lines)
    (folder / "quiz.toml").write_text(text, "utf-8")
    return folder / "quiz.toml"


@pytest.fixture(scope="session")
def versions(tmp_path_factory: pytest.TempPathFactory) -> Made:
    """Every version in the usual standards, and on paper."""
    folder = tmp_path_factory.mktemp("versions")
    order = Order(folder / "out", standards=STANDARDS, paper=True, accommodations=ACCOMMODATIONS)
    return make(one_section(folder), order, progress=silent)


@pytest.fixture
def period(versions: Made) -> Path:
    """The folder of the form."""
    return versions.folder / "period-1"
