import multiprocessing
import os
import random
import signal
import sqlite3
import time
from datetime import UTC, datetime
from multiprocessing.connection import Connection
from pathlib import Path

import pytest

from configurator.record.changes import list_changes
from configurator.workflow.builds import read_draft
from configurator.workflow.consultation import pick_option
from configurator.workflow.premises import Premises, open_premises

KILLS = 24
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
