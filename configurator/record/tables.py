"""The tables of the record, in types that SQLite and PostgreSQL both have."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Annotated, Any

from sqlalchemy import (
    JSON,
    DateTime,
    Dialect,
    ForeignKey,
    Index,
    Integer,
    LargeBinary,
    MetaData,
    String,
    Text,
    UniqueConstraint,
)
from sqlalchemy.orm import DeclarativeBase, Mapped, mapped_column
from sqlalchemy.types import TypeDecorator

NAMING = {
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "fk": "fk_%(table_name)s_%(column_0_N_name)s",
    "pk": "pk_%(table_name)s",
}


class UtcInstant(TypeDecorator[datetime]):
    """An aware instant, kept in UTC; SQLite itself knows no time zones."""

    impl = DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        """Turn an aware instant to UTC before it is stored."""
        if value is None:
            return None
        if value.tzinfo is None:
            msg = f"instant {value.isoformat()} has no time zone; pass an aware UTC datetime"
            raise ValueError(msg)
        return value.astimezone(UTC)

    def process_result_value(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        """Mark a stored instant as UTC."""
        if value is None or value.tzinfo is not None:
            return value and value.astimezone(UTC)
        return value.replace(tzinfo=UTC)


class Table(DeclarativeBase):
    """What SQLAlchemy gathers the tables under."""

    metadata = MetaData(naming_convention=NAMING)


SealColumn = Annotated[str, mapped_column(String(64))]
"""SHA-256 of the row's other values, byte for byte; `seals.py` makes it whenever one is saved."""


class BuildRow(Table):
    """A build, once for all, with its reference."""

    __tablename__ = "builds"

    id: Mapped[int] = mapped_column(Integer, primary_key=True)
    number: Mapped[int] = mapped_column(Integer, unique=True)
    reference: Mapped[str] = mapped_column(String(8), unique=True)
    origin: Mapped[str | None] = mapped_column(String(200), unique=True)
    """Identifies what a build was read from, so that it is read only once."""
    started_at: Mapped[datetime] = mapped_column(UtcInstant)
    seal: Mapped[SealColumn]


class DraftRow(Table):
    """What is known of a build now; `revision` counts its changes."""

    __tablename__ = "drafts"

    build_id: Mapped[int] = mapped_column(
        ForeignKey("builds.id"), primary_key=True, autoincrement=False
    )
    revision: Mapped[int] = mapped_column(Integer)
    content: Mapped[dict[str, Any]] = mapped_column(JSON)
    saved_at: Mapped[datetime] = mapped_column(UtcInstant)
    seal: Mapped[SealColumn]


class ChangeRow(Table):
    """One change of a draft; rows are only ever added."""

    __tablename__ = "changes"
    __table_args__ = (UniqueConstraint("build_id", "revision"),)

    id: Mapped[int] = mapped_column(Integer, primary_key=True)
    build_id: Mapped[int] = mapped_column(ForeignKey("builds.id"))
    revision: Mapped[int] = mapped_column(Integer)
    """The revision that the change led to."""
    kind: Mapped[str] = mapped_column(String(40))
    steps: Mapped[list[dict[str, Any]]] = mapped_column(JSON)
    undoes: Mapped[int | None] = mapped_column(Integer)
    """The revision whose change this one took back."""
    made_at: Mapped[datetime] = mapped_column(UtcInstant)
    seal: Mapped[SealColumn]


class DocumentRow(Table):
    """One document that was made; rows are only ever added."""

    __tablename__ = "documents"
    __table_args__ = (
        UniqueConstraint("build_id", "name"),
        Index("ix_documents_build_id_kind_spec_sha256", "build_id", "kind", "spec_sha256"),
    )

    id: Mapped[int] = mapped_column(Integer, primary_key=True)
    build_id: Mapped[int] = mapped_column(ForeignKey("builds.id"))
    kind: Mapped[str] = mapped_column(String(40))
    name: Mapped[str] = mapped_column(String(120))
    sha256: Mapped[str] = mapped_column(String(64))
    spec_sha256: Mapped[str] = mapped_column(String(64))
    made_at: Mapped[datetime] = mapped_column(UtcInstant)
    seal: Mapped[SealColumn]


class ContentRow(Table):
    """Something kept under the SHA-256 of its bytes: a spec's JSON, the files of a catalog."""

    __tablename__ = "contents"

    sha256: Mapped[str] = mapped_column(String(64), primary_key=True)
    what: Mapped[str] = mapped_column(String(40))
    """`spec` or `catalog`."""
    content: Mapped[bytes] = mapped_column(LargeBinary)
    seal: Mapped[SealColumn]


class EntryRow(Table):
    """One entry of the book; rows are only ever added, each hashed with the one before."""

    __tablename__ = "entries"
    __table_args__ = (
        UniqueConstraint("build_id", "kind", "slot"),
        Index("ix_entries_build_id_number", "build_id", "number"),
    )

    number: Mapped[int] = mapped_column(Integer, primary_key=True, autoincrement=False)
    """Counted up from 1 without a gap."""
    build_id: Mapped[int] = mapped_column(ForeignKey("builds.id"))
    kind: Mapped[str] = mapped_column(String(40))
    slot: Mapped[str | None] = mapped_column(String(80))
    """What of its kind can be only once in a build; two who race for it cannot both have it."""
    written: Mapped[str] = mapped_column(Text)
    """Canonical JSON of number, build, body, person and instant, exactly as it was hashed."""
    sha256: Mapped[str] = mapped_column(String(64), unique=True)


class LastEntryRow(Table):
    """The last entry of the book, noted with it; one row, so that a book cut off is found."""

    __tablename__ = "last_entry"

    id: Mapped[int] = mapped_column(Integer, primary_key=True, autoincrement=False)
    """Always 1."""
    number: Mapped[int] = mapped_column(Integer)
    """0 while the book is empty."""
    sha256: Mapped[str] = mapped_column(String(64))


class AccountRow(Table):
    """Somebody who may log in."""

    __tablename__ = "accounts"

    id: Mapped[int] = mapped_column(Integer, primary_key=True)
    name: Mapped[str] = mapped_column(String(200), unique=True)
    """Typed at the log-in, and printed under what the person signs."""
    roles: Mapped[list[str]] = mapped_column(JSON)
    password_hash: Mapped[str | None] = mapped_column(String(200))
    """None for somebody who comes in through an identity provider alone."""
    identity: Mapped[str | None] = mapped_column(String(200), unique=True)
    """The confirmed e-mail address or the lasting identifier of an identity provider."""
    is_active: Mapped[bool] = mapped_column()
    made_at: Mapped[datetime] = mapped_column(UtcInstant)
    seal: Mapped[SealColumn]


class LogInWaitRow(Table):
    """How long a name waits after failed log-ins, whether or not it has an account."""

    __tablename__ = "log_in_waits"

    name_sha256: Mapped[str] = mapped_column(String(64), primary_key=True)
    failures: Mapped[int] = mapped_column(Integer)
    """Tries since the last that succeeded."""
    wait_until: Mapped[datetime] = mapped_column(UtcInstant)
    seal: Mapped[SealColumn]


class SignInRow(Table):
    """A browser that is logged in."""

    __tablename__ = "sign_ins"

    token_sha256: Mapped[str] = mapped_column(String(64), primary_key=True)
    """Of the secret in the browser's cookie, which is kept nowhere."""
    account_id: Mapped[int] = mapped_column(ForeignKey("accounts.id"))
    role: Mapped[str] = mapped_column(String(40))
    """The hat the person wears now."""
    until: Mapped[datetime] = mapped_column(UtcInstant)
    seal: Mapped[SealColumn]
