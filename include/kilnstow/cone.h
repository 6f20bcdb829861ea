/* cone.h: pyrometric cones: the temperatures they stand for, and the heat work that bends them. */
#ifndef KILNSTOW_CONE_H
#define KILNSTOW_CONE_H

#include "kilnstow/arena.h"

#include <stdbool.h>

#ifdef __cplusplus
extern "C" {
#endif

/* A self-supporting cone: the temperature at which its tip is level with its base, by heating rate
 * over the last 100 K. */
typedef struct {
    const char *name;
    double temp_c[3];     /* at 15, 60 and 150 K/h; NAN where the chart gives none */
    double large_c[2];    /* large cone at 60 and 150 K/h, NAN where not listed */
    double small_300_c;   /* small cone at 300 K/h, NAN where not listed */
    double energy_kj_mol; /* of its heat work, smoothed over the row */
    const char *source;
} ks_cone_row;

/* How many cones the chart has. */
int ks_cone_count(void);
const ks_cone_row *ks_cone(int place); /* from the coldest, 0 <= place < ks_cone_count() */

/* Place of a cone by name ("04", "5.5", "5 1/2", "cone 6"), -1 if there is none. */
int ks_cone_find(const char *name);

/* Temperature that bends it at this rate, straight in the logarithm of the rate, also beyond 15 and
 * 150 K/h (held at 2 and 600, and at 60 for the coldest cones); NAN for an unknown cone. */
double ks_cone_temp_c(const char *cone, double rate_c_h);

/* The other way: place in the row, with its fraction, of the cone that this peak at this rate
 * bends; -1 below the first cone, ks_cone_count() - 1 at and above the last. */
double ks_cone_at(double peak_c, double rate_c_h);

/* A place in words of orders: "6", or between two cones the lower with how far: "5.5+0.4". */
const char *ks_cone_print(double place, ks_arena *arena);
/* And back; false where the text is no such place. */
bool ks_cone_place_read(const char *text, double *place);

/* The same as the temperature that such a place stands for at 60 K/h, and what still counts as
 * having seen the cone: half a cone (half way to the whole cone below and above) is what kilns and
 * packs vary by, common practice, no source; and never less than half of the 22 K it bends over. */
double ks_cone_place_c(double place);
double ks_cone_least_c(int place);
double ks_cone_most_c(int place);

/* Heat work: the cone is down when the integral of exp(-E/R (1/T - 1/1500 K)) over time, in hours,
 * has come to `hours_at_1500_k`. Fitted here to the chart, its middle column (60 K/h) exact, the
 * others within 11 K (rms 3.4 K); it is nobody's published figure. */
typedef struct {
    double energy_kj_mol;
    double hours_at_1500_k;
} ks_heat_work;
/* That of the cone at a place in the row, 0 <= place < ks_cone_count(). */
ks_heat_work ks_cone_heat_work(int place);

/* How fast a cone at this temperature goes down: fractions of its whole bend per hour. */
double ks_heat_work_rate(const ks_heat_work *work, double temp_c);

/* The cone, as a place in the row with its fraction, that has gone down where the temperature ran
 * straight from each of these moments to the next; times rise. */
double ks_cone_of_curve(int n, const double *time_h, const double *temp_c);

/* The peak that bends the cone when it is reached at rate_c_h and held for hold_h. */
double ks_cone_peak_with_hold_c(int place, double rate_c_h, double hold_h);

#ifdef __cplusplus
}
#endif

#endif
