/* fit.h: does this piece, on its setter, go in; with how much room; and if not, what would let it.
 */
#ifndef KILNSTOW_FIT_H
#define KILNSTOW_FIT_H

#include "kilnstow/order.h"

/* One way to stand in a kiln: on shelves over the floor posts, under the lid or under another
 * shelf. */
typedef struct {
    bool possible;        /* the kiln has shelves and posts for it */
    int bay, support;     /* into kiln.bays and its supports */
    bool shelf_over;      /* another level can go over it; else it stands under the lid */
    double z_mm;          /* of the shelf's top above the chamber floor */
    double clear_mm;      /* for ware above that */
    ks_stand stand;       /* the roomiest, to 0.1 mm */
    double around_mm;     /* least spare beyond all clearances in plan; negative: short */
    double above_mm;      /* spare beyond the clearance in height; negative: short */
    const char *tightest; /* what it is closest to: "wall", "shelf edge", "post", "sensor", ... */
    double below_mm;      /* height that could go to levels under it */
    double left_over_mm;  /* height left above it for other levels, furniture included; 0 = none */
} ks_fit_way;

/* One firing it goes through. */
typedef struct {
    const char *name;             /* "bisque firing, bare" */
    ks_stage stage;               /* it enters it in */
    double breadth_mm, height_mm; /* then, setter and all */
    bool fits;
    ks_fit_way best;                        /* of all ways, the one with the most spare */
    double error_around_mm, error_above_mm; /* what tape and shrinkage may take from the spare */
    bool passes;                            /* through the doorway, or past the rim */
    double passage_mm;                      /* spare there; infinity where nothing is in the way */
} ks_fit_visit;

/* What carrying it means. Estimates, for caution. */
typedef struct {
    double lifted_kg;                           /* form, setter and shelf */
    double reach_mm;                            /* hands to body that the kiln forces */
    double limit_kg;                            /* recommended at that reach; NIOSH 1993 */
    double shelf_stress_mpa, shelf_allowed_mpa; /* bending on its posts; allowed 0 = not known */
    double stands_by_mm,
        stands_tilted_mm; /* centre of mass within the feet, level and at 5 degrees */
    ks_travel travel;
} ks_fit_care;

typedef struct {
    int piece; /* into order.pieces */
    const ks_kiln *kiln;
    bool fits;   /* every visit, and its way there */
    bool surely; /* also with all errors against it */
    int n_visits;
    ks_fit_visit *visits;
    int tightest;         /* into visits */
    double largest_scale; /* at which it would still go in; 1 = as it is. To 0.1 % */
    double largest_wet_breadth_mm,
        largest_wet_height_mm; /* when made, 0 = the body's bar is not told */
    const char *verdict;       /* one sentence */
    const char *nearest;       /* the nearest yes when it is no, else "" */
    ks_fit_care care;
} ks_fit_answer;

typedef struct {
    double tape_mm, tape_part; /* error of a measured size: the larger of 3 mm and 1 % */
    double board_mm;           /* thickness of the board it is carried on through a doorway, 18 */
    bool scale;                /* work out largest_scale too */
    int n_others;              /* kilns to look to when the answer is no */
    const ks_kiln *others;
} ks_fit_options;
ks_fit_options ks_fit_default(void);

/* Whether one piece of the order goes into one kiln. The kiln must outlive the answer. */
ks_status ks_fit(const ks_order *order, int piece, const ks_kiln *kiln,
                 const ks_fit_options *options, ks_arena *arena, ks_fit_answer *out, ks_error *err);

/* Whether two pieces can stand on one level of the kiln. False means that no way was found. */
bool ks_fit_together(const ks_order *order, int a, int b, const ks_kiln *kiln, ks_arena *arena);

#endif
