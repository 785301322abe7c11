"""What rules and limits do beside each other: which of them matter, and which never do.

Every question is whether some build keeps all of them but one. One engine answers them all: it
knows a group more, that says which rule or limit is left out.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from configurator.rules.engine import Engine
from configurator.rules.narrower import narrower_engine
from configurator.rules.problem import (
    ConditionalLimit,
    Domain,
    Implication,
    LazyLimit,
    Quantity,
    SwiftLazyLimit,
)
from configurator.rules.rulebook import LimitParts, Member, Options, Rulebook
from configurator.rules.wanted_builds import Build

LEFT_OUT = "what is left out"
"""The group more; no id of a group has spaces."""

_NOTHING_LEFT_OUT = "nothing"
_NOTHING = Quantity(0, {})
_OPPOSITE = "beyond the limit"


def engine_leaving_one_out(book: Rulebook) -> Engine:
    """Make an engine that can leave any one rule or limit out of account.

    Parameters
    ----------
    book : Rulebook
        Rules and limits; those limits that only warn are left out of it.

    Examples
    --------
    >>> wool = Implication(
    ...     "wool", {"floor": frozenset({"wool"})}, {"roof": frozenset({"steel"})}
    ... )
    >>> groups = (Domain("roof", ("steel", "canvas")), Domain("floor", ("wool", "cork")))
    >>> engine = engine_leaving_one_out(Rulebook(groups, {"wool": wool}, {}))
    >>> breach_of_rule(engine, wool)
    {'roof': 'canvas', 'floor': 'wool'}
    """
    members = book.binding()
    names = (_NOTHING_LEFT_OUT, *(_name(member) for member in members))
    counted: list[Implication] = []
    for name, rule in book.rules.items():
        when = {**rule.when, **_unless(names, ("rule", name))}
        counted.append(replace(rule, when=when))
    limits = [(name, book.limits[name]) for kind, name in members if kind == "limit"]
    problem = replace(
        book.problem(()),
        domains=(*book.domains, Domain(LEFT_OUT, names)),
        implications=tuple(counted),
        conditional_limits=tuple(
            replace(form, when={**form.when, **_unless(names, ("limit", name))})
            for name, limit in limits
            for form in limit.by_region
        ),
        lazy_limits=tuple(
            _SwitchedLimit(limit.lazy, _name(("limit", name)), names)
            for name, limit in limits
            if limit.lazy is not None
        ),
    )
    return Engine(problem)


def build_in_situation(engine: Engine, rule: Implication) -> Build | None:
    """Find a build of all the other rules and limits that meets a rule's `when`.

    Parameters
    ----------
    engine : Engine
        Of `engine_leaving_one_out`.
    rule : Implication
        One of its rules.

    Returns
    -------
    dict or None
        None where the rule's situation never arises.
    """
    return _build(engine, ("rule", rule.id), rule.when)


def breach_of_rule(engine: Engine, rule: Implication) -> Build | None:
    """Find a build that keeps all the other rules and limits and breaks a rule.

    Returns
    -------
    dict or None
        None where the rule follows from the others, or its situation never arises.
    """
    options_of = {domain.id: frozenset(domain.options) for domain in engine.problem.domains}
    for group, allowed in rule.then.items():
        refused = (options_of[group] - allowed) & rule.when.get(group, options_of[group])
        if refused:
            found = _build(engine, ("rule", rule.id), {**rule.when, group: refused})
            if found is not None:
                return found
    return None


def breach_of_limit(engine: Engine, limit_id: str, limit: LimitParts) -> Build | None:
    """Find a build that keeps all the other rules and limits and breaks a limit.

    Parameters
    ----------
    engine : Engine
        Of `engine_leaving_one_out`.
    limit_id, limit
        A limit, whether it binds or only warns.

    Returns
    -------
    dict or None
        None where nothing that is allowed reaches beyond the limit.
    """
    left_out: Member | None = ("limit", limit_id) if limit.binds else None
    picks = _picks(left_out)
    for form in limit.by_region:
        found = engine.extreme(form.quantity, picks, form.when, greatest=True)
        if found is not None and (form.at_most is None or found[0] > form.at_most):
            return _without_switch(found[1])
    if limit.opposite is None:
        return None
    beyond = narrower_engine(engine, lazy_limits=[_Unswitched(limit.opposite)])
    return _build(beyond, left_out, {})


def says_nothing(book: Rulebook, rule: Implication) -> bool:
    """Tell whether a rule forbids nothing whatever is chosen, as when its options are not offered.

    Examples
    --------
    >>> says_nothing(Rulebook((Domain("roof", ("steel",)),), {}, {}), Implication("a", {}, {}))
    True
    """
    options_of = {domain.id: frozenset(domain.options) for domain in book.domains}
    if any(not options & options_of[group] for group, options in rule.when.items()):
        return True
    return all(options_of[group] <= options for group, options in rule.then.items())


def _build(engine: Engine, left_out: Member | None, within: Options) -> Build | None:
    found = engine.extreme(_NOTHING, _picks(left_out), within)
    return None if found is None else _without_switch(found[1])


def _picks(left_out: Member | None) -> Build:
    return {LEFT_OUT: _NOTHING_LEFT_OUT if left_out is None else _name(left_out)}


def _name(member: Member) -> str:
    return " ".join(member)


def _unless(names: Sequence[str], member: Member) -> Options:
    return {LEFT_OUT: frozenset(names) - {_name(member)}}


def _without_switch(choices: Mapping[str, str]) -> Build:
    return {group: option for group, option in choices.items() if group != LEFT_OUT}


def _kept_by(limit: LazyLimit, builds: Sequence[Build]) -> Sequence[bool]:
    if isinstance(limit, SwiftLazyLimit):
        return limit.kept_by(builds)
    return [limit.broken_by(build) is None for build in builds]


@dataclass(frozen=True)
class _SwitchedLimit:
    """A lazy limit that does not count while it is left out."""

    limit: LazyLimit
    name: str
    names: tuple[str, ...]

    @property
    def id(self) -> str:
        return self.limit.id

    def kept_by(self, many: Sequence[Mapping[str, str]]) -> list[bool]:
        counting = [number for number, build in enumerate(many) if build[LEFT_OUT] != self.name]
        judged = _kept_by(self.limit, [_without_switch(many[number]) for number in counting])
        kept = dict(zip(counting, judged, strict=True))
        return [kept.get(number, True) for number in range(len(many))]

    def broken_by(self, choices: Mapping[str, str]) -> ConditionalLimit | None:
        if choices[LEFT_OUT] == self.name:
            return None
        told = self.limit.broken_by(_without_switch(choices))
        if told is None:
            return None
        counts = frozenset(self.names) - {self.name}
        return replace(told, when={**told.when, LEFT_OUT: counts})


@dataclass(frozen=True)
class _Unswitched:
    """A lazy limit that counts whatever is left out."""

    limit: LazyLimit

    @property
    def id(self) -> str:
        return _OPPOSITE

    def broken_by(self, choices: Mapping[str, str]) -> ConditionalLimit | None:
        return self.limit.broken_by(_without_switch(choices))
