"""Whether something was written about a build since somebody decided by its book."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from configurator.build_life.entries import Body
from configurator.build_life.life import Life
from configurator.errors import Fault, LifeError


def refuse_overtaken(seen: Life, there: Life, reference: str) -> None:
    """Refuse a step that was decided by a book which says more, or something else, by now.

    Parameters
    ----------
    seen, there : Life
        As the step was decided by, and as it is while nobody else can add to it.
    reference : str
        Of the build.

    Raises
    ------
    LifeError
        With P102 if anything was written since.
    """
    if [entry.sha256 for entry in there.entries] != [entry.sha256 for entry in seen.entries]:
        what = "something was written about this build meanwhile"
        raise LifeError([Fault("P102", reference, what, "Look at the gate again.")])


def unless_overtaken(seen: Life, reference: str, *bodies: Body) -> Callable[[Life], Sequence[Body]]:
    """Give what is to be written only while the book says what the step was decided by.

    Parameters
    ----------
    seen : Life
        As the step was decided by.
    reference : str
        Of the build.
    bodies : Body
        To be written together.
    """

    def unless(there: Life) -> Sequence[Body]:
        refuse_overtaken(seen, there, reference)
        return bodies

    return unless
