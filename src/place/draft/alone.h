/* alone.h: one load of a draft, judged as if there were no other. */
#ifndef KILNSTOW_PLACE_DRAFT_ALONE_H
#define KILNSTOW_PLACE_DRAFT_ALONE_H

#include "place/draft/draft.h"

/* What the checker finds wrong with the loads of a draft that has one, whatever of the order is not
 * in it; and how many pieces could be put in, cone packs counted. */
int ks_alone_faults(const ks_job *job, const ks_draft *draft, int *pieces);

/* The same for the load in this slot of a draft that may have others. */
int ks_alone_faults_of(const ks_job *job, const ks_draft *draft, int slot, int *pieces);

/* The same of a load only begun: its cone packs are still to come. */
int ks_alone_faults_begun(const ks_job *job, const ks_draft *draft, int slot);

#endif
