/* kilns_compared.h: the ware of one load, planned, fired and costed anew in other kilns. */
#ifndef KILNSTOW_APP_COSTS_KILNS_COMPARED_H
#define KILNSTOW_APP_COSTS_KILNS_COMPARED_H

#include "kilnstow/cost.h"
#include "kilnstow/fire.h"

/* What the load's ware comes to in one kiln. */
typedef struct {
    const ks_kiln *kiln;
    const char *why_not; /* it can't be costed there; NULL = it is */
    bool as_planned;     /* the plan's own load, as it stands */
    int pieces;          /* of the load's that go into one firing there */
    bool reached;
    double kwh, hours, open_h; /* hours to the end of the programme, and until it may be opened */
    int64_t bill_minor;
} ks_kiln_row;

typedef struct {
    int load, pieces; /* of the plan, and how many pieces stand in it */
    int n;
    ks_kiln_row *rows; /* the plan's own first */
} ks_kilns_compared;

/* `kilns` is "all" for those of the order, or names with commas between: kilns of the order,
 * built-in ones in `kiln_folder`, or files. KS_BAD_USAGE for a kiln that is none of these. */
ks_status ks_kilns_compare(const ks_plan *plan, int load, const char *kilns,
                           const char *kiln_folder, const ks_cost_options *options, ks_arena *arena,
                           ks_kilns_compared *out, ks_error *err);

#endif
