"""The first schema, as the first released program made it."""

from __future__ import annotations

from alembic import op

revision = "0001"
down_revision = None

STATEMENTS = (
    """CREATE TABLE place (
        id INTEGER NOT NULL,
        name VARCHAR NOT NULL,
        parent INTEGER,
        position DOUBLE NOT NULL,
        isolation BOOLEAN NOT NULL,
        bench BOOLEAN NOT NULL,
        lights_out VARCHAR,
        CONSTRAINT pk_place PRIMARY KEY (id),
        CONSTRAINT ck_place_not_own_parent CHECK (parent <> id),
        CONSTRAINT ck_place_named CHECK (length(name) > 0),
        CONSTRAINT fk_place_parent_place FOREIGN KEY(parent) REFERENCES place (id) ON DELETE RESTRICT
    )""",
    """CREATE TABLE source (
        id INTEGER NOT NULL,
        name VARCHAR NOT NULL,
        notes VARCHAR NOT NULL,
        CONSTRAINT pk_source PRIMARY KEY (id),
        CONSTRAINT uq_source_name UNIQUE (name)
    )""",
    """CREATE TABLE plant (
        number INTEGER NOT NULL,
        name VARCHAR NOT NULL,
        habit VARCHAR NOT NULL,
        notes VARCHAR NOT NULL,
        CONSTRAINT pk_plant PRIMARY KEY (number),
        CONSTRAINT ck_plant_positive CHECK (number > 0),
        CONSTRAINT ck_plant_named CHECK (length(name) > 0),
        CONSTRAINT ck_plant_habit CHECK (habit IN ('monopodial', 'sympodial', 'unknown'))
    )""",
    """CREATE TABLE bench_session (
        id INTEGER NOT NULL,
        started_at TEXT NOT NULL,
        ended_at TEXT,
        left_at TEXT,
        loose_ends TEXT NOT NULL,
        CONSTRAINT pk_bench_session PRIMARY KEY (id)
    )""",
    """CREATE TABLE house (
        name VARCHAR NOT NULL,
        value TEXT NOT NULL,
        CONSTRAINT pk_house PRIMARY KEY (name)
    )""",
    """CREATE TABLE deed (
        id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
        label VARCHAR NOT NULL,
        at TEXT NOT NULL,
        kinds TEXT NOT NULL,
        undone BOOLEAN NOT NULL
    )""",
    """CREATE TABLE run (
        id INTEGER NOT NULL,
        session INTEGER NOT NULL,
        plant INTEGER NOT NULL,
        protocol VARCHAR NOT NULL,
        title VARCHAR NOT NULL,
        position DOUBLE NOT NULL,
        standing VARCHAR NOT NULL,
        standing_why VARCHAR NOT NULL,
        CONSTRAINT pk_run PRIMARY KEY (id),
        CONSTRAINT fk_run_session_bench_session FOREIGN KEY(session) REFERENCES bench_session (id) ON DELETE RESTRICT,
        CONSTRAINT fk_run_plant_plant FOREIGN KEY(plant) REFERENCES plant (number) ON DELETE RESTRICT
    )""",
    """CREATE TABLE tool_use (
        id INTEGER NOT NULL,
        session INTEGER NOT NULL,
        tool VARCHAR NOT NULL,
        plant INTEGER NOT NULL,
        at TEXT NOT NULL,
        CONSTRAINT pk_tool_use PRIMARY KEY (id),
        CONSTRAINT fk_tool_use_session_bench_session FOREIGN KEY(session) REFERENCES bench_session (id)
            ON DELETE RESTRICT,
        CONSTRAINT fk_tool_use_plant_plant FOREIGN KEY(plant) REFERENCES plant (number) ON DELETE RESTRICT
    )""",
    """CREATE INDEX ix_tool_use_session ON tool_use (session)""",
    """CREATE TABLE deed_change (
        id INTEGER NOT NULL,
        deed INTEGER NOT NULL,
        subject VARCHAR NOT NULL,
        "key" TEXT,
        image TEXT,
        CONSTRAINT pk_deed_change PRIMARY KEY (id),
        CONSTRAINT ck_deed_change_says_something CHECK (key IS NOT NULL OR image IS NOT NULL),
        CONSTRAINT fk_deed_change_deed_deed FOREIGN KEY(deed) REFERENCES deed (id) ON DELETE CASCADE
    )""",
    """CREATE INDEX ix_deed_change_deed ON deed_change (deed)""",
    """CREATE TABLE run_step (
        id INTEGER NOT NULL,
        run INTEGER NOT NULL,
        ordinal INTEGER NOT NULL,
        step TEXT NOT NULL,
        state VARCHAR NOT NULL,
        done_at TEXT,
        found TEXT NOT NULL,
        CONSTRAINT pk_run_step PRIMARY KEY (id),
        CONSTRAINT ck_run_step_state CHECK (state IN ('open', 'soaking', 'done', 'skipped')),
        CONSTRAINT fk_run_step_run_run FOREIGN KEY(run) REFERENCES run (id) ON DELETE RESTRICT
    )""",
    """CREATE INDEX ix_run_step_run ON run_step (run)""",
    """CREATE TABLE soak (
        id INTEGER NOT NULL,
        session INTEGER NOT NULL,
        run INTEGER,
        step INTEGER,
        tool VARCHAR NOT NULL,
        what VARCHAR NOT NULL,
        agent VARCHAR NOT NULL,
        started_at TEXT NOT NULL,
        least_s DOUBLE NOT NULL,
        most_s DOUBLE NOT NULL,
        ended_at TEXT,
        early BOOLEAN NOT NULL,
        boot VARCHAR NOT NULL,
        boot_s DOUBLE NOT NULL,
        CONSTRAINT pk_soak PRIMARY KEY (id),
        CONSTRAINT ck_soak_window CHECK (least_s >= 0 AND most_s >= least_s),
        CONSTRAINT fk_soak_session_bench_session FOREIGN KEY(session) REFERENCES bench_session (id) ON DELETE RESTRICT,
        CONSTRAINT fk_soak_run_run FOREIGN KEY(run) REFERENCES run (id) ON DELETE RESTRICT,
        CONSTRAINT fk_soak_step_run_step FOREIGN KEY(step) REFERENCES run_step (id) ON DELETE RESTRICT
    )""",
    """CREATE INDEX ix_soak_session ON soak (session)""",
    """CREATE TABLE entry (
        id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
        at TEXT NOT NULL,
        kind VARCHAR NOT NULL,
        plant INTEGER,
        place INTEGER,
        facts TEXT NOT NULL,
        note VARCHAR NOT NULL,
        run INTEGER,
        step INTEGER,
        CONSTRAINT fk_entry_plant_plant FOREIGN KEY(plant) REFERENCES plant (number) ON DELETE RESTRICT,
        CONSTRAINT fk_entry_place_place FOREIGN KEY(place) REFERENCES place (id) ON DELETE RESTRICT,
        CONSTRAINT fk_entry_run_run FOREIGN KEY(run) REFERENCES run (id) ON DELETE RESTRICT,
        CONSTRAINT fk_entry_step_run_step FOREIGN KEY(step) REFERENCES run_step (id) ON DELETE RESTRICT
    )""",
    """CREATE INDEX ix_entry_place_at ON entry (place, at)""",
    """CREATE INDEX ix_entry_plant_at ON entry (plant, at)""",
    """CREATE INDEX ix_entry_kind_at ON entry (kind, at)""",
    """CREATE INDEX ix_entry_step ON entry (step)""",
)


def upgrade() -> None:
    """From an empty file to schema 1."""
    for statement in STATEMENTS:
        op.execute(statement)
