"""The second schema: what loggers wrote of the air of places."""

from __future__ import annotations

from alembic import op

revision = "0002"
down_revision = "0001"

STATEMENTS = (
    """CREATE TABLE air_reading (
        place INTEGER NOT NULL,
        day VARCHAR NOT NULL,
        readings INTEGER NOT NULL,
        packed VARCHAR NOT NULL,
        halves VARCHAR NOT NULL,
        CONSTRAINT pk_air_reading PRIMARY KEY (place, day),
        CONSTRAINT ck_air_reading_some CHECK (readings > 0),
        CONSTRAINT fk_air_reading_place_place FOREIGN KEY(place) REFERENCES place (id) ON DELETE RESTRICT
    )""",
    """CREATE TABLE air_import (
        id INTEGER NOT NULL,
        place INTEGER NOT NULL,
        file VARCHAR NOT NULL,
        at TEXT NOT NULL,
        first TEXT NOT NULL,
        last TEXT NOT NULL,
        added INTEGER NOT NULL,
        changed INTEGER NOT NULL,
        CONSTRAINT pk_air_import PRIMARY KEY (id),
        CONSTRAINT fk_air_import_place_place FOREIGN KEY(place) REFERENCES place (id) ON DELETE RESTRICT
    )""",
    """CREATE INDEX ix_air_import_place ON air_import (place)""",
)


def upgrade() -> None:
    """From schema 1: two tables more, nothing that was there is touched."""
    for statement in STATEMENTS:
        op.execute(statement)
