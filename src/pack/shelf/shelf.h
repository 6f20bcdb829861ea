/* shelf.h: fills one level: chooses pieces and stands them so that nothing comes too close. */
#ifndef KILNSTOW_PACK_SHELF_SHELF_H
#define KILNSTOW_PACK_SHELF_SHELF_H

#include "kilnstow/arena.h"
#include "kilnstow/piece.h"

#include "base/stop.h"

/* Where parts must stay: those whose heights overlap [from, to) lie within the outline by margin.
 */
typedef struct {
    ks_outline outline;
    double from_mm, to_mm; /* above the shelf's top */
    double margin_mm;
    bool feet_only; /* holds only for parts that stand on the shelf (from_mm == 0) */
    bool grog_only; /* holds only for loose grog */
    bool is_wall;   /* of the chamber: hands end there */
} ks_shelf_region;

/* What no part may come near: posts, sensors, pinned ware, ware of a neighbour bay. */
typedef struct {
    ks_outline outline;
    double from_mm, to_mm; /* above the shelf's top */
    double clearance_mm;
    bool is_post;   /* runny ware keeps its own room from it too */
    bool turns;     /* one of the posts that may turn together about the origin */
    bool grog_only; /* nothing to any part but loose grog */
    const struct ks_shelf_item
        *ware; /* NULL, or the ware it is a part of: the rules of ware hold */
    const ks_part *ware_part;
} ks_shelf_obstacle;

/* One of several shelves side by side, and what it may carry. A piece weighs on each that its feet
 * reach over. */
typedef struct {
    ks_outline outline;
    double limit_kg;
} ks_shelf_bearer;

/* How pieces come in: lowered straight down, or also slid straight back from the front. A large one
 * then wants room for a hand on its left or on its right. */
typedef struct {
    bool from_front;
    double large_mm;     /* as wide or as deep as this; 0 = none is large */
    double hand_room_mm; /* free on one side when it goes in */
    int side;            /* that is rather kept free where either could be: 0 left, 1 right */
} ks_shelf_entry;

/* Ware that stands there already: an obstacle, part by part, and in turn when pieces go in. */
typedef struct {
    const struct ks_shelf_item *item;
    ks_stand stand;
} ks_shelf_standing;

typedef struct {
    int n_regions;
    const ks_shelf_region *regions;
    int n_obstacles;
    const ks_shelf_obstacle *obstacles;
    double height_mm; /* no part's top may be above this */
    double ware_mm;   /* clearances as in ks_clearance */
    double under_mm, setter_mm;
    double reserve_mm;    /* kept beyond every clearance */
    double mass_limit_kg; /* infinity = none */
    int n_bearers;        /* shelves with a limit of their own, beside others */
    ks_shelf_bearer *bearers;
    ks_shelf_entry entry;
    int n_standing;
    ks_shelf_standing *standing;
    double post_turn_deg; /* of the obstacles that turn; the search may change it, see layout */
    bool posts_free;      /* whether it may */
} ks_shelf_space;

/* What one copy of a tower takes of a stock that it shares with other items. */
typedef struct {
    int stock; /* a number of whoever asks */
    int n;     /* pieces of it in one copy */
    int of;    /* pieces that there are */
} ks_shelf_draw;

/* A kind of piece on offer, or of tower: pieces stacked, one body by heights. */
typedef struct ks_shelf_item {
    int n_parts;
    const ks_part *parts;
    double around_mm;
    bool glazed, runny;
    double turn_step_deg, turn_first_deg; /* as in ks_piece */
    double worth;                         /* of one copy; <= 0: only used when `must` */
    int copies;                           /* on offer */
    int must;                             /* of these, how many have to be in */
    double mass_kg;
    uint32_t tags,
        conflicts; /* two pieces may share the level unless one's tags meet the other's conflicts */
    int owner;     /* tie-break: one owner's pieces near each other */
    bool is_pinched;   /* set in with two fingers however wide it is: cone packs */
    bool stacks;       /* it may stand in or on other ware: no area of its own is sure */
    double filled_mm3; /* of such ware: what nothing else can fill, at the least */
    int n_draws;       /* 0 = its copies are its own */
    const ks_shelf_draw *draws;
} ks_shelf_item;

typedef struct {
    int item;
    ks_stand stand;
} ks_shelf_spot;

typedef struct {
    int n_spots;
    ks_shelf_spot *spots;
    double worth;
    double post_turn_deg;
} ks_shelf_layout;

typedef struct ks_shelf_search ks_shelf_search;

/* Space and items are copied. The search owns its memory; it may be used by one thread at a time.
 */
ks_shelf_search *ks_shelf_search_create(const ks_shelf_space *space, int n_items,
                                        const ks_shelf_item *items, uint64_t seed);

/* New worths, copies and musts for the same items; the geometry already worked out is kept. */
void ks_shelf_search_reprice(ks_shelf_search *search, const ks_shelf_item *items);

/* Starts from a known layout (of the same items): its pieces give way to one another where that is
 * needed, and those for which no room is left are dropped. */
void ks_shelf_search_warm(ks_shelf_search *search, const ks_shelf_layout *layout);

/* Searches for about `work` units (one unit = one thousand pair evaluations or so): counted, so
 * that the answer depends on nothing else. `stop` (may be NULL) ends it early. */
void ks_shelf_search_run(ks_shelf_search *search, int64_t work, ks_stop *stop);

/* The best layout so far; copied into `arena`. Stands lie on the plan's grid, every clearance holds
 * there, and its pieces can go in one after another, beside what stands there already. */
ks_shelf_layout ks_shelf_search_best(const ks_shelf_search *search, ks_arena *arena);

void ks_shelf_search_destroy(ks_shelf_search *search);

/* Whether these stands keep every clearance of the space; the least slack in mm, negative = broken.
 */
double ks_shelf_slack(const ks_shelf_space *space, const ks_shelf_item *items, int n_spots,
                      const ks_shelf_spot *spots, double post_turn_deg);

#endif
