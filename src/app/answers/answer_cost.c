#include "app/answers/answer.h"
#include "app/answers/answer_frame.h"
#include "base/days/civil.h"
#include "cost/fine.h"

#include <math.h>

/* Amounts to a millionth of a minor unit, as decimal text: nothing is lost on the way. */
static void add_fine(ks_json_out *out, const char *key, ks_fine amount)
{
    if (amount % KS_FINE == 0)
        ks_out_whole(out, key, amount / KS_FINE);
    else
        ks_out_json(out, key, ks_fine_print(amount, 0, 6, out->text.arena));
}

static void add_lines(ks_json_out *out, const ks_cost_lines *lines)
{
    ks_out_array(out, "lines");
    for (int i = 0; i < lines->n; i++) {
        ks_out_object_flat(out, NULL);
        ks_out_text(out, "what", lines->lines[i].what);
        ks_out_text(out, "how", lines->lines[i].how);
        add_fine(out, "minor", lines->lines[i].amount);
        ks_out_end(out);
    }
    ks_out_end(out);
}

static void add_loads(ks_json_out *out, const ks_costing *costing)
{
    ks_out_array(out, "loads");
    for (int l = 0; l < costing->n_loads; l++) {
        const ks_load_bill *bill = &costing->loads[l];
        ks_out_object(out, NULL);
        ks_out_whole(out, "load", l + 1);
        ks_out_whole(out, "total_minor", bill->total_minor);
        ks_out_number(out, "kwh", bill->kwh);
        ks_out_number(out, "co2_kg", bill->co2_kg >= 0 ? bill->co2_kg : (double)NAN);
        ks_out_text(out, "start",
                    bill->start_local_min < 0
                        ? NULL
                        : ks_civil_print(bill->start_local_min * 60, out->text.arena));
        add_lines(out, &bill->lines);
        ks_out_end(out);
    }
    ks_out_end(out);
}

/* A price that is not proposed is null. */
static void add_price(ks_json_out *out, const char *key, int64_t minor)
{
    if (minor == KS_NO_PRICE)
        ks_out_null(out, key);
    else
        ks_out_whole(out, key, minor);
}

static void add_pieces(ks_json_out *out, const ks_cost_outcome *outcome)
{
    const ks_costing *costing = &outcome->costing;
    ks_out_array(out, "pieces");
    for (int i = 0; i < costing->n_pieces; i++) {
        const ks_piece_cost *cost = &costing->pieces[i];
        ks_out_object_flat(out, NULL);
        ks_out_text(out, "id", outcome->plan->order->pieces[cost->piece].id);
        ks_out_whole(out, "copy", cost->copy);
        ks_out_text(out, "owner", cost->owner);
        ks_out_whole(out, "load", cost->load + 1);
        ks_out_number(out, "units", cost->units);
        ks_out_text(out, "unit", cost->unit);
        ks_out_number(out, "kwh", cost->kwh);
        add_fine(out, "firing_minor", cost->firing);
        ks_out_whole(out, "cost_minor", cost->cost_minor);
        add_price(out, "wholesale_minor", cost->wholesale_minor);
        add_price(out, "retail_minor", cost->retail_minor);
        add_price(out, "consignment_minor", cost->consignment_minor);
        add_price(out, "shop_minor", cost->shop_minor);
        add_price(out, "tax_minor", cost->tax_minor);
        ks_out_end(out);
    }
    ks_out_end(out);
}

static void add_shares(ks_json_out *out, const ks_costing *costing)
{
    ks_out_array(out, "shares");
    for (int i = 0; i < costing->n_shares; i++) {
        ks_out_object(out, NULL);
        ks_out_text(out, "member", costing->shares[i].member);
        ks_out_whole(out, "minor", costing->shares[i].minor);
        ks_out_whole(out, "pieces", costing->shares[i].pieces);
        add_lines(out, &costing->shares[i].lines);
        ks_out_end(out);
    }
    ks_out_end(out);
}

static void add_batches(ks_json_out *out, const ks_cost_outcome *outcome)
{
    ks_batch *batches;
    const ks_order *order = outcome->plan->order;
    int n = ks_glaze_batches(outcome->plan, out->text.arena, &batches);
    ks_out_array(out, "batches");
    for (int i = 0; i < n; i++) {
        const ks_glaze *glaze = &order->glazes[batches[i].glaze];
        ks_out_object(out, NULL);
        ks_out_text(out, "glaze", glaze->id);
        ks_out_whole(out, "load", batches[i].load + 1);
        ks_out_number(out, "dry_g", batches[i].wanted_g);
        add_fine(out, "minor", batches[i].price);
        ks_out_array(out, "weigh");
        for (int k = 0; k < batches[i].n_grams; k++) {
            ks_out_object_flat(out, NULL);
            ks_out_text(out, "material", order->materials[glaze->lines[k].material].id);
            ks_out_number(out, "g", batches[i].grams[k]);
            ks_out_end(out);
        }
        ks_out_end(out);
        ks_out_end(out);
    }
    ks_out_end(out);
}

static void add_what_if(ks_json_out *out, const ks_cost_outcome *outcome)
{
    ks_out_array(out, "what_if");
    for (int i = 0; i < outcome->n_what_if; i++) {
        const ks_what_if *of = &outcome->what_if[i];
        ks_out_object_flat(out, NULL);
        ks_out_text(out, "change", of->change);
        ks_out_text(out, "note", of->note);
        ks_out_bool(out, "worked", of->worked);
        ks_out_bool(out, "reached", of->reached);
        ks_out_number(out, "kwh", of->kwh);
        ks_out_whole(out, "bill_minor", of->bill_minor);
        ks_out_whole(out, "cost_minor", of->cost_minor);
        add_price(out, "retail_minor", of->retail_minor);
        ks_out_end(out);
    }
    ks_out_end(out);
}

static void add_starts(ks_json_out *out, const ks_start_advices *starts)
{
    ks_out_array(out, "best_starts");
    for (int i = 0; starts && i < starts->n; i++) {
        const ks_start_advice *advice = &starts->loads[i];
        ks_out_object(out, NULL);
        ks_out_whole(out, "load", advice->load + 1);
        ks_out_text(out, "told", ks_zone_print(&starts->zone, advice->told_s, out->text.arena));
        ks_out_bool(out, "watched", advice->is_watched);
        ks_out_array(out, "starts");
        for (int k = 0; k < advice->n; k++) {
            ks_out_object_flat(out, NULL);
            ks_out_text(out, "on",
                        ks_zone_print(&starts->zone, advice->starts[k].on_s, out->text.arena));
            ks_out_whole(out, "saves_minor", advice->starts[k].saves_minor);
            ks_out_end(out);
        }
        ks_out_end(out);
        ks_out_end(out);
    }
    ks_out_end(out);
}

/* For each level the price of the glaze, and of each kind of piece that carries it. */
static void add_additions(ks_json_out *out, const ks_cost_outcome *outcome)
{
    const ks_additions *additions = outcome->additions;
    const ks_order *order = outcome->plan->order;
    ks_out_array(out, "additions");
    for (int i = 0; additions && i < additions->n; i++) {
        ks_out_object(out, NULL);
        ks_out_number(out, "percent", additions->levels[i].percent);
        add_fine(out, "minor_per_kg", additions->levels[i].per_kg);
        ks_out_array(out, "pieces");
        for (int k = 0; k < additions->costings[i].n_pieces; k++) {
            const ks_piece_cost *cost = &additions->costings[i].pieces[k];
            double grams = ks_additions_on_piece_g(order, additions, cost->piece);
            if (!(grams > 0))
                continue;
            ks_out_object_flat(out, NULL);
            ks_out_text(out, "id", order->pieces[cost->piece].id);
            ks_out_whole(out, "copy", cost->copy);
            ks_out_number(out, "glaze_g", grams);
            add_fine(out, "glaze_minor", cost->glaze);
            ks_out_whole(out, "cost_minor", cost->cost_minor);
            add_price(out, "retail_minor", cost->retail_minor);
            ks_out_end(out);
        }
        ks_out_end(out);
        ks_out_end(out);
    }
    ks_out_end(out);
}

/* A number of pieces that no number reaches is null. */
static void add_break_even(ks_json_out *out, const char *key, int64_t n)
{
    if (n >= 0)
        ks_out_whole(out, key, n);
    else
        ks_out_null(out, key);
}

static void add_explained(ks_json_out *out, const ks_cost_outcome *outcome)
{
    const ks_piece_cost *cost = outcome->explained;
    const ks_costing *costing = &outcome->costing;
    add_lines(out, &cost->lines);
    add_fine(out, "own_minor", cost->own);
    ks_out_object(out, "break_even");
    add_break_even(out, "wholesale",
                   ks_break_even(outcome->plan, costing, cost, cost->wholesale_minor));
    int64_t kept_minor = cost->worked ? cost->shop_minor - cost->tax_minor : KS_NO_PRICE;
    add_break_even(out, "retail", ks_break_even(outcome->plan, costing, cost, kept_minor));
    ks_out_end(out);
}

static void add_compared(ks_json_out *out, const ks_kilns_compared *compared)
{
    ks_out_array(out, "kilns");
    for (int i = 0; i < compared->n; i++) {
        const ks_kiln_row *row = &compared->rows[i];
        ks_out_object_flat(out, NULL);
        ks_out_text(out, "kiln", row->kiln->id);
        ks_out_whole(out, "load", compared->load + 1);
        ks_out_bool(out, "as_planned", row->as_planned);
        ks_out_text(out, "why_not", row->why_not);
        ks_out_whole(out, "pieces", row->pieces);
        ks_out_bool(out, "reached", row->reached);
        ks_out_number(out, "kwh", row->kwh);
        ks_out_number(out, "hours", row->hours);
        ks_out_number(out, "open_after_hours", row->open_h);
        ks_out_whole(out, "bill_minor", row->bill_minor);
        ks_out_end(out);
    }
    ks_out_end(out);
}

const char *ks_answer_cost(const ks_cost_outcome *outcome, ks_arena *arena)
{
    const ks_costing *costing = &outcome->costing;
    ks_json_out out = {.text.arena = arena};
    ks_answer_open(&out, "cost", "done");
    ks_answer_warnings(&out, outcome->plan->order);
    ks_out_object(&out, "result");
    ks_out_text(&out, "currency", costing->currency);
    if (outcome->options.losses) {
        ks_out_object_flat(&out, "losses");
        ks_out_number(&out, "lost", outcome->lost.lost);
        ks_out_whole(&out, "copies", outcome->lost.copies);
        ks_out_whole(&out, "firings", outcome->lost.firings);
        ks_out_end(&out);
    }
    ks_out_whole(&out, "digits", costing->digits);
    ks_out_text(&out, "shared_by", ks_share_rule_name((int)costing->rule));
    ks_out_whole(&out, "total_minor", costing->total_minor);
    add_loads(&out, costing);
    add_pieces(&out, outcome);
    add_shares(&out, costing);
    add_batches(&out, outcome);
    ks_answer_texts(&out, "assumed", costing->n_assumed, costing->assumed);
    if (outcome->explained) {
        ks_out_object(&out, "explained");
        ks_out_text(&out, "id", outcome->plan->order->pieces[outcome->explained->piece].id);
        add_explained(&out, outcome);
        ks_out_end(&out);
    }
    if (outcome->n_what_if > 0)
        add_what_if(&out, outcome);
    if (outcome->additions)
        add_additions(&out, outcome);
    if (outcome->compared)
        add_compared(&out, outcome->compared);
    if (outcome->starts)
        add_starts(&out, outcome->starts);
    if (outcome->n_statements > 0)
        ks_answer_texts(&out, "statements", outcome->n_statements, outcome->statements);
    return ks_answer_close(&out);
}
