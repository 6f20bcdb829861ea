/* instance_inside.h: what the files that make a kit share. */
#ifndef KILNSTOW_PACK_KIT_INSTANCE_INSIDE_H
#define KILNSTOW_PACK_KIT_INSTANCE_INSIDE_H

#include "pack/kit/instance.h"

ks_core ks_core_of(const ks_outline *outline, ks_arena *arena);
ks_core ks_kind_core(const ks_kind *kind, int core);
void ks_kind_init(ks_kind *kind, const ks_shelf_space *space, const ks_shelf_item *item,
                  ks_arena *arena);

/* How far core `a` of a kind sticks out of its core `b`, negative when it lies within. */
double ks_kind_outreach(const ks_kind *kind, int a, int b);

/* The kind's own share of what is kept for rounding to the grid, mm. */
double ks_kind_allowance(const ks_kind *kind);

/* `list` with one more meeting, less those that follow from another; returns how many it has. `b`
 * is NULL when the second cores are not a kind's. */
int ks_meeting_added(const ks_kind *a, const ks_kind *b, ks_meeting *list, int n, ks_meeting more);

/* Walls and fixtures of the space, and what each kind must keep from them. */
void ks_kit_walls(ks_kit *kit);

#endif
