"""Failed log-ins slow down the next, for known and unknown names alike; a restart forgets none."""

from __future__ import annotations

import hashlib
from datetime import datetime, timedelta

from sqlalchemy import delete, text

from configurator.build_life.people import same_name
from configurator.record.database import Record, writing
from configurator.record.tables import LogInWaitRow

FREE_TRIES = 3
LONGEST_WAIT_S = 900.0
FORGOTTEN_AFTER = timedelta(days=1)
WAITS_LOCK = 7_204_503
"""Of PostgreSQL: tries at the same moment are counted one after the other."""


def wait_s(failures: int) -> float:
    """Tell how long to wait after so many failures in a row [s].

    Examples
    --------
    >>> [wait_s(failures) for failures in (1, 3, 4, 6, 40)]
    [0.0, 4.0, 8.0, 32.0, 900.0]
    """
    if failures < FREE_TRIES:
        return 0.0
    return min(4.0 * 2.0 ** min(failures - FREE_TRIES, 20), LONGEST_WAIT_S)


def begin_try(record: Record, name: str, now: datetime) -> float:
    """Count a try as failed before the password is looked at, so that none is free.

    Parameters
    ----------
    record : Record
        The open record.
    name : str
        As typed; it need not exist.
    now : datetime
        Aware, UTC.

    Returns
    -------
    float
        Seconds still to wait [s]; 0.0 when the try may go on. A refused try counts for nothing.
    """
    with writing(record) as session:
        if session.get_bind().dialect.name == "postgresql":
            session.execute(text("SELECT pg_advisory_xact_lock(:lock)"), {"lock": WAITS_LOCK})
        forgotten = now - FORGOTTEN_AFTER
        session.execute(delete(LogInWaitRow).where(LogInWaitRow.wait_until < forgotten))
        row = session.get(LogInWaitRow, _key(name))
        if row is None:
            row = LogInWaitRow(name_sha256=_key(name), failures=0, wait_until=now)
            session.add(row)
        left = (row.wait_until - now).total_seconds()
        if left > LONGEST_WAIT_S:
            # The clock was set back: the wait begins anew, or it would last until then.
            left = wait_s(row.failures)
            row.wait_until = now + timedelta(seconds=left)
        if left > 0:
            return left
        row.failures += 1
        row.wait_until = now + timedelta(seconds=wait_s(row.failures))
    return 0.0


def forget_failures(record: Record, name: str) -> None:
    """Start counting anew, after a log-in that succeeded."""
    with writing(record) as session:
        session.execute(delete(LogInWaitRow).where(LogInWaitRow.name_sha256 == _key(name)))


def _key(name: str) -> str:
    # Somebody may type a password where the name belongs; it is not kept as it stands.
    return hashlib.sha256(same_name(name).encode("utf-8", "surrogatepass")).hexdigest()
