"""Packages changed at random through the whole check, as many as you like. By hand:

    python tests/fuzz/packages.py [INPUTS] [SEED]

Prints how many inputs were tried, findings and refusals, the slowest, and what fell; exits 1 if anything fell or took
over five seconds. The same seed gives the same inputs. `test_packages.py` runs a few of them with pytest.
"""

import sys
from importlib import import_module
from pathlib import Path

if __name__ == "__main__":
    tests = Path(__file__).parents[1]
    sys.path[:0] = [str(tests), str(tests / "qti")]
    inputs, seed = [*map(int, sys.argv[1:]), 200_000, 0][:2] if len(sys.argv) != 2 else [int(sys.argv[1]), 0]
    sys.exit(import_module("changed_packages").main(inputs, seed))
