"""Who works on independent pieces: a worker that dies takes nothing along, and nobody waits for ever."""

import os
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from barwright import errors
from barwright.errors import BarwrightError, BlueprintError, CapacityError, DocumentError
from barwright.tasks.cluster import _checked_workers
from barwright.tasks.crews import Crew, Engine, Lost, crew_of


def doubled(number: int) -> int:
    return 2 * number


def doubled_or_dead(given: tuple[int, str, int]) -> int:
    """Ends the process that it runs in, as often as is told; then gives back twice the number."""
    number, place, deaths = given
    marks = Path(place, str(number))
    if deaths and len(list(marks.parent.glob(f"{number}-*"))) < deaths:
        Path(place, f"{number}-{os.getpid()}").write_text("", "utf-8")
        os._exit(9)
    return doubled(number)


ENDED = "A worker ended before it was done: {0} of work that it may have had, done again."
LOST = (
    "3 workers ended over it, one after another: is there memory enough? Take fewer --workers, and what is missing is "
    "made with --resume"
)


def test_a_worker_that_dies_is_told_and_its_work_done_again(tmp_path: Path) -> None:
    told: list[str] = []
    pieces = [(n, (n, str(tmp_path), {1: 1, 3: 9}.get(n, 0))) for n in range(6)]
    with crew_of(2, "", told.append) as crew:
        done = dict(crew.done(doubled_or_dead, pieces))
    assert done == {0: 0, 1: 2, 2: 4, 3: Lost(LOST), 4: 8, 5: 10}
    assert told
    assert set(told) <= {ENDED.format(f"{n} piece{'s' if n > 1 else ''}") for n in range(1, 5)}
    # Three workers for it alone; before that it may have been the one that ended a worker while others were at work.
    assert len(list(tmp_path.glob("3-*"))) in (3, 4)


def test_results_come_in_the_order_of_what_was_given_and_only_what_is_needed_is_asked_for() -> None:
    with crew_of(2, "", print) as crew:
        assert crew.mapped(doubled, range(9)) == [2 * n for n in range(9)]
    asked: list[int] = []
    here = Crew().done(doubled, ((n, asked.append(n) or n) for n in range(9)))
    assert next(here) == (0, 0)
    assert asked == [0]


@pytest.mark.parametrize(
    "error",
    [
        BlueprintError(["a.toml, line 1: x", "a.toml, line 2: y"]),
        DocumentError("a.xml", "no end", line=3),
        CapacityError("few", part=2),
        *(
            kind("a text")
            for kind in vars(errors).values()
            if isinstance(kind, type)
            and issubclass(kind, BarwrightError)
            and kind not in (BlueprintError, DocumentError, CapacityError)
        ),
    ],
    ids=lambda each: type(each).__name__,
)
def test_an_error_comes_back_from_another_process_as_it_was(error: BarwrightError) -> None:
    import pickle

    again = pickle.loads(pickle.dumps(error))
    assert (type(again), str(again), vars(again)) == (type(error), str(error), vars(error))


def test_workers_of_another_version_are_refused() -> None:
    with pytest.raises(BarwrightError) as refused:
        _checked_workers({"tcp://a": 1, "tcp://b": 1}, {"tcp://a": "0.1.0", "tcp://b": "0.0.9"}, "tcp://s")
    assert str(refused.value) == (
        "--dask 'tcp://s': Barwright here is version 0.1.0, and the worker tcp://b has version 0.0.9: install the same "
        "everywhere, or quizzes would differ"
    )
    with pytest.raises(BarwrightError) as refused:
        _checked_workers({"tcp://a": 1}, {"tcp://a": ModuleNotFoundError("barwright")}, "tcp://s")
    assert "the worker tcp://a has none that can be used: install" in str(refused.value)
    assert _checked_workers({"tcp://a": 1, "tcp://b": 2}, {"tcp://a": "0.1.0", "tcp://b": "0.1.0"}, "tcp://s") == 3


class GivenUp(Exception):
    """What a cluster says of a piece that it will not begin again."""


def test_what_a_cluster_gave_up_is_done_once_more_with_nothing_beside_it() -> None:
    """A worker's end counts against all that waited for that worker; over the third piece workers end each time."""
    begun: list[int] = []

    def doubled(number: int) -> int:
        begun.append(number)
        if number == 3 or begun.count(1) == number == 1:
            raise GivenUp
        return 2 * number

    crew = Crew(Engine(2, lambda: ThreadPoolExecutor(1), lambda pool: pool.shutdown(wait=False), (GivenUp,)))
    done = dict(crew.done(doubled, [(n, n) for n in range(5)]))
    crew.close()
    assert done == {0: 0, 1: 2, 2: 4, 3: Lost(LOST), 4: 8}
    assert begun == [0, 1, 2, 3, 4, 1, 3]
