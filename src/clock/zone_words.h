/* zone_words.h: a zone's rule for people. */
#ifndef KILNSTOW_CLOCK_ZONE_WORDS_H
#define KILNSTOW_CLOCK_ZONE_WORDS_H

#include "clock/zone.h"

/* "UTC+1, in summer UTC+2 from the last Sunday of March at 2:00 to the last Sunday of October at
 * 3:00". */
const char *ks_zone_words(const ks_zone_rule *zone, ks_arena *arena);

#endif
