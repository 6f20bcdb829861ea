/* level_space.h: one level of a stack as the shelf packer wants it. */
#ifndef KILNSTOW_PLACE_STACK_LEVEL_SPACE_H
#define KILNSTOW_PLACE_STACK_LEVEL_SPACE_H

#include "place/stack/stack.h"

/* The space over a level's shelves: chamber, shelf, bay, posts and keep-outs at its height. */
ks_shelf_space ks_level_space(const ks_job *job, const ks_load_kind *kind,
                              const ks_stack_level *level, ks_arena *arena);

/* The same with nothing in it that a plan could do without: whatever stands on such a level in any
 * plan that keeps the rules stands within this. For bounds. */
ks_shelf_space ks_level_space_loosest(const ks_job *job, const ks_load_kind *kind,
                                      const ks_stack_level *level, ks_arena *arena);

/* What a level's shelves bear in a load's firing, on posts or on the floor, kg; infinity when that
 * is not known. */
double ks_support_limit_kg(const ks_job *job, const ks_load_kind *kind, const ks_support *support,
                           bool lies);

/* The same for one piece, which may have to stand on one of them. */
double ks_support_piece_limit_kg(const ks_job *job, const ks_load_kind *kind,
                                 const ks_support *support, bool lies);

/* Outlines of the support's shelves in chamber axes, and one around them all. */
ks_outline ks_support_outline(const ks_kiln *kiln, const ks_support *support, ks_arena *arena);

#endif
