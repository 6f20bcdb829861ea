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
    double *gap_value;    /* [way * n_gaps + gap] */
    double *useful_value; /* the same of the useful ones: [way * n_useful + useful] */
    int *useful_quanta;   /* their heights and that of the way's shelves, likewise */
    double *top_value;    /* [way * n_heights + height] */
    bool *lies;           /* [way * n_bases + base]: its shelves may, at a sum of rounded heights */
    double *top;          /* [way * n_bases + base]: the value of a top level there */
    double *best;         /* only where the column goes up by itself to the lid */
    double *tall;         /* the same with a level that is as tall as the wish asks, if it does */
} ks_column_value;

typedef struct {
    const ks_stack_wish *wish;
    ks_arena *arena;
    const ks_furniture *furniture;
    double shelf_cost; /* that it is priced with */
    ks_um top;         /* the lid */
    int levels_most, n_bases;
    int layers; /* 1, or levels_most when levels are counted */
    int n_columns;
    ks_column_value *columns;
    int *first_column; /* of each standing, into columns */
    double *cap_mm;    /* of each gap: the tallest ware it takes */
    bool *useful;      /* of each gap: the least that takes its tallest ware */
    int n_useful;
    ks_um *useful_um; /* the heights of those */
    double **places;  /* best of going up on each of the places of posts, in step or parting */
    double **tall;    /* the same with a level that is as tall as the wish asks, if it does */
} ks_stack_program;

/* What depends on no price. */
void ks_stack_program_init(ks_stack_program *climb, const ks_stack_wish *wish, ks_arena *arena);

/* The values, with so much taken off for every shelf. Where the order's stop is asked for they are
 * not all worked out: nothing may be made of them then. */
void ks_stack_program_price(ks_stack_program *climb, double shelf_cost);

/* Value of a top level with its shelf's top at z. */
double ks_stack_program_top(const ks_stack_program *climb, const ks_column_value *column, int way,
                            ks_um z);

/* Value of a level over such a gap with its shelf's top at z. */
double ks_stack_program_gap(const ks_stack_program *climb, const ks_column_value *column, int way,
                            int gap, ks_um z);

/* `best` read at a base; KS_NEVER when no level is left. */
static inline double ks_stack_program_rest(const ks_stack_program *climb, const double *best,
                                           int levels, ks_um base)
{
    ks_um b = base / KS_QUANTUM_UM;
    int layer = climb->layers == 1 ? 1 : levels;
    return levels < 1 || b >= climb->n_bases ? KS_NEVER : best[(layer - 1) * climb->n_bases + b];
}

/* Whether bottom shelves may stand on this gap's posts. */
bool ks_floor_gap(const ks_furniture *furniture, int gap);

#endif
