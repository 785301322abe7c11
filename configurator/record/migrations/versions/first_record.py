"""Builds, drafts, changes and documents."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "first_record"
down_revision = None
branch_labels = None
depends_on = None

APPEND_ONLY = ("changes", "documents")


def upgrade() -> None:
    """Make the first tables."""
    _make_builds()
    _make_drafts()
    _make_changes()
    _make_documents()
    if op.get_bind().dialect.name == "sqlite":
        _forbid_rewriting()


def _make_builds() -> None:
    op.create_table(
        "builds",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("reference", sa.String(8), nullable=False),
        sa.Column("origin", sa.String(200), nullable=True),
        sa.Column("started_at", sa.DateTime(timezone=True), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_builds"),
        sa.UniqueConstraint("number", name="uq_builds_number"),
        sa.UniqueConstraint("reference", name="uq_builds_reference"),
        sa.UniqueConstraint("origin", name="uq_builds_origin"),
    )


def _make_drafts() -> None:
    op.create_table(
        "drafts",
        sa.Column("build_id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("revision", sa.Integer(), nullable=False),
        sa.Column("content", sa.JSON(), nullable=False),
        sa.Column("saved_at", sa.DateTime(timezone=True), nullable=False),
        sa.PrimaryKeyConstraint("build_id", name="pk_drafts"),
        sa.ForeignKeyConstraint(["build_id"], ["builds.id"], name="fk_drafts_build_id"),
    )


def _make_changes() -> None:
    op.create_table(
        "changes",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("build_id", sa.Integer(), nullable=False),
        sa.Column("revision", sa.Integer(), nullable=False),
        sa.Column("kind", sa.String(40), nullable=False),
        sa.Column("steps", sa.JSON(), nullable=False),
        sa.Column("undoes", sa.Integer(), nullable=True),
        sa.Column("made_at", sa.DateTime(timezone=True), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_changes"),
        sa.ForeignKeyConstraint(["build_id"], ["builds.id"], name="fk_changes_build_id"),
        sa.UniqueConstraint("build_id", "revision", name="uq_changes_build_id_revision"),
    )


def _make_documents() -> None:
    op.create_table(
        "documents",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("build_id", sa.Integer(), nullable=False),
        sa.Column("kind", sa.String(40), nullable=False),
        sa.Column("name", sa.String(120), nullable=False),
        sa.Column("sha256", sa.String(64), nullable=False),
        sa.Column("spec_sha256", sa.String(64), nullable=False),
        sa.Column("made_at", sa.DateTime(timezone=True), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_documents"),
        sa.ForeignKeyConstraint(["build_id"], ["builds.id"], name="fk_documents_build_id"),
        sa.UniqueConstraint("build_id", "name", name="uq_documents_build_id_name"),
    )
    op.create_index(
        "ix_documents_build_id_kind_spec_sha256", "documents", ["build_id", "kind", "spec_sha256"]
    )


def _forbid_rewriting() -> None:
    for table in APPEND_ONLY:
        for action in ("UPDATE", "DELETE"):
            op.execute(
                f"CREATE TRIGGER {table}_refuse_{action.lower()} BEFORE {action} ON {table} "
                f"BEGIN SELECT RAISE(ABORT, 'rows of {table} are only ever added'); END"
            )
