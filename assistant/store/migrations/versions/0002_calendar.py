"""What bookings take along, their take-down and deposit; calendars read from elsewhere; the private feed."""

import sqlalchemy as sa
from alembic import op
from sqlalchemy.dialects import postgresql

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None

JSON = sa.JSON().with_variant(postgresql.JSONB(), "postgresql")


def upgrade() -> None:
    """Add the calendar's tables and columns; nothing that stands is changed."""
    op.create_table(
        "calendar_source",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("studio_id", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(length=200), nullable=False),
        sa.Column("address", sa.String(length=1000), nullable=True),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("read_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("problem", sa.String(length=500), nullable=True),
        sa.Column("ended_at", sa.DateTime(timezone=True), nullable=True),
        sa.ForeignKeyConstraint(["studio_id"], ["studio.id"], name="fk_calendar_source_studio_id"),
        sa.PrimaryKeyConstraint("id", name="pk_calendar_source"),
    )
    op.create_index("ix_calendar_source_studio_id", "calendar_source", ["studio_id"])
    op.create_table(
        "calendar_feed",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("studio_id", sa.Integer(), nullable=False),
        sa.Column("token_hash", sa.String(length=64), nullable=False),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("ended_at", sa.DateTime(timezone=True), nullable=True),
        sa.ForeignKeyConstraint(["studio_id"], ["studio.id"], name="fk_calendar_feed_studio_id"),
        sa.PrimaryKeyConstraint("id", name="pk_calendar_feed"),
        sa.UniqueConstraint("token_hash", name="uq_calendar_feed_token_hash"),
    )
    op.create_index("ix_calendar_feed_studio_id", "calendar_feed", ["studio_id"])
    with op.batch_alter_table("booking") as booking:
        booking.add_column(sa.Column("source_id", sa.Integer(), nullable=True))
        booking.add_column(sa.Column("build_on", sa.Date(), nullable=True))
        booking.add_column(sa.Column("takes", JSON, nullable=True))
        booking.add_column(sa.Column("strike_at", sa.DateTime(timezone=True), nullable=True))
        booking.add_column(sa.Column("deposit_cents", sa.Integer(), nullable=True))
        booking.add_column(sa.Column("paid_on", sa.Date(), nullable=True))
        booking.create_foreign_key("fk_booking_source_id", "calendar_source", ["source_id"], ["id"])
        booking.create_index("ix_booking_source_id", ["source_id"])

    live = sa.text("kind = 'hold' AND ended_at IS NULL")
    op.create_index(
        "ix_booking_live_hold", "booking", ["studio_id", "expires_at"], sqlite_where=live, postgresql_where=live
    )
