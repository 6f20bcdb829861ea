/* stream.h: where the random numbers of a run come from: one row of them for each purpose, round
 * and task, and no two share one. */
#ifndef KILNSTOW_PLACE_JOB_STREAM_H
#define KILNSTOW_PLACE_JOB_STREAM_H

#include "base/random.h"

typedef enum {
    KS_FOR_FIRST_PLAN,
    KS_FOR_MUST_FIRST, /* the first plan again, what must go before all else */
    KS_FOR_EARLIER,    /* the plan that the options tell to start from */
    KS_FOR_PRICING,
    KS_FOR_RACE, /* mending plans on unlike stacks side by side */
    KS_FOR_WHOLE,
    KS_FOR_REPAIR,
    KS_FOR_GATHERING,
    KS_FOR_GATHERED, /* mending what is gathered */
    KS_FOR_AIM,
    KS_FOR_AIMED, /* mending what is aimed at */
    KS_FOR_TIDYING,
    KS_FOR_CLOSING_UP,
    KS_FOR_SPREADING, /* closing up, each piece on any level */
    KS_FOR_CHANGES,
    KS_FOR_FILLING,   /* with ware that is not counted */
    KS_FOR_BY_ITSELF, /* a piece in a load of its own */
    KS_FOR_LOAD,      /* planned from its share of the ware */
    KS_FOR_LOADS_MENDED,
    KS_FOR_PRESSED_IN, /* and worked in what had to make room */
    KS_FOR_FAIR_SHARE, /* ware laid out owner by owner */
    KS_N_PURPOSES,
} ks_purpose;

/* `round` and `task` from 0; each at most 2^28 - 1. */
ks_random ks_stream(uint64_t seed, ks_purpose purpose, int round, int task);

#endif
