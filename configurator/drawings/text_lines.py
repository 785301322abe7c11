"""Text that has to fit: broken into lines by an estimate of its width, numbers as in print."""

from __future__ import annotations

from configurator.drawings.shapes import words_width


def lines_within(text: str, size: float, width: float, *, bold: bool = False) -> tuple[str, ...]:
    """Break a text at spaces, and within a word only where the word alone is too wide.

    Parameters
    ----------
    text : str
        Any text; runs of white space count as one space.
    size : float
        Size of the letters, in the unit of the drawing.
    width : float
        Width that a line may take, in the same unit.
    bold : bool
        Whether it is set bold.

    Returns
    -------
    tuple of str
        The lines; one empty line for an empty text.

    Examples
    --------
    >>> lines_within("winter night on the motorway", 10.0, 100.0)
    ('winter night on', 'the motorway')
    """
    letters = max(1, int(width / words_width("x", size, bold=bold)))
    lines = [""]
    for word in text.split():
        longer = f"{lines[-1]} {word}".strip()
        if len(longer) <= letters:
            lines[-1] = longer
            continue
        pieces = [word[start : start + letters] for start in range(0, len(word), letters)]
        lines.extend(pieces)
    return tuple(line for line in lines if line) or ("",)


def from_to(low: float, high: float, unit: str) -> str:
    """Write two whole numbers as one or as a from–to.

    Examples
    --------
    >>> from_to(612.2, 655.0, "kg"), from_to(1012.0, 1012.0, "kg")
    ('612–655 kg', '1,012 kg')
    """
    first, last = f"{low:,.0f}", f"{high:,.0f}"
    return f"{first} {unit}" if first == last else f"{first}–{last} {unit}"
