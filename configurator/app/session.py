"""The browser session: its memory and the address, which no other module touches."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Literal, NoReturn, TypeAlias, cast

import streamlit as st

from configurator.app.view_models.acts import TileAct, act_from
from configurator.catalog.models.workshop import RoleId

PageName: TypeAlias = Literal[
    "builds",
    "enquiry",
    "consultation",
    "wishes",
    "day",
    "measurements",
    "survey",
    "papers",
    "weights",
    "electrical",
    "charging",
    "working",
    "quotation",
    "sign-off",
    "changes",
    "as-built",
    "handover",
]
Tone: TypeAlias = Literal["said", "asked", "refused"]
Notice: TypeAlias = tuple[Tone, tuple[str, ...]]

_REFERENCE = re.compile(r"B-[0-9]{4,6}")
_KNOWN_CLICKS = 200
ROWS_AT_ONCE = 50
"""Rows of a long list that are laid out; the search finds the others."""


def cookie(name: str) -> str | None:
    """Read a cookie that the browser brought when it opened this page."""
    brought: object = st.context.cookies.get(name)
    return brought if isinstance(brought, str) else None


def entering() -> tuple[str, str] | None:
    """Recall whom the identity provider confirmed here, with the secret for their cookie."""
    return cast("tuple[str, str] | None", st.session_state.get("entering"))


def note_entering(name: str, token: str) -> None:
    """Remember whom the identity provider confirmed here."""
    st.session_state["entering"] = (name, token)


def role_alone() -> RoleId | None:
    """Recall the role that somebody working alone wears; None until one was chosen."""
    return cast("RoleId | None", st.session_state.get("role-alone"))


def wear_alone(role: RoleId) -> None:
    """Note the role that somebody working alone wears."""
    st.session_state["role-alone"] = role


def note_pages(pages: Mapping[PageName, object]) -> None:
    """Remember the declared pages, so that screens can link to each other."""
    st.session_state["pages"] = dict(pages)


def page(name: PageName) -> object:
    """Find a declared page."""
    return st.session_state["pages"][name]


def go_to(name: PageName, reference: str | None = None) -> NoReturn:
    """Leave for another page."""
    query = {"build": reference} if reference else {}
    st.switch_page(cast("str", page(name)), query_params=query)


def build_reference() -> str | None:
    """Read the build from the address; None when it names none, or names it wrongly."""
    written = st.query_params.get("build", "")
    return written if _REFERENCE.fullmatch(written) else None


def part_id() -> str | None:
    """Read the part of the talk from the address."""
    return st.query_params.get("part")


def go_to_part(wanted_id: str) -> None:
    """Put the part of the talk into the address, where Back and a refresh find it."""
    st.query_params["part"] = wanted_id


def fact_and_case() -> tuple[str | None, str | None]:
    """Read from the address which figure is to be worked out, and in which case."""
    return st.query_params.get("fact"), st.query_params.get("case")


def go_to_fact(name: str, case: str | None) -> None:
    """Put a figure into the address, where Back and a refresh find it."""
    kept = {key: st.query_params[key] for key in ("build",) if key in st.query_params}
    # All at once, or Back would need two presses.
    st.query_params.from_dict({**kept, "fact": name, **({} if case is None else {"case": case})})


def wanted_vehicle() -> str | None:
    """Tell which vehicle the enquiry being typed is about."""
    return cast("str | None", st.session_state.get("vehicle"))


def want_vehicle(vehicle_id: str | None) -> None:
    """Note which vehicle the enquiry being typed is about."""
    st.session_state["vehicle"] = vehicle_id


def say(tone: Tone, sentences: Sequence[str]) -> None:
    """Keep sentences until the screen has shown them."""
    notices().append((tone, tuple(sentences)))


def notices() -> list[Notice]:
    """Lend what is to be said, for a download that runs outside the run of a screen."""
    return cast("list[Notice]", st.session_state.setdefault("notices", []))


def take_notices() -> list[Notice]:
    """Hand over what is to be said, once."""
    said = list(notices())
    notices().clear()
    return said


def queue_act(key: str) -> None:
    """Keep what somebody did at the tiles under `key`, before a later click can overtake it."""
    act = act_from(st.session_state[key].get("act"))
    if act is not None:
        st.session_state.setdefault("acts", []).append(act)


def take_acts() -> list[TileAct]:
    """Hand over what was done and has not counted yet, in order."""
    acts = cast("list[TileAct]", st.session_state.pop("acts", []))
    return [act for act in acts if counts_now(act)]


def counts_now(act: TileAct) -> bool:
    """Tell whether a click has not counted yet, and let it count."""
    known = cast("list[str]", st.session_state.setdefault("clicks", []))
    if act.click in known:
        return False
    known.append(act.click)
    del known[:-_KNOWN_CLICKS]
    return True


def pressed(key: str) -> bool:
    """Tell at the start of a run that a button was pressed, before the run comes to it.

    After a restart the button is not known yet; then its own returned value is the first to tell.
    """
    return bool(st.session_state.get(key, False))


def note_taken(reference: str, revision: int, act: TileAct) -> None:
    """Remember the way out that led to a revision, to offer its undoing in its place."""
    st.session_state["taken"] = (reference, revision, act)


def taken(reference: str, revision: int) -> TileAct | None:
    """Recall the way out that led to a revision; None after any other change."""
    noted = cast("tuple[str, int, TileAct] | None", st.session_state.get("taken"))
    return noted[2] if noted is not None and noted[:2] == (reference, revision) else None


def note_saved(reference: str, seen: int, saved: int) -> None:
    """Remember that this session itself took the draft from one revision to another."""
    st.session_state.setdefault("saved", {})[reference, seen] = saved


def continued(reference: str, seen: int) -> int:
    """Follow this session's own changes from the revision that somebody was looking at.

    Two quick clicks both carry the revision on the screen; the second one is no conflict with the
    first. A change from another screen breaks the chain, and is told.
    """
    saved: dict[tuple[str, int], int] = st.session_state.get("saved", {})
    while (reference, seen) in saved:
        seen = saved[reference, seen]
    return seen


def changed_elsewhere(reference: str, revision: int) -> bool:
    """Tell whether the draft moved on by other hands since this session last showed it."""
    shown = cast("dict[str, int]", st.session_state.setdefault("shown", {}))
    last = shown.get(reference, revision)
    shown[reference] = revision
    return continued(reference, last) != revision


def show_stored(key: str, stored: bool | str) -> None:
    """Let a tick box or a choice show what is stored, unless somebody has just changed it.

    It keeps its key, so that the keyboard stays on it, and follows a change of the stored
    value. What the browser brings along after a restart counts as a click and is not overwritten.
    """
    known = cast("dict[str, bool | str]", st.session_state.setdefault("stored-ticks", {}))
    if key not in st.session_state or known.get(key, stored) != stored:
        st.session_state[key] = stored
    known[key] = stored


def show_stored_again(key: str, stored: bool) -> None:
    """Put a tick box back to what is stored at the next look, since its click was refused.

    Without this the box would ask for the same again in every run.
    """
    cast("dict[str, bool]", st.session_state.setdefault("stored-ticks", {}))[key] = not stored


def form_number(name: str) -> int:
    """Tell the number of the form being filled in; a new one shows it empty."""
    return cast("int", st.session_state.setdefault("forms", {}).get(name, 0))


def empty_form(name: str) -> None:
    """Show a form empty at the next look, since what was typed into it is saved."""
    st.session_state.setdefault("forms", {})[name] = form_number(name) + 1


def rows_shown() -> int:
    """Tell how many rows of a long list are shown."""
    return cast("int", st.session_state.get("rows-shown", ROWS_AT_ONCE))


def show_more_rows() -> None:
    """Show as many rows of a long list again."""
    st.session_state["rows-shown"] = rows_shown() + ROWS_AT_ONCE
