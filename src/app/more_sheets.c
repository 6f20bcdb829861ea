#include "app/more_sheets.h"

#include "base/money_text.h"

#include <math.h>

typedef enum { SET, CHAMBER, COLDEST } curve_of;

static double value_at(const ks_firing_result *fired, int i, curve_of what)
{
    const ks_fire_point *point = &fired->points[i];
    double coldest = INFINITY;
    if (what != COLDEST)
        return what == SET ? point->set_c : point->chamber_c;
    for (int v = 0; v < fired->n_levels; v++)
        coldest = fmin(coldest, point->middle_c[v]);
    return coldest;
}

/* Where there is no value, as of the set point once nothing is asked, the curve has no point. */
static ks_curve curve_made(const ks_firing_result *fired, curve_of what, const char *name,
                           ks_arena *arena)
{
    ks_point *at = KS_TAKE(arena, fired->n_points, ks_point);
    int n = 0;
    for (int i = 0; i < fired->n_points; i++) {
        double value = value_at(fired, i, what);
        if (isfinite(value))
            at[n++] = (ks_point){fired->points[i].time_h, value};
    }
    return (ks_curve){.name = name, .n = n, .at = at, .dashed = what == SET};
}

ks_chart ks_curve_chart(const ks_plan *plan, int load, const ks_firing_result *fired,
                        ks_arena *arena)
{
    ks_curve *curves = KS_TAKE(arena, 3, ks_curve);
    curves[0] = curve_made(fired, SET, "asked for", arena);
    curves[1] = curve_made(fired, CHAMBER, "chamber", arena);
    curves[2] = curve_made(fired, COLDEST, "coldest ware", arena);
    return (ks_chart){.title = ks_arena_print(arena, "Firing of load %d", load + 1),
                      .x_label = "hours",
                      .y_label = "°C",
                      .n_curves = 3,
                      .curves = curves,
                      .note = ks_arena_print(
                          arena,
                          "%s. %.1f kWh, 9 of 10 such firings between %.0f and %.0f. Plan %.8s.",
                          fired->verdict, fired->energy.total, fired->low_kwh, fired->high_kwh,
                          ks_plan_hash(plan, arena))};
}

ks_status ks_sheets_add_firing(ks_plan *plan, ks_draw_options *options, ks_arena *arena,
                               ks_error *err)
{
    ks_fire_job job = {.load = -1, .options = ks_fire_default()};
    ks_fire_outcome fire;
    job.options.range = job.options.cooling = true;
    ks_status status = ks_fire_loads(&job, plan, arena, &fire, err);
    if (status)
        return status;
    ks_chart *charts = KS_TAKE(arena, fire.n_loads, ks_chart);
    for (int i = 0; i < fire.n_loads; i++)
        charts[i] = ks_curve_chart(plan, fire.loads[i], &fire.fired[i], arena);
    options->n_charts = fire.n_loads;
    options->charts = charts;
    return KS_OK;
}

static const char *money(const ks_costing *costing, int64_t minor, ks_arena *arena)
{
    return ks_money_print(minor, costing->digits, arena);
}

static ks_table pieces_table(const ks_plan *plan, const ks_costing *costing, ks_arena *arena)
{
    static const ks_table_column columns[] = {
        {"Piece", 34, false},    {"Load", 7, true},    {"Copies", 9, true}, {"Cost", 12, true},
        {"Wholesale", 13, true}, {"Retail", 12, true}, {"Shop", 13, true}};
    enum { COLUMNS = sizeof columns / sizeof *columns };
    const char **cells = KS_TAKE(arena, COLUMNS * costing->n_pieces, const char *), **at = cells;
    for (int i = 0; i < costing->n_pieces; i++) {
        const ks_piece_cost *cost = &costing->pieces[i];
        if (ks_cost_told_before(costing, i))
            continue;
        *at++ = plan->order->pieces[cost->piece].name;
        *at++ = ks_arena_print(arena, "%d", cost->load + 1);
        *at++ = ks_arena_print(arena, "%d", ks_cost_copies_like(costing, i));
        *at++ = money(costing, cost->cost_minor, arena);
        *at++ = money(costing, cost->wholesale_minor, arena);
        *at++ = money(costing, cost->retail_minor, arena);
        *at++ = money(costing, cost->shop_minor, arena);
    }
    return (ks_table){
        .title = "What each piece costs",
        .below = ks_arena_print(arena, "All amounts in %s for one piece", costing->currency),
        .kind = "Costs",
        .n_columns = COLUMNS,
        .columns = columns,
        .n_rows = (int)((at - cells) / COLUMNS),
        .cells = cells,
        .note = ""};
}

static ks_table shares_table(const ks_costing *costing, ks_arena *arena)
{
    static const ks_table_column columns[] = {
        {"Who", 50, false}, {"Pieces", 20, true}, {"Pays", 30, true}};
    const char **cells = KS_TAKE(arena, 3 * costing->n_shares, const char *), **at = cells;
    for (int i = 0; i < costing->n_shares; i++) {
        const ks_share *share = &costing->shares[i];
        if (share->pieces == 0 && share->minor == 0)
            continue;
        *at++ = share->name;
        *at++ = ks_arena_print(arena, "%d", share->pieces);
        *at++ =
            ks_arena_print(arena, "%s %s", money(costing, share->minor, arena), costing->currency);
    }
    return (ks_table){.title = "Who owes what",
                      .below = ks_arena_print(arena, "Together %s %s: the bill, to the last cent",
                                              money(costing, costing->total_minor, arena),
                                              costing->currency),
                      .kind = "Shares",
                      .n_columns = 3,
                      .columns = columns,
                      .n_rows = (int)((at - cells) / 3),
                      .cells = cells,
                      .note = ""};
}

ks_status ks_sheets_add_costs(ks_plan *plan, ks_draw_options *options, ks_arena *arena,
                              ks_error *err)
{
    ks_cost_outcome outcome = {.plan = plan};
    ks_cost_options by_the_order = {.rule = -1};
    ks_fire_job firing = {.load = -1, .options = ks_fire_default()};
    ks_status status = ks_fire_loads(&firing, plan, arena, &outcome.fire, err);
    if (!status)
        status = ks_cost(plan, outcome.fire.fired, &by_the_order, arena, &outcome.costing, err);
    if (status)
        return status;
    ks_table *tables = KS_TAKE(arena, 2, ks_table);
    tables[0] = pieces_table(plan, &outcome.costing, arena);
    tables[1] = shares_table(&outcome.costing, arena);
    options->tables = tables;
    options->n_tables = plan->order->n_members > 0 ? 2 : 1;
    return KS_OK;
}
