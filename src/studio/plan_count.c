#include "kilnstow/plan.h"

static bool is_fill(const ks_plan *plan, const ks_placed *placed)
{
    return placed->piece >= 0 && plan->order->pieces[placed->piece].fill;
}

/* Ware of one sort; `piece` -1 = of all kinds. */
static int count_ware(const ks_plan *plan, bool fill, int piece)
{
    int n = 0;
    for (int l = 0; l < plan->n_loads; l++)
        for (int v = 0; v < plan->loads[l].n_levels; v++) {
            const ks_level *level = &plan->loads[l].levels[v];
            for (int p = 0; p < level->n_pieces; p++)
                n += level->pieces[p].role != KS_CONES &&
                     is_fill(plan, &level->pieces[p]) == fill &&
                     (piece < 0 || level->pieces[p].piece == piece);
        }
    return n;
}

int *ks_load_copies(const ks_plan *plan, int load, ks_arena *arena)
{
    const ks_load *of = &plan->loads[load];
    int *copies = KS_TAKE(arena, plan->order->n_pieces, int);
    for (int v = 0; v < of->n_levels; v++)
        for (int p = 0; p < of->levels[v].n_pieces; p++) {
            int piece = of->levels[v].pieces[p].piece;
            if (piece >= 0 && piece < plan->order->n_pieces)
                copies[piece]++;
        }
    return copies;
}

int ks_plan_placed(const ks_plan *plan)
{
    return count_ware(plan, false, -1);
}

int ks_plan_filled(const ks_plan *plan)
{
    return count_ware(plan, true, -1);
}

int ks_plan_filled_of(const ks_plan *plan, int piece)
{
    return count_ware(plan, true, piece);
}

int ks_plan_waiting(const ks_plan *plan)
{
    int n = 0;
    for (int i = 0; i < plan->n_left_out; i++)
        n += plan->left_out[i].count;
    return n;
}
