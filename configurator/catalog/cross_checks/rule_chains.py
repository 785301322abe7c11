"""Follow the rules from one choice as far as they force; a chain may come back and forbid it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from configurator.catalog.cross_checks.option_checks import vehicles_of
from configurator.catalog.draft import Draft
from configurator.catalog.models.group import Group, Option
from configurator.catalog.models.rule import Rule
from configurator.catalog.models_from_yaml import Entry
from configurator.errors import Fault

Left = dict[str, frozenset[str]]
"""Group → options that are still left."""


@dataclass(frozen=True)
class DeadOption:
    """An option that the rules alone forbid on some of its vehicles."""

    entry: Entry[Group]
    number: int
    option: Option
    vehicles: tuple[str, ...]
    rules: tuple[str, ...]
    is_dead_everywhere: bool


def chain_faults(draft: Draft) -> Iterator[Fault]:
    """Yield options that the rules forbid on every vehicle they are offered for.

    Only what follows step by step is seen here; the exact engine sees the rest.

    Parameters
    ----------
    draft : Draft
        The catalog as it was read.

    Yields
    ------
    Fault
        At the option.
    """
    for dead in dead_options(draft):
        if dead.is_dead_everywhere:
            what = (
                f'option "{dead.option.id}" leads by {_spoken(dead.rules)} to a group with '
                "nothing left; it could never be chosen"
            )
            remedy = "Correct one of these rules, or stop offering the option."
            yield Fault("C068", dead.entry.where("options", dead.number, "id"), what, remedy)


def _spoken(rules: Sequence[str]) -> str:
    quoted = ", ".join(f'"{rule}"' for rule in rules)
    return f"the rule {quoted}" if len(rules) == 1 else f"the rules {quoted}"


def dead_options(draft: Draft) -> Iterator[DeadOption]:
    """Find options that the rules alone forbid on some vehicle."""
    offers = {vehicle: _offer(draft, vehicle) for vehicle in sorted(draft.vehicles.ids)}
    for entry in draft.groups:
        for number, option in enumerate(entry.value.options):
            offered = vehicles_of(draft, entry.value, option)
            chains = {
                vehicle: chain
                for vehicle in offered
                if (chain := _chain(draft, offers[vehicle], vehicle, entry.value.id, option.id))
            }
            if chains:
                rules = next(iter(chains.values()))
                is_dead = len(chains) == len(offered)
                yield DeadOption(entry, number, option, tuple(chains), rules, is_dead)


def _offer(draft: Draft, vehicle: str) -> Left:
    offer = {
        group.id: frozenset(o.id for o in group.options if vehicle in vehicles_of(draft, group, o))
        for group in draft.groups.values
        if vehicle in vehicles_of(draft, group)
    }
    return {group: options for group, options in offer.items() if options}


def _chain(
    draft: Draft, offer: Left, vehicle: str, group: str, option: str
) -> tuple[str, ...] | None:
    """Follow the rules; return those used if they leave some group nothing, else None."""
    left = {**offer, group: frozenset({option})}
    used: list[str] = []
    rules = [
        rule for rule in draft.rules.values if rule.vehicles is None or vehicle in rule.vehicles
    ]
    is_moving = True
    while is_moving:
        is_moving = False
        for rule in rules:
            if not _surely_holds(rule.when, left):
                continue
            narrowed = _narrowed(rule, left)
            if narrowed != left:
                used.append(rule.id)
                left, is_moving = narrowed, True
            if not all(left.values()):
                return tuple(dict.fromkeys(used))
    return None


def _surely_holds(when: Mapping[str, tuple[str, ...]], left: Left) -> bool:
    return all(group in left and left[group] <= frozenset(when[group]) for group in when)


def _narrowed(rule: Rule, left: Left) -> Left:
    narrowed = dict(left)
    for group, wanted in rule.then.items():
        if group in narrowed:
            narrowed[group] &= frozenset(wanted)
    for group, refused in rule.then_not.items():
        if group in narrowed:
            narrowed[group] -= frozenset(refused)
    return narrowed
