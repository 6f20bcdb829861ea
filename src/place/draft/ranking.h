/* ranking.h: which of two drafts is the better plan: ranks, compared one after another.
 *
 * In this order: copies that must go; for each due day, the earliest first, what goes in in time;
 * dated ware that is late, in the earliest loads; for each number, how many owners have so many
 * pieces in, where the order asks for fairness; worth; few loads; ware that only fills; few
 * shelves; few posts. All are whole numbers, the more the better: no weights, so nothing of a later
 * rank makes up for anything of an earlier one. */
#ifndef KILNSTOW_PLACE_DRAFT_RANKING_H
#define KILNSTOW_PLACE_DRAFT_RANKING_H

#include "place/draft/draft.h"

/* > 0: a is the better plan, < 0: b is, 0: they are as good. */
int ks_ranking_compare(const ks_job *job, const ks_draft *a, const ks_draft *b);

/* The same, of ware and loads alone: in which place it stands, and on how much furniture, counts
 * for nothing. */
int ks_ranking_compare_ware(const ks_job *job, const ks_draft *a, const ks_draft *b);

#endif
