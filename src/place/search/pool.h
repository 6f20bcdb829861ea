/* pool.h: level patterns and stacks found so far, and the program that chooses among them. */
#ifndef KILNSTOW_PLACE_SEARCH_POOL_H
#define KILNSTOW_PLACE_SEARCH_POOL_H

#include "place/draft/draft.h"
#include "place/bound/lp.h"
#include "place/bound/relaxation.h"

/* Where patterns are alike: one bay of one kind of load, shelved in one way, posts in the same
 * places. */
typedef struct {
    int kind, bay, support, places, arrangement;
    double room_mm2[2]; /* on a level with posts, and on a top level */
} ks_group;

/* What a level of a group can be filled with: a layout known to fit. */
typedef struct {
    int group;
    bool top;   /* found without posts: fits only top levels */
    int height; /* of its tallest ware, into job.heights_mm */
    int n;      /* different items */
    int *items, *counts;
    ks_shelf_layout layout;
} ks_pattern;

typedef struct {
    int kind;
    ks_stack stack;
    int *group; /* of each level */
} ks_pool_stack;

/* Levels of one group, one tallest ware, with posts or without. */
typedef struct {
    int group, height;
    bool top;
    ks_stack_level level; /* one such level */
    int priced;           /* how often the packer has looked for patterns */
    int row;
    double value; /* dual */
} ks_class;

typedef struct {
    const ks_job *job;
    ks_arena *arena;
    int n_groups, room_groups, n_patterns, room_patterns, n_stacks, room_stacks, n_classes,
        room_classes;
    ks_group *groups;
    ks_pattern *patterns;
    ks_pool_stack *stacks;
    ks_class *classes;
    int *loads;    /* how many loads of each kind there may be */
    double *worth; /* of one copy of each item, weighed by urgency */
    double load_cost;
    /* Of the last solving: */
    double value;
    double *price;      /* of one copy of each item */
    double *load_price; /* of each kind of load */
    double *stack_used, *pattern_used;
} ks_pool;

void ks_pool_init(ks_pool *pool, const ks_job *job, ks_arena *arena);

int ks_pool_group(ks_pool *pool, int kind, const ks_stack_level *level);

/* Adds what is not there yet; returns whether it was new. */
bool ks_pool_add_pattern(ks_pool *pool, int kind, const ks_stack_level *level,
                         const ks_shelf_layout *layout);
bool ks_pool_add_stack(ks_pool *pool, int kind, const ks_stack *stack);
int ks_pool_class(ks_pool *pool, int kind, const ks_stack_level *level);

/* Puts a draft's levels and stacks into the pool. */
void ks_pool_learn(ks_pool *pool, const ks_draft *draft);

bool ks_pattern_fits(const ks_pattern *pattern, int group, int height, bool top);

/* Solves the program over what is in the pool, fractions allowed. */
bool ks_pool_solve(ks_pool *pool);

/* The same as a file. */
ks_status ks_pool_write(ks_pool *pool, const char *path, ks_error *err);

/* Whole numbers of patterns and stacks, through at most so many nodes. `uses` of each pattern, then
 * of each stack. */
bool ks_pool_solve_whole(ks_pool *pool, int nodes, ks_stop *stop, double *uses);

#endif
