/* level_build.h: levels of a draft filled one after another, at prices that keep back what others
 * need.
 */
#ifndef KILNSTOW_PLACE_SEARCH_LEVEL_BUILD_H
#define KILNSTOW_PLACE_SEARCH_LEVEL_BUILD_H

#include "place/draft/offer.h"
#include "place/search/rounds.h"

typedef struct {
    const ks_run *search;
    ks_draft *draft;
    ks_random *random;
    ks_arena *arena;
    double *worth; /* room for n_items: what items are offered at */
    int64_t work;  /* for each filling */
} ks_level_builder;

ks_level_builder ks_level_builder_of(const ks_run *search, ks_draft *draft, ks_random *random,
                                     ks_arena *arena);

/* Fills a bare level from what is left, at builder->worth, from this start if not NULL. */
void ks_build_level(const ks_level_builder *builder, int slot, int level,
                    const ks_shelf_layout *warm);

/* The pattern in the pool whose items, as far as they are left, are worth most here; NULL if none.
 */
const ks_shelf_layout *ks_build_known(const ks_level_builder *builder, int slot, int level);

/* Levels from the tallest gap down into `order`. */
void ks_build_order(const ks_job *job, const ks_draft_load *load, int *order);

#endif
