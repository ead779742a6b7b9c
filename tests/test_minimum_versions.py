"""The lowest versions are read from the project, and one that is not told is a fault."""

import pytest

from minimum_versions import PROJECT, minimum_versions


def test_every_dependency_names_its_lowest_version() -> None:
    found = minimum_versions(PROJECT.read_text("utf-8"))
    assert {"typer==0.15.4", "verovio==5.5"} <= set(found)
    assert len(found) == len({each.split("==")[0] for each in found})


def test_bounds_above_are_left_out() -> None:
    assert minimum_versions('[project]\ndependencies = ["a-b >= 1.2, <3"]') == ["a-b==1.2"]


@pytest.mark.parametrize("need", ["a", "a==1", "a>1", "a~=1.2"])
def test_a_dependency_without_a_lowest_version_is_refused(need: str) -> None:
    with pytest.raises(ValueError, match="write it as name>=version") as refused:
        minimum_versions(f'[project]\ndependencies = ["{need}"]')
    assert str(refused.value) == f"dependency {need!r}: write it as name>=version, so that the minimum can be tried"
