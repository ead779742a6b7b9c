"""A short run of the fuzzer of packages; a long one is made by hand with packages.py."""

from changed_packages import bases, broken, run

from whole import whole_or_part


def test_changed_packages_are_checked_and_read_without_a_fall() -> None:
    found = bases()
    tally = run(range(whole_or_part(1_000, 120)), [*found, *broken(found)])
    assert tally.fell == []
    assert tally.findings > 120
    assert 0 < tally.refused < tally.read
