#include "pack/search/restarts.h"

void ks_restarts_init(ks_restarts *restarts, ks_instance *instance, int room, ks_arena *arena)
{
    ks_packing_init(&restarts->best, instance, room, arena);
    for (int b = 0; b < KS_BRACKETS; b++)
        ks_packing_init(&restarts->brackets[b].best, instance, room, arena);
}

void ks_restarts_begin(ks_restarts *restarts, int bracket, int64_t work)
{
    restarts->bracket = bracket;
    restarts->began = work;
    restarts->worth = 0;
}

void ks_restarts_forget(ks_restarts *restarts, int64_t work)
{
    for (int b = 0; b < KS_BRACKETS; b++)
        restarts->brackets[b].entrants = 0;
    ks_restarts_begin(restarts, 0, work);
}

void ks_restarts_watch(ks_restarts *restarts, const ks_packing *layout, double worth)
{
    if (worth <= restarts->worth)
        return;
    ks_packing_copy(&restarts->best, layout);
    restarts->worth = worth;
}

/* Pairs of bodies count: with more of them each attempt costs more, and more are to be made. */
int64_t ks_restarts_length(const ks_restarts *restarts, int bodies)
{
    enum { PER_PAIR = 28000 };
    return ((int64_t)PER_PAIR * bodies * bodies) << restarts->bracket;
}

int ks_restarts_end(ks_restarts *restarts, ks_packing *start)
{
    enum { ENTRANTS = 4 };
    int last = restarts->bracket;
    if (restarts->brackets[last].entrants == 0 ||
        restarts->worth > restarts->brackets[last].worth) {
        restarts->brackets[last].worth = restarts->worth;
        ks_packing_copy(&restarts->brackets[last].best, &restarts->best);
    }
    if (++restarts->brackets[last].entrants < ENTRANTS)
        return 0;
    restarts->brackets[last].entrants = 0;
    ks_packing_copy(start, &restarts->brackets[last].best);
    return last + 1 < KS_BRACKETS ? last + 1 : last;
}
