"""After the order the workshop's own choices stay as ordered, as long as a pick lets them."""

from __future__ import annotations

from collections.abc import Mapping

from configurator.build_life.entries import SpecIssued
from configurator.build_spec.compiled import Compiled
from configurator.build_spec.settle import settle
from configurator.build_spec.spec import Spec
from configurator.catalog.models.build import BuildInput
from configurator.record.book import read_life
from configurator.workflow.issuing import read_spec
from configurator.workflow.premises import Premises


def kept_as_ordered(
    premises: Premises, build: BuildInput, new: Mapping[str, str]
) -> dict[str, str | None]:
    """Add to a pick what keeps the other choices as the last issued spec has them.

    What the workshop chose for the customer was ordered like the rest: a later pick moves it only
    where it must. A pick that leads back to the choices of an issued letter is written as that
    letter was, so that it is the same spec again.

    Parameters
    ----------
    premises : Premises
        Record, catalog and engines.
    build : BuildInput
        The draft before the pick.
    new : mapping of str to str
        The option picked, by group, and what a way out changes with it.

    Returns
    -------
    dict of str to str or None
        The choices to write; None leaves a group open for the workshop's choice.

    Raises
    ------
    RecordError
        If an issued spec is lost or was altered.
    """
    if not build.house_choices_for_the_rest:
        return dict(new)
    life = read_life(premises.record, build.reference)
    letters = [read_spec(premises, life, issued.spec_sha256) for issued in life.of(SpecIssued)]
    if not letters:
        return dict(new)
    compiled = premises.engines.compiled(premises.catalog, build)
    wanted = _as_ordered(compiled, build, {**build.choices, **new}, letters[-1])
    wanted = _as_written(compiled, build, wanted, letters)
    groups = dict.fromkeys((*build.choices, *new, *wanted))
    return {g: wanted.get(g) for g in groups if wanted.get(g) != build.choices.get(g)}


def _as_ordered(
    compiled: Compiled, build: BuildInput, picks: dict[str, str], ordered: Spec
) -> dict[str, str]:
    """Write down what was ordered in each group that would move and need not."""
    offered = {group.id: {option.id for option in group.options} for group in compiled.offer.groups}
    before = {
        choice.group_id: choice.option_id
        for choice in ordered.choices
        if choice.option_id in offered.get(choice.group_id, ())
    }
    nearest = compiled.engine.completion(picks, before, compiled.book.price) or {}
    kept = {g: o for g, o in nearest.items() if g not in picks and o == before.get(g)}
    while moved := _moving(compiled, build, picks, kept):
        picks = {**picks, **{group: kept[group] for group in moved}}
    return picks


def _moving(
    compiled: Compiled, build: BuildInput, picks: Mapping[str, str], kept: Mapping[str, str]
) -> list[str]:
    settled = settle(compiled, build.model_copy(update={"choices": dict(picks)})).choices
    return [group for group, option in kept.items() if settled.get(group) != option]


def _as_written(
    compiled: Compiled, build: BuildInput, picks: dict[str, str], letters: list[Spec]
) -> dict[str, str]:
    settled = settle(compiled, build.model_copy(update={"choices": picks})).choices
    for letter in reversed(letters):
        written = letter.build
        if (
            settled == {choice.group_id: choice.option_id for choice in letter.choices}
            and written.house_choices_for_the_rest
            and set(build.must_keep) <= written.choices.keys()
        ):
            return dict(written.choices)
    return picks
