"""Random rules and limits in the tiny catalog: what `check` proves is what all builds show."""

from __future__ import annotations

import shutil
from collections.abc import Mapping
from datetime import date
from itertools import product
from pathlib import Path
from tempfile import TemporaryDirectory

import yaml
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from configurator.build_spec.engines import Engines
from configurator.catalog.load import faults_of_catalog, load_catalog
from configurator.rules.rulebook import Member
from configurator.workflow.catalog_proofs.audited_vehicle import AuditedVehicle, audited_vehicle
from configurator.workflow.catalog_proofs.proof_file import write_proofs
from configurator.workflow.catalog_proofs.replaying import ReplayReport, replay_proofs
from configurator.workflow.check_catalog import CheckReport, check_catalog

TINY = Path(__file__).parents[1] / "catalogs" / "tiny"
OPTIONS = {
    "cells": ["few-cells", "many-cells"],
    "springs": ["old-springs", "stiff-springs"],
    "warmth": ["scarf", "hot-wire"],
    "plug": ["slow-plug", "quick-plug"],
    "box": ["bare-bed", "slatted-box", "cold-box"],
    "livery": ["buttermilk", "nettle", "sloe"],
}
Build = dict[str, str]


@st.composite
def rules(draw: st.DrawFn, number: int) -> dict[str, object]:
    groups = draw(st.permutations(sorted(OPTIONS)))
    size = draw(st.integers(1, 2))
    when = {
        group: draw(st.lists(st.sampled_from(OPTIONS[group]), min_size=1, max_size=2, unique=True))
        for group in groups[:size]
    }
    then = draw(st.sampled_from(["then", "then_not"]))
    vehicles = draw(st.sampled_from([None, ["clover-van"], ["clover-float"]]))
    rule: dict[str, object] = {
        "id": f"rule-{number}",
        "when": when,
        then: {groups[size]: [draw(st.sampled_from(OPTIONS[groups[size]]))]},
        "because": f"Reason {number}.",
        "source": "invented for tests",
    }
    return rule if vehicles is None else {**rule, "vehicles": vehicles}


@st.composite
def limits(draw: st.DrawFn, number: int) -> dict[str, object]:
    fact, bounds = draw(
        st.sampled_from([("kerb_mass_kg", (950, 1400)), ("price_gbp", (15_000, 24_000))])
    )
    return {
        "id": f"limit-{number}",
        "label": f"Limit {number}",
        "limit": fact,
        "at_most": draw(st.integers(*bounds)),
        "severity": draw(st.sampled_from(["blocks", "warns"])),
        "because": f"Bound {number}.",
        "source": "invented for tests",
    }


@st.composite
def additions(draw: st.DrawFn) -> tuple[list[dict[str, object]], list[dict[str, object]]]:
    return (
        [draw(rules(number)) for number in range(draw(st.integers(2, 7)))],
        [draw(limits(number)) for number in range(draw(st.integers(0, 3)))],
    )


def every_build(audited: AuditedVehicle) -> list[Build]:
    domains = audited.book.domains
    ids = [domain.id for domain in domains]
    every = product(*(domain.options for domain in domains))
    return [dict(zip(ids, options, strict=True)) for options in every]


def all_in(build: Build, options_of: Mapping[str, frozenset[str]]) -> bool:
    return all(build[group] in options for group, options in options_of.items())


def shown_by_all_builds(audited: AuditedVehicle) -> set[tuple[str, str]]:
    """Find by looking at every build what could be claimed of a vehicle, by kind and id."""
    book, every = audited.book, every_build(audited)

    def left(without: Member | None = None) -> list[Build]:
        kept = [member for member in book.binding() if member != without]
        return [build for build in every if all(book.keeps(m, build) for m in kept)]

    builds = left()
    if not builds:
        return {("no-complete-build", audited.vehicle.id)}
    found: set[tuple[str, str]] = set()
    for domain in book.domains:
        possible = {build[domain.id] for build in builds}
        useless = set(domain.options) - possible
        found |= {("useless-option", f"{domain.id}/{option}") for option in useless}
        if len(possible) == 1 and useless:
            found.add(("settled-group", f"{domain.id}/{possible.pop()}"))
    house = audited.compiled.offer.house_choices()
    if house not in builds:
        found.add(("house-choices-clash", audited.vehicle.id))
    for name, rule in book.rules.items():
        others = left(without=("rule", name))
        if all(book.keeps(("rule", name), build) for build in every):
            continue
        if not any(all_in(build, rule.when) for build in others):
            found.add(("idle-rule", name))
        elif all(book.keeps(("rule", name), build) for build in others):
            found.add(("implied-rule", name))
    for name in book.limits:
        if all(book.keeps(("limit", name), build) for build in left(without=("limit", name))):
            found.add(("unreachable-limit", name))
    return found


def claimed(report: CheckReport) -> set[tuple[str, str, str]]:
    assert report.proofs is not None
    return {
        (claim.kind, claim.about, claim.vehicle)
        for finding in report.proofs.findings
        for claim in finding.claims
        if claim.kind != "unread-text"
    }


def expected(audited: list[AuditedVehicle]) -> set[tuple[str, str, str]]:
    """Put together what holds of single vehicles; of rules and limits, what holds of all."""
    shown = {each.vehicle.id: shown_by_all_builds(each) for each in audited}
    of_one_vehicle = {
        (kind, about, vehicle)
        for vehicle, found in shown.items()
        for kind, about in found
        if not kind.endswith(("-rule", "-limit"))
    }
    if any(kind == "no-complete-build" for kind, _, _ in of_one_vehicle):
        return of_one_vehicle
    idle = {
        each.vehicle.id: {about for kind, about in shown[each.vehicle.id] if kind.endswith("-rule")}
        for each in audited
    }
    speaking = {
        each.vehicle.id: {
            name
            for name in each.book.rules
            if not all(each.book.keeps(("rule", name), build) for build in every_build(each))
        }
        for each in audited
    }
    of_all = {
        (kind, about, vehicle)
        for vehicle, found in shown.items()
        for kind, about in found
        if kind.endswith("-rule")
        and all(about in idle[v] for v in speaking if about in speaking[v])
    }
    meant = {(each.vehicle.id, name) for each in audited for name in each.book.limits}
    of_all |= {
        (kind, about, vehicle)
        for vehicle, found in shown.items()
        for kind, about in found
        if kind == "unreachable-limit"
        and all((kind, about) in shown[v] for v, name in meant if name == about)
    }
    return of_one_vehicle | of_all


@settings(
    max_examples=25,
    derandomize=True,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)
@given(additions())
def test_what_is_proved_is_what_all_builds_show_and_every_proof_holds(
    added: tuple[list[dict[str, object]], list[dict[str, object]]],
) -> None:
    with TemporaryDirectory() as name:
        folder = Path(shutil.copytree(TINY, Path(name) / "catalog"))
        new_rules, new_limits = added
        (folder / "rules" / "added.yaml").write_text(yaml.safe_dump({"rules": new_rules}))
        known = yaml.safe_load((folder / "limits.yaml").read_text())["limits"]
        (folder / "limits.yaml").write_text(yaml.safe_dump({"limits": [*known, *new_limits]}))
        assume(not faults_of_catalog(folder))
        report = check_catalog(folder, date(2026, 3, 4))
        catalog = load_catalog(folder)
        audited = [audited_vehicle(catalog, vehicle, Engines()) for vehicle in catalog.vehicles]
        found = claimed(report)
        assert expected(audited) == found
        assert report.proofs is not None
        path = Path(name) / "proofs.json"
        write_proofs(path, report.proofs)
        claims = [claim for finding in report.proofs.findings for claim in finding.claims]
        assert ReplayReport(len(claims), ()) == replay_proofs(folder, path, print)
