/* lifting.h: who or what it takes to lift a form into a kiln. */
#ifndef KILNSTOW_STUDIO_LIFTING_H
#define KILNSTOW_STUDIO_LIFTING_H

#include "kilnstow/order.h"

/* Recommended limit for lifting with hands `reach_mm` in front of the ankles and `hands_mm` above
 * the ground, from the kiln's own height to it, twisting none: T. R. Waters, V. Putz-Anderson, A.
 * Garg, L. J. Fine, Revised NIOSH equation for the design and evaluation of manual lifting tasks,
 * Ergonomics 36 (1993). 0 where the equation allows no lift (reach beyond 635 mm). */
double ks_lifting_limit_kg(double reach_mm, double hands_mm, double lifted_by_mm);

/* More than three do not find room around a kiln. */
enum { KS_LIFTERS_MOST = 3 };

/* A form lifted into a kiln by itself, its slab being laid first. */
typedef struct {
    double mass_kg;
    double reach_mm; /* hands to body: to the middle of the chamber, over the nearest wall or from
                      * the door */
    double alone_kg; /* what one person may lift so; 0 = too far for any */
    double each_kg;  /* of several, each of whom holds the end or side nearest to them */
    int people;      /* the fewest who may; 0 = a hoist is needed */
    double hoist_kg; /* what one has to lift where people may not: it, by 5 kg upwards */
    bool at_hand;    /* the order's rules tell that those or that is at hand, or tell nothing */
} ks_lift;
ks_lift ks_lift_of(const ks_rules *rules, const ks_piece *piece, const ks_kiln *kiln);

/* What so many people may lift together: less than the sum, two thirds of it by two and half by
 * three (Health and Safety Executive, Manual handling, guidance L23, from memory). */
double ks_lift_team_kg(const ks_lift *lift, int people);

/* Who or what would lift it, as a change of what is at hand. */
ks_reason ks_lift_needs(const ks_lift *lift);

/* "2 people", "a hoist for 60 kg or more". */
const char *ks_lift_who(const ks_lift *lift, const ks_display *display, ks_arena *arena);

/* By how much what the rules tell is at hand lifts more than the form weighs, kg; infinity where
 * they tell nothing. */
double ks_lift_spare_kg(const ks_rules *rules, const ks_lift *lift);

/* How much more a piece on a shelf at this height may weigh and still be set down there through the
 * top, held at half its height; infinity within an arm's reach, and where a hoist at hand lifts
 * it. */
double ks_arm_spare_kg(const ks_rules *rules, const ks_piece *piece, const ks_kiln *kiln,
                       double z_mm);

#endif
