/* stack_bound.h: what going up from any height can be worth, with heights rounded down and stock
 * unseen.
 */
#ifndef KILNSTOW_PLACE_STACK_STACK_BOUND_H
#define KILNSTOW_PLACE_STACK_STACK_BOUND_H

#include "place/stack/stack.h"

#define KS_QUANTUM_UM 1000
#define KS_NEVER (-1e300)
/* So many shelves are counted exactly; where there are more, any number is promised. */
enum { KS_LEVELS_COUNTED = 8 };

/* A column's values: `best[(l - 1) * n_bases + b]` is the most that at most l more levels can be
 * worth from a base b quanta (rounded down) above the floor. */
typedef struct {
    const ks_column *column;
    int standing, index;
    double *gap_value; /* [way * n_gaps + gap] */
    double *top_value; /* [way * n_heights + height] */
    bool *lies;        /* [way * n_bases + base]: its shelves may, at a sum of rounded heights */
    double *top;       /* [way * n_bases + base]: the value of a top level there */
    double *best;      /* only where the column goes up by itself to the lid */
} ks_column_value;

typedef struct {
    const ks_stack_wish *wish;
    ks_arena *arena;
    const ks_furniture *furniture;
    ks_um top; /* the lid */
    int levels_most, n_bases;
    int layers; /* 1, or levels_most when levels are counted */
    int n_columns;
    ks_column_value *columns;
    int *first_column; /* of each standing, into columns */
    bool *useful;      /* of each gap: the least that takes its tallest ware */
    double **places;   /* best of going up on each of the places of posts, in step or parting */
} ks_stack_program;

void ks_stack_program_init(ks_stack_program *climb, const ks_stack_wish *wish, ks_arena *arena);

/* Value of a top level with its shelf's top at z. */
double ks_stack_program_top(const ks_stack_program *climb, const ks_column_value *column, int way,
                            ks_um z);

/* `best` read at a base; KS_NEVER when no level is left. */
double ks_stack_program_rest(const ks_stack_program *climb, const double *best, int levels,
                             ks_um base);

/* Whether bottom shelves may stand on this gap's posts. */
bool ks_floor_gap(const ks_furniture *furniture, int gap);

#endif
