#include "kilnstow/plan.h"

int ks_plan_placed(const ks_plan *plan)
{
    int n = 0;
    for (int l = 0; l < plan->n_loads; l++)
        for (int v = 0; v < plan->loads[l].n_levels; v++) {
            const ks_level *level = &plan->loads[l].levels[v];
            for (int p = 0; p < level->n_pieces; p++)
                n += level->pieces[p].role != KS_CONES;
        }
    return n;
}

int ks_plan_waiting(const ks_plan *plan)
{
    int n = 0;
    for (int i = 0; i < plan->n_left_out; i++)
        n += plan->left_out[i].count;
    return n;
}
