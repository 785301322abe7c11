"""Plain loops over numbers, compiled to machine code when first called.

The compiled code is kept on disk, so only the first run after an installation or a change of the
source waits for the compiler: in `__pycache__` beside the source, else in the user's cache folder,
else not at all; `NUMBA_CACHE_DIR` names another folder. Only a change of a loop's own file makes it
compiled anew. So loops that call each other, constants they read and named tuples they take share a
file; the columns of a structured array may be declared anywhere.
"""

from __future__ import annotations

import pickle
from collections.abc import Callable
from contextlib import suppress
from typing import Any, ParamSpec, TypeVar, cast

from numba import njit
from numba.core.caching import FunctionCache

P = ParamSpec("P")
R = TypeVar("R")

_BROKEN = (OSError, EOFError, AttributeError, ImportError, ValueError, pickle.PickleError)
"""What a full disk raises, or a file that a power cut left half written."""


def compiled_loop(loop: Callable[P, R]) -> Callable[P, R]:
    """Compile a function of numbers and arrays when it is first called.

    Sums are added in the order they are written, so a result never depends on the machine's
    vector width or on what else is computed. Dividing by zero gives infinity, as in arrays.

    Parameters
    ----------
    loop : callable
        Takes and gives numbers, arrays and tuples of them; touches nothing else.

    Returns
    -------
    callable
        The same function, fast.

    Examples
    --------
    >>> @compiled_loop
    ... def sum_of_squares(count: int) -> int:
    ...     total = 0
    ...     for number in range(count):
    ...         total += number * number
    ...     return total
    >>> sum_of_squares(4)
    14
    """
    compiled = njit(error_model="numpy")(loop)
    with suppress(RuntimeError):  # No folder can be written to: compile anew in each process.
        compiled._cache = _DispensableCache(loop)
    return cast("Callable[P, R]", compiled)


class _DispensableCache(FunctionCache):  # type: ignore[misc]  # Numba has no types.
    """Numba's own cache, but one that cannot be read or written only costs the compiling."""

    def load_overload(self, signature: Any, target: Any) -> Any:
        try:
            return super().load_overload(signature, target)
        except _BROKEN:
            with suppress(*_BROKEN):
                self.flush()
            return None

    def save_overload(self, signature: Any, compiled: Any) -> None:
        with suppress(*_BROKEN):
            super().save_overload(signature, compiled)
