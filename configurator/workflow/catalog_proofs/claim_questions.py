"""Which questions prove a claim: the same for who proves it and for who replays the proof."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from configurator.catalog.fitted_parts import fitted_by_group
from configurator.catalog.remarks_on_texts import may_receive
from configurator.rules.audit import says_nothing
from configurator.rules.rulebook import ANYTHING, Member, Options, Question, Wanted
from configurator.workflow.catalog_proofs.audited_vehicle import AuditedVehicle
from configurator.workflow.catalog_proofs.claims import ClaimKind


def claimed(audited: AuditedVehicle, kind: ClaimKind, about: str) -> Wanted:
    """Say which builds a claim denies.

    Parameters
    ----------
    audited : AuditedVehicle
        The vehicle that the claim is made of.
    kind, about
        The claim.

    Returns
    -------
    Wanted
        What no build is, beside keeping the rules and limits of the proof.

    Raises
    ------
    KeyError
        If the vehicle has nothing of that id.
    """
    return _DENIED[kind](audited, about)


def is_meant(audited: AuditedVehicle, kind: ClaimKind, about: str) -> bool:
    """Tell whether a rule, limit or text has anything to say about a vehicle, others left aside."""
    if kind == "unreachable-limit":
        return about in audited.book.limits
    if kind == "unread-text":
        catalog = audited.compiled.catalog
        texts = [text for text in catalog.texts if text.id == about]
        return any(may_receive(catalog, audited.vehicle, text) for text in texts)
    rule = audited.book.rules.get(about)
    return rule is not None and not says_nothing(audited.book, rule)


def left_aside(kind: ClaimKind, about: str) -> Member | None:
    """Name the rule or limit that a proof may not rest on, because it speaks of it."""
    if kind in {"idle-rule", "implied-rule"}:
        return ("rule", about)
    return ("limit", about) if kind == "unreachable-limit" else None


def witnessed(
    audited: AuditedVehicle, kind: ClaimKind, about: str, reason: tuple[Member, ...]
) -> tuple[Question, ...]:
    """Give the questions beside the denied one of which a build shows the answer.

    Without any one rule or limit of a contradiction there are builds; the situation of a rule that
    follows from others does arise; what is settled or out of reach is so in a vehicle that can be
    built.
    """
    everything = audited.book.binding()
    if kind == "no-complete-build":
        return tuple(
            Question(tuple(member for member in reason if member != spared)) for spared in reason
        )
    if kind == "implied-rule":
        return (Question(everything, Wanted(within=audited.book.rules[about].when)),)
    if kind == "settled-group":
        group, _, option = about.partition("/")
        return (Question(everything, Wanted(within={group: frozenset({option})})),)
    return (Question(everything),) if kind == "unreachable-limit" else ()


def text_within(audited: AuditedVehicle, text_id: str) -> Options:
    """Say what the groups of a vehicle must take for a text to be received.

    A slot that several groups may fit is left out: then the text may be received less often.
    """
    compiled = audited.compiled
    applies = next(t.applies_if for t in compiled.catalog.texts if t.id == text_id)
    within = {group: frozenset(options) for group, options in applies.choices.items()}
    for slot, wanted in applies.slots.items():
        by_group = fitted_by_group(compiled.offer.groups, compiled.offer.vehicle, slot)
        if len(by_group) == 1:
            (group, fitted), *_ = by_group.items()
            meant = frozenset(
                option
                for option, component in fitted.items()
                if component is not None and (not wanted or component in wanted)
            )
            within[group] = within.get(group, meant) & meant
    return within


def _anything(audited: AuditedVehicle, about: str) -> Wanted:
    _of_the_vehicle(audited, about)
    return ANYTHING


def _house_choices(audited: AuditedVehicle, about: str) -> Wanted:
    _of_the_vehicle(audited, about)
    house = audited.compiled.offer.house_choices()
    return Wanted(within={group: frozenset({option}) for group, option in house.items()})


def _of_the_vehicle(audited: AuditedVehicle, about: str) -> None:
    if about != audited.vehicle.id:
        raise KeyError(about)


def _option(audited: AuditedVehicle, about: str) -> Wanted:
    group, option = _known_option(audited, about)
    return Wanted(within={group: frozenset({option})})


def _any_other_option(audited: AuditedVehicle, about: str) -> Wanted:
    group, option = _known_option(audited, about)
    others = {o.id for o in audited.compiled.offer.group_by_id[group].options} - {option}
    return Wanted(within={group: frozenset(others)})


def _known_option(audited: AuditedVehicle, about: str) -> tuple[str, str]:
    group, _, option = about.partition("/")
    if (group, option) not in audited.compiled.offer.option_by_pair:
        raise KeyError(about)
    return group, option


def _situation(audited: AuditedVehicle, about: str) -> Wanted:
    return Wanted(within=audited.book.rules[about].when)


def _breach_of_rule(audited: AuditedVehicle, about: str) -> Wanted:
    return Wanted(breaks=("rule", audited.book.rules[about].id))


def _breach_of_limit(audited: AuditedVehicle, about: str) -> Wanted:
    if about not in audited.book.limits:
        raise KeyError(about)
    return Wanted(breaks=("limit", about))


def _receives(audited: AuditedVehicle, about: str) -> Wanted:
    if all(text.id != about for text in audited.compiled.catalog.texts):
        raise KeyError(about)
    return Wanted(within=text_within(audited, about))


_DENIED: Mapping[ClaimKind, Callable[[AuditedVehicle, str], Wanted]] = {
    "no-complete-build": _anything,
    "house-choices-clash": _house_choices,
    "useless-option": _option,
    "settled-group": _any_other_option,
    "idle-rule": _situation,
    "implied-rule": _breach_of_rule,
    "unreachable-limit": _breach_of_limit,
    "unread-text": _receives,
}
