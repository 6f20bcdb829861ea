/* fit_run.h: from an order's file to a verdict for each piece in each kiln. */
#ifndef KILNSTOW_APP_FITTING_FIT_RUN_H
#define KILNSTOW_APP_FITTING_FIT_RUN_H

#include "app/draw_run.h"
#include "kilnstow/cost.h"
#include "kilnstow/fit.h"

typedef struct {
    const char *order_path, *kiln_folder;
    const char *columns; /* of ware tables, as ks_order_read_columns takes them; NULL = none told */
    int n_pieces;
    const char *const *pieces; /* ids; none = every piece */
    int n_kilns;
    const char *const *kilns; /* files; none = the order's own */
    bool all_kilns;           /* every kiln of the folder */
    ks_fit_options options;
    const char *tape, *board; /* lengths that replace those of the options, as "1/8 in" or, without
                               * a unit, in the order's; NULL = as the options have them */
    bool pairs;               /* which two of the pieces can share a level */
    bool together;            /* whether all of them go into one load */
    bool rest;                /* and how much of the order goes in with them */
    int rounds;               /* of planning for that, in each kiln */
    bool largest;             /* instead: how large a form of one piece's clay and slab may be */
    int n_under;
    const char *const *under; /* levels of other ware under it: "cup:2" */
    const char *foot,
        *high;             /* of the form drawn: "oval", "45 cm"; NULL = round, as high as may be */
    const char *plan_path; /* where to write the load of --rest or --together, NULL = nowhere */
    const char *draw_path; /* where to draw the one piece asked about, NULL = nowhere */
    bool force;            /* replaces what stands there whatever it is */
} ks_fit_job;

typedef struct {
    int a, b; /* into order.pieces */
    const ks_kiln *kiln;
    bool together;
} ks_fit_pair;

/* A load planned with the named pieces, and with the rest of the order if that was asked. */
typedef struct {
    const ks_kiln *kiln;
    const ks_plan *plan;
    int n_named, named_in; /* one copy of each piece asked about */
    int others, others_in; /* copies on offer beside them */
    double others_worth;   /* of those that are in */
    const char *written; /* path of the plan, NULL = none was asked for, or not all named are in */
} ks_fit_load;

/* One of several kilns that a piece is compared in. */
typedef struct {
    const ks_fit_answer *answer;
    bool fired; /* it fits, and the firing there was simulated: with the load planned around it
                 * where that was asked for, else alone */
    ks_firing_result firing;
    const char *not_fired; /* why it could not be simulated, "" it was, or it does not fit */
    int64_t cost_minor;    /* of that firing; -1 = the order tells no tariff for it */
} ks_fit_row;

typedef struct {
    ks_order *order;
    int n_answers;
    ks_fit_answer *answers; /* by piece, then kiln */
    int n_rows;             /* where a piece was asked about in several kilns, else 0 */
    ks_fit_row
        *rows; /* by piece, then what costs least, or takes least, before what does not fit */
    int n_pairs;
    ks_fit_pair *pairs;
    int n_loads;
    ks_fit_load *loads; /* one for each kiln */
    int largest_piece, n_below, n_largest;
    ks_fit_largest *largest; /* one for each kiln, where that was asked */
    int foot;                /* the only one asked about, a ks_foot_shape; -1 = all */
    ks_draw_outcome drawn;
    bool brief;   /* many pieces were asked about and none named: a line for each will do */
    bool all_fit; /* each piece goes into some kiln; and where asked, all of them together */
} ks_fit_outcome;

ks_status ks_fit_run(const ks_fit_job *job, ks_arena *arena, ks_fit_outcome *out, ks_error *err);

/* The order's piece of that id; `option` is what it was named with. */
ks_status ks_fit_find_piece(const ks_order *order, const char *option, const char *id,
                            ks_arena *arena, int *piece, ks_error *err);

/* Fires what fits in each kiln, and sorts them. */
void ks_fit_compare(ks_fit_outcome *out, ks_arena *arena);

/* Writes the one load that was planned, if all named are in it; only a plan that passes our check.
 */
ks_status ks_fit_load_write(const ks_fit_job *job, ks_fit_load *load, ks_arena *arena,
                            ks_error *err);

/* How large a form may be, in each kiln; out->order is read already. */
ks_status ks_fit_largest_run(const ks_fit_job *job, int piece, int n_kilns, const ks_kiln *kilns,
                             ks_arena *arena, ks_fit_outcome *out, ks_error *err);

/* Plans the load that the named pieces go in with; found by a few rounds of search, so that more
 * may be possible. `answer` is that of the one piece named, NULL where there are several: where the
 * search finds no place for it, the load is planned around its roomiest stand. */
ks_status ks_fit_load_run(const ks_fit_job *job, const ks_order *order, int n, const int *pieces,
                          const ks_kiln *kiln, const ks_fit_answer *answer, ks_arena *arena,
                          ks_fit_load *out, ks_error *err);

#endif
