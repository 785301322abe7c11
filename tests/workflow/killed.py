"""Run work in a process of its own that ends, without a word, before one of its writes."""

from __future__ import annotations

import itertools
import multiprocessing
import os
from collections.abc import Callable
from multiprocessing.connection import Connection
from typing import Any

from sqlalchemy import Engine, event

KILLED = 9
READS = ("SELECT", "PRAGMA", "SHOW")


def end_before_write(number: int) -> None:
    """End this process before its so-many-th write: a statement, a commit, a file or its name."""
    count = itertools.count(1)

    def passing(*_: object, **__: object) -> None:
        if next(count) == number:
            os._exit(KILLED)

    def statement(_c: object, _u: object, text: str, *_: object) -> None:
        if not text.lstrip().startswith(READS):
            passing()

    event.listen(Engine, "before_cursor_execute", statement)
    event.listen(Engine, "commit", passing)
    for name in ("fsync", "link", "unlink", "rename", "replace", "mkdir", "chmod"):
        setattr(os, name, _first(passing, getattr(os, name)))


def _first(passing: Callable[[], None], act: Callable[..., Any]) -> Callable[..., Any]:
    def passed(*given: Any, **named: Any) -> Any:
        passing()
        return act(*given, **named)

    return passed


def told_until_killed(
    work: Callable[[Callable[[Any], None]], None], write: int
) -> tuple[list[Any], int | None]:
    """Run work until it is killed before a write, or done.

    Parameters
    ----------
    work : callable
        Given a function that tells somebody that something is saved.
    write : int
        Before which write it ends.

    Returns
    -------
    tuple of list and int
        Everything it told, and its exit code.
    """
    fork = multiprocessing.get_context("fork")
    ours, theirs = fork.Pipe(duplex=False)

    def child(pipe: Connection) -> None:
        end_before_write(write)
        work(pipe.send)

    process = fork.Process(target=child, args=(theirs,))
    process.start()
    theirs.close()
    told = []
    try:
        while True:
            told.append(ours.recv())
    except EOFError:
        pass
    process.join()
    return told, process.exitcode
