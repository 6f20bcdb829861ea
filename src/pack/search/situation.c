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

static bool stands_square(const ks_kind *kind, int turn)
{
    double by = ks_kind_turn(kind, turn);
    return by == 0 || by == 90 || by == 180 || by == 270;
}

double ks_square_turn(const ks_kind *kind, bool on_side)
{
    if (kind->n_turns == 0)
        return on_side ? 90 : 0;
    for (int t = 0; t < kind->n_turns; t++) {
        double by = ks_kind_turn(kind, t);
        if (stands_square(kind, t) && (by == 90 || by == 270) == on_side)
            return by;
    }
    return -1;
}

bool ks_is_tiling(const ks_shelf_search *search)
{
    const ks_kit *kit = &search->kit;
    if (kit->space.n_obstacles > 0 || kit->space.n_regions == 0)
        return false;
    for (int r = 0; r < kit->space.n_regions; r++)
        if (!is_rectangle(&kit->space.regions[r].outline) ||
            kit->space.regions[r].outline.round > kit->space.regions[r].margin_mm)
            return false;
    for (int k = 0; k < kit->n_kinds; k++)
        for (int p = 0; p < kit->items[k].n_parts; p++)
            if (!is_rectangle(&kit->items[k].parts[p].outline) ||
                ks_square_turn(&kit->kinds[k], false) < 0)
                return false;
    return true;
}

/* Whether all that is on offer may share a level, but for the room. */
static bool may_all_join(const ks_shelf_search *search)
{
    uint32_t tags = 0, shuns = 0;
    double mass_kg = 0;
    for (int k = 0; k < search->kit.n_kinds; k++) {
        const ks_shelf_item *item = &search->kit.items[k];
        int copies = ks_search_copies(search, k);
        if (copies == 0)
            continue;
        if ((item->tags & shuns) || (item->shuns & tags) ||
            (copies > 1 && (item->tags & item->shuns)))
            return false;
        tags |= item->tags;
        shuns |= item->shuns;
        mass_kg += item->mass_kg * copies;
    }
    return mass_kg <= search->kit.space.mass_limit_kg;
}

bool ks_may_all_fit(const ks_shelf_search *search)
{
    double size = 0;
    int64_t copies = 0;
    for (int k = 0; k < search->kit.n_kinds; k++) {
        copies += ks_search_copies(search, k);
        size += search->kit.kinds[k].size_mm2 * ks_search_copies(search, k);
    }
    return copies <= search->now.room && copies > search->now.n && size < search->kit.area_mm2 &&
           may_all_join(search);
}

bool ks_has_choice(const ks_shelf_search *search)
{
    return search->now.n > 0 && !ks_search_all_in(search) && !ks_may_all_fit(search) &&
           !ks_is_tiling(search);
}
