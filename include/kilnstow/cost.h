/* cost.h: what a firing costs, what each piece has cost, and who owes what. */
#ifndef KILNSTOW_COST_H
#define KILNSTOW_COST_H

#include "kilnstow/fire.h"
#include "kilnstow/money.h"

#ifdef __cplusplus
extern "C" {
#endif

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

/* Of a price that is not proposed: nobody told what the work on the piece takes or is worth. */
#define KS_NO_PRICE INT64_C(-1)

/* What one placed copy has cost so far, and its prices. Identical pieces of one load have the same
 * figures, to the last digit. */
typedef struct {
    int load, level, place; /* into plan.loads[].levels[].pieces[] */
    int piece;              /* into order.pieces */
    int copy;
    const char *owner;
    int payer; /* its owner's place among the members; behind the last: the studio's */
    ks_cost_lines
        lines;        /* firing, glaze, clay, setter, labour, earlier firings, overhead, losses */
    double units;     /* what it is weighed by: litres, kg or pieces, a guest's times the factor */
    const char *unit; /* "l", "kg", "pieces"; of a fee also "in3", "lb", "shelf" */
    ks_fine fee;      /* by the studio's list, before surcharge and discount; else 0 */
    const char *fee_how; /* "0.5391 l x 3.00 EUR/l"; "" = no list */
    double kwh;          /* its share of the firing's */
    ks_fine firing;      /* its share of the firing alone */
    ks_fine glaze;       /* what glaze it carries */
    double firing_part;  /* the same as a fraction of the load's bill */
    ks_fine total;
    double losses; /* the part of such pieces that fails */
    bool worked;   /* its labour is in the total: minutes and what an hour is worth are told */
    int64_t cost_minor;
    int64_t wholesale_minor, retail_minor, consignment_minor; /* KS_NO_PRICE unless worked */
    int64_t shop_minor; /* what a customer pays at retail, sales tax and all */
    int64_t tax_minor;  /* of which sales tax */
    ks_fine own;        /* of total: what only this copy causes, all but the firing's share */
    ks_fine firing_due; /* the rest: its share of the firing with overhead and losses */
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
    ks_share_rule rule;
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

/* The chamber's height in thirds, for what is known of places: 0 at the bottom. */
enum { KS_THIRDS = 3 };
int ks_third_of(double part); /* where a level begins, as a part of the chamber's height */
const char *ks_third_name(int third);

typedef struct {
    int rule;             /* ks_share_rule, -1 = the order's */
    const double *losses; /* the part that fails of each of the order's pieces, KS_THIRDS for each
                             by where it stands; NULL = the order's terms tell one for all */
} ks_cost_options;

/* Costs a plan whose loads were fired so: one result for each load. KS_BAD_INPUT when the order
 * tells no terms, or none that a load needs (no tariff for its fuel). */
ks_status ks_cost(const ks_plan *plan, const ks_firing_result *fired,
                  const ks_cost_options *options, ks_arena *arena, ks_costing *out, ks_error *err);

/* How many such copies, sold so that `kept_minor` is left of each, pay for the whole firing of
 * their load, overhead and all, beside what they cause themselves; -1 = no number does. */
int64_t ks_break_even(const ks_plan *plan, const ks_costing *costing, const ks_piece_cost *cost,
                      int64_t kept_minor);

/* What is left of the piece's own price, without the tax in it, as a fraction of that; < 0 is a
 * loss on each sold. NAN where the order tells no price. */
double ks_piece_margin(const ks_order *order, const ks_piece_cost *cost);

/* The unit that a rule weighs by, "l", "kg" or "pieces", and how many make one of ks_load_weights.
 */
const char *ks_share_unit(ks_share_rule rule);
double ks_share_units(ks_share_rule rule, double weight);

/* "box", "slices", ...; NULL beyond the last. */
const char *ks_share_rule_name(int rule);

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
/* All batches of the plan, in *out; how many. */
int ks_glaze_batches(const ks_plan *plan, ks_arena *arena, ks_batch **out);

/* The same glaze with one addition at another level. */
typedef struct {
    double percent; /* of the base */
    ks_fine per_kg; /* dry */
    ks_glaze recipe;
} ks_addition_level;

/* `material` is one of the order's, or -1 for the addition that costs most in a kilogram of the
 * glaze. KS_BAD_INPUT when the glaze has no recipe or no such addition. `line` tells which line of
 * the recipe was changed. */
ks_status ks_addition_levels(const ks_order *order, int glaze, int material, int n,
                             const double *percents, ks_arena *arena, ks_addition_level *out,
                             int *line, ks_error *err);

/* Dry grams of a glaze on one copy of a piece: surface x coats x grams laid down. A piece that
 * carries several glazes carries them on equal parts of its surface. */
double ks_glaze_on_piece_g(const ks_glaze *glaze, const ks_piece *piece);

/* What would become of the price of one copy. */
typedef struct {
    const char *change; /* "one cone lower, 5" */
    const char *note;   /* how it was worked out, or why it could not be, then n is 0 */
    bool worked;
    bool reached; /* the kiln gets there */
    double kwh;
    int64_t bill_minor; /* of its load */
    int64_t cost_minor, retail_minor;
} ks_what_if;

/* Costs the load of `cost` anew after each of a few changes: simulated, billed and shared as the
 * plan itself was. The first line is the plan as it is. */
ks_status ks_cost_what_if(const ks_plan *plan, const ks_firing_result *fired,
                          const ks_cost_options *options, const ks_piece_cost *cost,
                          ks_arena *arena, int *n, ks_what_if **out, ks_error *err);

/* A member's account as a text ready to be sent: what was fired, each sum, what is to be paid.
 * `share` is into costing->shares. */
const char *ks_statement(const ks_plan *plan, const ks_costing *costing, int share,
                         ks_arena *arena);

/* Copies of one piece that cost the same in one load are told in one row: whether an earlier one of
 * the costing's pieces tells this one too, and how many from it on it stands for. */
bool ks_cost_told_before(const ks_costing *costing, int i);
int ks_cost_copies_like(const ks_costing *costing, int i);

#ifdef __cplusplus
}
#endif

#endif
