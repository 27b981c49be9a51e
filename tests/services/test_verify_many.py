"""A long run of checks adds up to the same on any executor, and loses no problem on the way."""

from __future__ import annotations

import pytest
from click.testing import CliRunner
from distributed import LocalCluster

from stavewright.cli.verify import verify
from stavewright.services.errors import NoCluster
from stavewright.services.verify import Verified
from stavewright.services.verify_many import Share, Worked, counts_of, shares, total
from stavewright.wiring import executor

CASES = (("name-the-note", 1, "written"), ("name-the-note", 2, "written"), ("interval-number", 1, "on-screen"))


def test_a_total_is_dealt_out_evenly_and_wholly() -> None:
    for many in (1, 2, 3, 100, 1_000_001):
        counts = counts_of(716, many)
        assert sum(counts) == many
        assert max(counts) - min(counts) <= 1


def test_shares_cover_every_seed_of_every_case_once() -> None:
    cut = shares(CASES, [700, 250, 3], seed=40)
    for case, count in zip(CASES, [700, 250, 3], strict=True):
        mine = [one for one in cut if (one.kind, one.grade, one.edition) == case]
        seeds = [seed for one in mine for seed in range(one.seed, one.seed + one.count)]
        assert seeds == list(range(40, 40 + count))
    assert [one.turn for one in cut] == sorted(one.turn for one in cut)


def _worked(turn: int, problems: tuple[str, ...], slips: dict[str, tuple[int, int]]) -> Worked:
    share = Share("name-the-note", 1, "written", seed=turn * 250, count=250, turn=turn)
    return Worked(share, Verified("name-the-note", 1, "written", 250, problems, slips), 0.5 + turn)


def test_a_problem_in_any_share_is_in_the_total_and_a_dead_slip_is_seen_over_all() -> None:
    never = {"off by one": (600, 0)}
    found = total([_worked(1, ("seed 300: wrong",), never), _worked(0, (), never)])
    assert found.problems == {("name-the-note", 1, "written"): ["seed 300: wrong"]}
    assert list(found.dead) == ["name-the-note"]
    assert found.faults == 2
    assert found.by_turn == (2.0, 6.0)
    alive = total([_worked(0, (), never), _worked(1, (), {"off by one": (600, 1)})])
    assert alive.faults == 0


def test_the_same_call_runs_on_a_dask_cluster() -> None:
    asked = ["--kind", "name-the-note", "--questions", "40"]
    here = CliRunner().invoke(verify, asked, standalone_mode=False)
    size = {"n_workers": 1, "threads_per_worker": 1, "processes": False}
    with LocalCluster(**size, protocol="tcp", dashboard_address=None) as dask:
        there = CliRunner().invoke(verify, [*asked, "--cluster", dask.scheduler_address], standalone_mode=False)
    assert here.return_value == there.return_value == 0
    said = "40 questions of 1 kinds in 10 cases: 0 problems"
    assert here.output.splitlines()[-1] == there.output.splitlines()[-1] == said


def test_no_cluster_is_a_named_error() -> None:
    with pytest.raises(NoCluster, match=r"tcp://127\.0\.0\.1:1"), executor(1, "tcp://127.0.0.1:1"):
        pass


def test_what_is_no_address_is_refused_before_anything_is_tried() -> None:
    with pytest.raises(NoCluster, match="is like tcp://"), executor(1, "nonsense"):
        pass


def test_two_sizes_of_a_run_are_refused() -> None:
    got = CliRunner().invoke(verify, ["--seeds", "5", "--questions", "5"])
    assert got.exit_code == 2
    assert "not both" in got.output
