/* coast.h: what a kiln that is switched off still does to its cones. */
#ifndef KILNSTOW_FIRE_COAST_H
#define KILNSTOW_FIRE_COAST_H

#include "fire/physics/network_state.h"

/* A kiln as it is, and how it would cool from now on. */
typedef struct {
    ks_network *net;
    double from_c, fall_k_h; /* steered down from its reading at so much; 0 = it falls freely */
    double most_w;           /* of its heaters */
    double (*work_rate)(const void *of); /* heat work an hour, as the network is */
    const void *of;
} ks_coast;

/* Hours at the present temperatures that are worth as much heat work as the cooling would be. It is
 * followed ahead, and taken back to what `kept` is given to keep. */
double ks_coast_h(const ks_coast *coast, ks_arena *arena, ks_network_state *kept);

#endif
