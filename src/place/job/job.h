/* job.h: the question as the search wants it: items on offer, kinds of load, slots. */
#ifndef KILNSTOW_PLACE_JOB_JOB_H
#define KILNSTOW_PLACE_JOB_JOB_H

#include "kilnstow/place.h"
#include "place/job/furniture.h"
#include "pack/shelf/shelf.h"
#include "pack/tower/tower.h"

/* A kiln fired in one way. */
typedef struct {
    int kiln, firing;
    ks_clearance clear;
    const ks_rules *rules; /* NULL = none are told */
    const ks_furniture *furniture;
    bool *suits;            /* of each item */
    const double *area_mm2; /* of each item: what it takes of a shelf; NULL = not yet worked out */
    const int *standable;   /* see ks_standable_height; NULL = not yet worked out */
} ks_load_kind;

typedef struct {
    const ks_order *order;
    ks_place_options options;
    ks_arena *arena;
    const ks_furniture *furniture; /* of the order's one kiln, where it is known; else NULL */
    ks_stop *stop;                 /* looked at wherever much is done; NULL = never asked for */
    /* Items: the order's pieces in their order, then, if wanted, the cone pack, then towers of
     * pieces, which have no copies of their own: they take those of their members. */
    int n_items, first_tower;
    const ks_tower *towers; /* of each item: what stands in its place, itself alone or stacked */
    ks_shelf_item *items;   /* parts as wide as they get; worth, copies as asked */
    ks_shelf_item *lean;    /* the same with few corners, around those: what is searched with */
    double *height_mm, *area_mm2;
    double *worth;   /* of one copy, as the plan reports it */
    double *urgency; /* what the search multiplies it by: must go, due first */
    int n_due; /* due days of the order, each once; ware that waited before is due before them */
    int *due_rank; /* of each item: which of them it has, from the earliest; -1 none */
    int fair_most; /* pieces of the owner who has most, where all owners come before anyone's
                    * next piece; else 0 */
    int *set;      /* which set it belongs to, -1 none */
    int n_sets;
    const char **set_names;
    int cone;        /* the cone pack among the items, -1 = not wanted */
    bool load_apart; /* some items may not share a load */
    bool any_on_grog, any_runny;
    bool any_wish;           /* some items are wanted, or may be, on some levels only */
    double widest_around_mm; /* the most that an item keeps around it */
    int n_kinds;
    ks_load_kind *kinds;
    int n_slots;
    bool is_share;        /* what a load leaves is not all that waits: other loads come after it */
    int *slot_kind;       /* kind of load of each of order.slots */
    ks_load_times *times; /* of each slot; none are told where it has no date */
    int n_heights;
    double *heights_mm; /* of the ware, ascending, each once; of very many only some, the least of
                         * all among them */
} ks_job;

/* The same for an order of one kiln whose furniture is known already; it must outlive the job. */
ks_status ks_job_init_with(ks_job *job, const ks_order *order, const ks_place_options *options,
                           const ks_furniture *furniture, ks_arena *arena, ks_error *err);
ks_status ks_job_init(ks_job *job, const ks_order *order, const ks_place_options *options,
                      ks_arena *arena, ks_error *err);

/* Outlines of more corners are searched with as ones of fewer that lie at most so far around them,
 * or within where they are room: what stands free by those does by the true ones. */
#define KS_LEAN_MM 0.2
enum { KS_LEAN_CORNERS = 24 };

/* By how far the piece stands, mm, on a shelf tilted as far as one may be; negative: it falls. */
double ks_job_stands_by(const ks_piece *piece);

/* By how much the doorway is too low, and too narrow, for the piece, mm; 0 where it is not. */
typedef struct {
    double low_mm, narrow_mm;
} ks_door_lack;

ks_door_lack ks_job_lacks_door(const ks_kiln *kiln, const ks_piece *piece);

/* Whether shelves and posts stay as they are in the plan it starts from. */
bool ks_job_keeps_shelves(const ks_job *job);

/* Whether the item is ware that may be placed at all. */
bool ks_job_is_wanted(const ks_job *job, int item);

/* Whether it is ware that goes in as many as fit, once what is counted has its place. */
bool ks_job_is_fill(const ks_job *job, int item);

/* Whether its owner is named. */
bool ks_job_has_owner(const ks_job *job, int item);

/* Whether the order keeps this piece of it in a place in that slot. */
bool ks_job_is_kept_in(const ks_job *job, int slot, int item);

/* Whether the slot's lid can be opened on its due day at the latest; so of what has none, and in a
 * slot without a date, which may be fired whenever it has to. */
bool ks_job_in_time(const ks_job *job, int slot, int item);

/* Whether one load is all there is, so that it is best filled with what is worth most; where others
 * come after, what fills a load most easily is better not taken first. */
bool ks_job_is_alone(const ks_job *job);

/* How many pieces stand in the place of an item, and which is the m-th from below. */
int ks_job_members(const ks_job *job, int item);
int ks_job_member(const ks_job *job, int item, int m);

/* The greatest height among the items that is not above this; 0 if there is none. */
double ks_job_cap(const ks_job *job, double clear_mm);

/* Index of the tallest of heights_mm that fits under this height, -1 if none does. */
int ks_height_index(const ks_job *job, double clear_mm);

#endif
