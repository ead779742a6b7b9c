"""What runs in a process of its own: actions, whose orders come in over a pipe, a line each, and whose steps go out.

    python -m barwright.desk.work

It ends when no order can come any more. A line of JSON is `{"step": [what, done, of]}`, or at the end what came of an
order: `{"lines": [...], ...}`, with `faults` where it failed.
"""

import gc
import json
import os
import sys
from typing import Any

from barwright.desk.actions import LONG
from barwright.desk.rendering import lines_of
from barwright.errors import BarwrightError

FEW_COLLECTIONS = (50_000, 20, 100)  # as for the commands


def _say(told: dict[str, Any]) -> None:
    sys.stdout.write(json.dumps(told) + "\n")
    sys.stdout.flush()


class _Steps:
    """Tells a step where somebody could see the difference: at most a hundred of each phase."""

    def __init__(self) -> None:
        self.last: dict[str, int] = {}

    def __call__(self, what: str, done: int, of: int) -> None:
        part = 100 * done // of if of else 100
        if self.last.get(what) != part:
            self.last[what] = part
            _say({"step": [what, done, of]})


def main() -> None:
    """Does the action that each order names."""
    for line in sys.stdin:
        _do(json.loads(line))


def _do(order: dict[str, Any]) -> None:
    action = LONG[order.pop("action")]
    try:
        _say(action(order, _Steps()))
    except BarwrightError as error:
        _say({"lines": [], "faults": lines_of(error)})
    except OSError as error:
        name = os.fsdecode(error.filename) if error.filename else "a file"
        _say({"lines": [], "faults": [f"{name}: cannot be read or written ({error.strerror}): check room and rights"]})


if __name__ == "__main__":
    gc.set_threshold(*FEW_COLLECTIONS)
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    main()
