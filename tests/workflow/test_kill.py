from __future__ import annotations

import multiprocessing
import os
import random
import signal
import sqlite3
import time
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime
from functools import partial
from multiprocessing.connection import Connection
from pathlib import Path
from typing import Any

import pytest

from configurator.build_life.entries import SignedOff, SpecIssued
from configurator.build_life.people import Person
from configurator.catalog.models.build import BuildInput, Customer, Donor
from configurator.errors import LifeError
from configurator.record.book import read_life
from configurator.record.changes import list_changes
from configurator.record.drafts import list_drafts
from configurator.workflow import issuing, papers
from configurator.workflow.builds import read_draft, start_enquiry
from configurator.workflow.consultation import pick_option, set_house_choices
from configurator.workflow.issuing import freeze
from configurator.workflow.papers import list_documents, make_spec_sheet, spec_of_draft
from configurator.workflow.premises import Premises, open_premises
from configurator.workflow.sign_offs import sign
from configurator.workflow.verifying import verify_all
from tests.workflow.killed import KILLED, told_until_killed

KILLS = 4
POINTS_IN_A_FILE = 200
POINTS_ON_A_SERVER = 40
ENGINEER = Person(name="Invented Engineer", role="engineer")
CONSULTANT = Person(name="Invented Consultant", role="consultant")
COLOURS = ("buttermilk", "nettle", "sloe")


def pick_until_killed(catalog: Path, data: Path, reference: str, told: Connection) -> None:
    premises = open_premises(catalog, data)
    revision = read_draft(premises, reference).revision
    while True:
        colour = COLOURS[revision % len(COLOURS)]
        draft = pick_option(
            premises,
            reference,
            revision=revision,
            group_id="livery",
            option_id=colour,
            now=datetime.now(UTC),
        )
        revision = draft.revision
        told.send((revision, colour))


@pytest.mark.skipif(os.name == "nt", reason="Windows has no fork and no SIGKILL")
def test_whatever_was_told_as_saved_is_there_after_a_kill_at_any_moment(
    premises: Premises, catalog_folder: Path, data_folder: Path, reference: str
) -> None:
    premises.record.engine.dispose()
    chance = random.Random(20260304)  # noqa: S311  only spreads the moments of the kill
    fork = multiprocessing.get_context("fork")
    saved: list[tuple[int, str]] = []
    for _ in range(KILLS):
        ours, theirs = fork.Pipe(duplex=False)
        arguments = (catalog_folder, data_folder, reference, theirs)
        process = fork.Process(target=pick_until_killed, args=arguments)
        process.start()
        theirs.close()
        saved.append(ours.recv())
        time.sleep(chance.uniform(0, 0.05))
        os.kill(process.pid or 0, signal.SIGKILL)
        process.join()
        saved.extend(heard(ours))
    history = {
        change.revision: change.steps[0].new for change in list_changes(premises.record, reference)
    }
    assert len(saved) >= KILLS
    assert dict(saved).items() <= history.items()
    draft = read_draft(premises, reference)
    assert (max(history), history[max(history)]) == (
        draft.revision,
        draft.build.choices["livery"],
    )
    with sqlite3.connect(premises.record.where) as database:
        assert ("ok",) == database.execute("PRAGMA integrity_check").fetchone()


def heard(pipe: Connection) -> list[tuple[int, str]]:
    lines = []
    try:
        while pipe.poll():
            lines.append(pipe.recv())
    except EOFError:
        pass
    return lines


@dataclass(frozen=True)
class Saved:
    """What was shown to somebody as saved."""

    kind: str
    what: tuple[object, ...]


Tell = Callable[[Saved], None]


def go_on_working(premises: Premises, reference: str, chance: random.Random, tell: Tell) -> None:
    """Work on in another process until it is killed."""
    premises.record.engine.dispose(close=False)  # The connections belong to the parent.
    while True:
        work_on(premises, reference, chance, tell)


def work_on(premises: Premises, reference: str, chance: random.Random, tell: Tell) -> None:
    """Pick, start an enquiry, write a paper, sign and freeze, and tell each that is saved."""
    now = datetime.now(UTC)
    revision = read_draft(premises, reference).revision
    colour = chance.choice(COLOURS)
    picked = pick_option(
        premises, reference, revision=revision, group_id="livery", option_id=colour, now=now
    )
    if picked.revision != revision:
        tell(Saved("pick", (picked.revision, colour)))
    if chance.random() < 0.2:
        tell(Saved("enquiry", (new_enquiry(premises, now),)))
    if chance.random() < 0.3:
        paper = make_spec_sheet(premises, reference, now)
        tell(Saved("paper", (paper.name, paper.sha256)))
    for sign_off in ("sums", "promise"):
        signed = signed_now(premises, reference, sign_off, now)
        if signed is not None:
            tell(Saved("sign-off", (signed, sign_off)))
    letter = frozen_now(premises, reference, now)
    if letter is not None:
        tell(Saved("spec", (letter,)))


def new_enquiry(premises: Premises, now: datetime) -> str:
    return start_enquiry(
        premises,
        customer=Customer(name="Invented Person"),
        vehicle_id="clover-van",
        donor=Donor(),
        notes="",
        now=now,
    )


@pytest.fixture
def remembering(monkeypatch: pytest.MonkeyPatch) -> None:
    """Compute nothing twice: only what is written between the computations is tried here."""

    def remembered(compute: Callable[..., Any], key: Callable[..., object]) -> Callable[..., Any]:
        known: dict[object, Any] = {}

        def answer(*given: Any) -> Any:
            if key(*given) not in known:
                known[key(*given)] = compute(*given)
            return known[key(*given)]

        return answer

    def by_build(_catalog: object, build: BuildInput, _engines: object) -> str:
        return build.model_dump_json()

    monkeypatch.setattr(papers, "specify", remembered(papers.specify, by_build))
    sheet = remembered(papers.spec_sheet_pdf, lambda spec: spec.sha256())
    monkeypatch.setattr(papers, "spec_sheet_pdf", sheet)
    kept = remembered(issuing.kept_catalog, lambda _premises: "the catalog")
    monkeypatch.setattr(issuing, "kept_catalog", kept)


def frozen_now(premises: Premises, reference: str, now: datetime) -> str | None:
    findings = spec_of_draft(premises, reference).findings
    try:
        issued = freeze(
            premises,
            reference,
            revision=read_draft(premises, reference).revision,
            answers={(f.code, f.subject): "Seen" for f in findings if f.severity == "warns"},
            because="The customer wants another colour",
            by=ENGINEER,
            now=now,
        )
    except LifeError:
        return None
    return issued.letter


def signed_now(premises: Premises, reference: str, sign_off: str, now: datetime) -> str | None:
    issued = read_life(premises.record, reference).issued
    if issued is None:
        return None
    by = ENGINEER if sign_off == "sums" else CONSULTANT
    try:
        entry = sign(premises, reference, sign_off, spec_sha256=issued.spec_sha256, by=by, now=now)
    except LifeError:
        return None
    assert isinstance(entry.body, SignedOff)
    return entry.body.letter


def what_is_there(premises: Premises, reference: str) -> set[Saved]:
    life = read_life(premises.record, reference)
    changes = list_changes(premises.record, reference)
    papers = list_documents(premises, reference)
    assert all(paper.content for paper in papers)
    return (
        {Saved("pick", (c.revision, c.steps[0].new)) for c in changes if c.kind == "picked"}
        | {Saved("enquiry", (stored.reference,)) for stored in list_drafts(premises.record)}
        | {Saved("paper", (paper.name, paper.sha256)) for paper in papers}
        | {Saved("sign-off", (signed.letter, signed.sign_off)) for signed in life.of(SignedOff)}
        | {Saved("spec", (issued.letter,)) for issued in life.of(SpecIssued)}
    )


@pytest.mark.skipif(os.name == "nt", reason="Windows has no fork")
def test_killed_between_any_two_writes_nothing_saved_is_gone_and_nothing_is_half_written(
    anywhere: Premises, remembering: None, now: datetime
) -> None:
    is_file = anywhere.record.engine.dialect.name == "sqlite"
    reference = new_enquiry(anywhere, now)
    set_house_choices(anywhere, reference, revision=1, wanted=True, now=now)
    saved: list[Saved] = []
    for number in range(10):
        work_on(anywhere, reference, random.Random(-number), saved.append)  # noqa: S311  only spreads the work
    for number in range(POINTS_IN_A_FILE if is_file else POINTS_ON_A_SERVER):
        chance = random.Random(number)  # noqa: S311  only spreads the work and the kills
        write = chance.randint(1, 25)
        told, code = told_until_killed(
            partial(go_on_working, anywhere, reference, chance), write=write
        )
        assert KILLED == code
        saved += told
        verified = verify_all(anywhere.record, anywhere.data_folder)
        assert () == verified.faults, number
        assert set(saved) <= what_is_there(anywhere, reference), number
    kinds = {one.kind for one in saved}
    assert {"pick", "enquiry", "paper", "sign-off", "spec"} == kinds
    assert len(saved) > 50
