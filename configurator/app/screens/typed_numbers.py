"""A number that is typed; one that cannot be is said in words beneath it, with what can."""

from __future__ import annotations

from typing import Any

import streamlit as st

from configurator.app.markup import tag, text
from configurator.app.view_models.typed_numbers import Bounds, out_of_bounds


def typed_number(
    label: str, value: float | None, bounds: Bounds, *, step: float, key: str
) -> float | None:
    """Show a number to be typed.

    The browser would hold a number out of bounds back and go on showing what the one before it
    gave. So it sends every number, and whoever takes this one refuses it.

    Parameters
    ----------
    label : str
        Already plain.
    value : float or None
        What it shows at first; a whole number stays one.
    bounds : Bounds
        The least and the greatest that can be, with their unit.
    step : float
        Of the buttons beside it.
    key : str
        Of the entry.

    Returns
    -------
    float or None
        As typed, perhaps out of bounds; None where nothing stands there.
    """
    is_whole = isinstance(value, int)
    kind: Any = int if is_whole else float
    typed = st.number_input(
        label, value=value, step=kind(step), format="%d" if is_whole else "%g", key=key
    )
    said = out_of_bounds(typed, bounds)
    if said:
        st.html(tag("p", text(said), class_="missing", role="alert"))
    return typed
