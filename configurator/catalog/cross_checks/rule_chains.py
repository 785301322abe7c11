"""Follow the rules from one choice as far as they force; a chain may come back and forbid it."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass

from configurator.catalog.cross_checks.offered import options_by_group, vehicles_of
from configurator.catalog.cross_checks.rule_checks import faults_of_rule
from configurator.catalog.draft import Draft
from configurator.catalog.models.group import Group
from configurator.catalog.models.rule import Rule
from configurator.errors import Fault

Left = dict[str, frozenset[str]]
"""Group → options that are still left."""


@dataclass(frozen=True)
class DeadOption:
    """An option that the rules alone forbid on some of its vehicles."""

    group_id: str
    option_id: str
    vehicles: tuple[str, ...]
    rules: tuple[str, ...]
    is_dead_everywhere: bool

    def spoken_rules(self) -> str:
        """Name the rules of the chain."""
        quoted = ", ".join(f'"{rule}"' for rule in self.rules)
        return f"the rule {quoted}" if len(self.rules) == 1 else f"the rules {quoted}"


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
    entries = {entry.value.id: entry for entry in draft.groups}
    # A rule that is faulty in itself would only be told again at every option it touches.
    rules = [entry.value for entry in draft.rules if not tuple(faults_of_rule(draft, entry))]
    for dead in dead_options(draft.vehicles.ids, draft.groups.values, rules):
        if dead.is_dead_everywhere:
            what = (
                f'option "{dead.option_id}" leads by {dead.spoken_rules()} to a group with '
                "nothing left; it could never be chosen"
            )
            entry = entries[dead.group_id]
            number = [option.id for option in entry.value.options].index(dead.option_id)
            remedy = "Correct one of these rules, or stop offering the option."
            yield Fault("C068", entry.where("options", number, "id"), what, remedy)


def dead_options(
    vehicle_ids: Collection[str], groups: Sequence[Group], rules: Sequence[Rule]
) -> Iterator[DeadOption]:
    """Find options that the rules alone forbid on some vehicle."""
    offers = {vehicle: options_by_group(groups, vehicle) for vehicle in sorted(vehicle_ids)}
    rules_of = {
        vehicle: [rule for rule in rules if rule.vehicles is None or vehicle in rule.vehicles]
        for vehicle in offers
    }
    for group in groups:
        for option in group.options:
            offered = vehicles_of(vehicle_ids, group, option)
            chains = {
                vehicle: chain
                for vehicle in offered
                if (chain := _chain(rules_of[vehicle], offers[vehicle], group.id, option.id))
            }
            if chains:
                used = next(iter(chains.values()))
                is_dead = len(chains) == len(offered)
                yield DeadOption(group.id, option.id, tuple(chains), used, is_dead)


def _chain(rules: Sequence[Rule], offer: Left, group: str, option: str) -> tuple[str, ...] | None:
    """Follow the rules; return those used if they leave some group nothing, else None."""
    left = {**offer, group: frozenset({option})}
    used: list[str] = []
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
