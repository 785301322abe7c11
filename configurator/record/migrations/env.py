"""Where Alembic takes the connection that the record hands it."""

from __future__ import annotations

from alembic import context

from configurator.record.tables import Table

connection = context.config.attributes["connection"]
context.configure(connection=connection, target_metadata=Table.metadata, transactional_ddl=True)
with context.begin_transaction():
    context.run_migrations()
