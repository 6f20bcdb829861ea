/* level_wish.h: levels on which ware is wanted or not: low, at the top, on a tier, beside a piece.
 */
#ifndef KILNSTOW_PLACE_DRAFT_LEVEL_WISH_H
#define KILNSTOW_PLACE_DRAFT_LEVEL_WISH_H

#include "place/draft/draft.h"

/* Whether the item may stand on this level of the load as it is built now, and beside what stands
 * there. */
bool ks_wish_holds(const ks_job *job, const ks_draft_load *load, int level, int item);

/* Of copies on offer for a level, none of what is not wanted there. */
void ks_wishes_offered(const ks_job *job, const ks_draft_load *load, int level, int *copies);

/* How many pieces of the load stand where they are not wanted; 0 where nothing is wished for. */
int ks_wishes_broken(const ks_job *job, const ks_draft_load *load);

/* Takes those out. */
void ks_wishes_weeded(const ks_job *job, ks_draft *draft);

/* What the wishes ask of the levels of a load, that what is wished for can go in: into `needs`,
 * which has room for all pieces and rules. How many. */
int ks_wish_needs(const ks_job *job, int kind, ks_level_need *needs);

/* Whether the item is wanted, or may be, on some levels of such a load only. */
bool ks_is_wished(const ks_job *job, int kind, int item);

#endif
