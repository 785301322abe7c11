"""Changing wishes, must-keeps and preferences, and taking a build that answers them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from configurator.app.changes import save
from configurator.app.premises import now, premises
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
    reference = draft.build.reference
    done = save(
        reference,
        draft.revision,
        lambda seen: set_wishes(
            premises(),
            reference,
            revision=seen,
            wishes=tuple(wishes),
            preferences=tuple(preferences),
            now=now(),
        ),
    )
    return done is not None


def keep(draft: Draft, group_id: str, *, wanted: bool) -> bool:
    """Mark a choice as one that must be kept, or take the mark off."""
    reference = draft.build.reference
    done = save(
        reference,
        draft.revision,
        lambda seen: keep_choice(
            premises(), reference, revision=seen, group_id=group_id, wanted=wanted, now=now()
        ),
    )
    return done is not None


def take(draft: Draft, choices: Mapping[str, str]) -> bool:
    """Take a whole build into the talk, as one change."""
    reference = draft.build.reference
    done = save(
        reference,
        draft.revision,
        lambda seen: take_wished_build(
            premises(), reference, revision=seen, choices=choices, now=now()
        ),
    )
    return done is not None
