"""What somebody probably meant by a name that nobody knows."""

from __future__ import annotations

from collections.abc import Iterable

from rapidfuzz import fuzz, process

LEAST_LIKENESS = 60.0
FEW_NAMES = 10


def did_you_mean(name: str, known: Iterable[str]) -> str:
    """Suggest the nearest known name, or list the few there are.

    Parameters
    ----------
    name : str
        What was written.
    known : iterable of str
        The names that exist.

    Returns
    -------
    str
        A sentence, never empty.

    Examples
    --------
    >>> did_you_mean("fabrik", ["fabric", "steel"])
    'Did you mean "fabric"?'
    >>> did_you_mean("xyz", ["fabric", "steel"])
    'There are: "fabric", "steel".'
    """
    names = sorted(set(known))
    if not names:
        return "There is none yet: add it first, or take the name out."
    best = process.extractOne(name[:100], names, scorer=fuzz.ratio, score_cutoff=LEAST_LIKENESS)
    if best is not None:
        return f'Did you mean "{best[0]}"?'
    listed = ", ".join(f'"{known_name}"' for known_name in names[:FEW_NAMES])
    return f"There are: {listed}{' and more' if len(names) > FEW_NAMES else ''}."
