/* initials.h: what stands for a person's name where room is short. */
#ifndef KILNSTOW_STUDIO_INITIALS_H
#define KILNSTOW_STUDIO_INITIALS_H

#include "base/text.h"

/* The first letters of the first three words: "Mo Carr-Lee" is "MCL". A number, such as one
 * scratched into the foot, stays whole: "17". "" for a name without a letter. */
const char *ks_initials(const char *name, ks_arena *arena);

#endif
