#include "app/cost_run.h"

#include "base/file.h"
#include "base/money.h"
#include "base/text.h"

#include <string.h>

static const char *const rule_names[] = {"box", "slices", "shelf", "mass", "count", "rate"};
enum { RULES = sizeof rule_names / sizeof *rule_names };

static ks_status rule_chosen(const char *name, ks_cost_options *options, ks_error *err)
{
    options->rule = -1;
    for (int i = 0; name && i < RULES; i++)
        if (strcmp(name, rule_names[i]) == 0)
            options->rule = i;
    if (!name || options->rule >= 0)
        return KS_OK;
    return ks_fail(err, KS_BAD_USAGE,
                   "--by: found \"%s\"; it takes box, slices, shelf, mass, count or rate", name);
}

ks_status ks_cost_run(const ks_cost_job *job, ks_arena *arena, ks_cost_outcome *out, ks_error *err)
{
    ks_cost_options options = job->options;
    ks_fire_job firing = {.load = -1, .options = ks_fire_default()};
    ks_status status = rule_chosen(job->rule, &options, err);
    if (!status)
        status = ks_plan_read(job->plan_path, arena, &out->plan, err);
    if (!status)
        status = ks_fire_loads(&firing, out->plan, arena, &out->fire, err);
    if (!status)
        status = ks_cost(out->plan, out->fire.fired, &options, arena, &out->costing, err);
    if (status || !job->csv_path)
        return status;
    const char *csv = ks_cost_csv(out, arena);
    return ks_file_write(job->csv_path, csv, strlen(csv), err);
}

/* Quoted always: ids may hold commas, quotes and line breaks. */
static void text_cell(ks_text *text, const char *cell)
{
    ks_text_add(text, "\"");
    if (*cell && strchr("=+-@\t\r", *cell))
        ks_text_add(text, "'");
    for (; *cell; cell++) {
        if (*cell == '"')
            ks_text_add(text, "\"");
        ks_text_add_n(text, cell, 1);
    }
    ks_text_add(text, "\",");
}

const char *ks_cost_csv(const ks_cost_outcome *outcome, ks_arena *arena)
{
    const ks_costing *costing = &outcome->costing;
    ks_text text = {.arena = arena};
    ks_text_print(
        &text, "load,level,id,copy,owner,cost_%s,wholesale_%s,retail_%s,consignment_%s,shop_%s\r\n",
        costing->currency, costing->currency, costing->currency, costing->currency,
        costing->currency);
    for (int i = 0; i < costing->n_pieces; i++) {
        const ks_piece_cost *cost = &costing->pieces[i];
        const int64_t amounts[] = {cost->cost_minor, cost->wholesale_minor, cost->retail_minor,
                                   cost->consignment_minor, cost->shop_minor};
        ks_text_print(&text, "%d,%d,", cost->load + 1, cost->level + 1);
        text_cell(&text, outcome->plan->order->pieces[cost->piece].id);
        ks_text_print(&text, "%d,", cost->copy);
        text_cell(&text, cost->owner ? cost->owner : "");
        for (int a = 0; a < 5; a++)
            ks_text_print(&text, "%s%s", ks_money_print(amounts[a], costing->digits, arena),
                          a < 4 ? "," : "\r\n");
    }
    return ks_text_end(&text);
}
