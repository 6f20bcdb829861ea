/* lp.h: linear and integer programs, to be made as large as possible; GLPK is seen by lp.c alone.
 */
#ifndef KILNSTOW_PLACE_BOUND_LP_H
#define KILNSTOW_PLACE_BOUND_LP_H

#include "kilnstow/error.h"
#include "place/job/job.h"

typedef struct {
    double low, high; /* -INFINITY, INFINITY: not bound on that side */
    const char *name;
    int basis; /* kept from one solving to the next; 0 = none yet */
} ks_lp_row;

typedef struct {
    double worth, low, high;
    bool whole;
    const char *name;
    int n;
    int *rows;
    double *by;
    int basis;
} ks_lp_column;

typedef struct {
    ks_arena *arena;
    int n_rows, room_rows, n_columns, room_columns;
    ks_lp_row *rows;
    ks_lp_column *columns;
} ks_lp;

int ks_lp_add_row(ks_lp *lp, const char *name, double low, double high);
int ks_lp_add_column(ks_lp *lp, const char *name, double worth, double high, int entries_most);
void ks_lp_put(ks_lp *lp, int column, int row, double by);

typedef struct {
    bool solved; /* to the optimum (LP), or any answer at all (whole numbers) */
    bool proven; /* whole numbers: nothing better exists */
    double value;
    double *x;    /* of each column */
    double *dual; /* of each row; only for LP */
} ks_lp_answer;

/* Forgets that columns are whole. */
ks_lp_answer ks_lp_solve(ks_lp *lp, ks_arena *arena);

/* Branches through at most `nodes` nodes from `start` (our own answer, may be NULL). */
ks_lp_answer ks_lp_solve_whole(ks_lp *lp, const double *start, int nodes, ks_stop *stop,
                               ks_arena *arena);

/* Writes the program as a file for other solvers: .lp or .mps by its ending. */
ks_status ks_lp_write(const ks_lp *lp, const char *path, ks_error *err);

#endif
