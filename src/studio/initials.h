/* initials.h: what stands for a person's name where room is short. */
#ifndef KILNSTOW_STUDIO_INITIALS_H
#define KILNSTOW_STUDIO_INITIALS_H

#include "base/text.h"
#include "kilnstow/order.h"

/* The first letters of the first three words: "Mo Carr-Lee" is "MCL". A number, such as one
 * scratched into the foot, stays whole: "17". "" for a name without a letter. */
const char *ks_initials(const char *name, ks_arena *arena);

/* The member of that id; NULL where the order describes none. */
const ks_member *ks_member_of(const ks_order *order, const char *id);

/* A member's own initials, else those of the name, or of an owner's id that nobody describes. */
const char *ks_owner_initials(const ks_order *order, const char *id, ks_arena *arena);

#endif
