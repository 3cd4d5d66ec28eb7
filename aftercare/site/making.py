"""Making the texts of pages: one after the other, in forked processes, or wherever an executor sends them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import Executor, ProcessPoolExecutor
from multiprocessing import get_context

Texts = Sequence["str | Callable[[], str]"]


def made(texts: Texts, jobs: int = 1, executor: Executor | None = None) -> Iterable[str]:
    """The texts in order. `executor`, where given, makes them; else `jobs` processes of this machine do."""
    if executor is not None:
        return executor.map(_made, texts, chunksize=_batch(texts, 64))
    if jobs > 1 and len(texts) > 1:
        return _forked(texts, jobs)
    return map(_made, texts)


def _made(text: str | Callable[[], str]) -> str:
    return text if isinstance(text, str) else text()


def _batch(texts: Texts, batches: int) -> int:
    return max(1, len(texts) // batches)


def _forked(texts: Texts, jobs: int) -> Iterator[str]:
    """By forked processes: they already hold what the texts are made from, so that only the finished ones travel. Sending a
    page's sheet and library to a process costs more than making the page.
    """
    with ProcessPoolExecutor(jobs, get_context("fork"), _hold, (texts,)) as pool:
        yield from pool.map(_held, range(len(texts)), chunksize=_batch(texts, jobs * 4))


_texts: Texts = ()


def _hold(texts: Texts) -> None:
    global _texts
    _texts = texts


def _held(number: int) -> str:
    return _made(_texts[number])
