/* What is heavy: who lifts it, and what its shelf bears. */
#include "draw/facts/facts.h"
#include "studio/lifting.h"
#include "studio/shelf_strength.h"

#include <math.h>

static const ks_kiln *kiln_of(const ks_facts *facts)
{
    int kiln = facts->load->kiln;
    return kiln >= 0 && kiln < facts->plan->order->n_kilns ? &facts->plan->order->kilns[kiln]
                                                           : NULL;
}

const char *ks_lifter_words(const ks_facts *facts, const ks_item *item, ks_arena *arena)
{
    const ks_kiln *kiln = kiln_of(facts);
    if (!kiln || kiln->n_parts == 0 || !item->piece || item->piece->n_parts == 0)
        return "";
    ks_lift lift = ks_lift_of(&facts->plan->order->rules, item->piece, kiln);
    return lift.people == 1 ? "" : ks_lift_who(&lift, facts->display, arena);
}

/* All of a piece weighs on each shelf that it reaches over, as the checker has it. */
static double mass_on(const ks_facts *facts, int level, const ks_shelf *shelf)
{
    double mass = 0;
    for (int i = 0; i < facts->n_items; i++) {
        const ks_item *item = &facts->items[i];
        bool on = false;
        for (int p = 0; item->level == level && item->piece && p < item->placed->n_parts; p++)
            on = on || ks_outline_distance(&item->placed->parts[p].outline, &shelf->outline) < 0;
        mass += on ? item->piece->mass_kg : 0;
    }
    return mass;
}

const char *ks_shelf_words(const ks_facts *facts, int level, int shelf, double *part,
                           ks_arena *arena)
{
    const ks_kiln *kiln = kiln_of(facts);
    const ks_shelf *laid = &facts->load->levels[level].shelves[shelf];
    *part = 0;
    if (!kiln || laid->kind < 0 || laid->kind >= kiln->n_shelves)
        return "";
    double bending = ks_shelf_bending(facts->load, level, shelf, arena);
    double limit = ks_shelf_limit_kg(&kiln->shelves[laid->kind], &facts->load->firing, bending);
    double mass = mass_on(facts, level, laid);
    if (!isfinite(limit))
        return "";
    *part = limit > 0 ? mass / limit : mass > 0 ? INFINITY : 0;
    return ks_arena_print(arena, "%s of the %s", ks_say_mass(facts->display, mass, arena),
                          ks_say_mass(facts->display, limit, arena));
}
