"""Records as older versions of the tool left them."""

from pathlib import Path

from sqlalchemy import create_engine

from configurator.record.addresses import RECORD_FILE
from configurator.record.migrate import bring_up_to_date


def make_older_record(folder: Path, revision: str) -> Path:
    """Make a record whose tables stop at a revision; gives its file."""
    folder.mkdir(parents=True, exist_ok=True)
    path = folder / RECORD_FILE
    engine = create_engine(f"sqlite:///{path}")
    with engine.begin() as connection:
        bring_up_to_date(connection, str(path), revision)
    engine.dispose()
    return path
