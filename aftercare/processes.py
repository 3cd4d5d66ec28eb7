"""Distributes work among several processes."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from multiprocessing import get_context
from multiprocessing.connection import Connection
from typing import Any, TypeVar

State = TypeVar("State")
Item = TypeVar("Item")
Result = TypeVar("Result")


def in_processes(
    open_state: Callable[[], State], work: Callable[[State, Item], Result], items: Sequence[Item], jobs: int
) -> Iterator[Result]:
    """Return `work(state, item)` for each item, in order, computed by `jobs` processes. Each calls `open_state` once.

    With one job no process is started. Both functions, all items and all results must be picklable. Raises what `work` or
    `open_state` raises, and RuntimeError where a process was killed.
    """
    if jobs == 1 or len(items) < 2:
        state = open_state()
        yield from (work(state, item) for item in items)
        return
    # Not "fork": the copy of a process with threads may hold a lock that no thread releases.
    context = get_context("spawn")
    processes, receivers = [], []
    try:
        for number in range(min(jobs, len(items))):
            receiver, sender = context.Pipe(duplex=False)
            arguments = (open_state, work, items[number::jobs], sender)
            process = context.Process(target=_serve, args=arguments, daemon=True)
            process.start()
            sender.close()  # so that the pipe is closed when the process ends
            processes.append(process)
            receivers.append(receiver)
        for number in range(len(items)):
            yield _receive(receivers[number % jobs])
    finally:
        for process in processes:
            process.terminate()
            process.join()


def _serve(
    open_state: Callable[[], State], work: Callable[[State, Item], Result], items: Sequence[Item], sender: Connection
) -> None:
    """Send the result of each item, or the exception of the first that fails."""
    try:
        state = open_state()
        for item in items:
            sender.send(work(state, item))
    except Exception as error:  # noqa: BLE001 - raised again by _receive in the parent process
        try:
            sender.send(error)
        except Exception:  # noqa: BLE001 - an exception that cannot be pickled is sent as its words
            sender.send(RuntimeError(f"{type(error).__name__}: {error}"))


def _receive(receiver: Connection) -> Any:
    try:
        result = receiver.recv()
    except EOFError:
        raise RuntimeError(
            "A process that shared the work was killed. Run it again, with --jobs 1 if memory is short."
        ) from None
    if isinstance(result, Exception):
        raise result
    return result
