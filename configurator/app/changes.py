"""Changing the draft from the talk: saved at once, and calm words when it is refused."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from configurator.app import session
from configurator.app.premises import now, premises
from configurator.app.view_models.acts import TileAct
from configurator.app.view_models.faults import spoken
from configurator.errors import ConfiguratorError, StaleDraftError
from configurator.workflow.builds import Draft
from configurator.workflow.consultation import (
    clear_choice,
    pick_option,
    set_house_choices,
    take_way_out,
    undo_last_change,
)

KEPT = "Nothing was lost: the screen now shows the talk as it stands."


def perform(reference: str, act: TileAct) -> None:
    """Do what somebody did at the tiles."""

    def change(revision: int) -> Draft:
        if act.kind == "clear":
            return clear_choice(
                premises(), reference, revision=revision, group_id=act.group_id, now=now()
            )
        take = pick_option if act.kind == "pick" else take_way_out
        return take(
            premises(),
            reference,
            revision=revision,
            group_id=act.group_id,
            option_id=act.option_id,
            now=now(),
        )

    _save(reference, act.revision, change)


def undo(reference: str, revision: int) -> None:
    """Take back the last change."""
    _save(
        reference,
        revision,
        lambda seen: undo_last_change(premises(), reference, revision=seen, now=now()),
    )


def let_the_workshop_choose(reference: str, revision: int, *, wanted: bool) -> None:
    """Fill what is open with the workshop's choices, or open it again."""
    _save(
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


def _save(reference: str, seen: int, change: Callable[[int], Draft]) -> None:
    revision = session.continued(reference, seen)
    try:
        saved = change(revision)
    except StaleDraftError as error:
        session.say("asked", (*spoken(error), KEPT))
    except ConfiguratorError as error:
        session.say("refused", spoken(error))
    else:
        if saved.revision != revision:
            session.note_saved(reference, revision, saved.revision)
