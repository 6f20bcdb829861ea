/* stack.h: the furniture of one load: which shelves at which heights, on which posts. */
#ifndef KILNSTOW_PLACE_STACK_STACK_H
#define KILNSTOW_PLACE_STACK_STACK_H

#include "place/job/job.h"

typedef struct {
    int bay, support;     /* into kiln.bays, and its supports */
    int standing, column; /* into furniture.post_layouts, and its columns */
    ks_um z;              /* of the shelf's top above the chamber floor */
    ks_um gap;            /* to the next shelf's underside or the lid */
    int under;  /* gap that carries its shelf, into furniture.gaps; -1 = lies on the floor */
    int posts;  /* gap whose posts stand on it; -1 = the top level of its bay */
    int number; /* within its bay, from 0 at the bottom */
} ks_stack_level;

typedef struct {
    int n_levels;
    ks_stack_level *levels; /* from below */
    double value;
} ks_stack;

/* Height for ware in a gap, mm, under the lid or under a shelf, and a hair more: ware exactly as
 * tall goes in, whatever sums of lengths have lost. Heights are compared with this alone. */
double ks_gap_clear_mm(const ks_load_kind *kind, ks_um gap, bool top);

/* The same of a level. Through a door nothing comes in that would reach over the lintel where it
 * stands, or where it is lowered behind the sill. */
double ks_level_clear_mm(const ks_load_kind *kind, const ks_stack_level *level);

/* What filling a level is worth. Depends on bay, support, standing and clear height; for a top
 * level z is given as well. */
typedef double (*ks_level_value)(void *context, const ks_stack_level *level);

/* A demand on the `number`-th level of a bay, of ware that is to stand there. */
enum { KS_NEED_TOP = -1 };     /* on the highest, whatever its number */
enum { KS_NEED_ANY_BAY = -1 }; /* whichever bays are built */
typedef struct {
    int bay, number;
    double clear_mm;
    bool lowest;   /* nothing is to stand there: as low as for the lowest ware */
    int support;   /* it has to be shelved so; -1 = however */
    ks_um least_z; /* its shelf lies at least so high */
    int tier;      /* with only_on: of another arrangement, what has a lower one comes first */
} ks_level_need;

typedef struct {
    const ks_job *job;
    const ks_load_kind *kind;
    ks_level_value value;
    void *context;
    int n_needs;
    const ks_level_need *needs;
    double shelf_cost;  /* taken off for every shelf; leads the search where shelves are short */
    const int *only_on; /* what the needs ask for and no level more, its posts on this choice of
                         * places; NULL = whatever is worth most */
    double tall_mm;     /* ware so tall goes in on some level; 0 = whatever. Only the bound asks */
} ks_stack_wish;

/* The stack worth most that the stock can make; n_levels 0 when nothing can be built. */
ks_stack ks_stack_best(const ks_stack_wish *wish, ks_arena *arena);

/* Up to so many that are worth little less than the best, no two the same, the best first, into
 * `out`. How many. The same levels in another order are listed once. */
int ks_stacks_good(const ks_stack_wish *wish, int most, ks_stack *out, ks_arena *arena);

/* No stack is worth more than this. Heights are rounded down, stock of posts is not looked at. */
double ks_stack_bound(const ks_stack_wish *wish, ks_arena *arena);

#endif
