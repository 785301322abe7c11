"""Words that are kept with a step in a build's life: checked again behind the screen."""

from __future__ import annotations

from configurator.errors import Fault, LifeError

LONGEST_NOTE = 200
LONGEST_REASON = 1000


def refuse_too_long(where: str, words: str, longest: int) -> None:
    """Refuse words that have no room in an entry; nothing a person wrote is cut without a word.

    Raises
    ------
    LifeError
        With how long they are and how long they may be.

    Examples
    --------
    >>> refuse_too_long("C1", "On paper, in the file", LONGEST_REASON)
    """
    if faults := too_long_faults(where, words, longest):
        raise LifeError(faults)


def too_long_faults(where: str, words: str, longest: int) -> list[Fault]:
    """Tell that words have no room in an entry, to be told with other faults.

    Examples
    --------
    >>> too_long_faults("C1", "On paper, in the file", LONGEST_REASON)
    []
    """
    length = len(words.strip())
    if length <= longest:
        return []
    what = f"the words beside it have {length} characters; {longest} can be kept"
    return [Fault("P082", where, what, "Say it in fewer words.")]
