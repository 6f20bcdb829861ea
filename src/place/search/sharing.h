/* sharing.h: which ware goes to which load before any of it is packed: a small whole-number program
 * over groups of ware, solved in stages as plans are compared.
 *
 * A group is ware that is due on one day, suits the same kinds of load, is kept apart from the same
 * other ware and is of one set: only these decide which load a piece may or should go to. Ware is
 * taken as liquid, each load as holding so much of it; what packing then finds lowers that measure
 * where a load could not take its share (cuts of a logic-based Benders decomposition: J. N. Hooker,
 * Logic-Based Methods for Optimization, 2000). */
#ifndef KILNSTOW_PLACE_SEARCH_SHARING_H
#define KILNSTOW_PLACE_SEARCH_SHARING_H

#include "place/job/job.h"

typedef struct {
    const ks_job *job;
    const int *left;        /* copies of each item to share out */
    const double *bulk;     /* of a copy of each */
    const bool *open;       /* of each slot: it takes part */
    const double *capacity; /* of each slot, as bulk */
    int loads;              /* that may be fired, at most */
} ks_sharing_ask;

typedef struct {
    bool solved;
    double bulk;     /* of all that has a load */
    double *part;    /* [slot * n_items + item]: of what is left of it, 0 to 1 */
    bool *fired;     /* of each slot */
    bool *elsewhere; /* [slot * n_items + item]: it must not go there, or goes to another as a whole
                      */
} ks_sharing;

ks_sharing ks_sharing_find(const ks_sharing_ask *ask, ks_arena *arena);

#endif
