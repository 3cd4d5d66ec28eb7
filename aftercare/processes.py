"""Work shared among several processes of this machine."""

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
    """`work(state, item)` for each item, in order, by `jobs` processes; each opens a state of its own once.

    Both functions and all items must be picklable. With one job everything happens in this process. An exception that `work`
    or `open_state` raises is raised here; a process that was killed raises RuntimeError.
    """
    if jobs == 1 or len(items) < 2:
        state = open_state()
        yield from (work(state, item) for item in items)
        return
    # Not forked: a copy of a process with threads may hold a lock that nobody releases.
    context = get_context("spawn")
    processes, receivers = [], []
    try:
        for number in range(min(jobs, len(items))):
            receiver, sender = context.Pipe(duplex=False)
            arguments = (open_state, work, items[number::jobs], sender)
            process = context.Process(target=_serve, args=arguments, daemon=True)
            process.start()
            sender.close()  # so that the end of the process is the end of the pipe
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
    """Send the result of each item, or the exception that ended the work."""
    try:
        state = open_state()
        for item in items:
            sender.send(work(state, item))
    except Exception as error:  # noqa: BLE001 - raised again in the process that waits for it
        sender.send(error)


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
