"""The first tables."""

import sqlalchemy as sa
from alembic import op
from sqlalchemy.dialects import postgresql

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None

JSON = sa.JSON().with_variant(postgresql.JSONB(), "postgresql")


def upgrade() -> None:
    """Create everything that one studio needs."""
    op.create_table(
        "login_wait",
        sa.Column("account", sa.String(length=254), nullable=False),
        sa.Column("failures", sa.Integer(), nullable=False),
        sa.Column("wait_until", sa.DateTime(timezone=True), nullable=True),
        sa.PrimaryKeyConstraint("account", name="pk_login_wait"),
    )
    op.create_table(
        "studio",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(length=200), nullable=False),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_studio"),
    )
    op.create_table(
        "client",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("studio_id", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(length=200), nullable=True),
        sa.Column("language", sa.String(length=10), nullable=True),
        sa.Column("stopped_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        sa.ForeignKeyConstraint(["studio_id"], ["studio.id"], name="fk_client_studio_id"),
        sa.PrimaryKeyConstraint("id", name="pk_client"),
    )
    op.create_index("ix_client_studio_id", "client", ["studio_id"])
    op.create_table(
        "designer",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("studio_id", sa.Integer(), nullable=False),
        sa.Column("email", sa.String(length=254), nullable=False),
        sa.Column("name", sa.String(length=200), nullable=False),
        sa.Column("password_hash", sa.String(length=300), nullable=False),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("disabled_at", sa.DateTime(timezone=True), nullable=True),
        sa.ForeignKeyConstraint(["studio_id"], ["studio.id"], name="fk_designer_studio_id"),
        sa.PrimaryKeyConstraint("id", name="pk_designer"),
        sa.UniqueConstraint("studio_id", "email", name="uq_designer_studio_id_email"),
    )
    op.create_index("ix_designer_studio_id", "designer", ["studio_id"])
    op.create_table(
        "setup_link",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("studio_id", sa.Integer(), nullable=False),
        sa.Column("token_hash", sa.String(length=64), nullable=False),
        sa.Column("expires_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("used_at", sa.DateTime(timezone=True), nullable=True),
        sa.ForeignKeyConstraint(["studio_id"], ["studio.id"], name="fk_setup_link_studio_id"),
        sa.PrimaryKeyConstraint("id", name="pk_setup_link"),
        sa.UniqueConstraint("token_hash", name="uq_setup_link_token_hash"),
    )
    op.create_index("ix_setup_link_studio_id", "setup_link", ["studio_id"])
    op.create_table(
        "address",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("studio_id", sa.Integer(), nullable=False),
        sa.Column("client_id", sa.Integer(), nullable=False),
        sa.Column("channel", sa.String(length=10), nullable=False),
        sa.Column("value", sa.String(length=254), nullable=False),
        sa.ForeignKeyConstraint(["client_id"], ["client.id"], name="fk_address_client_id"),
        sa.ForeignKeyConstraint(["studio_id"], ["studio.id"], name="fk_address_studio_id"),
        sa.PrimaryKeyConstraint("id", name="pk_address"),
        sa.UniqueConstraint("studio_id", "channel", "value", name="uq_address_studio_id_channel_value"),
    )
    op.create_index("ix_address_client_id", "address", ["client_id"])
    op.create_index("ix_address_studio_id", "address", ["studio_id"])
    op.create_table(
        "desk_session",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("designer_id", sa.Integer(), nullable=False),
        sa.Column("token_hash", sa.String(length=64), nullable=False),
        sa.Column("csrf_secret", sa.String(length=64), nullable=False),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("seen_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("ended_at", sa.DateTime(timezone=True), nullable=True),
        sa.ForeignKeyConstraint(["designer_id"], ["designer.id"], name="fk_desk_session_designer_id"),
        sa.PrimaryKeyConstraint("id", name="pk_desk_session"),
        sa.UniqueConstraint("token_hash", name="uq_desk_session_token_hash"),
    )
    op.create_index("ix_desk_session_designer_id", "desk_session", ["designer_id"])
    op.create_table(
        "inquiry",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("studio_id", sa.Integer(), nullable=False),
        sa.Column("client_id", sa.Integer(), nullable=False),
        sa.Column("channel", sa.String(length=10), nullable=False),
        sa.Column("state", sa.String(length=12), nullable=False),
        sa.Column("closed_reason", sa.String(length=200), nullable=True),
        sa.Column("language", sa.String(length=10), nullable=False),
        sa.Column("kind", sa.String(length=12), nullable=False),
        sa.Column("facts", JSON, nullable=False),
        sa.Column("sources", JSON, nullable=False),
        sa.Column("verdict", JSON, nullable=True),
        sa.Column("quote", JSON, nullable=True),
        sa.Column("step", JSON, nullable=True),
        sa.Column("asked", JSON, nullable=False),
        sa.Column("rounds", sa.Integer(), nullable=False),
        sa.Column("introduced", sa.Boolean(), nullable=False),
        sa.Column("subject", sa.String(length=500), nullable=True),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("updated_at", sa.DateTime(timezone=True), nullable=False),
        sa.ForeignKeyConstraint(["client_id"], ["client.id"], name="fk_inquiry_client_id"),
        sa.ForeignKeyConstraint(["studio_id"], ["studio.id"], name="fk_inquiry_studio_id"),
        sa.PrimaryKeyConstraint("id", name="pk_inquiry"),
    )
    op.create_index("ix_inquiry_client_id", "inquiry", ["client_id"])
    op.create_index("ix_inquiry_state", "inquiry", ["studio_id", "state", "updated_at"])
    op.create_index("ix_inquiry_studio_id", "inquiry", ["studio_id"])
    op.create_table(
        "audit_line",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("studio_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("who", sa.String(length=100), nullable=False),
        sa.Column("what", sa.String(length=40), nullable=False),
        sa.Column("inquiry_id", sa.Integer(), nullable=True),
        sa.Column("detail", JSON, nullable=False),
        sa.ForeignKeyConstraint(["inquiry_id"], ["inquiry.id"], name="fk_audit_line_inquiry_id"),
        sa.ForeignKeyConstraint(["studio_id"], ["studio.id"], name="fk_audit_line_studio_id"),
        sa.PrimaryKeyConstraint("id", name="pk_audit_line"),
    )
    op.create_index("ix_audit_line_inquiry_id", "audit_line", ["inquiry_id"])
    op.create_index("ix_audit_line_studio_id", "audit_line", ["studio_id"])
    op.create_table(
        "booking",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("studio_id", sa.Integer(), nullable=False),
        sa.Column("inquiry_id", sa.Integer(), nullable=True),
        sa.Column("kind", sa.String(length=6), nullable=False),
        sa.Column("title", sa.String(length=200), nullable=False),
        sa.Column("day", sa.Date(), nullable=False),
        sa.Column("start_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("end_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("zone", sa.String(length=60), nullable=False),
        sa.Column("crew_minutes", sa.Integer(), nullable=True),
        sa.Column("build_minutes", sa.Integer(), nullable=True),
        sa.Column("zip", sa.String(length=10), nullable=True),
        sa.Column("expires_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("ended_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        sa.ForeignKeyConstraint(["inquiry_id"], ["inquiry.id"], name="fk_booking_inquiry_id"),
        sa.ForeignKeyConstraint(["studio_id"], ["studio.id"], name="fk_booking_studio_id"),
        sa.PrimaryKeyConstraint("id", name="pk_booking"),
    )
    op.create_index("ix_booking_day", "booking", ["studio_id", "day"])
    op.create_index("ix_booking_inquiry_id", "booking", ["inquiry_id"])
    op.create_index("ix_booking_studio_id", "booking", ["studio_id"])
    op.create_table(
        "draft",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("studio_id", sa.Integer(), nullable=False),
        sa.Column("inquiry_id", sa.Integer(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("state", sa.String(length=10), nullable=False),
        sa.Column("subject", sa.String(length=500), nullable=True),
        sa.Column("text", sa.Text(), nullable=False),
        sa.Column("fingerprint", sa.String(length=64), nullable=False),
        sa.Column("parts", sa.Integer(), nullable=False),
        sa.Column("purpose", sa.String(length=20), nullable=False),
        sa.Column("quote", JSON, nullable=True),
        sa.Column("verdict", JSON, nullable=True),
        sa.Column("rules_version", sa.String(length=40), nullable=False),
        sa.Column("reasons", JSON, nullable=False),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("decided_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("decided_by", sa.Integer(), nullable=True),
        sa.ForeignKeyConstraint(["decided_by"], ["designer.id"], name="fk_draft_decided_by"),
        sa.ForeignKeyConstraint(["inquiry_id"], ["inquiry.id"], name="fk_draft_inquiry_id"),
        sa.ForeignKeyConstraint(["studio_id"], ["studio.id"], name="fk_draft_studio_id"),
        sa.PrimaryKeyConstraint("id", name="pk_draft"),
        sa.UniqueConstraint("inquiry_id", "version", name="uq_draft_inquiry_id_version"),
    )
    op.create_index("ix_draft_inquiry_id", "draft", ["inquiry_id"])
    op.create_index("ix_draft_studio_id", "draft", ["studio_id"])
    op.create_index(
        "one_open_draft",
        "draft",
        ["inquiry_id"],
        unique=True,
        sqlite_where=sa.text("state IN ('waiting', 'kept')"),
        postgresql_where=sa.text("state IN ('waiting', 'kept')"),
    )
    op.create_table(
        "message",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("studio_id", sa.Integer(), nullable=False),
        sa.Column("inquiry_id", sa.Integer(), nullable=True),
        sa.Column("direction", sa.String(length=3), nullable=False),
        sa.Column("channel", sa.String(length=10), nullable=False),
        sa.Column("provider_id", sa.String(length=500), nullable=False),
        sa.Column("sender", sa.String(length=254), nullable=False),
        sa.Column("recipient", sa.String(length=254), nullable=False),
        sa.Column("subject", sa.String(length=1000), nullable=True),
        sa.Column("text", sa.Text(), nullable=False),
        sa.Column("whole_text", sa.Text(), nullable=True),
        sa.Column("automatic", sa.Boolean(), nullable=False),
        sa.Column("thread_ids", JSON, nullable=False),
        sa.Column("raw", sa.LargeBinary(), nullable=True),
        sa.Column("note", sa.String(length=500), nullable=True),
        sa.Column("received_at", sa.DateTime(timezone=True), nullable=False),
        sa.ForeignKeyConstraint(["inquiry_id"], ["inquiry.id"], name="fk_message_inquiry_id"),
        sa.ForeignKeyConstraint(["studio_id"], ["studio.id"], name="fk_message_studio_id"),
        sa.PrimaryKeyConstraint("id", name="pk_message"),
        sa.UniqueConstraint(
            "studio_id",
            "channel",
            "direction",
            "provider_id",
            name="uq_message_studio_id_channel_direction_provider_id",
        ),
    )
    op.create_index("ix_message_inquiry_id", "message", ["inquiry_id"])
    op.create_index("ix_message_studio_id", "message", ["studio_id"])
    op.create_table(
        "task",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("studio_id", sa.Integer(), nullable=False),
        sa.Column("inquiry_id", sa.Integer(), nullable=True),
        sa.Column("kind", sa.String(length=20), nullable=False),
        sa.Column("reason", sa.String(length=500), nullable=False),
        sa.Column("due_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("done_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("done_by", sa.Integer(), nullable=True),
        sa.ForeignKeyConstraint(["done_by"], ["designer.id"], name="fk_task_done_by"),
        sa.ForeignKeyConstraint(["inquiry_id"], ["inquiry.id"], name="fk_task_inquiry_id"),
        sa.ForeignKeyConstraint(["studio_id"], ["studio.id"], name="fk_task_studio_id"),
        sa.PrimaryKeyConstraint("id", name="pk_task"),
    )
    op.create_index("ix_task_inquiry_id", "task", ["inquiry_id"])
    op.create_index("ix_task_open", "task", ["studio_id", "done_at"])
    op.create_index("ix_task_studio_id", "task", ["studio_id"])
    op.create_table(
        "correction",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("inquiry_id", sa.Integer(), nullable=False),
        sa.Column("after_message_id", sa.Integer(), nullable=False),
        sa.Column("facts", JSON, nullable=False),
        sa.Column("designer_id", sa.Integer(), nullable=True),
        sa.Column("made_at", sa.DateTime(timezone=True), nullable=False),
        sa.ForeignKeyConstraint(["after_message_id"], ["message.id"], name="fk_correction_after_message_id"),
        sa.ForeignKeyConstraint(["designer_id"], ["designer.id"], name="fk_correction_designer_id"),
        sa.ForeignKeyConstraint(["inquiry_id"], ["inquiry.id"], name="fk_correction_inquiry_id"),
        sa.PrimaryKeyConstraint("id", name="pk_correction"),
    )
    op.create_index("ix_correction_inquiry_id", "correction", ["inquiry_id"])
    op.create_table(
        "outgoing",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("studio_id", sa.Integer(), nullable=False),
        sa.Column("inquiry_id", sa.Integer(), nullable=True),
        sa.Column("client_id", sa.Integer(), nullable=False),
        sa.Column("draft_id", sa.Integer(), nullable=True),
        sa.Column("channel", sa.String(length=10), nullable=False),
        sa.Column("sender", sa.String(length=254), nullable=False),
        sa.Column("recipient", sa.String(length=254), nullable=False),
        sa.Column("subject", sa.String(length=500), nullable=True),
        sa.Column("text", sa.Text(), nullable=False),
        sa.Column("fingerprint", sa.String(length=64), nullable=False),
        sa.Column("headers", JSON, nullable=False),
        sa.Column("purpose", sa.String(length=20), nullable=False),
        sa.Column("needs_yes", sa.Boolean(), nullable=False),
        sa.Column("approved_by", sa.Integer(), nullable=True),
        sa.Column("state", sa.String(length=10), nullable=False),
        sa.Column("due_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("claimed_until", sa.DateTime(timezone=True), nullable=True),
        sa.Column("claim", sa.Integer(), nullable=False),
        sa.Column("attempts", sa.Integer(), nullable=False),
        sa.Column("tried_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("held_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("provider_id", sa.String(length=500), nullable=True),
        sa.Column("delivery", sa.String(length=12), nullable=True),
        sa.Column("error", sa.String(length=500), nullable=True),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("sent_at", sa.DateTime(timezone=True), nullable=True),
        sa.ForeignKeyConstraint(["approved_by"], ["designer.id"], name="fk_outgoing_approved_by"),
        sa.ForeignKeyConstraint(["client_id"], ["client.id"], name="fk_outgoing_client_id"),
        sa.ForeignKeyConstraint(["draft_id"], ["draft.id"], name="fk_outgoing_draft_id"),
        sa.ForeignKeyConstraint(["inquiry_id"], ["inquiry.id"], name="fk_outgoing_inquiry_id"),
        sa.ForeignKeyConstraint(["studio_id"], ["studio.id"], name="fk_outgoing_studio_id"),
        sa.PrimaryKeyConstraint("id", name="pk_outgoing"),
        sa.UniqueConstraint("draft_id", name="uq_outgoing_draft_id"),
    )
    op.create_index("ix_outgoing_client_id", "outgoing", ["client_id"])
    op.create_index(
        "ix_outgoing_due",
        "outgoing",
        ["due_at", "id"],
        sqlite_where=sa.text("state IN ('waiting', 'claimed', 'unsure')"),
        postgresql_where=sa.text("state IN ('waiting', 'claimed', 'unsure')"),
    )
    op.create_index("ix_outgoing_inquiry_id", "outgoing", ["inquiry_id"])
    op.create_index("ix_outgoing_provider_id", "outgoing", ["provider_id"])
    op.create_index("ix_outgoing_studio_id", "outgoing", ["studio_id"])
