#include "check/check_judge.h"

/* A load that is little filled beside another: whoever reads the plan may rather wait for more. */

#define HALF 0.5

/* Ware for the room of its chamber; 0 where the kiln is not known. */
static double fullness_of(const ks_judge *j, int load)
{
    const ks_order *order = j->order;
    int kiln = j->plan->loads[load].kiln;
    const int *copies = ks_load_copies(j->plan, load, j->arena);
    double sum = 0;
    for (int i = 0; i < order->n_pieces; i++)
        sum += copies[i] * order->pieces[i].volume_mm3;
    return kiln >= 0 && kiln < order->n_kilns ? sum / ks_chamber_litres(&order->kilns[kiln]) : 0;
}

void ks_check_rump(ks_judge *j)
{
    int n = j->plan->n_loads, fullest = 0;
    double *full = KS_TAKE(j->arena, n, double);
    for (int l = 0; l < n; l++) {
        full[l] = fullness_of(j, l);
        fullest = full[l] > full[fullest] ? l : fullest;
    }
    for (int l = 0; l < n; l++)
        if (full[l] > 0 && full[l] < HALF * full[fullest])
            ks_remark_note(
                j, REMARK_RUMP,
                (ks_spot){.load = l,
                          .level = -1,
                          .a = ks_arena_print(j->arena, "less than half as full as load %d",
                                              fullest + 1)});
}
