/* stance.h: a piece in one pose, as a tower asks of it. */
#ifndef KILNSTOW_PACK_TOWER_STANCE_H
#define KILNSTOW_PACK_TOWER_STANCE_H

#include "kilnstow/order.h"
#include "studio/stacked.h"

typedef struct {
    int piece;
    ks_pose pose;
    int n_parts;
    const ks_part *parts; /* as it goes in: what stands on other ware grows with it */
    double height_mm;
    double mass_kg, outward_mm;
    ks_mass_centre centre; /* above its foot */
    unsigned ways;
    bool tile, flat, carries; /* carries: its wall and its making allow something on it */
    bool thin;                /* its rim is too thin to carry */
} ks_stance;

/* How `piece` stands in the pose; false where it may not. */
bool ks_stance_of(const ks_order *order, int piece, ks_pose pose, ks_arena *arena, ks_stance *out);

/* How high the upper one stands when it is lowered onto the lower, both upright on their own axis
 * and turned alike: the least height above the lower one's foot at which no part meets another. */
double ks_stance_rise(const ks_stance *lower, const ks_stance *upper);

/* The height at which they meet then, above the lower one's foot; 0 where they do not. */
double ks_stance_contact_mm(const ks_stance *lower, const ks_stance *upper, double rise_mm);

/* Whether the upper one's top and sides keep a finger's breadth inside a lower one that it stands
 * deeper in than the rim. */
bool ks_stance_has_finger(const ks_stance *lower, const ks_stance *upper, double rise_mm,
                          double finger_mm);

/* Whether the feet lie over one another, none wider than the other by more than 10 mm (common
 * practice, no source); tiles need only lie on one another. */
bool ks_stance_is_aligned(const ks_stance *lower, const ks_stance *upper, ks_arena *arena);

/* Whether all that the upper one stands on lies within what the lower has at that height: its foot
 * on no more than the rim, the floor or the foot ring under it. */
bool ks_stance_is_within(const ks_stance *lower, const ks_stance *upper, double rise_mm);

/* Radius about the axis within which the upper one is held up by the lower at that rise: the
 * lesser of what stands and what carries it; 0 where nothing does. NULL = a shelf. */
double ks_stance_held_mm(const ks_stance *lower, const ks_stance *upper, double rise_mm);

#endif
