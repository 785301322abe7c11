"""What is kept of customers: listed, given out, erased, from the command line."""

from __future__ import annotations

import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from configurator.catalog.models.build import Customer, Donor
from configurator.cli.main import app
from configurator.errors import LifeError
from configurator.workflow.builds import read_draft, start_enquiry
from configurator.workflow.premises import open_premises


@pytest.fixture
def customers(catalog_folder: Path, tmp_path: Path) -> Callable[..., Result]:
    def run(*arguments: str) -> Result:
        folders = ["--catalog", str(catalog_folder), "--data", str(tmp_path / "data")]
        return CliRunner().invoke(app, ["customers", *arguments, *folders])

    return run


@pytest.fixture
def reference(catalog_folder: Path, tmp_path: Path) -> str:
    from datetime import UTC, datetime

    premises = open_premises(catalog_folder, tmp_path / "data")
    found = start_enquiry(
        premises,
        customer=Customer(name="Ann Example-Quill"),
        vehicle_id="clover-van",
        donor=Donor(),
        notes="",
        now=datetime(2020, 1, 2, tzinfo=UTC),
    )
    premises.record.engine.dispose()
    return found


def test_old_enquiries_are_listed(customers: Callable[..., Result], reference: str) -> None:
    said = customers("past").stdout
    assert f"{reference}  last changed 2020-01-02  Ann Example-Quill" in said


def test_what_is_kept_is_written_once(
    customers: Callable[..., Result], reference: str, tmp_path: Path
) -> None:
    target = tmp_path / "given.zip"
    assert 0 == customers("export", reference, str(target)).exit_code
    assert "draft.json" in zipfile.ZipFile(target).namelist()
    again = customers("export", reference, str(target))
    assert "O007" in str(again.exception)


def test_a_customer_is_erased(
    customers: Callable[..., Result], reference: str, catalog_folder: Path, tmp_path: Path
) -> None:
    done = customers("erase", reference, "--because", "asked in writing", "--by", "Mo Manager")
    assert f"The customer of {reference} is erased" in done.stdout
    premises = open_premises(catalog_folder, tmp_path / "data")
    assert "(removed)" == read_draft(premises, reference).build.customer.name
    premises.record.engine.dispose()


def test_nobody_without_a_name_erases(customers: Callable[..., Result], reference: str) -> None:
    refused = customers("erase", reference, "--because", "asked", "--by", "  ")
    assert isinstance(refused.exception, LifeError)
    assert "P050" in str(refused.exception)


def test_where_people_have_accounts_a_manager_erases(
    customers: Callable[..., Result], reference: str, tmp_path: Path
) -> None:
    CliRunner().invoke(
        app,
        [
            "accounts",
            "add",
            "Con Sultant",
            "--role",
            "consultant",
            "--data",
            str(tmp_path / "data"),
        ],
        input="four invented words\n",
    )
    for name, code in (("Nobody", "P112"), ("Con Sultant", "P130")):
        refused = customers("erase", reference, "--because", "asked", "--by", name)
        assert isinstance(refused.exception, LifeError)
        assert code in str(refused.exception)
    manager = ["accounts", "add", "Mo Manager", "--role", "manager", "--data"]
    CliRunner().invoke(app, [*manager, str(tmp_path / "data")], input="four invented words\n")
    done = customers("erase", reference, "--because", "asked in writing", "--by", "mo  MANAGER")
    assert 0 == done.exit_code
