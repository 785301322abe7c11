"""Groups and options by number, so that loops can run over them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cached_property

from configurator.rules.problem import Domain

Picks = tuple[tuple[int, int], ...]
"""Positions of groups with the place of the option taken there, in order."""

Build = tuple[int, ...]
"""The place of the option taken in each group."""


@dataclass(frozen=True)
class OptionPlaces:
    """The one place that knows which number stands for which group and option."""

    domains: tuple[Domain, ...]

    @cached_property
    def position_of_group(self) -> dict[str, int]:
        """Groups by id."""
        return {domain.id: position for position, domain in enumerate(self.domains)}

    @cached_property
    def place_of(self) -> dict[tuple[str, str], int]:
        """The place of each option within its group."""
        return {
            (domain.id, option): place
            for domain in self.domains
            for place, option in enumerate(domain.options)
        }

    @cached_property
    def starts(self) -> tuple[int, ...]:
        """How many options the groups before each group have, and all groups."""
        starts = [0]
        for domain in self.domains:
            starts.append(starts[-1] + len(domain.options))
        return tuple(starts)

    @cached_property
    def every(self) -> tuple[int, ...]:
        """For each group the mask of all its options."""
        return tuple((1 << len(domain.options)) - 1 for domain in self.domains)

    def position(self, group_id: str) -> int:
        """Find a group's position, or raise ValueError naming the group."""
        try:
            return self.position_of_group[group_id]
        except KeyError:
            raise ValueError(_unknown("group", group_id, tuple(self.position_of_group))) from None

    def place(self, group_id: str, option_id: str) -> int:
        """Find an option's place, or raise ValueError naming the group and the option."""
        place = self.place_of.get((group_id, option_id))
        if place is None:
            known = self.domains[self.position(group_id)].options
            raise ValueError(_unknown(f'option of group "{group_id}"', option_id, known))
        return place

    def mask(self, group_id: str, option_ids: frozenset[str]) -> int:
        """Join the bits of several options of one group; options nobody can take are left out."""
        self.position(group_id)
        places = (self.place_of.get((group_id, option_id)) for option_id in option_ids)
        return sum(1 << place for place in places if place is not None)

    def picks(self, picks: Mapping[str, str]) -> Picks:
        """Give the numbers of picks of different groups."""
        return tuple(
            sorted((self.position(group), self.place(group, o)) for group, o in picks.items())
        )

    def choices(self, build: Sequence[int]) -> dict[str, str]:
        """Name the options of a complete build, in the order of the groups."""
        return {
            domain.id: domain.options[place]
            for domain, place in zip(self.domains, build, strict=True)
        }

    def named(self, picks: Picks) -> tuple[tuple[str, str], ...]:
        """Name picks."""
        return tuple(
            (self.domains[group].id, self.domains[group].options[place]) for group, place in picks
        )


def option_places(domains: tuple[Domain, ...]) -> OptionPlaces:
    """Give each group and each option its number.

    Raises
    ------
    ValueError
        If two groups or two options of a group share an id, or a group has no option.

    Examples
    --------
    >>> places = option_places((Domain("roof", ("steel", "canvas")), Domain("floor", ("cork",))))
    >>> places.picks({"roof": "canvas", "floor": "cork"})
    ((0, 1), (1, 0))
    >>> places.choices((1, 0))
    {'roof': 'canvas', 'floor': 'cork'}
    """
    for domain in domains:
        if not domain.options or len(set(domain.options)) != len(domain.options):
            message = (
                f'group "{domain.id}": its options are {list(domain.options)}; a group needs at '
                "least one option and each only once."
            )
            raise ValueError(message)
    group_ids = tuple(domain.id for domain in domains)
    if len(set(group_ids)) != len(group_ids):
        message = f"groups: the ids are {list(group_ids)}; each may occur only once."
        raise ValueError(message)
    return OptionPlaces(domains)


def _unknown(what: str, name: str, known: tuple[str, ...]) -> str:
    near = get_close_matches(name, known, n=1)
    hint = f' Did you mean "{near[0]}"?' if near else f" Known: {', '.join(known)}."
    return (
        f'{what} "{name}" does not exist in this problem; only known ids can be asked about.{hint}'
    )
