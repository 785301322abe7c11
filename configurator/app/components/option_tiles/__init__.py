"""Option tiles: a radio group in which a refused option stays visible and says why."""

from __future__ import annotations

from collections.abc import Callable, Sequence
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


def explain_tiles(questions: Sequence[GroupTiles], *, key: str) -> None:
    """Send the tiles of several questions again, now with their reasons and ways out.

    The browser draws them into the tiles that stand there already, if they are of the same
    revision; so nobody waits for reasons to see what is possible.

    Parameters
    ----------
    questions : sequence of GroupTiles
        Every one explained.
    key : str
        Of the element, which shows nothing itself.
    """
    with st.container(key="explaining"):
        _mount(key=key, data={"explained": [tiles.as_data() for tiles in questions]})
