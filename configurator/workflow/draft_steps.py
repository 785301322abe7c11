"""Take the steps of a change on a build, and take them back."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any

from configurator.catalog.models.build import BuildInput
from configurator.catalog.models.catalog import Catalog
from configurator.record.changes import Change, Step

TOLD_WHOLE = {"day": "the customer's day", "measurements": "what was measured on the road"}
TOLD_CHANGED = {
    "donor": "what is known of the donor was changed",
    "second_donor": "what is known of the second donor was changed",
    "survey": "the survey of the donor was changed",
    "discount": "the discount was changed",
    "wishes": "the wishes were changed",
    "preferences": "the preferences were changed",
}


def choice_steps(build: BuildInput, new: Mapping[str, str | None]) -> tuple[Step, ...]:
    """List what taking new options (or none, with None) changes in a build's choices.

    Examples
    --------
    >>> from datetime import date
    >>> from configurator.catalog.models.build import Customer
    >>> build = BuildInput(
    ...     reference="B-0001", customer=Customer(name="A"), vehicle="van",
    ...     priced_on=date(2026, 1, 2), choices={"roof": "steel"},
    ... )
    >>> choice_steps(build, {"roof": "canvas"})
    (Step(field='choices', key='roof', old='steel', new='canvas'),)
    """
    return tuple(
        Step("choices", group, build.choices.get(group), option)
        for group, option in new.items()
        if build.choices.get(group) != option
    )


def mark_steps(build: BuildInput, marked: Sequence[str]) -> tuple[Step, ...]:
    """List what marking other groups as must keep changes.

    Examples
    --------
    >>> from datetime import date
    >>> from configurator.catalog.models.build import Customer
    >>> build = BuildInput(
    ...     reference="B-0001", customer=Customer(name="A"), vehicle="van",
    ...     priced_on=date(2026, 1, 2), choices={"roof": "steel"},
    ... )
    >>> mark_steps(build, ["roof"])
    (Step(field='must_keep', key=None, old=[], new=['roof']),)
    """
    old, new = list(build.must_keep), list(marked)
    return () if old == new else (Step("must_keep", None, old, new),)


def field_steps(before: BuildInput, after: BuildInput, *fields: str) -> tuple[Step, ...]:
    """List what changes between two builds in fields that change as a whole.

    Examples
    --------
    >>> from datetime import date
    >>> from configurator.catalog.models.build import Customer
    >>> from configurator.catalog.models.day import CustomersDay
    >>> build = BuildInput(
    ...     reference="B-0001", customer=Customer(name="A"), vehicle="van",
    ...     priced_on=date(2026, 1, 2), day=CustomersDay(town_km=12),
    ... )
    >>> [step] = field_steps(build, build.model_copy(update={"day": None}), "day", "wishes")
    >>> step.field, step.old["town_km"], step.new
    ('day', 12.0, None)
    """
    old, new = (build.model_dump(mode="json", include={*fields}) for build in (before, after))
    return tuple(
        Step(field, None, old[field], new[field]) for field in fields if old[field] != new[field]
    )


def unmarking_steps(build: BuildInput, group_id: str) -> tuple[Step, ...]:
    """List what leaving a group open changes in the marks that a choice must be kept."""
    return mark_steps(build, [group for group in build.must_keep if group != group_id])


def with_steps(build: BuildInput, steps: Iterable[Step]) -> BuildInput:
    """Return the build after the steps."""
    content = build.model_dump(mode="json")
    for step in steps:
        if step.key is None:
            content[step.field] = step.new
        elif step.new is None:
            content[step.field].pop(step.key, None)
        else:
            content[step.field][step.key] = step.new
    return BuildInput.model_validate(content)


def reversed_steps(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """Return the steps that lead back.

    Examples
    --------
    >>> reversed_steps((Step("choices", "roof", None, "steel"),))
    (Step(field='choices', key='roof', old='steel', new=None),)
    """
    return tuple(Step(step.field, step.key, step.new, step.old) for step in reversed(steps))


def change_to_undo(changes: Iterable[Change]) -> Change | None:
    """Find the last change that still stands; undoing again and again goes further back.

    Parameters
    ----------
    changes : iterable of Change
        Of one build, oldest first.

    Returns
    -------
    Change or None
        None when only the start is left.
    """
    standing: list[Change] = []
    for change in changes:
        if change.undoes is not None:
            standing = [other for other in standing if other.revision != change.undoes]
        elif change.kind not in {"started", "erased"}:
            standing.append(change)
    return standing[-1] if standing else None


def telling(catalog: Catalog) -> Callable[[Change], str]:
    """Make a function that says a change in the catalog's words."""

    def tell(change: Change) -> str:
        return ", ".join(_tell_step(catalog, step) for step in change.steps)

    return tell


def _tell_step(catalog: Catalog, step: Step) -> str:
    if step.field == "house_choices_for_the_rest":
        return f"house choices for the rest were turned {'on' if step.new else 'off'}"
    if step.field in TOLD_CHANGED:
        return TOLD_CHANGED[step.field]
    if step.field in TOLD_WHOLE:
        is_left = any((step.new or {}).values())
        return f"{TOLD_WHOLE[step.field]} was {'changed' if is_left else 'taken away'}"
    if step.field == "must_keep":
        return _tell_marks(catalog, step)
    if step.field != "choices" or step.key is None:
        return f"{step.field.replace('_', ' ')} was changed"
    return _tell_choice(catalog, step.key, step)


def _tell_choice(catalog: Catalog, group_id: str, step: Step) -> str:
    group = catalog.group_by_id.get(group_id)
    labels: dict[Any, str] = {o.id: o.label for o in group.options} if group else {}
    old, new = (labels.get(value, value) for value in (step.old, step.new))
    name = _group_name(catalog, group_id)
    if step.new is None:
        return f"{name} was left open (it was {old})"
    if step.old is None:
        return f"{name} was set to {new}"
    return f"{name} was changed from {old} to {new}"


def _tell_marks(catalog: Catalog, step: Step) -> str:
    old, new = step.old or [], step.new or []
    told = [f"{_group_name(catalog, g)} was marked as must keep" for g in new if g not in old]
    told += [f"{_group_name(catalog, g)} need not be kept any more" for g in old if g not in new]
    return ", ".join(told) or "the marks of must keep were put in order"


def _group_name(catalog: Catalog, group_id: str) -> str:
    group = catalog.group_by_id.get(group_id)
    return group.label if group else group_id
