"""Option tiles: a radio group in which a refused option stays visible and says why."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import streamlit as st

from configurator.app.view_models.tiles import GroupTiles

_mount = st.components.v2.component(
    "configurator.option_tiles", js="option_tiles.js", css="option_tiles.css"
)


def option_tiles(tiles: GroupTiles, *, key: str, on_act: Callable[[], None]) -> object:
    """Show a question with its tiles.

    Parameters
    ----------
    tiles : GroupTiles
        The question as it stands.
    key : str
        Of the element, the same for the same group.
    on_act : callable
        Called before the run when somebody acted; not called in the first run after a restart,
        which is why the returned value counts as well.

    Returns
    -------
    object
        What somebody did in this run, unchecked, or None.
    """
    result: Any = _mount(key=key, data=tiles.as_data(), on_act_change=on_act)
    return result.get("act")
