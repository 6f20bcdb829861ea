/* by_itself.h: whether a piece goes into a load that holds nothing else, by all rules of the order;
 * and if not, which one of them keeps it out. */
#ifndef KILNSTOW_PLACE_FINISH_BY_ITSELF_H
#define KILNSTOW_PLACE_FINISH_BY_ITSELF_H

#include "place/job/job.h"

typedef enum {
    KS_BAR_NONE,  /* it goes in */
    KS_BAR_HANDS, /* at no side of it hands find room */
    KS_BAR_CONES, /* no shelves have a place for it and for the cone packs */
    KS_BAR_MASS,  /* with shelves and posts it is more than the kiln may carry */
    KS_BAR_OTHER, /* none of these alone */
} ks_bar;

typedef struct {
    ks_bar bar;
    double hand_room_mm; /* with which it would go in, KS_BAR_HANDS only */
    double mass_kg;      /* of it with shelves and posts, KS_BAR_MASS only */
} ks_by_itself;

/* The load is planned, with each rule taken away in turn if need be. */
ks_by_itself ks_by_itself_find(const ks_job *job, int kind, int item);

/* Whether it goes in without any doubt, as most ware does: no rule can be near. Nothing is planned.
 */
bool ks_surely_by_itself(const ks_job *job, int kind, int item);

/* Whether it goes in. */
bool ks_goes_by_itself(const ks_job *job, int kind, int item);

#endif
