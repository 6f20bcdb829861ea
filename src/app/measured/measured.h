/* measured.h: a recorded firing laid over the simulated one. */
#ifndef KILNSTOW_APP_MEASURED_MEASURED_H
#define KILNSTOW_APP_MEASURED_MEASURED_H

#include "app/measured/measured_file.h"
#include "kilnstow/fire.h"

/* What is told of a curve by itself; hours since switching on. */
typedef struct {
    double peak_c, peak_h;
    double heated_h; /* the last time within 5 K of the peak: there heating, holds included, ends */
    double cone;     /* that has gone down there by heat work, a place in ks_cone() */
} ks_curve_told;

/* A stretch in which the record lies to one side of the simulated chamber by more than the
 * doubt of a thermocouple. */
typedef struct {
    double from_h, to_h;
    double at_h, measured_c, simulated_c; /* where they differ most */
    double late_h; /* there: since when the simulated chamber had that temperature; < 0 where it
                      is yet to come, NAN where it never has it */
    double simulated_part; /* of the highest draw, at that moment */
} ks_measured_stretch;

typedef struct {
    ks_measured record;
    double begins_h;       /* of the simulated firing, where the record's first reading lies */
    const char *begins_by; /* how that was found */
    double from_h, to_h;   /* compared: while both heat */
    bool still_heating;    /* the record ends at its peak */
    double mean_k, rms_k;  /* of the record over the simulated chamber, by time */
    ks_curve_told *curves; /* one for each of the record's */
    ks_curve_told mean, simulated;
    int n_stretches;
    ks_measured_stretch *stretches;
} ks_comparison;

/* Compares the mean of the record with the simulated chamber. KS_BAD_INPUT where they have no time
 * in common. */
ks_status ks_measured_compare(const ks_measured *record, const ks_firing_result *fired,
                              ks_arena *arena, ks_comparison *out, ks_error *err);

/* A curve of the record at an hour of the simulated firing, NAN where it has nothing. */
double ks_compared_at(const ks_comparison *comparison, const ks_measured_curve *curve,
                      double hours);

#endif
