/* tidy_tiers.h: a load's tiers, and how two of them change places.
 *
 * A tier is what one set of posts carries: a level, or the levels of bays that go up together. */
#ifndef KILNSTOW_PLACE_FINISH_TIDY_TIERS_H
#define KILNSTOW_PLACE_FINISH_TIDY_TIERS_H

#include "place/draft/draft.h"

typedef struct {
    int first;      /* of its levels */
    double mass_kg; /* of its ware */
    bool pinned;    /* some ware has to stay there */
} ks_tier;

typedef struct {
    const ks_job *job;
    int slot;
    ks_draft draft; /* this load and no other */
    ks_arena *arena;
    int n;
    ks_tier *tiers; /* from below */
    int relaid;     /* levels laid out anew so far */
} ks_tiers;

/* Lists anew the tiers of the draft's load; there is room for as many as levels. */
void ks_tiers_list(ks_tiers *tiers);

static inline const ks_stack_level *ks_tier_at(const ks_tiers *tiers, int t)
{
    return &tiers->draft.loads[tiers->slot].levels[tiers->tiers[t].first].at;
}

/* Whether both belong to one column. */
static inline bool ks_tiers_share_column(const ks_tiers *tiers, int a, int b)
{
    return ks_tier_at(tiers, a)->standing == ks_tier_at(tiers, b)->standing &&
           ks_tier_at(tiers, a)->column == ks_tier_at(tiers, b)->column;
}

/* What follows is done to `load`, a copy of the draft's; false where it cannot be. Only heights are
 * looked at: which other rules the load then keeps is another's to find out. */

/* Two tiers of a column with their shelves, posts and ware; one that went up to the lid gets the
 * `choice`-th of the gaps that are high enough for it. */
bool ks_tiers_changed(const ks_tiers *tiers, int low, int high, int choice, ks_draft_load *load);

/* Their ware and cone packs alone, where they are shelved alike. */
bool ks_tiers_ware_changed(const ks_tiers *tiers, int low, int high, ks_draft_load *load);

/* Whether the ware of every level stands free there. */
bool ks_tiers_stand(const ks_tiers *tiers, const ks_draft_load *load);

/* Levels that do not, or that have lost their cone packs or got others', laid out anew with the
 * packs that belong there. */
bool ks_tiers_relaid(ks_tiers *tiers, ks_draft_load *load);

#endif
