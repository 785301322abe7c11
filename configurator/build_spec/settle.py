"""Which option stands in each group, and whose choice it is: customer, rules or house."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.spec import ChoiceOrigin
from configurator.catalog.models.build import BuildInput


@dataclass(frozen=True)
class Settled:
    """The choices as they stand."""

    picks: Mapping[str, str]
    """What the customer chose, withdrawn options left out."""
    follows: Mapping[str, str]
    """Groups with one option left, by rules and limits."""
    house: Mapping[str, str]
    """Groups filled with the workshop's choice on the customer's wish."""
    available: Mapping[str, Mapping[str, bool | None]]
    """Group → option → whether it is possible with the customer's other picks; None in what is
    told before every answer is there."""
    is_possible: bool
    """Some complete build has all the picks."""
    marked: frozenset[str] = frozenset()
    """Groups whose choice the customer marked as must keep, withdrawn or not."""
    withdrawn: Mapping[str, str] = field(default_factory=dict)
    """Group → what was chosen there and is not offered any more."""

    @property
    def choices(self) -> dict[str, str]:
        """Every group that is settled, whoever settled it."""
        return {**self.house, **self.follows, **self.picks}

    @property
    def kept(self) -> frozenset[str]:
        """Groups whose pick no way out may alter."""
        return self.marked & self.picks.keys()

    def origin(self, group_id: str) -> ChoiceOrigin | None:
        """Tell whose choice a group is; None while it is open."""
        if group_id in self.picks:
            return "customer"
        if group_id in self.follows:
            return "follows"
        return "house" if group_id in self.house else None


def settle(compiled: Compiled, build: BuildInput) -> Settled:
    """Work out what the picks leave and fill what the customer left to the workshop.

    Options, price, figures and reasons of one draft all ask for it; it is worked out once.
    """
    choices = tuple(build.choices.items())
    key = (choices, build.house_choices_for_the_rest, build.must_keep)
    return compiled.settled.get_or_make(key, lambda: _settled(compiled, build))


def _settled(compiled: Compiled, build: BuildInput) -> Settled:
    picks = _offered_picks(compiled, build)
    available = compiled.engine.availability(picks)
    possible = compiled.engine.is_possible(picks)
    # A group whose choice was withdrawn stays open: nothing is put in its place.
    chosen = {**build.choices, **picks}
    follows = _following(available, chosen) if possible else {}
    house: dict[str, str] = {}
    if build.house_choices_for_the_rest and possible:
        complete = compiled.engine.completion(
            picks, compiled.offer.house_choices(), compiled.book.price
        )
        settled = chosen.keys() | follows.keys()
        house = {g: o for g, o in (complete or {}).items() if g not in settled}
    return Settled(
        picks,
        follows,
        house,
        available,
        possible,
        marked=frozenset(build.must_keep) & build.choices.keys(),
        withdrawn={g: o for g, o in build.choices.items() if g not in picks},
    )


def settle_so_far(compiled: Compiled, build: BuildInput) -> Settled:
    """Tell what the picks leave as far as it is known at once; the house has not chosen yet."""
    picks = _offered_picks(compiled, build)
    available = compiled.engine.availability_so_far(picks)
    return Settled(
        picks,
        _following(available, {**build.choices, **picks}),
        {},
        available,
        is_possible=True,
        marked=frozenset(build.must_keep) & build.choices.keys(),
        withdrawn={g: o for g, o in build.choices.items() if g not in picks},
    )


def _offered_picks(compiled: Compiled, build: BuildInput) -> dict[str, str]:
    offered = compiled.offer.option_by_pair
    return {
        group.id: build.choices[group.id]
        for group in compiled.offer.groups
        if (group.id, build.choices.get(group.id, "")) in offered
    }


def _following(
    available: Mapping[str, Mapping[str, bool | None]], chosen: Mapping[str, str]
) -> dict[str, str]:
    left = {
        group: [option for option, possible in options.items() if possible is not False]
        for group, options in available.items()
        if group not in chosen
    }
    return {group: options[0] for group, options in left.items() if len(options) == 1}
