/* descent.h: moves and turns all bodies of a packing at once until nothing overlaps, or no way is
 * left. */
#ifndef KILNSTOW_PACK_INSTANCE_DESCENT_H
#define KILNSTOW_PACK_INSTANCE_DESCENT_H

#include "pack/instance/penalty.h"

enum { KS_RELAX_MEMORY = 6, KS_POLISH_MOST = 400 /* values */ };

/* A limited-memory quasi-Newton descent of the penalty (Nocedal 1980: "Updating quasi-Newton
 * matrices with limited storage"; Liu and Nocedal 1989). */
typedef struct {
    ks_packing *packing;
    ks_penalty penalty;
    int n_values, room;
    int *at; /* of each body: its x among the values, y behind it, then its turn if free */
    double *value, *slope, *old_value, *old_slope, *way;
    double *step[KS_RELAX_MEMORY], *change[KS_RELAX_MEMORY];
    double curve[KS_RELAX_MEMORY];
    int n_kept, newest;
    double stride_mm;   /* most that a value may change in one step */
    double penalty_mm2; /* now */
    double gone_mm;     /* how far bodies may have gone since the pairs were listed */
    int from, to;       /* bodies that move */
    ks_contact *contacts;
    int contact_room;
    double *matrix, *move; /* room for the polish */
    bool *counts;
    bool posts_turn;  /* whether they may */
    bool turns_posts; /* whether this descent turns them */
} ks_descent;

#define KS_RELAX_DONE_MM 0.001 /* shortfall that rounding to the grid has room for */

typedef struct {
    int steps;         /* at most */
    int patience;      /* after so many steps the penalty must have fallen ... */
    double fall;       /* ... to this fraction, or the attempt is given up */
    double hope;       /* it is also given up when so many times what it fell by last ... */
    double wanted_mm2; /* ... would not bring it down to this; infinity = it goes on */
    double excess_mm2; /* it is given up, too, when after n steps the penalty is more than this /
                          n^4 above what is wanted (looked at now and then); 0 = it goes on */
} ks_descent_limits;

void ks_descent_init(ks_descent *descent, ks_packing *packing, int64_t *work, ks_arena *arena);

/* True when every clearance holds. The packing is left where the descent ended. */
bool ks_descent_run(ks_descent *descent, ks_descent_limits limits);

/* The same without the polish at the end. */
bool ks_descent_down(ks_descent *descent, ks_descent_limits limits);

/* The same for one body among others that stay: true when it stands free. */
bool ks_descent_one(ks_descent *descent, int i, int steps);

/* From where the last descent ended, when little is short: true when every clearance holds now. */
bool ks_relax_polish(ks_descent *descent);

/* A turn counts as the way of a point at this distance, so that all values are lengths. */
double ks_relax_arm(const ks_item_type *kind);
double ks_relax_post_arm(const ks_packing *packing);

/* Sum of products, in four sums that a processor adds side by side. */
static inline double ks_relax_dot(const double *a, const double *b, int n)
{
    double sum[4] = {0, 0, 0, 0};
    int whole = n - n % 4;
    for (int i = 0; i < whole; i += 4)
        for (int k = 0; k < 4; k++)
            sum[k] += a[i + k] * b[i + k];
    for (int i = whole; i < n; i++)
        sum[0] += a[i] * b[i];
    return (sum[0] + sum[1]) + (sum[2] + sum[3]);
}

/* Moves the packing's bodies to where the values say. */
void ks_relax_show(ks_descent *descent);

#endif
