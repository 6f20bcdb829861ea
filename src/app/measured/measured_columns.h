/* measured_columns.h: what the heading of a recorder's column says that the column is. */
#ifndef KILNSTOW_APP_MEASURED_MEASURED_COLUMNS_H
#define KILNSTOW_APP_MEASURED_MEASURED_COLUMNS_H

#include <stdbool.h>

typedef enum {
    KS_RECORDED_UNKNOWN, /* no word that is known: what it is is seen from what stands in it */
    KS_RECORDED_TIME,
    KS_RECORDED_DATE,
    KS_RECORDED_TEMP,
    KS_RECORDED_SET,  /* what was asked of the kiln */
    KS_RECORDED_OTHER /* power, the room's temperature, a row's number */
} ks_recorded_role;

typedef struct {
    ks_recorded_role role;
    double unit_s;        /* of a time, 0 = not told */
    bool elapsed;         /* a time since the beginning rather than the clock's */
    bool minutes_seconds; /* "mm:ss" */
    char degrees;         /* of a temperature: 'C', 'F' or 'K'; NUL = not told */
} ks_recorded_heading;

/* By the words in it, whatever their case, and its units: "Temp. 2 (°F)", "ElapsedMin", "time_h".
 */
ks_recorded_heading ks_recorded_heading_read(const char *text);

#endif
