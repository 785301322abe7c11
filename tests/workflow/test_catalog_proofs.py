"""What `check` proves about a catalog, and that its proofs can be replayed and not be forged."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from configurator.build_spec.engines import Engines
from configurator.build_spec.pipeline import specify
from configurator.catalog.load import load_catalog
from configurator.catalog.models.build import BuildInput, Customer
from configurator.errors import CatalogError, ConfiguratorError
from configurator.workflow.catalog_proofs.proof_file import proofs_text, read_proofs, write_proofs
from configurator.workflow.catalog_proofs.replaying import ReplayReport, replay_proofs
from configurator.workflow.check_catalog import CheckReport, check_catalog
from tests.workflow.planted_faults import change, plant

TODAY = date(2026, 3, 4)
Json = dict[str, Any]


def tell_nobody(_step: str) -> None:
    pass


def replayed(folder: Path, path: Path) -> ReplayReport:
    return replay_proofs(folder, path, tell_nobody)


@pytest.fixture
def proofs_path(catalog_folder: Path, tmp_path: Path) -> Path:
    """Proofs of what was planted in the catalog."""
    plant(catalog_folder)
    report = check_catalog(catalog_folder, TODAY)
    assert report.proofs is not None
    path = tmp_path / "proofs.json"
    write_proofs(path, report.proofs)
    return path


def finding(content: Json, code: str, words: str = "") -> Json:
    found: Json = next(
        each for each in content["findings"] if each["code"] == code and words in each["says"]
    )
    return found


def forged(path: Path, forge: Callable[[Json], None]) -> Path:
    """Change proofs as somebody might who wants to be believed."""
    content = json.loads(path.read_text("utf-8"))
    forge(content)
    path.write_text(json.dumps(content), encoding="utf-8")
    return path


def test_each_planted_fault_is_found_at_its_line_with_its_reason(catalog_folder: Path) -> None:
    planted = plant(catalog_folder)
    report = check_catalog(catalog_folder, TODAY)
    assert () == report.faults
    told = (*report.warnings, *report.notes)
    for each in planted:
        matching = [fault for fault in told if (fault.code, fault.where) == (each.code, each.where)]
        assert matching, each
        assert any(all(words in fault.what for words in each.words) for fault in matching), matching


def test_nothing_else_is_found_beside_what_was_planted(catalog_folder: Path) -> None:
    before = {(note.code, note.where) for note in check_catalog(catalog_folder, TODAY).notes}
    planted = {(each.code, each.where) for each in plant(catalog_folder)}
    report = check_catalog(catalog_folder, TODAY)
    found = {(fault.code, fault.where) for fault in (*report.warnings, *report.notes)}
    assert planted == found - before


def test_a_rule_that_is_of_use_on_one_vehicle_is_not_told(catalog_folder: Path) -> None:
    plant(catalog_folder)
    report = check_catalog(catalog_folder, TODAY)
    told = " ".join(fault.what for fault in (*report.warnings, *report.notes))
    assert 'rule "many-cells-want-springs" adds nothing' not in told


def test_every_proof_holds_when_it_is_replayed(catalog_folder: Path, proofs_path: Path) -> None:
    report = replayed(catalog_folder, proofs_path)
    claims = [claim for f in read_proofs(proofs_path).proofs.findings for claim in f.claims]
    assert () == report.faults
    assert len(claims) == report.held
    assert 7 == len({claim.kind for claim in claims})


def empty_van(folder: Path, at_most: int = 6) -> CheckReport:
    """Leave the van nothing: a limit allows few cells on old springs, and a rule forbids it."""
    build = BuildInput(
        reference="B-0001",
        customer=Customer(name="A"),
        vehicle="clover-van",
        priced_on=TODAY,
        choices={
            "cells": "few-cells",
            "springs": "old-springs",
            "warmth": "scarf",
            "plug": "slow-plug",
            "box": "bare-bed",
            "livery": "nettle",
        },
    )
    lightest_kg = specify(load_catalog(folder), build, Engines()).weights.kerb_low_kg
    with (folder / "limits.yaml").open("a") as file:
        file.write(
            "  - {id: light-enough, label: Weight, vehicles: [clover-van], limit: kerb_mass_kg,\n"
            f"     at_most: {lightest_kg + 1}, because: It must float., source: invented}}\n"
        )
    (folder / "rules" / "added.yaml").write_text(
        "rules:\n"
        "  - id: few-cells-want-springs\n"
        "    vehicles: [clover-van]\n"
        "    when: {cells: [few-cells]}\n"
        "    then: {springs: [stiff-springs]}\n"
        "    because: Few cells rattle.\n"
        "    source: invented for tests\n"
    )
    return check_catalog(folder, TODAY, at_most)


def test_a_vehicle_without_builds_is_told_with_the_fewest_rules_and_limits(
    catalog_folder: Path, tmp_path: Path
) -> None:
    report = empty_van(catalog_folder)
    (fault,) = report.faults
    assert "P020" == fault.code
    assert fault.where.startswith("vehicles/clover-van.yaml:")
    assert "these 2 together leave none" in fault.what
    assert 'rule "few-cells-want-springs" (rules/added.yaml:2)' in fault.what
    assert 'limit "light-enough" (limits.yaml:30)' in fault.what
    assert report.proofs is not None
    path = tmp_path / "proofs.json"
    write_proofs(path, report.proofs)
    assert ReplayReport(1, ()) == replayed(catalog_folder, path)
    (claim,) = next(f for f in report.proofs.findings if f.code == "P020").claims
    assert [True, False, False] == [asked.build is None for asked in claim.proof]


def test_a_larger_reason_than_was_asked_for_is_told_as_such(catalog_folder: Path) -> None:
    (fault,) = empty_van(catalog_folder, at_most=1).faults
    assert "the smallest set found that leaves none has 2, more than 1" in fault.what


def test_nothing_is_said_of_rules_while_a_vehicle_has_no_build(catalog_folder: Path) -> None:
    report = empty_van(catalog_folder)
    assert {"P020"} == {fault.code for fault in (*report.faults, *report.warnings, *report.notes)}


def test_progress_is_told_vehicle_by_vehicle(catalog_folder: Path) -> None:
    steps: list[str] = []
    check_catalog(catalog_folder, TODAY, progress=steps.append)
    assert 3 == len(steps)
    assert "Clover float" in steps[0]


def speak_of_another_rule(content: Json) -> None:
    finding(content, "P024")["claims"][0]["about"] = "cold-box-is-pale"


def claim_the_same_of_another_rule(content: Json) -> None:
    for claim in finding(content, "P024")["claims"]:
        claim["about"] = "many-cells-want-springs"
        claim["proof"][0]["breaks_rule"] = "many-cells-want-springs"
        claim["proof"][0]["keeps"]["rules"] = ["hot-wire-wants-many-cells"]
        claim["proof"][1]["within"] = {"cells": ["many-cells"]}


def rest_on_less(content: Json) -> None:
    finding(content, "P023")["claims"][0]["proof"][0]["keeps"]["rules"].pop()


def show_another_build(content: Json) -> None:
    finding(content, "P024")["claims"][0]["proof"][1]["build"]["warmth"] = "scarf"


def show_half_a_build(content: Json) -> None:
    del finding(content, "P024")["claims"][0]["proof"][1]["build"]["box"]


def show_no_build(content: Json) -> None:
    del finding(content, "P024")["claims"][0]["proof"][1]["build"]


def rest_on_itself(content: Json) -> None:
    keeps = finding(content, "P024")["claims"][0]["proof"][0]["keeps"]
    keeps["rules"].append("wire-wants-stiff-springs")


def rest_on_what_only_warns(content: Json) -> None:
    keeps = finding(content, "P024")["claims"][0]["proof"][0]["keeps"]
    keeps["limits"].append("whole-round")


def rest_on_an_unknown_rule(content: Json) -> None:
    finding(content, "P024")["claims"][0]["proof"][0]["keeps"]["rules"].append("unheard-of")


def speak_of_an_unknown_vehicle(content: Json) -> None:
    finding(content, "P021")["claims"][0]["vehicle"] = "clover-tank"


def speak_of_an_unknown_option(content: Json) -> None:
    finding(content, "P021")["claims"][0]["about"] = "box/golden-box"


def ask_an_easier_question(content: Json) -> None:
    question = finding(content, "P023")["claims"][0]["proof"][0]
    question["within"] = {"box": ["slatted-box"], "cells": []}


def leave_a_vehicle_out(content: Json) -> None:
    finding(content, "P023")["claims"].pop()


def claim_nothing(content: Json) -> None:
    finding(content, "P026")["claims"] = []


def ask_nothing(content: Json) -> None:
    finding(content, "P026")["claims"][0]["proof"] = []


def prove_something_else(content: Json) -> None:
    finding(content, "P023")["code"] = "P021"


def limit_within_reach(content: Json) -> None:
    finding(content, "P021", "Slatted box")["claims"][0]["about"] = "box/bare-bed"
    question = finding(content, "P021", "Slatted box")["claims"][0]["proof"][0]
    question["within"] = {"box": ["bare-bed"]}


FORGERIES = [
    (speak_of_another_rule, "P034", "its questions are not those"),
    (claim_the_same_of_another_rule, "P035", "this build is against it"),
    (rest_on_less, "P035", "this build is against it"),
    (show_another_build, "P035", "a build that should show"),
    (show_half_a_build, "P035", "a build that should show"),
    (show_no_build, "P035", "a build that should show"),
    (rest_on_itself, "P034", 'it rests on rule "wire-wants-stiff-springs", of which it speaks'),
    (rest_on_what_only_warns, "P034", 'it rests on limit "whole-round", which only warns'),
    (rest_on_an_unknown_rule, "P033", 'rule "unheard-of"'),
    (speak_of_an_unknown_vehicle, "P033", 'vehicle "clover-tank"'),
    (speak_of_an_unknown_option, "P033", '"box/golden-box"'),
    (ask_an_easier_question, "P034", "its questions are not those"),
    (leave_a_vehicle_out, "P034", "it proves nothing about vehicle"),
    (claim_nothing, "P034", "it makes no claim"),
    (ask_nothing, "P034", "it has no question"),
    (prove_something_else, "P034", "does not prove P021"),
    (limit_within_reach, "P035", "this build is against it"),
]


NAMES = [forgery[0].__name__ for forgery in FORGERIES]


@pytest.mark.parametrize(("forge", "code", "words"), FORGERIES, ids=NAMES)
def test_a_forged_proof_is_refused(
    catalog_folder: Path, proofs_path: Path, forge: Callable[[Json], None], code: str, words: str
) -> None:
    report = replayed(catalog_folder, forged(proofs_path, forge))
    assert any(code == fault.code and words in fault.what for fault in report.faults), report.faults
    assert all(fault.where.startswith("proofs.json:") for fault in report.faults)


def test_proofs_of_a_catalog_that_was_changed_since_are_refused(
    catalog_folder: Path, proofs_path: Path
) -> None:
    change(catalog_folder / "groups" / "livery.yaml", "'320.00'", "'321.00'")
    (fault,) = replayed(catalog_folder, proofs_path).faults
    assert ("P032", "proofs.json:3") == (fault.code, fault.where)
    assert "another catalog, or the catalog was changed since" in fault.what


def test_proofs_of_a_catalog_with_faults_are_not_replayed(
    catalog_folder: Path, proofs_path: Path
) -> None:
    (catalog_folder / "stages.yaml").unlink()
    with pytest.raises(CatalogError):
        replayed(catalog_folder, proofs_path)


def test_a_claim_of_an_emptied_limit_within_reach_is_refused(
    catalog_folder: Path, proofs_path: Path
) -> None:
    def forge(content: Json) -> None:
        (only,) = [f for f in content["findings"] if "nobody-pays-more" in f["says"]]
        for claim in only["claims"]:
            claim["proof"][0]["breaks_limit"] = "light-enough"
            claim["about"] = "light-enough"

    with (catalog_folder / "limits.yaml").open("a") as file:
        file.write(
            "  - {id: light-enough, label: Weight, limit: kerb_mass_kg, severity: warns,\n"
            "     at_most: 900, because: It must float., source: invented}\n"
        )
    forge_all = json.loads(proofs_path.read_text("utf-8"))
    forge(forge_all)
    forge_all["catalog_sha256"] = load_catalog(catalog_folder).sha256
    proofs_path.write_text(json.dumps(forge_all), encoding="utf-8")
    faults = replayed(catalog_folder, proofs_path).faults
    assert {"P035"} == {fault.code for fault in faults}


FAULTY_FILES = [
    ("", "P030", 1),
    ("{", "P031", 1),
    ('{"format": "catalog proofs, version 1",\n"catalog_sha256": "ab",\n"findings": [}', "P031", 3),
    ("[1, 2]", "P031", 1),
    ('{\n"format": "catalog proofs, version 9", "catalog_sha256": "a", "findings": []}', "P031", 2),
    ('{"catalog_sha256": "a",\n"findings": [], "colour": "red"}', "P031", 2),
    ('{"catalog_sha256": "a", "findings": "none"}', "P031", 1),
    ('{"catalog_sha256": "a", "catalog_sha256": "b", "findings": []}', "P031", 1),
    ("[" * 5000, "P031", 1),
    ('{"catalog_sha256": NaN, "findings": []}', "P031", 1),
]


@pytest.mark.parametrize(("text", "code", "line"), FAULTY_FILES)
def test_a_faulty_file_of_proofs_is_told_with_its_name_and_line(
    tmp_path: Path, text: str, code: str, line: int
) -> None:
    path = tmp_path / "proofs.json"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(ConfiguratorError) as raised:
        read_proofs(path)
    fault = raised.value.faults[0]
    assert (code, f"proofs.json:{line}") == (fault.code, fault.where)
    assert "check --proofs" in fault.remedy


def test_a_missing_file_of_proofs_is_told(tmp_path: Path) -> None:
    with pytest.raises(ConfiguratorError) as raised:
        read_proofs(tmp_path / "nowhere.json")
    assert ["P030"] == [fault.code for fault in raised.value.faults]


def test_proofs_are_the_same_twice_and_replace_earlier_ones(
    catalog_folder: Path, proofs_path: Path
) -> None:
    again = check_catalog(catalog_folder, TODAY).proofs
    assert again is not None
    assert proofs_path.read_text("utf-8") == proofs_text(again)
    write_proofs(proofs_path, again)
    assert [proofs_path.name] == [p.name for p in proofs_path.parent.glob("*.json")]


def test_proofs_never_replace_something_else(catalog_folder: Path, proofs_path: Path) -> None:
    proofs = read_proofs(proofs_path).proofs
    limits = catalog_folder / "limits.yaml"
    before = limits.read_bytes()
    for path in (limits, catalog_folder, catalog_folder / "nowhere" / "proofs.json"):
        with pytest.raises(ConfiguratorError) as raised:
            write_proofs(path, proofs)
        assert ["P009"] == [fault.code for fault in raised.value.faults]
    assert before == limits.read_bytes()
    assert not list(catalog_folder.glob(".unfinished*"))


def test_a_limit_that_stays_as_a_guard_is_not_told_to_forbid_nothing(catalog_folder: Path) -> None:
    plant(catalog_folder)
    path = catalog_folder / "limits.yaml"
    written = path.read_text("utf-8")
    told = written.replace("at_most: 900000\n", "at_most: 900000\n    stays_as_guard: true\n")
    assert written != told
    path.write_text(told, encoding="utf-8")
    report = check_catalog(catalog_folder, TODAY)
    assert not [note for note in report.notes if "nobody-pays-more" in note.what]
