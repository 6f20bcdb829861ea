/* What was worked out of kilns for one question and serves the next. */
#include "fit/fit_way.h"

/* Of one kiln. */
typedef struct known_kiln {
    const ks_kiln *kiln;
    ks_furniture furniture;
    struct known_kiln *next;
} known_kiln;

struct ks_fit_known {
    ks_arena *arena;
    known_kiln *first;
};

ks_fit_known *ks_fit_known_create(ks_arena *arena)
{
    ks_fit_known *known = KS_TAKE(arena, 1, ks_fit_known);
    known->arena = arena;
    return known;
}

const ks_furniture *ks_fit_furniture(ks_fit_known *known, const ks_kiln *kiln)
{
    if (!known)
        return NULL;
    for (const known_kiln *k = known->first; k; k = k->next)
        if (k->kiln == kiln)
            return &k->furniture;
    known_kiln *new = KS_TAKE(known->arena, 1, known_kiln);
    new->kiln = kiln;
    new->next = known->first;
    ks_furniture_init(&new->furniture, kiln, known->arena);
    known->first = new;
    return &new->furniture;
}
