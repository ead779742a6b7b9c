"""A short run of the fuzzers, always of the same inputs; the long ones are run by hand (see DEVELOPERS.md)."""

from fuzz import banks, blueprints


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
