"""Safety messages in the markup of the screens."""

from __future__ import annotations

from configurator.app.markup import items, tag, text
from configurator.catalog.models.text import SafetyMessage


def caution(message: SafetyMessage, look: str, after: str = "") -> str:
    """Write what can hurt, what happens then and how to avoid it.

    Parameters
    ----------
    message : SafetyMessage
        A danger is shown as a refusal is, anything less as a question.
    look : str
        Class of the page's own.
    after : str
        Markup that follows the message.
    """
    tone = "refused" if message.signal == "danger" else "asked"
    return tag(
        "section",
        tag("p", tag("strong", text(f"{message.signal.capitalize()}. {message.hazard}"))),
        tag("p", text(message.consequence)),
        items((text(step) for step in message.avoid), "avoid"),
        after,
        class_=f"notice {tone} {look}",
        role="note",
    )
