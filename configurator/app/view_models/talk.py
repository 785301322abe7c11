"""The parts of the talk and how far each has come."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import asdict, dataclass

from configurator.app.view_models.words import count
from configurator.build_spec.standing import GroupState
from configurator.catalog.models.workshop import TalkPart


@dataclass(frozen=True)
class Step:
    """A part of the talk in the row of steps."""

    id: str
    label: str
    state: str
    is_current: bool
    is_settled: bool

    def as_data(self) -> dict[str, object]:
        """Turn into plain values for the browser."""
        return asdict(self)


def talk_steps(
    parts: Sequence[TalkPart], groups: Sequence[GroupState], current_id: str
) -> tuple[Step, ...]:
    """Say for each part how many of its questions are still open."""
    return tuple(
        _step(part, [group for group in groups if group.part_id == part.id], current_id)
        for part in parts
    )


def parts_with_questions(parts: Sequence[TalkPart], asked: Iterable[str]) -> tuple[TalkPart, ...]:
    """Leave out the parts in which nothing is asked; `asked` holds the part of each question."""
    wanted = frozenset(asked)
    return tuple(part for part in parts if part.id in wanted)


def current_part(parts: Sequence[TalkPart], wanted_id: str | None) -> TalkPart:
    """Find the part asked for, or the first."""
    return next((part for part in parts if part.id == wanted_id), parts[0])


def lost_group_ids(groups: Sequence[GroupState], choices: Mapping[str, str]) -> tuple[str, ...]:
    """Find the groups whose chosen option is not offered any more."""
    offered = {(group.group_id, option.option_id) for group in groups for option in group.options}
    return tuple(
        group_id for group_id, option_id in choices.items() if (group_id, option_id) not in offered
    )


def part_after(parts: Sequence[TalkPart], current_id: str) -> TalkPart | None:
    """Find the part that follows; None after the last."""
    ids = [part.id for part in parts]
    position = ids.index(current_id) + 1
    return parts[position] if position < len(parts) else None


def _step(part: TalkPart, groups: Sequence[GroupState], current_id: str) -> Step:
    still_open = sum(group.origin is None for group in groups)
    return Step(
        id=part.id,
        label=part.label,
        state=count(still_open, "open", "open") if still_open else "settled",
        is_current=part.id == current_id,
        is_settled=not still_open,
    )


def is_still_checked(groups: Sequence[GroupState]) -> bool:
    """Tell whether the answer for some option is still being worked out."""
    return any(option.is_available is None for group in groups for option in group.options)
