"""What the migration tool runs: steps on the connection it was given."""

from alembic import context

from sillwright.store.schema import metadata

connection = context.config.attributes["connection"]
context.configure(connection=connection, target_metadata=metadata, render_as_batch=True)
context.run_migrations()
