"""Tests of work in several processes: results in order, errors raised in the parent, no process left running."""

from __future__ import annotations

import os
import signal
from multiprocessing import active_children

import pytest

from aftercare.errors import Fault, Problem, Refused, Where
from aftercare.processes import in_processes

MORE_THAN_A_PIPE_HOLDS = 1_000_000  # bytes; a pipe of Linux holds 65,536
PROBLEM = Problem(Fault.BAD_VALUE, "{} is odd.", subject=("3",), allowed=("2", "4"), where=Where("clinic.md", 7))


# What runs in other processes must be functions of a module.
def open_list() -> list[int]:
    return []


def refuse_to_open() -> list[int]:
    raise Refused([PROBLEM])


def square(_state: list[int], item: int) -> int:
    return item * item


def remember(state: list[int], item: int) -> tuple[int, ...]:
    """The items that this process has processed so far."""
    state.append(item)
    return tuple(state)


def fill_pipe(_state: list[int], _item: int) -> bytes:
    """A result that blocks its process until it is read."""
    return bytes(MORE_THAN_A_PIPE_HOLDS)


def process_id(_state: list[int], _item: int) -> int:
    return os.getpid()


def refuse_three(_state: list[int], item: int) -> int:
    if item == 3:
        raise Refused([PROBLEM, PROBLEM])
    return item


def die_at_three(_state: list[int], item: int) -> int:
    if item == 3:
        os.kill(os.getpid(), signal.SIGKILL)
    return item


@pytest.mark.parametrize("jobs", [1, 2, 3, 20])
def test_results_come_in_the_order_of_their_items(jobs: int) -> None:
    assert list(in_processes(open_list, square, range(7), jobs)) == [0, 1, 4, 9, 16, 25, 36]


def test_each_process_opens_its_state_once() -> None:
    worked_on = list(in_processes(open_list, remember, range(6), 2))
    assert worked_on == [(0,), (1,), (0, 2), (1, 3), (0, 2, 4), (1, 3, 5)]


@pytest.mark.parametrize(("items", "jobs"), [(range(3), 1), (range(1), 2)])
def test_one_job_or_one_item_is_processed_in_this_process(items: range, jobs: int) -> None:
    assert set(in_processes(open_list, process_id, items, jobs)) == {os.getpid()}


def test_several_jobs_are_processed_in_as_many_other_processes() -> None:
    ids = set(in_processes(open_list, process_id, range(6), 2))
    assert len(ids) == 2
    assert os.getpid() not in ids


@pytest.mark.parametrize("jobs", [1, 2, 5])
def test_no_items_give_no_results(jobs: int) -> None:
    assert list(in_processes(open_list, square, (), jobs)) == []


@pytest.mark.parametrize("jobs", [1, 2])
def test_a_refusal_is_raised_here_with_its_problems_whole_after_the_results_before_it(jobs: int) -> None:
    results = in_processes(open_list, refuse_three, range(6), jobs)

    assert [next(results) for _ in range(3)] == [0, 1, 2]
    with pytest.raises(Refused) as refused:
        next(results)
    assert refused.value.problems == (PROBLEM, PROBLEM)
    assert active_children() == []


@pytest.mark.parametrize("jobs", [1, 2])
def test_an_error_of_opening_is_raised_here(jobs: int) -> None:
    with pytest.raises(Refused) as refused:
        list(in_processes(refuse_to_open, square, range(4), jobs))
    assert refused.value.problems == (PROBLEM,)
    assert active_children() == []


def test_a_killed_process_is_an_error_with_advice() -> None:
    with pytest.raises(RuntimeError, match=r"was killed\. Run it again, with --jobs 1"):
        list(in_processes(open_list, die_at_three, range(6), 2))
    assert active_children() == []


def test_no_process_is_left_when_the_results_are_no_longer_wanted() -> None:
    results = in_processes(open_list, fill_pipe, range(100), 2)
    assert len(next(results)) == MORE_THAN_A_PIPE_HOLDS
    assert len(active_children()) == 2
    del results
    assert active_children() == []


def raise_unpicklable(_state: list[int], _item: int) -> int:
    class LocalError(Exception):
        """Cannot be pickled, since no module holds its class."""

    raise LocalError("out of ink")


def test_an_error_that_cannot_be_pickled_is_raised_here_in_its_words() -> None:
    with pytest.raises(RuntimeError, match="LocalError: out of ink"):
        list(in_processes(open_list, raise_unpicklable, range(2), 2))
