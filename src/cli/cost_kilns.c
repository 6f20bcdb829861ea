/* One load in several kilns, in words. */
#include "cli/cost_tell.h"

#include "base/language.h"
#include "base/money_text.h"

#include <math.h>
#include <stdio.h>

static const char *hours(double h, ks_arena *arena)
{
    return isfinite(h) ? ks_arena_print(arena, "%.1f h", h) : "-";
}

static void tell_row(const ks_cost_outcome *outcome, const ks_kiln_row *row, ks_arena *arena)
{
    const ks_costing *costing = &outcome->costing;
    if (row->why_not) {
        printf("  %-24s %s\n", row->kiln->id, row->why_not);
        return;
    }
    int64_t each = row->pieces > 0 ? (row->bill_minor + row->pieces / 2) / row->pieces : 0;
    printf("  %-24s%5d of %-5d%8.1f%9s%12s%11s%11s%s%s\n", row->kiln->id, row->pieces,
           outcome->compared->pieces, row->kwh, hours(row->hours, arena), hours(row->open_h, arena),
           ks_money_print(row->bill_minor, costing->digits, arena),
           ks_money_print(each, costing->digits, arena),
           row->as_planned ? ks_tr("   as planned") : "",
           row->reached ? "" : ks_tr("   does not reach its end"));
}

void ks_tell_kilns(const ks_cost_outcome *outcome, ks_arena *arena)
{
    const ks_kilns_compared *compared = outcome->compared;
    printf("The ware of load %d in several kilns, one firing each; planned anew but in its own:\n",
           compared->load + 1);
    printf("  %-24s%-14s%8s%9s%12s%11s%11s   %s\n", ks_tr("kiln"), ks_tr("pieces in"), "kWh",
           ks_tr("fires"), ks_tr("to open"), ks_tr("bill"), ks_tr("a piece"),
           outcome->costing.currency);
    for (int i = 0; i < compared->n; i++)
        tell_row(outcome, &compared->rows[i], arena);
    printf(
        "The bill is that of the firing: energy, wear and loading, by the order's terms. Bodies, "
        "glazes and cones\nare the same; simulated, so give or take what `kilnstow fire` tells.\n");
}
