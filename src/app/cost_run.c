#include "app/cost_run.h"

#include "app/machine/target.h"
#include "app/record/loss_rates.h"
#include "base/data/csv_out.h"
#include "base/file.h"
#include "base/money_text.h"
#include "base/number.h"
#include "base/text.h"
#include "base/words.h"
#include "cost/fine.h"
#include "studio/level_name.h"

#include <math.h>
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
                   "--by: found \"%s\"; it takes box, slices, shelf, mass, count, sides or rate",
                   name);
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
        status = ks_starts_advise(job->plan_path, out->plan, &out->fire, arena, starts, err);
    }
    if (!status && job->kilns) {
        ks_kilns_compared *compared = KS_TAKE(arena, 1, ks_kilns_compared);
        ks_cost_options bills_only = {.rule = out->options.rule}; /* of an order of its own */
        out->compared = compared;
        status = ks_kilns_compare(out->plan, job->load, job->kilns, job->kiln_folder, &bills_only,
                                  arena, compared, err);
    }
    if (!status && job->statement)
        status = state(job->statement, arena, out, err);
    return status;
}

static const struct {
    const char *(*make)(const ks_cost_outcome *outcome, const ks_csv_style *style, ks_arena *arena);
} csv_tables[] = {[KS_TABLE_PIECES] = {ks_cost_csv},
                  [KS_TABLE_SHARES] = {ks_shares_csv},
                  [KS_TABLE_BILLS] = {ks_bills_csv}};

ks_status ks_cost_run(const ks_cost_job *job, ks_arena *arena, ks_cost_outcome *out, ks_error *err)
{
    ks_fire_job firing = {.load = -1, .book_path = job->book_path, .options = ks_fire_default()};
    out->options = job->options;
    ks_status status = choose_rule(job->rule, &out->options, err);
    if (!status)
        status = ks_plan_read(job->plan_path, arena, &out->plan, err);
    if (!status) {
        ks_inputs inputs = {.arena = arena};
        ks_inputs_add_order(&inputs, out->plan->order);
        ks_inputs_add(&inputs, job->book_path);
        status = ks_target_try(job->csv_path,
                               job->table == KS_TABLE_PIECES ? KS_TARGET_COSTS : KS_TARGET_SUMS,
                               &inputs, job->force, err);
    }
    if (!status)
        status = ks_fire_loads(&firing, out->plan, arena, &out->fire, err);
    if (!status && job->book_path)
        status = ks_loss_rates(job->book_path, out->plan->order, arena, &out->lost,
                               &out->options.losses, err);
    if (!status)
        status = ks_cost(out->plan, out->fire.fired, &out->options, arena, &out->costing, err);
    if (!status)
        status = ask(job, arena, out, err);
    if (status || !job->csv_path)
        return status;
    const char *csv = csv_tables[job->table].make(out, &job->csv, arena);
    return ks_file_write(job->csv_path, csv, strlen(csv), err);
}

static ks_csv_out table_of(const ks_csv_style *style, ks_arena *arena)
{
    return (ks_csv_out){
        .text.arena = arena, .separator = style->separator, .decimal = style->decimal};
}

static void head_row(ks_csv_out *table, const ks_costing *costing)
{
    static const char *const plain[] = {"load",    "level",          "id",     "copy",
                                        "owner",   "name",           "litres", "kwh",
                                        "glaze_g", "margin_percent", NULL};
    static const char *const amounts[] = {"price",  "firing",      "cost", "wholesale",
                                          "retail", "consignment", "shop", "tax"};
    ks_csv_heads(table, plain);
    for (size_t i = 0; i < sizeof amounts / sizeof *amounts; i++)
        ks_csv_plain(table, ks_joined(amounts[i], "_", costing->currency, table->text.arena));
    ks_csv_end_row(table);
}

static double glaze_g(const ks_order *order, const ks_piece *piece)
{
    double grams = 0;
    for (int i = 0; i < piece->n_glazes && piece->stage == KS_GLAZED; i++)
        grams += ks_glaze_on_piece_g(&order->glazes[piece->glazes[i]], piece);
    return grams;
}

static void plain_cells(ks_csv_out *table, const ks_order *order, const ks_piece_cost *cost)
{
    static const double mm3_in_l = 1e6;
    ks_arena *arena = table->text.arena;
    const ks_piece *piece = &order->pieces[cost->piece];
    double margin = ks_piece_margin(order, cost);
    ks_csv_plain(table, ks_arena_print(arena, "%d", cost->load + 1));
    ks_csv_plain(table, ks_arena_print(arena, "%d", cost->level + 1));
    ks_csv_quoted(table, piece->id);
    ks_csv_plain(table, ks_arena_print(arena, "%d", cost->copy));
    ks_csv_quoted(table, cost->owner ? cost->owner : "");
    ks_csv_quoted(table, piece->name ? piece->name : "");
    ks_csv_plain(table, ks_number_fixed(piece->area_mm2 * piece->height_mm / mm3_in_l, 4, arena));
    ks_csv_plain(table, ks_number_fixed(cost->kwh, 3, arena));
    ks_csv_plain(table, ks_number_fixed(glaze_g(order, piece), 1, arena));
    ks_csv_plain(table, isnan(margin) ? "" : ks_number_fixed(100 * margin, 1, arena));
}

static void amount_cells(ks_csv_out *table, const ks_costing *costing, const ks_order *order,
                         const ks_piece_cost *cost)
{
    ks_arena *arena = table->text.arena;
    int64_t price_minor = order->pieces[cost->piece].price_minor;
    const int64_t amounts[] = {cost->cost_minor,        cost->wholesale_minor, cost->retail_minor,
                               cost->consignment_minor, cost->shop_minor,      cost->tax_minor};
    ks_csv_plain(table,
                 price_minor >= 0 ? ks_money_print(price_minor, costing->digits, arena) : "");
    ks_csv_plain(table, ks_fine_print(cost->firing, costing->digits, 2, arena));
    for (size_t a = 0; a < sizeof amounts / sizeof *amounts; a++)
        ks_csv_plain(table, amounts[a] == KS_NO_PRICE
                                ? ""
                                : ks_money_print(amounts[a], costing->digits, arena));
    ks_csv_end_row(table);
}

const char *ks_cost_csv(const ks_cost_outcome *outcome, const ks_csv_style *style, ks_arena *arena)
{
    const ks_costing *costing = &outcome->costing;
    ks_csv_out table = table_of(style, arena);
    head_row(&table, costing);
    for (int i = 0; i < costing->n_pieces; i++) {
        plain_cells(&table, outcome->plan->order, &costing->pieces[i]);
        amount_cells(&table, costing, outcome->plan->order, &costing->pieces[i]);
    }
    return ks_text_end(&table.text);
}

/* The last cells of a row. */
static void line_cells(ks_csv_out *table, const ks_costing *costing, const ks_cost_line *line)
{
    ks_csv_quoted(table, line->what);
    ks_csv_quoted(table, line->how);
    ks_csv_plain(table,
                 ks_money_print(ks_fine_minor(line->amount), costing->digits, table->text.arena));
    ks_csv_end_row(table);
}

static void line_heads(ks_csv_out *table, const ks_costing *costing)
{
    ks_csv_plain(table, "what");
    ks_csv_plain(table, "how");
    ks_csv_plain(table, ks_arena_print(table->text.arena, "amount_%s", costing->currency));
    ks_csv_end_row(table);
}

const char *ks_shares_csv(const ks_cost_outcome *outcome, const ks_csv_style *style,
                          ks_arena *arena)
{
    const ks_costing *costing = &outcome->costing;
    ks_csv_out table = table_of(style, arena);
    ks_csv_plain(&table, "member");
    ks_csv_plain(&table, "name");
    line_heads(&table, costing);
    for (int i = 0; i < costing->n_shares; i++)
        for (int k = 0; k < costing->shares[i].lines.n; k++) {
            ks_csv_quoted(&table, costing->shares[i].member);
            ks_csv_quoted(&table, costing->shares[i].name);
            line_cells(&table, costing, &costing->shares[i].lines.lines[k]);
        }
    return ks_text_end(&table.text);
}

const char *ks_bills_csv(const ks_cost_outcome *outcome, const ks_csv_style *style, ks_arena *arena)
{
    const ks_costing *costing = &outcome->costing;
    ks_csv_out table = table_of(style, arena);
    ks_csv_plain(&table, "load");
    line_heads(&table, costing);
    for (int l = 0; l < costing->n_loads; l++)
        for (int k = 0; k < costing->loads[l].lines.n; k++) {
            ks_csv_plain(&table, ks_arena_print(arena, "%d", l + 1));
            line_cells(&table, costing, &costing->loads[l].lines.lines[k]);
        }
    return ks_text_end(&table.text);
}
