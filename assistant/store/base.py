"""What all tables share: the column types, the names of constraints, the two columns every table begins with."""

from datetime import UTC, date, datetime
from typing import Any, ClassVar

from sqlalchemy import JSON, Boolean, Date, DateTime, Dialect, ForeignKey, Integer, LargeBinary, MetaData, TypeDecorator
from sqlalchemy.dialects.postgresql import JSONB
from sqlalchemy.orm import DeclarativeBase, Mapped, mapped_column

Json = JSON().with_variant(JSONB(), "postgresql")


class UtcTime(TypeDecorator[datetime]):
    """A point in time: aware datetimes in, UTC datetimes out, on every database."""

    impl = DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, _dialect: Dialect) -> datetime | None:
        """Refuse a time without zone, since it would be stored as another instant."""
        if value is None:
            return None
        if value.tzinfo is None:
            raise ValueError(f"the time {value} has no zone: give an aware datetime")
        return value.astimezone(UTC)

    def process_result_value(self, value: datetime | None, _dialect: Dialect) -> datetime | None:
        """Give the zone back that SQLite does not keep."""
        if value is None:
            return None
        return value.replace(tzinfo=UTC) if value.tzinfo is None else value.astimezone(UTC)


class Base(DeclarativeBase):
    """Base of all tables, with the column types used everywhere."""

    # Every constraint has a name, since a migration can only change what it can name.
    metadata = MetaData(
        naming_convention={
            "ix": "ix_%(column_0_label)s",
            "uq": "uq_%(table_name)s_%(column_0_N_name)s",
            "fk": "fk_%(table_name)s_%(column_0_name)s",
            "pk": "pk_%(table_name)s",
        }
    )
    type_annotation_map: ClassVar[dict[Any, Any]] = {
        datetime: UtcTime,
        dict[str, Any]: Json,
        list[Any]: Json,
        bytes: LargeBinary,
        bool: Boolean,
        date: Date,
    }


def key() -> Mapped[int]:
    """Return a table's own number."""
    return mapped_column(Integer, primary_key=True)


def studio_key() -> Mapped[int]:
    """Return the column that names the studio a row belongs to."""
    return mapped_column(ForeignKey("studio.id"), index=True)
