"""A Dask cluster as what does the work; the one place that imports Dask, and only where it is asked for."""

from collections.abc import Iterator
from concurrent.futures import CancelledError, Executor
from contextlib import contextmanager
from typing import Any

from barwright import __version__
from barwright.errors import BarwrightError
from barwright.showing import shown
from barwright.tasks.crews import Engine

CONNECT_SECONDS = 20


def _version() -> str:
    """The version of Barwright where this runs."""
    return __version__


@contextmanager
def cluster(address: str) -> Iterator[Engine]:
    """The cluster whose scheduler has this address, e.g. `tcp://10.0.0.5:8786`, until the block ends.

    BarwrightError if Dask is not installed, if nobody answers, if there is no worker, or if one has no Barwright or one
    of another version, which might make other quizzes.
    """
    try:
        import distributed
    except ImportError as error:
        raise BarwrightError("--dask needs the package distributed: pip install 'barwright[dask]'") from error
    begin: Any = distributed.Client
    try:
        client = begin(address, timeout=CONNECT_SECONDS, set_as_default=False)
    except (OSError, ValueError) as error:
        raise BarwrightError(
            f"--dask {shown(address)}: no scheduler answers there: start one with  dask scheduler, and give the "
            "address that it prints, as tcp://10.0.0.5:8786"
        ) from error
    with client:
        workers = _checked_workers(client.nthreads(), client.run(_version, on_error="return"), address)

        def there() -> frozenset[str]:
            return frozenset(client.nthreads())

        def closed(pool: Executor) -> None:
            pool.shutdown(wait=False)

        try:
            yield Engine(workers, lambda: client.get_executor(pure=False), closed, (distributed.KilledWorker,), there)
        except (CancelledError, OSError) as error:
            if client.status == "running":
                raise
            raise BarwrightError(
                f"--dask {shown(address)}: the scheduler is gone; what is made stays: go on with --resume"
            ) from error


def _checked_workers(threads: dict[str, int], versions: dict[str, object], address: str) -> int:
    """How many pieces the cluster works on at the same time."""
    if not threads:
        raise BarwrightError(
            f"--dask {shown(address)}: the scheduler has no worker: start some with  dask worker {address} --nthreads 1"
        )
    for worker, version in sorted(versions.items()):
        if version != __version__:
            have = f"version {version}" if isinstance(version, str) else "none that can be used"
            raise BarwrightError(
                f"--dask {shown(address)}: Barwright here is version {__version__}, and the worker {worker} has {have}"
                ": install the same everywhere, or quizzes would differ"
            )
    return sum(threads.values())
