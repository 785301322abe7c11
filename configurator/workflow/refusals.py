"""Why a step of the talk is refused, in words for the people at the table."""

from __future__ import annotations

from configurator.build_spec.standing import OptionState
from configurator.catalog.models.group import Group
from configurator.errors import Fault


def impossible(group: Group, option: OptionState) -> Fault:
    """Say why an option does not go with the other choices."""
    reason = option.reason.sentence.rstrip(".") if option.reason else "it breaks a rule or a limit"
    remedy = option.way_out.sentence if option.way_out else "Choose another option."
    what = f"{option.label} does not go with the other choices: {reason}"
    return Fault("P004", group.label, what, remedy)


def no_way_out(group: Group, option: OptionState) -> Fault:
    """Say that nothing lets an option in."""
    reason = option.reason.sentence.rstrip(".") if option.reason else "a rule or a limit forbids it"
    what = f"{option.label} cannot be had, whatever else is changed: {reason}"
    return Fault("P005", group.label, what, "Choose another option.")


def nothing_to_undo(reference: str) -> Fault:
    """Say that the draft is as it was at the start."""
    return Fault("P006", reference, "there is no change left to take back", "Go on from here.")
