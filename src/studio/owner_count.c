#include "studio/owner_count.h"

#include <string.h>

static ks_owner_count *count_for(ks_owner_count *counts, int *n, const char *owner)
{
    for (int i = 0; i < *n; i++)
        if (strcmp(counts[i].owner, owner) == 0)
            return &counts[i];
    counts[*n] = (ks_owner_count){.owner = owner};
    return &counts[(*n)++];
}

int ks_owner_counts(const ks_plan *plan, ks_arena *arena, ks_owner_count **out)
{
    const ks_order *order = plan->order;
    int n = 0, *placed = KS_TAKE(arena, order->n_pieces, int);
    *out = KS_TAKE(arena, order->n_pieces, ks_owner_count);
    for (int l = 0; l < plan->n_loads; l++) {
        const int *copies = ks_load_copies(plan, l, arena);
        for (int i = 0; i < order->n_pieces; i++)
            placed[i] += copies[i];
    }
    for (int i = 0; i < order->n_pieces; i++) {
        const ks_piece *piece = &order->pieces[i];
        if (!piece->owner || !*piece->owner || piece->fill)
            continue;
        ks_owner_count *own = count_for(*out, &n, piece->owner);
        own->placed += placed[i];
        own->wanted += piece->count;
    }
    return n;
}
