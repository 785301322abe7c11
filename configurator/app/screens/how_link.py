"""The link from a figure to its working, wherever the figure stands."""

from __future__ import annotations

from configurator.app import session
from configurator.app.markup import tag, text
from configurator.app.view_models.working import working_address
from configurator.build_spec.derivations.explain import Key


def how_link(label: str, key: Key | None) -> str:
    """Link to the page that works a figure out; it is computed when somebody goes there.

    Parameters
    ----------
    label : str
        What people see the figure called.
    key : tuple of (FactName, case or None), optional
        The fact; without one there is no link.
    """
    reference = session.build_reference()
    if key is None or reference is None:
        return ""
    return " " + tag(
        "a",
        text("How?"),
        class_="how-worked",
        href=working_address(reference, key),
        target="_self",
        aria_label=f"How? {label}, worked out",
    )


def page_link(words: str, page: str) -> str:
    """Link to another page about the same build."""
    reference = session.build_reference()
    if reference is None:
        return ""
    return tag("a", text(words), class_="to-page", href=f"{page}?build={reference}", target="_self")
