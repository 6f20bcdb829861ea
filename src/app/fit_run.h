/* fit_run.h: from an order's file to a verdict for each piece in each kiln. */
#ifndef KILNSTOW_APP_FIT_RUN_H
#define KILNSTOW_APP_FIT_RUN_H

#include "kilnstow/fit.h"

typedef struct {
    const char *order_path, *kiln_folder;
    int n_pieces;
    const char *const *pieces; /* ids; none = every piece */
    int n_kilns;
    const char *const *kilns; /* files; none = the order's own */
    ks_fit_options options;
    bool pairs; /* which of the pieces can share a level */
} ks_fit_job;

typedef struct {
    int a, b; /* into order.pieces */
    const ks_kiln *kiln;
    bool together;
} ks_fit_pair;

typedef struct {
    ks_order *order;
    int n_answers;
    ks_fit_answer *answers; /* by piece, then kiln */
    int n_pairs;
    ks_fit_pair *pairs;
    bool all_fit; /* each piece goes into some kiln */
} ks_fit_outcome;

ks_status ks_fit_run(const ks_fit_job *job, ks_arena *arena, ks_fit_outcome *out, ks_error *err);

#endif
