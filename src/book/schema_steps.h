/* schema_steps.h: what brings the record from each version to the next. */
#ifndef KILNSTOW_BOOK_SCHEMA_STEPS_H
#define KILNSTOW_BOOK_SCHEMA_STEPS_H

/* The version of a record that this program writes. */
enum { KS_SCHEMA_TODAY = 3 };

/* From version i to i + 1. */
extern const char *const ks_schema_steps[KS_SCHEMA_TODAY];

#endif
