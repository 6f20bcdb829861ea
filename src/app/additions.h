/* additions.h: one glaze beside itself at several levels of an addition. */
#ifndef KILNSTOW_APP_ADDITIONS_H
#define KILNSTOW_APP_ADDITIONS_H

#include "kilnstow/cost.h"

enum { KS_ADDITIONS_MOST = 8 };

typedef struct {
    int glaze, line; /* into order.glazes, and its lines */
    int n;
    ks_addition_level levels[KS_ADDITIONS_MOST];
    ks_costing costings[KS_ADDITIONS_MOST]; /* of the whole plan with that recipe */
} ks_additions;

/* From "tin white=5,10" or "tin white:tin oxide=5,10". KS_BAD_USAGE names the slip. */
ks_status ks_additions_read(const ks_order *order, const char *told, ks_arena *arena,
                            ks_additions *out, ks_error *err);

/* Fills `costings`. The firings are those of the plan: a glaze's recipe does not change them. */
ks_status ks_additions_costed(const ks_plan *plan, const ks_firing_result *fired,
                              const ks_cost_options *options, ks_arena *arena, ks_additions *out,
                              ks_error *err);

/* Dry grams of that glaze on one copy; 0 when it carries another. */
double ks_additions_on_piece_g(const ks_order *order, const ks_additions *additions, int piece);

#endif
