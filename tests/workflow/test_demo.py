from datetime import datetime

import pytest

from configurator.errors import BuildFileError
from configurator.workflow.builds import list_builds, read_draft
from configurator.workflow.consultation import pick_option
from configurator.workflow.demo import DemoBuild, fill_demo
from configurator.workflow.papers import list_documents
from configurator.workflow.premises import Premises


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
