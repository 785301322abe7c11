"""Arithmetic of plain sRGB colours: tints, shades and contrast."""

from __future__ import annotations

LEAST_TEXT_CONTRAST = 4.5
"""WCAG 2, success criterion 1.4.3, level AA, for text of ordinary size."""

INK = "#22272b"
PAPER = "#ffffff"
QUIET_INK = "#545c63"
"""For secondary text; above 4.5:1 on white and on the light greys used here."""


def relative_luminance(colour: str) -> float:
    """Compute the relative luminance of an sRGB colour.

    Parameters
    ----------
    colour : str
        As #rrggbb.

    Returns
    -------
    float
        From 0 for black to 1 for white.

    Source
    ------
    W3C Web Content Accessibility Guidelines 2.2, definition of relative luminance.

    Examples
    --------
    >>> relative_luminance("#ffffff")
    1.0
    """
    red, green, blue = (_linear(channel / 255) for channel in _channels(colour))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast_ratio(one: str, other: str) -> float:
    """Compute the contrast ratio of two sRGB colours, from 1 to 21.

    Source
    ------
    W3C Web Content Accessibility Guidelines 2.2, definition of contrast ratio.

    Examples
    --------
    >>> contrast_ratio("#000000", "#ffffff")
    21.0
    """
    darker, lighter = sorted((relative_luminance(one), relative_luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


def mixed(colour: str, other: str, share: float) -> str:
    """Mix `share` (0 to 1) of another colour into a colour, channel by channel.

    Examples
    --------
    >>> mixed("#000000", "#ffffff", 0.5)
    '#808080'
    """
    pairs = zip(_channels(colour), _channels(other), strict=True)
    return "#" + "".join(f"{round(a + (b - a) * share):02x}" for a, b in pairs)


def darker(colour: str, share: float) -> str:
    """Mix a deep, slightly blue shade into a colour, as a shadow under the sky does.

    Examples
    --------
    >>> darker("#ffffff", 1.0)
    '#0c1016'
    """
    return mixed(colour, "#0c1016", share)


def lighter(colour: str, share: float) -> str:
    """Mix white into a colour.

    Examples
    --------
    >>> lighter("#000000", 1.0)
    '#ffffff'
    """
    return mixed(colour, "#ffffff", share)


def line_colour_on(colour: str) -> str:
    """Choose a line that shows on a painted area: a shade of it, or a tint where it is dark.

    Examples
    --------
    >>> relative_luminance(line_colour_on("#101010")) > relative_luminance("#101010")
    True
    """
    if relative_luminance(colour) < 0.06:
        return lighter(colour, 0.34)
    return darker(colour, 0.5)


def text_colour_on(colour: str) -> str:
    """Choose ink or paper, whichever reads better on a colour.

    Examples
    --------
    >>> text_colour_on("#ffffff")
    '#22272b'
    """
    return max((INK, PAPER), key=lambda text: contrast_ratio(text, colour))


def _channels(colour: str) -> tuple[int, int, int]:
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)


def _linear(channel: float) -> float:
    return channel / 12.92 if channel <= 0.04045 else float(((channel + 0.055) / 1.055) ** 2.4)
