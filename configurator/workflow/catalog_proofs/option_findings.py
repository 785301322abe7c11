"""What no complete build of a vehicle can have, and what is settled before anybody chooses."""

from __future__ import annotations

from collections.abc import Iterator

from configurator.build_spec.sentences import conflict_sentence, contradiction_sentence, listed
from configurator.errors import Fault
from configurator.rules.emptying import EmptyingRules, emptying_rules
from configurator.rules.problem import Conflict
from configurator.rules.rulebook import Member
from configurator.workflow.catalog_proofs.audited_vehicle import AuditedVehicle
from configurator.workflow.catalog_proofs.claim_questions import claimed
from configurator.workflow.catalog_proofs.findings import Found, Lines, named, place
from configurator.workflow.catalog_proofs.proving import proved_claim, reason_of

NO_BUILD = "No build is possible. "
NOT_POSSIBLE = "Not possible on this vehicle. "
"""How a sentence opens that says what stands here already."""


def no_build(audited: AuditedVehicle, lines: Lines, at_most: int) -> Found | None:
    """Find the fewest rules and limits that leave a vehicle without any build."""
    smallest = emptying_rules(audited.book, at_most)
    if smallest is None:
        return None
    vehicle = audited.vehicle
    claim = proved_claim(audited, "no-complete-build", vehicle.id, smallest.members)
    sentence = contradiction_sentence(audited.compiled, _conflict(smallest.members))
    fault = Fault(
        "P020",
        place(lines, "vehicle", vehicle.id),
        f"{vehicle.label} has no complete build that keeps every rule and limit; "
        f"{_told_size(smallest, lines, at_most)}. "
        f"{sentence.removeprefix(NO_BUILD).rstrip('.')}",
        "Loosen one of the rules or limits named, or add options that keep them.",
    )
    return Found("fault", fault, (claim,))


def option_findings(audited: AuditedVehicle, lines: Lines, at_most: int) -> Iterator[Found]:
    """Yield options that no build has, groups of one option left, and clashing house choices."""
    for group_id, options in audited.compiled.engine.availability({}).items():
        possible = [option for option, is_possible in options.items() if is_possible]
        for option_id in options:
            if option_id not in possible:
                yield _useless_option(audited, lines, at_most, group_id, option_id)
        if len(possible) == 1 and len(options) > 1:
            yield _settled_group(audited, lines, group_id, possible[0])
    if not audited.compiled.engine.is_possible(audited.compiled.offer.house_choices()):
        yield _clashing_house_choices(audited, lines)


def _useless_option(
    audited: AuditedVehicle, lines: Lines, at_most: int, group_id: str, option_id: str
) -> Found:
    about = f"{group_id}/{option_id}"
    wanted = claimed(audited, "useless-option", about)
    smallest = emptying_rules(audited.book, at_most, wanted)
    members = () if smallest is None else smallest.members
    claim = proved_claim(audited, "useless-option", about, members)
    conflict = _conflict(members, ((group_id, option_id),))
    sentence = conflict_sentence(audited.compiled, conflict, group_id, option_id)
    label = audited.compiled.offer.option_by_pair[group_id, option_id].label
    fault = Fault(
        "P021",
        place(lines, "option", about),
        f"no complete build of {audited.vehicle.label} can have {label}; "
        f"{_forbid(lines, members)}. {sentence.removeprefix(NOT_POSSIBLE).rstrip('.')}",
        "Loosen a rule or limit, or state the vehicles the option is offered for.",
    )
    return Found("warning", fault, (claim,))


def _settled_group(audited: AuditedVehicle, lines: Lines, group_id: str, left: str) -> Found:
    claim = proved_claim(audited, "settled-group", f"{group_id}/{left}")
    offer = audited.compiled.offer
    fault = Fault(
        "P025",
        place(lines, "group", group_id),
        f"on {audited.vehicle.label} only {offer.option_by_pair[group_id, left].label} is left for "
        f"{offer.group_by_id[group_id].label} before anything is chosen, because of "
        f"{named(lines, reason_of(claim))}",
        "Loosen one of them, offer another option there, or make it part of the vehicle.",
    )
    return Found("warning", fault, (claim,))


def _clashing_house_choices(audited: AuditedVehicle, lines: Lines) -> Found:
    compiled = audited.compiled
    conflict = compiled.engine.conflict(compiled.offer.house_choices())
    claim = proved_claim(audited, "house-choices-clash", audited.vehicle.id)
    groups = [group_id for group_id, _ in conflict.picks]
    one_of = groups[0] if len(groups) == 1 else f"one of these groups: {listed(groups)}"
    fault = Fault(
        "P022",
        place(lines, "group", groups[0]),
        f"the house choices for {audited.vehicle.label} {_why_they_clash(audited, conflict)}",
        f"Take another house choice in {one_of}.",
    )
    return Found("warning", fault, (claim,))


def _why_they_clash(audited: AuditedVehicle, conflict: Conflict) -> str:
    if len(conflict.picks) > 1:
        sentence = contradiction_sentence(audited.compiled, conflict)
        return f"do not go together: {sentence.rstrip('.')}"
    ((group_id, option_id),) = conflict.picks
    label = audited.compiled.offer.option_by_pair[group_id, option_id].label
    sentence = conflict_sentence(audited.compiled, conflict, group_id, option_id)
    why = sentence.removeprefix(NOT_POSSIBLE).rstrip(".")
    return f"name {label}, which no complete build can have: {why}"


def _told_size(smallest: EmptyingRules, lines: Lines, at_most: int) -> str:
    names, count = named(lines, smallest.members), len(smallest.members)
    if not smallest.is_smallest:
        return f"the smallest set found that leaves none has {count}, more than {at_most}: {names}"
    if count == 1:
        return f"{names} alone leaves none"
    return f"these {count} together leave none, and without any one of them there are some: {names}"


def _forbid(lines: Lines, members: tuple[Member, ...]) -> str:
    names = named(lines, members)
    return f"{names} forbids it" if len(members) == 1 else f"{names} together forbid it"


def _conflict(members: tuple[Member, ...], picks: tuple[tuple[str, str], ...] = ()) -> Conflict:
    return Conflict(
        picks=picks,
        implications=tuple(name for kind, name in members if kind == "rule"),
        limits=tuple(name for kind, name in members if kind == "limit"),
    )
