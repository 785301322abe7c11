"""The plain pages around the log-in: they come before the screens and hold nothing of a build."""

from __future__ import annotations

from collections.abc import Sequence

from configurator.app.markup import tag, text
from configurator.app.view_models.faults import FaultLine

STYLE_ADDRESS = "/account/look.css"


def page(title: str, *parts: str, faults: Sequence[FaultLine] = ()) -> str:
    """Write a whole page; the parts are markup already."""
    said = tag(
        "div",
        *(tag("p", tag("strong", text(line.what)), " ", text(line.remedy)) for line in faults),
        class_="refused",
        role="alert",
    )
    head = (
        '<meta charset="utf-8"><meta name="viewport" content="width=device-width">'
        f"<title>{text(title)}</title>"
        f'<link rel="stylesheet" href="{STYLE_ADDRESS}">'
    )
    body = tag("main", tag("h1", text(title)), said if faults else "", *parts)
    return f'<!doctype html><html lang="en"><head>{head}</head><body>{body}</body></html>'


def log_in_page(
    to: str, *, has_provider: bool, name: str = "", faults: Sequence[FaultLine] = ()
) -> str:
    """Ask for name and password; a name that was typed already stays."""
    form = _form(
        "/account/log-in",
        _field("Name", "name", "text", "username", name),
        _field("Password", "password", "password", "current-password"),
        _hidden("to", to),
        button="Log in",
    )
    provider = tag("p", tag("a", text("Log in through the identity provider"), href="/"))
    return page("Log in", form, provider if has_provider else "", faults=faults)


def first_account_page(shortest: int, name: str = "", faults: Sequence[FaultLine] = ()) -> str:
    """Ask for the first account, which is a manager's; a name that was typed already stays."""
    about = (
        "Nobody has an account here yet. The first one is a manager’s: it is you. Your name stands "
        "under what you sign. Further people are added with “configurator accounts add”."
    )
    form = _form(
        "/account/first",
        _field("Name", "name", "text", "username", name),
        *_new_password(shortest),
        button="Make the account and log in",
    )
    return page("The first account", tag("p", text(about)), form, faults=faults)


def not_from_here_page() -> str:
    """Say that the first account is made on the machine itself."""
    about = (
        "Nobody has an account here yet, and the first one can be made only at the machine that "
        "runs the tool: open it there, or run “configurator accounts add” there."
    )
    return page("The first account", tag("p", text(about)))


def password_page(shortest: int, faults: Sequence[FaultLine] = ()) -> str:
    """Ask for another password."""
    form = _form(
        "/account/password",
        _field("Password until now", "before", "password", "current-password"),
        *_new_password(shortest),
        button="Change the password",
    )
    about = "You will be logged out everywhere, and log in again with the new one."
    back = tag("p", tag("a", text("Back to the builds"), href="/"))
    return page("Change your password", tag("p", text(about)), form, back, faults=faults)


def look_again_page(address: str) -> str:
    """Load the same address once more, as a page of our own may: then the cookie comes along."""
    again = f'<meta http-equiv="refresh" content="0;url={text(address)}">'
    return f'<!doctype html><html lang="en"><head>{again}</head><body></body></html>'


def _new_password(shortest: int) -> tuple[str, str, str]:
    rule = f"{shortest} characters or more; several words are easy to keep in mind."
    return (
        _field("New password", "password", "password", "new-password"),
        tag("p", text(rule), class_="small"),
        _field("New password once more", "again", "password", "new-password"),
    )


def _form(action: str, *fields: str, button: str) -> str:
    sent = tag("button", text(button), type="submit")
    return tag("form", *fields, sent, action=action, method="post")


def _field(label: str, name: str, kind: str, filled_in: str, value: str = "") -> str:
    typed = f' value="{text(value)}"' if value else ""
    kept = f'autocomplete="{filled_in}"{typed}'
    blank = f'<input name="{name}" id="{name}" type="{kind}" {kept} required>'
    return tag("label", text(label), for_=name) + blank


def _hidden(name: str, value: str) -> str:
    return f'<input name="{name}" type="hidden" value="{text(value)}">'
