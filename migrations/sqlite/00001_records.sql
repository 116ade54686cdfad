-- +goose Up

-- The seven record tables. Each row bears, behind its record's columns, where it
-- came from: the batch that last wrote it, the row of that batch's file, and a
-- digest of its values. Money is in cents, flags are 0 or 1, dates and moments
-- are ISO 8601 text, and what is missing is NULL.

CREATE TABLE jobs (
    job_no          TEXT NOT NULL DEFAULT '',
    site            TEXT,
    bid_on          TEXT,
    won_on          TEXT,
    closed_on       TEXT,
    contract_price  INTEGER,
    bid_cost        INTEGER,
    actual_cost     INTEGER,
    won_from        TEXT,
    warranty_months INTEGER,
    note            TEXT,
    batch_id        INTEGER NOT NULL,
    row_no          INTEGER NOT NULL,
    digest          INTEGER NOT NULL,
    PRIMARY KEY (job_no)
) STRICT;

CREATE TABLE placements (
    job_no                TEXT NOT NULL DEFAULT '',
    placement             TEXT NOT NULL DEFAULT '',
    placed_on             TEXT,
    use                   TEXT,
    area_sqft             REAL,
    thickness_in          REAL,
    measured_thickness_in REAL,
    neat_yd               REAL,
    planned_yd            REAL,
    delivered_yd          REAL,
    leftover_yd           REAL,
    method                TEXT,
    pump_outfit           TEXT,
    hose_in               REAL,
    mix                   TEXT,
    mix_psi               REAL,
    max_aggregate_in      REAL,
    accelerator_pct       REAL,
    retarder              INTEGER,
    base                  TEXT,
    reinforcement         TEXT,
    bar                   TEXT,
    joint_spacing_ft      REAL,
    joint_cut             TEXT,
    joint_depth_in        REAL,
    saw_hours             REAL,
    finish                TEXT,
    curing                TEXT,
    air_temp_f            REAL,
    concrete_temp_f       REAL,
    humidity_pct          REAL,
    wind_mph              REAL,
    crew                  TEXT,
    crew_size             INTEGER,
    labor_hours           REAL,
    clogs                 INTEGER,
    clog_min              INTEGER,
    delay_min             INTEGER,
    callback_on           TEXT,
    callback_kind         TEXT,
    callback_cost         INTEGER,
    site                  TEXT,
    bid_on                TEXT,
    won_on                TEXT,
    closed_on             TEXT,
    contract_price        INTEGER,
    bid_cost              INTEGER,
    actual_cost           INTEGER,
    won_from              TEXT,
    warranty_months       INTEGER,
    batch_id              INTEGER NOT NULL,
    row_no                INTEGER NOT NULL,
    digest                INTEGER NOT NULL,
    PRIMARY KEY (job_no, placement)
) STRICT;

CREATE TABLE loads (
    job_no          TEXT NOT NULL DEFAULT '',
    placement       TEXT NOT NULL DEFAULT '',
    ticket_no       TEXT NOT NULL DEFAULT '',
    yards           REAL,
    batched_at      TEXT,
    arrived_at      TEXT,
    pour_start      TEXT,
    pour_end        TEXT,
    slump_in        REAL,
    concrete_temp_f REAL,
    water_added_gal REAL,
    note            TEXT,
    batch_id        INTEGER NOT NULL,
    row_no          INTEGER NOT NULL,
    digest          INTEGER NOT NULL,
    PRIMARY KEY (job_no, placement, ticket_no)
) STRICT;

CREATE TABLE delays (
    job_no    TEXT NOT NULL DEFAULT '',
    placement TEXT NOT NULL DEFAULT '',
    seq       INTEGER NOT NULL,
    cause     TEXT,
    spot      TEXT,
    minutes   INTEGER,
    note      TEXT,
    batch_id  INTEGER NOT NULL,
    row_no    INTEGER NOT NULL,
    digest    INTEGER NOT NULL,
    PRIMARY KEY (job_no, placement, seq)
) STRICT;

CREATE TABLE labor (
    job_no    TEXT NOT NULL DEFAULT '',
    placement TEXT NOT NULL DEFAULT '',
    worked_on TEXT NOT NULL DEFAULT '',
    crew      TEXT,
    task      TEXT NOT NULL DEFAULT '',
    hours     REAL,
    rate      INTEGER,
    batch_id  INTEGER NOT NULL,
    row_no    INTEGER NOT NULL,
    digest    INTEGER NOT NULL,
    PRIMARY KEY (job_no, placement, worked_on, task)
) STRICT;

CREATE TABLE costs (
    job_no         TEXT NOT NULL DEFAULT '',
    item           TEXT NOT NULL DEFAULT '',
    planned_qty    REAL,
    planned_rate   INTEGER,
    actual_qty     REAL,
    actual_rate    INTEGER,
    unit           TEXT,
    planned_amount INTEGER,
    actual_amount  INTEGER,
    batch_id       INTEGER NOT NULL,
    row_no         INTEGER NOT NULL,
    digest         INTEGER NOT NULL,
    PRIMARY KEY (job_no, item)
) STRICT;

CREATE TABLE visits (
    job_no      TEXT NOT NULL DEFAULT '',
    placement   TEXT NOT NULL DEFAULT '',
    seen_on     TEXT NOT NULL DEFAULT '',
    why         TEXT,
    finding     TEXT,
    crack_kind  TEXT,
    at_joint    INTEGER,
    width_in    REAL,
    length_ft   REAL,
    cost        INTEGER,
    labor_hours REAL,
    resolved_on TEXT,
    note        TEXT,
    batch_id    INTEGER NOT NULL,
    row_no      INTEGER NOT NULL,
    digest      INTEGER NOT NULL,
    PRIMARY KEY (job_no, placement, seen_on)
) STRICT;
