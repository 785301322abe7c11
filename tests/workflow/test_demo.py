import shutil
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from configurator.catalog.build_file import load_build
from configurator.catalog.demo_life import load_demo_life
from configurator.catalog.load import load_catalog
from configurator.catalog.models.component import Tyre
from configurator.errors import BuildFileError
from configurator.record.book import read_life
from configurator.workflow.builds import list_builds, read_draft
from configurator.workflow.consultation import pick_option
from configurator.workflow.demo import DemoBuild, fill_demo
from configurator.workflow.handover import gate_of
from configurator.workflow.papers import list_documents
from configurator.workflow.premises import Premises, open_premises
from configurator.workflow.verifying import verify_all

DEMO = Path(__file__).parents[2] / "catalog"


def test_every_demonstration_build_is_put_in_with_its_documents(
    premises: Premises, now: datetime
) -> None:
    told: list[DemoBuild] = []
    filled = fill_demo(premises, now, progress=told.append)
    assert list(filled) == told
    assert [("first.yaml", "B-0001"), ("second.yaml", "B-0002")] == [
        (build.file, build.reference) for build in filled
    ]
    assert [["spec-sheet", "handover-pack"], ["spec-sheet"]] == [
        [document.kind for document in build.documents] for build in filled
    ]
    assert all(document.content for build in filled for document in build.documents)


def test_the_finished_vehicle_has_the_tyres_of_its_spec() -> None:
    catalog = load_catalog(DEMO)
    build = load_build(DEMO / "demo_builds" / "6_finished_pickup.yaml", catalog)
    life = load_demo_life(DEMO / "demo_builds" / "lives" / "6_finished_pickup.yaml")
    offered = catalog.group_by_id["tyres"].options
    chosen = next(option for option in offered if option.id == build.choices["tyres"])
    tyre = catalog.component_by_id[chosen.fits["tyre"]]
    read = next(record for record in life.records if record.record == "tyres-and-wheels")
    assert isinstance(tyre, Tyre)
    assert (tyre.size, tyre.load_index) == (read.values["size"], read.values["load-index"])


def test_filling_again_writes_nothing_over(premises: Premises, now: datetime) -> None:
    fill_demo(premises, now)
    changed = pick_option(
        premises, "B-0002", revision=1, group_id="livery", option_id="sloe", now=now
    )
    again = fill_demo(premises, now)
    assert [True, True] == [build.was_there for build in again]
    assert changed == read_draft(premises, "B-0002")
    assert 2 == len(list_builds(premises))


def test_a_build_that_a_customer_already_has_moves_up(
    premises: Premises, reference: str, now: datetime
) -> None:
    assert "B-0001" == reference
    assert ["B-0002", "B-0003"] == [build.reference for build in fill_demo(premises, now)]
    assert "Invented Person" == read_draft(premises, "B-0001").build.customer.name


def test_a_fill_that_broke_off_before_the_documents_is_made_good(
    premises: Premises, now: datetime
) -> None:
    (premises.data_folder / "documents").write_text("in the way")
    with pytest.raises(Exception, match="cannot be written"):
        fill_demo(premises, now)
    (premises.data_folder / "documents").unlink()
    fill_demo(premises, now)
    assert 2 == len(list_documents(premises, "B-0001"))
    assert 2 == len(list_builds(premises))


def test_every_fault_of_every_file_is_told_and_nothing_is_put_in(
    premises: Premises, now: datetime
) -> None:
    for number in (1, 2):
        path = premises.catalog_folder / "demo_builds" / f"broken{number}.yaml"
        path.write_text("vehicle: moon-buggy\n")
    with pytest.raises(BuildFileError) as caught:
        fill_demo(premises, now)
    said = str(caught.value)
    assert "broken1.yaml" in said
    assert "broken2.yaml" in said
    assert () == list_builds(premises)


def test_a_catalog_without_demonstration_builds_is_told(premises: Premises, now: datetime) -> None:
    for path in (premises.catalog_folder / "demo_builds").iterdir():
        path.unlink()
    with pytest.raises(BuildFileError) as caught:
        fill_demo(premises, now)
    assert ["P011"] == [fault.code for fault in caught.value.faults]


LIFE = """until: signed
quoted_days_ago: 30
ordered_days_ago: 20
stages: {begin: 20, build: 3}
change: {livery: buttermilk}
people: {consultant: Con Sample, engineer: En Sample, manager: Ma Sample, second_person: Se Sample}
"""


def test_a_demonstration_build_is_led_as_far_as_its_life_says(
    premises: Premises, now: datetime
) -> None:
    lives = premises.catalog_folder / "demo_builds" / "lives"
    lives.mkdir()
    (lives / "first.yaml").write_text(LIFE)
    first, _ = fill_demo(premises, now)
    assert ["quotation", "change-order"] == [document.kind for document in first.documents[2:]]
    life = read_life(premises.record, first.reference)
    assert life.issued is not None
    assert life.stage is not None
    assert "build" == life.stage.stage_id
    assert life.open_change is not None
    assert {"Con Sample", "En Sample"} <= {entry.by.name for entry in life.entries}
    days = [(now - entry.made_at).days for entry in life.entries]
    assert (30, 20, 0) == (days[0], days[1], days[-1])
    assert now.date() - timedelta(days=3) == life.stage.reached_on


def test_every_fault_of_a_life_is_told(premises: Premises, now: datetime) -> None:
    lives = premises.catalog_folder / "demo_builds" / "lives"
    lives.mkdir()
    (lives / "first.yaml").write_text(LIFE.replace("signed", "sold").replace("people", "persons"))
    with pytest.raises(BuildFileError) as refused:
        fill_demo(premises, now)
    assert all("first.yaml:" in fault.where for fault in refused.value.faults)
    assert len(refused.value.faults) > 1


def test_the_finished_build_of_the_demonstration_is_measured_and_can_be_handed_over(
    tmp_path: Path, now: datetime
) -> None:
    catalog_folder = shutil.copytree(DEMO, tmp_path / "demo")
    for path in (catalog_folder / "demo_builds").glob("*.yaml"):
        if path.name != "6_finished_pickup.yaml":
            path.unlink()
    lived = catalog_folder / "demo_builds" / "lives" / "6_finished_pickup.yaml"
    lived.write_text(lived.read_text().replace("until: pack-issued", "until: handed-over"))
    demo = open_premises(catalog_folder, tmp_path / "demo-data")
    long_after = now + timedelta(days=300)
    (built,) = fill_demo(demo, long_after)
    gate = gate_of(demo, built.reference)
    assert () == gate.missing
    assert gate.life.handed_over is not None
    assert gate.spec is not None
    assert 847 + 722 == gate.spec.weights.measured_kerb_kg
    assert () == verify_all(demo.record, demo.data_folder).faults
    demo.record.engine.dispose()
