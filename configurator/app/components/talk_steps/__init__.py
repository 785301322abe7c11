"""The row of steps through the talk."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import streamlit as st

from configurator.app.view_models.talk import Step

_mount = st.components.v2.component(
    "configurator.talk_steps", js="talk_steps.js", css="talk_steps.css"
)


def talk_steps_row(steps: Sequence[Step], *, key: str) -> object:
    """Show the steps.

    Parameters
    ----------
    steps : sequence of Step
        The parts of the talk.
    key : str
        Of the element.

    Returns
    -------
    object
        The id of the part somebody wants to go to, unchecked, or None.
    """
    data = {"steps": [step.as_data() for step in steps]}
    result: Any = _mount(key=key, data=data, on_go_change=_nothing_more)
    return result.get("go")


def _nothing_more() -> None:
    """Make the browser's word arrive; what it means is decided from the returned value."""
