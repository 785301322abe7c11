"""Changing wishes, must-keeps and preferences, and taking a build that answers them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import partial

from configurator.app import changes
from configurator.catalog.models.build import Preference, Wish
from configurator.workflow.builds import Draft
from configurator.workflow.must_keeps import keep_choice
from configurator.workflow.wishes import set_wishes, take_wished_build


def wish_for_these(draft: Draft, wishes: Sequence[Wish]) -> bool:
    """Keep these wishes in the place of those before."""
    return wish_and_prefer_these(draft, wishes, draft.build.preferences)


def prefer_these(draft: Draft, preferences: Sequence[Preference]) -> bool:
    """Keep these preferences, the dearest first, in the place of those before."""
    return wish_and_prefer_these(draft, draft.build.wishes, preferences)


def wish_and_prefer_these(
    draft: Draft, wishes: Sequence[Wish], preferences: Sequence[Preference]
) -> bool:
    """Keep these wishes and preferences in the place of those before, as one change."""
    step = partial(set_wishes, wishes=tuple(wishes), preferences=tuple(preferences))
    return changes.keep(draft, step)


def keep(draft: Draft, group_id: str, *, wanted: bool) -> bool:
    """Mark a choice as one that must be kept, or take the mark off."""
    return changes.keep(draft, partial(keep_choice, group_id=group_id, wanted=wanted))


def take(draft: Draft, choices: Mapping[str, str]) -> bool:
    """Take a whole build into the talk, as one change."""
    return changes.keep(draft, partial(take_wished_build, choices=choices))
