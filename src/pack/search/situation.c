#include "pack/search/situation.h"

#include <math.h>

static bool is_rectangle(const ks_outline *outline)
{
    ks_box box = ks_outline_box(outline);
    double r = outline->round;
    if (outline->n != 4)
        return false;
    for (int i = 0; i < 4; i++) {
        ks_point p = outline->at[i];
        if ((p.x - r != box.x0 && p.x + r != box.x1) || (p.y - r != box.y0 && p.y + r != box.y1))
            return false;
    }
    return true;
}

static bool stands_square(const ks_item_type *kind, int turn)
{
    double by = ks_item_type_turn(kind, turn);
    return by == 0 || by == 90 || by == 180 || by == 270;
}

double ks_square_turn(const ks_item_type *kind, bool on_side)
{
    if (kind->n_turns == 0)
        return on_side ? 90 : 0;
    for (int t = 0; t < kind->n_turns; t++) {
        double by = ks_item_type_turn(kind, t);
        if (stands_square(kind, t) && (by == 90 || by == 270) == on_side)
            return by;
    }
    return -1;
}

bool ks_is_tiling(const ks_shelf_search *search)
{
    const ks_instance *instance = &search->instance;
    if (instance->space.n_obstacles > 0 || instance->space.n_regions == 0)
        return false;
    for (int r = 0; r < instance->space.n_regions; r++)
        if (!is_rectangle(&instance->space.regions[r].outline) ||
            instance->space.regions[r].outline.round > instance->space.regions[r].margin_mm)
            return false;
    for (int k = 0; k < instance->n_kinds; k++)
        for (int p = 0; p < instance->items[k].n_parts; p++)
            if (instance->items[k].n_draws > 0 ||
                !is_rectangle(&instance->items[k].parts[p].outline) ||
                ks_square_turn(&instance->kinds[k], false) < 0)
                return false;
    return true;
}

/* Whether all that is on offer may share a level, but for the room. */
static bool may_all_join(const ks_shelf_search *search)
{
    uint32_t tags = 0, conflicts = 0;
    double mass_kg = 0;
    for (int k = 0; k < search->instance.n_kinds; k++) {
        const ks_shelf_item *item = &search->instance.items[k];
        int copies = ks_search_copies(search, k);
        if (copies == 0)
            continue;
        if ((item->tags & conflicts) || (item->conflicts & tags) ||
            (copies > 1 && (item->tags & item->conflicts)))
            return false;
        tags |= item->tags;
        conflicts |= item->conflicts;
        mass_kg += item->mass_kg * copies;
    }
    return mass_kg <= search->instance.space.mass_limit_kg;
}

bool ks_may_all_fit(const ks_shelf_search *search)
{
    double size = 0;
    int64_t copies = 0;
    for (int k = 0; k < search->instance.n_kinds; k++) {
        if (search->instance.items[k].n_draws > 0)
            return false; /* never are all towers in that the same pieces could make */
        copies += ks_search_copies(search, k);
        size += search->instance.kinds[k].size_mm2 * ks_search_copies(search, k);
    }
    return copies <= search->now.room && copies > search->now.n &&
           size < search->instance.area_mm2 && may_all_join(search);
}

bool ks_has_choice(const ks_shelf_search *search)
{
    return search->now.n > 0 && !ks_search_all_in(search) && !ks_may_all_fit(search) &&
           !ks_is_tiling(search);
}
