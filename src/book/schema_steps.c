/* What each version of the record has brought, in SQL. */
#include "book/schema_steps.h"

/* One step for each version; what a version has once brought is never changed here. A record is
 * never rewritten, so its rows refuse to change. */
const char *const ks_schema_steps[KS_SCHEMA_TODAY] = {
    "PRAGMA application_id = 1802071150;"
    "CREATE TABLE plan (hash TEXT PRIMARY KEY, text TEXT NOT NULL);"
    "CREATE TABLE firing (n INTEGER NOT NULL, edition INTEGER NOT NULL, written TEXT NOT NULL,"
    " plan TEXT NOT NULL REFERENCES plan, load INTEGER NOT NULL, kiln TEXT NOT NULL,"
    " title TEXT NOT NULL, started TEXT NOT NULL, ended TEXT NOT NULL, kwh REAL, meter_from REAL,"
    " meter_to REAL, meter_unit TEXT NOT NULL, minutes REAL, currency TEXT NOT NULL,"
    " digits INTEGER NOT NULL, bill_minor INTEGER NOT NULL, note TEXT NOT NULL,"
    " struck TEXT NOT NULL, PRIMARY KEY (n, edition));"
    "CREATE TABLE payment (n INTEGER NOT NULL, edition INTEGER NOT NULL, written TEXT NOT NULL,"
    " day TEXT NOT NULL, member TEXT NOT NULL, currency TEXT NOT NULL, digits INTEGER NOT NULL,"
    " minor INTEGER NOT NULL, note TEXT NOT NULL, struck TEXT NOT NULL, PRIMARY KEY (n, edition));"
    "CREATE TABLE cone (n INTEGER NOT NULL, edition INTEGER NOT NULL, place INTEGER NOT NULL,"
    " level TEXT NOT NULL, side TEXT NOT NULL, cone TEXT NOT NULL,"
    " PRIMARY KEY (n, edition, place), FOREIGN KEY (n, edition) REFERENCES firing);"
    "CREATE TABLE loss (n INTEGER NOT NULL, edition INTEGER NOT NULL, place INTEGER NOT NULL,"
    " piece TEXT NOT NULL, copies INTEGER NOT NULL, why TEXT NOT NULL,"
    " PRIMARY KEY (n, edition, place), FOREIGN KEY (n, edition) REFERENCES firing);"
    "CREATE TABLE photo (n INTEGER NOT NULL, edition INTEGER NOT NULL, place INTEGER NOT NULL,"
    " file TEXT NOT NULL,"
    " PRIMARY KEY (n, edition, place), FOREIGN KEY (n, edition) REFERENCES firing);"
    "CREATE TABLE reading (n INTEGER NOT NULL, edition INTEGER NOT NULL, place INTEGER NOT NULL,"
    " curve TEXT NOT NULL, time_h REAL NOT NULL, temp_c REAL NOT NULL,"
    " PRIMARY KEY (n, edition, place), FOREIGN KEY (n, edition) REFERENCES firing);"
    "CREATE TABLE charge (n INTEGER NOT NULL, edition INTEGER NOT NULL, place INTEGER NOT NULL,"
    " member TEXT NOT NULL, name TEXT NOT NULL, pieces INTEGER NOT NULL, minor INTEGER NOT NULL,"
    " PRIMARY KEY (n, edition, place), FOREIGN KEY (n, edition) REFERENCES firing);"
    "CREATE TABLE waited (n INTEGER NOT NULL, edition INTEGER NOT NULL, place INTEGER NOT NULL,"
    " member TEXT NOT NULL, piece TEXT NOT NULL, name TEXT NOT NULL, why TEXT NOT NULL,"
    " copies INTEGER NOT NULL,"
    " PRIMARY KEY (n, edition, place), FOREIGN KEY (n, edition) REFERENCES firing);"
    "CREATE INDEX firing_started ON firing (started);"
    "CREATE INDEX firing_kiln ON firing (kiln);"
    "CREATE INDEX firing_written ON firing (written);"
    "CREATE INDEX payment_written ON payment (written);"
    "CREATE INDEX payment_day ON payment (day);"
    "CREATE TRIGGER firing_stays BEFORE UPDATE ON firing BEGIN"
    " SELECT RAISE(ABORT, 'an entry is never rewritten'); END;"
    "CREATE TRIGGER firing_is_kept BEFORE DELETE ON firing BEGIN"
    " SELECT RAISE(ABORT, 'an entry is never taken out'); END;"
    "CREATE TRIGGER payment_stays BEFORE UPDATE ON payment BEGIN"
    " SELECT RAISE(ABORT, 'an entry is never rewritten'); END;"
    "CREATE TRIGGER payment_is_kept BEFORE DELETE ON payment BEGIN"
    " SELECT RAISE(ABORT, 'an entry is never taken out'); END;",
    /* Where a cone stood, so that a map of the kiln needs no plans; who asks for a load's entries.
     */
    "ALTER TABLE cone ADD COLUMN height REAL;"
    "CREATE INDEX firing_plan ON firing (plan, load);",
};
