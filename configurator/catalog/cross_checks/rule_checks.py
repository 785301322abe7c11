"""Whether rules name what exists and leave something to choose."""

from __future__ import annotations

from collections.abc import Iterator

from configurator.catalog.cross_checks import names
from configurator.catalog.cross_checks.choice_names import choice_faults
from configurator.catalog.draft import Draft
from configurator.catalog.models.rule import Rule
from configurator.catalog.models_from_yaml import Entry
from configurator.errors import Fault


def rule_faults(draft: Draft) -> Iterator[Fault]:
    """Yield what rules name that does not exist, and rules that contradict themselves."""
    for entry in draft.rules:
        yield from faults_of_rule(draft, entry)


def faults_of_rule(draft: Draft, entry: Entry[Rule]) -> Iterator[Fault]:
    """Yield the faults of one rule by itself."""
    rule, at = entry.value, names.place(entry)
    yield from names.all_named(at.at("vehicles"), rule.vehicles, names.known_vehicles(draft))
    yield from choice_faults(draft, at.at("when"), rule.when)
    yield from choice_faults(draft, at.at("then"), rule.then)
    yield from choice_faults(draft, at.at("then_not"), rule.then_not)
    for key, group in _contradictory_groups(rule):
        what = f'rule "{rule.id}" contradicts itself on "{group}"'
        yield Fault(
            "C067",
            entry.where(key, group),
            f"{what}; whoever chooses what it speaks of could choose nothing there",
            'Correct "when" or what follows, or stop offering the option.',
        )


def _contradictory_groups(rule: Rule) -> Iterator[tuple[str, str]]:
    for group, wanted in rule.then.items():
        left = set(wanted) - set(rule.then_not.get(group, ()))
        if not left & set(rule.when.get(group, wanted)):
            yield "then", group
    for group, refused in rule.then_not.items():
        if group not in rule.then and group in rule.when and set(rule.when[group]) <= set(refused):
            yield "then_not", group
