"""The lowest version of each package that the product needs, as pip takes them: one `name==version` a line.

    python tests/minimum_versions.py > constraints.txt

Read from pyproject.toml, so that a new dependency is tried at its minimum without another word.
"""

import re
import tomllib
from pathlib import Path

PROJECT = Path(__file__).parents[1] / "pyproject.toml"
_NEED = re.compile(r"([A-Za-z0-9._-]+)>=([0-9][0-9.]*)(,[^;]*)?")


def minimum_versions(text: str) -> list[str]:
    """`name==version` of every dependency of a pyproject.toml; ValueError for one that does not name its minimum."""
    found = []
    for need in tomllib.loads(text)["project"]["dependencies"]:
        match = _NEED.fullmatch(need.replace(" ", ""))
        if match is None:
            raise ValueError(f"dependency {need!r}: write it as name>=version, so that the minimum can be tried")
        found.append(f"{match[1]}=={match[2]}")
    return found


if __name__ == "__main__":
    print(*minimum_versions(PROJECT.read_text("utf-8")), sep="\n")
