#include "pack/shelf/shelf_rule.h"

#include <string.h>

/* Pieces of one owner near each other, where that costs nothing: pieces that are the same but for
 * their owner change places. */

typedef struct {
    const ks_shelf_item *items;
    int n;
    ks_shelf_spot *spots;
} crowd;

static bool same_outline(const ks_outline *a, const ks_outline *b)
{
    return a->n == b->n && a->round == b->round &&
           memcmp(a->at, b->at, (size_t)a->n * sizeof *a->at) == 0;
}

bool ks_shelf_alike(const ks_shelf_item *a, const ks_shelf_item *b)
{
    if (a->n_parts != b->n_parts || a->mass_kg != b->mass_kg || a->around_mm != b->around_mm ||
        a->glazed != b->glazed || a->runny != b->runny || a->turn_step_deg != b->turn_step_deg ||
        a->turn_first_deg != b->turn_first_deg)
        return false;
    for (int p = 0; p < a->n_parts; p++)
        if (a->parts[p].kind != b->parts[p].kind || a->parts[p].from_mm != b->parts[p].from_mm ||
            a->parts[p].to_mm != b->parts[p].to_mm ||
            !same_outline(&a->parts[p].outline, &b->parts[p].outline))
            return false;
    return true;
}

static int owner_at(const crowd *all, int spot)
{
    return all->items[all->spots[spot].item].owner;
}

/* Squared distances from a spot to all others of one owner, but not to `but`. */
static double scatter(const crowd *all, int spot, int owner, int but)
{
    double sum = 0;
    for (int s = 0; s < all->n; s++) {
        if (s == spot || s == but || owner_at(all, s) != owner)
            continue;
        double dx = all->spots[s].stand.x - all->spots[spot].stand.x;
        double dy = all->spots[s].stand.y - all->spots[spot].stand.y;
        sum += dx * dx + dy * dy;
    }
    return sum;
}

static bool changed_places(crowd *all, int a, int b)
{
    int of_a = owner_at(all, a), of_b = owner_at(all, b);
    if (of_a == of_b ||
        !ks_shelf_alike(&all->items[all->spots[a].item], &all->items[all->spots[b].item]))
        return false;
    double as_is = scatter(all, a, of_a, b) + scatter(all, b, of_b, a);
    double changed = scatter(all, b, of_a, a) + scatter(all, a, of_b, b);
    if (changed >= as_is * (1 - 1e-9))
        return false;
    int item = all->spots[a].item;
    all->spots[a].item = all->spots[b].item;
    all->spots[b].item = item;
    return true;
}

void ks_shelf_owners_gather(const ks_shelf_item *items, int n_spots, ks_shelf_spot *spots)
{
    enum { PASSES = 20 };
    crowd all = {items, n_spots, spots};
    bool more = true;
    for (int pass = 0; pass < PASSES && more; pass++) {
        more = false;
        for (int a = 0; a < n_spots; a++)
            for (int b = 0; b < a; b++)
                more = changed_places(&all, a, b) || more;
    }
}
