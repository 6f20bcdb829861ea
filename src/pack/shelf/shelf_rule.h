/* shelf_rule.h: how far apart two parts must stand; the one place where the packer has these rules.
 */
#ifndef KILNSTOW_PACK_SHELF_SHELF_RULE_H
#define KILNSTOW_PACK_SHELF_SHELF_RULE_H

#include "pack/shelf/shelf.h"

/* A part of an item. */
typedef struct {
    const ks_shelf_item *item;
    const ks_part *part;
} ks_shelf_part;

enum { KS_SHELF_FREE = -1 }; /* the two may stand over one another */

/* Least distance in plan between two parts of different pieces, reserve included, mm;
 * KS_SHELF_FREE when their heights leave enough between them. */
double ks_shelf_apart(const ks_shelf_space *space, ks_shelf_part a, ks_shelf_part b);

/* Whether the pieces can go in one after the other, among those that stand there already: what is
 * overhung before what hangs over it; through a door what is behind before what is in its way, and
 * a large piece while hands have room beside it. */
bool ks_shelf_loadable(const ks_shelf_space *space, const ks_shelf_item *items, int n_spots,
                       const ks_shelf_spot *spots);

/* Whether a piece standing there weighs on the shelf. */
bool ks_shelf_weighs_on(const ks_shelf_space *space, const ks_shelf_bearer *bearer,
                        const ks_shelf_item *item, ks_stand stand);

/* Whether one can stand wherever the other does. */
bool ks_shelf_alike(const ks_shelf_item *a, const ks_shelf_item *b);

/* Lets pieces that are alike but for their owner change places, so that each owner's come nearer
 * to one another. */
void ks_shelf_owners_gather(const ks_shelf_item *items, int n_spots, ks_shelf_spot *spots);

/* Whether a region or an obstacle has a say over a part. */
bool ks_shelf_region_holds(const ks_shelf_region *region, const ks_part *part);
bool ks_shelf_obstacle_holds(const ks_shelf_obstacle *obstacle, const ks_part *part);

/* What ware keeps from an obstacle where their heights meet, mm, reserve not included. */
double ks_shelf_obstacle_clearance(const ks_shelf_obstacle *obstacle, const ks_shelf_item *item);

/* What a part keeps from an obstacle, reserve included, mm; KS_SHELF_FREE when they are nothing to
 * each other. */
double ks_shelf_obstacle_apart(const ks_shelf_space *space, const ks_shelf_obstacle *obstacle,
                               ks_shelf_part part);

#endif
