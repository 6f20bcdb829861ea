#include "pack/shelf/shelf_rule.h"

#include <string.h>

/* Whether some part of `upper` is over some part of `lower`. */
static bool overhangs(const ks_shelf_item *upper, ks_outline *const upper_at,
                      const ks_shelf_item *lower, ks_outline *const lower_at)
{
    for (int p = 0; p < upper->n_parts; p++)
        for (int q = 0; q < lower->n_parts; q++)
            if (upper->parts[p].from_mm >= lower->parts[q].to_mm &&
                ks_outline_distance(&upper_at[p], &lower_at[q]) < 0)
                return true;
    return false;
}

static bool has_overhang(const ks_shelf_item *item)
{
    for (int p = 0; p < item->n_parts; p++)
        if (item->parts[p].from_mm > 0)
            return true;
    return false;
}

/* What goes in before what: before[i * n + j] when j must be in before i. */
static bool *before_found(const ks_shelf_item *items, int n, const ks_shelf_spot *spots,
                          ks_arena *arena)
{
    bool *before = KS_TAKE(arena, n * n, bool);
    ks_outline **at = KS_TAKE(arena, n, ks_outline *);
    for (int i = 0; i < n; i++) {
        const ks_shelf_item *item = &items[spots[i].item];
        at[i] = KS_TAKE(arena, item->n_parts, ks_outline);
        for (int p = 0; p < item->n_parts; p++)
            at[i][p] = ks_outline_placed(&item->parts[p].outline, spots[i].stand, arena);
    }
    for (int i = 0; i < n; i++)
        for (int j = 0; j < n && has_overhang(&items[spots[i].item]); j++)
            before[i * n + j] =
                i != j && overhangs(&items[spots[i].item], at[i], &items[spots[j].item], at[j]);
    return before;
}

static bool waits(const bool *before, const bool *in, int i, int n)
{
    for (int j = 0; j < n; j++)
        if (before[i * n + j] && !in[j])
            return true;
    return false;
}

bool ks_shelf_loadable(const ks_shelf_item *items, int n_spots, const ks_shelf_spot *spots)
{
    ks_arena arena = {0};
    bool *before = before_found(items, n_spots, spots, &arena);
    bool *in = KS_TAKE(&arena, n_spots, bool);
    int done = 0;
    for (bool more = true; more;) {
        more = false;
        for (int i = 0; i < n_spots; i++)
            if (!in[i] && !waits(before, in, i, n_spots)) {
                in[i] = more = true;
                done++;
            }
    }
    ks_arena_finish(&arena);
    return done == n_spots;
}
