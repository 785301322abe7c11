"""Waits after failed log-ins, for known and unknown names alike; who an identity provider knows."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "log_in_waits"
down_revision = "book_and_accounts"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Move the waits out of the accounts, where unknown names have no row."""
    op.create_table(
        "log_in_waits",
        sa.Column("name_sha256", sa.String(64), nullable=False),
        sa.Column("failures", sa.Integer(), nullable=False),
        sa.Column("wait_until", sa.DateTime(timezone=True), nullable=False),
        sa.PrimaryKeyConstraint("name_sha256", name="pk_log_in_waits"),
    )
    # SQLite makes the table anew and would stumble over browsers that point to its rows.
    op.execute("DELETE FROM sign_ins")
    with op.batch_alter_table("accounts") as accounts:
        accounts.add_column(sa.Column("identity", sa.String(200), nullable=True))
        accounts.create_unique_constraint("uq_accounts_identity", ["identity"])
        accounts.drop_column("failures")
        accounts.drop_column("wait_until")
