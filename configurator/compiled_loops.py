"""Plain loops over numbers, compiled to machine code when first called.

The compiled code is kept on disk, so only the first run after an installation or a change of the
source waits for the compiler: in `__pycache__` beside the source, else in the user's cache folder,
else not at all. `NUMBA_CACHE_DIR` names another folder. A loop that calls a loop of another file
does not notice that the other file has changed, so loops that call each other share a file.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import ParamSpec, TypeVar, cast

from numba import njit

P = ParamSpec("P")
R = TypeVar("R")


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
    try:
        compiled = njit(cache=True, error_model="numpy")(loop)
    except RuntimeError:  # No folder can be written to: compile anew in each process.
        compiled = njit(error_model="numpy")(loop)
    return cast("Callable[P, R]", compiled)
