/* check_judge.h: what every part of the checker works on: a load taken apart, and the report. */
#ifndef KILNSTOW_CHECK_CHECK_JUDGE_H
#define KILNSTOW_CHECK_CHECK_JUDGE_H

#include "kilnstow/check.h"

#include <math.h>

/* In the order of the report; names and units stand in check_note.c. */
typedef enum {
    RULE_SOUND,
    RULE_AGREES,
    RULE_SHAPE,
    RULE_TURN,
    RULE_COUNTS,
    RULE_MUST_GO,
    RULE_KEPT,
    RULE_SETS,
    RULE_APART,
    RULE_SUITS,
    RULE_QUOTAS,
    RULE_CONES,
    RULE_WARE,
    RULE_SETTERS,
    RULE_UNDER,
    RULE_WALL,
    RULE_LID,
    RULE_ABOVE,
    RULE_NEAR_POSTS,
    RULE_KEEP_OUTS,
    RULE_SUPPORT,
    RULE_OVERHANG,
    RULE_GROG,
    RULE_ON,
    RULE_INSIDES,
    RULE_WAYS,
    RULE_CARRIES,
    RULE_HIGH,
    RULE_BURDEN,
    RULE_LIDS,
    RULE_STANDS,
    RULE_TILT,
    RULE_DOOR,
    RULE_LIFTING,
    RULE_SHELVES,
    RULE_POSTS,
    RULE_CARRIED,
    RULE_FLOOR_POSTS,
    RULE_GAPS,
    RULE_FIRST_GAP,
    RULE_TOP_GAP,
    RULE_SHELF_STOCK,
    RULE_POST_STOCK,
    RULE_SHELF_MASS,
    RULE_KILN_MASS,
    RULE_STEPS,
    RULE_LOAD_ORDER,
    RULE_HAND_ROOM,
    N_RULES
} ks_rule;

/* What is told and breaks nothing; names stand in check_note.c. */
typedef enum {
    REMARK_DUE,
    REMARK_POSTS_FIRST,
    REMARK_SIGHT,
    REMARK_RUNNY,
    REMARK_RUMP,
    N_REMARKS
} ks_remark_kind;

/* A place to name. Loads and levels counted from 0, -1 = not told; a and b may be NULL. */
typedef struct {
    int load, level;
    const char *a;
    int copy_a; /* 0 = has no number */
    const char *b;
    int copy_b;
} ks_spot;

/* What a part sweeps over on its way in from the door, convex piece by piece. */
typedef struct {
    int n; /* 0 = not found yet */
    ks_outline *at;
    ks_box *boxes;
} ks_way_in;

/* A placed piece with what is looked up again and again. Heights above the chamber floor. */
typedef struct {
    const ks_placed *placed;
    const ks_piece *piece; /* NULL for a cone pack and for an id that the order has not */
    int level, item;
    int carrier; /* the thing it stands on, or leans on in a row; -1 = none */
    int root;    /* the thing its stack stands on the shelf with, itself if alone */
    double z;
    double low, high;
    double outward_mm;
    bool runny, has_setter;
    ks_box box;      /* of all parts, as wide as they get */
    ks_box *boxes;   /* of each */
    ks_way_in *ways; /* of each, found when first asked for */
} ks_thing;

typedef struct {
    ks_spot spot;
    double tightest;
    int n_broken;
} ks_tally;

typedef struct {
    const ks_plan *plan;
    const ks_order *order;
    ks_arena *arena;
    ks_tally tallies[N_RULES];
    ks_rule_broken *broken;
    int n_broken, room;
    int n_remarked[N_REMARKS];
    ks_remark *remarks;
    int n_remarks, remarks_room;
    const char ***names; /* of each load's levels */
    int n_about;         /* where only some pieces are asked about: these */
    const ks_placed *const *about;
    ks_nearby *nearby;
    int n_nearby, nearby_room;
    /* of the load in hand: */
    const ks_load *load;
    int number;
    const ks_kiln *kiln; /* NULL when the order has none such */
    int n_things;
    ks_thing *things;
    ks_outline *supports; /* of each level, the hull of its shelves */
} ks_judge;

/* Notes how much a place has to spare under a rule; what is short by more than the plan's grid, or
 * is no number, breaks it. */
void ks_note(ks_judge *judge, ks_rule rule, double slack, ks_spot where);

/* Whether it is one of those asked about; everything is where nobody asked about some. */
bool ks_is_asked(const ks_judge *judge, const char *id, int copy);

void ks_remark_note(ks_judge *judge, ks_remark_kind kind, ks_spot where);

/* Whether a place with at least this much to spare would say nothing new. */
bool ks_is_dull(const ks_judge *judge, ks_rule rule, double slack);

ks_spot ks_spot_load(const ks_judge *judge);
/* "load 1, level 2: mug-3". */
const char *ks_spot_text(const ks_judge *judge, ks_spot where);
ks_spot ks_spot_thing(const ks_judge *judge, const ks_thing *thing);
ks_spot ks_spot_pair(const ks_judge *judge, const ks_thing *a, const ks_thing *b);
ks_spot ks_spot_level(const ks_judge *judge, int level, const char *what);

void ks_report_make(ks_judge *judge, ks_check_report *out);

/* Whether two heights' ranges overlap by more than the plan's grid, and the gap between them
 * (negative: the overlap). */
static inline double ks_gap_between(double low_a, double high_a, double low_b, double high_b)
{
    return low_a - high_b > low_b - high_a ? low_a - high_b : low_b - high_a;
}

static inline bool ks_meet(double low_a, double high_a, double low_b, double high_b)
{
    return ks_gap_between(low_a, high_a, low_b, high_b) < -KS_GRID;
}

static inline bool ks_near(double a, double b)
{
    return fabs(a - b) <= 1.5 * KS_GRID;
}

static inline const char *ks_text(const char *text)
{
    return text ? text : "";
}

bool ks_same_text(const char *a, const char *b);
bool ks_is_setter(ks_part_kind kind);

/* Clear distance of two boxes along x or y, whichever is more; a bound from below on that of what
 * is in them. */
double ks_box_distance(ks_box a, ks_box b);

/* A part as wide as it gets in the firing. */
ks_outline ks_thing_widest(const ks_thing *thing, int part);

/* Largest difference between two outlines that should be one, mm. */
double ks_outline_difference(const ks_outline *a, const ks_outline *b);

static inline double ks_low_of(const ks_thing *thing, int part)
{
    return thing->z + thing->placed->parts[part].from_mm;
}

static inline double ks_high_of(const ks_thing *thing, int part)
{
    return thing->z + thing->placed->parts[part].to_mm;
}

/* How far within the shelves a foot lies, mm; shelves less than 20 mm apart carry it together. */
double ks_support_slack(const ks_outline *foot, int n, const ks_outline *shelves);

/* How many copies of a piece of the order stand in a load. */
int ks_copies_in(const ks_load *load, int piece);

/* Whether a load can be the one of this number in the order: of its kiln, firing and day. */
bool ks_slot_takes(const ks_order *order, int number, const ks_load *load);

/* Each judges one load, or the plan as a whole. */
bool ks_check_sound(ks_judge *judge); /* whether the load can be judged further */
void ks_check_agrees(ks_judge *judge);
void ks_check_levels(ks_judge *judge);
void ks_check_rump(ks_judge *judge);
void ks_check_ruler(ks_judge *judge, ks_ruler *ruler);
void ks_check_runny(ks_judge *judge);
void ks_check_slots(ks_judge *judge);
void ks_check_shapes(ks_judge *judge);
void ks_check_counts(ks_judge *judge);
void ks_check_wishes(ks_judge *judge);

/* What is due before its load opens. */
void ks_check_due(ks_judge *judge);
void ks_check_keep(ks_judge *judge);
void ks_check_company(ks_judge *judge);
void ks_check_cones(ks_judge *judge);

/* What is left under the lintel of a front loader when something this tall goes in to this height,
 * straight, or over the sill and down behind it; INFINITY when no doorway is told. */
double ks_check_lintel(const ks_judge *judge, double low_mm, double tall_mm);
void ks_check_distances(ks_judge *judge);
void ks_check_room(ks_judge *judge);
void ks_check_support(ks_judge *judge);
void ks_check_stack(ks_judge *judge);
void ks_check_shelves(ks_judge *judge);
void ks_check_posts(ks_judge *judge);
void ks_check_stock(ks_judge *judge);
void ks_check_mass(ks_judge *judge);
void ks_check_steps(ks_judge *judge);
/* `when`: the step that puts each thing, -1 = none. */
void ks_check_loading(ks_judge *judge, const int *when);
void ks_check_reach(ks_judge *judge, const int *when);

#endif
