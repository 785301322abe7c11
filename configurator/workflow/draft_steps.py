"""Take the steps of a change on a build, and take them back."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any

from configurator.catalog.models.build import BuildInput
from configurator.catalog.models.catalog import Catalog
from configurator.record.changes import Change, Step


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
        elif change.kind != "started":
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
    if step.field != "choices" or step.key is None:
        return f"{step.field.replace('_', ' ')} was changed"
    group = catalog.group_by_id.get(step.key)
    labels: dict[Any, str] = {o.id: o.label for o in group.options} if group else {}
    old, new = (labels.get(value, value) for value in (step.old, step.new))
    name = group.label if group else step.key
    if step.new is None:
        return f"{name} was left open (it was {old})"
    if step.old is None:
        return f"{name} was set to {new}"
    return f"{name} was changed from {old} to {new}"
