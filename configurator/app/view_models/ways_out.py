"""The ways out of a refusal in words: what changes, and what that does to the build."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from configurator.app.view_models.words import days_difference, difference, price_difference
from configurator.build_spec.sentences import listed
from configurator.build_spec.standing import Difference, GroupState, WayOut

AGAINST_DEFAULT = "Differences are against the build as the workshop would complete it now."
AGAINST_COMPLETE = "Differences are against the build as it stands."


@dataclass(frozen=True)
class DifferenceWords:
    """How far one figure of the build moves."""

    label: str
    value: str


@dataclass(frozen=True)
class WayOutWords:
    """A way out as its button says it; `changes` goes back with the click."""

    changes: tuple[tuple[str, str], ...]
    lines: tuple[str, ...]
    differences: tuple[DifferenceWords, ...]


@dataclass(frozen=True)
class Names:
    """The labels of groups and options, and what stands in each group."""

    groups: Mapping[str, str]
    options: Mapping[tuple[str, str], str]
    standing: Mapping[str, str]

    def option(self, group_id: str, option_id: str) -> str:
        """Find the label of an option; its id where the catalog has it no more."""
        return self.options.get((group_id, option_id), option_id)


def names_in(groups: Sequence[GroupState]) -> Names:
    """Collect the labels from how the options stand."""
    return Names(
        groups={group.group_id: group.label for group in groups},
        options={
            (group.group_id, option.option_id): option.label
            for group in groups
            for option in group.options
        },
        standing={
            group.group_id: group.chosen_option_id
            for group in groups
            if group.chosen_option_id is not None
        },
    )


def way_out_words(way: WayOut, names: Names) -> WayOutWords:
    """Say a way out.

    Parameters
    ----------
    way : WayOut
        What changes besides the option itself.
    names : Names
        Labels, and what stands in the groups now.

    Returns
    -------
    WayOutWords
        One line for each change; the differences are empty where they cannot be told.
    """
    return WayOutWords(
        changes=way.changes,
        lines=tuple(_change(group, option, names) for group, option in way.changes),
        differences=_differences(way.difference) if way.difference else (),
    )


def compared_with(groups: Sequence[GroupState]) -> str:
    """Say what the differences of a way out are against."""
    is_open = any(group.chosen_option_id is None for group in groups)
    return AGAINST_DEFAULT if is_open else AGAINST_COMPLETE


def taken_words(option: tuple[str, str], changes: Sequence[tuple[str, str]], names: Names) -> str:
    """Say what a way out has changed, after it was taken.

    Examples
    --------
    >>> names = Names({"roof": "Roof", "floor": "Floor"}, {("roof", "canvas"): "Canvas"}, {})
    >>> taken_words(("roof", "canvas"), [("floor", "cork")], names)
    'Canvas is chosen, and with it Floor: cork.'
    """
    also = listed([f"{names.groups.get(g, g)}: {names.option(g, o)}" for g, o in changes])
    return f"{names.option(*option)} is chosen, and with it {also}."


def _change(group_id: str, option_id: str, names: Names) -> str:
    new = f"{names.groups.get(group_id, group_id)}: {names.option(group_id, option_id)}"
    before = names.standing.get(group_id)
    return new if before is None else f"{new} instead of {names.option(group_id, before)}"


def _differences(moved: Difference) -> tuple[DifferenceWords, ...]:
    in_case = f"Range, {moved.range_label}" if moved.range_label else "Range"
    km = "cannot be told" if moved.range_km is None else difference(moved.range_km, "km")
    return (
        DifferenceWords("Price", price_difference(moved.price_gbp)),
        DifferenceWords(in_case, km),
        DifferenceWords("Kerb mass", difference(moved.kerb_mass_kg, "kg")),
        DifferenceWords("Finish", days_difference(moved.handover_days)),
    )
