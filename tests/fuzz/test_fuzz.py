"""A short run of the fuzzers, always of the same inputs; the long ones are run by hand (see DEVELOPERS.md)."""

import pytest

from fuzz import banks, blueprints
from fuzz.faults_told import Run, examine


def test_changed_blueprints_are_told_in_plain_lines() -> None:
    run = blueprints.fuzzed(150, 7, walk=False)
    assert run.falls.total() == 0, run.told("blueprints")
    assert run.accepted > 5
    assert run.refused > 50


def test_changed_banks_and_records_are_told_in_plain_lines() -> None:
    for kind, run in banks.fuzzed(60, 7, walk=False).items():
        assert run.falls.total() == 0, run.told(kind)
        assert run.accepted > 1
        assert run.refused > 20


def _falling(content: bytes) -> list[str]:
    raise KeyError(content.decode())


def _ended(_: bytes) -> list[str]:
    raise KeyboardInterrupt


def test_a_fall_is_counted_with_its_place_and_the_run_goes_on() -> None:
    run = Run()
    for content in (b"a", b"b"):
        examine(run, content, _falling)
    examine(run, b"c", lambda _: ["line 1: an item is missing"])
    assert (run.inputs, run.refused, run.falls.total()) == (3, 1, 2)
    assert all(what.startswith("KeyError in test_fuzz.py:") for what in run.falls)
    with pytest.raises(KeyboardInterrupt):
        examine(run, b"", _ended)
