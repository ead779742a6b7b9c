"""The same work on a Dask cluster: two workers of this process, by the address that nothing but this process knows."""

from functools import partial
from pathlib import Path

import pytest
from distributed import LocalCluster

from barwright.tasks.crews import Lost, crew_of
from command_line import Command
from same_entries import entries
from schools.many import LIST, PLAN, REFUSED
from schools.test_crews import LOST, doubled_or_dead


@pytest.fixture
def command(monkeypatch: pytest.MonkeyPatch, typed: Command, tmp_path: Path) -> Command:
    """Runs `barwright make quiz.toml ARGUMENTS`; gives exit code, output and error output."""
    monkeypatch.chdir(tmp_path)
    Path("quiz.toml").write_text(PLAN, "utf-8")
    Path("list.csv").write_text(LIST, "utf-8")
    return partial(typed, "make", "quiz.toml")


def local_cluster(workers: int) -> LocalCluster:
    return LocalCluster(n_workers=workers, threads_per_worker=1, processes=False, dashboard_address=":0")


def test_a_cluster_gives_the_same_bytes(command: Command) -> None:
    command("--schools", "list.csv", "--out", "one")
    one_quiz = command("--out", "alone")[1]
    with local_cluster(2) as cluster:
        code, out, err = command("--schools", "list.csv", "--out", "two", "--dask", cluster.scheduler_address)
        told = command("--out", "parted", "--dask", cluster.scheduler_address)
    assert (code, err) == (1, REFUSED)
    assert out.splitlines()[1] == "2 of 3 quizzes are made: 3 forms; 1 refused."
    assert entries(Path("one")) == entries(Path("two"))
    assert told == (0, one_quiz.replace("alone/", "parted/"), "")
    assert entries(Path("alone")) == entries(Path("parted"))


def test_a_worker_of_a_cluster_that_dies_is_told_and_its_work_done_again(tmp_path: Path) -> None:
    """Two processes, so that one can die: over one piece once, and over another as often as it is begun."""
    told: list[str] = []
    pieces = [(n, (n, str(tmp_path), {1: 1, 3: 9}.get(n, 0))) for n in range(6)]
    with (
        LocalCluster(n_workers=2, threads_per_worker=1, processes=True, dashboard_address=":0") as cluster,
        crew_of(1, cluster.scheduler_address, told.append) as crew,
    ):
        done = dict(crew.done(doubled_or_dead, pieces))
    assert done == {0: 0, 1: 2, 2: 4, 3: Lost(LOST), 4: 8, 5: 10}
    assert told
    ended = [f"{n} worker{s} of the cluster ended: what they were at is done again." for n, s in ((1, ""), (2, "s"))]
    assert set(told) <= set(ended)
    assert len(list(tmp_path.glob("1-*"))) == 1


def test_clusters_that_cannot_be_used(command: Command) -> None:
    with local_cluster(0) as cluster:
        address = cluster.scheduler_address
        assert command("--dask", address) == (
            1,
            "",
            f"--dask '{address}': the scheduler has no worker: start some with  dask worker {address} --nthreads 1\n",
        )
    assert command("--dask", "nowhere:x") == (
        1,
        "",
        "--dask 'nowhere:x': no scheduler answers there: start one with  dask scheduler, and give the address that it "
        "prints, as tcp://10.0.0.5:8786\n",
    )
