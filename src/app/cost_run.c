#include "app/cost_run.h"

#include "app/machine/target.h"
#include "base/file.h"
#include "base/money_text.h"
#include "base/text.h"
#include "base/words.h"
#include "cost/fine.h"
#include "studio/level_name.h"

#include <string.h>

static ks_status choose_rule(const char *name, ks_cost_options *options, ks_error *err)
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

/* "mug|bowl", once for each kind that follows another. */
static const char *placed_ids(const ks_cost_outcome *outcome, ks_arena *arena)
{
    ks_text text = {.arena = arena};
    for (int i = 0; i < outcome->costing.n_pieces; i++) {
        int piece = outcome->costing.pieces[i].piece;
        if (i == 0 || piece != outcome->costing.pieces[i - 1].piece)
            ks_text_print(&text, "%s%s", i > 0 ? "|" : "", outcome->plan->order->pieces[piece].id);
    }
    return ks_text_end(&text);
}

static ks_status find_piece(const ks_cost_outcome *outcome, const char *option, const char *id,
                            ks_arena *arena, const ks_piece_cost **out, ks_error *err)
{
    for (int i = 0; i < outcome->costing.n_pieces; i++) {
        *out = &outcome->costing.pieces[i];
        if (strcmp(outcome->plan->order->pieces[(*out)->piece].id, id) == 0)
            return KS_OK;
    }
    *out = NULL;
    const char *nearest = ks_word_nearest(id, placed_ids(outcome, arena), arena);
    return ks_fail(err, KS_BAD_USAGE, "--%s: found \"%s\"; no piece of that id is placed%s%s",
                   option, id, nearest ? ", nearest is " : "", nearest ? nearest : "");
}

static ks_status varied(const char *id, ks_arena *arena, ks_cost_outcome *out, ks_error *err)
{
    const ks_piece_cost *cost;
    ks_status status = find_piece(out, "what-if", id, arena, &cost, err);
    if (status)
        return status;
    return ks_cost_what_if(out->plan, out->fire.fired, &out->options, cost, arena, &out->n_what_if,
                           &out->what_if, err);
}

static ks_status additions_compared(const char *told, ks_arena *arena, ks_cost_outcome *out,
                                    ks_error *err)
{
    ks_additions *additions = KS_TAKE(arena, 1, ks_additions);
    out->additions = additions;
    ks_status status = ks_additions_read(out->plan->order, told, arena, additions, err);
    if (status)
        return status;
    return ks_additions_costed(out->plan, out->fire.fired, &out->options, arena, additions, err);
}

static bool meant(const ks_share *share, const char *told)
{
    if (strcmp(told, "all") == 0)
        return share->pieces > 0 || share->lines.n > 0;
    if (!*share->member)
        return strcmp(told, "studio") == 0;
    return strcmp(share->member, told) == 0 || strcmp(share->name, told) == 0;
}

static ks_status state(const char *told, ks_arena *arena, ks_cost_outcome *out, ks_error *err)
{
    const ks_costing *costing = &out->costing;
    out->statements = KS_TAKE(arena, costing->n_shares, const char *);
    for (int i = 0; i < costing->n_shares; i++)
        if (meant(&costing->shares[i], told))
            out->statements[out->n_statements++] = ks_statement(out->plan, costing, i, arena);
    if (out->n_statements > 0)
        return KS_OK;
    return ks_fail(err, KS_BAD_USAGE,
                   "--statement: found \"%s\"; a member's id or name, studio, or all is needed",
                   told);
}

static ks_status ask(const ks_cost_job *job, ks_arena *arena, ks_cost_outcome *out, ks_error *err)
{
    ks_status status = KS_OK;
    if (job->explain)
        status = find_piece(out, "explain", job->explain, arena, &out->explained, err);
    if (!status && job->what_if)
        status = varied(job->what_if, arena, out, err);
    if (!status && job->additions)
        status = additions_compared(job->additions, arena, out, err);
    if (!status && job->best_start) {
        ks_start_advices *starts = KS_TAKE(arena, 1, ks_start_advices);
        out->starts = starts;
        status = ks_starts_advise(job->plan_path, out->plan, out->fire.fired, arena, starts, err);
    }
    if (!status && job->statement)
        status = state(job->statement, arena, out, err);
    return status;
}

ks_status ks_cost_run(const ks_cost_job *job, ks_arena *arena, ks_cost_outcome *out, ks_error *err)
{
    ks_fire_job firing = {.load = -1, .options = ks_fire_default()};
    out->options = job->options;
    ks_status status = choose_rule(job->rule, &out->options, err);
    if (!status)
        status = ks_plan_read(job->plan_path, arena, &out->plan, err);
    if (!status) {
        ks_inputs inputs = {.arena = arena};
        ks_inputs_add_order(&inputs, out->plan->order);
        status = ks_target_try(job->csv_path, KS_TARGET_COSTS, &inputs, job->force, err);
    }
    if (!status)
        status = ks_fire_loads(&firing, out->plan, arena, &out->fire, err);
    if (!status)
        status = ks_cost(out->plan, out->fire.fired, &out->options, arena, &out->costing, err);
    if (!status)
        status = ask(job, arena, out, err);
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
    static const char *const columns[] = {"cost",        "wholesale", "retail",
                                          "consignment", "shop",      "tax"};
    enum { COLUMNS = sizeof columns / sizeof *columns };
    ks_text_print(&text, "load,level,id,copy,owner,firing_%s", costing->currency);
    for (int a = 0; a < COLUMNS; a++)
        ks_text_print(&text, ",%s_%s", columns[a], costing->currency);
    ks_text_add(&text, "\r\n");
    const char ***names = KS_TAKE(arena, outcome->plan->n_loads, const char **);
    for (int l = 0; l < outcome->plan->n_loads; l++)
        names[l] = ks_level_names(&outcome->plan->loads[l], arena);
    for (int i = 0; i < costing->n_pieces; i++) {
        const ks_piece_cost *cost = &costing->pieces[i];
        const int64_t amounts[COLUMNS] = {cost->cost_minor,   cost->wholesale_minor,
                                          cost->retail_minor, cost->consignment_minor,
                                          cost->shop_minor,   cost->tax_minor};
        ks_text_print(&text, "%d,", cost->load + 1);
        text_cell(&text, names[cost->load][cost->level]);
        text_cell(&text, outcome->plan->order->pieces[cost->piece].id);
        ks_text_print(&text, "%d,", cost->copy);
        text_cell(&text, cost->owner ? cost->owner : "");
        ks_text_add(&text, ks_fine_print(cost->firing, costing->digits, 2, arena));
        for (int a = 0; a < COLUMNS; a++)
            ks_text_print(&text, ",%s", ks_money_print(amounts[a], costing->digits, arena));
        ks_text_add(&text, "\r\n");
    }
    return ks_text_end(&text);
}
