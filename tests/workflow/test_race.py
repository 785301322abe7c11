import subprocess
import sys
from pathlib import Path

from configurator.record.changes import list_changes
from configurator.workflow.builds import read_draft
from configurator.workflow.premises import Premises

PICK_FIFTEEN = """
import sys
from datetime import UTC, datetime
from pathlib import Path
from configurator.errors import StaleDraftError
from configurator.workflow.builds import read_draft
from configurator.workflow.consultation import pick_option
from configurator.workflow.premises import open_premises

catalog, data, reference, group, *options = sys.argv[1:]
premises = open_premises(Path(catalog), Path(data))
refused = 0
for number in range(15):
    while True:
        draft = read_draft(premises, reference)
        try:
            saved = pick_option(
                premises, reference, revision=draft.revision, group_id=group,
                option_id=options[number % 2], now=datetime.now(UTC))
        except StaleDraftError:
            refused += 1
            continue
        break
    sys.stdout.write(f"{saved.revision} {options[number % 2]}\\n")
sys.stderr.write(str(refused))
"""


def test_two_processes_that_pick_at_once_lose_no_pick(
    premises: Premises, catalog_folder: Path, data_folder: Path, reference: str
) -> None:
    shared = [sys.executable, "-c", PICK_FIFTEEN, str(catalog_folder), str(data_folder), reference]
    people = [("livery", "nettle", "sloe"), ("box", "slatted-box", "bare-bed")]
    processes = [
        subprocess.Popen([*shared, *person], stdout=subprocess.PIPE, stderr=subprocess.PIPE)
        for person in people
    ]
    told = [process.communicate(timeout=180) for process in processes]
    assert [0, 0] == [process.returncode for process in processes], told
    lines = [line.split() for out, _ in told for line in out.decode().splitlines()]
    history = {
        change.revision: change.steps[0].new for change in list_changes(premises.record, reference)
    }
    assert 30 == len(lines)
    assert {int(revision): option for revision, option in lines}.items() <= history.items()
    draft = read_draft(premises, reference)
    assert (31, {"livery": "nettle", "box": "slatted-box"}) == (
        draft.revision,
        draft.build.choices,
    )
