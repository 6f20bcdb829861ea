#include "app/cost_run.h"

#include "base/file.h"
#include "base/money.h"
#include "base/text.h"

#include <stdlib.h>
#include <string.h>

static ks_status rule_chosen(const char *name, ks_cost_options *options, ks_error *err)
{
    options->rule = -1;
    for (int i = 0; name && ks_share_rule_name(i); i++)
        if (strcmp(name, ks_share_rule_name(i)) == 0)
            options->rule = i;
    if (!name || options->rule >= 0)
        return KS_OK;
    return ks_fail(err, KS_BAD_USAGE,
                   "--by: found \"%s\"; it takes box, slices, shelf, mass, count or rate", name);
}

ks_status ks_cost_run(const ks_cost_job *job, ks_arena *arena, ks_cost_outcome *out, ks_error *err)
{
    ks_fire_job firing = {.load = -1, .options = ks_fire_default()};
    out->options = job->options;
    ks_status status = rule_chosen(job->rule, &out->options, err);
    if (!status)
        status = ks_plan_read(job->plan_path, arena, &out->plan, err);
    if (!status)
        status = ks_fire_loads(&firing, out->plan, arena, &out->fire, err);
    if (!status)
        status = ks_cost(out->plan, out->fire.fired, &out->options, arena, &out->costing, err);
    if (status || !job->csv_path)
        return status;
    const char *csv = ks_cost_csv(out, arena);
    return ks_file_write(job->csv_path, csv, strlen(csv), err);
}

static int glaze_named(const ks_order *order, const char *name)
{
    for (int i = 0; i < order->n_glazes; i++)
        if (strcmp(order->glazes[i].id, name) == 0)
            return i;
    return -1;
}

static int material_named(const ks_order *order, const char *name)
{
    for (int i = 0; i < order->n_materials; i++)
        if (strcmp(order->materials[i].id, name) == 0)
            return i;
    return -1;
}

/* "5,10,12.5": numbers with points between commas. How many, or -1. */
static int percents_read(const char *told, double *percents)
{
    int n = 0;
    for (;; told++) {
        char *end;
        if (n == KS_ADDITIONS_MOST || strspn(told, "0123456789.") == 0)
            return -1;
        percents[n] = strtod(told, &end);
        if (end == told || !(percents[n++] <= 1000))
            return -1;
        told = end;
        if (!*told)
            return n;
        if (*told != ',')
            return -1;
    }
}

ks_status ks_additions_read(const ks_order *order, const char *told, ks_arena *arena,
                            ks_additions *out, ks_error *err)
{
    double percents[KS_ADDITIONS_MOST];
    size_t named = strcspn(told, ":="), whole = strcspn(told, "=");
    int material = -1;
    out->glaze = glaze_named(order, ks_arena_text_n(arena, told, named));
    if (out->glaze < 0)
        return ks_fail(err, KS_BAD_USAGE, "--additions: found \"%s\"; it starts with a glaze's id",
                       told);
    if (told[named] == ':') {
        const char *name = ks_arena_text_n(arena, told + named + 1, whole - named - 1);
        material = material_named(order, name);
        if (material < 0)
            return ks_fail(err, KS_BAD_USAGE,
                           "--additions: found the material \"%s\"; the order has none of that id",
                           name);
    }
    out->n = told[whole] == '=' ? percents_read(told + whole + 1, percents) : -1;
    if (out->n < 1)
        return ks_fail(err, KS_BAD_USAGE,
                       "--additions: found \"%s\"; up to %d per cents are needed, as in %s=5,10",
                       told, KS_ADDITIONS_MOST, order->glazes[out->glaze].id);
    return ks_addition_levels(order, out->glaze, material, out->n, percents, arena, out->levels,
                              &out->line, err);
}

double ks_additions_on_piece_g(const ks_cost_outcome *outcome, const ks_additions *additions,
                               int place)
{
    const ks_order *order = outcome->plan->order;
    const ks_piece *piece = &order->pieces[outcome->costing.pieces[place].piece];
    for (int g = 0; g < piece->n_glazes && piece->stage == KS_GLAZED; g++)
        if (piece->glazes[g] == additions->glaze)
            return ks_glaze_on_piece_g(&order->glazes[additions->glaze], piece);
    return 0;
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
