/* firing_special.h: what is special to one firing, and its hours on the studio's clock, in words
 * for terminals and sheets. */
#ifndef KILNSTOW_APP_FIRING_FIRING_SPECIAL_H
#define KILNSTOW_APP_FIRING_FIRING_SPECIAL_H

#include "clock/start.h"
#include "kilnstow/fire.h"

/* Most pressing first: the first three are to stand on top. */
typedef struct {
    int n;
    const char **lines;
} ks_special_lines;
ks_special_lines ks_fire_special(const ks_firing_result *fired, const ks_display *display,
                                 ks_arena *arena);

/* A firing's hours on the studio's clock. */
typedef struct {
    ks_start start;
    ks_zone_rule zone;
} ks_firing_clock;
ks_firing_clock ks_firing_clock_of(const ks_order *order, const ks_load *load);

/* "Thursday 18:20", and short "Th 18:20"; "" while no start is known. */
const char *ks_firing_clock_words(const ks_firing_clock *clock, double hours, ks_arena *arena);
const char *ks_firing_clock_short(const ks_firing_clock *clock, double hours, ks_arena *arena);

#endif
