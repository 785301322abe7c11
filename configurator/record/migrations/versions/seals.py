"""A seal on every row, and where the book ends."""

from __future__ import annotations

from typing import Any

import sqlalchemy as sa
from alembic import op

from configurator.record.seals import SEAL, seal_what_is_there

revision = "seals"
down_revision = "log_in_waits"
branch_labels = None
depends_on = None

Columns = tuple["sa.Column[Any]", ...]


def _instant(name: str) -> sa.Column[Any]:
    return sa.Column(name, sa.DateTime(timezone=True))


def _integers(*names: str) -> Columns:
    return tuple(sa.Column(name, sa.Integer()) for name in names)


def _texts(*names: str) -> Columns:
    return tuple(sa.Column(name, sa.Text()) for name in names)


SEALED: dict[str, Columns] = {
    "builds": (*_integers("id", "number"), *_texts("reference", "origin"), _instant("started_at")),
    "drafts": (
        *_integers("build_id", "revision"),
        sa.Column("content", sa.JSON()),
        _instant("saved_at"),
    ),
    "changes": (
        *_integers("id", "build_id", "revision", "undoes"),
        *_texts("kind"),
        sa.Column("steps", sa.JSON()),
        _instant("made_at"),
    ),
    "documents": (
        *_integers("id", "build_id"),
        *_texts("kind", "name", "sha256", "spec_sha256"),
        _instant("made_at"),
    ),
    "contents": (*_texts("sha256", "what"), sa.Column("content", sa.LargeBinary())),
    "accounts": (
        *_integers("id"),
        *_texts("name", "password_hash", "identity"),
        sa.Column("roles", sa.JSON()),
        sa.Column("is_active", sa.Boolean()),
        _instant("made_at"),
    ),
    "log_in_waits": (*_texts("name_sha256"), *_integers("failures"), _instant("wait_until")),
    "sign_ins": (*_texts("token_sha256", "role"), *_integers("account_id"), _instant("until")),
}
"""Table → its columns as they are at this step; the first is the key."""

APPEND_ONLY = ("changes", "documents")


def upgrade() -> None:
    """Seal what is there, and note the last entry."""
    connection = op.get_bind()
    for table, columns in SEALED.items():
        # Added with an empty seal, which no row can have: one that slips past the tool is found.
        op.add_column(table, sa.Column(SEAL, sa.String(64), nullable=False, server_default=""))
        _allow_rewriting(connection, table)
        seal_what_is_there(connection, table, columns, columns[0].name)
        _forbid_rewriting(connection, table)
    _note_the_last_entry(connection)


def _note_the_last_entry(connection: sa.Connection) -> None:
    op.create_table(
        "last_entry",
        sa.Column("id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("sha256", sa.String(64), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_last_entry"),
    )
    found = "SELECT number, sha256 FROM entries ORDER BY number DESC LIMIT 1"
    number, sha256 = connection.execute(sa.text(found)).first() or (0, "0" * 64)
    connection.execute(
        sa.text("INSERT INTO last_entry (id, number, sha256) VALUES (1, :number, :sha256)"),
        {"number": number, "sha256": sha256},
    )


def _allow_rewriting(connection: sa.Connection, table: str) -> None:
    if table not in APPEND_ONLY:
        return
    if connection.dialect.name == "sqlite":
        op.execute(f"DROP TRIGGER {table}_refuse_update")
    else:
        op.execute(f"ALTER TABLE {table} DISABLE TRIGGER {table}_refuse_rewriting")


def _forbid_rewriting(connection: sa.Connection, table: str) -> None:
    if table not in APPEND_ONLY:
        return
    if connection.dialect.name == "sqlite":
        op.execute(
            f"CREATE TRIGGER {table}_refuse_update BEFORE UPDATE ON {table} "
            f"BEGIN SELECT RAISE(ABORT, 'rows of {table} are only ever added'); END"
        )
    else:
        op.execute(f"ALTER TABLE {table} ENABLE TRIGGER {table}_refuse_rewriting")
