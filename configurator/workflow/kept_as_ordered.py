"""After the order the workshop's own choices stay as ordered, as long as a pick lets them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime

from configurator.build_life.entries import SpecIssued
from configurator.build_spec.compiled import Compiled
from configurator.build_spec.settle import Settled, settle
from configurator.build_spec.spec import Spec
from configurator.catalog.models.build import BuildInput
from configurator.record.book import read_life
from configurator.record.changes import ChangeKind
from configurator.workflow.builds import Draft
from configurator.workflow.draft_saving import save_choices
from configurator.workflow.issuing import read_spec
from configurator.workflow.offered import check_vehicle
from configurator.workflow.premises import Premises


def save_as_ordered(
    premises: Premises,
    draft: Draft,
    kind: ChangeKind,
    new: Mapping[str, str],
    *,
    now: datetime,
) -> Draft:
    """Save picks with what keeps the rest as ordered; nothing where nothing changes.

    Raises
    ------
    StaleDraftError
        If somebody else changed the draft since it was read.
    RecordError
        If it cannot be saved, or an issued spec is lost or was altered.
    """
    taken = kept_as_ordered(premises, draft.build, new)
    return save_choices(premises, draft, kind, taken, now=now) if taken else draft


def kept_as_ordered(
    premises: Premises,
    build: BuildInput,
    new: Mapping[str, str | None],
    *,
    is_rest_left: bool = False,
) -> dict[str, str | None]:
    """Add to a pick what keeps the other choices as the last issued spec has them.

    What the workshop chose for the customer was ordered like the rest: a later pick moves it only
    where it must, and lets it back once it can. What was left to the workshop anew since stays as
    it is. A pick that leads back to the choices of an issued letter is written as that letter was,
    so that it is the same spec again.

    Parameters
    ----------
    premises : Premises
        Record, catalog and engines.
    build : BuildInput
        The draft before the pick.
    new : mapping of str to str or None
        The option picked, by group, and what a way out changes with it; None for a group that is
        left to the workshop.
    is_rest_left : bool
        Whether the rest is left to the workshop with this change.

    Returns
    -------
    dict of str to str or None
        The choices to write; None leaves a group open for the workshop's choice.

    Raises
    ------
    ChoiceError
        If the vehicle is not in the catalog any more.
    RecordError
        If an issued spec is lost or was altered.
    """
    changed = {g: o for g, o in new.items() if o != build.choices.get(g)}
    if not (build.house_choices_for_the_rest or is_rest_left):
        return changed
    life = read_life(premises.record, build.reference)
    letters = [read_spec(premises, life, issued.spec_sha256) for issued in life.of(SpecIssued)]
    if not letters:
        return changed
    check_vehicle(premises.catalog, build.vehicle)
    compiled = premises.engines.compiled(premises.catalog, build)
    filled = build.model_copy(update={"house_choices_for_the_rest": True})
    left = frozenset(group for group, option in new.items() if option is None)
    picks = {g: o for g, o in {**build.choices, **new}.items() if o is not None}
    stays = _staying(settle(compiled, build), letters[-1])
    stays = {group: option for group, option in stays.items() if group not in left}
    wanted = _as_ordered(compiled, filled, picks, stays)
    wanted = _as_written(compiled, filled, wanted, letters, left)
    groups = dict.fromkeys((*build.choices, *new, *wanted))
    return {g: wanted.get(g) for g in groups if wanted.get(g) != build.choices.get(g)}


def _staying(settled: Settled, ordered: Spec) -> dict[str, str]:
    """Tell what each group keeps or goes back to: what was ordered, unless it was let go since."""
    stays = {}
    for choice in ordered.choices:
        group, option = choice.group_id, choice.option_id
        options = settled.available.get(group, {})
        if option in options:
            is_let_go = options[option] and group in settled.choices
            stays[group] = settled.choices[group] if is_let_go else option
    return stays


def _as_ordered(
    compiled: Compiled, build: BuildInput, picks: dict[str, str], stays: Mapping[str, str]
) -> dict[str, str]:
    """Write down what stays in each group that would move and need not."""
    nearest = compiled.engine.completion(picks, stays, compiled.book.price) or {}
    kept = {g: o for g, o in nearest.items() if g not in picks and o == stays.get(g)}
    while moved := _moving(compiled, build, picks, kept):
        picks = {**picks, **{group: kept[group] for group in moved}}
    return picks


def _moving(
    compiled: Compiled, build: BuildInput, picks: Mapping[str, str], kept: Mapping[str, str]
) -> list[str]:
    settled = settle(compiled, build.model_copy(update={"choices": dict(picks)})).choices
    return [group for group, option in kept.items() if settled.get(group) != option]


def _as_written(
    compiled: Compiled,
    build: BuildInput,
    picks: dict[str, str],
    letters: Sequence[Spec],
    left: frozenset[str],
) -> dict[str, str]:
    settled = settle(compiled, build.model_copy(update={"choices": picks})).choices
    marked = {*build.must_keep} - left
    for letter in reversed(letters):
        written = letter.build
        if (
            settled == {choice.group_id: choice.option_id for choice in letter.choices}
            and written.house_choices_for_the_rest
            and marked <= written.choices.keys()
            and left.isdisjoint(written.choices)
        ):
            return dict(written.choices)
    return picks
