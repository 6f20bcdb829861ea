#include "pack/search/layout_search.h"
#include "pack/shelf/shelf_rule.h"

#include <math.h>

/* Shelves side by side that may each carry only so much. */

static bool weighs(const ks_shelf_search *search, const ks_shelf_bearer *bearer, int body)
{
    const ks_packing *trial = &search->trial;
    const ks_item_type *kind = &search->instance.kinds[trial->kind[body]];
    return ks_shelf_weighs_on(&search->instance.space, bearer, kind->item,
                              ks_placement_stand(kind, trial->place[body]));
}

static double worth_for_mass(const ks_shelf_item *item)
{
    return item->must > 0 ? INFINITY : item->worth / item->mass_kg;
}

static bool one_relieved(ks_shelf_search *search, const ks_shelf_bearer *bearer)
{
    const ks_packing *trial = &search->trial;
    double mass_kg = 0, least = INFINITY;
    int worst = -1;
    for (int i = 0; i < trial->n; i++) {
        const ks_shelf_item *item = &search->instance.items[trial->kind[i]];
        if (!(item->mass_kg > 0) || !weighs(search, bearer, i))
            continue;
        mass_kg += item->mass_kg;
        if (worst < 0 || worth_for_mass(item) < least) {
            least = worth_for_mass(item);
            worst = i;
        }
    }
    if (worst < 0 || mass_kg <= bearer->limit_kg)
        return false;
    ks_packing_remove(&search->trial, worst);
    return true;
}

void ks_search_drop_overload(ks_shelf_search *search)
{
    for (int b = 0; b < search->instance.space.n_bearers; b++)
        while (one_relieved(search, &search->instance.space.bearers[b]))
            ;
}
