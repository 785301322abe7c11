"""One writer of the book at a time, on either kind of database."""

from __future__ import annotations

from sqlalchemy import text
from sqlalchemy.orm import Session

BOOK_LOCK = 7_204_501
"""Of PostgreSQL: who holds it adds to the book; SQLite has one writer at a time anyway."""


def take_turn(session: Session) -> None:
    """Wait until nobody else writes in the book, and keep the turn until the transaction ends."""
    if session.get_bind().dialect.name == "postgresql":
        session.execute(text("SELECT pg_advisory_xact_lock(:lock)"), {"lock": BOOK_LOCK})
