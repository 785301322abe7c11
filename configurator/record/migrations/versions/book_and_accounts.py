"""The book of entries with its contents, and the accounts."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "book_and_accounts"
down_revision = "first_record"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the tables of the book and of the accounts."""
    _make_book()
    _make_accounts()
    _forbid_rewriting(op.get_bind().dialect.name)


def _make_book() -> None:
    op.create_table(
        "contents",
        sa.Column("sha256", sa.String(64), nullable=False),
        sa.Column("what", sa.String(40), nullable=False),
        sa.Column("content", sa.LargeBinary(), nullable=False),
        sa.PrimaryKeyConstraint("sha256", name="pk_contents"),
    )
    op.create_table(
        "entries",
        sa.Column("number", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("build_id", sa.Integer(), nullable=False),
        sa.Column("kind", sa.String(40), nullable=False),
        sa.Column("slot", sa.String(80), nullable=True),
        sa.Column("written", sa.Text(), nullable=False),
        sa.Column("sha256", sa.String(64), nullable=False),
        sa.PrimaryKeyConstraint("number", name="pk_entries"),
        sa.ForeignKeyConstraint(["build_id"], ["builds.id"], name="fk_entries_build_id"),
        sa.UniqueConstraint("build_id", "kind", "slot", name="uq_entries_build_id_kind_slot"),
        sa.UniqueConstraint("sha256", name="uq_entries_sha256"),
    )
    op.create_index("ix_entries_build_id_number", "entries", ["build_id", "number"])


def _make_accounts() -> None:
    op.create_table(
        "accounts",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(200), nullable=False),
        sa.Column("roles", sa.JSON(), nullable=False),
        sa.Column("password_hash", sa.String(200), nullable=True),
        sa.Column("is_active", sa.Boolean(), nullable=False),
        sa.Column("failures", sa.Integer(), nullable=False),
        sa.Column("wait_until", sa.DateTime(timezone=True), nullable=True),
        sa.Column("made_at", sa.DateTime(timezone=True), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_accounts"),
        sa.UniqueConstraint("name", name="uq_accounts_name"),
    )
    op.create_table(
        "sign_ins",
        sa.Column("token_sha256", sa.String(64), nullable=False),
        sa.Column("account_id", sa.Integer(), nullable=False),
        sa.Column("role", sa.String(40), nullable=False),
        sa.Column("until", sa.DateTime(timezone=True), nullable=False),
        sa.PrimaryKeyConstraint("token_sha256", name="pk_sign_ins"),
        sa.ForeignKeyConstraint(["account_id"], ["accounts.id"], name="fk_sign_ins_account_id"),
    )


def _forbid_rewriting(dialect: str) -> None:
    """Let the database itself refuse to rewrite what is only ever added."""
    if dialect == "sqlite":
        for action in ("UPDATE", "DELETE"):
            op.execute(
                f"CREATE TRIGGER entries_refuse_{action.lower()} BEFORE {action} ON entries "
                "BEGIN SELECT RAISE(ABORT, 'rows of entries are only ever added'); END"
            )
    if dialect == "postgresql":
        op.execute(
            "CREATE FUNCTION refuse_rewriting() RETURNS trigger LANGUAGE plpgsql AS "
            "$$ BEGIN RAISE EXCEPTION 'rows of % are only ever added', TG_TABLE_NAME; END $$"
        )
        for table in ("changes", "documents", "entries"):
            op.execute(
                f"CREATE TRIGGER {table}_refuse_rewriting BEFORE UPDATE OR DELETE ON {table} "
                "FOR EACH ROW EXECUTE FUNCTION refuse_rewriting()"
            )
