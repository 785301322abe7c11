"""Changing the draft from the talk: saved at once, and calm words when it is refused."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import datetime
from typing import Protocol, TypeAlias, TypedDict

from configurator.app import session
from configurator.app.premises import now, premises
from configurator.app.view_models.acts import TileAct, moved_words
from configurator.app.view_models.faults import spoken
from configurator.errors import ConfiguratorError, StaleDraftError
from configurator.workflow.builds import Draft, read_draft
from configurator.workflow.consultation import (
    clear_choice,
    pick_option,
    set_house_choices,
    take_way_out,
    undo_last_change,
)
from configurator.workflow.moved_along import moved_along
from configurator.workflow.must_keeps import keep_choice
from configurator.workflow.premises import Premises

InWords: TypeAlias = Callable[[ConfiguratorError], tuple[str, ...]]
KEPT = "Nothing was lost: the screen now shows the talk as it stands."


class DraftStep(Protocol):
    """A step of the work that lacks nothing but the draft and the moment."""

    def __call__(
        self, opened: Premises, reference: str, /, *, revision: int, now: datetime
    ) -> Draft:
        """Take it; what it refuses, it raises."""
        ...


class _Moment(TypedDict):
    revision: int
    now: datetime


def perform(reference: str, act: TileAct) -> None:
    """Do what somebody did at the tiles."""
    before = read_draft(premises(), reference)
    saved = save(reference, act.revision, lambda revision: _change(reference, act, revision))
    if saved is not None and act.kind != "undo":
        picked = {act.group_id, *dict(act.changes)}
        moved = moved_words(moved_along(premises(), before, saved, picked))
        if moved:
            session.say("asked", (moved,))
    # By an earlier quick click the option may have come in without what the way out would change.
    if saved is not None and act.kind == "way_out" and set(act.changes) <= _chosen(saved):
        session.note_taken(reference, saved.revision, act)


def _chosen(draft: Draft) -> set[tuple[str, str]]:
    return set(draft.build.choices.items())


def undo(reference: str, revision: int) -> None:
    """Take back the last change."""
    perform(reference, TileAct("undo", "", "", revision, ""))


def let_the_workshop_choose(reference: str, revision: int, *, wanted: bool) -> None:
    """Fill what is open with the workshop's choices, or open it again."""
    save(
        reference,
        revision,
        lambda seen: set_house_choices(
            premises(), reference, revision=seen, wanted=wanted, now=now()
        ),
    )


def leave_open(reference: str, revision: int, group_ids: Iterable[str]) -> None:
    """Leave groups open again, such as those whose chosen option the catalog has lost."""
    for group_id in group_ids:
        perform(reference, TileAct("clear", group_id, "", revision, ""))


def _change(reference: str, act: TileAct, revision: int) -> Draft:
    opened, group_id, option_id = premises(), act.group_id, act.option_id
    at: _Moment = {"revision": revision, "now": now()}
    if act.kind == "pick":
        return pick_option(opened, reference, group_id=group_id, option_id=option_id, **at)
    if act.kind == "way_out":
        return take_way_out(
            opened, reference, group_id=group_id, option_id=option_id, changes=act.changes, **at
        )
    if act.kind == "clear":
        return clear_choice(opened, reference, group_id=group_id, **at)
    if act.kind == "undo":
        return undo_last_change(opened, reference, **at)
    return keep_choice(opened, reference, group_id=group_id, wanted=act.kind == "keep", **at)


def keep(
    draft: Draft,
    step: DraftStep,
    *,
    in_words: InWords = spoken,
) -> bool:
    """Take a step of the work on the draft that is shown, and tell whether it changed anything."""
    reference = draft.build.reference
    done = save(
        reference,
        draft.revision,
        lambda seen: step(premises(), reference, revision=seen, now=now()),
        in_words=in_words,
    )
    return done is not None


def save(
    reference: str,
    seen: int,
    change: Callable[[int], Draft],
    *,
    in_words: InWords = spoken,
) -> Draft | None:
    """Save a change decided on the revision `seen`; None when it was refused or changed nothing.

    What is refused is said `in_words`: of a form with several entries, entry by entry.
    """
    revision = session.continued(reference, seen)
    try:
        saved = change(revision)
    except StaleDraftError as error:
        session.say("asked", (*spoken(error), KEPT))
    except ConfiguratorError as error:
        session.say("refused", in_words(error))
    else:
        if saved.revision != revision:
            session.note_saved(reference, revision, saved.revision)
            return saved
    return None
