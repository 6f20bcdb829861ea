/* cost.h: what a firing costs, what each piece has cost, and who owes what. */
#ifndef KILNSTOW_COST_H
#define KILNSTOW_COST_H

#include "kilnstow/fire.h"
#include "kilnstow/money.h"

/* One line of a sum, with its reason: "energy, night", "31.2 kWh x 0.2100 EUR/kWh". */
typedef struct {
    const char *what, *how;
    ks_fine amount;
} ks_cost_line;

/* A list of lines that grows. */
typedef struct {
    int n, room;
    ks_cost_line *lines;
    ks_fine sum;
} ks_cost_lines;

/* What one load's firing costs, to the cent: each line is a whole number of minor units. */
typedef struct {
    ks_cost_lines lines;
    int64_t total_minor;
    double kwh;
    double co2_kg;           /* negative = no factor told */
    int64_t start_local_min; /* when it starts on the studio's clock; -1 = not told */
} ks_load_bill;

/* What one placed copy has cost so far, and its prices. Identical pieces of one load have the same
 * figures, to the last digit. */
typedef struct {
    int load, level, place; /* into plan.loads[].levels[].pieces[] */
    int piece;              /* into order.pieces */
    int copy;
    const char *owner;
    ks_cost_lines
        lines;          /* firing, glaze, clay, setter, labour, earlier firings, overhead, losses */
    ks_fine firing;     /* its share of the firing alone */
    double firing_part; /* the same as a fraction of the load's bill */
    ks_fine total;
    int64_t cost_minor, wholesale_minor, retail_minor, consignment_minor;
    int64_t shop_minor; /* retail with sales tax */
} ks_piece_cost;

/* What one member pays: lines in whole minor units. */
typedef struct {
    const char *member, *name; /* id; "" is the studio */
    int pieces;
    ks_cost_lines lines;
    int64_t minor;
} ks_share;

typedef struct {
    const char *currency;
    int digits; /* of its minor unit */
    int n_loads;
    ks_load_bill *loads;
    int n_pieces;
    ks_piece_cost *pieces; /* every placed copy that is not a cone pack */
    int64_t total_minor;   /* the bill: all loads, glazes of the studio, extras */
    int n_shares;
    ks_share
        *shares; /* members in the order's order, then the studio; they add up to total_minor */
    int n_assumed;
    const char **assumed;
} ks_costing;

typedef struct {
    int rule; /* ks_share_rule, -1 = the order's */
    bool
        best_start; /* start each firing at the cheapest whole hour of the week from the told one */
} ks_cost_options;

/* Costs a plan whose loads were fired so: one result for each load. KS_BAD_INPUT when the order
 * tells no terms, or none that a load needs (no tariff for its fuel). */
ks_status ks_cost(const ks_plan *plan, const ks_firing_result *fired,
                  const ks_cost_options *options, ks_arena *arena, ks_costing *out, ks_error *err);

/* Weighs the pieces of one load by a rule: one weight for each piece of each level in order, cone
 * packs too; *empty is the weight of the space that nobody uses. */
int ks_load_weights(const ks_plan *plan, int load, ks_share_rule rule, ks_arena *arena,
                    double **weights, double *empty);

/* One line for each glaze and load: what to weigh out, grams. */
typedef struct {
    int glaze; /* into order.glazes */
    int load;
    double wanted_g; /* dry, for all pieces of the load that carry it */
    int n_grams;
    double *grams;  /* of each line of the recipe, base first as written */
    ks_fine price;  /* of all of it */
    ks_fine per_kg; /* dry */
} ks_batch;
int ks_glaze_batches(const ks_plan *plan, ks_arena *arena, ks_batch **out);

#endif
