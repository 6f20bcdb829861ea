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

/* How one of a level's shelves bends on its posts, as ks_plate_bending has it; 0 on the floor. */
double ks_level_bending(const ks_load_kind *kind, const ks_stack_level *level, int shelf);

/* What that shelf bears in a load's firing, kg; infinity when that is not known. And what all of
 * the level's shelves bear together. */
double ks_level_shelf_kg(const ks_job *job, const ks_load_kind *kind, const ks_stack_level *level,
                         int shelf);
double ks_level_limit_kg(const ks_job *job, const ks_load_kind *kind, const ks_stack_level *level);

/* Outlines of the support's shelves in chamber axes, and one around them all. */
ks_outline ks_support_outline(const ks_kiln *kiln, const ks_support *support, ks_arena *arena);

#endif
