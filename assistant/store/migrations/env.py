"""Runs migrations on the connection that the store hands over; there is no ini file and no second way in."""

from alembic import context

from assistant.store.models import Base

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=Base.metadata,
    render_as_batch=True,
    transactional_ddl=True,
)
context.run_migrations()
