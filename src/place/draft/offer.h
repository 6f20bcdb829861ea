/* offer.h: what may still be put on a level of a draft: copies left, quotas, keeping apart, mass.
 */
#ifndef KILNSTOW_PLACE_DRAFT_OFFER_H
#define KILNSTOW_PLACE_DRAFT_OFFER_H

#include "place/draft/draft.h"

/* Copies of each item that may go onto this (bare) level: into `copies`, n_items of them. */
void ks_offer_copies(const ks_job *job, const ks_draft *draft, int slot, int level, int *copies);

/* What the kiln may still carry, kg; infinity when nothing is told. */
double ks_offer_mass_kg(const ks_job *job, const ks_draft *draft, int slot);

/* Whether a load keeps the rules that hold for all of its levels together: quotas, keeping apart,
 * mass. Whoever joins levels filled apart from one another has to ask. */
bool ks_offer_kept(const ks_job *job, const ks_draft *draft, int slot);

/* Mass of a load's shelves and posts, kg. */
double ks_furniture_mass_kg(const ks_job *job, const ks_draft_load *load);

/* Tags of the items that must not share a load with this one. */
uint32_t ks_load_shuns(const ks_job *job, int item);

#endif
