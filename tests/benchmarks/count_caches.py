"""What each cache saves at most, all in one run of a command: hits times what a miss takes, in seconds.

    python tests/benchmarks/count_caches.py COMMAND [ARGUMENT...]

e.g. `make BLUEPRINT --out /tmp/out --replace`. Too high where a miss finds what
it needs in another cache the next time; `bench_caches.py` measures one by one, and takes an hour.
"""

import functools
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[2] / "src"))
lru_cache = functools.lru_cache
missed: dict[str, list[float]] = {}
caches: dict[str, list[Any]] = {}


def counting(maxsize: Any = 128, typed: bool = False) -> Any:
    """Stands for `lru_cache` and keeps how long each miss takes."""

    def decorated(function: Callable[..., Any]) -> Any:
        name = f"{function.__module__}.{function.__qualname__}"
        times = missed.setdefault(name, [])

        @functools.wraps(function)
        def timed(*given: Any, **named: Any) -> Any:
            begin = time.process_time()
            try:
                return function(*given, **named)
            finally:
                times.append(time.process_time() - begin)

        caches.setdefault(name, []).append(lru_cache(maxsize, typed)(timed))
        return caches[name][-1]

    if callable(maxsize):
        function, maxsize = maxsize, 128
        return decorated(function)
    return decorated


def main(arguments: list[str]) -> None:
    """Runs the command and prints the table, dearest first."""
    functools.lru_cache = counting
    functools.cache = lambda function: counting(None)(function)
    from barwright.cli import app

    app(arguments, standalone_mode=False)
    rows = []
    for name, times in missed.items():
        hits = sum(each.cache_info().hits for each in caches[name])
        if name.startswith("barwright.") and times:
            rows.append((hits * sum(times) / len(times), hits, len(times), name.removeprefix("barwright.")))
    for saved, hits, misses, name in sorted(rows, reverse=True):
        print(f"{saved:7.3f} s  {hits:6} hits  {misses:6} misses  {name}")


if __name__ == "__main__":
    main(sys.argv[1:])
