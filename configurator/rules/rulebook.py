"""Everything that rules and limits say about one vehicle, and questions about part of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal, TypeAlias

from configurator.rules.problem import (
    ConditionalLimit,
    Domain,
    Implication,
    LazyLimit,
    Problem,
)

Options: TypeAlias = Mapping[str, frozenset[str]]
"""Group → some of its options."""

Member: TypeAlias = tuple[Literal["rule", "limit"], str]
"""One rule or limit by its id."""


SIDE_BY_SIDE = 6
"""So many rules and limits a person can still look at together."""


@dataclass(frozen=True)
class LimitParts:
    """A limit in every form the engine takes, and what holds in just those builds that break it."""

    by_region: tuple[ConditionalLimit, ...] = ()
    lazy: LazyLimit | None = None
    opposite: LazyLimit | None = None
    """Is kept by just those builds that break `lazy`; none where there is no `lazy`."""
    binds: bool = True
    """Whether every build must keep it; otherwise it only warns."""

    def keeps(self, choices: Mapping[str, str]) -> bool:
        """Tell whether complete choices keep the limit."""
        kept = all(form.keeps(choices) for form in self.by_region)
        return kept and (self.lazy is None or self.lazy.broken_by(choices) is None)


@dataclass(frozen=True)
class Rulebook:
    """The groups of a vehicle, with its rules and limits by id."""

    domains: tuple[Domain, ...]
    rules: Mapping[str, Implication]
    limits: Mapping[str, LimitParts]

    def binding(self) -> tuple[Member, ...]:
        """List every rule, then every limit that binds."""
        limits = (name for name, limit in self.limits.items() if limit.binds)
        return (*(("rule", name) for name in self.rules), *(("limit", name) for name in limits))

    def keeps(self, member: Member, build: Mapping[str, str]) -> bool:
        """Tell whether a complete build keeps a rule or limit, straight from its words."""
        kind, name = member
        if kind == "limit":
            return self.limits[name].keeps(build)
        rule = self.rules[name]
        return not _all_in(build, rule.when) or _all_in(build, rule.then)

    def problem(self, members: tuple[Member, ...]) -> Problem:
        """Put some of the rules and limits to the engine.

        Raises
        ------
        KeyError
            If one of them does not exist.
        """
        limits = [self.limits[name] for kind, name in members if kind == "limit"]
        return Problem(
            domains=self.domains,
            implications=tuple(self.rules[name] for kind, name in members if kind == "rule"),
            conditional_limits=tuple(form for limit in limits for form in limit.by_region),
            lazy_limits=tuple(limit.lazy for limit in limits if limit.lazy is not None),
        )


@dataclass(frozen=True)
class Wanted:
    """What sort of build a question asks for, beside the rules and limits that it keeps."""

    within: Options = field(default_factory=dict)
    """Groups that may take only some of their options."""
    breaks: Member | None = None
    """A rule or limit that the build must break."""


ANYTHING = Wanted()


@dataclass(frozen=True)
class Question:
    """Asks for a build that keeps some rules and limits and is as wanted."""

    keeps: tuple[Member, ...]
    wanted: Wanted = ANYTHING


def _all_in(build: Mapping[str, str], options_of: Options) -> bool:
    return all(build[group] in options for group, options in options_of.items())
