/* plan.h: the whole answer: every load, what stands where, and what waits and why. */
#ifndef KILNSTOW_PLAN_H
#define KILNSTOW_PLAN_H

#include "kilnstow/order.h"
#include "kilnstow/reason.h"

#ifdef __cplusplus
extern "C" {
#endif

/* A shelf as it lies in the chamber. */
typedef struct {
    const char *id;     /* kind in the kiln's stock */
    int kind;           /* into kiln.shelves, -1 = the file names one the kiln has not */
    ks_outline outline; /* chamber axes */
    double thickness_mm;
} ks_shelf;

typedef struct {
    ks_outline outline;    /* chamber axes */
    double from_mm, to_mm; /* above the chamber floor */
    int n_heights;
    double heights_mm[2]; /* the posts stacked to make it, from below */
} ks_post;

/* One copy of a piece in its place. Outlines of parts are in chamber axes, heights above the
 * shelf's top. */
typedef struct {
    int piece; /* into order.pieces; -1 for a cone pack and for an id the order has not */
    const char *id, *owner;
    int copy; /* from 1 */
    ks_role role;
    ks_pose pose;
    ks_stand stand;
    const char *on_id; /* piece it stands on, or leans on in a row on edge; NULL = shelf */
    int on_copy;
    ks_way way; /* how it does; KS_EDGE for the first of a row too */
    bool glazed;
    double around_mm;
    double top_mm;
    int n_parts;
    ks_part *parts;
} ks_placed;

typedef struct {
    const char *bay; /* id */
    double z_mm;     /* shelf's top above the chamber floor */
    double gap_mm;   /* clear height above it */
    int n_shelves;
    ks_shelf *shelves;
    int n_pieces;
    ks_placed *pieces;
} ks_level;

typedef struct {
    const char *id;
    ks_outline outline;
} ks_load_bay;

typedef enum { KS_PUT_POSTS, KS_PUT_SHELF, KS_PUT_PIECE, KS_PUT_CONES } ks_put;

/* One step of loading. */
typedef struct {
    ks_put put;
    int level; /* into load.levels; for posts the level they stand over, -1 = the floor */
    int item;  /* PIECE and CONES: into level.pieces; SHELF: into level.shelves; POSTS: -1 */
} ks_step;

/* When a load that has a date is in its kiln, as it was planned: minutes of the studio's clock
 * since 1970-01-01 00:00. */
typedef struct {
    bool told;
    int64_t on_min;        /* the kiln is switched on */
    int64_t cone_down_min; /* no later than these, were the kiln full */
    int64_t ended_min;
    int64_t open_min; /* its lid may be opened */
} ks_load_times;

typedef struct {
    const char *kiln_id;
    int kiln; /* into order.kilns, -1 unknown */
    ks_firing firing;
    int day; /* KS_NO_DAY = not dated */
    ks_load_times times;
    double height_mm;
    int n_parts;
    ks_chamber_part *parts;
    ks_clearance clearance;
    int n_keep_outs;
    ks_keep_out *keep_outs;
    int n_bays;
    ks_load_bay *bays;
    int n_posts;
    ks_post *posts;
    int n_levels;
    ks_level *levels; /* from below; those of one height by bay */
    int n_steps;
    ks_step *steps;
} ks_load;

typedef struct {
    int piece; /* into order.pieces, -1 = an id the order has not */
    const char *id;
    int count;
    /* As a plan's file tells it, in English; NULL in a plan that was just made. */
    const char *why;    /* "too tall", "too wide", "mass", "no room left this time", "apart", "set",
                         * "due later", "unsuited", "held back", "displaced" */
    const char *detail; /* by how much, by what */
    const char *nearest;    /* the smallest change that lets it in, or "no single change found" */
    ks_reason rule, change; /* the same as records; untold in plans made before there were any */
} ks_left_out;

typedef struct {
    const char *version;
    uint64_t seed;
    int rounds;
    const char
        *stopped_by; /* "rounds", "seconds", "interrupt", "proof", "failure" (of planning's own
                      * process), "unfinished" (a PLAN.part, while it is being planned) */
    const ks_order *order; /* normalised: sizes in mm, kg, degrees C */
    ks_objective objective;
    double worth, bound;    /* of all loads; litres, minor units or pieces */
    const char *bound_kind; /* how it was proven */
    int loads_at_least;     /* no fewer could take all that is wanted: proven; 0 = not looked at */
    int n_loads;
    ks_load *loads;
    int n_left_out;
    ks_left_out *left_out;
} ks_plan;

/* (bound - worth) / worth; 0 when both are 0, infinity when only worth is. */
double ks_plan_gap(const ks_plan *plan);

/* Copies of each piece of the order in a load, [order.n_pieces]. */
int *ks_load_copies(const ks_plan *plan, int load, ks_arena *arena);

int ks_plan_placed(const ks_plan *plan); /* counted pieces of the order; no cone packs */
int ks_plan_filled(const ks_plan *plan); /* pieces of ware counted as "fill" beside those */
int ks_plan_filled_of(const ks_plan *plan, int piece); /* of these of one kind */
int ks_plan_waiting(const ks_plan *plan);              /* pieces left out */

/* Reads a plan from text; `name` stands for it in messages. */
ks_status ks_plan_parse(const char *name, const char *text, size_t length, ks_arena *arena,
                        ks_plan **out, ks_error *err);

/* Reads a plan's file, order and all. */
ks_status ks_plan_read(const char *path, ks_arena *arena, ks_plan **out, ks_error *err);

/* The plan as JSON text ending in a newline; the same plan gives the same bytes. */
const char *ks_plan_json(const ks_plan *plan, ks_arena *arena);

/* The 64 hexadecimal digits by which two people know that they hold the same plan. */
const char *ks_plan_hash(const ks_plan *plan, ks_arena *arena);

#ifdef __cplusplus
}
#endif

#endif
