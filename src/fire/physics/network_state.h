/* network_state.h: a network as it is at a moment, to look ahead from and go back to. */
#ifndef KILNSTOW_FIRE_NETWORK_STATE_H
#define KILNSTOW_FIRE_NETWORK_STATE_H

#include "fire/physics/network.h"

typedef struct {
    ks_node *nodes;    /* as they were, their stacks' and walls' inside apart */
    double *stack_c;   /* temp_c and old_c of all stacks, one after the other */
    ks_drying *drying; /* by node */
} ks_network_state;

/* Keeps the present; a state that has been used before gives its room again. */
void ks_network_keep(const ks_network *net, ks_arena *arena, ks_network_state *state);

/* Puts the network back to what was kept. */
void ks_network_restore(ks_network *net, const ks_network_state *state);

#endif
