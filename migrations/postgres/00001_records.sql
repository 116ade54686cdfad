-- +goose Up

-- The seven record tables. Each row bears, behind its record's columns, where it
-- came from: the batch that last wrote it, the row of that batch's file, and a
-- digest of its values. Money is in cents, flags are 0 or 1, dates and moments
-- are ISO 8601 text, and what is missing is NULL.

CREATE TABLE jobs (
    job_no          TEXT COLLATE "C" NOT NULL DEFAULT '',
    site            TEXT,
    bid_on          TEXT,
    won_on          TEXT,
    closed_on       TEXT,
    contract_price  BIGINT,
    bid_cost        BIGINT,
    actual_cost     BIGINT,
    won_from        TEXT,
    warranty_months BIGINT,
    note            TEXT,
    batch_id        BIGINT NOT NULL,
    row_no          BIGINT NOT NULL,
    digest          BIGINT NOT NULL,
    PRIMARY KEY (job_no)
);

CREATE TABLE placements (
    job_no                TEXT COLLATE "C" NOT NULL DEFAULT '',
    placement             TEXT COLLATE "C" NOT NULL DEFAULT '',
    placed_on             TEXT,
    use                   TEXT,
    area_sqft             DOUBLE PRECISION,
    thickness_in          DOUBLE PRECISION,
    measured_thickness_in DOUBLE PRECISION,
    neat_yd               DOUBLE PRECISION,
    planned_yd            DOUBLE PRECISION,
    delivered_yd          DOUBLE PRECISION,
    leftover_yd           DOUBLE PRECISION,
    method                TEXT,
    pump_outfit           TEXT,
    hose_in               DOUBLE PRECISION,
    mix                   TEXT,
    mix_psi               DOUBLE PRECISION,
    max_aggregate_in      DOUBLE PRECISION,
    accelerator_pct       DOUBLE PRECISION,
    retarder              SMALLINT,
    base                  TEXT,
    reinforcement         TEXT,
    bar                   TEXT,
    joint_spacing_ft      DOUBLE PRECISION,
    joint_cut             TEXT,
    joint_depth_in        DOUBLE PRECISION,
    saw_hours             DOUBLE PRECISION,
    finish                TEXT,
    curing                TEXT,
    air_temp_f            DOUBLE PRECISION,
    concrete_temp_f       DOUBLE PRECISION,
    humidity_pct          DOUBLE PRECISION,
    wind_mph              DOUBLE PRECISION,
    crew                  TEXT,
    crew_size             BIGINT,
    labor_hours           DOUBLE PRECISION,
    clogs                 BIGINT,
    clog_min              BIGINT,
    delay_min             BIGINT,
    callback_on           TEXT,
    callback_kind         TEXT,
    callback_cost         BIGINT,
    site                  TEXT,
    bid_on                TEXT,
    won_on                TEXT,
    closed_on             TEXT,
    contract_price        BIGINT,
    bid_cost              BIGINT,
    actual_cost           BIGINT,
    won_from              TEXT,
    warranty_months       BIGINT,
    batch_id              BIGINT NOT NULL,
    row_no                BIGINT NOT NULL,
    digest                BIGINT NOT NULL,
    PRIMARY KEY (job_no, placement)
);

CREATE TABLE loads (
    job_no          TEXT COLLATE "C" NOT NULL DEFAULT '',
    placement       TEXT COLLATE "C" NOT NULL DEFAULT '',
    ticket_no       TEXT COLLATE "C" NOT NULL DEFAULT '',
    yards           DOUBLE PRECISION,
    batched_at      TEXT,
    arrived_at      TEXT,
    pour_start      TEXT,
    pour_end        TEXT,
    slump_in        DOUBLE PRECISION,
    concrete_temp_f DOUBLE PRECISION,
    water_added_gal DOUBLE PRECISION,
    note            TEXT,
    batch_id        BIGINT NOT NULL,
    row_no          BIGINT NOT NULL,
    digest          BIGINT NOT NULL,
    PRIMARY KEY (job_no, placement, ticket_no)
);

CREATE TABLE delays (
    job_no    TEXT COLLATE "C" NOT NULL DEFAULT '',
    placement TEXT COLLATE "C" NOT NULL DEFAULT '',
    seq       BIGINT NOT NULL,
    cause     TEXT,
    spot      TEXT,
    minutes   BIGINT,
    note      TEXT,
    batch_id  BIGINT NOT NULL,
    row_no    BIGINT NOT NULL,
    digest    BIGINT NOT NULL,
    PRIMARY KEY (job_no, placement, seq)
);

CREATE TABLE labor (
    job_no    TEXT COLLATE "C" NOT NULL DEFAULT '',
    placement TEXT COLLATE "C" NOT NULL DEFAULT '',
    worked_on TEXT COLLATE "C" NOT NULL DEFAULT '',
    crew      TEXT,
    task      TEXT COLLATE "C" NOT NULL DEFAULT '',
    hours     DOUBLE PRECISION,
    rate      BIGINT,
    batch_id  BIGINT NOT NULL,
    row_no    BIGINT NOT NULL,
    digest    BIGINT NOT NULL,
    PRIMARY KEY (job_no, placement, worked_on, task)
);

CREATE TABLE costs (
    job_no         TEXT COLLATE "C" NOT NULL DEFAULT '',
    item           TEXT COLLATE "C" NOT NULL DEFAULT '',
    planned_qty    DOUBLE PRECISION,
    planned_rate   BIGINT,
    actual_qty     DOUBLE PRECISION,
    actual_rate    BIGINT,
    unit           TEXT,
    planned_amount BIGINT,
    actual_amount  BIGINT,
    batch_id       BIGINT NOT NULL,
    row_no         BIGINT NOT NULL,
    digest         BIGINT NOT NULL,
    PRIMARY KEY (job_no, item)
);

CREATE TABLE visits (
    job_no      TEXT COLLATE "C" NOT NULL DEFAULT '',
    placement   TEXT COLLATE "C" NOT NULL DEFAULT '',
    seen_on     TEXT COLLATE "C" NOT NULL DEFAULT '',
    why         TEXT,
    finding     TEXT,
    crack_kind  TEXT,
    at_joint    SMALLINT,
    width_in    DOUBLE PRECISION,
    length_ft   DOUBLE PRECISION,
    cost        BIGINT,
    labor_hours DOUBLE PRECISION,
    resolved_on TEXT,
    note        TEXT,
    batch_id    BIGINT NOT NULL,
    row_no      BIGINT NOT NULL,
    digest      BIGINT NOT NULL,
    PRIMARY KEY (job_no, placement, seen_on)
);
