"""Why a step of the talk is refused, in words for the people at the table."""

from __future__ import annotations

from configurator.build_spec.standing import OptionState
from configurator.catalog.models.group import Group
from configurator.errors import Fault


def impossible(group: Group, option: OptionState) -> Fault:
    """Say why an option does not go with the other choices."""
    reason = option.reason.sentence.rstrip(".") if option.reason else "it breaks a rule or a limit"
    what = f"{option.label} does not go with the other choices: {reason}"
    ways = option.ways_out
    return Fault("P004", group.label, what, ways[0].sentence if ways else "Choose another option.")


def no_way_out(group: Group, option: OptionState) -> Fault:
    """Say that nothing lets an option in, or that what must be kept stands against it."""
    reason = option.reason.sentence.rstrip(".") if option.reason else "a rule or a limit forbids it"
    why = f"{option.no_way_out} {reason}".strip()
    what = f"{option.label} cannot be had: {why}"
    return Fault("P005", group.label, what, "Choose another option, or see what must be kept.")


def other_ways_out(group: Group, option: OptionState) -> Fault:
    """Say that the way out somebody saw is not one of those there are."""
    what = f"the way to {option.label} that you chose is not there any more; nothing was changed"
    sentences = " Or: ".join(way.sentence for way in option.ways_out)
    return Fault("P012", group.label, what, f"Take one of the ways there are. {sentences}")


def nothing_to_keep(group: Group, *, withdrawn: bool) -> Fault:
    """Say that a group has no choice that could be kept."""
    why = "what was chosen is not offered any more" if withdrawn else "nothing is chosen there yet"
    return Fault(
        "P013", group.label, f"{why}, so nothing can be kept", "Choose an option, then mark it."
    )


def kept_apart(group: Group, sentence: str) -> Fault:
    """Say that choices cannot all be kept, since they contradict each other."""
    what = f"it cannot be kept beside what is marked already: {sentence.rstrip('.')}"
    return Fault("P014", group.label, what, "Take a mark away, or change one of these choices.")


def nothing_to_undo(reference: str) -> Fault:
    """Say that the draft is as it was at the start."""
    return Fault("P006", reference, "there is no change left to take back", "Go on from here.")
