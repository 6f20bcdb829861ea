#include "cost/assumed.h"

#include "clock/start.h"

#include <string.h>

/* Room for one sentence of each kind about every load, clay and glaze. */
static void said(ks_costing *out, const char *sentence)
{
    out->assumed[out->n_assumed++] = sentence;
}

static void assume_starts(const ks_plan *plan, ks_arena *arena, ks_costing *out)
{
    const ks_money_terms *terms = plan->order->money;
    for (int l = 0; l < plan->n_loads; l++)
        if (ks_start_matters(&terms->power) && out->loads[l].start_local_min >= 0 &&
            ks_load_start(plan->order, &plan->loads[l]).clock_assumed)
            said(out,
                 ks_arena_print(arena,
                                "load %d starts at 8:00 on its day; the order's start tells the "
                                "real hour",
                                l + 1));
}

static void assume_furnace(const ks_plan *plan, const ks_firing_result *fired, ks_arena *arena,
                           ks_costing *out)
{
    for (int l = 0; l < plan->n_loads; l++)
        if (!fired[l].reached)
            said(out, ks_arena_print(arena,
                                     "load %d is billed as simulated, though the kiln does not "
                                     "reach its end",
                                     l + 1));
}

/* Marks which clays, glazes and firings the placed ware brings in. */
typedef struct {
    bool *clays, *glazes, earlier;
} brought;

static brought brought_in(const ks_plan *plan, const ks_costing *costing, ks_arena *arena)
{
    const ks_order *order = plan->order;
    brought seen = {KS_TAKE(arena, order->n_clays, bool), KS_TAKE(arena, order->n_glazes, bool),
                    false};
    for (int i = 0; i < costing->n_pieces; i++) {
        const ks_piece *piece = &order->pieces[costing->pieces[i].piece];
        if (piece->clay >= 0)
            seen.clays[piece->clay] = true;
        for (int g = 0; g < piece->n_glazes && piece->stage == KS_GLAZED; g++)
            seen.glazes[piece->glazes[g]] = true;
        seen.earlier = seen.earlier || piece->earlier_firings > 0;
    }
    return seen;
}

/* Ware whose work nobody told: without it a price would be a loss that looks like a gain. */
static void assume_no_work(const ks_plan *plan, ks_arena *arena, ks_costing *out)
{
    const ks_order *order = plan->order;
    bool *seen = KS_TAKE(arena, order->n_pieces, bool);
    const char *ids = NULL;
    for (int i = 0; i < out->n_pieces; i++) {
        int piece = out->pieces[i].piece;
        const char *id = order->pieces[piece].id;
        if (!out->pieces[i].worked && !seen[piece])
            ids = ids ? ks_arena_print(arena, "%s, %s", ids, id) : id;
        seen[piece] = true;
    }
    if (!ids)
        return;
    said(out, ks_arena_print(
                  arena,
                  order->money->labour_told
                      ? "no price is proposed for %s: their cost holds no labour; tell their "
                        "minutes (labour of a piece, 0 min too, or costs.labour.steps)"
                      : "no price is proposed for %s: their cost holds no labour; tell what an "
                        "hour is worth (costs.labour.per_hour) and their minutes (labour of a "
                        "piece, 0 min too, or costs.labour.steps)",
                  ids));
}

void ks_cost_assumed(const ks_plan *plan, const ks_firing_result *fired, ks_arena *arena,
                     ks_costing *out)
{
    const ks_order *order = plan->order;
    brought seen = brought_in(plan, out, arena);
    out->n_assumed = 0;
    out->assumed =
        KS_TAKE(arena, 2 * plan->n_loads + order->n_clays + order->n_glazes + 2, const char *);
    assume_starts(plan, arena, out);
    assume_furnace(plan, fired, arena, out);
    for (int c = 0; c < order->n_clays; c++)
        if (seen.clays[c] && order->clays[c].price_minor_per_kg < 0)
            said(out, ks_arena_print(arena, "clay %s costs nothing: no price_per_kg is given",
                                     order->clays[c].id));
    for (int g = 0; g < order->n_glazes; g++)
        if (seen.glazes[g] && order->glazes[g].n_lines == 0)
            said(out, ks_arena_print(arena, "glaze %s costs nothing: no recipe is given",
                                     order->glazes[g].name));
    assume_no_work(plan, arena, out);
    if (seen.earlier && !order->money->earlier_told)
        said(out, "an earlier firing cost a piece 75 % of its share in this one; "
                  "costs.earlier_firing_per_kg tells better");
}
