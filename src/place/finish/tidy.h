/* tidy.h: a finished plan put in the order that people like best, at no cost to what is placed. */
#ifndef KILNSTOW_PLACE_FINISH_TIDY_H
#define KILNSTOW_PLACE_FINISH_TIDY_H

#include "place/draft/draft.h"

/* As few shelves as hold the ware: bare levels leave, heights are taken anew, and two levels whose
 * ware finds room on one become one. Returns whether any did. Each two levels tried are paid from
 * `effort` by the corners on them. */
bool ks_tidy_fewer_shelves(const ks_job *job, ks_draft *draft, int slot, int64_t *effort,
                           ks_arena *arena);

/* Heavier levels lower: levels of a load change places as long as every rule is kept. Returns
 * whether any did. Each try is paid from `effort` by what its check costs; with none left, none is
 * made. */
bool ks_tidy_heavy_low(const ks_job *job, ks_draft *draft, int slot, int64_t *effort,
                       ks_arena *arena);

/* Each owner's ware on as few levels as may be: pieces that are alike but for their owner change
 * places. Returns whether any did. */
bool ks_tidy_owners(const ks_job *job, ks_draft *draft, int slot);

#endif
