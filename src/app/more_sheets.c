#include "app/more_sheets.h"

#include "app/curve_chart.h"
#include "base/money_text.h"

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
        charts[i] =
            ks_curve_chart(&(ks_fired_curve){plan, fire.loads[i], &fire.fired[i], NULL}, arena);
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
